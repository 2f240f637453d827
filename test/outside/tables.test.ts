/**
 * How few rows the table compiler needs, against published minima and against a general logic minimizer.
 *
 * What is published are minimal sums of products: the fewest boxes that TOGETHER cover the ones; boxes may overlap, and the zeros are
 * nobody's concern. Our rows are disjoint and cover the zeros too. So three counts stand side by side:
 *
 *     fewest boxes over the ones      published; here also by exhaustive search and by ESPRESSO (Brayton et al. 1984, npm
 *     (overlap allowed)               `kuzzle-espresso-logic-minimizer`), which is a heuristic
 *              ≤
 *     fewest disjoint boxes over      the best any table of ours could do: by exhaustive search
 *     ones and zeros
 *              ≤
 *     rows of the compiled table      from the text of a book, one pattern per cell; cells that do not matter are `impossible`
 *
 * The rows are expected to equal the middle count; their ratio to the minimizer's boxes says what being disjoint costs.
 */
import * as fc from "fast-check";
import { createRequire } from "node:module";
import { describe, expect, test } from "vitest";
import { answers } from "../../src/analysis/answers.js";
import { compile, type Table } from "../../src/table/compile.js";
import { outcomeAt } from "../table/rows.js";
import { disjoint } from "../../src/model/span.js";
import { read } from "../law/reading.js";

const { minimize } = createRequire(import.meta.url)("kuzzle-espresso-logic-minimizer") as {
  minimize(lines: readonly string[]): readonly string[];
};

/** What is answered in each cell, last side fastest; "." cannot occur. */
interface Grid {
  readonly sides: readonly number[];
  readonly letters: string;
}

function boolean(variables: number, ones: readonly number[], never: readonly number[] = []): Grid {
  const letters = Array.from({ length: 2 ** variables }, (_, at) => (never.includes(at) ? "." : ones.includes(at) ? "y" : "n")).join("");
  return { sides: new Array<number>(variables).fill(2), letters };
}

function cellsOf({ sides }: Grid): readonly (readonly number[])[] {
  return sides.reduce<readonly (readonly number[])[]>(
    (cells, side) => cells.flatMap((cell) => Array.from({ length: side }, (_, at) => [...cell, at])),
    [[]],
  );
}

function lettersOf({ letters }: Grid): readonly string[] {
  return [...new Set(letters)].filter((letter) => letter !== ".");
}

// The table ------------------------------------------------------------------------------------------------------------------

function tableOf(grid: Grid): Table {
  const name = (variable: number): string => `c${variable}`;
  const test = (cell: readonly number[]): string => cell.map((at, variable) => `${name(variable)} is l${at}`).join(" and ");
  const lines = [
    'book "A table"',
    ...grid.sides.map((side, variable) => `condition ${name(variable)}: ${Array.from({ length: side }, (_, at) => `l${at}`).join(", ")}`),
    `pick act: ${lettersOf(grid)
      .map((letter) => `act-${letter}`)
      .join(", ")}, never-said`,
    ...cellsOf(grid).map((cell, at) =>
      grid.letters[at] === "."
        ? `impossible when ${test(cell)} because "does not matter"`
        : `pattern "Cell ${at}" go with act act-${grid.letters[at]!} when ${test(cell)}`,
    ),
  ];
  const { model, faults } = read({ "book.lore": `${lines.join("\n")}\n` }, "book.lore");
  expect(faults).toEqual([]);
  const compiled = compile(answers(model, { steps: 400_000 }));
  if ("problem" in compiled) throw new Error(compiled.problem);
  const { table } = compiled;
  cellsOf(grid).forEach((cell, at) => {
    if (grid.letters[at] !== ".")
      expect(model.picks[0]!.options[outcomeAt(table, cell, 0)!.places[0]![0]!]!.text).toBe(`act-${grid.letters[at]!}`);
  });
  for (const [i, { box }] of table.rows.entries())
    for (const other of table.rows.slice(i + 1))
      expect([...box].some(([axis, span]) => disjoint(span, other.box.get(axis) ?? [0, 99]))).toBe(true);
  return table;
}

function rowsSaying(table: Table, letter: string): number {
  return table.rows.filter(({ outcomes }) => table.model.picks[0]!.options[outcomes[0]!.places[0]![0]!]!.text === `act-${letter}`).length;
}

// Exhaustive search --------------------------------------------------------------------------------------------------------------

/** Every box of the grid as a set of cells, a bit each, and what is answered in it; those with two answers are left out. */
function boxesOf(grid: Grid): readonly { readonly cells: number; readonly letter: string }[] {
  const all = cellsOf(grid);
  const sides = grid.sides.reduce<readonly (readonly number[])[]>(
    (some, side) => some.flatMap((box) => Array.from({ length: 2 ** side - 1 }, (_, at) => [...box, at + 1])),
    [[]],
  );
  return sides
    .flatMap((box) => {
      const inside = all.flatMap((cell, index) => (cell.every((at, variable) => (box[variable]! >> at) & 1) ? [index] : []));
      const letters = [...new Set(inside.map((index) => grid.letters[index]!))].filter((letter) => letter !== ".");
      return letters.length === 1 ? [{ cells: inside.reduce((bits, index) => bits | (1 << index), 0), letter: letters[0]! }] : [];
    })
    .sort((a, b) => bitCount(b.cells) - bitCount(a.cells));
}

/** The fewest boxes over the wanted cells: every way is tried, with ever more boxes. Grids of at most 30 cells. */
function fewest(grid: Grid, wanted: (letter: string) => boolean, apart: boolean): number {
  const boxes = boxesOf(grid).filter(({ letter }) => wanted(letter));
  const target = [...grid.letters].reduce((bits, letter, index) => (letter !== "." && wanted(letter) ? bits | (1 << index) : bits), 0);
  const holding = Array.from({ length: grid.letters.length }, (_, cell) => boxes.filter(({ cells }) => (cells >> cell) & 1));
  const largest = Math.max(...boxes.map(({ cells }) => bitCount(cells & target)), 1);
  const failed = new Map<number, number>();
  const covers = (left: number, open: number, taken: number): boolean => {
    if (open === 0) return true;
    if (left * largest < bitCount(open) || (failed.get(taken) ?? -1) >= left) return false;
    const choices = [...bitsIn(open)].map((cell) => holding[cell]!.filter(({ cells }) => !apart || (cells & taken) === 0));
    const fewestChoices = choices.reduce((a, b) => (b.length < a.length ? b : a));
    if (fewestChoices.some(({ cells }) => covers(left - 1, open & ~cells, taken | cells))) return true;
    failed.set(taken, left);
    return false;
  };
  let count = 0;
  while (!covers(count, target, 0)) {
    count++;
    failed.clear();
  }
  return count;
}

function bitCount(bits: number): number {
  let count = 0;
  for (let left = bits; left !== 0; left &= left - 1) count++;
  return count;
}

function* bitsIn(bits: number): Generator<number> {
  for (let at = 0; at < 31; at++) if ((bits >> at) & 1) yield at;
}

// The minimizer --------------------------------------------------------------------------------------------------------------

/** Boxes that the minimizer finds over all cells with this letter: its input is the grid in PLA form, a value per level. */
function espresso(grid: Grid, letter: string): number {
  const level = (at: number, side: number): string => Array.from({ length: side }, (_, other) => (other === at ? "1" : "0")).join("");
  const cells = cellsOf(grid).flatMap((cell, index) => {
    if (grid.letters[index] !== letter && grid.letters[index] !== ".") return [];
    return [[...cell.map((at, variable) => level(at, grid.sides[variable]!)), grid.letters[index] === letter ? "1" : "-"].join("|")];
  });
  return minimize([`.mv ${grid.sides.length + 1} 0 ${grid.sides.join(" ")} 1`, ".type fd", ...cells, ".e"]).length;
}

// The checks -----------------------------------------------------------------------------------------------------------------

describe("minimal sums of products with published minima (textbook exercises; each minimum recomputed here by exhaustive search)", () => {
  const parity = Array.from({ length: 16 }, (_, at) => at).filter((at) => bitCount(at) % 2 === 1);
  const rows: string[] = [];
  test.each([
    // Over the ones: boxes published, disjoint rows at the least; over ones and zeros: disjoint rows at the least.
    { name: "Σ(4,5,6,8,9,10,13) + d(0,7,15)", grid: boolean(4, [4, 5, 6, 8, 9, 10, 13], [0, 7, 15]), published: 3, ones: 3, all: 6 },
    { name: "Σ(0,1,2,3,5,7,8,10,14,15)", grid: boolean(4, [0, 1, 2, 3, 5, 7, 8, 10, 14, 15]), published: 3, ones: 3, all: 6 },
    { name: "Σ(4,8,10,11,12,15) + d(9,14)", grid: boolean(4, [4, 8, 10, 11, 12, 15], [9, 14]), published: 3, ones: 3, all: 6 },
    { name: "Σ(1,2,3,4,5,6), which goes round in a circle", grid: boolean(3, [1, 2, 3, 4, 5, 6]), published: 3, ones: 3, all: 5 },
    { name: "parity of four bits, of which no two ones are neighbors", grid: boolean(4, parity), published: 8, ones: 8, all: 16 },
  ])(
    "$name: $published boxes over the ones; $all disjoint rows over everything, and the table has no more",
    ({ name, grid, published, ones, all }) => {
      expect(fewest(grid, (letter) => letter === "y", false)).toBe(published);
      expect(espresso(grid, "y")).toBe(published);
      expect(fewest(grid, (letter) => letter === "y", true)).toBe(ones);
      expect(fewest(grid, () => true, true)).toBe(all);
      const table = tableOf(grid);
      rows.push(`${name}: ${rowsSaying(table, "y")} + ${rowsSaying(table, "n")} rows`);
      expect(table.rows.length).toBe(all);
      expect(rowsSaying(table, "y")).toBeGreaterThanOrEqual(published);
    },
  );
  test("in figures", () => {
    console.log(rows.join("\n"));
    expect(rows.length).toBe(5);
  });
});

describe("random small tables", () => {
  /** Boxes of answers laid over each other, as rules overrule each other in a book, and a few cells that cannot occur. */
  const grids = (shapes: readonly (readonly number[])[], most: number): fc.Arbitrary<Grid> =>
    fc
      .constantFrom(...shapes)
      .chain((sides) =>
        fc
          .record({
            rules: fc.array(
              fc.record({
                box: fc.tuple(...sides.map((side) => fc.integer({ min: 1, max: 2 ** side - 1 }))),
                letter: fc.constantFrom(..."abc"),
              }),
              { minLength: 3, maxLength: most, size: "max" },
            ),
            never: fc.array(fc.nat(sides.reduce((product, side) => product * side, 1) - 1), { maxLength: 3 }),
          })
          .map(({ rules, never }): Grid => {
            const letters = cellsOf({ sides, letters: "" }).map((cell, index) =>
              never.includes(index)
                ? "."
                : (rules.find(({ box }) => cell.every((at, variable) => (box[variable]! >> at) & 1))?.letter ?? "a"),
            );
            return { sides, letters: letters.join("") };
          }),
      )
      .filter((grid) => lettersOf(grid).length > 0);

  test("of up to 24 cells: rows are as few as disjoint boxes can be; the minimizer's boxes may overlap", { timeout: 120_000 }, () => {
    const sums = { tables: 0, rows: 0, disjoint: 0, boxes: 0, covers: 0 };
    let worst = 0;
    fc.assert(
      fc.property(
        grids(
          [
            [2, 2, 2],
            [2, 2, 2, 2],
            [3, 2, 2],
            [3, 3, 2],
            [4, 3, 2],
            [3, 2, 2, 2],
            [4, 2, 3],
          ],
          7,
        ),
        (grid) => {
          const rows = tableOf(grid).rows.length;
          const letters = lettersOf(grid);
          const boxes = letters.reduce((sum, letter) => sum + espresso(grid, letter), 0);
          const covers = letters.reduce((sum, letter) => sum + fewest(grid, (other) => other === letter, false), 0);
          const least = fewest(grid, () => true, true);
          expect(boxes).toBeGreaterThanOrEqual(covers);
          expect(least).toBeGreaterThanOrEqual(covers);
          expect(rows).toBe(least);
          for (const [what, count] of Object.entries({ tables: 1, rows, disjoint: least, boxes, covers }))
            sums[what as keyof typeof sums] += count;
          worst = Math.max(worst, rows / boxes);
        },
      ),
      { numRuns: 150, seed: 1984 },
    );
    console.log(
      `up to 24 cells: ${sums.tables} tables, ${sums.rows} rows, ${sums.disjoint} at the least if disjoint; ${sums.boxes} boxes of the minimizer, ${sums.covers} at the least if they may overlap; rows / boxes ${(sums.rows / sums.boxes).toFixed(3)}, at worst ${worst.toFixed(2)}`,
    );
    // What being disjoint costs: measured 1.013, at worst 1.20.
    expect(sums.rows / sums.boxes).toBeLessThan(1.05);
    expect(worst).toBeLessThan(1.5);
  });

  test("of 60 to 120 cells, where no exhaustive search goes: rows against the minimizer's boxes", { timeout: 120_000 }, () => {
    const sums = { tables: 0, rows: 0, boxes: 0 };
    let worst = 0;
    fc.assert(
      fc.property(
        grids(
          [
            [5, 4, 3],
            [3, 3, 3, 3],
            [4, 4, 3, 2],
            [5, 4, 3, 2],
          ],
          12,
        ),
        (grid) => {
          const rows = tableOf(grid).rows.length;
          const boxes = lettersOf(grid).reduce((sum, letter) => sum + espresso(grid, letter), 0);
          for (const [what, count] of Object.entries({ tables: 1, rows, boxes })) sums[what as keyof typeof sums] += count;
          worst = Math.max(worst, rows / boxes);
        },
      ),
      { numRuns: 25, seed: 1984 },
    );
    console.log(
      `60 to 120 cells: ${sums.tables} tables, ${sums.rows} rows, ${sums.boxes} boxes of the minimizer; rows / boxes ${(sums.rows / sums.boxes).toFixed(3)}, at worst ${worst.toFixed(2)}`,
    );
    // Measured 1.116, at worst 1.29.
    expect(sums.rows / sums.boxes).toBeLessThan(1.25);
    expect(worst).toBeLessThan(1.6);
  });
});
