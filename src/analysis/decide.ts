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
import { maskWithin, oneBit, type Formula, type Formulas, type Mask, type Mention } from "./formula.js";

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
  return solve(question.formulas, new Map());
}

interface Cut {
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
  const mentions = new Map<number, (readonly Mention[])[]>();
  let open = 0;
  for (const formula of new Set(all)) {
    if (oneBit(store.mask(formula))) continue;
    open++;
    for (const { variable, mentions: mine } of sketchOf(store, formula)) {
      const lists = mentions.get(variable);
      if (lists) lists.push(mine);
      else mentions.set(variable, [mine]);
    }
  }
  let best: Cut | undefined;
  let bestScore = Infinity;
  for (const [variable, cuts] of candidates) {
    const lists = mentions.get(variable)!;
    const silent = open - lists.length;
    for (const cut of thinned([...cuts.values()], Math.max(FEWEST_CANDIDATES, Math.floor(WORK_PER_VARIABLE / lists.length)))) {
      const left = silent + stillOpen(lists, cut.inside);
      const right = silent + stillOpen(lists, cut.outside);
      const score = left * left + right * right;
      if (score < bestScore) {
        bestScore = score;
        best = cut;
      }
    }
  }
  return best!;
}

/** What a formula says of one variable: its atoms there, and the ways to cut along their edges. */
interface Sketch {
  readonly variable: number;
  readonly mentions: readonly Mention[];
  readonly cuts: ReadonlyMap<string, Cut>;
}
const sketches = new WeakMap<Formulas, Map<Formula, readonly Sketch[]>>();

function sketchOf(store: Formulas, formula: Formula): readonly Sketch[] {
  let known = sketches.get(store);
  if (!known) sketches.set(store, (known = new Map()));
  let sketch = known.get(formula);
  if (!sketch) {
    const byVariable = new Map<number, Mention[]>();
    for (const mention of store.mentions(formula)) byVariable.set(mention.variable, [...(byVariable.get(mention.variable) ?? []), mention]);
    sketch = [...byVariable].map(([variable, mentions]) => {
      const cuts = new Map<string, Cut>();
      const domain = mentions[0]!.quarters.reduce(union);
      for (const { quarters } of mentions)
        for (const quarter of quarters)
          for (const inside of cutsAlong(quarter, domain)) cuts.set(spanKey(inside), { variable, inside, outside: subtract(domain, inside) });
      return { variable, mentions, cuts };
    });
    known.set(formula, sketch);
  }
  return sketch;
}

function stillOpen(lists: readonly (readonly Mention[])[], inside: Span): number {
  let total = 0;
  for (const list of lists) {
    let settled = false;
    let progress = 0;
    for (const { quarters, settling } of list) {
      const mask = maskWithin(quarters, inside);
      if (oneBit(mask)) {
        progress += 0.25;
        if (mask & settling) settled = true;
      }
    }
    if (!settled) total += 1 - Math.min(0.5, progress);
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
