/** An explanation as sentences that read aloud. */
import { say } from "../messages/table.js";
import { sayExample } from "../messages/words.js";
import { wrapped } from "./columns.js";
import type { Explanation, Other, PickExplained, Spoken } from "../answer/explain.js";
import type { TextOptions } from "./text.js";

/** Ends in a line break. */
export function explanationText({ point, picks }: Explanation, { width = 80 }: TextOptions = {}): string {
  const lines = [
    ...wrapped(say.explain.at(sayExample(point)), width),
    ...picks.flatMap((pick) => [
      "",
      ...wrapped(say.explain.headline(pick.judgement ? say.judged(pick.label) : pick.label, say.outcome(pick.status, pick.answer)), width),
      ...explainedIn(pick).flatMap((sentence) => wrapped(sentence, width - 2, 2).map((line) => `  ${line}`)),
    ]),
  ];
  return `${lines.join("\n")}\n`;
}

/** The sentences about one pick: where its answer comes from, why not the other options, what would change it. */
export function explainedIn(pick: PickExplained): readonly string[] {
  return [
    ...pick.patterns.map(patternSentence),
    ...sourceSentences(pick),
    ...pick.others.map((other) => otherSentence(other)),
    ...pick.changes.map(({ condition, to, status, answer }) =>
      say.explain.change(sayExample({ [condition]: to }), say.outcome(status, answer)),
    ),
  ];
}

function patternSentence({ pattern, because, goes, leans, nevers, move, stands, silent, yields }: Spoken): string {
  const says = [
    ...(goes ? [say.explain.goes(goes)] : []),
    ...leans.map(({ option, by }) => say.explain.leans(option, by)),
    ...(nevers.length > 0 ? [say.explain.nevers(nevers)] : []),
    ...(move !== 0 ? [say.explain.moves(move)] : []),
  ];
  const fate = yields
    ? say.explain.yields(yields)
    : silent && (goes || leans.length > 0)
      ? say.explain.silent
      : stands
        ? say.explain.stands
        : undefined;
  return say.explain.pattern(pattern, says, because, fate);
}

function sourceSentences({ status, from, text, totals, shift, waitsFor, circle, patterns, onlyWhen }: PickExplained): readonly string[] {
  const sentences: string[] = [];
  if (onlyWhen !== undefined) sentences.push(say.explain.notApplicable(onlyWhen));
  if (status === "no advice" && waitsFor.length === 0) sentences.push(say.explain.noAdvice(text));
  if (waitsFor.length > 0) sentences.push(status === "no advice" ? say.explain.silentToo(waitsFor) : say.explain.waits(waitsFor));
  if (circle.length > 0) sentences.push(say.explain.circle(circle));
  else if (status === "conflict")
    sentences.push(patterns.filter(({ stands }) => stands).length > 1 ? say.explain.disagree : say.explain.allRuledOut);
  if (status === "gap") sentences.push(say.explain.gap);
  if (from === "copy") sentences.push(say.explain.copy);
  if (from === "lean") sentences.push(say.explain.totals(totals));
  if (from === "fall back") sentences.push(say.explain.fallBack(text));
  if (shift !== 0) sentences.push(say.explain.shifted(shift));
  if (status === "toss-up") sentences.push(say.explain.tossUp);
  return sentences;
}

function otherSentence(other: Other): string {
  switch (other.why) {
    case "later":
      return say.explain.later(other.option, other.place);
    case "ruled out":
      return say.explain.ruledOut(other.option, other.patterns);
    case "moved":
      return say.explain.movedAway(other.option, other.patterns);
    case "not in every list":
      return say.explain.notShared(other.option, other.patterns);
    case "yields":
      return say.explain.optionYields(other.option, other.patterns);
    case "silent":
      return say.explain.optionSilent(other.option, other.patterns);
    case "only leaned to":
      return say.explain.onlyLeaned(other.option, other.total);
    case "leaned to less":
      return say.explain.leanedLess(other.option, other.total, other.front);
    case "nothing speaks for it":
      return say.explain.nothingFor(other.option);
  }
}
