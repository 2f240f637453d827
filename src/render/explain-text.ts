/**
 * An explanation as sentences that read aloud, and the same sentences as Markdown.
 *
 *     what was taken for the explanation ── each settled pick, why ── what is possible for the others, what to ask ── cautions
 */
import { tableWords } from "../messages/table.js";
import { sayExample } from "../messages/words.js";
import type { Model } from "../model/model.js";
import type { AnswerExplained } from "../answer/explain-answer.js";
import { saidValues } from "../answer/given.js";
import { wrapped } from "./columns.js";
import type { Explanation, Other, PickExplained, Spoken } from "../answer/explain.js";
import { escaped, list } from "./markdown.js";
import { silenceText } from "../model/reader.js";
import { answerText, askText, closedText, givenText, pickText, warningText, warningsText, type TextOptions } from "./text.js";
import { pickLabel } from "./words.js";

/** Ends in a line break; empty where nothing is to be said. */
export function answerExplainedText(model: Model, explained: AnswerExplained, { width = 80 }: TextOptions = {}): string {
  const { answered, settled, open } = explained;
  const parts = [
    ...closingOf(model, explained).map((sentence) => `${wrapped(sentence, width).join("\n")}\n`),
    ...openingOf(explained).map((sentence) => `${wrapped(sentence, width).join("\n")}\n`),
    ...(settled.length === 0 ? [] : [explanationText({ point: saidValues(model, answered.given), picks: settled }, { width })]),
    ...(open.length === 0 ? [] : [answerText(model, { ...answered, picks: open, cautions: [], closed: [] }, { width })]),
    ...(answered.cautions.length === 0 ? [] : [warningsText(answered.cautions, { width })]),
  ];
  return parts.join("\n");
}

/** Ends in a line break. */
export function answerExplainedMarkdown(model: Model, explained: AnswerExplained): string {
  const { answered, settled, open } = explained;
  const parts = [
    escaped(givenText(model, answered)),
    ...closingOf(model, explained).map(escaped),
    ...openingOf(explained).map(escaped),
    ...settled.flatMap((pick) => [`### ${escaped(headline(pick))}`, list(explainedIn(pick).map(escaped))]),
    ...open.flatMap((one) => {
      const [first, ...rest] = pickText(model, one);
      return [`### ${escaped(`${pickLabel(model.picks[one.pick]!)}: ${first!}`)}`, list(rest.map(escaped))];
    }),
    ...(open.length === 0 || answered.ask === undefined ? [] : [escaped(askText(model, answered.ask))]),
    ...(answered.cautions.length === 0
      ? []
      : [`### ${tableWords.mindHeading}`, list(answered.cautions.map((one) => escaped(warningText(one))))]),
  ];
  return `${parts.filter((part) => part !== "").join("\n\n")}\n`;
}

/** What closes everything, and why that is so here. */
export function closingOf(model: Model, { answered: { closed } }: AnswerExplained): readonly string[] {
  return closed.flatMap((one) => [
    closedText(model, one),
    ...(one.sure && one.silence.because !== undefined ? [tableWords.explain.closed(silenceText(model, one.silence))] : []),
  ]);
}

/** What was taken for the explanation, or that too little is known for one. */
export function openingOf({ taken, roughly, settled, open }: AnswerExplained): readonly string[] {
  if (settled.length === 0) return open.length === 0 ? [] : [tableWords.explain.nothingSettled];
  return Object.keys(taken).length === 0 ? [] : [tableWords.explain.taken(sayExample(taken), roughly)];
}

/** Ends in a line break. */
export function explanationText({ point, picks }: Explanation, { width = 80 }: TextOptions = {}): string {
  const lines = [
    ...wrapped(tableWords.explain.at(sayExample(point)), width),
    ...picks.flatMap((pick) => [
      "",
      ...wrapped(headline(pick), width),
      ...explainedIn(pick).flatMap((sentence) => wrapped(sentence, width - 2, 2).map((line) => `  ${line}`)),
    ]),
  ];
  return `${lines.join("\n")}\n`;
}

function headline(pick: PickExplained): string {
  return tableWords.explain.headline(pickLabel(pick), tableWords.outcome(pick.status, pick.answer));
}

/** The sentences about one pick: where its answer comes from, why not the other options, what would change it. */
export function explainedIn(pick: PickExplained): readonly string[] {
  return [...pick.patterns.map(patternSentence), ...sourceSentences(pick), ...elseSentences(pick)];
}

/** Of these, where the answer comes from. */
export function reasonsOf(pick: PickExplained): readonly string[] {
  return [...pick.patterns.filter((one) => !isUnheard(one)).map(patternSentence), ...sourceSentences(pick)];
}

/** Of these, what does not count here: patterns that yield or are not heard, why not the other options, what would change it. */
export function asideOf(pick: PickExplained): readonly string[] {
  return [...pick.patterns.filter(isUnheard).map(patternSentence), ...elseSentences(pick)];
}

function isUnheard({ yields, silent, goes, leans }: Spoken): boolean {
  return yields !== undefined || (silent && (goes !== undefined || leans.length > 0));
}

function elseSentences({ others, changes }: PickExplained): readonly string[] {
  return [
    ...others.map((other) => otherSentence(other)),
    ...changes.map(({ condition, to, status, answer }) =>
      tableWords.explain.change(sayExample({ [condition]: to }), tableWords.outcome(status, answer)),
    ),
  ];
}

function patternSentence({ pattern, because, goes, leans, nevers, move, stands, silent, yields }: Spoken): string {
  const says = [
    ...(goes ? [tableWords.explain.goes(goes)] : []),
    ...leans.map(({ option, by }) => tableWords.explain.leans(option, by)),
    ...(nevers.length > 0 ? [tableWords.explain.nevers(nevers)] : []),
    ...(move !== 0 ? [tableWords.explain.moves(move)] : []),
  ];
  const fate = yields
    ? tableWords.explain.yields(yields)
    : silent && (goes || leans.length > 0)
      ? tableWords.explain.silent
      : stands
        ? tableWords.explain.stands
        : undefined;
  return tableWords.explain.pattern(pattern, says, because, fate);
}

function sourceSentences({ status, from, text, totals, shift, waitsFor, circle, patterns, onlyWhen }: PickExplained): readonly string[] {
  const sentences: string[] = [];
  if (onlyWhen !== undefined) sentences.push(tableWords.explain.notApplicable(onlyWhen));
  if (status === "no advice" && waitsFor.length === 0) sentences.push(tableWords.explain.noAdvice(text));
  if (waitsFor.length > 0)
    sentences.push(status === "no advice" ? tableWords.explain.silentToo(waitsFor) : tableWords.explain.waits(waitsFor));
  if (circle.length > 0) sentences.push(tableWords.explain.circle(circle));
  else if (status === "conflict")
    sentences.push(patterns.filter(({ stands }) => stands).length > 1 ? tableWords.explain.disagree : tableWords.explain.allRuledOut);
  if (status === "gap") sentences.push(tableWords.explain.gap);
  if (from === "copy") sentences.push(tableWords.explain.copy);
  if (from === "lean") sentences.push(tableWords.explain.totals(totals));
  if (from === "fall back") sentences.push(tableWords.explain.fallBack(text));
  if (shift !== 0) sentences.push(tableWords.explain.shifted(shift));
  if (status === "toss-up") sentences.push(tableWords.explain.tossUp);
  return sentences;
}

function otherSentence(other: Other): string {
  switch (other.why) {
    case "later":
      return tableWords.explain.later(other.option, other.place);
    case "ruled out":
      return tableWords.explain.ruledOut(other.option, other.patterns);
    case "moved":
      return tableWords.explain.movedAway(other.option, other.patterns);
    case "not in every list":
      return tableWords.explain.notShared(other.option, other.patterns);
    case "yields":
      return tableWords.explain.optionYields(other.option, other.patterns);
    case "silent":
      return tableWords.explain.optionSilent(other.option, other.patterns);
    case "only leaned to":
      return tableWords.explain.onlyLeaned(other.option, other.total);
    case "leaned to less":
      return tableWords.explain.leanedLess(other.option, other.total, other.front);
    case "nothing speaks for it":
      return tableWords.explain.nothingFor(other.option);
  }
}
