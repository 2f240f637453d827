/**
 * The words of charts, answers and explanations, sign by sign: for the example of the language reference, and for a small pond with
 * something of every kind. `npx vitest run test/render/wording --update` writes them anew; read the difference before you keep it.
 */
import { parse as parseCsv } from "csv-parse/sync";
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { toTheEnd } from "../../src/analysis/budget.js";
import { answers } from "../../src/analysis/answers.js";
import { resolve } from "../../src/model/resolve.js";
import { tableWords } from "../../src/messages/table.js";
import { parse } from "../../src/syntax/parse.js";
import { chartTables } from "../../src/render/chart.js";
import { widthOf } from "../../src/render/columns.js";
import { compile } from "../../src/table/compile.js";
import { answerLines, tableCsv } from "../../src/render/csv.js";
import { explaining } from "../../src/answer/explain.js";
import { explainAnswer } from "../../src/answer/explain-answer.js";
import { answerExplainedMarkdown, answerExplainedText, explanationText } from "../../src/render/explain-text.js";
import { readGiven, type GivenProblem } from "../../src/answer/given.js";
import { answerJson, tableJson, type Refused } from "../../src/render/json.js";
import { chartsMarkdown } from "../../src/render/charts-markdown.js";
import { answer, type Answered } from "../../src/answer/answer.js";
import { sourceWords } from "../../src/render/sources.js";
import { answerText, chartsText, warningsText } from "../../src/render/text.js";
import { read } from "../law/reading.js";
import { readPond } from "../table/pond.js";

const golden = (name: string): string => new URL(`golden/${name}`, import.meta.url).pathname;
const { model, answers: all } = readPond();

/** One answer where there are mullet, and eels or weed beside them. */
const bay = `book "Bay"
condition bait "Bait in the water": any of mullet, eels, weed
pick lure "Lure": plug, spoon
pattern "Mullet over something"
  go with lure plug
  when bait has mullet and (bait has eels or bait has weed)
fall back on lure spoon
`;

function hollin() {
  const at = (path: string): string => new URL(`../books/${path}`, import.meta.url).pathname;
  const { model, findings } = resolve(parse(readFileSync(at("hollin.lore"), "utf8"), "hollin.lore"), (path) => ({
    text: readFileSync(at(path), "utf8"),
  }));
  expect(findings.filter(({ severity }) => severity === "error")).toEqual([]);
  return answers(model, { steps: 400_000 });
}

function tablesOf(found: ReturnType<typeof answers>, picks?: readonly number[]) {
  const charts = chartTables(found, picks);
  if ("problem" in charts) throw new Error(charts.problem);
  return charts.tables;
}

function ask(...given: readonly string[]): Answered {
  return askOn(undefined, ...given);
}

/** Answers as CSV, read as a reader of CSV does: one line each, by column. */
function readBack(...all: readonly (Answered | Refused)[]): readonly Record<string, string>[] {
  const { head, given, said } = answerLines(model);
  const lines = all.map((one) => given("problems" in one ? one.given : one.given.values) + said(one));
  return parseCsv<Record<string, string>>(head + lines.join(""), { columns: true });
}
function askOn(day: string | undefined, ...given: readonly string[]): Answered {
  const reading = readGiven(
    model,
    given.map((pair) => [pair.slice(0, pair.indexOf("=")), pair.slice(pair.indexOf("=") + 1)] as const),
    day,
  );
  if ("problems" in reading) throw new Error(reading.problems.map(({ problem }) => problem).join("\n"));
  const answered = answer(model, reading.given, () => all);
  if ("problem" in answered) throw new Error(answered.problem);
  return answered;
}

function problemsOf(...given: readonly (readonly [string, string])[]): readonly GivenProblem[] {
  const reading = readGiven(model, given);
  return "problems" in reading ? reading.problems : [];
}

function explanationOf(answered: Answered): string {
  return explanationText(toTheEnd(explaining(model, answered.example, answered.given.values)));
}

describe("charts", () => {
  test("of the language reference's example", async () => {
    const found = hollin();
    await expect(
      chartsText(
        found,
        tablesOf(
          found,
          found.model.picks.map(({ index }) => index),
        ),
      ),
    ).toMatchFileSnapshot(golden("hollin.txt"));
  });

  test("of the pond, as text", async () => {
    await expect(chartsText(all, tablesOf(all))).toMatchFileSnapshot(golden("pond.txt"));
  });

  test("of the pond, as Markdown", async () => {
    await expect(chartsMarkdown(all, tablesOf(all))).toMatchFileSnapshot(golden("pond.md"));
  });

  test("a source is named to whoever reads, and a lack of one is not: that is kept in the data", () => {
    expect(sourceWords(["common practice, no source"])).toBe("");
    expect(sourceWords([])).toBe("");
    expect(sourceWords(["Common practice, no source", "a county notice"])).toBe("See a county notice.");
    const { model } = read(
      {
        "ice.lore": `book "Ice"
condition ice: thin, thick
pick bait: jig, worm
fall back on bait jig
caution "Thin" when ice is thin say "Stay off." see "a county notice", "common practice, no source"
caution "Hooks" say "Barbs hurt." see "common practice, no source"`,
      },
      "ice.lore",
    );
    const found = answers(model, { steps: 10_000 });
    const warnings = model.cautions.map((caution) => ({ caution, sure: true }));
    for (const shown of [chartsText(found, tablesOf(found)), chartsMarkdown(found, tablesOf(found)), warningsText(warnings)]) {
      expect(shown).toContain("See a county notice.");
      expect(shown).not.toMatch(/no source/i);
    }
    const reading = readGiven(model, [["ice", "thin"]]);
    if ("problems" in reading) throw new Error("a good reply was refused");
    const answered = answer(model, reading.given, () => found);
    if ("problem" in answered) throw new Error(answered.problem);
    expect(JSON.stringify(answerJson(model, answered))).toMatch(/common practice, no source.*common practice, no source/s);
  });

  test("a choice among several things to be there reads one way only", () => {
    expect(
      tableWords.withMembers([
        { words: "mullet", choice: false },
        { words: "eels or weed", choice: true },
      ]),
    ).toBe("mullet and (eels or weed)");
    expect(tableWords.withMembers([{ words: "eels or weed", choice: true }])).toBe("eels or weed");
    expect(tableWords.either(["up to 4 ft", "above 10 ft, below 20 ft"])).toBe("up to 4 ft; or above 10 ft, below 20 ft");
    const { model, faults } = read({ "bay.lore": bay }, "bay.lore");
    expect(faults).toEqual([]);
    const found = answers(model, { steps: 400_000 });
    for (const chart of [chartsText(found, tablesOf(found)), chartsMarkdown(found, tablesOf(found))])
      expect(chart).toMatch(/mullet and \(eels or weed\)/);
  });

  test("a caution about a pick that comes from many conditions names the pick", () => {
    const { model } = read(
      {
        "lead.lore": `book "Lead"
condition clarity: in order clear, stained, muddy
condition sky: bright, dark
condition wind: calm, breeze, blowing
pick bait: jig, worm, spoon
pattern "A" go with bait jig when (clarity is clear and sky is bright) or (clarity is stained and wind is calm) or (clarity is muddy and sky is dark and wind is blowing) or (sky is dark and wind is calm)
fall back on bait worm
caution "Lead" when bait is jig say "Lead kills birds."
`,
      },
      "lead.lore",
    );
    const found = answers(model, { steps: 400_000 });
    expect(chartsText(found, tablesOf(found))).toContain("- Lead (bait jig): Lead kills birds.");
  });

  test("are longer rather than cut a word, if asked for", () => {
    const longest = Math.max(...all.model.conditions.map(({ label }) => Math.max(...label.split(" ").map(widthOf))));
    const lines = chartsText(all, tablesOf(all), { width: 24, whole: true }).split("\n");
    expect(Math.max(...lines.map(widthOf))).toBeGreaterThan(24);
    for (const { label } of all.model.conditions)
      for (const word of label.split(" ")) if (widthOf(word) === longest) expect(lines.some((line) => line.includes(word))).toBe(true);
  });

  test.each([80, 60, 40, 24])("fit %i columns", (width) => {
    for (const line of chartsText(all, tablesOf(all), { width }).split("\n")) expect(widthOf(line), line).toBeLessThanOrEqual(width);
  });

  test("as CSV, read back by a reader of CSV, have a line per row and a cell per column", () => {
    for (const table of tablesOf(all)) {
      const [head, ...lines] = parseCsv(tableCsv(table));
      const pick = model.picks[table.picks[0]!]!.name;
      expect(head).toEqual([
        ...table.conditions.map((index) => model.conditions[index]!.name),
        pick,
        `${pick} status`,
        "because",
        "silence",
      ]);
      expect(lines.map((line) => line[table.conditions.length + 1])).toEqual(table.rows.map(({ outcomes }) => outcomes[0]!.status));
    }
  });

  test("in JSON, the forms of every kind of limit", async () => {
    const compiled = compile(all, { picks: model.picks.map(({ index }) => index) });
    if ("problem" in compiled) throw new Error(compiled.problem);
    const { conditions, rows, ...rest } = tableJson(all, { ...compiled.table, rows: compiled.table.rows.slice(0, 12) });
    await expect(JSON.stringify({ ...rest, conditions, rows }, null, 2)).toMatchFileSnapshot(golden("pond.json"));
  });
});

describe("answers", () => {
  test("where little is known", async () => {
    await expect(answerText(model, ask("clarity=stained"))).toMatchFileSnapshot(golden("answer-stained.txt"));
  });

  test("where everything is known, and why", async () => {
    const answered = ask("clarity=clear", "cover=docks", "water-temp=5 °C", "depth=4", "day=2027-04-15");
    await expect(`${answerText(model, answered)}\n${explanationOf(answered)}`).toMatchFileSnapshot(golden("answer-docks.txt"));
  });

  test("where the book says nothing on purpose, and why", async () => {
    const answered = ask("clarity=stained", "cover=grass;pads", "water-temp=40", "depth=12 1/2 ft", "day=feb 15");
    await expect(`${answerText(model, answered)}\n${explanationOf(answered)}`).toMatchFileSnapshot(golden("answer-closed.txt"));
  });

  test("name as not known only what can still change them", () => {
    const closed = ask("day=feb 15", "clarity=muddy", "cover=grass");
    expect(answerText(model, closed).split("\n\n")[0]).toBe(
      "Known: clarity muddy, cover grass, day feb 15. Not known: water-temp and depth.",
    );
    const settled = ask("day=feb 15", "cover=grass", "water-temp=40", "depth=12");
    expect(answerText(model, settled).split("\n\n")[0]).toBe("Known: cover grass, water-temp 40 °F, depth 12 ft, day feb 15.");
    expect(answerJson(model, settled).unknown).toEqual(["clarity"]);
  });

  test("explained where some picks are open, as text and as Markdown in one order: what is only judged comes last, cautions at the end", () => {
    const { model, faults } = read(
      {
        "open.lore": `book "Open"
condition clarity: clear, muddy
condition sky: bright, dark
judgement mood: slow, quick
judgement bite: poor, good
pick blade: round, leaf
pick color: white, black
pattern "Mood" go with mood slow when sky is dark
pattern "Bite" go with bite good when clarity is muddy
pattern "Blade" go with blade round when clarity is muddy
pattern "Color" go with color black when sky is dark
fall back on mood quick
caution "Cold" when clarity is muddy say "Wear a life jacket."
`,
      },
      "open.lore",
    );
    expect(faults).toEqual([]);
    const reading = readGiven(model, [["clarity", "muddy"]]);
    if ("problems" in reading) throw new Error("clarity is a condition");
    const answered = answer(model, reading.given, () => answers(model, { steps: 10_000 }));
    if ("problem" in answered) throw new Error(answered.problem);
    const explained = explainAnswer(model, answered);
    const order = [
      /^Not given, /,
      /^(### )?blade: round\./,
      /^(### )?bite \(judged\): good\./,
      /^(### )?color:? +it depends/,
      /^(### )?mood/,
      /ask: /,
      /life jacket/,
    ];
    for (const text of [answerExplainedText(model, explained, { width: 100 }), answerExplainedMarkdown(model, explained)]) {
      const lines = text.split("\n");
      const places = order.map((part) => lines.findIndex((line) => part.test(line)));
      expect(places, text).toEqual([...places].sort((a, b) => a - b));
      expect(places, text).not.toContain(-1);
    }
  });

  test("in JSON, where something is unknown", async () => {
    await expect(JSON.stringify(answerJson(model, ask("clarity=muddy", "depth=3 yd")), null, 2)).toMatchFileSnapshot(
      golden("answer-muddy.json"),
    );
  });

  test("in CSV, one line each, what could not be answered with its reason", () => {
    const refused: Refused = { given: { clarity: "clear" }, problems: ["Nobody knows."] };
    const lines = readBack(ask("clarity=muddy", "cover=none"), refused);
    expect(lines.map(({ clarity, cover, error, "color status": status }) => [clarity, cover, status, error])).toEqual([
      ["muddy", "none", "depends", ""],
      ["clear", "", "", "Nobody knows."],
    ]);
  });
});

describe("what is given", () => {
  const firstLine = (answered: Answered): string => answerText(model, answered).split("\n\n")[0]!;

  test("a band's name is that stretch: known so far, and asked for where it can settle more", () => {
    const cold = ask("water-temp=Cold", "clarity=muddy");
    expect(cold.given.box.get(model.conditions[2]!.axes[0]!)).toEqual([0, 50 - 33 - 1]);
    expect(firstLine(cold)).toBe("Known: clarity muddy, water-temp cold. Not known: cover, depth and day.");
    expect(answerJson(model, cold)).toMatchObject({ given: { "water-temp": "cold" }, unknown: ["cover", "depth", "day"] });
    // A head of 3/8 oz goes down by one throughout the cold band; craws are for the warm one only.
    const weight = model.picks.findIndex(({ name }) => name === "weight");
    expect(
      ask("water-temp=cold", "depth=12", "cover=none")
        .picks[weight]!.outcome?.places.flat()
        .map((option) => model.picks[weight]!.options[option]!.text),
    ).toEqual(["1/4 oz"]);
    const either = ask("water-temp=cold,cool", "clarity=muddy", "cover=none", "depth=12", "day=apr 15");
    expect(either.given.unknown).toEqual([2]);
    expect(either.ask).toBe(2);
  });

  test("several levels are one or the other", () => {
    const given = ask("clarity=clear;muddy", "day=apr 15");
    expect(firstLine(given)).toContain("Known: clarity clear or muddy, day apr 15.");
    expect(answerJson(model, given).given).toEqual({ clarity: ["clear", "muddy"], day: "apr 15" });
    expect(readBack(given)[0]!["clarity"]).toBe("clear;muddy");
  });

  test("a name may be the label, in any case", () => {
    expect(ask("water Clarity=muddy", "DEPTH=3").given.values).toEqual({ clarity: "muddy", depth: "3 ft" });
  });

  test("a day beside the values fills what is filled from the date, unless that is given", () => {
    expect(firstLine(askOn("2027-04-10", "clarity=muddy"))).toMatch(/^Known: clarity muddy, day apr 10 \(from --on\)\. /);
    expect(answerJson(model, askOn("2027-04-10"))).toMatchObject({
      given: { day: "apr 10" },
      unknown: ["clarity", "cover", "water-temp", "depth"],
    });
    expect(askOn("2027-04-10", "day=feb 3").given.values).toEqual({ day: "feb 3" });
    expect(ask("clarity=muddy").given.values).toEqual({ clarity: "muddy" });
  });
});

describe("what cannot be answered", () => {
  test("every bad value is named, with what would be accepted", () => {
    const problems = problemsOf(
      ["claritty", "clear"],
      ["color", "black"],
      ["depth", "90"],
      ["cover", "gras;logs"],
      ["cover", "grass"],
      ["water-temp", "3/0 °F"],
    );
    expect(problems.map(({ name, problem }) => `${name}: ${problem}`)).toEqual([
      "claritty: There is no condition claritty. Did you mean clarity? The book asks about clarity, cover, water-temp, depth and day.",
      "color: color is something the book recommends, not something to tell it.",
      expect.stringMatching(/^depth: 90 is out of range for depth, which takes a number from 0 ft to 40 ft/),
      expect.stringMatching(/^cover: cover .*gras.*did you mean grass\?/),
      "cover: cover was given twice; give it once.",
      expect.stringMatching(/^water-temp: water-temp .*3\/0 °F/),
    ]);
  });

  test("a value left empty is unknown", () => {
    expect(ask("clarity=", "cover= ").given).toEqual({ box: new Map(), values: {}, unknown: [0, 1, 2, 3, 4], partly: [], filled: [] });
  });

  test("with a band or a level misspelled, the names are among what would be accepted", () => {
    expect(problemsOf(["water-temp", "colt"], ["clarity", "clear,stayned"], ["depth", "deep"]).map(({ problem }) => problem)).toEqual([
      expect.stringMatching(
        /^water-temp cannot be “colt”: did you mean cold\? It takes a number from 33 °F to 95 °F .*; or one or more of cold, cool or warm\.$/,
      ),
      expect.stringMatching(/^clarity cannot be “stayned”: did you mean stained\?/),
      expect.stringMatching(/^depth cannot be “deep”: it takes a number from 0 ft to 40 ft .*\)\.$/),
    ]);
  });

  test("a point that does not occur is refused with the book's reason, whether or not everything is known", () => {
    expect(() => ask("day=jan 5", "water-temp=80")).toThrow("The book says that this does not occur: never logged here.");
    expect(() => ask("day=jan 5", "water-temp=80", "clarity=clear", "cover=none", "depth=1")).toThrow(
      "The book says that this does not occur: never logged here.",
    );
  });
});
