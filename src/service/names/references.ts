/**
 * Every place where what is named at an offset is named: in the viewed book, in those it builds on, and in the other books of the
 * workspace, which may build on the same.
 *
 *     common.lore   condition ⟨clarity⟩ …
 *       ├── lake.lore    … when ⟨clarity⟩ is dirty          asked for here
 *       └── river.lore   … when ⟨clarity⟩ is clear          found through its own view
 */
import type { Place } from "../../diagnostics.js";
import { namesOf } from "./names.js";
import { thingKey, type Mention, type Thing } from "../../model/names.js";
import type { View } from "../view.js";

export interface ReferenceOptions {
  /** With the places where it is declared; left out unless asked for. */
  readonly declarations?: boolean;
  /** The views of other books in the workspace. */
  readonly others?: readonly View[];
}

export function referencesAt(view: View, offset: number, { declarations = false, others = [] }: ReferenceOptions = {}): readonly Place[] {
  const mention = namesOf(view).at(offset);
  if (mention === undefined) return [];
  return mentionsAcross(view, mention.thing, others)
    .filter(({ declares }) => declarations || !declares)
    .map(({ path, range }) => ({ path, range }));
}

/** Each place once: first as the view has them, then what the others add. A thing is the same in two views if both have it declared at one place. */
export function mentionsAcross(view: View, thing: Thing, others: readonly View[]): readonly Mention[] {
  const own = namesOf(view).of(thing);
  const found = new Map(own.map((mention) => [placeKey(mention), mention]));
  const declared = new Set(own.filter(({ declares }) => declares).map(placeKey));
  for (const other of others) {
    const names = namesOf(other);
    for (const same of thingsDeclaredAt(names.mentions, declared)) {
      for (const mention of names.of(same)) if (!found.has(placeKey(mention))) found.set(placeKey(mention), mention);
    }
  }
  return [...found.values()];
}

/** The views, the first among them, that know a thing of it. */
export function viewsKnowing(view: View, thing: Thing, others: readonly View[]): readonly View[] {
  const declared = new Set(
    namesOf(view)
      .of(thing)
      .filter(({ declares }) => declares)
      .map(placeKey),
  );
  const knows = (other: View): boolean =>
    namesOf(other)
      .of(thing)
      .some((mention) => mention.declares && declared.has(placeKey(mention)));
  return [view, ...others.filter(knows)];
}

function thingsDeclaredAt(mentions: readonly Mention[], places: ReadonlySet<string>): Iterable<Thing> {
  const things = new Map<string, Thing>();
  for (const mention of mentions) if (mention.declares && places.has(placeKey(mention))) things.set(thingKey(mention.thing), mention.thing);
  return things.values();
}

function placeKey({ path, range }: Place): string {
  return `${range.start} ${path}`;
}
