/**
 * Names, texts, numbers and days where the grammar lets one come: those of the book that fit there.
 *
 *     go with ▮            picks the pattern does not speak of yet        cover has no ▮      members and groups
 *     go with blade ▮      options                                        depth is 10 ▮       ft, in, yd …
 *     when ▮               conditions, situations, judgements, picks      beats ▮             titles of patterns
 */
import * as T from "../../../grammar/tokens.js";
import { serviceWords } from "../../messages/service.js";
import { unquoted } from "../../syntax/concrete.js";
import type * as tree from "../../syntax/tree.js";
import type { NamedSubject } from "../names/name-table.js";
import { listed, named, pickOf, spokenPicks, subjectOf } from "./about.js";
import type { Due, Within } from "./due.js";
import { domainOf, isOrdered, type BookNames } from "./names.js";
import type { Offer, Place } from "./offer.js";
import { allParts, optionItems, partItems, wordItems } from "./parts.js";
import { dayItems, numberItems, timeItems, unitItems, value } from "./quantities.js";

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
