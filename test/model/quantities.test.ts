/** Units and numbers against published values. */
import fc from "fast-check";
import { Fraction } from "fraction.js";
import { describe, expect, test } from "vitest";
import { convert, convertDifference, printQuantity, readNumber, toBase, units, unitsOf, type Unit } from "../../src/model/quantities.js";

const unit = (symbol: string): Unit => units.get(symbol)!;
const value = (text: string): Fraction => readNumber(text)!.value;
const inUnits = (text: string, from: string, to: string): Fraction => convert(value(text), unit(from), unit(to));
const rounded = (exact: Fraction, places: number): string => exact.toString(places + 4) && exact.valueOf().toFixed(places);

describe("factors", () => {
  // NIST Special Publication 811 (2008), appendix B.8, and NIST Handbook 44, appendix C: exact by definition.
  test.each([
    ["1", "in", "cm", "2.54"],
    ["1", "ft", "m", "0.3048"],
    ["1", "yd", "m", "0.9144"],
    ["1", "lb", "g", "453.59237"],
    ["1", "oz", "g", "28.349523125"],
    ["1", "kg", "g", "1000"],
    ["1", "mph", "m/s", "0.44704"],
    ["1", "ft/s", "m/s", "0.3048"],
    ["1", "km/h", "m/s", "5/18"],
    ["3600", "kn", "m/s", "1852"],
    ["1", "cfs", "m³/s", "0.028316846592"],
    ["16", "oz", "lb", "1"],
    ["3", "ft", "yd", "1"],
    ["12", "in", "ft", "1"],
    ["1", "h", "min", "60"],
    ["1", "m3/s", "m³/s", "1"],
  ])("%s %s is %3$s %2$s", (amount, from, to, expected) => {
    expect(inUnits(amount, from, to).toFraction()).toBe(readNumber(expected)!.value.toFraction());
  });

  test("the conventional inch of mercury is 3386.389 Pa (NIST SP 811, B.8)", () => {
    expect(inUnits("1", "inHg", "hPa").toString()).toBe("33.86389");
  });

  // Trade weights in grams, to the third place: computed from the exact ounce, as tackle tables print them.
  test.each([
    ["1/8", "3.544"],
    ["1/4", "7.087"],
    ["3/8", "10.631"],
    ["1/2", "14.175"],
    ["3/4", "21.262"],
  ])("%s oz is %s g", (ounces, grams) => {
    expect(rounded(inUnits(ounces, "oz", "g"), 3)).toBe(grams);
  });
});

describe("temperatures", () => {
  // °F = 9/5 °C + 32 (NIST SP 811, B.8).
  test.each([
    ["45", "7.22"],
    ["50", "10.00"],
    ["55", "12.78"],
    ["60", "15.56"],
    ["68", "20.00"],
    ["70", "21.11"],
    ["80", "26.67"],
    ["90", "32.22"],
  ])("%s °F is %s °C", (fahrenheit, celsius) => {
    expect(rounded(inUnits(fahrenheit, "°F", "°C"), 2)).toBe(celsius);
  });

  test("fixed points: water freezes at 32 °F and boils at 212 °F; -40 is the same on both; 0 °C is 273.15 K", () => {
    expect(inUnits("0", "°C", "°F").equals(32)).toBe(true);
    expect(inUnits("100", "°C", "°F").equals(212)).toBe(true);
    expect(inUnits("-40", "C", "F").equals(-40)).toBe(true);
    expect(toBase(new Fraction(0), unit("°C")).equals("273.15")).toBe(true);
    expect(toBase(new Fraction("-459.67"), unit("°F")).equals(0)).toBe(true);
  });

  test("50 °F is 10 °C exactly, and a step of 0.5 °C is one of 0.9 °F", () => {
    expect(inUnits("50", "°F", "°C").equals(10)).toBe(true);
    expect(convertDifference(value("0.5"), unit("°C"), unit("°F")).equals("0.9")).toBe(true);
  });
});

test("every unit there and back is the same value, and units of one kind keep their order", () => {
  const all = [...new Set(units.values())];
  fc.assert(
    fc.property(fc.constantFrom(...all), fc.integer(), fc.integer(), fc.integer({ min: 1, max: 1000 }), (one, a, b, d) => {
      for (const other of all.filter(({ kind }) => kind === one.kind)) {
        const [x, y] = [new Fraction(a, d), new Fraction(b, d)];
        expect(convert(convert(x, one, other), other, one).equals(x)).toBe(true);
        expect(Math.sign(convert(x, one, other).compare(convert(y, one, other)))).toBe(Math.sign(x.compare(y)));
      }
    }),
    { numRuns: 50 },
  );
});

describe("numbers", () => {
  test.each([
    ["4.5", "9/2", "1/10"],
    ["50", "50", "1"],
    ["10.0", "10", "1/10"],
    ["-90", "-90", "1"],
    ["3/8", "3/8", "1/8"],
    ["1 1/2", "3/2", "1/2"],
    ["-1 1/2", "-3/2", "1/2"],
    ["6/8", "3/4", "1/8"],
  ])("%s is %s, written to %s", (text, expected, precision) => {
    expect(readNumber(text)!.value.toFraction()).toBe(expected);
    expect(readNumber(text)!.precision.toFraction()).toBe(precision);
  });

  test.each(["", "x", "1/0", "1,5", "4.", ".5", "1/2/3", "--1", "1e3"])("%s is none", (text) => {
    expect(readNumber(text)).toBeUndefined();
  });
});

describe("printing", () => {
  test.each([
    ["61", "°F", "61 °F"],
    ["3/8", "oz", "3/8 oz"],
    ["1.5", "oz", "1 1/2 oz"],
    ["16.5", "kn", "16.5 kn"],
    ["50/3", "kn", "16 2/3 kn"],
    ["-12.5", "deg", "-12.5 deg"],
    ["0.1", "ft", "0.1 ft"],
    ["0", "ft", "0 ft"],
    ["1/128", "oz", "1/128 oz"],
  ])("%s in %s is %s", (amount, symbol, expected) => {
    expect(printQuantity(value(amount), unit(symbol))).toBe(expected);
  });

  test("a plain number has no unit", () => {
    expect(printQuantity(value("4.5"), undefined)).toBe("4.5");
  });

  test("what is printed reads back as the same value", () => {
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: 1, max: 5000 }), fc.constantFrom("oz", "kn", "°C"), (n, d, symbol) => {
        const exact = new Fraction(n, d);
        const printed = printQuantity(exact, unit(symbol));
        expect(readNumber(printed.slice(0, -symbol.length - 1))!.value.equals(exact)).toBe(true);
      }),
    );
  });
});

test("the units of each kind are those of the language", () => {
  expect(unitsOf("temperature")).toEqual(["°F", "°C"]);
  expect(unitsOf("length")).toEqual(["in", "ft", "yd", "mi", "mm", "cm", "m", "km"]);
  expect(unitsOf("speed")).toEqual(["mph", "kn", "m/s", "ft/s", "km/h"]);
});
