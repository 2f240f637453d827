/**
 * A comparison as it is told to people: sections of things, each with a headline and what there is to say of it. Text, Markdown and the
 * published page only have to draw it.
 */
import { Fraction } from "fraction.js";
import type { Example } from "../diagnostics.js";
import { say, type Part } from "../messages/compare.js";
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
  return { headline, sections: edits.length === 0 ? sections : [{ heading: say.edits, items: edits.map(editTold) }, ...sections] };
}

export function told(comparison: Comparison, { withCauses = true }: { readonly withCauses?: boolean } = {}): Told {
  const { changes, ground, undecided } = comparison;
  const recommended = changes.filter(({ judgement }) => !judgement);
  const itemOf = (change: AnswerChange): ToldItem => changeTold(change, withCauses);
  const plain = (texts: readonly string[]): readonly ToldItem[] => texts.map((text) => ({ text, details: [] }));
  const sections = [
    ...byPick(recommended).map(([label, list]) => ({ heading: say.pick(label, sum(list)), items: list.map(itemOf) })),
    {
      heading: say.possible,
      items: ground.map(({ only, share, mostly, example }) => ({
        text: say.ground(only, share),
        details: [say.where(mostly), ...exampleTold(example)],
      })),
    },
    { heading: say.structure, items: plain(structure(comparison)) },
    ...byPick(changes.filter(({ judgement }) => judgement)).map(([label, list]) => ({
      heading: say.judgement(label),
      items: list.map(itemOf),
    })),
    { heading: say.idle, items: plain(idle(comparison)) },
    { heading: say.words, items: plain(comparison.words.map(({ what, change, of, statement }) => say.word(what, change, of, statement))) },
    { heading: say.undecided, items: plain(undecided.map(say.notDecided)) },
  ];
  return { headline: headline(comparison, recommended), sections: sections.filter(({ items }) => items.length > 0) };
}

function headline({ different, ground, picks, undecided }: Comparison, recommended: readonly AnswerChange[]): string {
  if (!different && undecided.length === 0) return say.same;
  return say.different(
    byPick(recommended).map(([label]) => label),
    [
      ...(ground.length > 0 ? [say.groundDiffers] : []),
      ...(picks.some(({ change, judgement }) => change !== "changed" && !judgement) ? [say.picksDiffer] : []),
      ...(undecided.length > 0 ? [say.undecidedToo] : []),
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
  if (change === "changed") return { text: say.edit(parts[0]!.part, of), details: [say.was(parts[0]!.was), say.now(parts[0]!.now)] };
  const texts = (wanted: Part): readonly string[] => parts.flatMap(({ part, was, now }) => (part === wanted ? [...was, ...now] : []));
  return { text: say.wholePattern(of, change, { action: texts("action"), when: texts("when"), beats: texts("beats") }), details: [] };
}

function changeTold({ before, after, share, mostly, example, causes, standing }: AnswerChange, withCauses: boolean): ToldItem {
  const sameTitles = standing.before.join("|") === standing.after.join("|");
  const from = !sameTitles
    ? [say.from(standing.before, standing.after)]
    : standing.before.length > 0
      ? [say.stillFrom(standing.before)]
      : [];
  const words = ({ status, answer }: Said): string =>
    say.outcome(before.status, before.answer) === say.outcome(after.status, after.answer)
      ? say.outcomeAs(status, answer)
      : say.outcome(status, answer);
  return {
    text: say.became(words(before), words(after), share),
    details: [
      ...(recommendTheSame(before, after) ? [say.sameOption] : []),
      say.where(mostly),
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
  return Object.keys(example).length > 0 ? [say.example(example)] : [];
}

function causesTold(causes: readonly Cause[]): string {
  const titles = (wanted: string): readonly string[] =>
    causes.flatMap((cause) => (cause.kind === "pattern" && cause.change === wanted ? [cause.title] : []));
  return say.causes(
    { added: titles("added"), removed: titles("removed"), changed: titles("changed") },
    causes.flatMap((cause) => (cause.kind === "statement" ? [cause] : [])),
  );
}

function structure({ conditions, picks }: Comparison): readonly string[] {
  return [
    ...conditions.map(({ name, change, otherKind, from, to, added = [], removed = [] }) => {
      if (otherKind) return say.otherKind(name);
      return change !== "changed"
        ? say.condition(name, change)
        : from !== undefined && to !== undefined
          ? say.measure(name, from, to)
          : say.values(name, added, removed);
    }),
    ...picks.map(({ pick, change, judgement, added = [], removed = [] }) => {
      if (change === "added") return judgement ? say.newJudgement(pick) : say.newPick(pick);
      if (change === "removed") return judgement ? say.goneJudgement(pick) : say.gonePick(pick);
      return say.values(pick, added, removed);
    }),
  ];
}

/** Patterns that are not the same and that no change of a recommendation comes from. */
function idle({ patterns, changes }: Comparison): readonly string[] {
  const causes = new Set(changes.flatMap((change) => change.causes.flatMap((cause) => (cause.kind === "pattern" ? [cause.title] : []))));
  return patterns.filter(({ title }) => !causes.has(title)).map(({ title, change }) => say.pattern(title, change));
}
