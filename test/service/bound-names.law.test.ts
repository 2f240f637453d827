/**
 * What a name was bound to is what an editor says of it; and giving a thing another name gives a model that is equal but for the name.
 */
import * as fc from "fast-check";
import { Fraction } from "fraction.js";
import { describe, expect, test } from "vitest";
import type { Model } from "../../src/model/model.js";
import { thingKey, type Mention, type Thing } from "../../src/model/names.js";
import { halfWritten } from "../../src/service/names/half-written.js";
import { tabulate } from "../../src/service/names/name-table.js";
import { namesOf } from "../../src/service/names/names.js";
import { rename } from "../../src/service/names/rename.js";
import { openView, type View } from "../../src/service/view.js";
import { applied } from "../check.js";
import { books } from "../law/books.js";
import { thingsIn, open, reading, shippedBooks, type Texts } from "./marks.js";

const shipped = shippedBooks();
const told = ({ thing, declares }: Mention): string => `${declares ? "declares" : "mentions"} ${thingKey(thing)}`;
const byPlace = (mentions: readonly Mention[]): Map<string, string> =>
  new Map(mentions.map((mention) => [`${mention.path} ${mention.range.start} ${mention.range.end}`, told(mention)]));

/** What a book leaves out is not read, so nothing in it is bound but its title. */
function outsideLeftOut({ model }: View): (mention: Mention) => boolean {
  const titles = new Set(model.names.filter(({ thing, declares }) => declares && thing.kind === "pattern" && thing.of !== undefined));
  const gone = model.books.flatMap(({ path, tree }) =>
    tree.statements
      .filter(({ range }) => [...titles].some((one) => one.path === path && range.start <= one.range.start && one.range.end <= range.end))
      .map(({ range }) => ({ path, range })),
  );
  return (mention) =>
    titles.has(mention) ||
    !gone.some(({ path, range }) => path === mention.path && range.start <= mention.range.start && mention.range.end <= range.end);
}

function isBoundAsTold(view: View): void {
  expect(view.findings.filter(({ severity }) => severity === "error")).toEqual([]);
  const { model } = view;
  const bound = byPlace(model.names);
  // Bound twice is bound to one thing.
  for (const mention of model.names) expect(bound.get(`${mention.path} ${mention.range.start} ${mention.range.end}`)).toBe(told(mention));
  const here = outsideLeftOut(view);
  expect(byPlace(namesOf(view).mentions.filter(here))).toEqual(byPlace(model.names.filter(here)));
  // What is said of half-written text would be no other.
  const guessed = model.books.flatMap((book, index) =>
    halfWritten(book, index, { isBound: () => false, table: () => tabulate(model.books, model.moreLocal) }),
  );
  expect(byPlace(guessed)).toEqual(byPlace(namesOf(view).mentions));
}

describe("in books without errors every name is bound, to what an editor says it is", () => {
  test("random books", () => {
    fc.assert(
      fc.property(books(), ({ texts, root }) => isBoundAsTold(open(texts, { root }).view)),
      { numRuns: 100 },
    );
  });
  test.each(Object.keys(shipped))("%s", (path) => isBoundAsTold(open(shipped, { root: path }).view));
});

const subjects: readonly string[] = ["condition", "pick", "judgement"];

/** The thing as it is called once `one` is called `name`. */
function renamed(thing: Thing, one: Thing, name: string): Thing {
  if (thingKey(thing) === thingKey(one)) return { ...thing, name };
  return subjects.includes(one.kind) && thing.of === one.name && thing.kind !== "pattern" ? { ...thing, of: name } : thing;
}

/** All of a model but places, texts and trees, with every text as `name` has it. */
function plain({ books, names: _names, ...rest }: Model, name: (text: string) => string): unknown {
  const dropped = new Set(["place", "namePlace", "range"]);
  const said = { ...rest, books: books.map(({ text: _text, tree: _tree, ...facts }) => facts) };
  return JSON.parse(
    JSON.stringify(said, (key, value: unknown) => {
      if (dropped.has(key)) return undefined;
      if (value instanceof Fraction) return value.toFraction();
      if (typeof value === "bigint") return String(value);
      return typeof value === "string" ? name(value) : value;
    }),
  );
}

describe("renaming gives an equal model but for the name", () => {
  const sameBut = (texts: Texts, view: View, thing: Thing): void => {
    const [first] = namesOf(view)
      .of(thing)
      .filter(({ path }) => path === view.path);
    // A number's new name would be another amount.
    if (first === undefined || (thing.kind === "option" && /\d/.test(thing.name))) return;
    const name = "zz-another";
    const edits = rename(view, first.range.end, name);
    if ("refused" in edits) return expect.fail(`${thingKey(thing)}: ${edits.refused}`);
    const after = applied(texts, edits);
    const other = openView(view.path, after[view.path]!, reading(after));
    // Wherever the model says the one, the other says the other, or it is the name of something else.
    const one = (text: string): string => (text === name || text === thing.name ? "" : text);
    expect(plain(other.model, one)).toEqual(plain(view.model, one));
    // Of the list of names, exactly.
    expect(other.model.names.map(({ thing }) => thingKey(thing))).toEqual(
      view.model.names.map(({ thing: found }) => thingKey(renamed(found, thing, name))),
    );
  };

  test("random books", () => {
    fc.assert(
      fc.property(books(), fc.array(fc.nat(997), { minLength: 3, maxLength: 3 }), ({ texts, root }, picks) => {
        const { view } = open(texts, { root });
        const all = thingsIn(view);
        for (const pick of picks) sameBut(texts, view, all[pick % all.length]!);
      }),
      { numRuns: 60 },
    );
  });
  test.each(Object.keys(shipped))("%s: one thing of each kind", (path) => {
    const { view } = open(shipped, { root: path });
    const all = thingsIn(view);
    for (const kind of new Set(all.map((thing) => thing.kind))) sameBut(shipped, view, all.filter((thing) => thing.kind === kind).at(-1)!);
  });
});
