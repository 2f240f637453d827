/**
 * "What it means at one point", sentence by sentence: small books with the answers worked out by hand, which the oracle and the
 * engine must both give at every possible point that agrees with the values named.
 */
import { describe, expect, test } from "vitest";
import { answersAt } from "../../src/analysis/point.js";
import { faultsInWords, read } from "./reading.js";
import { oracle } from "./oracle.js";
import { answersInWords, pointInWords, positionsOf, possiblePoints } from "./points.js";
import type { Case } from "./cases/case.js";
import { cases as early } from "./cases/steps-0-to-2.js";
import { cases as passes } from "./cases/steps-3-to-4.js";
import { cases as lists } from "./cases/steps-5-to-10.js";
import { cases as judgements } from "./cases/judgements-and-more.js";

const groups: readonly (readonly [string, readonly Case[]])[] = [
  ["steps 0 to 2: not applicable, silence, waiting", early],
  ["steps 3 and 4: beats, circles, the three passes", passes],
  ["steps 5 to 10: lists, leans, fall backs, moves, nevers, statuses", lists],
  ["judgements, layers, kinds of values", judgements],
];

describe.each(groups)("%s", (_, cases) => {
  test.each(cases.map((one) => [one.says, one] as const))("%s", (_, one) => {
    const texts = Object.fromEntries(
      Object.entries(typeof one.book === "string" ? { "book.lore": one.book } : one.book).map(([path, text]) => [
        path,
        `book "${path}"\n${text}\n`,
      ]),
    );
    const { model, faults } = read(texts, "book.lore", one.on);
    expect(
      faultsInWords(
        texts,
        faults.filter(({ code }) => code !== "circle"),
      ),
    ).toEqual([]);
    for (const [given, expected] of one.at) {
      let met = 0;
      for (const { point } of possiblePoints(model, positionsOf(model, given))) {
        met += 1;
        for (const [who, answers] of [
          ["oracle", oracle(model, point)],
          ["engine", answersAt(model, point)],
        ] as const) {
          const said = answersInWords(model, answers);
          const asked = Object.fromEntries(Object.keys(expected).map((pick) => [pick, said[pick]]));
          expect(asked, `${who} at ${pointInWords(model, point)}`).toEqual(expected);
        }
      }
      expect(met, `possible points where ${JSON.stringify(given)}`).toBeGreaterThan(0);
    }
  });
});
