/**
 * Closed means closed, on charts: points at which a `say nothing on everything` holds are to a chart what never occurs, and no printed cell
 * names a value at which every point of its row is closed.
 */
import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { answers } from "../../src/analysis/answers.js";
import { frontOf } from "../../src/analysis/point.js";
import { chartedFor } from "../../src/answer/closed.js";
import { positions, holds } from "../../src/model/span.js";
import { chartTables, sheetOf } from "../../src/render/chart.js";
import { chartsText } from "../../src/render/text.js";
import { tableCsv } from "../../src/render/csv.js";
import { tableJson } from "../../src/render/json.js";
import { compile, type Row, type Table } from "../../src/table/compile.js";
import { books } from "../law/books.js";
import { isClosed, isOpenTo, oracle, type Answer } from "../law/oracle.js";
import { canonical, pointInWords, possiblePoints, type Weighed } from "../law/points.js";
import { read } from "../law/reading.js";
import { check } from "../check.js";

const runs = Number(process.env["LAW_RUNS"] ?? 60);
const seed = process.env["LAW_SEED"] === undefined ? undefined : Number(process.env["LAW_SEED"]);

type Told = Weighed & { readonly answers: readonly Answer[] };

function pointsIn({ box }: Row, { tested }: Table, points: readonly Told[]): readonly Told[] {
  return points.filter(({ point, answers: all }) =>
    [...box].every(([variable, span]) => {
      const column = tested.find((one) => one.variable === variable);
      const at = column
        ? column.fronts.findIndex((front) => String(front) === String(frontOf(all[column.pick]!.outcome)))
        : point[variable]!;
      return holds(span, at);
    }),
  );
}

describe("charts of random books", () => {
  let [rows, trimmed] = [0, 0];
  test("say what holds at every open point, once, and name no value at which all is closed", { timeout: 240_000 }, () => {
    fc.assert(
      fc.property(books({ points: 300, closing: true }), (texts) => {
        const { model } = read(texts.texts, texts.root);
        const points = [...possiblePoints(model)].map((one): Told => ({ ...one, answers: oracle(model, one.point) }));
        if (points.length === 0) return;
        const found = answers(model, { steps: 400_000 });
        for (const pick of model.picks) {
          const open = points.filter(({ point, answers: all }) => isOpenTo(model, pick, point, all));
          if (open.length === 0) continue;
          for (const chained of [false, true]) {
            const made = compile(chartedFor(found, pick.index), { picks: [pick.index], chained });
            if ("problem" in made) throw new Error(made.problem);
            const { table } = made;
            const inside = table.rows.map((row) => pointsIn(row, table, points));
            for (const one of open) {
              const there = table.rows.filter((_, i) => inside[i]!.includes(one));
              expect(there.length, pointInWords(model, one.point)).toBe(1);
              expect(canonical(there[0]!.outcomes[0]!)).toEqual(canonical(one.answers[pick.index]!.outcome));
            }
            table.rows.forEach((row, i) => {
              rows++;
              for (const [axis, span] of row.box)
                for (const position of axis < model.axes.length ? positions(span) : []) {
                  const here = inside[i]!.filter(({ point }) => point[axis] === position);
                  if (here.some(({ point, answers: all }) => isClosed(model, point, all))) trimmed++;
                  expect(
                    here.length === 0 || here.some((one) => open.includes(one)),
                    `${model.conditions[model.axes[axis]!.condition]!.name} ${position}`,
                  ).toBe(true);
                }
            });
          }
        }
      }),
      { numRuns: runs, ...(seed === undefined ? {} : { seed }) },
    );
  });
  test("and often enough for that to count", () => expect(Math.min(rows, trimmed)).toBeGreaterThan(100));
});

/** Thin ice, and a closed season: five picks that go by much, and by each other. */
const book = `book "Through the ice, Lake Ambleton"
  shop "Hollin Landing"
condition ice "Clear ice": 0 to 30 in, to the nearest 1 in
  rising is thicker, falling is thinner
  ask "How thick is the clear ice?"
condition day "Date": days of the year
condition light "Light": in order dark, low, bright
  rising is brighter, falling is darker
condition depth "Depth of the fish": 0 to 60 ft, to the nearest 1 ft
  rising is deeper, falling is shallower
condition fish "Fish": walleye, perch, bluegill
pick family "Lure": jig, spoon, rattle-spoon
pick weight "Weight": 1/32 oz, 1/16 oz, 1/8 oz, 1/4 oz
pick color "Color": glow, gold, silver
pick bait "Bait": minnow-head, minnow, waxworm
pick line "Line": 2 lb, 4 lb, 8 lb
pattern "Walleye want noise"
  go with family rattle-spoon, then spoon
  when fish is walleye and light is low or darker
pattern "Walleye by day" go with family jig when fish is walleye and light is bright
pattern "Perch come to flash" go with family spoon when fish is perch and depth is deeper than 20 ft
fall back on family jig
pattern "Deep water wants weight" go with weight 1/8 oz when depth is deeper than 15 ft
pattern "Deeper still" go with weight 1/4 oz when depth is deeper than 35 ft
pattern "Bluegill sip" go with weight 1/32 oz when fish is bluegill beats "Deep water wants weight", "Deeper still"
fall back on weight 1/16 oz
pattern "Dark wants glow" go with color glow when light is dark
pattern "Low light wants gold" go with color gold when light is low
fall back on color silver
pattern "Spoons take a head" go with bait minnow-head when family is spoon or rattle-spoon
pattern "Bluegill take grubs" go with bait waxworm when fish is bluegill beats "Spoons take a head"
pattern "Late ice" go with bait minnow when day from mar 1 to apr 10 and family is jig and fish is walleye
fall back on bait waxworm
pattern "Walleye line" go with line 8 lb when fish is walleye
pattern "Bluegill line" go with line 2 lb when fish is bluegill
fall back on line 4 lb
`;
const rule = `say nothing on everything when ice is thinner than 4 in
  because "Stay off. Four inches of clear ice carry one person."
say nothing on everything when day from mar 15 to may 14
  because "Closed season."
`;
const byName = `say nothing on family, weight, color, bait, line when ice is thinner than 4 in because "Stay off."
say nothing on family, weight, color, bait, line when day from mar 15 to may 14 because "Closed season."
`;

describe("a book with thin ice and a closed season", () => {
  const rowsOf = (text: string): readonly number[] => {
    const made = chartTables(check(text).analysis.answers);
    if ("problem" in made) throw new Error(made.problem);
    return made.tables.map(({ rows }) => rows.length);
  };
  const closed = check(book + rule);
  const tables = chartTables(closed.analysis.answers);
  if ("problem" in tables) throw new Error(tables.problem);

  test("has charts of no more rows than without the rules, where naming the picks costs rows in every one", () => {
    const [before, after, named] = [book, book + rule, book + byName].map(rowsOf);
    before!.forEach((count, i) => expect(after![i]).toBeLessThanOrEqual(count));
    before!.forEach((count, i) => expect(named![i]).toBeGreaterThan(count));
  });
  test("no warnings or errors come of it", () => {
    expect(closed.findings.filter(({ severity }) => severity !== "note").map(({ message }) => message)).toEqual([]);
  });
  test("says why on top, once, and gives neither ice nor the date a column", () => {
    const text = chartsText(closed.analysis.answers, tables.tables);
    for (const reason of ["Stay off. Four inches of clear ice carry one person.", "Closed season."])
      expect(text.replace(/\s+/g, " ").split(reason).length, reason).toBe(2);
    expect(text).not.toContain("no advice");
    expect(sheetOf(closed.analysis.answers, tables.tables).charts.flatMap(({ head, across }) => [...head, across])).not.toContain(
      "Clear ice",
    );
  });
  test("its table for programs keeps the rows, and says where all is closed and why", () => {
    const whole = compile(closed.analysis.answers);
    if ("problem" in whole) throw new Error(whole.problem);
    const json = tableJson(closed.analysis.answers, whole.table);
    expect(json.closed).toEqual([
      { text: "Stay off. Four inches of clear ice carry one person.", when: [{ ice: { from: "0 in", below: "4 in" } }] },
      { text: "Closed season.", when: [{ day: { from: "mar 15", to: "may 14" } }] },
    ]);
    const shut = json.rows.filter(({ picks }) => picks["family"]!.status === "no advice");
    expect(shut.length).toBeGreaterThan(0);
    for (const { silence } of shut) expect(silence?.length).toBeGreaterThan(0);
    expect(tableCsv(whole.table).split("\n")[0]).toMatch(/because,silence$/);
  });
});
