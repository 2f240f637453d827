/** Values as customers give them, and positions as books write them. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { exampleOf, readValue, sayPosition } from "../../src/model/points.js";
import { sound } from "./books.js";

const model = sound(`
condition clarity: in order clear, stained, dirty, muddy
condition cover: any of grass, pads, docks
condition forage: any of shad, crayfish, at least one
condition water-temp: 33 to 95 °F, to the nearest 1 °F
condition lure: 1/8 to 1 oz, to the nearest 1/8 oz
condition depth: 0 to 40 ft
condition day: days of the year
condition hour: times of the day
situation cuts: depth is below 10 ft or depth is above 12.5 ft or depth is 33 ft
`);
const conditionOf = (name: string) => model.conditions.find((condition) => condition.name === name)!;

/** What is understood, said back; or the problem. */
function heard(name: string, text: string): string {
  const reading = readValue(conditionOf(name), model.axes, text);
  return "problem" in reading
    ? `! ${reading.problem}`
    : reading.positions.map(({ axis, position }) => sayPosition(model, axis, position)).join(", ");
}

describe("a customer's value", () => {
  test.each([
    ["clarity", "muddy", "muddy"],
    ["clarity", " Muddy ", "muddy"],
    ["cover", "grass;docks", "grass, no pads, docks"],
    ["cover", "grass, docks", "grass, no pads, docks"],
    ["cover", "docks; grass;", "grass, no pads, docks"],
    ["cover", "none", "no grass, no pads, no docks"],
    ["forage", "shad", "shad, no crayfish"],
    ["water-temp", "61 °F", "61 °F"],
    ["water-temp", "61", "61 °F"],
    ["water-temp", "61F", "61 °F"],
    ["water-temp", "61 f", "61 °F"],
    ["water-temp", "16 °C", "61 °F"],
    ["water-temp", "10 C", "50 °F"],
    ["lure", "3/8", "3/8 oz"],
    ["lure", "3/8oz", "3/8 oz"],
    ["lure", "10.631 g", "3/8 oz"],
    ["depth", "10", "10 ft"],
    ["depth", "4 m", "25 ft"],
    ["depth", "120 in", "10 ft"],
    ["day", "2027-04-15", "apr 15"],
    ["day", "2028-02-29", "feb 29"],
    ["day", "apr 15", "apr 15"],
    ["day", "Apr 15", "apr 15"],
    ["hour", "05:30", "05:30"],
    ["hour", "5:30", "05:30"],
  ])("%s %s", (name, text, expected) => {
    expect(heard(name, text)).toBe(expected);
  });

  test("goes to the nearest step, halfway to the upper", () => {
    expect(heard("water-temp", "60.4")).toBe("60 °F");
    expect(heard("water-temp", "60.5")).toBe("61 °F");
    expect(heard("water-temp", "60.6")).toBe("61 °F");
    expect(heard("lure", "3/16 oz")).toBe("1/4 oz");
  });

  test("outside the range is refused before any rounding", () => {
    expect(heard("water-temp", "95")).toBe("95 °F");
    expect(heard("water-temp", "95.3")).toBe(
      "! 95.3 is out of range for water-temp, which takes a number from 33 °F to 95 °F (in °F or °C).",
    );
    expect(heard("water-temp", "32.9 °F")).toMatch(/^! 32\.9 °F is out of range/);
    expect(heard("water-temp", "0 °C")).toMatch(/^! 0 °C is out of range/);
    expect(heard("depth", "40.001")).toMatch(/^! 40\.001 is out of range/);
  });

  test.each([
    ["clarity", "mudy", "clarity cannot be “mudy”: did you mean muddy? It takes one of clear, stained, dirty or muddy."],
    ["clarity", "", "Nothing was given for clarity: it takes one of clear, stained, dirty or muddy."],
    [
      "cover",
      "grass;dock",
      "cover cannot be “dock”: did you mean docks? It takes any of grass, pads and docks, joined by commas (or semicolons), or none.",
    ],
    ["cover", "none;grass", "cover cannot be “none”: it takes any of grass, pads and docks, joined by commas (or semicolons), or none."],
    ["forage", "none", "forage cannot be “none”: it takes one or more of shad and crayfish, joined by commas (or semicolons)."],
    ["water-temp", "warm", "water-temp cannot be “warm”: it takes a number from 33 °F to 95 °F (in °F or °C)."],
    ["water-temp", "61 ft", "water-temp cannot be “61 ft”: it takes a number from 33 °F to 95 °F (in °F or °C)."],
    ["water-temp", "61 x", "water-temp cannot be “61 x”: it takes a number from 33 °F to 95 °F (in °F or °C)."],
    ["depth", "1/0", "depth cannot be “1/0”: it takes a number from 0 ft to 40 ft (in in, ft, yd, mi, mm, cm, m or km)."],
    ["day", "2027-02-29", "day cannot be “2027-02-29”: it takes a day like apr 15, or a date like 2027-04-15."],
    ["day", "feb 30", "day cannot be “feb 30”: it takes a day like apr 15, or a date like 2027-04-15."],
    ["hour", "24:00", "hour cannot be “24:00”: it takes a time from 00:00 to 23:59, like 05:30."],
  ])("%s “%s” is refused with what it takes", (name, text, problem) => {
    expect(heard(name, text)).toBe(`! ${problem}`);
  });
});

describe("a position", () => {
  test("said and read back is the same position, on every axis", () => {
    for (const axis of model.axes.filter(({ member }) => member === undefined)) {
      for (let position = 0; position < axis.size; position++) {
        const said = sayPosition(model, axis.index, position);
        expect(readValue(model.conditions[axis.condition]!, model.axes, said), said).toEqual({
          positions: [{ axis: axis.index, position }],
        });
      }
    }
  });

  test("of an open stretch is said by one round value inside it, however thin", () => {
    const said = (low: string, high: string) => {
      const book = sound(
        `condition depth: 0 to 99 ft\ncondition wind: 0 to 99 kn\nsituation cut: depth from ${low} ft to ${high} ft and wind from ${low} kn to ${high} kn`,
      );
      return book.axes.map((axis) => sayPosition(book, axis.index, 3));
    };
    expect(said("10", "40")).toEqual(["25 ft", "25 kn"]);
    expect(said("10", "11")).toEqual(["10 1/2 ft", "10.5 kn"]);
    expect(said("49.9", "50")).toEqual(["49.95 ft", "49.95 kn"]);
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 98_000 }), fc.integer({ min: 1, max: 900 }), (low, length) => {
        for (const text of said(String(low / 1000), String((low + length) / 1000))) {
          const value = text
            .split(" ")
            .slice(0, -1)
            .reduce(
              (sum, part) =>
                sum +
                part
                  .split("/")
                  .map(Number)
                  .reduce((a, b) => a / b),
              0,
            );
          expect(value).toBeGreaterThan(low / 1000);
          expect(value).toBeLessThan((low + length) / 1000);
        }
      }),
      { numRuns: 40 },
    );
  });
});

describe("an example", () => {
  const point = model.axes.map(() => 0);
  test("has a value for each condition, and lists for sets", () => {
    expect(exampleOf(model, point)).toEqual({
      clarity: "clear",
      cover: [],
      forage: [],
      "water-temp": "33 °F",
      lure: "1/8 oz",
      depth: "0 ft",
      day: "jan 1",
      hour: "00:00",
    });
    expect(
      exampleOf(
        model,
        point.map((_, axis) => (model.axes[axis]!.member === 1 ? 1 : 0)),
      ).cover,
    ).toEqual(["pads"]);
  });

  test("leaves out what is not known or not asked for", () => {
    const partly = point.map((position, axis) => (axis <= 1 ? position : undefined));
    expect(exampleOf(model, partly)).toEqual({ clarity: "clear" });
    expect(exampleOf(model, point, [conditionOf("cover").index])).toEqual({ cover: [] });
  });
});
