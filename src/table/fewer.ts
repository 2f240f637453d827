/**
 * Makes disjoint pieces fewer and simpler without changing an answer.
 *
 *     ┌───┬───┐        ┌───────┐       ┌───┐╳╳╳        ┌───────┐
 *     │ A │ A │  ──▶   │   A   │       │ A │╳╳╳  ──▶   │   A   │      ╳ impossible: nobody asks, any row may take it in
 *     └───┴───┘        └───────┘       └───┘╳╳╳        └───────┘
 *
 * A piece may grow over whatever no other piece holds (only impossible points are left over) and over pieces of its own answer that
 * then lie wholly inside it.
 */
import type { Budget } from "../analysis/budget.js";
import type { Box, Variables } from "../analysis/diagram.js";
import { count, disjoint, full, union, within, type Span } from "../model/span.js";
import { togetherKey } from "./joint.js";
import type { Piece } from "./split.js";

/** Beyond this many pieces, only whole tests are dropped, which takes fewer comparisons. */
const MOST_PAIRED = 400;

/** Throws `OutOfBudget`. */
export function fewer(pieces: readonly Piece[], sizes: Pick<Variables, "size">, spend: Budget): readonly Piece[] {
  const list = pieces.map(({ box, outcomes }) => ({ box: plain(box, sizes), outcomes, key: togetherKey(outcomes) }));
  type Held = (typeof list)[number];
  const spanOf = (box: Box, variable: number): Span => box.get(variable) ?? full(sizes.size(variable));
  const overlap = (a: Box, b: Box): boolean => [...a].every(([variable, span]) => !disjoint(span, spanOf(b, variable)));
  const inside = (a: Box, b: Box): boolean => [...b].every(([variable, span]) => within(spanOf(a, variable), span));
  // The pieces that a grown one takes in; undefined if it runs into another.
  const takenIn = (held: Held, grown: Box): readonly Held[] | undefined => {
    const taken: Held[] = [];
    for (const other of list) {
      if (other === held || !overlap(grown, other.box)) continue;
      if (other.key !== held.key || !inside(other.box, grown)) return undefined;
      taken.push(other);
    }
    return taken;
  };
  const tryGrowing = (held: Held, variable: number, span: Span): boolean => {
    spend.spend();
    const grown = plain(new Map(held.box).set(variable, span), sizes);
    const taken = takenIn(held, grown);
    if (!taken) return false;
    for (const other of taken) list.splice(list.indexOf(other), 1);
    held.box = grown;
    return true;
  };
  for (let changed = true; changed; ) {
    changed = false;
    const paired = list.length <= MOST_PAIRED;
    for (const held of [...list]) {
      if (!list.includes(held)) continue;
      for (const variable of [...held.box.keys()]) {
        if (tryGrowing(held, variable, full(sizes.size(variable)))) {
          changed = true;
          continue;
        }
        if (!paired) continue;
        for (const other of [...list]) {
          if (other === held || other.key !== held.key || !list.includes(other)) continue;
          const [mine, theirs] = [spanOf(held.box, variable), spanOf(other.box, variable)];
          if (within(theirs, mine)) continue;
          const before = list.length;
          // Growing must take something in, or it only makes a row wordier.
          const grown = plain(new Map(held.box).set(variable, union(mine, theirs)), sizes);
          if (inside(other.box, grown) && tryGrowing(held, variable, union(mine, theirs)) && list.length < before) changed = true;
        }
      }
    }
  }
  return list.map(({ box, outcomes }) => ({ box, outcomes }));
}

/** Without limits that limit nothing. */
function plain(box: Box, sizes: Pick<Variables, "size">): Box {
  return new Map([...box].filter(([variable, span]) => count(span) < sizes.size(variable)));
}
