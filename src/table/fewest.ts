/**
 * The fewest rows that can be found: a tree of splits, made simpler; and where the whole table is small, a search for anything better.
 *
 * A tree always parts the whole table on some condition first, and the best table need not:
 *
 *     a a b        Four boxes of two cells wind round the middle one: 5 rows,
 *     d e b        though any first cut, up or across, goes through a box
 *     d c c        and makes it two: 6 rows and more.
 *
 * The search is exact cover by branch and bound (Knuth 2000 for the first, Land and Doig 1960 for the second): take a cell nothing
 * covers yet, try every box that may hold it. Cells of which no two fit in one box say how many rows are needed at least.
 */
import { budget, piecesWithin, toTheEnd, type Budget } from "../analysis/budget.js";
import { boxes, lookup, type Box } from "../analysis/diagrams/diagram.js";
import { union, type Span } from "../model/span.js";
import { makingFewer } from "./fewer.js";
import { togetherKey, type Joint, type Together } from "../answer/joint.js";
import { classesOf } from "../analysis/diagrams/classes.js";
import { splitting, type Piece } from "./split.js";

/** The search is for tables of at most so many cells, and boxes within them, and ends after so many steps. */
const MOST_CELLS = 256;
const MOST_BOXES = 12_000;
const SEARCH_STEPS = 60_000;

/** A tree that takes more steps than this would not be a short table either; the diagram's own boxes then have to do. */
const TREE_STEPS = 6_000;

/** Disjoint pieces, one answer each, that together hold every possible point; undefined if more than `most` are found. Throws `OutOfBudget`. */
export function fewestRows(joint: Joint, most: number, spend: Budget): readonly Piece[] | undefined {
  return toTheEnd(findingFewest(joint, most, spend));
}

/** The same, in short pieces of work. */
export function* findingFewest(joint: Joint, most: number, spend: Budget): Generator<void, readonly Piece[] | undefined> {
  const tree = (yield* piecesWithin(splitting(joint, most, budget(TREE_STEPS)))) ?? [];
  const drawn = asDrawn(joint, tree.length > 0 ? 2 * tree.length + 16 : 2 * most);
  let best: readonly Piece[] | undefined;
  for (const pieces of [tree, drawn]) {
    if (pieces.length === 0) continue;
    const made = yield* makingFewer(pieces, joint.variables, spend);
    if (!best || cost(made) < cost(best)) best = made;
  }
  if (!best) return undefined;
  const better = yield* searching(joint, best.length);
  const rows = better ? yield* makingFewer(better, joint.variables, spend) : best;
  return rows.length <= most ? rows : undefined;
}

/** Rows first, then how much there is to read. */
function cost(pieces: readonly Piece[]): number {
  const words = pieces.reduce((sum, { box }) => sum + [...box.values()].reduce((inner, span) => inner + span.length / 2, 0), 0);
  return pieces.length + words / 1e6;
}

/** The diagram's own boxes; none if there are more than `most`. */
function asDrawn(joint: Joint, most: number): readonly Piece[] {
  const pieces: Piece[] = [];
  for (const { box, leaf } of boxes<Together>(joint.node, joint.variables, (leaf) => leaf !== undefined)) {
    pieces.push({ box, outcomes: leaf! });
    if (pieces.length > most) return [];
  }
  return pieces;
}

interface Grid {
  readonly variables: readonly number[];
  /** Per variable the classes of its positions. */
  readonly classes: readonly (readonly Span[])[];
  /** Per cell: its class on each variable, and what is answered there. */
  readonly cells: readonly (readonly number[])[];
  readonly leaves: readonly Together[];
}

/** Fewer pieces than `beat`, if the search finds them. */
function* searching(joint: Joint, beat: number): Generator<void, readonly Piece[] | undefined> {
  const grid = gridOf(joint);
  const candidates = grid && (yield* uniformBoxes(grid));
  if (!grid || !candidates || candidates.length > MOST_BOXES) return undefined;
  return (yield* exactCover(grid, candidates, beat))?.map(({ sides, leaf }): Piece => ({
    box: new Map(
      grid.variables.map((variable, i): [number, Span] => [
        variable,
        classesIn(sides[i]!)
          .map((at) => grid.classes[i]![at]!)
          .reduce(union),
      ]),
    ) satisfies Box,
    outcomes: leaf,
  }));
}

function gridOf({ node, variables }: Joint): Grid | undefined {
  const tested = node.support;
  const classes = tested.map((variable) => classesOf(node, variable, variables.size(variable)));
  if (classes.reduce((product, list) => product * list.length, 1) > MOST_CELLS) return undefined;
  const cells = classes.reduce<readonly (readonly number[])[]>(
    (some, list) => some.flatMap((cell) => list.map((_, at) => [...cell, at])),
    [[]],
  );
  const place = new Map(tested.map((variable, i) => [variable, i]));
  return {
    variables: tested,
    classes,
    cells,
    leaves: cells.map((cell) => lookup(node, (variable) => classes[place.get(variable)!]![cell[place.get(variable)!]!]![0]!)),
  };
}

/** A box of a grid: which classes on each side (a bit each), and the cells it holds (a bit each). */
interface Block {
  readonly sides: readonly number[];
  readonly cells: bigint;
  /** How many of its cells are possible. */
  readonly worth: number;
  readonly leaf: NonNullable<Together>;
}

/** Every box with one answer that is no wider than its possible cells; undefined if there are too many boxes to look at. */
function* uniformBoxes(grid: Grid): Generator<void, readonly Block[] | undefined> {
  const sideCounts = grid.classes.map((list) => 2 ** list.length - 1);
  if (sideCounts.reduce((product, count) => product * count, 1) > MOST_BOXES * 8) return undefined;
  const keys = grid.leaves.map(togetherKey);
  const found: Block[] = [];
  const widths = grid.classes.map((list) => list.length);
  const strides = widths.map((_, i) => widths.slice(i + 1).reduce((product, width) => product * width, 1));
  function* walk(sides: readonly number[]): Generator<void, void> {
    const variable = sides.length;
    if (variable < grid.variables.length) {
      for (let side = 1; side <= sideCounts[variable]!; side++) yield* walk([...sides, side]);
      return;
    }
    yield;
    let inside: readonly number[] = [0];
    sides.forEach((side, i) => (inside = inside.flatMap((at) => classesIn(side).map((place) => at + place * strides[i]!))));
    const possible = inside.filter((cell) => grid.leaves[cell] !== undefined);
    const first = possible[0];
    if (first === undefined || possible.some((cell) => keys[cell] !== keys[first])) return;
    const tight = sides.every((side, i) => possible.reduce((seen, cell) => seen | (1 << grid.cells[cell]![i]!), 0) === side);
    if (tight) found.push({ sides, cells: bits(inside), worth: possible.length, leaf: grid.leaves[first]! });
  }
  yield* walk([]);
  return found.sort((a, b) => b.worth - a.worth);
}

/** Disjoint blocks over all possible cells, fewer than `beat`. */
function* exactCover(grid: Grid, blocks: readonly Block[], beat: number): Generator<void, readonly Block[] | undefined> {
  const possible = grid.cells.flatMap((_, cell) => (grid.leaves[cell] === undefined ? [] : [cell]));
  const all = bits(possible);
  const holding = new Map<number, readonly Block[]>();
  const apart = new Map<number, bigint>();
  for (const cell of possible) {
    yield;
    const here = blocks.filter((block) => (block.cells >> BigInt(cell)) & 1n);
    holding.set(cell, here);
    apart.set(cell, all & ~here.reduce((cells, block) => cells | block.cells, 0n));
  }
  // Cells with the fewest choices first.
  const order = [...possible].sort((a, b) => holding.get(a)!.length - holding.get(b)!.length);
  const atLeast = (open: bigint): number => {
    let needed = 0;
    for (const cell of order)
      if ((open >> BigInt(cell)) & 1n) {
        needed++;
        open &= apart.get(cell)!;
      }
    return needed;
  };
  const spend = budget(SEARCH_STEPS);
  const reached = new Map<bigint, number>();
  let best: readonly Block[] | undefined;
  let fewest = beat;
  function* search(open: bigint, held: bigint, chosen: readonly Block[]): Generator<void, void> {
    if (open === 0n) {
      [best, fewest] = [chosen, chosen.length];
      return;
    }
    spend.spend(4);
    yield;
    if (chosen.length + atLeast(open) >= fewest || (reached.get(held) ?? Infinity) <= chosen.length) return;
    reached.set(held, chosen.length);
    const cell = order.find((at) => (open >> BigInt(at)) & 1n)!;
    for (const block of holding.get(cell)!) {
      spend.spend();
      if ((block.cells & held) === 0n) yield* search(open & ~block.cells, held | block.cells, [...chosen, block]);
    }
  }
  // What it has found until then counts.
  yield* piecesWithin(search(all, 0n, []));
  return best;
}

function bits(cells: readonly number[]): bigint {
  return cells.reduce((all, cell) => all | (1n << BigInt(cell)), 0n);
}

function classesIn(side: number): number[] {
  const list: number[] = [];
  for (let at = 0; side >> at; at++) if ((side >> at) & 1) list.push(at);
  return list;
}
