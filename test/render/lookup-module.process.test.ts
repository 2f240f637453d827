/** The lookup module: what it takes for given; and the file that is shipped is small, whole and depends on nothing. */
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import { lookup, type Given } from "../../src/publish/lookup/lookup.js";
import { root } from "../root.js";
import { readPond } from "../table/pond.js";
import { tableOf } from "./lookup-table.js";

describe("what is given", () => {
  const { answers: found } = readPond();
  const table = tableOf(found, [0, 1]);

  test("is read as the table's reader reads it", () => {
    const said = (given: Given) => JSON.stringify(lookup(table, given));
    expect(said({ cover: "grass;docks", depth: 12 })).toBe(said({ cover: ["docks", "grass"], depth: "12 ft" }));
    expect(said({ cover: "none", clarity: null, "water-temp": "60.5" })).toBe(said({ cover: [], "water-temp": "61 °F" }));
  });

  test("is refused if it is none, and never taken for unknown", () => {
    expect(lookup(table, { clarty: "muddy" })).toEqual({ problem: "no such condition", condition: "clarty" });
    expect(lookup(table, { clarity: "mudy" })).toEqual({ problem: "not accepted", condition: "clarity" });
    expect(lookup(table, { "water-temp": 20 })).toEqual({ problem: "not accepted", condition: "water-temp" });
    expect(lookup(table, { day: "jan 5", "water-temp": 80 })).toEqual({ problem: "impossible", because: "never logged here" });
  });

  test("with nothing given, nothing is assumed", () => {
    const said = lookup(table, {});
    expect(said).toMatchObject({
      picks: { color: { status: "depends", answer: [] } },
      cautions: [{ caution: "Cold water", may: true }],
      unknown: ["clarity", "cover", "water-temp", "depth", "day"],
    });
  });
});

describe("the file that is shipped", () => {
  const file = (name: string): string => readFileSync(join(root, "dist/lookup", name), "utf8");

  test("is one module of less than 5 kB gzip, with nothing to import, and says the same", async () => {
    expect(existsSync(join(root, "dist/lookup/lookup.js")), "npm run build").toBe(true);
    expect(gzipSync(file("lookup.js")).length).toBeLessThan(5_000);
    expect(file("lookup.js")).not.toMatch(/\b(import|require)\b/);
    const shipped = (await import(join(root, "dist/lookup/lookup.js"))) as { readonly lookup: typeof lookup };
    const table = tableOf(readPond().answers, [0, 1, 2]);
    for (const given of [{}, { clarity: "muddy" }, { cover: ["docks"], depth: 3, "water-temp": 50 }] satisfies Given[])
      expect(shipped.lookup(table, given)).toEqual(lookup(table, given));
  });

  test("has types that stand alone", () => {
    expect(file("lookup.d.ts")).toContain("export declare function lookup");
    expect(file("lookup.d.ts")).not.toMatch(/\bimport\b/);
  });
});
