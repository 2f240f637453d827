/**
 * How many questions settle every pick: as the counter asks them, and the fewest that any way of asking needs.
 *
 *     nothing known ──question──▶ a state per reply ──question──▶ … ──▶ one answer left
 *
 * Replies that no answer tells apart are one, weighed by how often they come among possible points. The best way of asking is found by
 * going through all states from the last to the first (dynamic programming), so it is exact, and only for a few conditions at a time.
 */
import { outcomeKey, type Answers } from "../../src/analysis/answers.js";
import { unlimited } from "../../src/analysis/budget.js";
import { forest, isFork, lookup, mapLeaves, type Box, type Node } from "../../src/analysis/diagrams/diagram.js";
import type { Outcome } from "../../src/analysis/outcome.js";
import type { Condition, Model } from "../../src/model/model.js";
import { holds, type Span } from "../../src/model/span.js";
import { givenOf } from "../../src/answer/given.js";
import { answer } from "../../src/answer/answer.js";

/** One reply to a question: a position per axis of the condition, and how often it comes. */
interface Reply {
  readonly positions: readonly number[];
  readonly share: number;
}

/** Replies to some of the conditions. */
type State = readonly (number | undefined)[];

/** What the counter asks next. `known`: positions of axes. */
export function questionOf(answers: Answers, known: Box): number | undefined {
  const answered = answer(answers.model, givenOf(answers.model, known), () => answers);
  if ("problem" in answered) throw new Error(answered.problem);
  return answered.ask;
}

/** The diagrams of all picks that customers are told, where some axes are known. */
export function toldWhere({ model, picks }: Answers, known: Box): readonly Node<Outcome>[] {
  return model.picks
    .filter(({ judgement }) => !judgement)
    .map(({ index }) => {
      const made = forest(outcomeKey, unlimited);
      return [...known].reduce(
        (node, [axis, span]) => made.restrict(node, axis, span),
        mapLeaves(picks[index]!.whole, made, (leaf) => leaf),
      );
    });
}

/** The conditions that can change some answer. */
export function thatMatter(model: Model, told: readonly Node<Outcome>[]): readonly Condition[] {
  const axes = new Set(told.flatMap(({ support }) => support));
  return model.conditions.filter((condition) => condition.axes.some((axis) => axes.has(axis)));
}

/** States beyond which nobody goes through them all. */
const MOST_STATES = 60_000;

/** Average questions where only some axes are known; undefined: too many states. */
export function averages(
  answers: Answers,
  known: Box,
): { readonly asked: number; readonly best: number; readonly matter: number } | undefined {
  const { model } = answers;
  const told = toldWhere(answers, known);
  const conditions = thatMatter(model, told);
  const replies = conditions.map((condition) => repliesOf(model, condition, told));
  if (replies.reduce((product, list) => product * (list.length + 1), 1) > MOST_STATES) return undefined;

  const boxOf = (state: State): Box => {
    const box = new Map(known);
    state.forEach(
      (reply, i) =>
        reply !== undefined &&
        conditions[i]!.axes.forEach((axis, k) => box.set(axis, [replies[i]![reply]!.positions[k]!, replies[i]![reply]!.positions[k]!])),
    );
    return box;
  };
  const children = (state: State, at: number): readonly State[] => replies[at]!.map((_, reply) => state.with(at, reply));
  const perState = <T>(work: (state: State) => T): ((state: State) => T) => {
    const done = new Map<string, T>();
    return (state) => {
      const key = state.map((reply) => reply ?? "-").join();
      let value = done.get(key);
      if (value === undefined) done.set(key, (value = work(state)));
      return value;
    };
  };
  const mass = perState((state): number => {
    const open = state.indexOf(undefined);
    if (open >= 0) return children(state, open).reduce((sum, child) => sum + mass(child), 0);
    const box = boxOf(state);
    const position = (axis: number): number => box.get(axis)?.[0] ?? model.axes[axis]!.size >> 1;
    return lookup(answers.possible.node, position) === 1
      ? state.reduce<number>((product, reply, i) => product * replies[i]![reply!]!.share, 1)
      : 0;
  });
  /** The answers that are left. */
  const left = perState((state): ReadonlySet<string> => {
    if (mass(state) === 0) return new Set();
    const open = state.indexOf(undefined);
    if (open >= 0) return new Set(children(state, open).flatMap((child) => [...left(child)]));
    const box = boxOf(state);
    return new Set([told.map((node) => outcomeKey(lookup(node, (axis) => box.get(axis)?.[0] ?? 0))).join(" ")]);
  });
  const isSettled = (state: State): boolean => left(state).size <= 1;
  const after = (state: State, at: number, next: (state: State) => number): number =>
    1 + children(state, at).reduce((sum, child) => sum + (mass(child) === 0 ? 0 : (mass(child) / mass(state)) * next(child)), 0);
  const best = perState((state): number =>
    isSettled(state) ? 0 : Math.min(...state.flatMap((reply, at) => (reply === undefined ? [after(state, at, best)] : []))),
  );
  const asked = perState((state): number => {
    if (isSettled(state)) return 0;
    const ask = questionOf(answers, boxOf(state));
    if (ask === undefined) throw new Error("what is not settled has a question");
    return after(
      state,
      conditions.findIndex(({ index }) => index === ask),
      asked,
    );
  });
  const nothing: State = conditions.map(() => undefined);
  return { asked: asked(nothing), best: best(nothing), matter: conditions.length };
}

/** Replies that some diagram tells apart. */
function repliesOf(model: Model, condition: Condition, told: readonly Node<unknown>[]): readonly Reply[] {
  const perAxis = condition.axes.map((axis) => {
    const tests = [...new Set(told.flatMap((node) => testsOf(node, axis)))].map((test) => JSON.parse(test) as Span);
    const { size, weights } = model.axes[axis]!;
    const classes = new Map<string, { position: number; weight: number }>();
    for (let position = 0; position < size; position++) {
      const name = tests.map((test) => (holds(test, position) ? 1 : 0)).join("");
      const weight = Number(weights?.[position] ?? 1n);
      const before = classes.get(name);
      classes.set(name, { position: before && before.weight > 0 ? before.position : position, weight: (before?.weight ?? 0) + weight });
    }
    const total = [...classes.values()].reduce((sum, { weight }) => sum + weight, 0);
    return [...classes.values()].map(({ position, weight }) => ({ position, share: weight / total }));
  });
  return perAxis.reduce<Reply[]>(
    (sofar, axis) =>
      sofar.flatMap(({ positions, share }) => axis.map((one) => ({ positions: [...positions, one.position], share: share * one.share }))),
    [{ positions: [], share: 1 }],
  );
}

function testsOf(node: Node<unknown>, axis: number, seen = new Set<number>()): readonly string[] {
  if (!isFork(node) || seen.has(node.id)) return [];
  seen.add(node.id);
  return [
    ...(node.variable === axis ? [JSON.stringify(node.inside)] : []),
    ...testsOf(node.yes, axis, seen),
    ...testsOf(node.no, axis, seen),
  ];
}
