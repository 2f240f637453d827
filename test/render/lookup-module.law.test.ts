/**
 * The lookup module, with nothing but a table's JSON form, says what `answer` says: at points and with any conditions unknown, on random
 * books and on those that ship.
 */
import * as fc from "fast-check";
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { answers, type Answers } from "../../src/analysis/answers.js";
import { run, type Span } from "../../src/model/span.js";
import { exampleOf } from "../../src/model/points.js";
import { lookup, type Given, type Table } from "../../src/publish/lookup/lookup.js";
import { months } from "../../grammar/months.js";
import { givenOf, readGiven } from "../../src/answer/given.js";
import { answerJson } from "../../src/render/json.js";
import { answer } from "../../src/answer/answer.js";
import { dice } from "../bench/books.js";
import { root } from "../root.js";
import { books, thinBooks } from "../law/books.js";
import { read } from "../law/reading.js";
import { tableOf } from "./lookup-table.js";

const runs = Number(process.env["LAW_RUNS"] ?? 60);

/** Every condition known or not by the dice, at a position by the dice; both forms are asked, and must say the same. */
function compared(
  found: Answers,
  tables: Table | readonly Table[],
  roll: (sides: number) => number,
  picks: readonly number[],
): "answered" | "refused" {
  const { model } = found;
  const unknown = roll(4);
  const known = model.conditions.map(() => roll(4) >= unknown);
  const box = new Map(model.axes.flatMap(({ index, size, condition }) => (known[condition] ? [[index, single(roll(size))] as const] : [])));
  const given = exampleOf(
    model,
    model.axes.map(({ index }) => box.get(index)?.[0]),
  ) as Given;
  const expected = answer(model, givenOf(model, box), () => found);
  const said = lookup(tables, given);
  const where = JSON.stringify(given);
  if ("problem" in expected) {
    expect(said, where).toMatchObject({
      problem: expected.problem.includes("at least one member") ? expect.stringMatching(/not accepted|impossible/) : "impossible",
    });
    return "refused";
  }
  if ("problem" in said) throw new Error(`${JSON.stringify(said)} at ${where}`);
  const json = answerJson(model, expected);
  expect(said.unknown, where).toEqual(json.unknown);
  expect(said.cautions, where).toEqual(json.cautions);
  expect([said.closed, said.shut], where).toEqual([json.closed ?? [], json.shut ?? false]);
  for (const pick of picks) {
    const { name, options } = model.picks[pick]!;
    const [mine, theirs] = [said.picks[name]!, json.picks[name]!];
    const inOrder = (places: readonly (readonly string[])[]): string =>
      JSON.stringify(
        places.map((place) =>
          [...place].sort((a, b) => options.findIndex(({ text }) => text === a) - options.findIndex(({ text }) => text === b)),
        ),
      );
    expect([mine.status, inOrder(mine.answer), inOrder(mine.safe)], where).toEqual([
      theirs.status,
      inOrder(theirs.answer),
      inOrder(theirs.safe),
    ]);
    const shares = (possible: typeof mine.possible): readonly string[] =>
      possible.map(({ status, answer, share }) => `${status} ${inOrder(answer)} ${share}`).sort();
    expect(shares(mine.possible), where).toEqual(shares(theirs.possible));
    expect(mine.possible.every(({ share }, i) => i === 0 || sizeOf(mine.possible[i - 1]!.share) >= sizeOf(share))).toBe(true);
  }
  return "answered";
}

function single(position: number): Span {
  return run(position, position);
}

function sizeOf(share: string): number {
  const [n, d = "1"] = share.split("/");
  return Number(n) / Number(d);
}

describe("days and times", () => {
  const { model, faults } = read(
    {
      "year.lore": `book "Year"
condition day: days of the year
condition time: times of the day
pick blade: round, leaf, teardrop
pattern "Spring" go with blade leaf when day from mar 31 to jun 30
pattern "Year's end" go with blade teardrop when day from dec 31 to feb 29
fall back on blade round
pick color: white, black
pattern "Night" go with color black when time from 23:30 to 05:59
fall back on color white
`,
    },
    "year.lore",
  );
  const found = answers(model, { steps: 100_000 });
  const table = tableOf(found, [0, 1]);

  /** What `answer` says of one value, and what the module says: an answer, or that it is none. */
  function both(name: string, value: string): readonly [expected: unknown, said: unknown] {
    const reading = readGiven(model, [[name, value]]);
    const expected = "given" in reading ? answer(model, reading.given, () => found) : undefined;
    const said = lookup(table, { [name]: value });
    if (expected === undefined || "problem" in expected) return [{ problem: "not accepted", condition: name }, said];
    const outcomes = answerJson(model, expected).picks;
    return [
      outcomes["blade"]!.possible.concat(outcomes["color"]!.possible),
      "problem" in said ? said : said.picks["blade"]!.possible.concat(said.picks["color"]!.possible),
    ];
  }

  test("are read as the core's calendar reads them, and refused where there is no such day or time", () => {
    expect(faults).toEqual([]);
    const two = (number: number): string => String(number).padStart(2, "0");
    const texts = [
      ...[...months, "foo"]
        .flatMap((month, at) =>
          Array.from({ length: 34 }, (_, day) => [
            `${month} ${day}`,
            `2027-${two(at + 1)}-${two(day)}`,
            `2028-${two(at + 1)}-${two(day)}`,
          ]).flat(),
        )
        .map((text) => ["day", text] as const),
      ...Array.from({ length: 26 * 62 }, (_, at) => [
        `${two(Math.floor(at / 62))}:${two(at % 62)}`,
        `${Math.floor(at / 62)}:${two(at % 62)}`,
      ])
        .flat()
        .map((text) => ["time", text] as const),
      ["time", "5:3"] as const,
      ["time", "noon"] as const,
    ];
    const refused = new Set<string>();
    for (const [name, text] of texts) {
      const [expected, said] = both(name, text);
      expect(said, text).toEqual(expected);
      if ("problem" in (said as object)) refused.add(text);
    }
    // 366 days, 365 and 366 dates, 1,440 minutes, those before 10:00 in two ways.
    expect(new Set(texts.map(([, text]) => text)).size - refused.size).toBe(366 + 365 + 366 + 1440 + 600);
    for (const text of ["feb 30", "apr 31", "feb 0", "2027-02-29", "24:00", "05:60"]) expect(refused).toContain(text);
  });
});

describe("it says what answer says", () => {
  test("on random books, from one table for all and from one for each", { timeout: 240_000 }, () => {
    const seen = { answered: 0, refused: 0 };
    fc.assert(
      fc.property(fc.oneof(books({ points: 300 }), thinBooks({ points: 300 })), fc.nat(), (texts, seed) => {
        const found = answers(read(texts.texts, texts.root).model, { steps: 400_000 });
        if (!found.anythingPossible) return;
        const picks = found.model.picks.map(({ index }) => index);
        const [whole, each] = [tableOf(found, picks), picks.map((pick) => tableOf(found, [pick]))];
        const roll = dice(seed);
        for (let i = 0; i < 12; i++) seen[compared(found, i % 2 === 0 ? whole : each, roll, picks)]++;
      }),
      { numRuns: runs },
    );
    expect(seen.answered).toBeGreaterThan(runs);
    expect(seen.refused).toBeGreaterThan(0);
  });

  test.each([
    ["blades", undefined],
    ["river", undefined],
    ["inshore", undefined],
    ["hollin-cove", ["weight", "family"]],
  ])("on %s", { timeout: 240_000 }, (name, some) => {
    const texts = Object.fromEntries(
      ["rules", "rules/common"].flatMap((folder) =>
        readdirSync(join(root, folder))
          .filter((file) => file.endsWith(".lore"))
          .map((file) => [`${folder}/${file}`, readFileSync(join(root, folder, file), "utf8")]),
      ),
    );
    const found = answers(read(texts, `rules/${name}.lore`).model, { steps: 400_000 });
    const picks = found.model.picks.filter((pick) => (some ? some.includes(pick.name) : !pick.judgement)).map(({ index }) => index);
    const tables = picks.map((pick) => tableOf(found, [pick]));
    const roll = dice(3);
    const seen = Array.from({ length: 60 }, () => compared(found, tables, roll, picks));
    expect(seen).toContain("answered");
  });
});
