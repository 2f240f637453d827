/**
 * Names, texts, numbers and days where the grammar lets one come: those of the book that fit there.
 *
 *     go with ▮            picks the pattern does not speak of yet        cover has no ▮      members and groups
 *     go with blade ▮      options                                        depth is 10 ▮       ft, in, yd …
 *     when ▮               conditions, situations, judgements, picks      beats ▮             titles of patterns
 */
import { months } from "../../../grammar/months.js";
import type { IToken } from "chevrotain";
import * as T from "../../../grammar/tokens.js";
import { serviceWords } from "../../messages/service.js";
import { monthLength } from "../../model/calendar.js";
import { convertDifference, printQuantity, readNumber, units } from "../../model/quantities.js";
import type * as tree from "../../syntax/tree.js";
import { unquoted } from "../../syntax/concrete.js";
import type { Completion, Offer, Place } from "./offer.js";
import { allUnits, comparingWords, domainOf, isOrdered, optionAsWritten, unitsFor, type BookNames } from "./names.js";
import type { Due, Within } from "./due.js";
import { sizeOf, type NamedSubject } from "../names/name-table.js";
import type { Thing } from "../../model/names.js";

export function* valueItems(place: Place, { token, within }: Due): Generator<Offer> {
  if (place.context.quoted && token !== T.Text) return;
  switch (token) {
    case T.Name:
      return yield* nameItems(place, within);
    case T.Text:
      return yield* textItems(place, within);
    case T.Number:
      return yield* numberItems(place, within);
    case T.Unit:
      return yield* unitItems(place, within);
    case T.Day:
      return yield* dayItems(place, within);
    case T.Time:
      return yield* timeItems(place, within);
    case T.Date:
      // Among options and values a date is read too, only to say that it is none.
      if (place.view.model.on !== undefined && !within.some(({ rule }) => rule === "value")) yield value(place.view.model.on, 200);
  }
}

function* nameItems(place: Place, within: readonly Within[]): Generator<Offer> {
  const {
    context: { tokens },
    names,
  } = place;
  const outer = within[1]?.rule;
  switch (within[0]?.rule) {
    case "conditionName":
      return yield* conditionItems(place, within);
    case "pickName":
      return yield* pickItems(place, within);
    case "subject":
      return yield* subjectItems(place);
    case "member":
      return yield* partItems(subjectOf(tokens, within, names), names, listed(tokens, within, "members"));
    case "level":
      if (within.some(({ rule }) => rule === "group"))
        yield* partItems(named(names, tokens[1]), names, listed(tokens, within, "levels"), ["level", "member"]);
      return;
    case "comparingWord": {
      const subject = outer === "is" ? subjectOf(tokens, within, names) : outer === "never" ? pickOf(tokens, within, names) : undefined;
      return subject && isOrdered(names, subject) ? yield* wordItems(subject, names, outer === "is" ? 150 : 100) : undefined;
    }
    case "unit":
      return yield* unitItems(place, within);
    case "value": {
      if (outer === "optionValue") return yield* optionItems(place, within, "name");
      if (outer === "bandPart") return;
      const subject = subjectOf(tokens, within, names);
      if (subject === undefined) return;
      const kinds = outer === "isLimit" || outer === "between" ? ["level", "option"] : allParts;
      yield* partItems(subject, names, outer === "values" || outer === "isNeither" ? listed(tokens, within, outer) : new Set(), kinds);
      // `is dirty or dirtier`: after one value and an `or`.
      if (outer === "values" && tokens.at(-1)?.tokenType === T.Or && isOrdered(names, subject)) yield* wordItems(subject, names, 90);
      return;
    }
    case undefined:
      return;
  }
}

// Conditions and picks ------------------------------------------------------------------------------------------------------

function* conditionItems({ context: { tokens }, names }: Place, within: readonly Within[]): Generator<Offer> {
  const here = within[1]?.rule;
  const taken = here === "trustOrder" ? new Set(tokens.slice(within[1]!.start).map(({ image }) => image)) : new Set<string>();
  let rank = 100;
  for (const subject of byUse(names)) {
    const domain = domainOf(names, subject);
    const kind = typeof domain === "object" ? domain.kind : "";
    const isCondition = subject.thing.kind === "condition";
    const hasBands = [...subject.values.values()].some((one) => one.kind === "band");
    const fits = {
      band: isCondition && ["measure", "days", "times"].includes(kind) && !hasBands,
      group: isCondition && ["scale", "set"].includes(kind),
      pick: isCondition && (kind === "scale" || hasBands),
      trustOrder: subject.thing.kind !== "pick",
    }[here ?? ""];
    if (fits && !taken.has(subject.thing.name)) yield subjectItem(subject, names, rank++);
  }
}

function* pickItems({ context: { tokens }, names, view }: Place, within: readonly Within[]): Generator<Offer> {
  const here = within[1]!;
  const spoken = new Set(here.rule === "pickNames" ? tokens.slice(here.start).map(({ image }) => image) : []);
  const already = new Set(spokenPicks(tokens));
  let rank = 100;
  for (const subject of names.subjects.values()) {
    const { thing, node } = subject;
    if (thing.kind === "condition" || spoken.has(thing.name)) continue;
    if (here.rule === "move" && !isOrdered(names, subject)) continue;
    if (here.rule === "addOption" && view.parsed.tree.statements.includes(node)) continue;
    // What is passed on to customers before what is only judged, and what the pattern already speaks of last.
    const late =
      (here.rule === "goWith" && already.has(thing.name) ? 40 : 0) + (thing.kind === "judgement" && here.rule !== "move" ? 20 : 0);
    yield subjectItem(subject, names, rank++ + late);
  }
}

function* subjectItems({ context: { tokens }, names }: Place): Generator<Offer> {
  const first = tokens[0]!.tokenType;
  const spoken = new Set(spokenPicks(tokens));
  const own = first === T.Pick || first === T.Judgement ? tokens[1]?.image : undefined;
  // After `is dirty or` another value is likelier than another test.
  const later = tokens.at(-1)!.tokenType === T.Or && tokens.at(-2)?.tokenType !== T.Comma ? 150 : 0;
  let rank = 100 + later;
  for (const subject of byUse(names)) {
    const { kind, name } = subject.thing;
    if (kind !== "condition" && (first === T.Impossible || spoken.has(name) || name === own)) continue;
    yield subjectItem(subject, names, rank++ + (kind === "pick" ? 60 : 0));
  }
  for (const name of names.situations.keys()) {
    if (first === T.Situation && name === tokens[1]?.image) continue;
    yield { label: name, kind: "situation", text: name, rank: 140 + later - Math.min(30, names.tested.get(name) ?? 0) };
  }
}

/** The picks that the pattern or `say nothing` being written speaks of. */
function spokenPicks(tokens: readonly IToken[]): readonly string[] {
  const actions = [T.GoWith, T.LeanTo, T.LeanOff, T.Never, T.Move, T.SayNothingOn];
  return tokens.flatMap((token, i) => (actions.includes(token.tokenType) && tokens[i + 1] ? [tokens[i + 1]!.image] : []));
}

function byUse(names: BookNames): readonly NamedSubject[] {
  const uses = ({ thing }: NamedSubject): number => names.tested.get(thing.name) ?? 0;
  return [...names.subjects.values()].sort((a, b) => uses(b) - uses(a));
}

function subjectItem(subject: NamedSubject, names: BookNames, rank: number): Offer {
  const { thing, node } = subject;
  const kind = thing.kind as "condition" | "pick" | "judgement";
  return {
    label: thing.name,
    kind,
    text: thing.name,
    rank,
    detail: serviceWords.subject(kind, node.label?.value, valuesInShort(subject, domainOf(names, subject))),
  };
}

/** More are cut off. */
const FEW_VALUES = 6;

function valuesInShort(subject: NamedSubject, domain: tree.Domain | "options" | undefined): string {
  if (typeof domain === "object" && domain.kind !== "scale" && domain.kind !== "set") {
    if (domain.kind === "days") return serviceWords.days;
    if (domain.kind === "times") return serviceWords.times;
    return domain.low && domain.high ? serviceWords.range(asWritten(domain.low, domain.high.unit), asWritten(domain.high)) : "";
  }
  const all = [...subject.values.values()]
    .filter(({ kind }) => kind === "level" || kind === "member" || kind === "option")
    .map(({ name }) => name);
  return all.slice(0, FEW_VALUES).join(", ") + (all.length > FEW_VALUES ? " …" : "");
}

function asWritten({ number, unit }: tree.Quantity, other?: tree.Name): string {
  const symbol = unit ?? other;
  return symbol ? `${number} ${symbol.text}` : number;
}

// Parts of conditions, options, comparing words ------------------------------------------------------------------------------

const allParts = ["level", "member", "option", "band", "group"];

/** Levels, members, bands and groups of a subject by name; those that stand for several first. */
function* partItems(
  subject: NamedSubject | undefined,
  names: BookNames,
  taken: ReadonlySet<string>,
  kinds: readonly string[] = allParts,
): Generator<Offer> {
  if (subject === undefined) return;
  let rank = 100;
  for (const [name, thing] of subject.values) {
    rank++;
    if (taken.has(name) || !kinds.includes(thing.kind)) continue;
    const text = thing.kind === "option" ? optionAsWritten(subject, thing) : name;
    const several = thing.kind === "group" || thing.kind === "band";
    yield {
      label: text,
      kind: thing.kind as Completion["kind"],
      text,
      detail: partDetail(subject, thing, names),
      rank: several ? rank - 40 : rank,
    };
  }
}

function partDetail({ node, thing: { name: own } }: NamedSubject, { kind, name }: Thing, names: BookNames): string {
  const label = node.label?.value ?? own;
  switch (kind) {
    case "member":
      return serviceWords.memberOf(label);
    case "option":
      return serviceWords.optionOf(label);
    case "group":
      return serviceWords.groupOf(label, names.groups.get(`${own} ${name}`) ?? []);
    case "band":
      return serviceWords.bandOf(label);
    default:
      return serviceWords.levelOf(label);
  }
}

function* wordItems(subject: NamedSubject, names: BookNames, rank: number): Generator<Offer> {
  const label = subject.node.label?.value ?? subject.thing.name;
  for (const { word, rising } of comparingWords(names, subject))
    yield { label: word, kind: "comparing word", text: word, detail: serviceWords.comparing(label, rising), rank: rank + (rising ? 0 : 1) };
}

/** Options of the pick spoken of; only those written as a name, as a quantity, or in quotes. */
function* optionItems(
  { context: { tokens }, names }: Place,
  within: readonly Within[],
  form: "name" | "quantity" | "text",
): Generator<Offer> {
  const pick = pickOf(tokens, within, names);
  if (pick === undefined) return;
  const list = within.find(({ rule }) => ["places", "options", "duty"].includes(rule));
  const taken = new Set(list ? tokens.slice(list.start).map(({ image }) => unquoted(image)) : []);
  const label = pick.node.label?.value ?? pick.thing.name;
  let rank = 100;
  for (const [name, thing] of pick.values) {
    rank++;
    if (thing.kind !== "option" && thing.kind !== "level" && thing.kind !== "band") continue;
    const text = optionAsWritten(pick, thing);
    const its = text.startsWith('"') ? "text" : [...pick.sizes.values()].includes(thing) ? "quantity" : "name";
    if (its === form && !taken.has(name)) yield { label: text, kind: "option", text, detail: serviceWords.optionOf(label), rank };
  }
}

/** The names in the list that is being written. */
function listed(tokens: readonly IToken[], within: readonly Within[], rule: string): ReadonlySet<string> {
  const list = within.find((one) => one.rule === rule);
  return new Set(list ? tokens.slice(list.start).map(({ image }) => image) : []);
}

// Texts ---------------------------------------------------------------------------------------------------------------------

function* textItems(place: Place, within: readonly Within[]): Generator<Offer> {
  const {
    context: { tokens },
    names,
    view,
    options,
  } = place;
  const [inner, outer] = within;
  const own = tokens[0]?.tokenType === T.Pattern ? unquoted(tokens[1]?.image ?? "") : undefined;
  const last = view.model.books.length - 1;
  if (inner?.rule === "title" && outer?.rule === "titles") {
    const taken = new Set(tokens.slice(outer.start).map(({ image }) => unquoted(image)));
    const picks = new Set(spokenPicks(tokens));
    const leavesOut = within.some(({ rule }) => rule === "leaveOut");
    let rank = 100;
    for (const { title, book, node } of names.patterns) {
      if (title === own || taken.has(title) || title.includes('"') || (leavesOut && book === last)) continue;
      const shares = node.actions.some(({ pick }) => pick && picks.has(pick.text));
      const detail = node.actions.map(({ kind, pick }) => `${kind} ${pick?.text ?? ""}`).join(", ");
      yield { label: title, kind: "pattern", text: `"${title}"`, detail, rank: rank++ + (shares || leavesOut ? 0 : 1000) };
    }
  } else if (inner?.rule === "path") {
    const taken = new Set(
      view.parsed.tree.statements.flatMap((statement) => (statement.kind === "builds on" && statement.path ? [statement.path.value] : [])),
    );
    let rank = 100;
    for (const path of options.paths?.() ?? [])
      if (!taken.has(path)) yield { label: path, kind: "path", text: `"${path}"`, detail: serviceWords.base, rank: rank++ };
  } else if (inner?.rule === "value") {
    if (outer?.rule === "optionValue") yield* optionItems(place, within, "text");
    else {
      const pick = subjectOf(tokens, within, names);
      if (pick) for (const offer of partItems(pick, names, new Set(), ["option"])) if (offer.text.startsWith('"')) yield offer;
    }
  }
}

// Numbers and units ---------------------------------------------------------------------------------------------------------

/** Steps up to this many are all offered; of more, and of what is continuous, round values. */
const MOST_STEPS = 120;

function* numberItems(place: Place, within: readonly Within[]): Generator<Offer> {
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

function* unitItems(place: Place, within: readonly Within[]): Generator<Offer> {
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

// Days and times ------------------------------------------------------------------------------------------------------------

function* dayItems({ context: { tokens }, names }: Place, within: readonly Within[]): Generator<Offer> {
  const subject = measured(tokens, within, names);
  const domain = subject && domainOf(names, subject);
  if (!subject || typeof domain !== "object" || domain.kind !== "days") return;
  let rank = 160;
  const usual = months.flatMap((month, at) => [1, 15, monthLength(at + 1)!.length].map((day) => `${month} ${day}`));
  for (const day of new Set([...(names.written.get(subject.thing.name) ?? []), ...usual]))
    yield { ...value(day, rank++), detail: serviceWords.valueOf(subject.thing.name) };
}

function* timeItems({ context: { tokens }, names }: Place, within: readonly Within[]): Generator<Offer> {
  const subject = measured(tokens, within, names);
  const domain = subject && domainOf(names, subject);
  if (!subject || typeof domain !== "object" || domain.kind !== "times") return;
  const hours = Array.from({ length: 24 }, (_, hour) => `${String(hour).padStart(2, "0")}:00`);
  let rank = 160;
  for (const time of new Set([...(names.written.get(subject.thing.name) ?? []), ...hours]))
    yield { ...value(time, rank++), detail: serviceWords.valueOf(subject.thing.name) };
}

function value(text: string, rank: number): Offer {
  return { label: text, kind: "value", text, rank };
}

// What a place is about ------------------------------------------------------------------------------------------------------

/** The condition, pick or judgement that the innermost test is about. */
export function subjectOf(tokens: readonly IToken[], within: readonly Within[], names: BookNames): NamedSubject | undefined {
  const term = within.find(({ rule }) => rule === "term");
  const name = term && tokens.slice(term.start).find((token) => token.tokenType !== T.Not);
  return named(names, name);
}

function named(names: BookNames, token: IToken | undefined): NamedSubject | undefined {
  return token && names.subjects.get(token.image);
}

/** What a number or a day is a value of: the condition that bands are being named for, or the subject of a test. */
function measured(tokens: readonly IToken[], within: readonly Within[], names: BookNames): NamedSubject | undefined {
  return within.some(({ rule }) => rule === "bandPart") ? named(names, tokens[1]) : subjectOf(tokens, within, names);
}

/** The pick that an action, a fall back or a promise is about; undefined where options are being declared. */
function pickOf(tokens: readonly IToken[], within: readonly Within[], names: BookNames): NamedSubject | undefined {
  for (const { rule, start } of within) {
    if (["goWith", "lean", "never", "move", "fallBack", "addOption"].includes(rule)) return named(names, tokens[start + 1]);
    if (rule === "promise") return named(names, tokens[tokens.findIndex(({ tokenType }) => tokenType === T.Colon) + 1]);
  }
  return undefined;
}
