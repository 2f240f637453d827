/**
 * Makes disjoint pieces fewer and simpler without changing an answer.
 *
 *     ┌───┬───┐        ┌───────┐       ┌───┐╳╳╳        ┌───────┐
 *     │ A │ A │  ──▶   │   A   │       │ A │╳╳╳  ──▶   │   A   │      ╳ impossible: nobody asks, any row may take it in
 *     └───┴───┘        └───────┘       └───┘╳╳╳        └───────┘
 *
 * A piece may grow over whatever no other piece holds (only impossible points are left over) and over pieces of its own answer that
 * then lie wholly inside it; and pieces of one answer that differ in one variable only are united.
 */
import type { Budget } from "../analysis/budget.js";
import type { Box, Variables } from "../analysis/diagrams/diagram.js";
import { mergedBoxes } from "../analysis/diagrams/region.js";
import { count, disjoint, full, spanKey, union, within, type Span } from "../model/span.js";
import { togetherKey } from "../answer/joint.js";
import type { Piece } from "./split.js";

/** Growing compares every piece with every other: beyond this many pieces they are only united. */
const MOST_GROWN = 500;

/** In short pieces of work. Throws `OutOfBudget`. */
export function* makingFewer(pieces: readonly Piece[], sizes: Pick<Variables, "size">, spend: Budget): Generator<void, readonly Piece[]> {
  // Growing first keeps a tree's rows together; uniting is what a great many pieces can afford.
  let list = pieces.length > MOST_GROWN ? united(pieces, sizes) : pieces;
  for (let before = Infinity; list.length < before && list.length <= MOST_GROWN;) {
    before = list.length;
    list = united(yield* grown(list, sizes, spend), sizes);
  }
  return list.length <= MOST_GROWN ? yield* alike(list, sizes, spend) : list;
}

function united(pieces: readonly Piece[], sizes: Pick<Variables, "size">): readonly Piece[] {
  const groups = new Map<string, Piece[]>();
  for (const piece of pieces) {
    const key = togetherKey(piece.outcomes);
    const list = groups.get(key);
    if (list) list.push(piece);
    else groups.set(key, [piece]);
  }
  return [...groups.values()].flatMap((group) =>
    mergedBoxes(
      group.map(({ box }) => plain(box, sizes)),
      sizes,
    ).map((box): Piece => ({ box, outcomes: group[0]!.outcomes })),
  );
}

function* grown(pieces: readonly Piece[], sizes: Pick<Variables, "size">, spend: Budget): Generator<void, readonly Piece[]> {
  const { list, grow, inside, spanOf } = growing(pieces, sizes, spend);
  for (const held of list)
    for (const variable of held.gone ? [] : [...held.box.keys()]) {
      yield;
      if (grow(held, variable, full(sizes.size(variable)), 0)) continue;
      // Growing by a part must take something in, or it only makes a row wordier.
      for (const other of list) {
        if (other.gone || other === held || other.key !== held.key) continue;
        const [mine, theirs] = [spanOf(held.box, variable), spanOf(other.box, variable)];
        if (within(theirs, mine)) continue;
        const wider = union(mine, theirs);
        if (inside(other.box, new Map(held.box).set(variable, wider))) grow(held, variable, wider, 1);
      }
    }
  return list.filter(({ gone }) => !gone);
}

/** Where impossible points leave room, limits become those that more of the other pieces have: a chart reads better with fewer different ones. */
function* alike(pieces: readonly Piece[], sizes: Pick<Variables, "size">, spend: Budget): Generator<void, readonly Piece[]> {
  const { list, grow } = growing(pieces, sizes, spend);
  for (const variable of new Set(list.flatMap(({ box }) => [...box.keys()]))) {
    const uses = new Map<string, { readonly span: Span; count: number }>();
    for (const { box, gone } of list) {
      const span = box.get(variable);
      if (gone || !span) continue;
      const use = uses.get(spanKey(span)) ?? { span, count: 0 };
      uses.set(spanKey(span), { span, count: use.count + 1 });
    }
    const popular = [...uses.values()].sort((a, b) => b.count - a.count);
    for (const held of list) {
      yield;
      // What another has grown over must not grow over others.
      const mine = held.gone ? undefined : held.box.get(variable);
      const own = mine && uses.get(spanKey(mine))!.count;
      if (mine) popular.find(({ span, count }) => count > own! && within(mine, span) && grow(held, variable, span, 0));
    }
  }
  return list.filter(({ gone }) => !gone);
}

interface Held extends Piece {
  box: Box;
  readonly key: string;
  gone: boolean;
}
interface Growing {
  readonly list: readonly Held[];
  readonly spanOf: (box: Box, variable: number) => Span;
  readonly inside: (a: Box, b: Box) => boolean;
  /** Whatever the grown piece then holds goes; false if it runs into another, or takes in fewer than it must. */
  readonly grow: (held: Held, variable: number, span: Span, atLeast: number) => boolean;
}

function growing(pieces: readonly Piece[], sizes: Pick<Variables, "size">, spend: Budget): Growing {
  const list = pieces.map(({ box, outcomes }): Held => ({ box: plain(box, sizes), outcomes, key: togetherKey(outcomes), gone: false }));
  const spanOf = (box: Box, variable: number): Span => box.get(variable) ?? full(sizes.size(variable));
  const overlap = (a: Box, b: Box): boolean => {
    for (const [variable, span] of a) {
      const other = b.get(variable);
      if (other && disjoint(span, other)) return false;
    }
    return true;
  };
  const inside = (a: Box, b: Box): boolean => [...b].every(([variable, span]) => within(spanOf(a, variable), span));
  const grow = (held: Held, variable: number, span: Span, atLeast: number): boolean => {
    spend.spend();
    const box = plain(new Map(held.box).set(variable, span), sizes);
    const taken: Held[] = [];
    for (const other of list) {
      if (other.gone || other === held || !overlap(box, other.box)) continue;
      if (other.key !== held.key || !inside(other.box, box)) return false;
      taken.push(other);
    }
    if (taken.length < atLeast) return false;
    for (const other of taken) other.gone = true;
    held.box = box;
    return true;
  };
  return { list, spanOf, inside, grow };
}

/** Without limits that limit nothing. */
function plain(box: Box, sizes: Pick<Variables, "size">): Box {
  return new Map([...box].filter(([variable, span]) => count(span) < sizes.size(variable)));
}
