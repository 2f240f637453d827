/**
 * Shares and unknown values, counted by hand: "Shares are exact fractions and add up to 1; each level, step, subset counts alike, a
 * continuous measure by length", and the paragraph "Unknown values".
 */
import { describe, expect, test } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import type { Model } from "../../src/model/model.js";
import { outcomeInWords, positionsOf, sharesOf, unknownAt, type Given } from "./points.js";
import { faultsInWords, read } from "./reading.js";

function model(statements: string): Model {
  const texts = { "book.lore": `book "book"\n${statements}\n` };
  const { model, faults } = read(texts, "book.lore");
  expect(faultsInWords(texts, faults)).toEqual([]);
  return model;
}

const clarity = "condition clarity: in order clear, stained, dirty, muddy\n  rising is dirtier, falling is clearer\n";
const sky = "condition sky: in order bright, dark\n";
const blade = "pick blade: willow, indiana, colorado\n";

describe("shares", () => {
  test.each([
    [
      "each level counts alike",
      clarity + sky + blade + `pattern "P" go with blade willow when clarity is dirty or dirtier, or sky is dark`,
      "3/4",
    ],
    [
      "each subset counts alike",
      "condition cover: any of grass, logs\n" + blade + `pattern "P" go with blade willow when cover has grass or cover is empty`,
      "3/4",
    ],
    [
      "with `at least one` the empty set is no value",
      "condition forage: any of shad, perch, at least one\n" + blade + `pattern "P" go with blade willow when forage has shad`,
      "2/3",
    ],
    [
      "each step counts alike",
      "condition temp: 40 to 70 °F, to the nearest 5 °F\n" + blade + `pattern "P" go with blade willow when temp is at least 50 °F`,
      "5/7",
    ],
    [
      "a continuous measure by length",
      "condition depth: 0 to 40 ft\ncondition cover: any of grass, logs\n" +
        blade +
        `pattern "P" go with blade willow when depth is above 10 ft and cover has grass`,
      "3/8",
    ],
    [
      "a single value weighs nothing",
      "condition depth: 0 to 40 ft\n" + blade + `pattern "P" go with blade willow when depth is 10 ft or depth is 13 ft`,
      "0",
    ],
    [
      "by length, whatever the unit and the fraction",
      "condition depth: 0 to 40 ft\n" + blade + `pattern "P" go with blade willow when depth from 40 in to 12.2 yd`,
      "499/600",
    ],
    [
      "a year has 366 days",
      "condition day: days of the year\n" + blade + `pattern "P" go with blade willow when day from apr 15 to may 20`,
      "6/61",
    ],
    [
      "a day has 1,440 minutes, both ends in",
      "condition hour: times of the day\n" + blade + `pattern "P" go with blade willow when hour from 23:30 to 00:29`,
      "1/24",
    ],
    [
      "the impossible is left out",
      clarity + sky + "impossible when clarity is muddy and sky is bright\n" + blade + `pattern "P" go with blade willow when sky is dark`,
      "4/7",
    ],
  ])("%s", (_, statements, decided) => {
    const shares = sharesOf(model(statements))[0]!;
    expect(shares.decided.toFraction()).toBe(decided);
    expect(shares.gap.add(shares.decided).toFraction()).toBe("1");
  });
});

describe("shares where a measure is left at single values", () => {
  const deep = "condition depth: 0 to 40 ft\ncondition water-temp: 32 to 80 °F\n";
  const rest = `pattern "P" go with blade willow when depth is above 10 ft\nsituation far: depth is above 30 ft\n`;
  test.each([
    ["the others go on counting by length", "impossible when water-temp is not 32 °F", "3/4"],
    ["single values count alike", "impossible when depth is neither 5 ft nor 10 ft nor 20 ft", "1/3"],
    [
      "each counts as its whole range where now one is at a single value and now another",
      "impossible when water-temp is not 32 °F and depth is not 5 ft",
      "3/8",
    ],
    [
      "and points of more single values count nothing",
      "impossible when water-temp is not 32 °F and depth is neither 5 ft nor 40 ft",
      "7/12",
    ],
  ])("%s", (_, impossible, decided) => {
    const book = model(deep + blade + rest + impossible);
    expect(sharesOf(book)[0]!.decided.toFraction()).toBe(decided);
    expect(analyse(book).coverage[0]!.shares.decided.toFraction()).toBe(decided);
  });
});

describe("unknown values", () => {
  const book = model(
    clarity +
      sky +
      blade +
      `
impossible when clarity is muddy and sky is bright
pattern "Bright" go with blade willow, then indiana, then colorado when sky is bright
pattern "Dark" go with blade indiana, then colorado when sky is dark and clarity is not dirty
pattern "Dirty" lean to blade colorado, indiana when sky is dark and clarity is dirty`,
  );
  const of = (given: Given) => {
    const { safe, possible } = unknownAt(book, positionsOf(book, given))![0]!;
    return {
      safe: safe.map((place) => place.map((option) => book.picks[0]!.options[option]!.text)),
      possible: Object.fromEntries(possible.map(({ outcome, share }) => [outcomeInWords(book, 0, outcome), share.toFraction()])),
    };
  };
  const bright = "decided: willow, then indiana, then colorado";
  const dark = "decided: indiana, then colorado";
  const dirty = "toss-up: indiana or colorado";

  test("the safe answer is the options that stand in the list at every remaining possible point, ordered by their worst place", () => {
    // Bright: willow 1, indiana 2, colorado 3. Dark: indiana 1, colorado 2. Worst: indiana 2, colorado 3.
    expect(of({ clarity: "clear" })).toEqual({ safe: [["indiana"], ["colorado"]], possible: { [bright]: "1/2", [dark]: "1/2" } });
  });
  test("with it come all possible answers with their shares, over the possible points only", () => {
    // Seven possible points: bright with three clarities, dark with four, one of them dirty.
    expect(of({})).toEqual({ safe: [["indiana"], ["colorado"]], possible: { [bright]: "3/7", [dark]: "3/7", [dirty]: "1/7" } });
    // Dark alone: worst places indiana 1, colorado 2.
    expect(of({ sky: "dark" })).toEqual({ safe: [["indiana"], ["colorado"]], possible: { [dark]: "3/4", [dirty]: "1/4" } });
  });
  test("what is impossible needs no asking: muddy water is never under a bright sky here", () => {
    expect(of({ clarity: "muddy" })).toEqual({ safe: [["indiana"], ["colorado"]], possible: { [dark]: "1" } });
  });
  test("a point where `impossible` holds has no answer", () => {
    expect(unknownAt(book, positionsOf(book, { clarity: "muddy", sky: "bright" }))).toBeUndefined();
  });
});
