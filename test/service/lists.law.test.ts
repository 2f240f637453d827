/** Lists after a renaming: they are read as before, under the new name, and are otherwise byte for byte as they were. */
import { parse as parseCsv } from "csv-parse/sync";
import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { Model } from "../../src/model/model.js";
import { resolve } from "../../src/model/resolve.js";
import { cellsIn, renamedInList } from "../../src/service/names/lists.js";
import { parse } from "../../src/syntax/parse.js";

const book = `book "Shop"
condition clarity "Water clarity": in order clear, stained, muddy
condition cover: any of grass, docks
condition wind: 0 to 40 mph
band wind: calm below 10 mph, rough
group clarity: seen is clear, stained
pick color "Jig color": dark, bright, "fire tiger"
pick size: 1/4 oz, 1/2 oz
fall back on color dark
fall back on size 1/4 oz
`;
const modelOf = (text: string): Model => resolve(parse(text, "shop.lore"), () => ({ problem: "is not here" })).model;
const renamings = [
  { kind: "condition", name: "clarity", now: "visibility" },
  { kind: "condition", name: "cover", now: "weed" },
  { kind: "level", of: "clarity", name: "muddy", now: "brown" },
  { kind: "member", of: "cover", name: "docks", now: "piers" },
  { kind: "band", of: "wind", name: "rough", now: "choppy" },
  { kind: "group", of: "clarity", name: "seen", now: "in-sight" },
  { kind: "pick", name: "color", now: "shade" },
  { kind: "option", of: "color", name: "dark", now: "dusk" },
  { kind: "option", of: "color", name: "fire tiger", now: "gold, then red" },
  { kind: "option", of: "size", name: "1/4 oz", now: "1/8 oz" },
] as const;

const columns: Readonly<Record<string, readonly string[]>> = {
  clarity: ["clear", "muddy", "MUDDY", "seen", "stained,muddy", "muddy; clear", ""],
  cover: ["docks", "grass;docks", "grass, docks", "none", ""],
  wind: ["rough", "12 mph", "calm", ""],
  day: ["2027-04-03"],
  trips: ["3"],
  color: ["dark", " dark ", "dark;bright", "fire tiger", "fire tiger;dark", '"fire tiger"', "-", ""],
  size: ["1/4 oz", "1/4 oz;1/2 oz", ""],
  item: ["Mud Thumper", "dark horse", 'The "muddy" one', "docks\nand muddy"],
  "in stock": ["4", "yes"],
  price: ["4.99"],
};
const labels: Readonly<Record<string, string>> = { clarity: "Water clarity", color: "Jig color" };

const list = (names: readonly string[], more: readonly string[]) =>
  fc
    .record({
      names: fc.shuffledSubarray([...more]).map((some) => [...names, ...some]),
      rows: fc.array(fc.array(fc.nat(1000), { minLength: 10, maxLength: 10 }), { maxLength: 5 }),
      delimiter: fc.constantFrom(",", ";", "\t"),
      end: fc.constantFrom("\n", "\r\n"),
      quotes: fc.array(fc.boolean(), { minLength: 1, maxLength: 7 }),
      labelled: fc.boolean(),
      bom: fc.boolean(),
    })
    .map(({ names: all, rows, delimiter, end, quotes, labelled, bom }) => {
      let n = 0;
      const cell = (value: string): string =>
        quotes[n++ % quotes.length] || /["\r\n]/.test(value) || value.includes(delimiter) ? `"${value.replaceAll('"', '""')}"` : value;
      const lines = [
        all.map((name) => cell(labelled ? (labels[name] ?? name) : name)),
        ...rows.map((row) => all.map((name, i) => cell(columns[name]![row[i]! % columns[name]!.length]!))),
      ];
      return `${bom ? "\ufeff" : ""}${lines.map((line) => line.join(delimiter)).join(end)}${end}`;
    });
const anyList = fc.oneof(
  list(["item", "in stock"], ["color", "size", "price"]).filter((text) => /color|size/.test(text)),
  list(["clarity"], ["cover", "wind", "day", "trips"]),
);

const grid = (text: string): readonly (readonly string[])[] => {
  const delimiter = [",", ";", "\t"].find((one) => (cellsIn(text)[0]?.[0]?.delimiter ?? ",") === one)!;
  return parseCsv(text, { bom: true, delimiter, relax_column_count: true });
};

test("cells are read as csv-parse reads them", () => {
  fc.assert(
    fc.property(anyList, (text) => {
      expect(cellsIn(text).map((row) => row.map(({ value }) => value.replaceAll('""', '"')))).toEqual(grid(text));
      for (const { range, value } of cellsIn(text).flat()) expect(text.slice(range.start, range.end)).toBe(value);
    }),
  );
});

test("what is renamed is renamed in its columns and cells, and nothing else is", () => {
  const before = modelOf(book);
  const done = new Map<string, number>();
  fc.assert(
    fc.property(anyList, fc.constantFrom(...renamings), (text, { now, ...thing }) => {
      const edits = renamedInList(text, before, thing, now);
      if (edits === undefined) {
        // Only what would be parted, or would need quotes.
        expect(now).toBe("gold, then red");
        return;
      }
      let after = text;
      for (const { range, text: put } of edits.toReversed()) after = after.slice(0, range.start) + put + after.slice(range.end);
      const [head, ...rows] = grid(text);
      const isHeading = thing.kind === "pick" || thing.kind === "condition";
      const nameOf = (heading: string): string => Object.entries(labels).find(([, label]) => label === heading)?.[0] ?? heading;
      const expected = isHeading
        ? [head!.map((heading) => (heading === thing.name ? now : heading)), ...rows]
        : [
            head!,
            ...rows.map((row) =>
              row.map((value, i) =>
                nameOf(head![i]!) === thing.of
                  ? value
                      .split(/([;,])/)
                      .map((part) =>
                        part
                          .trim()
                          .replace(/^"(.*)"$/, "$1")
                          .toLowerCase() === thing.name
                          ? part.replace(new RegExp(thing.name, "i"), now)
                          : part,
                      )
                      .join("")
                  : value,
              ),
            ),
          ];
      expect(grid(after)).toEqual(expected);
      // Without the cells themselves, the two are the same.
      const bones = (one: string): string => {
        let [bare, last] = ["", 0];
        for (const { range } of cellsIn(one).flat()) {
          bare += one.slice(last, range.start);
          last = range.end;
        }
        return bare + one.slice(last);
      };
      expect(bones(after)).toBe(bones(text));
      if (edits.length > 0) done.set(thing.name, (done.get(thing.name) ?? 0) + 1);
    }),
    { numRuns: 1500 },
  );
  expect([...done.keys()].sort()).toEqual(renamings.map(({ name }) => name).sort());
});

test("a list of another book is left alone", () => {
  const model = modelOf(book);
  for (const text of ["", "name,age\ndark,3\n", "item,in stock,blade\nx,1,dark\n", "clarity,tide\nmuddy,low\n", 'item,"color\n'])
    for (const { now, ...thing } of renamings) expect(renamedInList(text, model, thing, now)).toEqual([]);
});
