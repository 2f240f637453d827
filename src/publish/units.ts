/** Quantities in the units a customer reads: exact values, rounded only where they are shown. */
import type { Fraction } from "fraction.js";
import { convert, readNumber, units, type Kind, type Unit } from "../model/quantities.js";

export type System = "book" | "us" | "metric" | "sea";

const preferred: Readonly<Record<System, Partial<Record<Kind, string>>>> = {
  book: {},
  us: { temperature: "°F", length: "ft", mass: "oz", speed: "mph", flow: "cfs", pressure: "inHg" },
  metric: { temperature: "°C", length: "m", mass: "g", speed: "km/h", flow: "m³/s", pressure: "hPa" },
  sea: { temperature: "°F", length: "ft", mass: "oz", speed: "kn", flow: "cfs", pressure: "hPa" },
};

/** The unit in which a measure of `unit` is shown. Inches stay inches beside ounces. */
export function unitIn(unit: Unit, system: System): Unit {
  const symbol = preferred[system][unit.kind];
  const to = symbol === undefined ? unit : units.get(symbol)!;
  if (unit.kind === "length" && (system === "us" || system === "sea") && unit.fractions) return unit;
  return unit.symbol === "in" && system === "metric" ? units.get("cm")! : to;
}

/** "61 °F" ──metric──▶ "16.1 °C", everywhere in a sentence. What is in its unit already stays as it is. */
export function inUnits(text: string, system: System): string {
  if (system === "book") return text;
  return text.replace(quantity, (whole, number: string, symbol: string) => {
    const from = units.get(symbol)!;
    const to = unitIn(from, system);
    const value = readNumber(number);
    return to === from || !value ? whole : `${rounded(convert(value.value, from, to))} ${to.symbol}`;
  });
}

/** To a tenth, or for what is small to a hundredth. */
export function rounded(value: Fraction): string {
  const digits = value.abs().lt(10) ? 2 : 1;
  return String(Number(value.valueOf().toFixed(digits)));
}

const spellings = [...new Set([...units.values()].map(({ symbol }) => symbol))]
  .filter((symbol) => symbol !== "h" && symbol !== "min")
  .sort((a, b) => b.length - a.length);
const quantity = new RegExp(
  String.raw`([-−]?(?:\d+ )?\d+/\d+|[-−]?\d+(?:\.\d+)?) (${spellings.map((symbol) => symbol.replace(/[/]/g, String.raw`\/`)).join("|")})(?![\p{L}\d/])`,
  "gu",
);
