/**
 * Units against NIST Special Publication 811 (2008), appendix B, and NIST Handbook 44, appendix C, and against a general unit library
 * (npm `convert`). Everything goes through the text of a book: what is checked is where a limit written in one unit falls on a
 * measure kept in another.
 *
 *     condition x: 0 to 1000 g      pattern … when x is at least 1/8 oz      ──▶      a limit at 3.543690390625 g
 */
import { convert as convertDouble, type Unit as LibraryUnit } from "convert";
import * as fc from "fast-check";
import { Fraction } from "fraction.js";
import { describe, expect, test } from "vitest";
import { convert, units, type Kind, type Unit } from "../../src/model/quantities.js";
import { read } from "../law/reading.js";

/** The limit that a value in one unit makes on a measure from `low` to `high` in another. */
function limitOf(value: string, unit: string, low: number, high: number): Fraction {
  const { model, faults } = read(
    {
      "book.lore": `book "Units"\ncondition x: ${low} to ${high} ${unit}\npick act: a, b\npattern "From there" go with act a when x is at least ${value}\n`,
    },
    "book.lore",
  );
  expect(faults).toEqual([]);
  const [from, limit, to] = model.axes[0]!.limits!;
  expect([from, to].map(String)).toEqual([low, high].map(String));
  return limit!;
}

describe("exact by definition (NIST SP 811, B.8 and B.9; Handbook 44, C): one unit, as a limit", () => {
  test.each([
    ["1 in", "m", "0.0254"],
    ["1 ft", "m", "0.3048"],
    ["1 yd", "m", "0.9144"],
    ["1 in", "mm", "25.4"],
    ["1 m", "mm", "1000"],
    // The international mile: Handbook 44, C, 5,280 ft.
    ["1/2 mi", "m", "804.672"],
    ["1 mi", "km", "1.609344"],
    ["1 g", "mg", "1000"],
    ["1 in", "cm", "2.54"],
    ["1 lb", "g", "453.59237"],
    ["1 oz", "g", "28.349523125"],
    ["1 lb", "kg", "0.45359237"],
    ["1 mph", "m/s", "0.44704"],
    ["1 ft/s", "m/s", "0.3048"],
    ["1 kn", "m/s", "1852/3600"],
    ["1 km/h", "m/s", "1000/3600"],
    ["1 kn", "km/h", "1.852"],
    ["1 cfs", "m³/s", "0.028316846592"],
    ["1 h", "min", "60"],
    ["32 F", "°C", "0"],
    ["212 °F", "C", "100"],
    ["-40 °F", "°C", "-40"],
  ])("%s is %3$s %2$s", (value, unit, expected) => {
    expect(limitOf(value, unit, -200, 1100).equals(expected)).toBe(true);
  });
});

describe("to the digits printed in NIST SP 811, B.8 (six decimals; those that are rounded there)", () => {
  test.each([
    ["1 oz", "kg", "2.834952E-02"],
    ["1 lb", "kg", "4.535924E-01"],
    ["1 kn", "m/s", "5.144444E-01"],
    ["1 km/h", "m/s", "2.777778E-01"],
    ["1 cfs", "m³/s", "2.831685E-02"],
    // The conventional inch of mercury.
    ["1 inHg", "hPa", "3.386389E+01"],
  ])("%s is %3$s %2$s", (value, unit, printed) => {
    expect(
      limitOf(value, unit, -1, 900)
        .valueOf()
        .toExponential(6)
        .replace(/e([-+])(\d)$/, "E$10$2")
        .replace("e", "E"),
    ).toBe(printed);
  });
});

describe("trade weights and temperatures, to the digits printed (computed from the exact ounce and degree)", () => {
  test.each([
    ["1/8", "3.544"],
    ["1/4", "7.087"],
    ["3/8", "10.631"],
    ["1/2", "14.175"],
    ["3/4", "21.262"],
  ])("%s oz is %s g", (ounces, grams) => {
    expect(limitOf(`${ounces} oz`, "g", 0, 100).round(3).equals(grams)).toBe(true);
  });
  test.each([
    ["45", "7.22"],
    ["50", "10"],
    ["55", "12.78"],
    ["60", "15.56"],
    ["68", "20"],
    ["70", "21.11"],
    ["80", "26.67"],
    ["90", "32.22"],
  ])("%s °F is %s °C", (fahrenheit, celsius) => {
    expect(limitOf(`${fahrenheit} °F`, "°C", 0, 50).round(2).equals(celsius)).toBe(true);
  });
  test("a step is a difference: from 0 to 30 °C to the nearest 0.5 °C, 50 °F is a step and 51 °F is none", () => {
    const faults = (limit: string): readonly string[] =>
      read(
        {
          "book.lore": `book "Steps"\ncondition x: 0 to 30 °C, to the nearest 0.9 °F\npick act: a, b\npattern "There" go with act a when x is ${limit}\n`,
        },
        "book.lore",
      ).faults.map(({ code }) => code);
    expect(faults("50 °F")).toEqual([]);
    expect(faults("51 °F")).not.toEqual([]);
  });
});

describe("a general unit library says the same, to the precision of its doubles", () => {
  // Speeds and flows as lengths and volumes in a second or an hour, which the library has.
  const known: Readonly<Record<string, readonly [unit: LibraryUnit, times: number]>> = {
    "°F": ["F", 1],
    "°C": ["C", 1],
    in: ["in", 1],
    ft: ["ft", 1],
    yd: ["yd", 1],
    mi: ["mi", 1],
    mm: ["mm", 1],
    km: ["km", 1],
    mg: ["mg", 1],
    cm: ["cm", 1],
    m: ["m", 1],
    oz: ["oz", 1],
    lb: ["lb", 1],
    g: ["g", 1],
    kg: ["kg", 1],
    mph: ["mi", 1 / 3600],
    kn: ["nmi", 1 / 3600],
    "m/s": ["m", 1],
    "ft/s": ["ft", 1],
    "km/h": ["km", 1 / 3600],
    cfs: ["ft3", 1],
    "m³/s": ["m3", 1],
    inHg: ["inHg", 1],
    hPa: ["hPa", 1],
    deg: ["deg", 1],
    h: ["h", 1],
    min: ["min", 1],
  };
  const all = [...new Set(units.values())];
  const unknown: readonly Kind[] = ["percent", "turbidity"];
  const pairs = all.flatMap((from) => all.filter((to) => to.kind === from.kind && to !== from).map((to) => [from, to] as const));
  let compared = 0;

  test("it knows every unit but those that convert to nothing", () => {
    expect(all.filter(({ symbol }) => known[symbol] === undefined).map(({ kind }) => kind)).toEqual(unknown);
  });

  test.each(pairs.map(([from, to]): [string, string, Unit, Unit] => [from.symbol, to.symbol, from, to]))("%s in %s", (_, __, from, to) => {
    const [[one, times], [other, divided]] = [known[from.symbol]!, known[to.symbol]!];
    const library = convertDouble as (value: number, unit: LibraryUnit) => { to(unit: LibraryUnit): number };
    fc.assert(
      fc.property(fc.integer({ min: -4000, max: 4000 }), fc.constantFrom(1, 2, 3, 8, 10, 16, 100), (n, d) => {
        const exact = convert(new Fraction(n, d), from, to).valueOf();
        const theirs = (library(n / d, one).to(other) * times) / divided;
        compared++;
        // Of a temperature, some digits go in adding 459.67 or 273.15.
        expect(Math.abs(theirs - exact)).toBeLessThanOrEqual(
          8 * Number.EPSILON * Math.max(Math.abs(exact), from.kind === "temperature" ? 1000 : 0),
        );
      }),
      { numRuns: 100, seed: 811 },
    );
  });

  test("in figures", () => {
    console.log(`${pairs.length} pairs of units, ${compared} values compared`);
    expect(compared).toBeGreaterThanOrEqual(pairs.length * 100);
  });
});
