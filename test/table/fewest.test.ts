/**
 * How few rows the table gets: against published minima, and against an exhaustive search of its own on small random tables.
 */
import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { budget } from "../../src/analysis/budget.js";
import { forest, type Node, type Variables } from "../../src/analysis/diagrams/diagram.js";
import { count, holds, full } from "../../src/model/span.js";
import { fewestRows } from "../../src/table/fewest.js";
import { togetherKey, type Joint, type Together } from "../../src/answer/joint.js";
import type { Piece } from "../../src/table/split.js";

/** A table of given sides; one letter per cell, last side fastest; "." cannot occur. */
function jointOf(sides: readonly number[], letters: string): Joint {
  const spend = budget(1_000_000);
  const made = forest<Together>(togetherKey, spend);
  const variables: Variables = { size: (variable) => sides[variable]!, weight: (_, span) => BigInt(count(span)) };
  const leaf = (letter: string): Node<Together> =>
    made.leaf(letter === "." ? undefined : [{ status: "decided", places: [[letter.charCodeAt(0)]] }]);
  const build = (variable: number, at: number): Node<Together> => {
    if (variable === sides.length) return leaf(letters[at]!);
    let node = build(variable + 1, at * sides[variable]! + sides[variable]! - 1);
    for (let position = sides[variable]! - 2; position >= 0; position--)
      node = made.fork(variable, [position, position], build(variable + 1, at * sides[variable]! + position), node);
    return node;
  };
  return { node: build(0, 0), forest: made, variables };
}

function rowsFor(sides: readonly number[], letters: string): readonly Piece[] {
  return fewestRows(jointOf(sides, letters), 5000, budget(1_000_000))!;
}

function cellsOf(sides: readonly number[]): readonly (readonly number[])[] {
  return sides.reduce<readonly (readonly number[])[]>(
    (cells, side) => cells.flatMap((cell) => Array.from({ length: side }, (_, at) => [...cell, at])),
    [[]],
  );
}

/** The fewest disjoint boxes, each of one letter, over all cells that can occur: every way is tried, with ever more boxes. */
function fewestByTrying(sides: readonly number[], letters: string): number {
  const cells = cellsOf(sides);
  const boxes = sides
    .reduce<readonly (readonly number[])[]>(
      (some, side) => some.flatMap((box) => Array.from({ length: 2 ** side - 1 }, (_, at) => [...box, at + 1])),
      [[]],
    )
    .map((box) => cells.flatMap((cell, index) => (cell.every((position, i) => (box[i]! >> position) & 1) ? [index] : [])))
    .filter((inside) => new Set(inside.map((cell) => letters[cell]).filter((letter) => letter !== ".")).size === 1);
  const covers = (left: number, taken: ReadonlySet<number>): boolean => {
    const open = cells.findIndex((_, cell) => letters[cell] !== "." && !taken.has(cell));
    if (open < 0) return true;
    return (
      left > 0 &&
      boxes.some((box) => box.includes(open) && !box.some((cell) => taken.has(cell)) && covers(left - 1, new Set([...taken, ...box])))
    );
  };
  let rows = new Set([...letters].filter((letter) => letter !== ".")).size;
  while (!covers(rows, new Set())) rows++;
  return rows;
}

/** Ones, and what cannot occur, of a function of yes/no variables: "Σ(4,5,6) + d(0,7)". */
function boolean(variables: number, ones: readonly number[], never: readonly number[] = []): string {
  return Array.from({ length: 2 ** variables }, (_, at) => (never.includes(at) ? "." : ones.includes(at) ? "1" : "0")).join("");
}
const yesNo = (variables: number): readonly number[] => new Array<number>(variables).fill(2);
const answering = (rows: readonly Piece[], letter: string): number =>
  rows.filter(({ outcomes }) => outcomes[0]!.places[0]![0] === letter.charCodeAt(0)).length;

describe("published minima", () => {
  // Minimal sums of products with known minima, exhaustively recomputed: disjoint rows for the ones can be no fewer.
  test.each([
    [4, [4, 5, 6, 8, 9, 10, 13], [0, 7, 15], 3],
    [4, [0, 1, 2, 3, 5, 7, 8, 10, 14, 15], [], 3],
    [4, [4, 8, 10, 11, 12, 15], [9, 14], 3],
    [3, [1, 2, 3, 4, 5, 6], [], 3],
    [4, Array.from({ length: 16 }, (_, at) => at).filter((at) => [...at.toString(2)].filter((bit) => bit === "1").length % 2 === 1), [], 8],
  ])("over %i variables, ones %j, never %j: at least %i rows for the ones, and no row to spare", (variables, ones, never, terms) => {
    const letters = boolean(variables, ones, never);
    const rows = rowsFor(yesNo(variables), letters);
    expect(answering(rows, "1")).toBeGreaterThanOrEqual(terms);
    expect(rows.length).toBe(fewestByTrying(yesNo(variables), letters));
  });

  test("the six ones of three variables wind round the diagonal: three disjoint rows, as no tree has them", () => {
    const rows = rowsFor(yesNo(3), boolean(3, [1, 2, 3, 4, 5, 6]));
    expect([answering(rows, "1"), rows.length]).toEqual([3, 5]);
  });
});

describe("on random small tables", () => {
  const shapes = fc.constantFrom([2, 2, 2, 2], [4, 3], [3, 2, 2], [3, 3, 2], [5, 2], [2, 2, 2]);
  const tables = shapes
    .chain((sides) => {
      const cells = sides.reduce<number>((product, side) => product * side, 1);
      return fc.record({
        sides: fc.constant(sides),
        letters: fc.array(fc.constantFrom(..."aaabb."), { minLength: cells, maxLength: cells }).map((list) => list.join("")),
      });
    })
    .filter(({ letters }) => /[ab]/.test(letters));

  test("there are as few rows as any table has", { timeout: 120_000 }, () => {
    fc.assert(
      fc.property(tables, ({ sides, letters }) => {
        expect(rowsFor(sides, letters).length).toBe(fewestByTrying(sides, letters));
      }),
      { numRuns: 150 },
    );
  });

  test("rows are disjoint, and say what the table says wherever it can occur", () => {
    fc.assert(
      fc.property(tables, ({ sides, letters }) => {
        const rows = rowsFor(sides, letters);
        cellsOf(sides).forEach((cell, index) => {
          const here = rows.filter(({ box }) =>
            cell.every((position, variable) => holds(box.get(variable) ?? full(sides[variable]!), position)),
          );
          expect(here.length).toBeLessThanOrEqual(1);
          if (letters[index] !== ".") expect(here[0]?.outcomes[0]!.places[0]![0]).toBe(letters.charCodeAt(index));
        });
      }),
      { numRuns: 300 },
    );
  });
});
