/** Titles with quotes, markup and formulas, in each form that another program reads: read back, they are what was written. */
import { parse as readCsv } from "csv-parse/sync";
import { fromMarkdown } from "mdast-util-from-markdown";
import { gfmFromMarkdown } from "mdast-util-gfm";
import { toString } from "mdast-util-to-string";
import { gfm } from "micromark-extension-gfm";
import { SaxesParser } from "saxes";
import { describe, expect, test } from "vitest";
import { folder, run } from "../cli/run.js";

const titles = [
  "<b>&amp;</b> ]]> <!-- x -->",
  "| a | b | * _ ` # <script>alert(1)</script>",
  "=HYPERLINK('http://a.test','x')",
  "@SUM(A1)",
  "+1+cmd|' /C calc'!A0",
  "-2+3+cmd|' /C calc'!A0",
  "[click](javascript:alert)",
  "*a* __b__ `c` ~~d~~ ![e](f)",
  "%0A::error::x",
  "say 'hi', “you”; \\ $HOME",
];
const book = `condition clarity: ${titles.map((_, i) => `c${i}`).join(", ")}, clear\npick blade: round, ${titles.map((_, i) => `leaf${i}`).join(", ")}\n${titles.map((title, i) => `pattern "${title}"\n  go with blade leaf${i}\n  when clarity is c${i}\npattern "Not ${title}"\n  go with blade round\n  when clarity is c${i}\n`).join("")}fall back on blade round\ncaution "${titles[0]}" when clarity is clear\n  say "${titles[1]}"\n`;
const quiet = book.replace(/pattern "Not [^\n]*\n.*\n.*\n/g, "");
const checked = (form: string): string => run(folder({ "x.lore": book }), ["check", "x.lore", "--format", form]).out;

describe("findings", () => {
  test("JSON holds each title as it is", () => {
    const { findings } = JSON.parse(checked("json")) as { findings: readonly { code: string; patterns?: readonly string[] }[] };
    const named = findings.filter(({ code }) => code === "conflict").flatMap(({ patterns = [] }) => patterns);
    for (const title of titles) expect(named).toEqual(expect.arrayContaining([title, `Not ${title}`]));
  });

  test("JUnit is XML that holds them, and no element of theirs", () => {
    const elements = new Set<string>();
    let text = "";
    const parser = new SaxesParser();
    parser.on("opentag", ({ name }) => void elements.add(name));
    parser.on("text", (part) => (text += part));
    parser.on("error", (error) => {
      throw error;
    });
    parser.write(checked("junit")).close();
    expect([...elements].sort()).toEqual(
      ["failure", "system-out", "testcase", "testsuite", "testsuites"].filter((name) => elements.has(name)),
    );
    expect(elements).toContain("failure");
    for (const title of titles) expect(text).toContain(title);
  });

  test("SARIF holds them, and links to nowhere", () => {
    const {
      runs: [{ results }],
    } = JSON.parse(checked("sarif")) as {
      runs: [{ results: readonly { message: { text: string }; relatedLocations: readonly { message: { text: string } }[] }[] }];
    };
    const messages = results.flatMap(({ message, relatedLocations }) => [
      message.text,
      ...relatedLocations.map((related) => related.message.text),
    ]);
    // SARIF 2.1.0, § 3.11.6: a link is written [words](target); a backslash before the bracket makes it a bracket.
    const read = messages.map((text) => text.replace(/\\([[\]\\])/g, "$1"));
    for (const title of titles)
      expect(
        read.some((text) => text.includes(title)),
        title,
      ).toBe(true);
    for (const text of messages) expect(text).not.toMatch(/(^|[^\\])\[[^\]]*\]\(/);
  });

  test("GitHub commands stay one line each", () => {
    const lines = checked("github").trimEnd().split("\n");
    expect(lines.filter((line) => line.startsWith("::error "))).toHaveLength(titles.length);
    expect(lines.filter((line) => line.startsWith("::")).every((line) => /^::(error|warning|notice) file=x\.lore,/.test(line))).toBe(true);
    expect(lines.some((line) => line.includes("%250A::error::x"))).toBe(true);
  });
});

describe("tables", () => {
  test("Markdown: whole cells, and nothing but text in them", () => {
    const { out, exit } = run(folder({ "x.lore": quiet }), ["table", "x.lore", "--format", "markdown"]);
    expect(exit).toBe(0);
    const tree = readMarkdown(out);
    const cells = nodesOf(tree, "tableRow").map((row) => nodesOf(row, "tableCell").map((cell) => toString(cell)));
    expect(cells.length).toBeGreaterThan(titles.length);
    expect(new Set(cells.map(({ length }) => length)).size).toBe(1);
    for (const title of titles)
      expect(
        cells.flat().some((cell) => cell.includes(title)),
        title,
      ).toBe(true);
    expect(toString(tree)).toContain(titles[0]);
    // Where GitHub makes a link of a bare address it is still shown as it was written.
    const links = nodesOf(tree, "link").filter((link) => toString(link) !== (link as { readonly url?: string }).url);
    expect(links).toEqual([]);
    expect(["html", "emphasis", "delete", "inlineCode", "image", "code"].flatMap((kind) => nodesOf(tree, kind))).toEqual([]);
  });

  // What spreadsheets take for a formula begins with one of = + - @, a tab or a line end (common practice, no source).
  const formula = /^[=+@\t\r]|^-[^\d]|^-.*[!|(]/;

  test("CSV of the table: whole cells, and none is a formula", () => {
    const { out } = run(folder({ "x.lore": quiet }), ["table", "x.lore", "--format", "csv"]);
    const cells = readCsv(out).flat();
    for (const title of titles)
      expect(
        cells.some((cell) => cell.includes(title)),
        title,
      ).toBe(true);
    expect(cells.filter((cell) => formula.test(cell))).toEqual([]);
    expect(cells).toContain(`'${titles[2]}`);
  });

  test("CSV of answers: not even what was wrong in the file of points; a temperature below nothing is left as it is", () => {
    const cwd = folder({
      "x.lore": `condition t: -10 to 10 °F, to the nearest 1 °F\n${quiet}`,
      "p.csv": 't,clarity\n-5 °F,c1\n"=1+1",c1\n-1+cmd|x!A0,"@SUM(A1)"\n',
    });
    const { out, exit } = run(cwd, ["answer", "x.lore", "--csv", "p.csv", "--format", "csv"]);
    expect(exit).toBe(2);
    const cells = readCsv(out).flat();
    expect(cells.filter((cell) => formula.test(cell))).toEqual([]);
    expect(cells).toEqual(expect.arrayContaining(["-5 °F", "'=1+1", "'-1+cmd|x!A0", "'@SUM(A1)"]));
  });
});

type Tree = ReturnType<typeof fromMarkdown>;
type Node = Tree | Tree["children"][number];

/** As GitHub reads it. */
function readMarkdown(text: string): Tree {
  return fromMarkdown(text, { extensions: [gfm()], mdastExtensions: [gfmFromMarkdown()] });
}

/** All nodes of a kind, at any depth. */
function nodesOf(node: Node, kind: string): readonly Node[] {
  const below = "children" in node ? node.children.flatMap((child) => nodesOf(child, kind)) : [];
  return node.type === kind ? [node, ...below] : below;
}
