/**
 * Box splitting: finds out, box by box, what a set of formulas adds up to.
 *
 *      whole space ──split on the cut that settles most──▶ two boxes ──▶ … ──▶ `settle` names the leaf
 *
 * The caller's `settle` looks at which values each formula may still have and either names the answer, or says which formulas still
 * matter and which to split on. What is left of the formulas that matter names the sub-problem, so equal sub-problems are solved once.
 * Free-order splitting stays small on sparse rules of thumb where one fixed-order diagram does not; the choice of cut follows the
 * k-d tree's: the fewest open formulas on both sides together, evenly shared.
 */
import { intersect, isEmpty, same, spanKey, subtract, union, within, type Span } from "../model/span.js";
import type { Budget } from "./budget.js";
import type { Forest, Node } from "./diagram.js";
import { FAILS, HOLDS, maskWithin, oneBit, type Formula, type Formulas, type Mask, type Quarters } from "./formula.js";

export type Settled<L> =
  | { readonly leaf: L }
  | {
      /** Indexes of formulas that can still change the answer anywhere inside this box; the others are dropped for good. */
      readonly keep: readonly number[];
      /** Those of them to split on now; none of one value. */
      readonly ask: readonly number[];
      /** What the settled formulas among `keep` add up to. */
      readonly signature: string;
    };

export interface Question<L> {
  readonly formulas: readonly Formula[];
  /** `mask(i)`: the values formula i may still have; 0 once dropped. */
  settle(mask: (index: number) => Mask): Settled<L>;
}

/** Whether one formula holds: 1 where it does, 0 where it fails or is unsettled. */
export function whether(formula: Formula): Question<number> {
  return {
    formulas: [formula],
    settle: (mask) => (oneBit(mask(0)) ? { leaf: mask(0) === HOLDS ? 1 : 0 } : { keep: [0], ask: [0], signature: "" }),
  };
}

export function decide<L>(store: Formulas, question: Question<L>, forest: Forest<L>, budget: Budget): Node<L> {
  const done = new Map<string, Node<L>>();
  // A state: what is left of each formula by index; undefined once dropped.
  const solve = (state: readonly (Formula | undefined)[]): Node<L> => {
    const settled = question.settle((index) => (state[index] === undefined ? 0 : store.mask(state[index]!)));
    if ("leaf" in settled) return forest.leaf(settled.leaf);
    budget.spend();
    const kept: (Formula | undefined)[] = new Array(state.length).fill(undefined);
    let key = settled.signature;
    for (const index of settled.keep) {
      kept[index] = state[index];
      if (!oneBit(store.mask(state[index]!))) key += `,${index}=${state[index]}`;
    }
    let node = done.get(key);
    if (!node) {
      const cut = bestCut(store, settled.ask.map((index) => state[index]!), settled.keep.map((index) => state[index]!));
      const side = (inside: Span): Node<L> => solve(kept.map((formula) => formula === undefined ? undefined : store.restrict(formula, cut.variable, inside)));
      node = forest.fork(cut.variable, cut.inside, side(cut.inside), side(cut.outside));
      done.set(key, node);
    }
    return node;
  };
  return solve(question.formulas);
}

/** Some leaf that is wanted, and the box in which it was found; undefined if there is none. Splits no further than needed. */
export function findBox<L>(store: Formulas, question: Question<L>, wanted: (leaf: L, box: ReadonlyMap<number, Span>) => boolean, budget: Budget): { readonly leaf: L; readonly box: ReadonlyMap<number, Span> } | undefined {
  const solve = (state: readonly (Formula | undefined)[], box: ReadonlyMap<number, Span>): { readonly leaf: L; readonly box: ReadonlyMap<number, Span> } | undefined => {
    const settled = question.settle((index) => (state[index] === undefined ? 0 : store.mask(state[index]!)));
    if ("leaf" in settled) return wanted(settled.leaf, box) ? { leaf: settled.leaf, box } : undefined;
    budget.spend();
    const kept: (Formula | undefined)[] = new Array(state.length).fill(undefined);
    for (const index of settled.keep) kept[index] = state[index];
    const cut = bestCut(store, settled.ask.map((index) => state[index]!), settled.keep.map((index) => state[index]!));
    for (const inside of [cut.inside, cut.outside]) {
      const found = solve(kept.map((formula) => formula === undefined ? undefined : store.restrict(formula, cut.variable, inside)), new Map(box).set(cut.variable, inside));
      if (found) return found;
    }
    return undefined;
  };
  // Nothing is remembered from box to box, so nothing of what came up need be kept.
  return store.passing(() => solve(question.formulas, new Map()));
}

export interface Cut {
  readonly variable: number;
  readonly inside: Span;
  readonly outside: Span;
}

/** Where many formulas mention a variable, its candidates are thinned evenly: on a column of thousands of limits any near-middle one will do. */
const WORK_PER_VARIABLE = 800;
const FEWEST_CANDIDATES = 5;

function bestCut(store: Formulas, ask: readonly Formula[], all: readonly Formula[]): Cut {
  const candidates = new Map<number, Map<string, Cut>>();
  for (const formula of new Set(ask))
    for (const { variable, cuts } of sketchOf(store, formula)) {
      const known = candidates.get(variable);
      if (!known) candidates.set(variable, new Map(cuts));
      else for (const [key, cut] of cuts) known.set(key, cut);
    }
  const mentions = new Map<number, Sketch[]>();
  let open = 0;
  for (const formula of new Set(all)) {
    if (oneBit(store.mask(formula))) continue;
    open++;
    for (const sketch of sketchOf(store, formula)) {
      const list = mentions.get(sketch.variable);
      if (list) list.push(sketch);
      else mentions.set(sketch.variable, [sketch]);
    }
  }
  let best: Cut | undefined;
  let bestScore = Infinity;
  for (const [variable, cuts] of candidates) {
    const list = mentions.get(variable)!;
    const silent = open - list.length;
    for (const cut of thinned([...cuts.values()], Math.max(FEWEST_CANDIDATES, Math.floor(WORK_PER_VARIABLE / list.length)))) {
      const left = silent + stillOpen(list, cut.inside);
      const right = silent + stillOpen(list, cut.outside);
      const score = left * left + right * right;
      if (score < bestScore) {
        bestScore = score;
        best = cut;
      }
    }
  }
  return best!;
}

/** One mention of a variable in a formula: the atom's quarters, the values that alone would settle the formula, the ways to cut along the edges. */
export interface Sketch {
  readonly variable: number;
  readonly quarters: Quarters;
  readonly settling: Mask;
  readonly cuts: ReadonlyMap<string, Cut>;
}

/** The mentions of a formula; those of an atom are shared by all formulas it stands in. */
function sketchOf(store: Formulas, formula: Formula): readonly Sketch[] {
  return store.sketch(formula, () => {
    const { kind, parts } = store.shape(formula);
    if (kind === "atom") return atomSketch(store, formula, 15);
    const settling = kind === "and" ? FAILS : HOLDS;
    return parts.flatMap((part) => (store.shape(part).kind === "atom" ? atomSketch(store, part, settling) : sketchOf(store, part).map(unsettling)));
  });
}

function atomSketch(store: Formulas, atom: Formula, settling: Mask): readonly Sketch[] {
  const [variable, quarters] = [store.support(atom)[0]!, store.quarters(atom)];
  const cuts = store.cuts(atom, () => {
    const domain = quarters.reduce(union);
    const found = new Map<string, Cut>();
    for (const quarter of quarters) for (const inside of cutsAlong(quarter, domain)) found.set(spanKey(inside), { variable, inside, outside: subtract(domain, inside) });
    return found;
  });
  return [{ variable, quarters, settling, cuts }];
}

function unsettling(sketch: Sketch): Sketch {
  return { ...sketch, settling: 0 };
}

function stillOpen(list: readonly Sketch[], inside: Span): number {
  let total = 0;
  for (const { quarters, settling } of list) {
    const mask = maskWithin(quarters, inside);
    if (!oneBit(mask)) total++;
    else if ((mask & settling) === 0) total += 0.75;
  }
  return total;
}

/** Ways to cut a domain in two along the edges of a span: below each edge, or the span itself where it is scattered. */
function* cutsAlong(span: Span, domain: Span): Generator<Span> {
  if (isEmpty(span) || same(span, domain)) return;
  if (span.length > 2) yield span;
  for (let i = 0; i < span.length; i += 2)
    for (const edge of [span[i]! - 1, span[i + 1]!]) {
      const below = intersect(domain, [domain[0]!, edge]);
      if (!isEmpty(below) && !within(domain, below)) yield below;
    }
}

function thinned(cuts: readonly Cut[], most: number): readonly Cut[] {
  if (cuts.length <= most) return cuts;
  const sorted = [...cuts].sort((a, b) => a.inside.at(-1)! - b.inside.at(-1)!);
  return Array.from({ length: most }, (_, i) => sorted[Math.floor(((i + 0.5) * sorted.length) / most)]!);
}
