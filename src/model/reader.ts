/**
 * A book in the units its reader is used to.
 *
 *     measure   61 °F, in steps of 1 °F    ──metric──▶   the same positions, said as 16.1 °C
 *     option    1/4 oz                     ──metric──▶   7.09 g
 *     option    "14 to 20 lb mono"                       a name, as are titles, labels, reasons: never touched
 *
 * Quantities stay exact values until a word is made of one, so whoever draws a model from here, as text, Markdown or a page, draws it in
 * the reader's units; positions, answers and tables are those of the book. Rounded is only what is shown.
 */
import { convert, printIn, readQuantity, roundedText, units, type Unit } from "./quantities.js";
import type { Condition, Model, Option, Pick as BookPick, SayNothing, Test } from "./model.js";

/** `book`: as it is written. */
export type System = "book" | "us" | "metric" | "sea";

/** What is said in another unit; a unit that is not named stays. Lures go by inches beside ounces and by centimeters beside grams. */
const customary = { "°C": "°F", mm: "in", cm: "in", m: "ft", km: "mi", mg: "oz", g: "oz", kg: "lb", "m³/s": "cfs" };
const saidInstead: Readonly<Record<System, Readonly<Record<string, string>>>> = {
  book: {},
  us: { ...customary, "km/h": "mph", "m/s": "mph", kn: "mph", hPa: "inHg" },
  metric: {
    ...{ "°F": "°C", in: "cm", ft: "m", yd: "m", mi: "km", oz: "g", lb: "kg", cfs: "m³/s" },
    ...{ mph: "km/h", kn: "km/h", "ft/s": "m/s", inHg: "hPa" },
  },
  sea: { ...customary, mph: "kn", "km/h": "kn", "m/s": "kn", inHg: "hPa" },
};

/** The unit in which a system says what is written in `unit`. */
function unitIn(unit: Unit, system: System): Unit {
  return units.get(saidInstead[system][unit.symbol] ?? unit.symbol)!;
}

/** The model as a reader is told it: what its measures and options are said in, and nothing else, is another. */
export function modelIn(model: Model, system: System): Model {
  if (system === "book") return model;
  return {
    ...model,
    conditions: model.conditions.map((condition) => conditionIn(condition, system)),
    picks: model.picks.map((pick) => ({ ...pick, options: optionsIn(pick.options, system) })),
  };
}

/** What a field for a measure shows of a value that was told: `61 °F` as 16.1 where it is said in °C; undefined: no quantity. */
export function numberSaid(told: string, { unit, saidIn = unit }: { readonly unit?: Unit; readonly saidIn?: Unit }): string | undefined {
  const read = readQuantity(told);
  if (!read) return undefined;
  const from = read.unit ?? unit;
  return from && saidIn && from !== saidIn ? roundedText(convert(read.value, from, saidIn)) : String(read.value.valueOf());
}

/** The `only when` of a pick, as the book writes it, its quantities in the reader's units. */
export function onlyWhenText(model: Model, { book, onlyWhen }: BookPick): string {
  return onlyWhen ? testText(model, book, onlyWhen) : "";
}

/** The `when` of a `say nothing`, in the same way, in one line that reads on after "if": `day from` is `day is from`. */
export function silenceText(model: Model, { book, when }: SayNothing): string {
  const words = testText(model, book, when)
    .replace(/--[^\r\n]*/g, " ")
    .replace(/\s+/g, " ")
    .trim();
  return words.replace(/(?<!(?<![\p{L}\p{N}-])is) from /gu, " is from ");
}

function testText(model: Model, book: number, test: Test): string {
  const { text } = model.books[book]!;
  let [words, at] = ["", test.range.start];
  for (const measured of measuredIn(model, test)) {
    const { start, end } = measured.range;
    words += text.slice(at, start) + said(text.slice(start, end), measured);
    at = end;
  }
  return words + text.slice(at, test.range.end);
}

function conditionIn(condition: Condition, system: System): Condition {
  const { domain } = condition;
  if (domain.kind !== "measure" || !domain.unit) return condition;
  const saidIn = unitIn(domain.unit, system);
  return saidIn === domain.unit ? condition : { ...condition, domain: { ...domain, saidIn } };
}

/** As written where two would read the same. */
function optionsIn(options: readonly Option[], system: System): readonly Option[] {
  const said = options.map((option) => {
    const { value, unit } = (option.size && readQuantity(option.text)) ?? {};
    return value && unit ? { ...option, text: printIn(value, unit, unitIn(unit, system)) } : option;
  });
  return new Set(said.map(({ text }) => text)).size === options.length ? said : options;
}

interface Measured {
  readonly range: Test["range"];
  readonly saidIn: Unit;
}

/** Tests of measures that are said in another unit, in the order of the text; what a name stands for is written elsewhere. */
function measuredIn(model: Model, test: Test): readonly Measured[] {
  const isInside = ({ range }: Test): boolean => range.start >= test.range.start && range.end <= test.range.end;
  if (test.kind === "not" || test.kind === "and" || test.kind === "or")
    return (test.kind === "not" ? [test.part] : test.parts)
      .filter(isInside)
      .flatMap((part) => measuredIn(model, part))
      .sort((a, b) => a.range.start - b.range.start);
  const domain = test.kind === "axis" ? model.conditions[model.axes[test.axis]!.condition]!.domain : undefined;
  return domain?.kind === "measure" && domain.saidIn ? [{ range: test.range, saidIn: domain.saidIn }] : [];
}

const spellings = [...units.keys()].sort((a, b) => b.length - a.length).join("|");
/** In a test, whose names may hold digits too. */
const quantity = new RegExp(
  String.raw`(?<![\p{L}\p{N}-])[-−]?(?:(?:\d+ )?\d+/\d+|\d+(?:\.\d+)?)(?:\s*(?:${spellings}))?(?![\p{L}\p{N}-])`,
  "gu",
);

function said(test: string, { saidIn }: Measured): string {
  // The first of two ends may be written without the unit of the second.
  const unit = [...test.matchAll(quantity)].map(([written]) => readQuantity(written)?.unit).find((one) => one !== undefined);
  return test.replace(quantity, (written) => {
    const read = readQuantity(written);
    const from = read?.unit ?? unit;
    return read && from ? printIn(read.value, from, saidIn) : written;
  });
}
