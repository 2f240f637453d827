/** Renaming there and back leaves everything as it was; in damaged books nothing throws. */
import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Finding } from "../../src/diagnostics.js";
import { definitionAt } from "../../src/service/names/definition.js";
import { namesOf } from "../../src/service/names/names.js";
import { thingKey, type Thing } from "../../src/model/names.js";
import { prepareRename, rename } from "../../src/service/names/rename.js";
import { referencesAt } from "../../src/service/names/references.js";
import { openView, type View } from "../../src/service/view.js";
import { applied } from "../check.js";
import { damaged, wordDamages } from "../hard/damage.js";
import { books } from "../law/books.js";
import { open, reading, shippedBooks, thingsIn, type Texts } from "./marks.js";

describe("laws", () => {
  /** A name nobody has, of the same sort; an amount so near that it stays in its place. */
  const fresh = ({ kind, name }: Thing): string => {
    const amount = /^(-?\d+(?:\.\d+)?)(?:\/(\d+))?( .*)?$/.exec(name);
    if (kind === "option" && amount !== null) return `${Number(amount[1]) * 1000 + 1}/${Number(amount[2] ?? 1) * 1000}${amount[3] ?? ""}`;
    return kind === "pattern" || kind === "caution" || kind === "promise" || kind === "book" ? `${name} -- renamed` : `${name}-renamed`;
  };
  const summary = (findings: readonly Finding[]) => findings.map(({ code, path }) => `${code} ${path}`);

  const thereAndBack = (texts: Texts, view: View, thing: Thing): void => {
    const root = view.path;
    const [first] = namesOf(view)
      .of(thing)
      .filter(({ path }) => path === root);
    if (first === undefined) return;
    const there = rename(view, first.range.end, fresh(thing));
    if ("refused" in there) return expect.fail(`${thingKey(thing)}: ${there.refused}`);
    const after = applied(texts, there);
    const second = openView(root, after[root]!, reading(after));
    expect(summary(second.findings)).toEqual(summary(view.findings));
    expect(namesOf(second).of(thing)).toEqual([]);
    expect(namesOf(second).mentions).toHaveLength(namesOf(view).mentions.length);
    const back = rename(second, first.range.start, thing.name);
    if ("refused" in back) return expect.fail(`${thingKey(thing)} back: ${back.refused}`);
    expect(applied(after, back)).toEqual(texts);
  };

  test("in random books, renaming any thing and back changes nothing", () => {
    fc.assert(
      fc.property(books(), fc.array(fc.nat(997), { minLength: 3, maxLength: 3 }), ({ texts, root }, picks) => {
        const { view } = open(texts, { root });
        const all = thingsIn(view);
        for (const pick of picks) thereAndBack(texts, view, all[pick % all.length]!);
      }),
      { numRuns: 30 },
    );
  });

  const shipped = shippedBooks();
  test.each(Object.keys(shipped))("%s: one thing of each kind there and back", (path) => {
    const { view } = open(shipped, { root: path });
    const all = thingsIn(view);
    for (const kind of new Set(all.map((thing) => thing.kind)))
      thereAndBack(shipped, view, all.filter((thing) => thing.kind === kind).at(-1)!);
  });

  test("in damaged books nothing throws, and what is changed are names", () => {
    const base = { "common/conditions.lore": shipped["common/conditions.lore"]! };
    fc.assert(
      fc.property(wordDamages(8), fc.nat(), (damages, at) => {
        const { view } = open({ ...base, "blades.lore": damaged(shipped["blades.lore"]!, damages) });
        const offset = at % (view.text.length + 1);
        const edits = rename(view, offset, "fresh");
        const prepared = prepareRename(view, offset);
        expect("refused" in prepared).toBe(definitionAt(view, offset) === undefined || namesOf(view).at(offset) === undefined);
        if ("refused" in edits) {
          expect(edits.refused).not.toBe("");
          return;
        }
        const places = new Set(referencesAt(view, offset, { declarations: true }).map(({ path, range }) => `${path} ${range.start}`));
        expect(new Set(edits.map(({ path, range }) => `${path} ${range.start}`))).toEqual(places);
      }),
      { numRuns: 60 },
    );
  });
});
