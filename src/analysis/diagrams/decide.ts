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
import { isEmpty, type Span } from "../../model/span.js";
import type { Budget } from "../budget.js";
import type { Box, Forest, Node } from "./diagram.js";
import { bestCut } from "./cut.js";
import { HOLDS, oneBit, type Formula, type Formulas, type Mask } from "./formula.js";

export type Settled<L> =
  | { readonly leaf: L }
  | {
      /** Rising indexes of formulas that can still change the answer anywhere inside this box; the others are dropped for good. */
      readonly keep: readonly number[];
      /** Those of them to split on now; none of one value. */
      readonly ask: readonly number[];
      /** What the settled formulas among `keep` add up to. */
      readonly signature: string;
    };

/** What is left of a question's formulas inside a box. */
interface State {
  /** Indexes of the formulas that may still matter, rising. */
  readonly live: readonly number[];
  /** The values formula i may still have; 0 once dropped. */
  mask(index: number): Mask;
}

export interface Question<L> {
  readonly formulas: readonly Formula[];
  settle(state: State): Settled<L>;
}

/** Whether one formula holds: 1 where it does, 0 where it fails or is unsettled. */
export function whether(formula: Formula): Question<number> {
  return {
    formulas: [formula],
    settle: ({ mask }) => (oneBit(mask(0)) ? { leaf: mask(0) === HOLDS ? 1 : 0 } : { keep: [0], ask: [0], signature: "" }),
  };
}

/** Whether two formulas have different values. */
export function differing(pair: readonly [Formula, Formula]): Question<boolean> {
  return {
    formulas: pair,
    settle({ mask }) {
      const open = [0, 1].filter((at) => !oneBit(mask(at)));
      if (open.length === 0) return { leaf: mask(0) !== mask(1) };
      return { keep: [0, 1], ask: open, signature: [0, 1].map((at) => (oneBit(mask(at)) ? mask(at) : "")).join(",") };
    },
  };
}

/** More indexes to keep, still rising. */
export function keeping(keep: readonly number[], more: readonly number[]): readonly number[] {
  return [...new Set([...keep, ...more])].sort((a, b) => a - b);
}

export function decide<L>(store: Formulas, question: Question<L>, forest: Forest<L>, budget: Budget): Node<L> {
  // What comes up in the boxes is needed no longer than they are.
  return store.passing(() => {
    const done = new Map<string, Node<L>>();
    const board = boardOf(store, question.formulas);
    const solve = (live: readonly number[]): Node<L> => {
      const settled = question.settle({ live, mask: board.mask });
      if ("leaf" in settled) return forest.leaf(settled.leaf);
      budget.spend(1, live.length);
      const key = settled.signature + board.key(settled.keep);
      let node = done.get(key);
      if (!node) {
        const cut = bestCut(store, board.formulas(settled.ask), board.formulas(settled.keep));
        budget.spend(0, cut.cost);
        const side = (inside: Span): Node<L> => board.inside(live, settled.keep, cut.variable, inside, () => solve(settled.keep));
        node = forest.fork(cut.variable, cut.inside, side(cut.inside), side(cut.outside));
        done.set(key, node);
      }
      return node;
    };
    return solve(question.formulas.map((_, i) => i));
  });
}

/**
 * Some leaf that is wanted, and the box inside `place` in which it was found, of those that `there` is true of; undefined if there is none.
 * Splits no further than needed.
 */
export function findBox<L>(
  store: Formulas,
  question: Question<L>,
  wanted: (leaf: L) => boolean,
  budget: Budget,
  place: Box = new Map(),
  there: (box: Box) => boolean = () => true,
): { readonly leaf: L; readonly box: Box } | undefined {
  if ([...place.values()].some(isEmpty)) return undefined;
  return store.passing(() => {
    const board = boardOf(
      store,
      question.formulas.map((formula) => store.narrow(formula, place)),
    );
    /** What has no wanted leaf, whichever box it comes up in. */
    const hopeless = new Set<string>();
    let met = 0;
    const solve = (live: readonly number[], box: Box): { readonly leaf: L; readonly box: Box } | undefined => {
      const settled = question.settle({ live, mask: board.mask });
      if ("leaf" in settled) {
        if (!wanted(settled.leaf)) return undefined;
        met++;
        return there(box) ? { leaf: settled.leaf, box } : undefined;
      }
      const key = settled.signature + board.key(settled.keep);
      if (hopeless.has(key)) return undefined;
      const before = met;
      const cut = bestCut(store, board.formulas(settled.ask), board.formulas(settled.keep));
      budget.spend(1, live.length + cut.cost);
      for (const inside of [cut.inside, cut.outside]) {
        const found = board.inside(live, settled.keep, cut.variable, inside, () =>
          solve(settled.keep, new Map(box).set(cut.variable, inside)),
        );
        if (found) return found;
      }
      if (met === before) hopeless.add(key);
      return undefined;
    };
    return solve(
      question.formulas.map((_, i) => i),
      place,
    );
  });
}

/** The formulas as they stand in the box where the work is: changed on the way in, put back on the way out. */
function boardOf(store: Formulas, formulas: readonly Formula[]) {
  const left = [...formulas];
  return {
    mask: (index: number): Mask => store.mask(left[index]!),
    formulas: (indexes: readonly number[]): readonly Formula[] => indexes.map((index) => left[index]!),
    /** Equal where equal things are left. */
    key(keep: readonly number[]): string {
      let key = "";
      for (const index of keep) if (!oneBit(store.mask(left[index]!))) key += `,${index}=${left[index]}`;
      return key;
    },
    inside<T>(live: readonly number[], keep: readonly number[], variable: number, inside: Span, work: () => T): T {
      const before = live.map((index) => left[index]!);
      const kept = keep.map((index) => store.restrict(left[index]!, variable, inside));
      for (const index of live) left[index] = store.nothing;
      keep.forEach((index, i) => (left[index] = kept[i]!));
      const result = work();
      live.forEach((index, i) => (left[index] = before[i]!));
      return result;
    },
  };
}
