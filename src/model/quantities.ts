/**
 * Quantities: numbers and units as exact rationals, so that `3/8 oz` in grams and `0.5 °C` on a Fahrenheit scale lose nothing.
 *
 *     value in unit  ──× factor + offset──▶  value in the base unit of its kind  ──▶  value in another unit of the kind
 *
 * Factors: NIST Special Publication 811, appendix B, and NIST Handbook 44, appendix C; all are exact by definition but the inch of
 * mercury, which is the conventional one (32 °F, standard gravity). Only temperatures have an offset; a step of temperature, being a
 * difference, converts without it.
 */
import { Fraction } from "fraction.js";
import { longestNumber } from "../syntax/literals.js";

export type Kind = "temperature" | "length" | "mass" | "speed" | "flow" | "pressure" | "angle" | "percent" | "turbidity" | "duration";

export interface Unit {
  /** As printed: `°F`. */
  readonly symbol: string;
  readonly kind: Kind;
  /** A value × `factor` + `offset` is the value in the base unit of the kind: K, m, g, m/s, m³/s, Pa, deg, %, NTU, min. */
  readonly factor: Fraction;
  readonly offset: Fraction;
  /** Customarily read in halves, quarters, eighths. */
  readonly fractions: boolean;
}

/** A number as it was written: its exact value, and one unit in its last place (1/8 for `3/8`, 0.1 for `4.5`). */
export interface Written {
  readonly value: Fraction;
  readonly precision: Fraction;
}

const zero = new Fraction(0);
const foot = new Fraction("0.3048");

/** Every unit by the spellings it may be written in. */
export const units: ReadonlyMap<string, Unit> = new Map([
  ...unit("temperature", ["°F", "F"], new Fraction(5, 9), { offset: new Fraction("459.67").mul(5, 9) }),
  ...unit("temperature", ["°C", "C"], new Fraction(1), { offset: new Fraction("273.15") }),
  ...unit("length", ["in"], new Fraction("0.0254"), { fractions: true }),
  ...unit("length", ["ft"], foot, { fractions: true }),
  ...unit("length", ["yd"], new Fraction("0.9144"), { fractions: true }),
  ...unit("length", ["mi"], new Fraction("1609.344"), { fractions: true }),
  ...unit("length", ["mm"], new Fraction("0.001")),
  ...unit("length", ["cm"], new Fraction("0.01")),
  ...unit("length", ["m"], new Fraction(1)),
  ...unit("length", ["km"], new Fraction(1000)),
  ...unit("mass", ["oz"], new Fraction("28.349523125"), { fractions: true }),
  ...unit("mass", ["lb"], new Fraction("453.59237"), { fractions: true }),
  ...unit("mass", ["mg"], new Fraction("0.001")),
  ...unit("mass", ["g"], new Fraction(1)),
  ...unit("mass", ["kg"], new Fraction(1000)),
  ...unit("speed", ["mph"], new Fraction("0.44704")),
  ...unit("speed", ["kn"], new Fraction(1852, 3600)),
  ...unit("speed", ["m/s"], new Fraction(1)),
  ...unit("speed", ["ft/s"], foot),
  ...unit("speed", ["km/h"], new Fraction(1000, 3600)),
  ...unit("flow", ["cfs"], foot.pow(3)),
  ...unit("flow", ["m³/s", "m3/s"], new Fraction(1)),
  ...unit("pressure", ["inHg"], new Fraction("3386.389")),
  ...unit("pressure", ["hPa"], new Fraction(100)),
  ...unit("angle", ["deg"], new Fraction(1)),
  ...unit("percent", ["%"], new Fraction(1)),
  ...unit("turbidity", ["NTU"], new Fraction(1)),
  ...unit("duration", ["h"], new Fraction(60)),
  ...unit("duration", ["min"], new Fraction(1)),
]);

/** What units are called in full, for a "did you mean". */
export const unitWords: ReadonlyMap<string, string> = new Map(
  Object.entries({
    fahrenheit: "°F",
    celsius: "°C",
    centigrade: "°C",
    inch: "in",
    inches: "in",
    foot: "ft",
    feet: "ft",
    yard: "yd",
    yards: "yd",
    mile: "mi",
    miles: "mi",
    millimeter: "mm",
    millimeters: "mm",
    kilometer: "km",
    kilometers: "km",
    milligram: "mg",
    milligrams: "mg",
    meter: "m",
    meters: "m",
    ounce: "oz",
    ounces: "oz",
    pound: "lb",
    pounds: "lb",
    lbs: "lb",
    gram: "g",
    grams: "g",
    kilogram: "kg",
    kilograms: "kg",
    knot: "kn",
    knots: "kn",
    kts: "kn",
    kt: "kn",
    kph: "km/h",
    fps: "ft/s",
    mb: "hPa",
    mbar: "hPa",
    millibar: "hPa",
    millibars: "hPa",
    degree: "deg",
    degrees: "deg",
    percent: "%",
    hour: "h",
    hours: "h",
    hr: "h",
    minute: "min",
    minutes: "min",
  }),
);

/** The symbols of all units of a kind, best known first. */
export function unitsOf(kind: Kind): string[] {
  return [...new Set([...units.values()].filter((one) => one.kind === kind).map(({ symbol }) => symbol))];
}

/** Reads `4.5`, `-90`, `3/8`, `1 1/2`; undefined for anything else, a zero denominator and numbers of absurd length included. */
export function readNumber(text: string): Written | undefined {
  if (text.length > longestNumber) return undefined;
  const match = /^([-−])?(?:(\d+)(?:\.(\d+))?|(?:(\d+)[ \t]+)?(\d+)\/(\d+))$/u.exec(text.trim());
  if (!match) return undefined;
  const [, minus, whole, decimals, mixed, numerator, denominator] = match;
  if (denominator !== undefined && BigInt(denominator) === 0n) return undefined;
  const size =
    whole !== undefined
      ? new Fraction(decimals === undefined ? whole : `${whole}.${decimals}`)
      : new Fraction(BigInt(numerator!), BigInt(denominator!)).add(new Fraction(mixed ?? "0"));
  const precision = whole !== undefined ? new Fraction(1n, 10n ** BigInt(decimals?.length ?? 0)) : new Fraction(1n, BigInt(denominator!));
  return { value: minus ? size.neg() : size, precision };
}

/** Reads a number and the unit after it, in whatever case that is typed: `61 °F`, `1 1/2oz`, `11.3`; undefined for anything else. */
export function readQuantity(text: string): { readonly value: Fraction; readonly unit?: Unit } | undefined {
  const [, digits, symbol] = /^([-−]?(?:(?:\d+\s+)?\d+\/\d+|\d+(?:\.\d+)?))\s*(.*)$/su.exec(text.trim()) ?? [];
  const number = digits === undefined ? undefined : readNumber(digits);
  if (!number || !symbol) return number && { value: number.value };
  const unit = units.get(symbol) ?? [...units].find(([spelling]) => spelling.toLowerCase() === symbol.toLowerCase())?.[1];
  return unit && { value: number.value, unit };
}

/** A value in another unit of the same kind. */
export function convert(value: Fraction, from: Unit, to: Unit): Fraction {
  if (from === to) return value;
  return value.mul(from.factor).add(from.offset).sub(to.offset).div(to.factor);
}

/** A difference (a step, a precision) in another unit of the same kind: 0.5 °C is 0.9 °F. */
export function convertDifference(value: Fraction, from: Unit, to: Unit): Fraction {
  return from === to ? value : value.mul(from.factor).div(to.factor);
}

/** The value in the base unit of its kind; numbers without a unit stay as they are. */
export function toBase(value: Fraction, unit: Unit | undefined): Fraction {
  return unit === undefined ? value : value.mul(unit.factor).add(unit.offset);
}

/** Exactly, in the unit given: `61 °F`, `3/8 oz`, `1 1/2 oz`, `16.5 kn`, `16 2/3 kn`. */
export function printQuantity(value: Fraction, unit: Unit | undefined): string {
  const number = printNumber(value, unit?.fractions ?? false);
  return unit === undefined ? number : `${number} ${unit.symbol}`;
}

/** A value of one unit said in another: `16.1 °C`. Exactly where they are the same, else rounded to a tenth, or what is small to a hundredth. */
export function printIn(value: Fraction, from: Unit, to: Unit): string {
  return from === to ? printQuantity(value, from) : `${roundedText(convert(value, from, to))} ${to.symbol}`;
}

/** To a tenth, or for what is small to a hundredth. */
export function roundedText(value: Fraction): string {
  return String(Number(value.valueOf().toFixed(value.abs().lt(10) ? 2 : 1)));
}

/** Longest decimal that is still read at a glance; beyond it a fraction says more. */
const longestDecimal = 6;
const finestCustomaryFraction = 64n;

function printNumber(value: Fraction, fractions: boolean): string {
  if (value.d === 1n) return value.toFraction();
  const customary = fractions && value.d <= finestCustomaryFraction && (value.d & (value.d - 1n)) === 0n;
  if (!customary && 10n ** BigInt(longestDecimal) % value.d === 0n) return value.toString();
  return value.toFraction(true);
}

function unit(kind: Kind, spellings: readonly string[], factor: Fraction, { offset = zero, fractions = false } = {}): [string, Unit][] {
  const made: Unit = { symbol: spellings[0]!, kind, factor, offset, fractions };
  return spellings.map((spelling) => [spelling, made]);
}
