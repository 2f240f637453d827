/**
 * Every pick's answer everywhere, as diagrams.
 *
 *     local   over the axes and, for each tested pick, one variable whose positions are that pick's fronts
 *     whole   over the axes alone: tested picks composed in
 *
 * Findings are phrased over `local` (nine boxes where the composed space has billions of cells); `whole` is asked for reachability,
 * examples, shares, tables and answers. A pick whose diagram outgrows its budget is left undecided, and so is what tests it.
 */
import type { Model } from "../model/model.js";
import { count, holds, intersect, isEmpty, spanKey, spanOf, subtract, type Span } from "../model/span.js";
import { budget, OutOfBudget, toTheEnd, unlimited, withinBudget, type Budget, type Purse } from "./budget.js";
import { decide, whether } from "./diagrams/decide.js";
import { forest, isFork, mapLeaves, reaches, type Box, type Forest, type Input, type Node, type Variables } from "./diagrams/diagram.js";
import { compose } from "./diagrams/compose.js";
import { weigher } from "./diagrams/weigher.js";
import { FAILS, formulas, HOLDS, NO_ADVICE, WAITS, type Formula, type Formulas, type Quarters } from "./diagrams/formula.js";
import { memory, type Memory } from "./memory.js";
import { hullIndex, type HullIndex } from "./hull-index.js";
import { hullOf, type Hull } from "./neighbours.js";
import type { Outcome, Point } from "./outcome.js";
import { frontOf, prepared, valueOfFront, type Front } from "./point.js";
import { pickFormulas, pickQuestion } from "./pick-question.js";
import { printsOf, type Prints } from "./prints.js";
import type { PickRules, Rule } from "./rules.js";
import { singles } from "./singles.js";
import type { Verdict } from "./verdict.js";

/** A pick about which questions can be asked: the answers of all picks it tests are known. */
export interface Askable {
  readonly rules: PickRules;
  /** Where a rule's `when` may hold. */
  hull(rule: Rule): Hull | "nowhere";
  /** Which rules' `when` may hold at a point, made when first asked for. */
  readonly index: () => HullIndex;
}

export interface PickDiagrams extends Askable, Diagrams {}

/** All that is known of a pick's answers, without the rules they come from. */
interface Diagrams {
  readonly local: Node<Verdict>;
  /** What others can see of it: positions of its variable. */
  readonly fronts: readonly Front[];
  /** Over axes; leaves are positions in `fronts`. */
  readonly frontDiagram: Input;
  /** Over axes; impossible points keep whatever falls there. */
  readonly whole: Node<Outcome>;
}

export interface Answers {
  readonly model: Model;
  readonly store: Formulas;
  readonly variables: Variables;
  /** Undefined: it tests a pick that is out of budget. */
  readonly askable: readonly (Askable | undefined)[];
  /** Undefined: out of budget, or not askable. */
  readonly picks: readonly (PickDiagrams | undefined)[];
  /** Over axes: 1 where a point is possible, else 0. */
  readonly possible: Input;
  readonly anythingPossible: boolean;
  readonly prints: Prints;
  /** The value of `work`, or what an earlier analysis made of the same question; `key` names all it depends on. */
  recall<T>(key: string, work: () => T): T;
  /** The variable that stands for a pick. */
  pickVariable(pick: number): number;
  /** Throws `OutOfBudget` where the test asks an undecided pick. */
  compile(test: Parameters<Formulas["compile"]>[0]): Formula;
}

export interface Limits {
  /** Nodes and splits per pick and per question. */
  readonly steps: number;
  readonly interrupted?: () => boolean;
  /** What everything together may cost. */
  readonly purse?: Purse;
}

export const outcomeKey = ({ status, places }: Outcome): string => `${status}|${places.map((place) => place.join(",")).join(";")}`;
export const verdictKey = (leaf: Verdict): string =>
  `${outcomeKey(leaf)}|${leaf.cause.kind}|${"nevers" in leaf.cause ? leaf.cause.nevers.join(",") : ""}${"rules" in leaf.cause ? leaf.cause.rules.join(",") : ""}${"from" in leaf.cause ? leaf.cause.from : ""}|${leaf.standing.join(",")}`;

export function answers(model: Model, limits: Limits): Answers {
  return toTheEnd(answering(model, limits));
}

/** The same, pick by pick; `known` is what an earlier analysis has left. */
export function* answering(model: Model, limits: Limits, known: Memory = memory()): Generator<void, Answers> {
  const axes = model.axes.length;
  const prints = printsOf(model, known.number);
  const purse = limits.purse ?? { left: Number.MAX_SAFE_INTEGER };
  // What is recalled costs what it cost, so that the same book always stops at the same place.
  const recall = <T>(key: string, work: () => T): T => {
    const before = purse.left;
    const { value, cost } = known.recall(`${limits.steps}|${key}`, () => ({ value: work(), cost: before - purse.left }));
    purse.left = before - cost;
    return value;
  };
  const fresh = (): Budget => budget(limits.steps, limits.interrupted, purse);
  const picks: (PickDiagrams | undefined)[] = [];
  const askable: (Askable | undefined)[] = [];
  const variables: Variables = {
    size: (variable) => (variable < axes ? model.axes[variable]!.size : picks[variable - axes]!.fronts.length),
    weight: (variable, span) => weightOn(model.axes[variable]!.weights, span),
  };
  const store = formulas(variables.size);
  const readPick = (pick: number, span: Span): { variable: number; quarters: Quarters } => {
    const known = picks[pick];
    if (!known) throw new OutOfBudget();
    const values = known.fronts.map((front) => valueOfFront(front, span));
    const where = (mask: number): Span => spanOf(values.flatMap((value, at) => (value === mask ? [at] : [])));
    return { variable: axes + pick, quarters: [where(HOLDS), where(FAILS), where(WAITS), where(NO_ADVICE)] };
  };
  const compile: Answers["compile"] = (test) => store.compile(test, readPick);
  const possible = recall(`possible ${prints.possible}`, () => withinBudget(() => possiblePoints(model, store, compile, fresh())));
  for (const rules of prepared(model).rules) {
    yield;
    const mine = possible !== undefined && rules.pick.tests.every((pick) => picks[pick] !== undefined) ? askableOf(rules) : undefined;
    askable.push(mine);
    const diagrams = mine && recall(`answers ${prints.picks[rules.pick.index]}`, () => withinBudget(() => diagramsOf(rules)));
    picks.push(mine && diagrams && { ...mine, ...diagrams });
  }

  function askableOf(rules: PickRules): Askable {
    const hulls: (Hull | "nowhere")[] = [];
    const hull = (rule: Rule): Hull | "nowhere" => (hulls[rule.at] ??= hullOf(store, compile(rule.pattern.when)));
    let index: HullIndex | undefined;
    return { rules, hull, index: () => (index ??= hullIndex(rules.rules.map(hull), variables.size)) };
  }

  function diagramsOf(rules: PickRules): Diagrams {
    const spend = fresh();
    const local = decide(store, pickQuestion(model, rules, pickFormulas(rules, compile)), forest<Verdict>(verdictKey, spend), spend);
    const inputs = new Map(rules.pick.tests.map((pick) => [axes + pick, picks[pick]!.frontDiagram]));
    const outcomes = forest<Outcome>(outcomeKey, spend);
    const whole = compose(
      mapLeaves(local, outcomes, ({ status, places }): Outcome => ({ status, places })),
      outcomes,
      inputs,
      variables,
    );
    const fronts: Front[] = [];
    const positions = new Map<string, number>();
    const positionOf = (outcome: Outcome): number => {
      const front = frontOf(outcome);
      const key = String(front);
      let position = positions.get(key);
      if (position === undefined) {
        positions.set(key, (position = fronts.length));
        fronts.push(front);
      }
      return position;
    };
    // Whoever asks later brings a budget of its own.
    const lasting = forest<number>(String, unlimited);
    return { local, whole, frontDiagram: { node: mapLeaves(whole, lasting, positionOf), forest: lasting }, fronts };
  }

  return {
    model,
    store,
    variables,
    askable,
    picks,
    compile,
    prints,
    recall,
    possible: possible ?? nothingKnown(),
    anythingPossible: possible === undefined || isFork(possible.node) || possible.node.leaf === 1,
    pickVariable: (pick) => axes + pick,
  };
}

/** Where not even the possible points are decided, no pick is askable, and nothing is asked of this. */
function nothingKnown(): Input {
  const made = forest<number>(String, unlimited);
  return { node: made.leaf(1), forest: made };
}

function possiblePoints(model: Model, store: Formulas, compile: Answers["compile"], spend: Budget): Input {
  const never = model.impossible.map((statement) => store.not(compile(statement.when)));
  const whole = store.and([...model.domain.map(compile), ...never]);
  const node = decide(store, whether(whole), forest<number>(String, spend), spend);
  const lasting = forest<number>(String, unlimited);
  return { node: mapLeaves(node, lasting, (flag) => flag), forest: lasting };
}

function weightOn(weights: readonly bigint[] | undefined, span: Span): bigint {
  if (!weights) return BigInt(count(span));
  let total = 0n;
  for (let i = 0; i < span.length; i += 2) for (let at = span[i]!; at <= span[i + 1]!; at++) total += weights[at]!;
  return total;
}

/** Nodes where `node` matters and a point is possible; leaf `undefined` where it is not. */
export function amongPossible<L>(answers: Answers, node: Node<L>, keyOf: (leaf: L) => string, spend: Budget): Node<L | undefined> {
  const target = forest<L | undefined>((leaf) => (leaf === undefined ? "impossible" : keyOf(leaf)), spend);
  const gate = answers.model.axes.length + answers.model.picks.length;
  const variables: Variables = { ...answers.variables, size: (variable) => (variable === gate ? 2 : answers.variables.size(variable)) };
  const copy = mapLeaves<L, L | undefined>(node, target, (leaf) => leaf);
  return compose(target.fork(gate, [1, 1], copy, target.leaf(undefined)), target, new Map([[gate, answers.possible]]), variables);
}

/** Exact weight of each leaf among all possible points, and their total, which is never 0 where anything is possible. */
export function sharesOf<L>(
  answers: Answers,
  node: Node<L>,
  keyOf: (leaf: L) => string,
  spend: Budget,
  box: Box = new Map(),
): { readonly weights: ReadonlyMap<L, bigint>; readonly total: bigint } {
  return weighedAmong(answers, amongPossible(answers, node, keyOf, spend), spend, box);
}

/** The same of a diagram that says `undefined` where a point is impossible. */
export function weighedAmong<L>(
  answers: Answers,
  among: Node<L | undefined>,
  spend: Budget,
  box: Box = new Map(),
): { readonly weights: ReadonlyMap<L, bigint>; readonly total: bigint } {
  const measure = (variables: Variables): ReadonlyMap<L, bigint> =>
    new Map(
      [...weigher<L | undefined>(variables, box, spend).weigh(among, among.support)].flatMap(([leaf, weight]) =>
        leaf === undefined || weight === 0n ? [] : [[leaf, weight]],
      ),
    );
  const sum = (weights: ReadonlyMap<L, bigint>): bigint => [...weights.values()].reduce((total, weight) => total + weight, 0n);
  let weights = measure(answers.variables);
  if (sum(weights) === 0n) {
    const { variables, leading } = singles(answers.model, answers.variables);
    weights = leading(measure(variables));
  }
  return { weights, total: sum(weights) };
}

/** Something that must hold of a point: the diagram's leaf there is wanted. */
interface Demand {
  readonly node: Node<number>;
  readonly forest: Forest<number>;
  readonly wanted: ReadonlySet<number>;
}

/** A box over the axes in which every demand holds and every point is possible; undefined if there is none. */
export function findPossible(answers: Answers, local: Box, spend: Budget): Box | undefined {
  const axes = answers.model.axes.length;
  const demands: Demand[] = [{ ...answers.possible, wanted: new Set([1]) }];
  const box = new Map<number, Span>();
  for (const [variable, span] of local) {
    if (variable < axes) box.set(variable, span);
    else {
      const { frontDiagram, fronts } = answers.picks[variable - axes]!;
      demands.push({ ...frontDiagram, wanted: new Set(fronts.map((_, at) => at).filter((at) => holds(span, at))) });
    }
  }
  const narrow = ({ node, forest, wanted }: Demand): Demand => {
    for (const [variable, span] of box) node = forest.restrict(node, variable, span);
    return { node, forest, wanted };
  };
  return search(answers, demands.map(narrow), box, spend);
}

/** `dead`: what is known to hold no such point. */
function search(answers: Answers, demands: readonly Demand[], box: Box, spend: Budget, dead = new Set<string>()): Box | undefined {
  spend.spend();
  if (demands.some(({ node, wanted }) => !reaches(node, (leaf) => wanted.has(leaf)))) return undefined;
  const first = demands.find((demand) => isFork(demand.node))?.node;
  if (!first || !isFork(first)) return box;
  // The limits so far matter to whatever still tests their variable.
  let key = demands.map(({ node }) => node.id).join("|");
  for (const [variable, span] of box)
    if (demands.some(({ node }) => node.support.includes(variable))) key += `#${variable}:${spanKey(span)}`;
  if (dead.has(key)) return undefined;
  const { variable, inside } = first;
  const domain = box.get(variable) ?? [0, answers.variables.size(variable) - 1];
  for (const side of preferred(answers, variable, [intersect(domain, inside), subtract(domain, inside)])) {
    const found = search(
      answers,
      demands.map((demand) => ({ ...demand, node: demand.forest.restrict(demand.node, variable, side) })),
      new Map(box).set(variable, side),
      spend,
      dead,
    );
    if (found) return found;
  }
  dead.add(key);
  return undefined;
}

/** Sides worth trying, those with some weight first: an example should be a day one can picture. */
function preferred(answers: Answers, variable: number, sides: readonly Span[]): readonly Span[] {
  return sides
    .filter((side) => !isEmpty(side))
    .sort((a, b) => Number(answers.variables.weight(variable, a) === 0n) - Number(answers.variables.weight(variable, b) === 0n));
}

/** A point in a box over the axes, as ordinary as can be: few set members, the middle of a stretch. */
export function pointIn(answers: Answers, box: Box): Point {
  return answers.model.axes.map((axis) => {
    const span = box.get(axis.index) ?? [0, axis.size - 1];
    if (axis.member !== undefined) return span[0]!;
    return middleOf(axis.weights, span);
  });
}

function middleOf(weights: readonly bigint[] | undefined, span: Span): number {
  let from = span[0]!;
  let to = span[1]!;
  for (let i = 2; i < span.length; i += 2) if (span[i + 1]! - span[i]! > to - from) [from, to] = [span[i]!, span[i + 1]!];
  const middle = (from + to) >> 1;
  // Of a continuous measure, an open stretch rather than a single value wherever there is one.
  if (weights?.[middle] === 0n) {
    if (middle < to) return middle + 1;
    if (middle > from) return middle - 1;
  }
  return middle;
}
