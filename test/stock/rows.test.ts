/** Rows of a stock list and of a log: what is taken, what is refused, row by row and cell by cell; and the schemas say the same. */
import { Ajv2020 } from "ajv/dist/2020.js";
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { logColumn } from "../../src/stock/log.js";
import { missingColumn, stockColumn } from "../../src/stock/rows.js";
import { answersOf, logOf, stockOf } from "./shop.js";

const answers = answersOf(`book "Jigs"
condition clarity "Water clarity": in order clear, stained, muddy
condition wind "Wind": 0 to 40 mph, to the nearest 1 mph
condition date "Date": days of the year
  filled from the date
impossible when clarity is clear and wind is above 30 mph because "it churns"
pick color "Color": black, brown, "any; or all"
pick weight "Head weight": 1/8 oz, 1/4 oz
judgement seen: same as clarity
pattern "Mud wants black"
  go with color black
  when seen is muddy
pattern "Short days want brown"
  go with color brown
  when date from nov 1 to jan 31 and seen is not muddy
fall back on color "any; or all"
fall back on weight 1/8 oz
`);
const { model } = answers;
const schema = (name: string) =>
  new Ajv2020({ strict: true }).compile(
    JSON.parse(readFileSync(new URL(`../../src/schema/${name}.json`, import.meta.url), "utf8")) as object,
  );

describe("a stock list", () => {
  test("options, several, none, a dash, one with a semicolon, in whatever case; labels as columns", () => {
    const { stock, problems } = stockOf(
      model,
      "Item,Color,Head weight,IN STOCK,price,shelf\nA,Black; BROWN,1/4  oz,3,$2,9\nB,any; or all,-,yes,,\nC,,,No,,\nD,,1/8 oz;1/4 oz,0,,",
    );
    expect(problems).toEqual([]);
    expect(stock.items.map(({ notFor }) => [...notFor].map((pick) => model.picks[pick]!.name))).toEqual([[], ["weight"], [], []]);
    expect(
      stock.items.map(({ name, options, available, price, shelf }) => ({
        name,
        options: Object.fromEntries([...options].map(([pick, mine]) => [model.picks[pick]!.name, mine])),
        available,
        price,
        shelf,
      })),
    ).toEqual([
      { name: "A", options: { color: [0, 1], weight: [1] }, available: true, price: "$2", shelf: "9" },
      { name: "B", options: { color: [2] }, available: true },
      { name: "C", options: {}, available: false },
      { name: "D", options: { weight: [0, 1] }, available: false },
    ]);
  });

  test("a bad cell names its row, its column and what would be taken; the other rows are kept", () => {
    const { stock, problems } = stockOf(model, "item,color,in stock\nA,blakc,3\n,black,many\nC,black,1\nC,brown,2\nE,brown,\nF,brown,yes");
    expect(stock.items.map(({ name }) => name)).toEqual(["C", "F"]);
    expect(problems.map(({ row, column }) => [row, column])).toEqual([
      [2, "color"],
      [3, "item"],
      [3, "in stock"],
      [5, "item"],
      [6, "in stock"],
    ]);
    expect(problems[0]!.problem).toMatch(/“blakc”.*Did you mean black\?.*black, brown or any; or all/);
    expect(problems[2]!.problem).toMatch(/“many”.*such as 4, or yes or no/);
    expect(problems[3]!.problem).toMatch(/row 4/);
  });

  test("a column of another name is refused, and so is a judgement", () => {
    expect(stockColumn(model, "colour")).toEqual({
      problem: expect.stringMatching(/“colour”.*Did you mean color\?.*color and weight/) as string,
    });
    expect(stockColumn(model, "seen")).toEqual({ problem: expect.stringMatching(/judgement/) as string });
    expect(missingColumn(["item", "color"])).toMatch(/“in stock”/);
    expect(missingColumn(["item", "in stock", "color", "color"])).toMatch(/two columns “color”/);
    expect(missingColumn(["item", "in stock", "price"])).toMatch(/Add a column for a pick/);
    expect(missingColumn(["item", "in stock", "color"])).toBeUndefined();
  });

  test.each(["3", " 0 ", "2.5", "yes", "NO", "", "-1", "many", "1e3", "yes no"])(
    "the schema takes “%s” in stock just where the reader does",
    (cell) => {
      expect(schema("stock-row")({ item: "A", "in stock": cell })).toBe(
        stockOf(model, `item,color,in stock\nA,black,${cell}`).problems.length === 0,
      );
    },
  );
});

describe("a log", () => {
  test("the day fills what is filled from the date and tells the month; an empty cell is not known", () => {
    const { log, problems } = logOf(answers, "day,clarity,wind,trips\n2027-11-03,muddy,12 mph,2\napr 30,,,\n,stained,3,0.5");
    expect(problems).toEqual([]);
    expect(log.byTrips).toBe(true);
    const date = model.conditions.find(({ name }) => name === "date")!.axes[0]!;
    expect(log.days.map(({ month, trips, box }) => [month, trips.toFraction(), box.size, box.has(date)])).toEqual([
      [11, "2", 3, true],
      [4, "1", 1, true],
      [undefined, "1/2", 2, false],
    ]);
  });

  test("a column of the condition itself goes before the day", () => {
    const { log } = logOf(answers, "day,date\n2027-11-03,dec 24");
    const date = model.conditions.find(({ name }) => name === "date")!.axes[0]!;
    expect(log.days[0]!.box.get(date)).toEqual([358, 358]);
  });

  test("bad cells and days that cannot be are refused by row; the others are kept", () => {
    const { log, problems } = logOf(
      answers,
      "day,clarity,wind,trips\nsoon,clear,3,1\n2027-02-29,clear,3,1\njan 5,murky,50,x\njan 6,clear,35,1\njan 7,clear,3,1",
    );
    expect(log.days.map(({ row }) => row)).toEqual([6]);
    expect(problems.map(({ row, column }) => [row, column])).toEqual([
      [2, "day"],
      [3, "day"],
      [4, "trips"],
      [4, "clarity"],
      [4, "wind"],
      [5, undefined],
    ]);
    expect(problems[0]!.problem).toMatch(/“soon”.*2027-04-15/);
    expect(problems.at(-1)!.problem).toMatch(/does not occur: it churns/);
  });

  test("a column of another name is refused", () => {
    expect(logColumn(model, "clarty")).toEqual({ problem: expect.stringMatching(/Did you mean clarity\?/) as string });
    expect(logColumn(model, "color")).toEqual({ problem: expect.stringMatching(/something the book recommends/) as string });
    expect(logColumn(model, "Water clarity")).toEqual({ name: "clarity" });
  });
});
