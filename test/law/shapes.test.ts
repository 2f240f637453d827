/**
 * Books of hard shapes, each in three sizes: whatever the shape, what the analysis costs has a bound, what is then left open is said, and
 * what is told is certain. Seconds and megabytes are measured by `npm run bench shapes`.
 */
import { Fraction } from "fraction.js";
import { describe, expect, test } from "vitest";
import { analyse, COST } from "../../src/analysis/analyse.js";
import { OutOfBudget, toTheEnd, type Budget } from "../../src/analysis/budget.js";
import { answersAt } from "../../src/analysis/point.js";
import { joining } from "../../src/answer/joint.js";
import { compile } from "../../src/table/compile.js";
import { draftBook } from "../bench/books.js";
import { shapes } from "../bench/shapes.js";
import { read } from "./reading.js";

/** What one step may cost beyond what was left: it is charged when it is done. */
const ONE_STEP = 100_000;
/** What is decided today in these shapes stays decided: no more than so much is left open. */
const OPEN: Readonly<Record<string, number>> = {
  "clauses, five each, 8": 3,
  "clauses, five each, 12": 3,
  "clauses, sixty each, 2": 4,
  "clauses, sixty each, 5": 4,
  "clauses, sixty each, 8": 4,
  "clauses in promises, 40": 1,
  "wide or of patterns, 45": 2,
  "wide or of patterns, 90": 2,
  "wide or in one pattern, 45": 1,
  "wide or in one pattern, 90": 2,
};

describe("a book of a hard shape is analyzed within bounds", () => {
  test.each(shapes())("$name", ({ name, text }) => {
    const { model, faults } = read({ "book.lore": text }, "book.lore");
    expect(faults.map(({ message }) => message)).toEqual([]);
    const { findings, undecided, cost } = analyse(model);
    expect(cost).toBeLessThan(COST + ONE_STEP);
    expect(undecided.length).toBeLessThanOrEqual(OPEN[name] ?? 0);
    expect(findings.filter(({ code }) => code === "budget").map(({ message }) => message)).toEqual(undecided);
    // Every gap, conflict and broken promise is so at its example.
    for (const { code, example, pick, share } of findings.filter(({ code }) => ["gap", "conflict"].includes(code)).slice(0, 20)) {
      const point = model.axes.map((axis) => {
        const { name, domain } = model.conditions[axis.condition]!;
        const value = example![name];
        return typeof value === "string" && domain.kind === "scale" ? domain.levels.indexOf(value) : undefined;
      });
      expect(new Fraction(share!).gt(0)).toBe(true);
      if (model.conditions.some(({ domain }) => domain.kind !== "scale")) continue;
      const at = model.picks.findIndex(({ name }) => name === pick);
      for (const other of [0, 1])
        expect(
          answersAt(
            model,
            point.map((position) => position ?? other),
          )[at]!.outcome.status,
        ).toBe(code);
    }
  });
});

test.each([
  [120, 1],
  [120, 2],
  [120, 3],
  [200, 4],
])("of a first draft of %i patterns, %i, nothing is left open", { timeout: 120_000 }, (patterns, seed) => {
  const { model } = read(draftBook(patterns, seed), "draft.lore");
  const { undecided, cost } = analyse(model);
  expect(undecided).toEqual([]);
  expect(cost).toBeLessThan(COST / 2);
});

test.each([6, 12, 21])("%i disjoint rows: the share of the gap is exact, and its largest stretches are shown", (rows) => {
  const { text } = shapes().find(({ name }) => name === `disjoint columns, ${rows}`)!;
  const { findings } = analyse(read({ "book.lore": text }, "book.lore").model);
  const gap = findings.find(({ code }) => code === "gap")!;
  // Each row holds in one of 2¹⁰ cases, whatever the others do.
  expect(gap.share).toBe(new Fraction(1023n ** BigInt(rows), 1024n ** BigInt(rows)).toFraction());
  expect(gap.where).toMatch(/ \(and many more such stretches\)$/);
  expect(gap.fixes!.map(({ title }) => title)).toEqual(["Fall back on act a0"]);
});

test("a table of a chain of 40 picks stops as soon as there are more answers than rows allowed", () => {
  const { text } = shapes().find(({ name }) => name === "chain, 40")!;
  const { answers } = analyse(read({ "book.lore": text }, "book.lore").model);
  const picks = answers.model.picks.map(({ index }) => index);
  let nodes = 0;
  const spend: Budget = { spend: (steps = 1) => void (nodes += steps) };
  expect(() => toTheEnd(joining(answers, picks, spend, 5000))).toThrow(OutOfBudget);
  expect(nodes).toBeLessThan(50_000);
  expect(compile(answers, { picks })).toHaveProperty("problem");
});
