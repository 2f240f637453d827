/**
 * Analysing the next text of a book from what is known of the last one gives just what a fresh analysis gives: for random books edited
 * here and there and back again, and for the shipped ones.
 */
import { readFileSync } from "node:fs";
import * as fc from "fast-check";
import { expect, test } from "vitest";
import { analyse, analysing, type Analysis } from "../../src/analysis/analyse.js";
import { toTheEnd } from "../../src/analysis/budget.js";
import type { Model } from "../../src/model/model.js";
import { resolve } from "../../src/model/resolve.js";
import { parse } from "../../src/syntax/parse.js";
import { damaged, wordDamages } from "../hard/damage.js";
import { books } from "./books.js";

const plainly = ({ findings, coverage, undecided }: Analysis): unknown => ({
  findings,
  undecided,
  coverage: coverage.map(({ pick, shares }) => [pick, Object.entries(shares).map(([status, share]) => `${status} ${share.toFraction()}`)]),
});

function again(models: readonly Model[]): { readonly asked: number; readonly recalled: number } {
  let before: Analysis | undefined;
  for (const model of models) {
    const next: Analysis = toTheEnd(analysing(model, { before }));
    expect(plainly(next)).toEqual(plainly(analyse(model)));
    before = next;
  }
  return before!.memory.used();
}

test("random books, damaged and mended", { timeout: 240_000 }, () => {
  let recalled = 0;
  fc.assert(
    fc.property(books({ points: 300 }), fc.array(wordDamages(2), { minLength: 2, maxLength: 5 }), ({ texts, root }, damages) => {
      const read = (path: string) => (texts[path] === undefined ? { problem: "is not here" } : { text: texts[path] });
      const versions = damages.flatMap((some) => [texts[root]!, damaged(texts[root]!, some)]);
      recalled += again(versions.map((text) => resolve(parse(text, root), read).model)).recalled;
    }),
    { numRuns: Number(process.env["LAW_RUNS"] ?? 100) },
  );
  expect(recalled).toBeGreaterThan(100);
});

test.each(["rules/blades.lore", "rules/river.lore"])("%s, a line left out at a time", { timeout: 240_000 }, (path) => {
  const text = readFileSync(path, "utf8");
  const lines = text.split("\n");
  const read = (other: string) => ({ text: readFileSync(other, "utf8") });
  const without = Array.from({ length: 12 }, (_, i) => Math.floor(((i + 0.5) * lines.length) / 12)).map((at) =>
    lines.filter((_, i) => i !== at).join("\n"),
  );
  const { asked, recalled } = again([text, ...without, text].map((version) => resolve(parse(version, path), read).model));
  expect(recalled / asked).toBeGreaterThan(0.2);
});
