/** What each test of the language holds for, value by value, against the same thing said in numbers. */
import fc from "fast-check";
import { Fraction } from "fraction.js";
import { describe, expect, test } from "vitest";
import { dayIndex, printDay } from "../../src/model/calendar.js";
import type { Model, Test } from "../../src/model/model.js";
import { readValue, sayPosition } from "../../src/model/points.js";
import { holdsAt, sound, testIn } from "./books.js";

/** The values of the only axis at which a test holds, as written. */
function valuesOf({ model, test }: { readonly model: Model; readonly test: Test }): string[] {
  return [...Array(model.axes[0]!.size).keys()]
    .filter((position) => holdsAt(test, [position]))
    .map((position) => sayPosition(model, 0, position));
}

describe("scales", () => {
  const clarity =
    "condition clarity: in order clear, stained, dirty, muddy\n  rising is dirtier, falling is clearer\ngroup clarity: murky is dirty, muddy";
  test.each([
    ["is muddy", ["muddy"]],
    ["is clear or muddy", ["clear", "muddy"]],
    ["is not muddy", ["clear", "stained", "dirty"]],
    ["is neither clear nor muddy", ["stained", "dirty"]],
    ["is dirty or dirtier", ["dirty", "muddy"]],
    ["is clear or dirty or dirtier", ["clear", "dirty", "muddy"]],
    ["is not dirty or dirtier", ["clear", "stained"]],
    ["is stained or clearer", ["clear", "stained"]],
    ["is dirtier than stained", ["dirty", "muddy"]],
    ["is clearer than dirty", ["clear", "stained"]],
    ["is dirtier than muddy", []],
    ["from stained to dirty", ["stained", "dirty"]],
    ["is from stained to dirty", ["stained", "dirty"]],
    ["is murky", ["dirty", "muddy"]],
    ["is clear or murky", ["clear", "dirty", "muddy"]],
    ["is not murky", ["clear", "stained"]],
  ])("clarity %s", (relation, expected) => {
    expect(valuesOf(testIn(clarity, `clarity ${relation}`))).toEqual(expected);
  });

  test("without comparing words a scale in order still has a from … to", () => {
    expect(valuesOf(testIn("condition sky: in order bright, broken, dark", "sky from bright to broken"))).toEqual(["bright", "broken"]);
  });
});

describe("measures in steps", () => {
  const temp = "condition temp: 33 to 95 °F, to the nearest 1 °F\nband temp: cold below 50 °F, cool below 70.5 °F, warm";
  const words = temp.replace("\n", "\n  rising is warmer, falling is colder\n");
  test.each<[string, string, (value: number) => boolean]>([
    [temp, "is above 50 °F", (t) => t > 50],
    [temp, "is at least 50 °F", (t) => t >= 50],
    [temp, "is at most 50 °F", (t) => t <= 50],
    [temp, "is below 50.5 °F", (t) => t < 50.5],
    [temp, "is above 50.5 °F", (t) => t > 50.5],
    [temp, "is 50 °F", (t) => t === 50],
    [temp, "is 10 °C", (t) => t === 50],
    [temp, "is not 10 °C", (t) => t !== 50],
    [temp, "is below 100 °F", () => true],
    [temp, "is above 0 °C", () => true],
    [temp, "from 50 °F to 60 °F", (t) => t >= 50 && t <= 60],
    [temp, "from 50 to 60 °F", (t) => t >= 50 && t <= 60],
    [temp, "from 20 °F to 40 °F", (t) => t <= 40],
    [temp, "is cold", (t) => t < 50],
    [temp, "is cool", (t) => t >= 50 && t < 70.5],
    [temp, "is warm", (t) => t > 70.5],
    [temp, "is at least cool", (t) => t >= 50],
    [temp, "is at most cool", (t) => t < 70.5],
    [temp, "is above cool", (t) => t > 70.5],
    [temp, "is below cool", (t) => t < 50],
    [temp, "from cold to cool", (t) => t < 70.5],
    [temp, "from 40 °F to cool", (t) => t >= 40 && t < 70.5],
    [words, "is colder than 50 °F", (t) => t < 50],
    [words, "is warmer than cool", (t) => t > 70.5],
    [words, "is colder than cool", (t) => t < 50],
    [words, "is cool or warmer", (t) => t >= 50],
    [words, "is cool or colder", (t) => t < 70.5],
    [words, "is 60.5 °F or warmer", (t) => t >= 60.5],
    [words, "is 40 °F or 60 °F or warmer", (t) => t === 40 || t >= 60],
  ])("%s: %s", (declarations, relation, expected) => {
    const values = [...Array(63).keys()].map((step) => 33 + step);
    expect(valuesOf(testIn(declarations, `temp ${relation}`))).toEqual(values.filter(expected).map((value) => `${value} °F`));
  });

  test("a step converts as a difference: 0.5 °C makes steps of 0.9 °F", () => {
    const model = sound("condition temp: 32 to 50 °F, to the nearest 0.5 °C");
    expect(model.axes[0]!.size).toBe(21);
    expect(sayPosition(model, 0, 1)).toBe("32.9 °F");
  });

  test("weights have heavier and lighter unasked, and keep at least", () => {
    const lure = "condition lure: 1/8 to 1 oz, to the nearest 1/8 oz";
    expect(valuesOf(testIn(lure, "lure is heavier than 3/4 oz"))).toEqual(["7/8 oz", "1 oz"]);
    expect(valuesOf(testIn(lure, "lure is at least 7/8 oz"))).toEqual(["7/8 oz", "1 oz"]);
  });
});

describe("continuous measures", () => {
  const depth = "condition depth: 0 to 40 ft";

  test("limits cut the axis; bands and tests are the same stretches whatever value is tried", () => {
    const ends = fc
      .tuple(fc.integer({ min: 0, max: 160 }), fc.integer({ min: 1, max: 4 }))
      .map(([n, d]) => new Fraction(n, d))
      .filter((end) => end.lte(40));
    const text = (end: Fraction) => `${end.toFraction(true)} ft`;
    const side = fc.constantFrom("is above", "is at least", "is at most", "is below", "is", "is not");
    fc.assert(
      fc.property(fc.array(fc.tuple(side, ends), { minLength: 1, maxLength: 5 }), ends, (sides, tried) => {
        const when = sides.map(([relation, end]) => `depth ${relation} ${text(end)}`).join(" or ");
        const asked = testIn(depth, when);
        const reading = readValue(asked.model.conditions[0]!, asked.model.axes, text(tried));
        if (!("positions" in reading)) throw new Error(reading.problem);
        const expected = sides.some(([relation, end]) => {
          const order = tried.compare(end);
          return {
            "is above": order > 0,
            "is at least": order >= 0,
            "is at most": order <= 0,
            "is below": order < 0,
            is: order === 0,
            "is not": order !== 0,
          }[relation];
        });
        expect(holdsAt(asked.test, [reading.positions[0]!.position])).toBe(expected);
      }),
      { numRuns: 60 },
    );
  });

  test("the drawing of axes.ts", () => {
    const { model } = testIn(depth, "depth is below 10 ft or depth is at least 12.5 ft");
    const [axis] = model.axes;
    expect(axis!.limits!.map(String)).toEqual(["0", "10", "12.5", "40"]);
    expect(axis!.weights).toEqual([0n, 4n, 0n, 1n, 0n, 11n, 0n]);
    expect(axis!.precision!.map(String)).toEqual(["0", "1", "0.1", "0"]);
  });

  test("precision is one unit in the last place written, the largest if written several times, in the condition's unit", () => {
    const { model } = testIn(
      depth,
      "depth is below 10.0 ft or depth is above 10 ft or depth is below 3 3/8 ft or depth is 120.0 in or depth is 24 in or depth is above 0 ft",
    );
    const [axis] = model.axes;
    expect(axis!.limits!.map((limit, i) => `${limit.toFraction(true)}: ${axis!.precision![i]!.toFraction()}`)).toEqual([
      "0: 1",
      "2: 1/12",
      "3 3/8: 1/8",
      "10: 1",
      "40: 0",
    ]);
  });

  // Beaufort numbers in whole knots (WMO): 4 is 11 to 16, 5 is 17 to 21. A continuous 16.5 kn lies in neither.
  test("between two bands printed in whole knots lies a stretch no wider than their last place", () => {
    const { model, test } = testIn("condition wind: 0 to 63 kn", "wind from 11 kn to 16 kn or wind from 17 kn to 21 kn");
    const reading = readValue(model.conditions[0]!, model.axes, "16.5 kn");
    const position = "positions" in reading ? reading.positions[0]!.position : -1;
    expect(holdsAt(test, [position])).toBe(false);
    expect(holdsAt(test, [position - 1])).toBe(true);
    expect(holdsAt(test, [position + 1])).toBe(true);
    expect(sayPosition(model, 0, position)).toBe("16.5 kn");
  });
});

describe("days and times", () => {
  const day = "condition day: days of the year\nband day: winter from dec 1, spring from mar 10, summer from jun 1";
  const between = (from: number, to: number) => (index: number) =>
    from <= to ? index >= from && index <= to : index >= from || index <= to;
  const at = (month: number, date: number) => dayIndex(month, date)!;
  test.each<[string, (index: number) => boolean]>([
    ["is apr 15", (d) => d === at(4, 15)],
    ["from apr 15 to may 20", between(at(4, 15), at(5, 20))],
    ["from nov 15 to feb 15", between(at(11, 15), at(2, 15))],
    ["is not from nov 15 to feb 15", (d) => !between(at(11, 15), at(2, 15))(d)],
    ["is winter", between(at(12, 1), at(3, 9))],
    ["is spring", between(at(3, 10), at(5, 31))],
    ["is summer", between(at(6, 1), at(11, 30))],
    ["is winter or spring", between(at(12, 1), at(5, 31))],
    ["from winter to spring", between(at(12, 1), at(5, 31))],
    ["from summer to winter", between(at(6, 1), at(3, 9))],
    ["from feb 29 to feb 29", (d) => d === 59],
  ])("day %s", (relation, expected) => {
    const when = relation.startsWith("is not from") ? `not day ${relation.slice(7)}` : `day ${relation}`;
    const asked = testIn(day, when);
    const days = [...Array(366).keys()];
    expect(days.filter((index) => holdsAt(asked.test, [index])).map(printDay)).toEqual(days.filter(expected).map(printDay));
  });

  test("the bands of a day neither overlap nor leave a hole", () => {
    const model = sound(day);
    for (let index = 0; index < 366; index++)
      expect(model.bands.filter(({ span }) => holdsAt({ kind: "axis", axis: 0, span, range: { start: 0, end: 0 } }, [index]))).toHaveLength(
        1,
      );
  });

  test("times run to the minute, round midnight", () => {
    const { test } = testIn("condition hour: times of the day", "hour from 22:00 to 04:30");
    expect([1319, 1320, 1439, 0, 270, 271].map((minute) => holdsAt(test, [minute]))).toEqual([false, true, true, true, true, false]);
  });

  test("where it has comparing words, a day or time compares from its first value to its last", () => {
    const { test } = testIn("condition hour: times of the day\n  rising is later, falling is earlier", "hour is later than 20:00");
    expect([0, 1200, 1201, 1439].map((minute) => holdsAt(test, [minute]))).toEqual([false, false, true, true]);
  });
});

describe("sets", () => {
  const members = ["grass", "pads", "stumps", "docks"];
  const cover = `condition cover: any of ${members.join(", ")}\ngroup cover: soft is grass, pads\ngroup cover: hard is stumps, docks`;
  const has =
    (...names: string[]) =>
    (set: readonly string[]) =>
      names.some((name) => set.includes(name));
  test.each<[string, (set: readonly string[]) => boolean]>([
    ["has grass", has("grass")],
    ["has soft", has("grass", "pads")],
    ["has any of soft, docks", has("grass", "pads", "docks")],
    ["has all of grass, docks", (set) => set.includes("grass") && set.includes("docks")],
    ["has all of soft", (set) => set.includes("grass") && set.includes("pads")],
    ["has no docks", (set) => !set.includes("docks")],
    ["has no soft", (set) => !has("grass", "pads")(set)],
    ["has no soft, docks", (set) => !has("grass", "pads", "docks")(set)],
    ["only grass", (set) => set.length === 1 && set[0] === "grass"],
    ["only soft", (set) => set.length > 0 && !has("stumps", "docks")(set)],
    ["only grass, pads, stumps, docks", (set) => set.length > 0],
    ["is empty", (set) => set.length === 0],
    ["is not empty", (set) => set.length > 0],
  ])("cover %s", (relation, expected) => {
    const { model, test } = testIn(cover, `cover ${relation}`);
    expect(model.axes).toHaveLength(4);
    for (let bits = 0; bits < 16; bits++) {
      const point = members.map((_, i) => (bits >> i) & 1);
      expect(holdsAt(test, point), point.join()).toBe(expected(members.filter((_, i) => point[i] === 1)));
    }
  });

  test("at least one is a test of the domain, not of anything written", () => {
    const model = sound("condition cover: any of grass, docks, at least one");
    expect(model.domain).toHaveLength(1);
    expect(
      [
        [0, 0],
        [0, 1],
        [1, 0],
        [1, 1],
      ].map((point) => holdsAt(model.domain[0]!, point)),
    ).toEqual([false, true, true, true]);
  });
});

describe("situations", () => {
  const three = "condition a: in order x, y\ncondition b: in order x, y\ncondition c: in order x, y\nsituation far: c is y";
  const points = [0, 1, 2, 3, 4, 5, 6, 7].map((bits) => [bits & 1, (bits >> 1) & 1, bits >> 2]);
  test.each<[string, (a: number, b: number, c: number) => boolean]>([
    ["far", (_a, _b, c) => c === 1],
    ["not far", (_a, _b, c) => c === 0],
    ["a is y or far", (a, _b, c) => a === 1 || c === 1],
    ["b is x or a is y or far", (a, b, c) => b === 0 || a === 1 || c === 1],
    ["b is y and (a is y or far)", (a, b, c) => b === 1 && (a === 1 || c === 1)],
    ["b is y and a is y, or far", (a, b, c) => (b === 1 && a === 1) || c === 1],
    ["not a is y or far", (a, _b, c) => a === 0 || c === 1],
    ["a is not y or far", (a, _b, c) => a === 0 || c === 1],
    ["not (a is y or far)", (a, _b, c) => a === 0 && c === 0],
  ])("%s", (when, expected) => {
    const { test } = testIn(three, when);
    for (const point of points) expect(holdsAt(test, point), point.join()).toBe(expected(...(point as [number, number, number])));
  });

  test("stand as one piece at the place of their name", () => {
    const { model, test } = testIn(three, "b is y and far");
    const { text } = model.books[0]!;
    const parts = test.kind === "and" ? test.parts : [];
    expect(parts.map(({ range }) => text.slice(range.start, range.end))).toEqual(["b is y", "far"]);
  });
});
