/** The parts of a condition, the options of a pick, and the words that compare them. */
import { serviceWords } from "../../messages/service.js";
import type { Thing } from "../../model/names.js";
import { unquoted } from "../../syntax/concrete.js";
import type { NamedSubject } from "../names/name-table.js";
import { pickOf } from "./about.js";
import type { Within } from "./due.js";
import { comparingWords, optionAsWritten, type BookNames } from "./names.js";
import type { Completion, Offer, Place } from "./offer.js";

export const allParts = ["level", "member", "option", "band", "group"];

/** Levels, members, bands and groups of a subject by name; those that stand for several first. */
export function* partItems(
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

export function* wordItems(subject: NamedSubject, names: BookNames, rank: number): Generator<Offer> {
  const label = subject.node.label?.value ?? subject.thing.name;
  for (const { word, rising } of comparingWords(names, subject))
    yield { label: word, kind: "comparing word", text: word, detail: serviceWords.comparing(label, rising), rank: rank + (rising ? 0 : 1) };
}

/** Options of the pick spoken of; only those written as a name, as a quantity, or in quotes. */
export function* optionItems(
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
