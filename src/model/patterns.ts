/**
 * Patterns: the rules of thumb.
 *
 *     pattern "Mud wants thump"                          picks named, options by index, exact amounts,
 *       go with blade colorado, then indiana     ──▶     the `when` bound; titles after `beats` stay titles
 *       when seen is dirty or dirtier                    until all patterns are known
 *
 * A pattern of which any part cannot be read is broken: it is left out, and kept aside with the picks it speaks on and its `when`.
 */
import { Fraction } from "fraction.js";
import * as say from "../messages/model.js";
import type * as tree from "../syntax/tree.js";
import { isReadable, type Bound } from "./bound.js";
import { readDate } from "./calendar.js";
import type * as model from "./model.js";
import { findOptions, findPick, guessPick } from "./picks.js";
import { readNumber } from "./quantities.js";
import { comparison, hasOrder, wordSide } from "./relations.js";
import { placeOf, report, textOf, type Reading, type Subject } from "./scope.js";
import { bindTest } from "./tests.js";

export interface PatternDraft {
  readonly reading: Reading;
  readonly node: tree.Pattern;
  readonly title: string;
  /** Some part could not be read. */
  readonly broken: boolean;
  /** In which picks it has a say; of a broken one, as far as can be told. */
  readonly picks: readonly Subject[];
  readonly when?: Bound;
  readonly goes: readonly { readonly pick: number; readonly places: model.Places }[];
  readonly leans: readonly { readonly pick: number; readonly option: number; readonly by: Fraction }[];
  readonly nevers: readonly { readonly pick: number; readonly options: readonly number[] }[];
  readonly moves: readonly { readonly pick: number; readonly by: number }[];
  readonly checked?: string;
  readonly until?: string;
}

type Said =
  | { readonly kind: "go"; readonly pick: Subject; readonly places: model.Places }
  | { readonly kind: "lean"; readonly pick: Subject; readonly options: readonly number[]; readonly by: Fraction }
  | { readonly kind: "never"; readonly pick: Subject; readonly options: readonly number[] }
  | { readonly kind: "move"; readonly pick: Subject; readonly by: number };

export function readPattern(reading: Reading, node: tree.Pattern): PatternDraft {
  const picks = node.actions.map((action) => action.pick && findPick(reading, action.pick));
  const said = node.actions.map((action, i) => readAction(reading, action, picks[i]));
  const read = said.filter((action) => action !== undefined);
  const [twice, leanedTwice] = [hasDoubled(reading, node.actions, picks), hasDoubledLean(reading, node.actions, said)];
  const when = node.when && bindTest(reading, node.when);
  const [checked, until] = [readDateText(reading, node.checked), readDateText(reading, node.until)];
  return {
    reading,
    node,
    title: node.title?.value ?? "",
    broken:
      node.title === undefined ||
      reading.broken.has(node) ||
      read.length < said.length ||
      read.length === 0 ||
      twice ||
      leanedTwice ||
      !isReadable(when),
    picks: [...new Set(node.actions.flatMap(({ pick }, i) => picks[i] ?? (pick && guessPick(reading, pick)) ?? []))],
    ...(when && { when }),
    goes: read.flatMap((action) => (action.kind === "go" ? [{ pick: action.pick.index, places: action.places }] : [])),
    leans: read.flatMap((action) =>
      action.kind === "lean" ? action.options.map((option) => ({ pick: action.pick.index, option, by: action.by })) : [],
    ),
    nevers: read.flatMap((action) => (action.kind === "never" ? [{ pick: action.pick.index, options: action.options }] : [])),
    moves: read.flatMap((action) => (action.kind === "move" ? [{ pick: action.pick.index, by: action.by }] : [])),
    ...(checked && { checked }),
    ...(until && { until }),
  };
}

/** A date as written, if there is such a day; else reported. */
export function readDateText(reading: Reading, date: tree.DateValue | undefined): string | undefined {
  if (date === undefined || readDate(date.text) !== undefined) return date?.text;
  report(reading, date.range, say.noSuchDate(date.text));
  return undefined;
}

/** Places of options by index; undefined if any cannot be read. */
export function readPlaces(reading: Reading, pick: Subject, places: tree.WrittenPlaces): model.Places | undefined {
  const found = findOptions(reading, pick, places.flat());
  return found && places.map((place) => place.flatMap((value) => found.get(value) ?? [])).filter((place) => place.length > 0);
}

/** Option indexes of a list; undefined if any cannot be read. */
export function readOptionList(reading: Reading, pick: Subject, list: readonly tree.Value[]): readonly number[] | undefined {
  const found = findOptions(reading, pick, list);
  return found && [...found.values()];
}

function readAction(reading: Reading, action: tree.Action, pick: Subject | undefined): Said | undefined {
  if (pick === undefined) return undefined;
  switch (action.kind) {
    case "go with": {
      const places = readPlaces(reading, pick, action.places);
      return places && { kind: "go", pick, places };
    }
    case "lean to":
    case "lean off": {
      const options = readOptionList(reading, pick, action.options);
      const by = readAmount(reading, action.by);
      if (by?.lte(0)) report(reading, action.by!.range, say.leanNotPositive(textOf(reading, action.by!)));
      if (options === undefined || by === undefined || by.lte(0)) return undefined;
      return { kind: "lean", pick, options, by: action.kind === "lean to" ? by : by.neg() };
    }
    case "never": {
      const options =
        action.orWord === undefined ? readOptionList(reading, pick, action.options) : onOneSide(reading, pick, action, action.orWord);
      return options && { kind: "never", pick, options };
    }
    case "move": {
      if (action.direction === undefined || pick.values.kind !== "list") return undefined;
      const by = readAmount(reading, action.by);
      if (!pick.values.ordered)
        report(reading, action.pick!.range, say.moveWithoutOrder(pick.name), {
          related: [{ ...pick.place, message: say.declaredHere(pick.name) }],
        });
      if (by !== undefined && (by.d !== 1n || by.lte(0))) report(reading, action.by!.range, say.moveNotWhole(textOf(reading, action.by!)));
      if (by === undefined || by.d !== 1n || by.lte(0) || !pick.values.ordered) return undefined;
      return { kind: "move", pick, by: action.direction === "up" ? Number(by.n) : -Number(by.n) };
    }
  }
}

/** `1/2 oz or heavier`: all options on that side, the one named included. */
function onOneSide(reading: Reading, pick: Subject, never: tree.Never, word: tree.Name): readonly number[] | undefined {
  const value = never.options.at(-1);
  if (value === undefined || pick.values.kind !== "list" || !hasOrder(reading, pick, word.range)) return undefined;
  const side = wordSide(reading, pick, word, "or");
  const [stretch] = (side && comparison(reading, pick, side, value)) ?? [];
  const others = never.options.length > 1 ? readOptionList(reading, pick, never.options.slice(0, -1)) : [];
  if (stretch === undefined || others === undefined) return undefined;
  const onThatSide = pick.values.options.flatMap((_, index) => (stretch.from.lte(index) && stretch.to.gte(index) ? [index] : []));
  return [...new Set([...others, ...onThatSide])];
}

/** An amount, 1 if not said; undefined after a report. */
function readAmount(reading: Reading, by: tree.NumberValue | undefined): Fraction | undefined {
  if (by === undefined) return new Fraction(1);
  const number = readNumber(by.number);
  if (number === undefined) report(reading, by.range, say.noSuchNumber(by.number));
  return number?.value;
}

/** Says one pattern two things of one pick that cannot both be meant? Reports each. */
function hasDoubled(reading: Reading, actions: readonly tree.Action[], picks: readonly (Subject | undefined)[]): boolean {
  const seen = new Map<string, tree.Action>();
  let doubled = false;
  actions.forEach((action, i) => {
    const pick = picks[i];
    if (pick === undefined || (action.kind !== "go with" && action.kind !== "move")) return;
    const key = `${action.kind} ${pick.name}`;
    const first = seen.get(key);
    if (first === undefined) seen.set(key, action);
    else {
      doubled = true;
      report(reading, action.range, say.saidTwice(action.kind, pick.name), {
        related: [{ ...placeOf(reading, first.range), message: say.firstHere(key) }],
      });
    }
  });
  return doubled;
}

/** Does one pattern lean on one option twice? Reports each. */
function hasDoubledLean(reading: Reading, actions: readonly tree.Action[], said: readonly (Said | undefined)[]): boolean {
  const seen = new Set<string>();
  let doubled = false;
  actions.forEach((action, i) => {
    const lean = said[i];
    if (lean?.kind !== "lean" || lean.pick.values.kind !== "list") return;
    for (const option of lean.options) {
      const key = `${lean.pick.name} ${lean.pick.values.options[option]!.text}`;
      if (seen.has(key)) {
        doubled = true;
        report(reading, action.range, say.leanedTwice(key));
      }
      seen.add(key);
    }
  });
  return doubled;
}
