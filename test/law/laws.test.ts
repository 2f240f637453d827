/**
 * Laws that hold of every book, tried on random small ones: the engine says what the oracle says, at every possible point.
 *
 * `LAW_RUNS=2000` runs more books; `LAW_SEED=…` repeats a run. A failure prints its seed and the smallest book found.
 */
import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { statuses, type Status } from "../../src/analysis/outcome.js";
import { answersAt } from "../../src/analysis/point.js";
import type { Model } from "../../src/model/model.js";
import { books, type Books, type Sizes } from "./books.js";
import { oracle } from "./oracle.js";
import { answersInWords, pointInWords, possiblePoints } from "./points.js";
import { faultsInWords, read } from "./reading.js";

const runs = Number(process.env["LAW_RUNS"] ?? 200);
const seed = process.env["LAW_SEED"] === undefined ? undefined : Number(process.env["LAW_SEED"]);

/** A law holds of every random book; it throws where it does not. */
function law(
  name: string,
  holds: (model: Model, book: Books) => void,
  { numRuns = runs, ...sizes }: Sizes & { readonly numRuns?: number } = {},
): void {
  test(name, { timeout: 120_000 }, () => {
    fc.assert(
      fc.property(books(sizes), (book) => holds(modelOf(book), book)),
      { numRuns, ...(seed === undefined ? {} : { seed }) },
    );
  });
}

function modelOf(book: Books): Model {
  return read(book.texts, book.root).model;
}

describe("the random books", () => {
  law("have no errors of words, names or kinds", (_, book) => {
    const { faults } = read(book.texts, book.root);
    expect(
      faultsInWords(
        book.texts,
        faults.filter(({ code }) => code !== "circle"),
      ),
    ).toEqual([]);
  });

  test("reach every status, from every kind of list", { timeout: 120_000 }, () => {
    const seen = new Set<Status>();
    for (const book of fc.sample(books({ points: 200 }), { numRuns: 150, seed: 1 })) {
      const model = modelOf(book);
      for (const { point } of possiblePoints(model)) for (const { outcome } of oracle(model, point)) seen.add(outcome.status);
    }
    expect([...seen].sort()).toEqual([...statuses].sort());
  });
});

describe("the meaning", () => {
  law("of one point: the engine equals the oracle at every possible point", (model) => {
    for (const { point } of possiblePoints(model)) {
      expect(answersInWords(model, answersAt(model, point)), pointInWords(model, point)).toEqual(
        answersInWords(model, oracle(model, point)),
      );
    }
  });
});
