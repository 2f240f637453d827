/** Strange signs: alphabets, look-alikes, signs that do not show, line ends, quotation marks, and what would drive a terminal. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import type { Finding } from "../../src/diagnostics.js";
import { plainName, strangersIn, unmasked } from "../../src/lookalikes.js";
import { resolve } from "../../src/model/resolve.js";
import { parse } from "../../src/syntax/parse.js";
import { readGiven } from "../../src/answer/given.js";
import { folder, run } from "../cli/run.js";
import { checkIn, driving, formatIn, readerOf, useIn } from "./everything.js";

const base = `condition clarity "Water clarity": in order clear, stained, muddy
  rising is dirtier, falling is clearer
condition cover: any of grass, docks
pick blade: round, leaf
pattern "Mud wants thump"
  go with blade round
  when clarity is muddy and not cover has docks
fall back on blade leaf
`;

async function everything(text: string): Promise<readonly Finding[]> {
  const texts = { "x.lore": text };
  const findings = await checkIn(texts, "x.lore");
  useIn(texts, "x.lore");
  formatIn(text);
  return findings.filter(({ severity }) => severity === "error");
}

/** What was read of a book, without places. */
function meaning(text: string): string {
  const { model } = resolve(parse(text, "x.lore"), readerOf({}), {});
  return JSON.stringify([model.conditions, model.picks, model.patterns], (key, value: unknown) =>
    ["range", "place", "namePlace"].includes(key) ? undefined : value,
  );
}

describe("letters that look like others", () => {
  // Pairs from confusables.txt of Unicode Technical Standard 39, https://www.unicode.org/reports/tr39/.
  test.each([
    ["cl\u0430rity", "clarity", "\u0430", "Cyrillic"],
    ["\u0441l\u0430rity", "clarity", "\u0441", "Cyrillic"],
    ["cl\u03b1rity", "clarity", "\u03b1", "Greek"],
    ["\u0432\u006f\u0434\u0430", "\u0432\u043e\u0434\u0430", "o", "Latin"],
    ["\uff43larity", "clarity", "\uff43", "wide"],
    ["cla\u200brity", "clarity", "\u200b", "hidden"],
    ["cla\u00adrity", "clarity", "\u00ad", "hidden"],
    ["cla\u200drity", "clarity", "\u200d", "hidden"],
    ["w\u0430ter-temp", "water-temp", "\u0430", "Cyrillic"],
  ])("%s is read as %s", (written, meant, sign, kind) => {
    expect(unmasked(written)).toBe(meant);
    expect(strangersIn(written)[0]).toEqual({ sign, kind });
  });

  test.each([
    "clarity",
    "water-temp",
    "вода",
    "νερό",
    "水溫",
    "水-temp",
    "temp-вода",
    "мутная-вода",
    "été",
    "می\u200cخواهم",
    "क्\u200dष",
    "straße",
    "m²",
  ])("%s is as it looks", (name) => {
    expect(unmasked(name)).toBe(name);
    expect(strangersIn(name)).toEqual([]);
  });

  test("names that look alike are the same name, in any case, however their accents are typed", () => {
    expect(plainName("CAF\u00c9")).toBe(plainName("cafe\u0301"));
    expect(plainName("Cl\u0410rity")).toBe("clarity");
  });

  test.each([
    ["in a test", base.replace("when clarity", "when cl\u0430rity"), "clarity"],
    ["in a level", base.replace("is muddy", "is mudd\u0443"), "muddy"],
    ["in an option", base.replace("with blade round", "with blade r\u043eund"), "round"],
    ["in a word of the language", base.replace("  when", "  wh\u0435n"), "when"],
    ["in the word a statement starts with", base.replace("pattern", "p\u0430ttern"), "pattern"],
    ["in a unit", `condition load: 0 to 40 \u043ez\n${base.replace("clarity is muddy", "load is at least 3 oz")}`, "oz"],
    ["in wide letters", base.replace("when clarity", "when ｃｌａｒｉｔｙ"), "clarity"],
    ["a sign that does not show", base.replace("when clarity", "when cla\u200brity"), "clarity"],
    ["a soft hyphen", base.replace("when clarity", "when cla\u00adrity"), "clarity"],
    ["a word joiner", base.replace("when clarity", "when clarity\u2060"), "clarity"],
  ])("%s: one finding, with the sign, the place, and a fix that mends it", async (_, text, meant) => {
    const errors = await everything(text);
    expect(errors.map(({ code, title }) => [code, title])).toEqual([["name", `This only looks like \`${meant}\``]]);
    const { message, fixes } = errors[0]!;
    expect(message).toMatch(/U\+[0-9A-F]{4}/);
    const [edit] = fixes![0]!.edits;
    const mended = text.slice(0, edit!.range.start) + edit!.text + text.slice(edit!.range.end);
    expect(await everything(mended)).toEqual([]);
  });

  test("two conditions whose names look the same are a finding, whoever is first", async () => {
    for (const text of [`condition cl\u0430rity: a, b\n${base}`, base.replace("pick", "condition cl\u0430rity: a, b\npick")]) {
      expect((await everything(text)).map(({ code }) => code).sort()).toContain("duplicate");
    }
  });

  test("whoever gives a value may copy it from anywhere", () => {
    const { model } = resolve(parse(base, "x.lore"), readerOf({}), {});
    const given = readGiven(model, [
      ["cl\u0430rity", "mudd\u0443"],
      ["COVER", "gr\u0430ss;docks\u200b"],
    ]);
    expect(given).toMatchObject({ given: { values: { clarity: "muddy", cover: ["grass", "docks"] } } });
  });
});

describe("names in any script", () => {
  const book = (
    condition: string,
    [a, b]: readonly [string, string],
    pick: string,
    [x, y]: readonly [string, string],
    title: string,
  ): string =>
    `condition ${condition} "${title}": ${a}, ${b}\npick ${pick} "${title}": ${x}, ${y}\npattern "${title}"\n  go with ${pick} ${x}\n  when ${condition} is ${a}\nfall back on ${pick} ${y}\n`;

  test.each([
    ["Cyrillic", book("вода", ["чистая", "мутная"], "блесна", ["круглая", "длинная"], "Мутная вода")],
    ["Greek", book("νερό", ["καθαρό", "θολό"], "κουτάλι", ["στρογγυλό", "μακρύ"], "Θολό νερό")],
    ["Chinese", book("水", ["清", "濁"], "匙", ["圓", "長"], "濁水要響")],
    ["Japanese", book("みずの-色", ["きれい", "にごり"], "ブレード", ["丸", "細長"], "にごり水")],
    ["Korean", book("물", ["맑음", "흐림"], "날", ["둥근", "긴"], "흐린 물")],
    ["Hebrew", book("מים", ["צלולים", "עכורים"], "כף", ["עגולה", "ארוכה"], "מים עכורים")],
    ["Arabic", book("ماء", ["صافي", "عكر"], "ملعقة", ["دائري", "طويل"], "ماء عكر")],
    ["Persian, with joiners", book("آب\u200cها", ["زلال", "گل\u200cآلود"], "قاشق", ["گرد", "بلند"], "آب گل‌آلود")],
    ["Hindi, with joiners", book("पानी", ["साफ", "गंदा"], "क्\u200dष", ["गोल", "लंबा"], "गंदा पानी")],
    ["Thai, which combines", book("น้ำ", ["ใส", "ขุ่น"], "ใบ", ["กลม", "ยาว"], "น้ำขุ่น")],
    ["accents, combined and not", book("cafe\u0301", ["é", "e\u0300"], "pick\u0323", ["o\u0308", "a"], "Cafe\u0301")],
    ["beyond the first plane", book("𐐨𐐩", ["𐐪", "𐐫"], "𝒶𝒷", ["𝒸", "𝒹"], "😀 🐟")],
  ])("%s", async (_, text) => {
    expect(await everything(text)).toEqual([]);
  });

  test("accents may be typed either way, in names, titles and options", async () => {
    const text = `condition caf\u00e9: a, b\npick p: "\u00e9", x\npattern "Caf\u00e9"\n  go with p "e\u0301"\n  when cafe\u0301 is a\npattern "B"\n  go with p x\n  beats "Cafe\u0301"\n  when cafe\u0301 is a\nfall back on p x\n`;
    expect(await everything(text)).toEqual([]);
    expect((await everything(text.replace('"B"', '"Cafe\u0301"'))).map(({ code }) => code)).toContain("duplicate");
  });

  test("a condition may be called as a part of the machine is called", async () => {
    const text =
      'condition constructor: in order tostring, valueof\ncondition prototype: any of constructor, proto\npick valueof: constructor, hasownproperty\npattern "__proto__"\n  go with valueof constructor\n  when constructor is tostring and prototype has constructor\nfall back on valueof hasownproperty\n';
    expect(await everything(text)).toEqual([]);
    const cwd = folder({ "x.lore": text });
    const [answer] = JSON.parse(run(cwd, ["answer", "x.lore", "--format", "json"]).out).answers;
    expect([answer.given, answer.unknown]).toEqual([{}, ["constructor", "prototype"]]);
    expect(run(cwd, ["why", "x.lore", "constructor=tostring", "prototype=constructor"]).out).toContain("__proto__");
  });
});

describe("line ends, blanks and marks", () => {
  const marks: readonly (readonly [string, string])[] = [
    ["a byte order mark", `\ufeff${base}`],
    ["two of them", `\ufeff\ufeff${base}`],
    ["one between statements", base.replace("\npick", "\n\ufeffpick")],
    ["CRLF", base.replaceAll("\n", "\r\n")],
    ["lone CR", base.replaceAll("\n", "\r")],
    ["LF CR", base.replaceAll("\n", "\n\r")],
    ["no end of line at the end", base.trimEnd()],
    ["tabs", base.replaceAll("  ", "\t")],
    ["no-break spaces", base.replaceAll("  ", "\u00a0\u00a0")],
    ["wide spaces", base.replaceAll("  ", "\u3000")],
    ["form feeds", base.replaceAll("\n", "\n\f")],
    ["line separators", base.replaceAll("\n", "\u2028")],
    ["blank lines", base.replaceAll("\n", "\n\n\n")],
  ];
  test.each(marks)("%s: the book says the same", async (_, text) => {
    expect(await everything(text)).toEqual([]);
    expect(meaning(text)).toBe(meaning(base));
  });

  test("places count lines as editors do, whatever ends them", () => {
    for (const end of ["\n", "\r\n", "\r"]) {
      const cwd = folder({ "x.lore": base.replace("is muddy", "is mudy").replaceAll("\n", end) });
      const [finding] = JSON.parse(run(cwd, ["check", "x.lore", "--format", "json"]).out).findings.filter(
        ({ code }: { code: string }) => code === "name",
      );
      expect(finding.range.start).toEqual({ line: 7, column: 19 });
    }
  });

  test.each([
    ["nothing", ""],
    ["a line end", "\n"],
    ["a mark", "\ufeff"],
    ["blanks", "  \t\r\n \u2028"],
    ["a comment", "-- nothing here"],
  ])("%s at all is a book that says nothing", async (_, text) => {
    expect(await everything(text)).toEqual([]);
    const cwd = folder({ "x.lore": text });
    expect(run(cwd, ["check", "x.lore"]).exit).toBe(0);
    expect(run(cwd, ["table", "x.lore"])).toMatchObject({ exit: 2, out: "" });
    expect(run(cwd, ["answer", "x.lore"]).exit).toBe(0);
  });

  test("NUL in a text that is no file is a sign like any other", async () => {
    expect((await everything(base.replace("is muddy", "is \0 muddy"))).map(({ code }) => code)).toEqual(["syntax"]);
  });
});

describe("titles", () => {
  const between = (one: string, other: string): string =>
    `${base.replace('"Mud wants thump"', `"${one}"`)}pattern "${other}"\n  go with blade leaf\n  when clarity is muddy\n  because "${one}"\n  see "${other}"\ncaution "${one}" when clarity is muddy\n  say "${other}"\npromise "${other}": blade must be leaf\n`;
  const titles = [
    "say 'hi'",
    "“curly” and ‘single’",
    "back`tick` \\ $HOME $(x) ${y} %s %n",
    "<b>&amp;</b> <script>alert(1)</script>",
    "| * _ # [x](javascript:y) ![z]",
    "-- no comment",
    "=1+1",
    "@SUM(A1)",
    "a\tb",
    "\u001b]0;title\u0007",
    "\u001b[2J\u001b[1;1H",
    "\u009b31m",
    "\u0000\u0001\u0008\u000b\u007f\u0085",
    "abc\u202edef",
    "\u2066x\u2069",
    "a\u200fb\u200ec\u061cd",
    "a\u{e0041}\u{e0042}",
    "\ud800",
    "ﷺ".repeat(20),
    "x".repeat(1000),
    "word ".repeat(199),
    "\u0301".repeat(300),
    "水".repeat(300),
  ];

  test("each kind comes out of every form whole and harmless", async () => {
    for (const [i, title] of titles.entries()) {
      const errors = await everything(between(title, titles[(i + 1) % titles.length]!));
      expect(
        errors.map(({ code }) => code).filter((code) => code === "syntax"),
        JSON.stringify(title),
      ).toEqual([]);
    }
  });

  test("nothing that drives a terminal leaves any command", () => {
    const hostile = "\u001b]0;x\u0007\u001b[2J\u009b31m\u202e\u0008";
    // What stands in a file has no NUL, but any other control character.
    const cwd = folder({
      "x.lore": between(`${hostile}one`, `${hostile}two`),
      "broken.lore": `${base}pattern ${hostile} "${hostile}" go with ${hostile}\n`,
      "p.csv": `clarity,cover\n${hostile},none\n`,
    });
    const commands = [
      ...["text", "json", "sarif", "junit", "github"].flatMap((form) =>
        ["x.lore", "broken.lore"].map((book) => ["check", book, "--format", form]),
      ),
      ...["text", "json", "markdown", "csv"].map((form) => ["table", "x.lore", "--format", form]),
      ["answer", "x.lore", "clarity=muddy"],
      ["answer", "x.lore", `clarity=${hostile}`],
      ["answer", "x.lore", `${hostile}=muddy`],
      ["why", "x.lore", "clarity=muddy", "cover=none"],
      ...["text", "json", "csv"].map((form) => ["answer", "x.lore", "--csv", "p.csv", "--format", form]),
      ["table", "x.lore", "--pick", hostile],
      ["check", hostile],
      ["hint", hostile],
      [hostile],
      ["check", "x.lore", `--${hostile}`],
      ["check", "x.lore", "--on", hostile],
      ["format", "--check", "x.lore"],
    ];
    for (const words of commands) {
      const { out, err } = run(cwd, words);
      expect((out + err).replaceAll("\n", ""), words.join(" ")).not.toMatch(driving);
    }
    // But a text is data to whoever reads JSON.
    const { findings } = JSON.parse(run(cwd, ["check", "x.lore", "--format", "json"]).out);
    expect(JSON.stringify(findings)).toContain(JSON.stringify(`${hostile}one`).slice(1, -1));
    const before = readFileSync(join(cwd, "x.lore"), "utf8");
    run(cwd, ["format", "x.lore"]);
    expect(readFileSync(join(cwd, "x.lore"), "utf8")).toBe(before);
  });

  test.each([
    ["nothing", ""],
    ["blanks", "  \t"],
    ["signs that do not show", "\u200b\u200d\u2060\ufeff"],
  ])("a title of %s is a finding", async (_, title) => {
    const errors = await everything(`${base}pattern "${title}"\n  go with blade leaf\n`);
    expect(errors.map(({ title }) => title)).toEqual(["There is nothing between the quotation marks"]);
  });

  test("a quotation mark inside, a missing one, curly ones", async () => {
    for (const text of [
      'pattern "a "b" c"',
      'pattern "a\\"b"',
      'pattern "a',
      "pattern “a”",
      'pattern ""a""',
      "pattern 'a'",
      "pattern `a`",
    ]) {
      const errors = await everything(`${base}${text}\n  go with blade leaf\n`);
      expect(errors.length, text).toBeGreaterThan(0);
      expect(
        errors.every(({ code, range }) => (code === "syntax" || code === "name") && range.start >= base.length),
        text,
      ).toBe(true);
    }
  });

  test("names and texts of absurd length are told once each, and not repeated at length", async () => {
    const name = "n".repeat(50_000);
    for (const text of [
      base.replace("clarity is", `${name} is`),
      base.replaceAll("grass", name),
      base.replaceAll("leaf", name),
      base.replaceAll("Mud wants thump", name),
      `${base}${name} ${name}`,
    ]) {
      const errors = await everything(text);
      expect(errors.length).toBeGreaterThan(0);
      expect(Math.max(...errors.map(({ title, message, help }) => title.length + message.length + help.length))).toBeLessThan(1_000);
    }
  });
});
