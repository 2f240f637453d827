/** `waterlore table`, `answer` and `why`, run as a user runs them. What they mean is tested beside the tables. */
import { Ajv2020 } from "ajv/dist/2020.js";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { folder, run, sound, twoRules } from "./run.js";
import { root } from "../root.js";

const day = `book "Days"
  shop "Hollin Landing"
condition clarity "Water clarity": in order clear, stained, muddy
  rising is dirtier, falling is clearer
  ask "How far down can you see a white lure?"
condition cover "Cover": any of grass, docks
condition water-temp "Water temperature": 33 to 95 °F, to the nearest 1 °F
  rising is warmer, falling is colder
impossible when clarity is muddy and water-temp is 90 °F or warmer
  because "never logged here"
pick blade "Blade": round, leaf
pattern "Mud wants a round blade"
  go with blade round
  when clarity is muddy
  because "Fish that cannot see the bait feel it."
pattern "Grass wants a leaf"
  go with blade leaf
  when cover has grass
  beats "Mud wants a round blade"
fall back on blade round
caution "Cold water" when water-temp is colder than 70 °F
  say "Wear a life jacket."
`;

function schemaErrors(name: string, json: string): unknown {
  const schema: object = JSON.parse(readFileSync(join(root, "src/schema", `${name}.json`), "utf8"));
  const valid = new Ajv2020({ allErrors: true, strict: true, strictRequired: false }).compile(schema);
  return valid(JSON.parse(json)) ? [] : valid.errors;
}

describe("JSON fits its schema", () => {
  const files = { "day.lore": day, "two.lore": twoRules, "broken.lore": twoRules.replace("when sky is dark", "when sky is drak") };
  test.each([
    ["findings", ["check", "day.lore", "two.lore", "broken.lore", "--format", "json"]],
    ["findings", ["check", "two.lore", "--format", "json", "--steps", "1"]],
    ["table", ["table", "day.lore", "--format", "json"]],
    ["table", ["table", "two.lore", "--format", "json"]],
    ["answers", ["answer", "day.lore", "--format", "json"]],
    ["answers", ["answer", "day.lore", "clarity=muddy", "cover=none", "water-temp=61", "--format", "json"]],
    ["answers", ["answer", "day.lore", "--csv", "points.csv", "--format", "json"]],
  ])("%s: %j", (name, words) => {
    const cwd = folder({ ...files, "points.csv": "clarity,cover,water-temp\nclear,grass;docks,61 °F\nmudy,,\nmuddy,none,95\n" });
    expect(schemaErrors(name, run(cwd, words).out)).toEqual([]);
  });
});

describe("table", () => {
  test.each([
    ["text", /Blade/],
    ["markdown", /^\| .* \|$/m],
    ["csv", /^clarity,|^cover,|^[a-z-]+,.*blade,blade status,because$/m],
    ["json", /"waterlore-table"/],
  ])("--format %s, the same bytes every time", (format, shown) => {
    const cwd = folder({ "day.lore": day });
    const first = run(cwd, ["table", "day.lore", "--format", format]);
    expect(first).toMatchObject({ exit: 0, err: "" });
    expect(first.out).toMatch(shown);
    expect(run(cwd, ["table", "./day.lore", "--format", format]).out).toBe(first.out);
  });

  test("--pick takes one pick or several, and names them where there is none of that name", () => {
    const cwd = folder({
      "two.lore": sound.replace(
        "fall back on blade round\n",
        "fall back on blade round\npick knot: improved\nfall back on knot improved\n",
      ),
    });
    const picks = (...words: string[]): string[] =>
      JSON.parse(run(cwd, ["table", "two.lore", "--format", "json", ...words]).out).picks.map(({ name }: { name: string }) => name);
    expect(picks()).toEqual(["blade", "knot"]);
    expect(picks("--pick", "knot")).toEqual(["knot"]);
    expect(picks("--pick", "knot", "--pick", "blade").sort()).toEqual(["blade", "knot"]);
    expect(run(cwd, ["table", "two.lore", "--pick", "blad"])).toMatchObject({
      exit: 2,
      out: "",
      err: "The book has no pick “blad”. Did you mean blade? Its picks are blade and knot.\n",
    });
  });

  test("a book of which part cannot be read: the rest, a note, exit code 1", () => {
    const cwd = folder({ "broken.lore": twoRules.replace("when sky is dark", "when sky is drak") });
    const { exit, out, err } = run(cwd, ["table", "broken.lore"]);
    expect(exit).toBe(1);
    expect(out).toContain("Blade");
    expect(err).toBe(
      "Part of broken.lore could not be read (1 error), so this is made from the rest of it. To see why: waterlore check broken.lore\n",
    );
  });

  test("a conflict is shown in its row, and is for check to complain of", () => {
    const { exit, out } = run(folder({ "two.lore": twoRules }), ["table", "two.lore"]);
    expect(exit).toBe(0);
    expect(out).toContain("in conflict");
  });

  test("no table: nothing recommended, no such file", () => {
    const cwd = folder({ "c.lore": 'book "Conditions"\ncondition sky: bright, dark\n' });
    expect(run(cwd, ["table", "c.lore"])).toMatchObject({ exit: 2, out: "", err: expect.stringContaining("recommends nothing") });
    expect(run(cwd, ["table", "gone.lore"])).toMatchObject({ exit: 2, out: "", err: "Cannot read gone.lore: there is no such file.\n" });
  });

  test("from standard input", () => {
    const cwd = folder({ "day.lore": day });
    expect(run(cwd, ["table", "-", "--stdin-path", "day.lore", "--format", "csv"], { stdin: day }).out).toBe(
      run(cwd, ["table", "day.lore", "--format", "csv"]).out,
    );
  });
});

describe("answer", () => {
  const answers = (cwd: string, ...words: string[]) =>
    JSON.parse(run(cwd, ["answer", "day.lore", ...words, "--format", "json"]).out).answers[0];

  test("with all that matters known, one answer with its reason", () => {
    const cwd = folder({ "day.lore": day });
    const answer = answers(cwd, "clarity=muddy", "cover=none", "water-temp=16 °C");
    expect(answer.given).toEqual({ clarity: "muddy", cover: [], "water-temp": "61 °F" });
    expect(answer.picks.blade).toMatchObject({
      status: "decided",
      answer: [["round"]],
      because: [{ pattern: "Mud wants a round blade", text: "Fish that cannot see the bait feel it." }],
    });
    expect(answer.cautions).toMatchObject([{ caution: "Cold water" }]);
  });

  test("unknown is unknown: every outcome with its share, and the question", () => {
    const answer = answers(folder({ "day.lore": day }), "clarity=clear");
    expect(answer.unknown).toEqual(["cover", "water-temp"]);
    expect(answer.picks.blade.status).toBe("depends");
    expect(
      answer.picks.blade.possible
        .map(({ status, answer: list, share }: { status: string; answer: string[][]; share: string }) => [status, list, share])
        .sort(),
    ).toEqual([
      ["decided", [["leaf"]], "1/2"],
      ["fallback", [["round"]], "1/2"],
    ]);
    expect(answer.ask.condition).toBe("cover");
  });

  test("text for the counter, cautions with it, at most 80 wide", () => {
    const { exit, out } = run(folder({ "day.lore": day }), ["answer", "day.lore", "clarity=muddy", "cover=grass,docks"]);
    expect(exit).toBe(0);
    expect(out).toMatch(/Blade +leaf/);
    expect(out).toContain("Wear a life jacket.");
    for (const line of out.split("\n")) expect(line.length).toBeLessThanOrEqual(80);
  });

  test.each([
    [["clarity=mudy"], /did you mean muddy\? It takes one of clear, stained or muddy\./],
    [["clarety=muddy"], /no condition clarety\. Did you mean clarity\?/],
    [["water-temp=96"], /96 is out of range for water-temp/],
    [["blade=round"], /blade is something the book recommends/],
    [["clarity"], /NAME=VALUE/],
    [["=muddy"], /NAME=VALUE/],
    [["clarity=muddy", "water-temp=91"], /does not occur: never logged here\./],
    [["--csv", "gone.csv"], /Cannot read gone\.csv/],
    [["--format", "csv"], /--csv/],
    [["clarity=muddy", "--csv", "points.csv"], /not both/],
  ])("refused, saying what would be accepted: %j", (words, message) => {
    const { exit, out, err } = run(folder({ "day.lore": day }), ["answer", "day.lore", ...words]);
    expect({ exit, out }).toEqual({ exit: 2, out: "" });
    expect(err).toMatch(message);
  });

  test("a file of points: one row of answers each, in order; bad rows say where and why, the others are answered", () => {
    const points =
      '\ufeffclarity,cover,water-temp\r\nmuddy,none,"61 °F"\r\n\r\nmudy,,200\r\nclear,grass;docks,\r\nmuddy,,95\r\nclear,none,61,extra\r\n';
    const cwd = folder({ "day.lore": day, "points.csv": points });
    const { exit, out, err } = run(cwd, ["answer", "day.lore", "--csv", "points.csv", "--format", "csv"]);
    const rows = out.trimEnd().split("\n");
    expect(exit).toBe(2);
    expect(rows[0]).toMatch(/^clarity,cover,water-temp,blade,blade status,.*,error$/);
    expect(rows.length).toBe(6);
    expect(rows[1]).toMatch(/^muddy,none,61 °F,round,decided,.*,$/);
    expect(rows[2]).toMatch(/Row 4, column clarity: .*“mudy”: did you mean muddy\?/);
    expect(rows[2]).toContain("Row 4, column water-temp: 200 is out of range");
    expect(rows[3]).toMatch(/^clear,grass;docks,,leaf,decided,/);
    expect(rows[4]).toContain("Row 6: The book says that this does not occur");
    expect(rows[5]).toContain("Row 7 has 4 cells, but the first row names 3 columns.");
    expect(err.trimEnd().split("\n").length).toBe(4);
    expect(run(cwd, ["answer", "day.lore", "--csv", "-", "--format", "csv"], { stdin: points }).out).toBe(out);
  });

  test.each([
    [",", "grass;docks"],
    [";", "grass,docks"],
    ["\t", "grass;docks"],
  ])("a file parted by %j, with labels or names at the top", (sign, cover) => {
    const points = [
      ["water CLARITY", "Cover", "WATER-TEMP"],
      ["muddy", cover, "61"],
      ["clear", "none", ""],
    ]
      .map((cells) => cells.join(sign))
      .join("\n");
    const cwd = folder({ "day.lore": day, "points.csv": `\ufeff${points}\n` });
    const { exit, out } = run(cwd, ["answer", "day.lore", "--csv", "points.csv", "--format", "json"]);
    expect(exit).toBe(0);
    expect(JSON.parse(out).answers.map(({ given }: { given: unknown }) => given)).toEqual([
      { clarity: "muddy", cover: ["grass", "docks"], "water-temp": "61 °F" },
      { clarity: "clear", cover: [] },
    ]);
  });

  test("a file in text: a bad row says why in its place, cautions stand once at the end with their rows", () => {
    const cwd = folder({
      "day.lore": day,
      "points.csv": "clarity,cover,water-temp\nmuddy,none,61\nmudy,,\nclear,none,95\nclear,grass,\nmuddy,none,62\n",
    });
    const { exit, out, err } = run(cwd, ["answer", "day.lore", "--csv", "points.csv"]);
    expect(exit).toBe(2);
    expect(err).toBe("Row 3 could not be answered. The reason stands in place of the answer.\n");
    expect(out).toMatch(/\n\nRow 3, column clarity: clarity cannot be “mudy”: did you mean muddy\?/);
    expect(out.split("Wear a life jacket.").length).toBe(2);
    expect(out.endsWith("\nMind:\n- Cold water (rows 2 and 6; may apply to row 5): Wear a life jacket.\n")).toBe(true);
  });

  test("a log is answered as it is: columns that name no condition are passed on, and named once", () => {
    const cwd = folder({ "day.lore": day, "log.csv": 'angler,clarity,trips,cover,note\nAda,muddy,3,none,"wind, rain"\n,mudy,1,,=1+1\n' });
    const err = "log.csv: “angler”, “trips” and “note” name no condition. They are passed on as they are, beside the answers.\n";
    const { exit, out, err: said } = run(cwd, ["answer", "day.lore", "--csv", "log.csv", "--format", "csv"]);
    const [head, first, second] = out.split("\n");
    expect(exit).toBe(2);
    expect(head).toMatch(/^angler,trips,note,clarity,cover,water-temp,blade,/);
    expect(first).toMatch(/^Ada,3,"wind, rain",muddy,none,,round,decided,/);
    expect(second).toMatch(/^,1,'=1\+1,mudy,,,.*did you mean muddy/);
    expect(said.startsWith(err)).toBe(true);
    expect(said.split("passed on").length).toBe(2);
    const { answers: all } = JSON.parse(run(cwd, ["answer", "day.lore", "--csv", "log.csv", "--format", "json"]).out) as {
      answers: readonly { beside: unknown; given: unknown }[];
    };
    expect(all.map(({ beside }) => beside)).toEqual([
      { angler: "Ada", trips: "3", note: "wind, rain" },
      { angler: "", trips: "1", note: "=1+1" },
    ]);
    expect(all[0]!.given).toEqual({ clarity: "muddy", cover: [] });
    // A day without trips is a log too, and whatever reads the answers finds the columns it knows.
    const empty = run(folder({ "day.lore": day, "log.csv": "angler,clarity,trips,cover,note\n" }), [
      ...["answer", "day.lore", "--csv", "log.csv", "--format", "csv"],
    ]);
    expect(empty).toMatchObject({ exit: 0, out: `${head}\n`, err });
  });

  test("--on fills what is filled from the date; without it that is unknown", () => {
    const dated = `${day}condition date "Date": days of the year\n  filled from the date\ncaution "Closed" when date from apr 1 to apr 30\n  say "Look up the local rules."\n`;
    const cwd = folder({ "day.lore": dated, "points.csv": "clarity,date\nmuddy,\nclear,may 5\n" });
    expect(answers(cwd, "--on", "2027-04-10")).toMatchObject({ given: { date: "apr 10" }, unknown: ["clarity", "cover", "water-temp"] });
    expect(answers(cwd).unknown).toContain("date");
    for (const command of ["answer", "why"])
      expect(run(cwd, [command, "day.lore", "cover=grass", "--on", "2027-04-10"]).out).toContain("date apr 10 (from --on)");
    const rows = JSON.parse(run(cwd, ["answer", "day.lore", "--csv", "points.csv", "--on", "2027-04-10", "--format", "json"]).out).answers;
    expect(rows.map(({ given }: { given: { date: string } }) => given.date)).toEqual(["apr 10", "may 5"]);
  });

  test("a file of points that is none", () => {
    const cwd = folder({
      "day.lore": day,
      "names.csv": "clarity,covr\nmuddy,grass\n",
      "empty.csv": "",
      "quotes.csv": 'clarity\n"mud"dy\n',
    });
    const refused = (file: string): string => {
      const { exit, out, err } = run(cwd, ["answer", "day.lore", "--csv", file, "--format", "csv"]);
      expect({ exit, out }).toEqual({ exit: 2, out: "" });
      return err;
    };
    expect(refused("names.csv")).toContain(
      "names.csv has a column “covr”. There is no condition covr in the book. Did you mean cover? The book's conditions are clarity, cover and water-temp. Take the column out,",
    );
    for (const [heading, words] of [
      ["blade", "which is something the book recommends"],
      ["blade status", "which is the name of a column of the answers"],
      ["", "a column has no name"],
      ["angler,angler", "two columns “angler”"],
    ]) {
      writeFileSync(join(cwd, "other.csv"), `clarity,${heading}\nmuddy,x,y\n`);
      expect(refused("other.csv")).toContain(words);
    }
    expect(refused("empty.csv")).toContain("empty.csv is empty.");
    expect(refused("quotes.csv")).toMatch(/^quotes\.csv cannot be read .*\n$/);
  });
});

describe("why", () => {
  test("which rule spoke, and which one it overruled", () => {
    const { exit, out, err } = run(folder({ "day.lore": day }), ["why", "day.lore", "clarity=muddy", "cover=grass", "water-temp=61"]);
    expect({ exit, err }).toEqual({ exit: 0, err: "" });
    expect(out).toMatch(/“Mud wants a round blade” says round;\s+it is beaten by “Grass wants a\s+leaf”/);
    expect(out).not.toContain("Not given");
    expect(out).toContain("Wear a life jacket.");
  });

  test("what does not matter need not be given; what was taken for it is said", () => {
    const { out } = run(folder({ "day.lore": day }), ["why", "day.lore", "clarity=muddy", "cover=grass"]);
    expect(out).toMatch(/^Not given, and for this explanation taken as it might be: water-temp \d+ °F\.$/m);
    expect(out).toContain("Blade: leaf.");
  });

  test("what matters and is not given is asked for", () => {
    const { exit, out } = run(folder({ "day.lore": day }), ["why", "day.lore", "clarity=muddy"]);
    expect(exit).toBe(0);
    expect(out).toMatch(/^Too little is known to explain anything yet: /);
    expect(out).toContain("it depends");
    expect(out).toMatch(/To settle most, ask: .*Cover/);
  });

  test("a point that cannot be is refused", () => {
    expect(run(folder({ "day.lore": day }), ["why", "day.lore", "clarity=muddy", "water-temp=90"])).toMatchObject({
      exit: 2,
      out: "",
      err: expect.stringContaining("never logged here"),
    });
  });
});
