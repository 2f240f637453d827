/**
 * How many questions the counter asks before every pick is settled: the tool's own choice, against asking everything and against the
 * best any order of questions could do (dynamic programming over all that may be known).
 *
 * A condition's values that no pattern tells apart are one reply, weighed by how many there are. At most six conditions matter in a
 * book, or it is left out: the optimum is exact, not estimated.
 */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { answers } from "../../src/analysis/answers.js";
import { isFork, lookup, type Node } from "../../src/analysis/diagram.js";
import type { Condition, Model } from "../../src/model/model.js";
import { holds, type Span } from "../../src/model/span.js";
import { resolve } from "../../src/model/resolve.js";
import { parse } from "../../src/syntax/parse.js";
import { givenOf } from "../../src/table/given.js";
import { answer } from "../../src/table/partial.js";

const rules = fileURLToPath(new URL("../../rules/", import.meta.url));

/** One reply to a question: a position per axis of the condition, and how often it comes. */
interface Reply {
  readonly positions: readonly number[];
  readonly share: number;
}

export function questions(line: (label: string, ...values: string[]) => void): void {
  line("", "asked", "all that matter", "every condition", "best possible");
  for (const [path, only] of [["blades.lore", ["blade"]], ["blades.lore", ["setup"]], ["blades.lore", ["speed"]], ["blades.lore", undefined]] as const) {
    const model = modelOf(path);
    const told = only ? { ...model, picks: model.picks.map((pick) => ({ ...pick, judgement: pick.judgement || !(only as readonly string[]).includes(pick.name) })) } : model;
    const counted = count(told);
    line(`${path}, ${only?.join(" and ") ?? "every pick"}`, ...(counted ? [counted.asked, counted.matter, counted.everything, counted.best].map((value) => value.toFixed(2)) : ["more than six conditions matter"]));
  }
}

function modelOf(path: string): Model {
  const text = readFileSync(rules + path, "utf8");
  return resolve(parse(text, path), (other) => ({ text: readFileSync(rules + other, "utf8") })).model;
}

function count(model: Model): { readonly asked: number; readonly matter: number; readonly everything: number; readonly best: number } | undefined {
  const known = answers(model, { steps: 400_000 });
  const told = model.picks.filter(({ judgement }) => !judgement).map(({ index }) => known.picks[index]!.whole);
  const axes = new Set(told.flatMap((node) => node.support));
  const conditions = model.conditions.filter((condition) => condition.axes.some((axis) => axes.has(axis)));
  if (conditions.length > 6) return undefined;
  const replies = conditions.map((condition) => repliesOf(model, condition, told));
  const key = (chosen: readonly (number | undefined)[]): string => chosen.map((reply) => reply ?? "-").join();

  const pointOf = (chosen: readonly number[]): number[] => {
    const point = model.axes.map(({ size }) => size >> 1);
    chosen.forEach((reply, i) => conditions[i]!.axes.forEach((axis, k) => (point[axis] = replies[i]![reply]!.positions[k]!)));
    return point;
  };
  // The answers of all picks where every reply is known, as one number each.
  const names = new Map<string, number>();
  const outcome = new Map<string, number>();
  const all = (chosen: number[]): void => {
    if (chosen.length < conditions.length) return replies[chosen.length]!.forEach((_, reply) => all([...chosen, reply]));
    const point = pointOf(chosen);
    const name = told.map((node) => JSON.stringify(lookup(node, (axis) => point[axis]!))).join();
    if (!names.has(name)) names.set(name, names.size);
    outcome.set(key(chosen), names.get(name)!);
  };
  all([]);

  const settledBy = new Map<string, number | undefined>();
  /** The one answer left; undefined: several are. */
  const settled = (chosen: readonly (number | undefined)[]): number | undefined => {
    const name = key(chosen);
    if (settledBy.has(name)) return settledBy.get(name);
    const open = chosen.indexOf(undefined);
    let result: number | undefined;
    if (open < 0) result = outcome.get(name);
    else {
      const below = new Set(replies[open]!.map((_, reply) => settled(chosen.with(open, reply))));
      result = below.size === 1 ? [...below][0] : undefined;
    }
    settledBy.set(name, result);
    return result;
  };
  const expected = (chosen: readonly (number | undefined)[], at: number, next: (chosen: readonly (number | undefined)[]) => number): number =>
    1 + replies[at]!.reduce((sum, { share }, reply) => sum + share * next(chosen.with(at, reply)), 0);

  const best = new Map<string, number>();
  const optimum = (chosen: readonly (number | undefined)[]): number => {
    if (settled(chosen) !== undefined) return 0;
    const name = key(chosen);
    let result = best.get(name);
    if (result === undefined) best.set(name, (result = Math.min(...chosen.flatMap((reply, at) => (reply === undefined ? [expected(chosen, at, optimum)] : [])))));
    return result;
  };
  const asks = (chosen: readonly (number | undefined)[]): number => {
    if (settled(chosen) !== undefined) return 0;
    const box = new Map<number, Span>();
    chosen.forEach((reply, i) => reply !== undefined && conditions[i]!.axes.forEach((axis, k) => box.set(axis, [replies[i]![reply]!.positions[k]!, replies[i]![reply]!.positions[k]!])));
    const given = givenOf(model, box);
    const answered = answer(model, given, () => known);
    if ("problem" in answered || answered.ask === undefined) throw new Error("a point that is not settled has a question");
    return expected(chosen, conditions.findIndex(({ index }) => index === answered.ask), asks);
  };
  const nothing = conditions.map(() => undefined);
  return { asked: asks(nothing), matter: conditions.length, everything: model.conditions.length, best: optimum(nothing) };
}

/** Replies that some diagram tells apart. */
function repliesOf(model: Model, condition: Condition, told: readonly Node<unknown>[]): readonly Reply[] {
  const perAxis = condition.axes.map((axis) => {
    const tests = [...new Set(told.flatMap((node) => testsOf(node, axis)))];
    const { size, weights } = model.axes[axis]!;
    const classes = new Map<string, { position: number; weight: number }>();
    for (let position = 0; position < size; position++) {
      const name = tests.map((test) => (holds(JSON.parse(test) as Span, position) ? 1 : 0)).join("");
      const weight = Number(weights?.[position] ?? 1n);
      const known = classes.get(name);
      classes.set(name, { position: known && known.weight > 0 ? known.position : position, weight: (known?.weight ?? 0) + weight });
    }
    const total = [...classes.values()].reduce((sum, { weight }) => sum + weight, 0);
    return [...classes.values()].map(({ position, weight }) => ({ position, share: weight / total }));
  });
  return perAxis.reduce<Reply[]>((sofar, axis) => sofar.flatMap(({ positions, share }) => axis.map((one) => ({ positions: [...positions, one.position], share: share * one.share }))), [{ positions: [], share: 1 }]);
}

function testsOf(node: Node<unknown>, axis: number, seen = new Set<number>()): readonly string[] {
  if (!isFork(node) || seen.has(node.id)) return [];
  seen.add(node.id);
  return [...(node.variable === axis ? [JSON.stringify(node.inside)] : []), ...testsOf(node.yes, axis, seen), ...testsOf(node.no, axis, seen)];
}

