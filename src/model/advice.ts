/**
 * What is said of a pick beside its patterns: `trust`, `fall back on`, `say nothing on`, `only when`; and of the books, which of
 * several counts.
 *
 *     county.lore   fall back on blade round  ─┐   shop.lore builds on both: its own fall back counts; without one,
 *     lake.lore     fall back on blade leaf   ─┴─▶ two books side by side both have one, which is an error
 */
import type { Place } from "../diagnostics.js";
import * as say from "../messages/model.js";
import type * as tree from "../syntax/tree.js";
import { isReadable, type Bound } from "./bound.js";
import { mostLocal, type Shelf } from "./books.js";
import { distinct } from "./conditions.js";
import type * as model from "./model.js";
import { readPlaces } from "./patterns.js";
import { EVERYTHING, findPick, guessPick } from "./picks.js";
import { placeOf, replacing, report, type Reading, type Subject } from "./scope.js";
import { bindTest, findSubject } from "./tests.js";

export interface Advice {
  readonly fallBack?: model.FallBack;
  /** None could be read, or none that counts. */
  readonly trust: readonly Subject[];
  /** What is said on everything is the same one for every pick. */
  readonly sayNothing: readonly Silence[];
  /** Where what could not be read might have changed the answer: everywhere, or where the test holds. */
  readonly unread: readonly { readonly when?: Bound }[];
}

export interface Silence {
  readonly everything: boolean;
  readonly when: Bound;
  readonly because?: string;
  readonly book: number;
  readonly place: Place;
}

/** A statement in the book it stands in. */
export interface Standing<T> {
  readonly reading: Reading;
  readonly node: T;
}

interface Candidate<T> {
  readonly book: number;
  readonly place: Place;
  readonly reading: Reading;
  readonly value: T | undefined;
}

/** Reads all three kinds of statement. */
export function readAdvice(
  shelf: Shelf,
  statements: Iterable<Standing<tree.Statement>>,
): {
  /** What is said of each pick. */
  readonly pick: (pick: Subject) => Advice;
  /** What is said on everything. */
  readonly closed: readonly Silence[];
} {
  const fallBacks = new Map<Subject, Candidate<model.FallBack>[]>();
  const trusts = new Map<Subject | "all", Candidate<readonly Subject[]>[]>();
  const silences = new Map<Subject | "everything", Silence[]>();
  const unread = new Map<Subject | "everything", { when?: Bound }[]>();
  const holdGuess = (reading: Reading, name: tree.Name | undefined): void => {
    const guess = name && guessPick(reading, name);
    if (guess !== undefined) add(unread, guess, {});
  };
  for (const { reading, node } of statements) {
    const damaged = reading.broken.has(node);
    const place = placeOf(reading, node.range);
    if (node.kind === "trust") {
      const pick = node.pick === undefined ? "all" : findPick(reading, node.pick);
      const value = readTrust(reading, node);
      if (pick !== undefined) add(trusts, pick, { book: reading.book, place, reading, value });
    } else if (node.kind === "fall back") {
      const pick = node.pick && findPick(reading, node.pick);
      const places = pick && readPlaces(reading, pick, node.places);
      if (pick === undefined) holdGuess(reading, node.pick);
      if (pick === undefined) continue;
      const value =
        places && !damaged ? { places, ...(node.because && { because: node.because.value }), book: reading.book, place } : undefined;
      add(fallBacks, pick, { book: reading.book, place, reading, value });
    } else if (node.kind === "say nothing") {
      const when = node.when && bindTest(reading, node.when);
      const everything = node.everything !== undefined || saidOfAll(reading, node);
      const because = node.because && { because: node.because.value };
      const silence = when && { everything, when, ...because, book: reading.book, place };
      for (const pick of everything ? (["everything"] as const) : picksNamed(reading, node, holdGuess)) {
        if (silence === undefined) continue;
        if (damaged || !isReadable(silence.when)) add(unread, pick, damaged ? {} : { when: silence.when });
        // Of several picks each has its own, so that one which is left out leaves the others; everything falls silent together.
        else add(silences, pick, everything ? silence : { ...silence });
      }
    }
  }
  const settled = <T>(candidates: readonly Candidate<T>[] | undefined, what: string): Candidate<T> | undefined =>
    theOne(shelf, candidates ?? [], what);
  const trustForAll = settled(trusts.get("all"), "trust");
  // Judgements go on judging: nobody ties one on.
  const named = <T>(of: ReadonlyMap<Subject | "everything", readonly T[]>, pick: Subject): readonly T[] => [
    ...(of.get(pick) ?? []),
    ...((pick.kind === "pick" && of.get("everything")) || []),
  ];
  const pick = (pick: Subject): Advice => {
    const fallBack = settled(fallBacks.get(pick), `fall back on ${pick.name}`);
    const trust = settled(trusts.get(pick), `trust for ${pick.name}`) ?? trustForAll;
    return {
      ...(fallBack?.value && { fallBack: fallBack.value }),
      trust: trust?.value ?? [],
      sayNothing: named(silences, pick),
      unread: [...named(unread, pick), ...(fallBack !== undefined && fallBack.value === undefined ? [{}] : [])],
    };
  };
  return { pick, closed: silences.get("everything") ?? [] };
}

/** The picks that a `say nothing` names; what is no pick has been reported. */
function picksNamed(reading: Reading, node: tree.SayNothing, unknown: (reading: Reading, name: tree.Name) => void): readonly Subject[] {
  return distinct(reading, node.picks, ({ text }) => text).flatMap((name) => {
    const pick = findPick(reading, name, node.picks.length === 1 ? [EVERYTHING] : []);
    if (pick === undefined) unknown(reading, name);
    return pick ?? [];
  });
}

/** `say nothing on family, everything`: everything is meant, and reported. */
function saidOfAll(reading: Reading, { picks }: tree.SayNothing): boolean {
  const name = picks.find(({ text }) => text === EVERYTHING);
  if (name === undefined) return false;
  const whole = { start: picks[0]!.range.start, end: picks.at(-1)!.range.end };
  report(reading, name.range, say.everythingAndMore, { fixes: [replacing(reading, whole, EVERYTHING, `Write ${EVERYTHING} alone`)] });
  return true;
}

/** The candidate that counts. Two in one book, or in two books side by side, are reported; the first then counts. */
function theOne<T>(shelf: Shelf, candidates: readonly Candidate<T>[], what: string): Candidate<T> | undefined {
  const firsts: Candidate<T>[] = [];
  for (const candidate of candidates) {
    const first = firsts.find(({ book }) => book === candidate.book);
    if (first === undefined) firsts.push(candidate);
    else
      report(candidate.reading, candidate.place.range, say.secondOfAKind(what), {
        related: [{ ...first.place, message: say.firstHere(what) }],
      });
  }
  const [one, other] = mostLocal(shelf, firsts);
  if (one !== undefined && other !== undefined) {
    const joining = shelf.books.find(({ index }) => shelf.moreLocal(index, one.book) && shelf.moreLocal(index, other.book));
    const link = joining?.buildsOn.find(({ book }) => book === other.book || shelf.moreLocal(book, other.book));
    const related = [one, other].map(({ place }) => ({ ...place, message: say.oneOfTwo(what) }));
    const at = joining && link && other.reading.scope.readings[joining.index];
    if (at !== undefined) report(at, link!.place.range, say.sideBySide(what, one.place.path, other.place.path), { related });
  }
  return one;
}

function readTrust(reading: Reading, node: tree.Trust): readonly Subject[] | undefined {
  const names = distinct(reading, node.order, ({ text }) => text);
  return names.flatMap((name) => {
    const subject = findSubject(reading, name);
    if (subject === undefined) return [];
    if (subject.kind !== "pick") return [subject];
    report(reading, name.range, say.trustInPick(name.text));
    return [];
  });
}

function add<K, V>(lists: Map<K, V[]>, key: K, value: V): void {
  const list = lists.get(key);
  if (list === undefined) lists.set(key, [value]);
  else list.push(value);
}
