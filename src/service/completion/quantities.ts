/** Numbers, units, days and times: what is written of the same thing elsewhere in the book, then round values in its range. */
import { months } from "../../../grammar/months.js";
import type { IToken } from "chevrotain";
import { serviceWords } from "../../messages/service.js";
import { monthLength } from "../../model/calendar.js";
import { convertDifference, printQuantity, readNumber, units } from "../../model/quantities.js";
import type * as tree from "../../syntax/tree.js";
import { sizeOf, type NamedSubject } from "../names/name-table.js";
import { measured, pickOf } from "./about.js";
import type { Within } from "./due.js";
import { allUnits, domainOf, unitsFor, type BookNames } from "./names.js";
import type { Offer, Place } from "./offer.js";
import { optionItems } from "./parts.js";

/** Steps up to this many are all offered; of more, and of what is continuous, round values. */
const MOST_STEPS = 120;

export function* numberItems(place: Place, within: readonly Within[]): Generator<Offer> {
  const { context, names } = place;
  const { tokens } = context;
  const [inner, outer, third] = within;
  if (inner?.rule === "number") {
    for (const n of ["1", "2", "3"]) yield value(n, 200 + Number(n));
    return;
  }
  if (outer?.rule !== "value") return;
  if (third?.rule === "optionValue") return yield* optionItems(place, within, "quantity");
  const subject = measured(tokens, within, names);
  if (subject === undefined) return;
  const domain = domainOf(names, subject);
  const label = subject.node.label?.value ?? subject.thing.name;
  let rank = 110;
  if (domain === "options") {
    for (const option of new Set(subject.sizes.values()))
      yield { label: option.name, kind: "option", text: option.name, detail: serviceWords.optionOf(label), rank: rank++ };
    return;
  }
  if (domain?.kind !== "measure") return;
  const unit = (domain.high ?? domain.low)?.unit?.text;
  const written = (names.written.get(subject.thing.name) ?? []).map((text) =>
    unit && /^[-\d./ ]+$/.test(text) ? `${text} ${unit}` : text,
  );
  const typed = isWithin(domain, context.typed) ? [unit ? `${context.typed} ${unit}` : context.typed] : [];
  for (const text of new Set([...typed, ...written, ...stepsOf(domain)]))
    yield { label: text, kind: "value", text, detail: serviceWords.valueOf(label), rank: rank++ };
}

function isWithin({ low, high }: tree.Domain & { kind: "measure" }, typed: string): boolean {
  const [from, to, read] = [low?.number, high?.number, typed].map((number) =>
    number === undefined ? undefined : readNumber(number)?.value,
  );
  return read !== undefined && from !== undefined && to !== undefined && read.gte(from) && read.lte(to);
}

function stepsOf({ low, high, step }: tree.Domain & { kind: "measure" }): readonly string[] {
  const unit = units.get((high?.unit ?? low?.unit)?.text ?? "");
  const [from, to] = [low && readNumber(low.number)?.value, high && readNumber(high.number)?.value];
  if (from === undefined || to === undefined || to.lte(from)) return [];
  const own = step && readNumber(step.number)?.value;
  const stepUnit = units.get(step?.unit?.text ?? "");
  let by = own?.gt(0)
    ? unit && stepUnit && stepUnit.kind === unit.kind
      ? convertDifference(own, stepUnit, unit)
      : own
    : to.sub(from).div(20);
  let first = from;
  if (own === undefined) {
    // The next round number: 1, 2 or 5 with some zeros.
    const power = 10 ** Math.floor(Math.log10(by.valueOf()));
    const round = [1, 2, 5, 10].map((n) => n * power).find((n) => n >= by.valueOf() * 0.999) ?? 10 * power;
    by = readNumber(round >= 1 ? String(Math.round(round)) : round.toFixed(6))!.value;
    if (!by.gt(0)) return [];
    first = from.div(by).ceil().mul(by);
  }
  const skip = Math.max(1, Math.ceil(to.sub(first).div(by).valueOf() / MOST_STEPS));
  by = by.mul(skip);
  const all: string[] = [];
  for (let at = first; at.lte(to) && all.length <= MOST_STEPS; at = at.add(by)) all.push(printQuantity(at, unit));
  return all;
}

export function* unitItems(place: Place, within: readonly Within[]): Generator<Offer> {
  const {
    context: { tokens },
    names,
  } = place;
  const at = within.findIndex(({ rule }) => rule === "quantity");
  const outer = within[at + 1]?.rule;
  let symbols: readonly string[] = [];
  if (outer === "limit") {
    const measure = within.find(({ rule }) => rule === "measure");
    const earlier = tokens.slice(measure?.start ?? 0).find(({ image }) => units.has(image));
    symbols = earlier ? unitsFor(earlier.image) : allUnits();
  } else if (within[at + 2]?.rule === "optionValue") symbols = optionUnits(tokens, within, names);
  else {
    const subject = measured(tokens, within, names);
    const domain = subject && domainOf(names, subject);
    if (typeof domain === "object" && domain.kind === "measure") symbols = unitsFor((domain.high?.unit ?? domain.low?.unit)?.text);
    else if (subject) symbols = unitsFor(unitIn(subject, tokens.at(-1)?.image));
  }
  let rank = 80;
  for (const symbol of symbols)
    yield { label: symbol, kind: "unit", text: symbol, detail: serviceWords.unit(units.get(symbol)!.kind), rank: rank++ };
}

/** Of a pick that is declared any unit, else the units in which the number is one of its options. */
function optionUnits(tokens: readonly IToken[], within: readonly Within[], names: BookNames): readonly string[] {
  const pick = pickOf(tokens, within, names);
  if (pick === undefined) {
    const earlier = tokens.slice(3).find(({ image }) => units.has(image));
    return earlier ? unitsFor(earlier.image) : within.some(({ rule }) => rule === "pick") ? allUnits() : [];
  }
  const number = tokens.at(-1)!.image;
  return unitsFor(unitIn(pick, number)).filter((symbol) =>
    pick.sizes.has(sizeOf({ kind: "quantity", number, range: none, unit: { text: symbol, range: none } })),
  );
}
const none = { start: 0, end: 0 };

/** The unit of the option with a number, or of any. */
function unitIn(pick: NamedSubject, number: string | undefined): string | undefined {
  const options = [...pick.values.keys()];
  const one = options.find((option) => option.startsWith(`${number} `)) ?? options.find((option) => units.has(option.split(" ").at(-1)!));
  return one?.split(" ").at(-1);
}

export function* dayItems({ context: { tokens }, names }: Place, within: readonly Within[]): Generator<Offer> {
  const subject = measured(tokens, within, names);
  const domain = subject && domainOf(names, subject);
  if (!subject || typeof domain !== "object" || domain.kind !== "days") return;
  let rank = 160;
  const usual = months.flatMap((month, at) => [1, 15, monthLength(at + 1)!.length].map((day) => `${month} ${day}`));
  for (const day of new Set([...(names.written.get(subject.thing.name) ?? []), ...usual]))
    yield { ...value(day, rank++), detail: serviceWords.valueOf(subject.thing.name) };
}

export function* timeItems({ context: { tokens }, names }: Place, within: readonly Within[]): Generator<Offer> {
  const subject = measured(tokens, within, names);
  const domain = subject && domainOf(names, subject);
  if (!subject || typeof domain !== "object" || domain.kind !== "times") return;
  const hours = Array.from({ length: 24 }, (_, hour) => `${String(hour).padStart(2, "0")}:00`);
  let rank = 160;
  for (const time of new Set([...(names.written.get(subject.thing.name) ?? []), ...hours]))
    yield { ...value(time, rank++), detail: serviceWords.valueOf(subject.thing.name) };
}

export function value(text: string, rank: number): Offer {
  return { label: text, kind: "value", text, rank };
}
