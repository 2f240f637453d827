/** The SQL form of a table, run by two engines that have nothing to do with each other: with any values unknown it says what `answer` says. */
import * as fc from "fast-check";
import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { answers, type Answers } from "../../src/analysis/answers.js";
import type { Model } from "../../src/model/model.js";
import { dice } from "../bench/books.js";
import { books } from "../law/books.js";
import { read } from "../law/reading.js";
import { answerOf, cellAt, duckEngine, sqliteEngine, sqlOf, type Engine, type Trip } from "./trips.js";

const runs = Number(process.env["LAW_RUNS"] ?? 40);

let engines: readonly Engine[];
beforeAll(async () => {
  engines = [await sqliteEngine(), await duckEngine()];
});
afterAll(() => engines.forEach((engine) => engine.close()));

describe("the view says what answer says, whatever is unknown", () => {
  test("on random books", { timeout: 240_000 }, async () => {
    const some: { readonly model: Model; readonly found: Answers; readonly trips: readonly Trip[]; readonly sql: string }[] = [];
    fc.assert(
      fc.property(books({ points: 300 }), fc.nat(), (texts, seed) => {
        const { model } = read(texts.texts, texts.root);
        const found = answers(model, { steps: 400_000 });
        if (!found.anythingPossible) return;
        const roll = dice(seed);
        const trips = Array.from({ length: 60 }, () => someTrip(model, roll));
        some.push({ model, found, trips, sql: sqlOf(found, { picks: model.picks.map(({ index }) => index) }) });
      }),
      { numRuns: runs },
    );
    expect(some.length).toBeGreaterThan(runs / 2);
    const statuses = new Set<string | null>();
    for (const { model, found, trips, sql } of some) {
      const expected = trips.map((trip) => answerOf(found, trip));
      for (const said of expected) said.forEach((word) => statuses.add(word));
      for (const engine of engines) {
        await engine.load(model, trips);
        await engine.run(sql);
        expect(await engine.said(model), sql).toEqual(expected);
      }
    }
    // The law would be empty of meaning if nothing of this came up.
    for (const status of [
      "decided",
      "depends",
      "refused",
      "toss-up",
      "fallback",
      "not applicable",
      "gap",
      "conflict",
      "waiting",
      "no advice",
    ])
      expect(statuses).toContain(status);
  });

  test("on a million trips: both engines the same, and ten thousand of them as answer", { timeout: 240_000 }, async () => {
    const path = "rules/blades.lore";
    const text = (name: string): string => readFileSync(new URL(`../../${name}`, import.meta.url), "utf8");
    const { model } = read(
      {
        [path]: text(path),
        "rules/common/conditions.lore": text("rules/common/conditions.lore"),
        "rules/common/cautions.lore": text("rules/common/cautions.lore"),
      },
      path,
    );
    const found = answers(model, { steps: 400_000 });
    const roll = dice(11);
    const trips = Array.from({ length: 1_000_000 }, () => someTrip(model, roll));
    const sql = sqlOf(found);
    const [light, swift] = await Promise.all(
      engines.map(async (engine) => {
        await engine.load(model, trips);
        await engine.run(sql);
        return engine.said(model, false);
      }),
    );
    expect(light!.length).toBe(trips.length);
    expect(swift!.length).toBe(trips.length);
    expect(light!.findIndex((said, i) => said.join("|") !== swift![i]!.join("|"))).toBe(-1);
    for (let at = 0; at < trips.length; at += 100)
      expect(light![at], JSON.stringify(trips[at])).toEqual(answerOf(found, trips[at]!, false));
    expect(new Set(light!.map(([status]) => status)).size).toBeGreaterThan(1);
  });
});

function someTrip(model: Model, roll: (size: number) => number): Trip {
  const unknown = roll(4);
  return model.axes.map(({ index, size }) => {
    const position = roll(size);
    return roll(4) < unknown || cellAt(model, index, position) === null ? undefined : position;
  });
}
