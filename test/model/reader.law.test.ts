/** A book in its reader's units: quantities that the model knows are said in other units, and nothing else changes. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { answers, type Answers } from "../../src/analysis/answers.js";
import { answer } from "../../src/answer/answer.js";
import { explainAnswer } from "../../src/answer/explain-answer.js";
import { readGiven, saidValues } from "../../src/answer/given.js";
import type { Model } from "../../src/model/model.js";
import { exampleOf, readValue, sayPosition } from "../../src/model/points.js";
import { convert, readQuantity, unitsOf } from "../../src/model/quantities.js";
import { modelIn, numberSaid, type System } from "../../src/model/reader.js";
import { resolve } from "../../src/model/resolve.js";
import { pack, unpack } from "../../src/publish/pack.js";
import { chartsMarkdown } from "../../src/render/charts-markdown.js";
import { chartTables } from "../../src/render/chart.js";
import { answerExplainedText } from "../../src/render/explain-text.js";
import { questionOf } from "../../src/render/json.js";
import { answerText } from "../../src/render/text.js";
import { parse } from "../../src/syntax/parse.js";

/** Its own words hold quantities everywhere: 61.7 °F, 99 ft, 14 to 20 lb mono. */
const hollin = `book "Spoons at 99 ft, 61.7 °F"
condition temp "Water below 99 ft": 33 °F to 90 °F, to the nearest 1 °F
condition depth "Depth": 0 ft to 60 ft
  ask "How deep, up to 99 ft?"
condition wind "Wind": 0 mph to 40 mph
condition top-5 "Within 99 yd": yes, no
band temp: cold below 50 °F, warm
pick weight "Weight": 1/8 oz, 1/4 oz, 3/8 oz
pick line "Line": "14 to 20 lb mono", "61.7 °F braid", thin
  only when temp is above 45 °F and (depth is from 0 to 10 ft or top-5 is yes)
pattern "Down to 99 ft it takes 99 oz"
  go with weight 3/8 oz then 1/4 oz
  go with line "14 to 20 lb mono"
  when depth is from 10 ft to 20 ft and wind is above 10 mph
  because "At 61.7 °F and 99 ft nothing under 99 oz gets down."
pattern "Cold"
  go with weight 1/8 oz
  when temp is cold
fall back on weight 1/4 oz because "99 oz is too much."
fall back on line thin
caution "Ice at 61.7 °F" say "Below 61.7 °F wear a vest; 99 ft is deep." when temp is below 40 °F
`;

function read(text: string): { readonly model: Model; readonly all: Answers } {
  const { model, findings } = resolve(parse(text, "hollin.lore"), () => ({ problem: "none" }));
  expect(findings.filter(({ severity }) => severity === "error")).toEqual([]);
  return { model, all: answers(model, { steps: 100_000 }) };
}

const { model, all } = read(hollin);
const metric = modelIn(model, "metric");
const systems = ["us", "metric", "sea"] as const;

/** Everything that is drawn for what a customer has told. */
function drawn(of: Model, told: Readonly<Record<string, string>>): readonly string[] {
  const reading = readGiven(of, Object.entries(told));
  if ("problems" in reading) return reading.problems.map(({ problem }) => problem);
  const answered = answer(of, reading.given, () => all);
  if ("problem" in answered) return [answered.problem];
  return [
    answerText(of, answered, { width: 10_000 }),
    answerExplainedText(of, explainAnswer(of, answered), { width: 10_000 }),
    ...of.conditions.map(questionOf),
    JSON.stringify(saidValues(of, reading.given)),
  ];
}

/** All that stands between the quantities, which are those of `symbols`; the book's own, 99 and 61.7 of something, are left where they are. */
function between(text: string, symbols: string): readonly string[] {
  // The first of two ends may be written without its unit.
  return text
    .replace("from 0 to ", "from 0 ft to ")
    .split(new RegExp(String.raw`(?<![\d.])(?!99 |61\.7 )-?(?:\d+ )?[\d./]+ (?:${symbols})(?![\p{L}/])|(?<=how many )(?:${symbols})`, "u"));
}

const value = fc.record(
  {
    temp: fc.integer({ min: 33, max: 90 }).map((n) => `${n} °F`),
    depth: fc.integer({ min: 0, max: 240 }).map((n) => `${n / 4} ft`),
    wind: fc.integer({ min: 0, max: 160 }).map((n) => `${n / 4} mph`),
    "top-5": fc.constantFrom("yes", "no"),
  },
  { requiredKeys: [] },
);

test("what is drawn is the same but for the quantities that the model knows", () => {
  fc.assert(
    fc.property(value, (told) => {
      const [written, said] = [drawn(model, told), drawn(metric, told)];
      expect(said.map((text) => between(text, "°C|m|km/h|g"))).toEqual(written.map((text) => between(text, "°F|ft|mph|oz")));
      for (const text of said) expect(text).not.toMatch(/(?<!99|61\.7) (°F|ft|mph|oz)/);
    }),
    { numRuns: 60 },
  );
});

test("every position is said as the same quantity, to the last place shown, and is read back where it was", () => {
  for (const system of systems) {
    const reader = modelIn(model, system);
    for (const { index, condition, size } of model.axes) {
      const { domain } = model.conditions[condition]!;
      if (domain.kind !== "measure") continue;
      for (let position = 0; position < size; position++) {
        const [written, said] = [model, reader].map((of) => readQuantity(sayPosition(of, index, position))!);
        const exact = convert(written!.value, written!.unit!, said!.unit!).valueOf();
        expect(Math.abs(exact - said!.value.valueOf())).toBeLessThanOrEqual(Math.abs(exact) < 10 ? 0.0051 : 0.051);
        if (domain.step)
          expect(readValue(reader.conditions[condition]!, reader.axes, sayPosition(reader, index, position))).toEqual({
            positions: [{ axis: index, position }],
          });
      }
    }
  }
});

test("what is read has the same place in all units", () => {
  const text = fc
    .tuple(fc.integer({ min: -100, max: 1000 }), fc.constantFrom("", " °F", " °C", " ft", " m", " mph", " kn"))
    .map(([n, unit]) => `${n / 10}${unit}`);
  fc.assert(
    fc.property(text, fc.constantFrom<System>(...systems), (typed, system) => {
      model.conditions.forEach((condition, index) => {
        const [written, said] = [condition, modelIn(model, system).conditions[index]!].map((one) => readValue(one, model.axes, typed));
        expect("problem" in said! ? "refused" : said).toEqual("problem" in written! ? "refused" : written);
      });
    }),
  );
});

// NIST SP 811, appendix B: 1/4 oz is 7.087 g, 61 °F is 16.11 °C, 10 ft and 20 ft are 3.048 m and 6.096 m, 10 mph is 16.09 km/h.
describe("in metric", () => {
  const options = (pick: number): readonly string[] => metric.picks[pick]!.options.map(({ text }) => text);
  test("options that are quantities, and names that hold one", () => {
    expect(options(0)).toEqual(["3.54 g", "7.09 g", "10.6 g"]);
    expect(options(1)).toEqual(["14 to 20 lb mono", "61.7 °F braid", "thin"]);
  });
  test("both ends of a stretch", () => {
    const made = chartTables({ ...all, model: metric }, [0]);
    if ("problem" in made) throw new Error(made.problem);
    const text = chartsMarkdown(
      { ...all, model: metric },
      made.tables.map((table) => ({ ...table, model: metric })),
    );
    expect(text).toContain("3.05 m to 6.1 m");
    expect(text).toContain("above 16.1 km/h");
    expect(text).toContain("cold is below 10 °C; warm is 10 °C and more");
  });
  test("an only when, as written but for its quantities, on a page too", () => {
    for (const of of [model, unpack(pack(model))]) {
      const why = (one: Model): string | undefined => {
        const reading = readGiven(one, Object.entries({ temp: "40 °F", depth: "30 ft", wind: "5 mph", "top-5": "no" }));
        if ("problems" in reading) throw new Error("refused");
        const answered = answer(one, reading.given, () => all);
        if ("problem" in answered) throw new Error(answered.problem);
        return explainAnswer(one, answered).settled.find(({ pick }) => pick === "line")?.onlyWhen;
      };
      expect(why(of)).toBe("temp is above 45 °F and (depth is from 0 to 10 ft or top-5 is yes)");
      expect(why(modelIn(of, "metric"))).toBe("temp is above 7.22 °C and (depth is from 0 m to 3.05 m or top-5 is yes)");
    }
  });
  test("a position, a typed value, a field", () => {
    const { axes } = metric.conditions[0]!;
    const reading = readValue(model.conditions[0]!, model.axes, "61 °F");
    if ("problem" in reading) throw new Error(reading.problem);
    expect(exampleOf(metric, metric.axes.map(({ index }) => (index === axes[0] ? reading.positions[0]!.position : undefined)))).toEqual({ temp: "16.1 °C" }); // prettier-ignore
    const temp = metric.conditions[0]!.domain;
    if (temp.kind !== "measure") throw new Error("no measure");
    expect(["11.3 °C", "11.3", "61 °F", "warm"].map((told) => numberSaid(told, temp))).toEqual(["11.3", "-11.5", "16.1", undefined]);
  });
});

test("a value typed in a unit comes back in its field as it was typed", () => {
  const units = (["temperature", "length", "speed"] as const).flatMap(unitsOf);
  fc.assert(
    fc.property(fc.integer({ min: -9999, max: 9999 }), fc.integer({ min: 0, max: 3 }), fc.constantFrom(...units), (n, places, symbol) => {
      const typed = (n / 10 ** places).toFixed(places);
      const { unit } = readQuantity(`1 ${symbol}`)!;
      for (const told of [`${typed} ${symbol}`, typed]) expect(Number(numberSaid(told, { unit: unit! }))).toBe(Number(typed));
    }),
  );
});
