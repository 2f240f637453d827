/**
 * A model as text for a page, and back: what answers need and nothing of the source text.
 *
 *     Fraction ──▶ {"f":"3/8"}      bigint ──▶ {"n":"5"}      unit ──▶ {"u":"°F"}      places, trees and texts are left out
 *
 * An `only when`, and where everything is closed, is said in the book's own words, so these stand, one after the other, where the text of the book was; where in them
 * each of its tests stands is kept (`at`), since a test may hold quantities that are said in other units.
 */
import { Fraction } from "fraction.js";
import type { Book, Model, SayNothing, Test } from "../model/model.js";
import { units } from "../model/quantities.js";
import { scriptJson } from "../render/markup.js";

/** Deterministic; safe inside a `<script>` of a page. */
export function pack(model: Model): string {
  const texts = model.books.map(() => "");
  const worded = (test: Test, book: number): object => {
    const before = texts[book]!;
    texts[book] = before + model.books[book]!.text.slice(test.range.start, test.range.end);
    return placed(test, test.range, before.length);
  };
  const picks = model.picks.map((pick) =>
    pick.onlyWhen ? { ...(strip(pick) as object), onlyWhen: worded(pick.onlyWhen, pick.book) } : strip(pick),
  );
  const closed = model.closed.map((silence) => ({ ...(strip(silence) as object), when: worded(silence.when, silence.book) }));
  const books = model.books.map((book, index) => ({
    ...(strip({ ...book, text: undefined, tree: undefined }) as object),
    text: texts[index],
    over: model.books.flatMap((_, other) => (model.moreLocal(index, other) ? [other] : [])),
  }));
  const { books: _books, picks: _picks, held: _held, promises: _promises, ...rest } = model;
  return scriptJson({ ...(strip(rest) as object), held: [], promises: [], books, picks, closed });
}

/** The model that was packed. Places are all at the start of an unnamed text. */
export function unpack(text: string): Model {
  const packed = JSON.parse(text, (_, value: unknown) => revive(value)) as Packed;
  const books = packed.books.map((book): Book => ({
    ...book,
    tree: { range: nowhere.range, statements: [], comments: [] } as unknown as Book["tree"],
  }));
  const picks = packed.picks.map(({ onlyWhen, ...pick }) => ({
    ...pick,
    place: nowhere,
    namePlace: nowhere,
    ...(onlyWhen && { onlyWhen: unplaced(onlyWhen) }),
  }));
  const closed = packed.closed.map(({ when, ...silence }) => ({ ...silence, place: nowhere, when: unplaced(when) }));
  return { ...packed, books, picks, closed, moreLocal: (a, b) => packed.books[a]!.over.includes(b) };
}

type Packed = Omit<Model, "books" | "picks" | "closed" | "moreLocal"> & {
  readonly closed: readonly (Omit<SayNothing, "when"> & { readonly when: PlacedTest })[];
  readonly books: readonly (Omit<Book, "tree"> & { readonly over: readonly number[] })[];
  readonly picks: readonly (Omit<Model["picks"][number], "onlyWhen"> & { readonly onlyWhen?: PlacedTest })[];
};
type PlacedTest = Test & { readonly at?: readonly [start: number, end: number] };

const nowhere = { path: "", range: { start: 0, end: 0 } };
const left = new Set(["place", "namePlace", "range"]);
const symbols = new Map([...units.values()].map((unit) => [unit.symbol, unit]));

/** A test with the places of its parts that stand in the words of `clause`, which begin at `start` now. */
function placed(test: Test, clause: Test["range"], start: number): object {
  const { range } = test;
  const isInside = range.start >= clause.start && range.end <= clause.end;
  return {
    ...(strip(test) as object),
    ...(isInside && { at: [range.start - clause.start + start, range.end - clause.start + start] }),
    ...("parts" in test && { parts: test.parts.map((part) => placed(part, range, start + range.start - clause.start)) }),
    ...("part" in test && { part: placed(test.part, range, start + range.start - clause.start) }),
  };
}

function unplaced({ at, ...test }: PlacedTest): Test {
  const range = at ? { start: at[0], end: at[1] } : nowhere.range;
  if (test.kind === "not") return { ...test, part: unplaced(test.part), range };
  return test.kind === "and" || test.kind === "or" ? { ...test, parts: test.parts.map(unplaced), range } : { ...test, range };
}

function strip(value: unknown): unknown {
  if (value instanceof Fraction) return { f: value.toFraction() };
  if (typeof value === "bigint") return { n: String(value) };
  if (typeof value !== "object" || value === null) return value;
  if (Array.isArray(value)) return value.map(strip);
  if ("symbol" in value && typeof value.symbol === "string" && symbols.has(value.symbol)) return { u: value.symbol };
  return Object.fromEntries(
    Object.entries(value).flatMap(([key, one]) => (left.has(key) || typeof one === "function" ? [] : [[key, strip(one)]])),
  );
}

function revive(value: unknown): unknown {
  if (typeof value !== "object" || value === null || Object.keys(value).length !== 1) return value;
  if ("f" in value && typeof value.f === "string") return new Fraction(value.f);
  if ("n" in value && typeof value.n === "string") return BigInt(value.n);
  return "u" in value && typeof value.u === "string" ? symbols.get(value.u) : value;
}
