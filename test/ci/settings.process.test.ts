/** `waterlore.json`: found, held against its schema, and second to the command line. */
import { Ajv2020 } from "ajv/dist/2020.js";
import fc from "fast-check";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { severities } from "../../src/diagnostics.js";
import { CannotRun } from "../../src/faces/node/exit.js";
import { configOf } from "../../src/faces/node/config.js";
import { readJson } from "../../src/faces/files/json-places.js";
import { settingsWords } from "../../src/messages/ci.js";
import { folder, run, sound, twoRules } from "../cli/run.js";
import { root } from "../root.js";

const frog = sound.replace("round, leaf", "round, leaf, frog");
const slip = twoRules.replace("sky is dark", "sky is drak");
const dated = sound.replace("when cover has docks\n", 'when cover has docks\n  see "an invented notice" checked 2027-02-01\n');
const json = (config: object): string => JSON.stringify(config, null, 2);
const schema = JSON.parse(readFileSync(join(root, "src/schema/configuration.json"), "utf8"));

describe("the schema", () => {
  test("is one, knows every setting in the same words as the tool, and every kind of finding", () => {
    new Ajv2020({ strict: true }).compile(schema);
    expect(
      Object.fromEntries(Object.entries<{ description: string }>(schema.properties).map(([name, { description }]) => [name, description])),
    ).toEqual(Object.fromEntries(Object.entries(settingsWords).map(([name, takes]) => [name, `${name} ${takes}`])));
    expect(Object.keys(schema.properties.severities.properties)).toEqual(Object.keys(severities));
  });

  // What cannot be off are the kinds that `severities` lists as keeping a book from being read: those up to `circle`.
  test("lets nobody switch off what keeps a book from being read", () => {
    const codes = Object.keys(severities);
    const reading = codes.slice(0, codes.indexOf("circle") + 1);
    const kinds: Record<string, { $ref: string }> = schema.properties.severities.properties;
    expect(codes.filter((code) => kinds[code]!.$ref.endsWith("reading"))).toEqual(reading);
  });
});

describe("where it is", () => {
  test("in the working folder or the nearest one above; paths in it are seen from its own folder", () => {
    const cwd = folder({
      "waterlore.json": json({ books: ["rules"], baseline: "known.json" }),
      "rules/two.lore": twoRules,
      "rules/deep/sound.lore": sound,
    });
    const books = (where: string): string[] =>
      JSON.parse(run(join(cwd, where), ["check", "--format", "json"]).out).books.map(({ path }: { path: string }) => path);
    expect(run(cwd, ["check", "--write-baseline"]).err).toBe("Wrote known.json: 1 known finding.\n");
    expect(books(".")).toEqual(["rules/deep/sound.lore", "rules/two.lore"]);
    expect(books("rules")).toEqual(["deep/sound.lore", "two.lore"]);
    expect(
      books("rules/deep")
        .map((path) => path.split("/").at(-1)!)
        .sort(),
    ).toEqual(["sound.lore", "two.lore"]);
  });

  test("or where --config says, in place of any other", () => {
    const cwd = folder({
      "waterlore.json": "no settings",
      "ci/strict.json": json({ lowest: "warning", books: ["../frog.lore"] }),
      "frog.lore": frog,
    });
    expect(run(cwd, ["check", "--config", "ci/strict.json"]).exit).toBe(1);
    expect(run(cwd, ["check", "frog.lore", "--config", "gone.json"])).toEqual({
      exit: 2,
      out: "",
      err: "Cannot read gone.json: there is no such file.\n",
    });
    expect(run(cwd, ["check", "frog.lore"]).exit).toBe(2);
  });

  test("a byte order mark and a schema to point to are fine", () => {
    const cwd = folder({
      "waterlore.json": `\ufeff${json({ $schema: "./node_modules/waterlore/src/schema/configuration.json", books: ["sound.lore"] })}`,
      "sound.lore": sound,
    });
    expect(run(cwd, ["check"])).toMatchObject({ exit: 0, err: "" });
  });
});

describe("what it settles", () => {
  test("books, and what is left out of folders and patterns but not of names", () => {
    const cwd = folder({
      "waterlore.json": json({ books: ["rules", "more/*.lore"], except: ["rules/drafts", "**/old-*.lore"] }),
      "rules/a.lore": sound,
      "rules/drafts/b.lore": slip,
      "rules/old-c.lore": slip,
      "more/d.lore": sound,
      "more/old-e.lore": slip,
    });
    const books = (...paths: string[]): string[] =>
      JSON.parse(run(cwd, ["check", "--format", "json", ...paths]).out).books.map(({ path }: { path: string }) => path);
    expect(books()).toEqual(["more/d.lore", "rules/a.lore"]);
    expect(books("rules")).toEqual(["rules/a.lore"]);
    expect(books("rules/drafts/b.lore")).toEqual(["rules/drafts/b.lore"]);
    expect(run(cwd, ["check", "rules/drafts"])).toEqual({
      exit: 2,
      out: "",
      err: "No book is left to check: all that was found is among `except`.\n",
    });
  });

  test("a book that is left out is still read where another builds on it", () => {
    const cwd = folder({
      "waterlore.json": json({ books: ["."], except: ["common"] }),
      "common/base.lore": 'book "Base"\ncondition sky: bright, dark\n',
      "a.lore":
        'book "A"\nbuilds on "common/base.lore"\npick blade: round, leaf\npattern "Dark"\n  go with blade round\n  when sky is dark\nfall back on blade leaf\n',
    });
    expect(run(cwd, ["check"])).toMatchObject({ exit: 0, err: "" });
  });

  test("how grave a kind of finding is, in every form of the report", () => {
    const cwd = folder({ "frog.lore": frog, "waterlore.json": json({ severities: { "never-recommended": "error" } }) });
    const { exit, out } = run(cwd, ["check", "frog.lore"]);
    expect(exit).toBe(1);
    expect(out).toMatch(/^error: .* \[never-recommended\]$/m);
    expect(out).toContain("1 book checked: 1 error, no warnings and no notes.");
    expect(run(cwd, ["check", "frog.lore", "--format", "github"]).out).toMatch(/^::error /);
    writeFileSync(join(cwd, "waterlore.json"), json({ severities: { "never-recommended": "off" } }));
    expect(JSON.parse(run(cwd, ["check", "frog.lore", "--format", "json", "--severity", "note"]).out).findings).toEqual([]);
    writeFileSync(join(cwd, "waterlore.json"), json({ severities: { "never-recommended": "note" } }));
    expect(run(cwd, ["check", "frog.lore", "--severity", "warning"]).exit).toBe(0);
  });

  test("the lowest kind that counts, and how many warnings may be left; the command line wins", () => {
    const cwd = folder({ "frog.lore": frog, "waterlore.json": json({ lowest: "warning" }) });
    expect(run(cwd, ["check", "frog.lore"]).exit).toBe(1);
    expect(run(cwd, ["check", "frog.lore", "--severity", "error"]).exit).toBe(0);
    writeFileSync(join(cwd, "waterlore.json"), json({ warnings: 0 }));
    expect(run(cwd, ["check", "frog.lore"])).toMatchObject({ exit: 1, err: "1 warning found, and none is allowed.\n" });
    expect(run(cwd, ["check", "frog.lore", "--warnings", "1"])).toMatchObject({ exit: 0, err: "" });
  });

  test("the day and the steps, for every command that works things out", () => {
    const cwd = folder({
      "s.lore": dated,
      "two.lore": `${sound}pattern "Only last year"\n  go with blade round\n  when clarity is clear and cover has no docks\n  until 2026-12-31\n  beats "Clear water wants a leaf"\n`,
      "waterlore.json": json({ day: "2028-02-02", lowest: "warning" }),
    });
    expect(run(cwd, ["check", "s.lore"]).out).toContain("[stale]");
    expect(run(cwd, ["check", "s.lore", "--on", "2028-02-01"]).exit).toBe(0);
    const answer = (...words: string[]): string =>
      JSON.parse(run(cwd, ["answer", "two.lore", "clarity=clear", "cover=none", "--format", "json", ...words]).out).answers[0].picks.blade
        .answer[0][0];
    writeFileSync(join(cwd, "waterlore.json"), json({ day: "2026-06-01" }));
    expect(answer()).toBe("round");
    expect(answer("--on", "2027-01-01")).toBe("leaf");
    writeFileSync(join(cwd, "later.json"), json({ day: "2027-06-01" }));
    expect(answer("--config", "later.json")).toBe("leaf");
    writeFileSync(join(cwd, "waterlore.json"), json({ steps: 1 }));
    writeFileSync(join(cwd, "two.lore"), twoRules.replace("fall back", "-- fall back"));
    expect(run(cwd, ["check", "two.lore"]).out).toContain("[budget]");
    expect(run(cwd, ["check", "two.lore", "--steps", "10000"]).out).not.toContain("[budget]");
  });
});

test("the day of the settings is answered for, and said, where --on gives none", () => {
  const cwd = folder({
    "s.lore": `${sound}condition date "Date": days of the year\n  filled from the date\ncaution "Closed" when date from apr 1 to apr 30\n  say "Look up the local rules."\n`,
    "waterlore.json": json({ day: "2027-04-10" }),
    "p.csv": "clarity\nclear\n",
  });
  const answered = (...words: string[]) => JSON.parse(run(cwd, ["answer", "s.lore", "--format", "json", ...words]).out).answers[0].given;
  expect(answered()).toEqual({ date: "apr 10" });
  expect(answered("--csv", "p.csv")).toEqual({ clarity: "clear", date: "apr 10" });
  expect(answered("--on", "2027-05-02")).toEqual({ date: "may 2" });
  expect(answered("date=jun 1")).toEqual({ date: "jun 1" });
  for (const command of ["answer", "why"]) {
    expect(run(cwd, [command, "s.lore", "cover=grass"]).out).toContain("date apr 10 (from waterlore.json)");
    expect(run(cwd, [command, "s.lore", "cover=grass", "--on", "2027-05-02"]).out).toContain("date may 2 (from --on)");
  }
});

describe("what does not fit is said with its place and with what would", () => {
  const problem = async (config: string): Promise<string> => {
    const cwd = folder({ "waterlore.json": config });
    return configOf(undefined, cwd).then(
      () => "it fits",
      (error: unknown) => (error instanceof CannotRun ? error.message.replaceAll(`${cwd}/`, "") : String(error)),
    );
  };
  test.each([
    ['{\n  "severities": { "gap": "eror" }\n}', 'waterlore.json:2:26: gap cannot be "eror". It can be error, warning, note or off.'],
    ['{ "severities": { "syntax": "off" } }', 'waterlore.json:1:29: syntax cannot be "off". It can be error, warning or note.'],
    [
      '{ "severities": { "confict": "note" } }',
      /^waterlore\.json:1:30: There is no kind of finding “confict”\. Did you mean conflict\? The kinds are file, syntax, .* and budget\.$/,
    ],
    [
      '{ "severitys": {} }',
      "waterlore.json:1:16: There is no setting “severitys”. Did you mean severities? The settings are books, except, severities, lowest, warnings, steps, day and baseline.",
    ],
    [
      '{ "books": "rules" }',
      "waterlore.json:1:12: books is a list of books, folders of books, or patterns, each in quotes, to be checked when the command names none.",
    ],
    ['{ "books": [\n  "a.lore",\n  7 ] }', /^waterlore\.json:3:3: books is a list /],
    ['{ "lowest": 2 }', "waterlore.json:1:13: lowest cannot be 2. It can be error, warning or note."],
    ['{ "warnings": -1 }', "waterlore.json:1:15: warnings is the number of warnings that may be left: a whole number such as 0 or 20."],
    ['{ "steps": 1.5 }', /^waterlore\.json:1:12: steps is how long /],
    ['{ "day": "2027-02-29" }', /^waterlore\.json:1:10: day is the day .* such as 2027-04-15\.$/],
    ['{ "day": "soon" }', /^waterlore\.json:1:10: day is the day /],
    ["[]", /^waterlore\.json: Settings stand between \{ and \}/],
    [
      '{\n  "books": ["a.lore"],\n}',
      "waterlore.json:3:1: This cannot be read as JSON from here on. Look for a missing quote, a comma too few or too many, or a bracket that is not closed.",
    ],
    ['{ "books": ["a.lore"]\n  "day": "2027-04-15" }', /^waterlore\.json:2:3: /],
    ["{ 'day': 1 }", /^waterlore\.json:1:3: /],
    ["", /^waterlore\.json:1:1: /],
    ['{ "day": "2027-04-15", "day": "2027-04-16" }', "waterlore.json:1:24: “day” is written twice. Keep one of them."],
  ])("%s", async (config, message) => {
    expect(await problem(config)).toMatch(message);
  });

  test("several at once, one on each line", async () => {
    expect(
      (await problem('{\n  "steps": 0,\n  "severities": { "gap": "none", "confict": "note" }\n}'))
        .split("\n")
        .map((text) => text.split(": ")[0]),
    ).toEqual(expect.arrayContaining(["waterlore.json:2:12", "waterlore.json:3:26", "waterlore.json:3:45"]));
  });

  test("and ends the command", () => {
    const cwd = folder({ "two.lore": twoRules, "waterlore.json": '{ "lowest": 2 }' });
    for (const command of ["check", "table", "answer", "why"])
      expect(run(cwd, [command, "two.lore"])).toEqual({
        exit: 2,
        out: "",
        err: "waterlore.json:1:13: lowest cannot be 2. It can be error, warning or note.\n",
      });
  });

  test("no books to check, and words on the command line that are none", () => {
    const cwd = folder({ "two.lore": twoRules });
    expect(run(cwd, ["check"])).toMatchObject({ exit: 2, out: "", err: expect.stringContaining("waterlore check rules") });
    expect(run(cwd, ["check", "two.lore", "--warnings", "few"])).toMatchObject({
      exit: 2,
      out: "",
      err: "“few” is not a number of warnings. Write a whole number, such as 0 or 20.\n",
    });
  });
});

describe("places in JSON", () => {
  test("are those of the values, by their pointers (RFC 6901)", async () => {
    const text = '{ "a": [true, {"b/c": "x"}],\n "~": -1.5e3 }';
    const read = await readJson(text);
    if ("misfit" in read) throw new Error("it is sound");
    expect([...read.places].map(([pointer, at]) => [pointer, text.slice(at, at + 4)])).toEqual([
      ["", '{ "a'],
      ["/a", "[tru"],
      ["/a/0", "true"],
      ["/a/1", '{"b/'],
      ["/a/1/b~1c", '"x"}'],
      ["/~0", "-1.5"],
    ]);
  });

  test("a text is read if it is JSON (RFC 8259) whose names are each given once, and gives the same value", async () => {
    await fc.assert(
      fc.asyncProperty(fc.json(), fc.constantFrom(undefined, 1, "\t"), async (text, indent) => {
        const written = JSON.stringify(JSON.parse(text), null, indent);
        const read = await readJson(written);
        expect("value" in read && read.value).toEqual(JSON.parse(written));
      }),
    );
    const isJson = (text: string): boolean => {
      try {
        JSON.parse(text);
        return true;
      } catch {
        return false;
      }
    };
    const bits = fc
      .array(
        fc.constantFrom(
          "{",
          "}",
          "[",
          "]",
          ",",
          ":",
          '"a"',
          '"b"',
          "1",
          "-",
          "0",
          ".5",
          "e1",
          "true",
          "nul",
          " ",
          "\n",
          '"\\u12',
          '"',
          "\\n",
          "\t",
        ),
        { maxLength: 8 },
      )
      .map((parts) => parts.join(""));
    await fc.assert(
      fc.asyncProperty(bits, async (text) => {
        const read = await readJson(text);
        if ("misfit" in read) expect(read.misfit).toBeLessThanOrEqual(text.length);
        if (!("misfit" in read) || read.twice === undefined) expect("value" in read).toBe(isJson(text));
      }),
      { numRuns: 3000 },
    );
  });

  test("a control character stands in no string, whether a name or a value", async () => {
    expect(await readJson('{ "a": "x\ty" }')).toEqual({ misfit: 7 });
    expect(await readJson('{ "a\n": 1 }')).toEqual({ misfit: 2 });
    expect(await readJson('\t{ "a":\n"\\t" }')).toMatchObject({ value: { a: "\t" } });
  });

  test("deep nesting is no crash", async () => {
    expect(await readJson("[".repeat(100_000))).toHaveProperty("misfit");
  });
});
