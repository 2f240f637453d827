/**
 * A comparison as it is told to people: sections of things, each with a headline and what there is to say of it. Text, Markdown and the
 * published page only have to draw it.
 */
import { Fraction } from "fraction.js";
import type { Example } from "../diagnostics.js";
import { compareWords, type ToldPart } from "../messages/compare.js";
import type { AnswerChange, Comparison, Said } from "./compare.js";
import type { Cause } from "./causes.js";
import { editsOf, type Edit } from "./edits.js";

export interface Told {
  /** "Recommendations change for Blade style." */
  readonly headline: string;
  readonly sections: readonly { readonly heading: string; readonly items: readonly ToldItem[] }[];
}
export interface ToldItem {
  readonly text: string;
  readonly details: readonly string[];
}

/** With what was edited in the statements, before what that changes; an edit that stands alone is not named again at each change. */
export function toldWithEdits(comparison: Comparison): Told {
  const edits = editsOf(comparison);
  const { headline, sections } = told(comparison, { withCauses: !isOnlyCause(edits, comparison.changes) });
  return { headline, sections: edits.length === 0 ? sections : [{ heading: compareWords.edits, items: edits.map(editTold) }, ...sections] };
}

export function told(comparison: Comparison, { withCauses = true }: { readonly withCauses?: boolean } = {}): Told {
  const { changes, ground, undecided } = comparison;
  const recommended = changes.filter(({ judgement }) => !judgement);
  const itemOf = (change: AnswerChange): ToldItem => changeTold(change, withCauses);
  const plain = (texts: readonly string[]): readonly ToldItem[] => texts.map((text) => ({ text, details: [] }));
  const sections = [
    ...byPick(recommended).map(([label, list]) => ({ heading: compareWords.pick(label, sum(list)), items: list.map(itemOf) })),
    {
      heading: compareWords.possible,
      items: ground.map(({ only, share, mostly, example }) => ({
        text: compareWords.ground(only, share),
        details: [compareWords.where(mostly), ...exampleTold(example)],
      })),
    },
    { heading: compareWords.structure, items: plain(structure(comparison)) },
    ...byPick(changes.filter(({ judgement }) => judgement)).map(([label, list]) => ({
      heading: compareWords.judgement(label),
      items: list.map(itemOf),
    })),
    { heading: compareWords.idle, items: plain(idle(comparison)) },
    {
      heading: compareWords.words,
      items: plain(comparison.words.map(({ what, change, of, statement }) => compareWords.word(what, change, of, statement))),
    },
    { heading: compareWords.undecided, items: plain(undecided.map(compareWords.notDecided)) },
  ];
  return { headline: headline(comparison, recommended), sections: sections.filter(({ items }) => items.length > 0) };
}

function headline({ different, ground, picks, undecided }: Comparison, recommended: readonly AnswerChange[]): string {
  if (!different && undecided.length === 0) return compareWords.same;
  return compareWords.different(
    byPick(recommended).map(([label]) => label),
    [
      ...(ground.length > 0 ? [compareWords.groundDiffers] : []),
      ...(picks.some(({ change, judgement }) => change !== "changed" && !judgement) ? [compareWords.picksDiffer] : []),
      ...(undecided.length > 0 ? [compareWords.undecidedToo] : []),
    ],
  );
}

function sum(changes: readonly AnswerChange[]): Fraction {
  return changes.reduce((total, { share }) => total.add(share), new Fraction(0));
}

function byPick(changes: readonly AnswerChange[]): readonly (readonly [string, readonly AnswerChange[]])[] {
  const picks = new Map<string, AnswerChange[]>();
  for (const change of changes) picks.set(change.pick, [...(picks.get(change.pick) ?? []), change]);
  return [...picks.values()].map((list) => [list[0]!.label, list]);
}

function isOnlyCause([edit, ...others]: readonly Edit[], changes: readonly AnswerChange[]): boolean {
  return (
    edit !== undefined &&
    others.length === 0 &&
    changes.every(({ causes }) => causes.every((cause) => (cause.kind === "pattern" ? cause.title : cause.pick) === edit.of))
  );
}

function editTold({ change, of, parts }: Edit): ToldItem {
  if (change === "changed")
    return { text: compareWords.edit(parts[0]!.part, of), details: [compareWords.was(parts[0]!.was), compareWords.now(parts[0]!.now)] };
  const texts = (wanted: ToldPart): readonly string[] => parts.flatMap(({ part, was, now }) => (part === wanted ? [...was, ...now] : []));
  return {
    text: compareWords.wholePattern(of, change, { action: texts("action"), when: texts("when"), beats: texts("beats") }),
    details: [],
  };
}

function changeTold({ before, after, share, mostly, example, causes, standing }: AnswerChange, withCauses: boolean): ToldItem {
  const sameTitles = standing.before.join("|") === standing.after.join("|");
  const from = !sameTitles
    ? [compareWords.from(standing.before, standing.after)]
    : standing.before.length > 0
      ? [compareWords.stillFrom(standing.before)]
      : [];
  const words = ({ status, answer }: Said): string =>
    compareWords.outcome(before.status, before.answer) === compareWords.outcome(after.status, after.answer)
      ? compareWords.outcomeAs(status, answer)
      : compareWords.outcome(status, answer);
  return {
    text: compareWords.became(words(before), words(after), share),
    details: [
      ...(recommendTheSame(before, after) ? [compareWords.sameOption] : []),
      compareWords.where(mostly),
      ...exampleTold(example),
      ...from,
      ...(withCauses ? [causesTold(causes)] : []),
    ],
  };
}

/** What a pattern recommends on one side is fallen back on at the other. */
function recommendTheSame(before: Said, after: Said): boolean {
  const isAdvice = ({ status }: Said): boolean => status === "decided" || status === "fallback";
  return isAdvice(before) && isAdvice(after) && JSON.stringify(before.answer) === JSON.stringify(after.answer);
}

/** Nothing where it is so whatever the conditions. */
function exampleTold(example: Example): readonly string[] {
  return Object.keys(example).length > 0 ? [compareWords.example(example)] : [];
}

function causesTold(causes: readonly Cause[]): string {
  const titles = (wanted: string): readonly string[] =>
    causes.flatMap((cause) => (cause.kind === "pattern" && cause.change === wanted ? [cause.title] : []));
  return compareWords.causes(
    { added: titles("added"), removed: titles("removed"), changed: titles("changed") },
    causes.flatMap((cause) => (cause.kind === "statement" ? [cause] : [])),
  );
}

function structure({ conditions, picks }: Comparison): readonly string[] {
  return [
    ...conditions.map(({ name, change, otherKind, from, to, added = [], removed = [] }) => {
      if (otherKind) return compareWords.otherKind(name);
      return change !== "changed"
        ? compareWords.condition(name, change)
        : from !== undefined && to !== undefined
          ? compareWords.measure(name, from, to)
          : compareWords.values(name, added, removed);
    }),
    ...picks.map(({ pick, change, judgement, added = [], removed = [] }) => {
      if (change === "added") return judgement ? compareWords.newJudgement(pick) : compareWords.newPick(pick);
      if (change === "removed") return judgement ? compareWords.goneJudgement(pick) : compareWords.gonePick(pick);
      return compareWords.values(pick, added, removed);
    }),
  ];
}

/** Patterns that are not the same and that no change of a recommendation comes from. */
function idle({ patterns, changes }: Comparison): readonly string[] {
  const causes = new Set(changes.flatMap((change) => change.causes.flatMap((cause) => (cause.kind === "pattern" ? [cause.title] : []))));
  return patterns.filter(({ title }) => !causes.has(title)).map(({ title, change }) => compareWords.pattern(title, change));
}
