/**
 * A value as written, found among the values of a subject: as a rung (see `bound.ts`), a band's stretch, or a group's rungs.
 *
 *     clarity … dirty ──▶ rung 2        water-temp … 10 °C ──▶ rung 17 (50 °F, in steps of 1 °F from 33 °F)
 *     weight … 0.4 oz ──▶ rung 1.5      water-temp … cool  ──▶ stretch [50 °F, 70 °F)
 *
 * A rung that is no whole number lies between two values that can occur; one below the bottom or above the top lies outside.
 */
import { Fraction } from "fraction.js";
import * as say from "../messages/model.js";
import { listed } from "../messages/words.js";
import type * as tree from "../syntax/tree.js";
import type { Stretch } from "./bound.js";
import {
  daysOfTheYear,
  dayIndex,
  daysWithSlash,
  minutesOfTheDay,
  monthLength,
  monthNamed,
  printDay,
  printTime,
  readDate,
  readTime,
} from "./calendar.js";
import { groupThing, mentions, valueThing } from "./naming.js";
import {
  convert,
  convertDifference,
  printQuantity,
  readNumber,
  toBase,
  units,
  unitsOf,
  unitWords,
  type Unit,
  type Written,
} from "./quantities.js";
import { replacing, report, spelling, valueNames, textOf, type Reading, type Measure, type Subject, type Values } from "./scope.js";
import { nearest } from "../suggest.js";

export type Placed =
  | { readonly kind: "value"; readonly rung: Fraction }
  | { readonly kind: "band"; readonly stretch: Stretch }
  | { readonly kind: "group"; readonly rungs: readonly number[] };

/** Finds a value; undefined after a report. Marks bands and groups as mentioned, and limits of continuous measures as written. */
export function placeValue(reading: Reading, subject: Subject, value: tree.Value): Placed | undefined {
  const { values } = subject;
  if (value.kind === "name" || (value.kind === "text" && values.kind === "list")) {
    return named(reading, subject, value.kind === "name" ? value.text : value.value, value);
  }
  if (values.kind === "list" && value.kind === "quantity") return amongOptions(reading, subject, values, value);
  if (values.kind === "measure" && value.kind === "quantity") {
    const read = readQuantity(reading, subject, value, values.unit);
    return read && { kind: "value", rung: measureRung(reading, subject, values, read) };
  }
  if (values.kind === "days" && value.kind === "day") {
    const rung = readDayValue(reading, value);
    return rung === undefined ? undefined : { kind: "value", rung: new Fraction(rung) };
  }
  if (values.kind === "times" && value.kind === "time") {
    const rung = readTime(value.text);
    if (rung === undefined) report(reading, value.range, say.noSuchTime(value.text));
    return rung === undefined ? undefined : { kind: "value", rung: new Fraction(rung) };
  }
  if (values.kind === "days" && value.kind === "date") {
    const date = readDate(value.text);
    const day = date && printDay(dayIndex(date.month, date.day)!);
    report(reading, value.range, say.dateForDay(value.text, day), {
      fixes: day === undefined ? [] : [replacing(reading, value.range, day, `Write ${day}`)],
    });
    return undefined;
  }
  const number = values.kind === "days" && value.kind === "quantity" && value.unit === undefined ? value.number : "";
  const days = daysWithSlash(number);
  if (days.length > 0)
    report(reading, value.range, say.dayWithSlash(number, days), {
      fixes: days.map((day) => replacing(reading, value.range, day, `Write ${day}`)),
    });
  else report(reading, value.range, say.otherKindOfValue(subject.name, describe(subject), textOf(reading, value)));
  return undefined;
}

/** The lowest and the highest rung. */
export function rungEnds(values: Values): { readonly bottom: Fraction; readonly top: Fraction } {
  const from0 = (count: number) => ({ bottom: new Fraction(0), top: new Fraction(count - 1) });
  switch (values.kind) {
    case "list":
      return from0(values.options.length);
    case "set":
      return from0(2);
    case "days":
      return from0(daysOfTheYear);
    case "times":
      return from0(minutesOfTheDay);
    case "measure":
      if (values.step === undefined) return { bottom: values.low, top: values.high };
      return { bottom: new Fraction(0), top: values.high.sub(values.low).div(values.step) };
  }
}

/** Can two neighbouring rungs be told apart, or is the measure continuous? */
export function isContinuous(values: Values): boolean {
  return values.kind === "measure" && values.step === undefined;
}

export function isCyclic(values: Values): boolean {
  return values.kind === "days" || values.kind === "times";
}

/** A rung as a book writes it; whole rungs only, except on continuous measures. */
export function printRung(values: Values, rung: Fraction): string {
  switch (values.kind) {
    case "list":
      return values.options[Number(rung.n)]!.text;
    case "set":
      return values.members[Number(rung.n)]!;
    case "days":
      return printDay(Number(rung.n));
    case "times":
      return printTime(Number(rung.n));
    case "measure":
      return printQuantity(values.step === undefined ? rung : values.low.add(values.step.mul(rung)), values.unit);
  }
}

/** What the subject's values are, for people: "33 °F to 95 °F", "clear, stained, dirty and muddy". */
export function describe(subject: Subject): string {
  const { values } = subject;
  switch (values.kind) {
    case "list":
      return listed(values.options.map(({ text }) => text));
    case "set":
      return listed(values.members);
    case "days":
      return "days of the year, like apr 15";
    case "times":
      return "times of the day, like 05:30";
    case "measure":
      return `${printQuantity(values.low, values.unit)} to ${printQuantity(values.high, values.unit)}`;
  }
}

/** Number and unit of a quantity, in `wanted`; undefined after a report. `subject` only names it in messages. */
export function readQuantity(reading: Reading, subject: Subject, value: tree.Quantity, wanted: Unit | undefined): Written | undefined {
  const number = readNumber(value.number);
  if (number === undefined) {
    report(reading, value.range, say.noSuchNumber(value.number));
    return undefined;
  }
  if (value.unit === undefined) {
    if (wanted === undefined) return number;
    const withUnit = `${textOf(reading, value)} ${wanted.symbol}`;
    report(reading, value.range, say.missingUnit(subject.name, wanted.symbol, withUnit), {
      fixes: [replacing(reading, value.range, withUnit, `Write ${withUnit}`)],
    });
    return undefined;
  }
  if (wanted === undefined) {
    report(reading, value.range, say.unitOnPlainNumber(subject.name, textOf(reading, value)), {
      fixes: [replacing(reading, value.range, value.number, `Write ${value.number}`)],
    });
    return undefined;
  }
  const unit = readUnit(reading, value.unit, wanted);
  if (unit === undefined) return undefined;
  if (unit.kind !== wanted.kind) {
    report(reading, value.unit.range, say.otherKindOfUnit(subject.name, wanted.kind, unitsOf(wanted.kind), unit.symbol, unit.kind));
    return undefined;
  }
  return { value: convert(number.value, unit, wanted), precision: convertDifference(number.precision, unit, wanted) };
}

/** `wanted`: a unit of the kind that is due, if one is. */
export function readUnit(reading: Reading, name: tree.Name, wanted?: Unit): Unit | undefined {
  if (wanted?.kind === "temperature" && /^(?:°|deg|degrees?)$/i.test(name.text)) {
    report(reading, name.range, say.degreesOfWhat(name.text, unitsOf(wanted.kind), wanted.symbol), {
      fixes: [replacing(reading, name.range, wanted.symbol, `Write ${wanted.symbol}`)],
    });
    return undefined;
  }
  const unit = units.get(name.text);
  if (unit !== undefined) return unit;
  const known = [...units].filter(([, { kind }]) => wanted === undefined || kind === wanted.kind).map(([spelling]) => spelling);
  const meant = unitWords.get(name.text.toLowerCase());
  const close = meant !== undefined && known.includes(meant) ? meant : nearest(name.text, known);
  report(reading, name.range, say.unknownUnit(name.text, close, [...new Set([...units.values()].map(({ symbol }) => symbol))]), {
    fixes: close === undefined ? [] : [replacing(reading, name.range, close, `Write ${close}`)],
  });
  return undefined;
}

/** The rungs of the values on either side of one that does not occur. */
export function neighbours(values: Values, rung: Fraction): string[] {
  const { bottom, top } = rungEnds(values);
  return [rung.floor(), rung.ceil()].filter((side) => side.gte(bottom) && side.lte(top)).map((side) => printRung(values, side));
}

export function isRung(values: Values, rung: Fraction): boolean {
  const { bottom, top } = rungEnds(values);
  return rung.gte(bottom) && rung.lte(top) && (isContinuous(values) || rung.d === 1n);
}

function named(reading: Reading, subject: Subject, name: string, at: tree.Node): Placed | undefined {
  const { values } = subject;
  if (values.kind === "list") {
    const index = values.options.findIndex(({ text }) => text === name);
    if (index >= 0) {
      mentions(reading, at, valueThing(subject, name));
      return { kind: "value", rung: new Fraction(index) };
    }
  }
  const band = subject.bands.get(name);
  if (band !== undefined) {
    reading.scope.mentioned.add(band);
    mentions(reading, at, valueThing(subject, name));
    return { kind: "band", stretch: band.stretch };
  }
  const group = subject.groups.get(name);
  if (group !== undefined) {
    reading.scope.mentioned.add(group);
    mentions(reading, at, groupThing(subject, name));
    return { kind: "group", rungs: group.members };
  }
  const month = values.kind === "days" ? monthNamed(name) : undefined;
  if (month === undefined) unknownValue(reading, subject, name, at);
  else report(reading, at.range, say.monthAlone(subject.name, name, month));
  return undefined;
}

/** Reports a word that is none of the subject's values, with what may have been meant. */
export function unknownValue(reading: Reading, subject: Subject, name: string, at: tree.Node): void {
  const { scope } = reading;
  const words = subject.words === undefined ? [] : [subject.words.rising, subject.words.falling];
  if (words.includes(name)) return report(reading, at.range, say.wordWithoutValue(subject.name, name));
  if (subject.partial || subject.forgiven.has(name)) return;
  if (scope.situations.has(name)) return report(reading, at.range, say.situationAsValue(subject.name, name));
  const close = nearest(name, [...valueNames(subject), ...words, ...scope.situations.keys()]);
  const owner = [...scope.subjects.values()].find((other) => other !== subject && valueNames(other).includes(name));
  report(
    reading,
    at.range,
    say.unknownValue(
      subject.name,
      subject.kind === "condition" ? "values" : "options",
      describe(subject),
      [...subject.bands.keys(), ...subject.groups.keys()],
      textOf(reading, at),
      close,
      owner?.name,
    ),
    {
      fixes: spelling(reading, at.range, name, close),
      related: [{ ...subject.place, message: say.declaredHere(subject.name) }],
    },
  );
}

function amongOptions(reading: Reading, subject: Subject, values: Values & { kind: "list" }, value: tree.Quantity): Placed | undefined {
  if (values.options.every(({ size }) => size === undefined)) {
    report(reading, value.range, say.otherKindOfValue(subject.name, describe(subject), textOf(reading, value)));
    return undefined;
  }
  const read = readQuantity(reading, subject, value, values.unit);
  if (read === undefined) return undefined;
  const size = toBase(read.value, values.unit);
  const index = values.options.findIndex((option) => option.size?.equals(size));
  if (index >= 0) {
    mentions(reading, value, valueThing(subject, values.options[index]!.text));
    return { kind: "value", rung: new Fraction(index) };
  }
  if (!values.bySize) {
    report(reading, value.range, say.otherKindOfValue(subject.name, describe(subject), textOf(reading, value)));
    return undefined;
  }
  const smaller = values.options.filter((option) => option.size!.lt(size)).length;
  return { kind: "value", rung: new Fraction(2 * smaller - 1, 2) };
}

function measureRung(reading: Reading, subject: Subject, measure: Measure, read: Written): Fraction {
  if (measure.step !== undefined) return read.value.sub(measure.low).div(measure.step);
  if (read.value.gte(measure.low) && read.value.lte(measure.high)) {
    const limits = reading.scope.limits.get(subject.index);
    if (limits === undefined) reading.scope.limits.set(subject.index, [read]);
    else limits.push(read);
  }
  return read.value;
}

function readDayValue(reading: Reading, value: tree.DayValue): number | undefined {
  const rung = dayIndex(value.month, value.day);
  if (rung === undefined) report(reading, value.range, say.noSuchDay(textOf(reading, value), monthLength(value.month)));
  return rung;
}
