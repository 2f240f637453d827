/** What editors color by: it agrees with the lexer on every book that ships, and its files are up to date. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { editorFiles } from "../../grammar/editor-files.js";
import { snippets, type Snippet } from "../../grammar/snippets.js";
import { languageConfiguration, wordScopes } from "../../grammar/textmate.js";
import { ClosedText, Date, Day, makeLexer, Number, Time, wordOf, words } from "../../grammar/tokens.js";
import { parse } from "../../src/syntax/parse.js";
import { root } from "../root.js";
import { colored, coloredMarkdown, type Piece } from "./tokenise.js";

const lexer = makeLexer({ validate: false });
const rules = readdirSync(join(root, "rules"), { recursive: true, encoding: "utf8" }).filter((file) => file.endsWith(".lore"));
const shown = ({ text, scopes }: Piece): string => `${text.trim().padEnd(34)} ${scopes.slice(1).join(" ")}`.trimEnd();
const scopeAt = (pieces: readonly Piece[], offset: number): string =>
  pieces.find(({ start, end }) => start <= offset && offset < end)?.scopes.join(" ") ?? "";

describe("the files for editors", () => {
  test.each([...editorFiles().keys()])("%s is what is made from the grammar (npm run reference)", (file) => {
    expect(readFileSync(join(root, file), "utf8")).toBe(editorFiles().get(file));
  });
});

describe("colors", () => {
  /** Free words are words in their spot only. */
  const spots: Readonly<Record<string, string>> = {
    shop: 'shop "X"',
    water: 'water "X"',
    edition: 'edition "X"',
    below: "below 50 °F",
    date: "filled from the date",
    clock: "filled from the clock",
    sun: "filled from the sun",
    moon: "filled from the moon",
    first: "trust clarity first, then sky",
    up: "move seen up 1",
    down: "move seen down 1",
    everything: "say nothing on everything when sky is dark",
  };

  test.each(words.map(({ phrase, role, instead }) => ({ phrase, role, instead })))(
    "$phrase has the scope of its role",
    ({ phrase, role, instead }) => {
      for (const written of role === "free"
        ? [spots[phrase]!]
        : [phrase, ...instead, phrase.toUpperCase(), phrase.replaceAll(" ", "   ")]) {
        const pieces = colored(written);
        const at = role === "free" ? written.lastIndexOf(phrase) : 0;
        expect(scopeAt(pieces, at), written).toBe(`source.lore ${wordScopes[role]}`);
      }
    },
  );

  test("a word inside a longer name is none, and free words are names elsewhere", () => {
    for (const name of ["wind-is-up", "when-ever", "first-light", "iså", "pattern2"])
      expect(colored(name).map(shown)).toEqual([`${name.padEnd(34)} variable.other.lore`]);
    for (const name of ["water", "sun", "shop", "first", "up", "below", "date"])
      expect(colored(`when ${name} is low`).map(shown)[1]).toBe(`${name.padEnd(34)} variable.other.lore`);
  });

  test("an unfinished sentence leaves the next line alone", () => {
    const alone = colored("  when clarity is muddy").map(shown);
    for (const broken of ['pattern "Mud wants', "go with blade colorado, then", "condition clarity :", "( ( not", "3/"]) {
      expect(colored(`${broken}\n  when clarity is muddy`).slice(-alone.length).map(shown)).toEqual(alone);
    }
  });

  test.each(rules)("%s is cut as the lexer cuts it", (file) => {
    const text = readFileSync(join(root, "rules", file), "utf8");
    const pieces = colored(text);
    const { tokens, groups } = lexer.tokenize(text);
    const wrong = tokens.flatMap((token) => {
      const scope = scopeAt(pieces, token.startOffset);
      const word = wordOf.get(token.tokenType);
      const wanted =
        word?.role === "free"
          ? /keyword\.other\.clause|variable\.other|entity\.name\.type|keyword\.other\.unit/
          : word
            ? new RegExp(`${wordScopes[word.role].replaceAll(".", "\\.")}$`)
            : token.tokenType === ClosedText
              ? /string\.quoted\.double/
              : [Day, Date, Time, Number].includes(token.tokenType)
                ? /constant\.numeric/
                : /variable\.other|entity\.name\.type|keyword\.other\.unit|punctuation|^source\.lore$/;
      return wanted.test(scope) ? [] : [`${token.image} at ${token.startOffset}: ${scope}`];
    });
    expect(wrong).toEqual([]);
    const comments = groups["comments"] ?? [];
    expect(pieces.filter(({ scopes }) => scopes.some((scope) => scope.startsWith("comment"))).map(({ start }) => start)).toEqual(
      comments.map(({ startOffset }) => startOffset),
    );
    expect(pieces.filter(({ scopes }) => scopes.some((scope) => scope.startsWith("invalid")))).toEqual([]);
  });

  test("of one book, piece by piece", async () => {
    const book = readFileSync(join(root, "test/vscode/golden/colors.lore"), "utf8");
    const lines = book.split("\n").map((line) => [line, ...colored(line).map((piece) => `    ${shown(piece)}`)].join("\n"));
    await expect(`${lines.join("\n")}\n`).toMatchFileSnapshot("golden/colors.txt");
  });
});

describe("a book in a Markdown page", () => {
  const page = (fence: string): Piece[] =>
    coloredMarkdown(`# Title\n\n${fence}\npattern "Mud"\n  when clarity is muddy -- thump\n${fence.slice(0, 3)}\n# After`);

  test.each(["```lore", "~~~lore", "``` Lore", '```lore title="x"'])("%s is colored as one", (fence) => {
    const pieces = page(fence);
    const word = pieces.find(({ text }) => text === "pattern")!;
    expect(word.scopes).toEqual([
      "text.html.markdown",
      "markup.fenced_code.block.markdown",
      "meta.embedded.block.lore",
      wordScopes.statement,
    ]);
    expect(pieces.at(-1)!.scopes).toEqual(["text.html.markdown", "markup.heading.markdown"]);
  });

  test.each(["```lorem", "```text", "```"])("%s is not", (fence) => {
    expect(page(fence).some(({ scopes }) => scopes.includes("meta.embedded.block.lore"))).toBe(false);
  });
});

describe("typing", () => {
  const { wordPattern, indentationRules } = languageConfiguration() as {
    readonly wordPattern: { readonly pattern: string; readonly flags: string };
    readonly indentationRules: { readonly increaseIndentPattern: string; readonly decreaseIndentPattern: string };
  };

  test("a double click takes a whole name or number", () => {
    const wordsOf = (text: string): string[] => text.match(new RegExp(wordPattern.pattern, `g${wordPattern.flags}`)) ?? [];
    expect(wordsOf("when water-temp is 1 1/2 oz or wärmer, très-clair")).toEqual([
      "when",
      "water-temp",
      "is",
      "1 1/2",
      "oz",
      "or",
      "wärmer",
      "très-clair",
    ]);
  });

  test("clauses go in under what they belong to, the next sentence comes out again", () => {
    const [goesIn, comesOut] = [new RegExp(indentationRules.increaseIndentPattern), new RegExp(indentationRules.decreaseIndentPattern)];
    expect(['pattern "A"', "condition x: a, b", 'book "B"', 'caution "C" when x is a'].every((line) => goesIn.test(line))).toBe(true);
    expect(["pick x: a, b", "  when pattern is a", "fall back on x a"].some((line) => goesIn.test(line))).toBe(false);
    expect(["  pattern ", "  fall back on ", "  condition "].every((line) => comesOut.test(line))).toBe(true);
    expect(["  because ", "  when x is pattern", "  go with "].some((line) => comesOut.test(line))).toBe(false);
  });
});

describe("snippets", () => {
  test("there is one for every word that starts a book's own sentences", () => {
    const starts = words.filter(({ role }) => role === "statement").map(({ phrase }) => phrase);
    expect(starts.filter((phrase) => !snippets.some(({ prefix }) => prefix === phrase))).toEqual(["leave out", "add", "trust for"]);
    expect(new Set(snippets.map(({ title }) => title)).size).toBe(snippets.length);
  });

  test.each(snippets.map((snippet) => ({ title: snippet.title, snippet })))("$title reads as it stands", ({ snippet }) => {
    const { findings } = parse(filledIn(snippet), "snippet.lore");
    expect(findings).toEqual([]);
    expect(snippet.body.join("\n")).toMatch(/^\w[\s\S]*\$0$/);
  });
});

/** A snippet as it stands if every place is left as it is offered. */
function filledIn({ body }: Snippet): string {
  return body
    .join("\n")
    .replace(/\$\{\d+:([^}]*)\}/g, "$1")
    .replaceAll("$0", "");
}
