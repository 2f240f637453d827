/**
 * Real weather: four years of days in Seattle, from the registry package vega-datasets (`seattle-weather.csv`, from the National Climatic
 * Data Center of NOAA, a work of the United States government). Its `weather` word is synthesized, says the package, so it stands here for
 * the sky as a shop might log it, and for nothing else; `wind` is the day's mean in meters per second. The book is invented. The counts
 * beside it come from the lines of the file, by plain comparing of numbers.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { describe, expect, test } from "vitest";
import { stockReport } from "../../src/stock/stock.js";
import { answersOf, logOf, stockOf } from "./shop.js";

const book = `book "Spoons for a city lake"
condition sky "Sky": in order bright, overcast, rain
  rising is darker, falling is brighter
condition wind "Wind": 0 to 40 mph
  rising is stronger, falling is calmer
condition day "Date": days of the year
  filled from the date
pick finish "Finish": silver, gold, black
pick weight "Weight": 1/8 oz, 1/4 oz, 1/2 oz
pattern "Sun wants silver"
  go with finish silver
  when sky is bright
pattern "Rain wants black"
  go with finish black, then gold
  when sky is rain
pattern "In the short days, gold"
  go with finish gold
  when day from nov 1 to jan 31
  beats "Sun wants silver", "Rain wants black"
fall back on finish gold
pattern "A chop wants weight"
  go with weight 1/2 oz
  when wind is stronger than 10 mph
pattern "Calm water wants little"
  go with weight 1/8 oz
  when wind is 5 mph or calmer
pattern "Rain in a chop wants a quarter"
  go with weight 1/4 oz
  when sky is rain and wind is 9 mph or stronger
`;
const list = `item,finish,weight,in stock
Silver spoon,silver,,yes
Gold spoon,gold,,0
Black spoon,black,,3
Pinch of shot,,1/8 oz,yes
Half-ounce head,,1/2 oz,yes
`;

const lines = readFileSync(
  createRequire(import.meta.url)
    .resolve("vega-datasets")
    .replace(/build.*$/, "data/seattle-weather.csv"),
  "utf8",
)
  .trim()
  .split("\n")
  .slice(1);
const days = lines.map((line) => {
  const [date, , , , wind, weather] = line.split(",");
  return { date: date!, month: Number(date!.slice(5, 7)), wind: Number(wind), weather: weather! };
});
/** Miles per hour: a mile is 1609.344 m (NIST SP 811, table B.8). */
const mph = (metersPerSecond: number): number => (metersPerSecond * 3600) / 1609.344;
const skyOf: Readonly<Record<string, string>> = { sun: "bright", fog: "overcast", drizzle: "rain", rain: "rain", snow: "rain" };

const answers = answersOf(book);
const { stock } = stockOf(answers.model, list);
const reportOn = (csv: string) => {
  const { log, problems } = logOf(answers, csv);
  expect(problems).toEqual([]);
  return stockReport(answers, stock, { log });
};
const whole = reportOn(`day,sky,wind\n${days.map(({ date, weather, wind }) => `${date},${skyOf[weather]},${wind} m/s`).join("\n")}`);

const winter = (month: number): boolean => month === 11 || month === 12 || month === 1;
const is = {
  "Silver spoon": (day: (typeof days)[number]): boolean => skyOf[day.weather] === "bright" && !winter(day.month),
  "Gold spoon": (day: (typeof days)[number]): boolean => skyOf[day.weather] === "overcast" || winter(day.month),
  "Black spoon": (day: (typeof days)[number]): boolean => skyOf[day.weather] === "rain" && !winter(day.month),
  "Pinch of shot": (day: (typeof days)[number]): boolean => mph(day.wind) <= 5,
};
const count = (wanted: (day: (typeof days)[number]) => boolean): string => String(days.filter(wanted).length);

describe("four years of days in Seattle", () => {
  test("are read, all of them: four years with one leap day", () => {
    expect(days.length).toBe(4 * 365 + 1);
    expect(new Set(days.map(({ weather }) => weather))).toEqual(new Set(Object.keys(skyOf)));
    expect(whole.log!.days.length).toBe(days.length);
  });

  test.each(Object.entries(is))("demand for the %s by month", (name, wanted) => {
    const found = whole.items[stock.items.findIndex((item) => item.name === name)]!.found!;
    expect(found.first.days!.trips.toFraction()).toBe(count(wanted));
    for (let month = 1; month <= 12; month++)
      expect([month, found.months.get(month)!.trips.toFraction()]).toEqual([month, count((day) => day.month === month && wanted(day))]);
  });

  test("gaps and conflicts by days", () => {
    const { statuses } = whole.coverage.find(({ pick }) => answers.model.picks[pick]!.name === "weight")!;
    // Nothing is said from 5 to 10 mph, but in rain from 9 mph on; above 10 mph in rain two patterns disagree, unless one is narrower: it is not.
    const chop = (day: (typeof days)[number]): boolean => mph(day.wind) > 10;
    const quarter = (day: (typeof days)[number]): boolean => skyOf[day.weather] === "rain" && mph(day.wind) >= 9;
    expect(statuses!.gap.days!.trips.toFraction()).toBe(count((day) => mph(day.wind) > 5 && !chop(day) && !quarter(day)));
    expect(statuses!.conflict.days!.trips.toFraction()).toBe(count((day) => chop(day) && quarter(day)));
    expect(statuses!.conflict.days!.trips.n).toBeGreaterThan(0n);
    expect(statuses!.decided.days!.trips.add(statuses!.gap.days!.trips).add(statuses!.conflict.days!.trips).toFraction()).toBe(
      String(days.length),
    );
  });

  test("gold is out of stock: nobody can buy it on just these days", () => {
    const lot = whole.lots.find(({ picks }) => answers.model.picks[picks[0]!]!.name === "finish")!;
    const out = lot.answers.filter(({ sells }) => sells === "nothing");
    expect(out.map(({ days }) => days!.trips.toFraction()).reduce((all, part) => all + Number(part), 0)).toBe(
      Number(count(is["Gold spoon"])),
    );
  });

  test("a sky that was not noted is spread, never filled in: a third for each level", () => {
    const report = reportOn(
      `day,sky,wind\n${days.map(({ date, weather, wind }) => `${date},${weather === "fog" ? "" : skyOf[weather]},${wind} m/s`).join("\n")}`,
    );
    const found = report.items[0]!.found!.first.days!;
    const foggy = days.filter(({ weather, month }) => weather === "fog" && !winter(month)).length;
    expect(found.sure.toFraction()).toBe(count(is["Silver spoon"]));
    expect(found.possible.sub(found.sure).toFraction()).toBe(String(foggy));
    expect(found.trips.sub(found.sure).mul(3).toFraction()).toBe(String(foggy));
  });
});
