/**
 * What a test compares, whatever joins the comparisons or turns them round.
 *
 *     clarity is muddy and not (cover has grass or blade is round)     ──▶     clarity [3,3], grass [1,1], blade [0,0]
 */
import type { Model, Test } from "./model.js";
import type { Span } from "./span.js";

export type Atom = Extract<Test, { readonly kind: "axis" | "pick" }>;

/** In the order in which they stand; none where there is no test. */
export function atomsOf(test: Test | undefined): readonly Atom[] {
  switch (test?.kind) {
    case "axis":
    case "pick":
      return [test];
    case "not":
      return atomsOf(test.part);
    case "and":
    case "or":
      return test.parts.flatMap(atomsOf);
    default:
      return [];
  }
}

/** Indexes of the picks a test asks about, each once. */
export function picksIn(test: Test | undefined): readonly number[] {
  return [...new Set(atomsOf(test).flatMap((atom) => (atom.kind === "pick" ? [atom.pick] : [])))];
}

/** Indexes of the axes a test asks about. */
export function axesIn(test: Test | undefined): readonly number[] {
  return atomsOf(test).flatMap((atom) => (atom.kind === "axis" ? [atom.axis] : []));
}

/** Every span that an axis is compared with by something on which a pick's answer depends: a test, or a copy; and by `others`. */
export function spansCompared(
  model: Model,
  others: readonly (Test | undefined)[] = [],
): readonly { readonly axis: number; readonly span: Span }[] {
  const tests = [
    ...[...model.patterns, ...model.impossible].map(({ when }) => when),
    ...model.domain,
    ...model.picks.flatMap(({ onlyWhen, sayNothing }) => [onlyWhen, ...sayNothing.map(({ when }) => when)]),
    ...others,
  ];
  return [
    ...tests.flatMap(atomsOf).flatMap((atom) => (atom.kind === "axis" ? [{ axis: atom.axis, span: atom.span }] : [])),
    ...model.picks.flatMap(({ sameAs }) => (sameAs?.spans ?? []).map((span) => ({ axis: sameAs!.axis, span }))),
  ];
}
