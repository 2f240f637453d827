/** Whatever a book says comes out of Markdown as it went in, read back with a parser of CommonMark and GitHub Flavored Markdown. */
import fc from "fast-check";
import { fromMarkdown } from "mdast-util-from-markdown";
import { gfmFromMarkdown } from "mdast-util-gfm";
import { toString } from "mdast-util-to-string";
import { gfm } from "micromark-extension-gfm";
import { expect, test } from "vitest";
import { block, bold, code, escaped, list, tableOf } from "../../src/render/markdown.js";

type Tree = ReturnType<typeof fromMarkdown>;
type Node = Tree | Tree["children"][number];

/** Signs that mean something to Markdown, and beginnings of everything it knows, among letters and blanks. */
const piece = fc.oneof(
  { weight: 3, arbitrary: fc.constantFrom(..."\\`*_{}[]()<>|#~&$@!+-=.:;,'\"/^%0129abwW \t\n\r\u00a0\u2028é️🎣") },
  {
    weight: 2,
    arbitrary: fc.constantFrom(
      ..."- |+ |1. |1) |---|===|```|~~~|~~a~~|&lt;|&#35;|&copy|<b>|</b>|<!-- -->|[a](b)|[^1]|[ ] |![a](b)|a@b.co|www.a.co|http://|https://a.example/b_c*d|HTTPS://A.co).|mailto:a@b.co|xmpp:a@b.co|:-:|\\\\|\\|".split(
        "|",
      ),
      "|",
    ),
  },
  { weight: 1, arbitrary: fc.string({ unit: "grapheme", maxLength: 3 }) },
);
const text = fc.array(piece, { maxLength: 12 }).map((pieces) => pieces.join(""));

/** Line ends become blanks, and blanks around a text are not seen; a null is none of the signs that Markdown has. */
const oneLine = (words: string): string =>
  words
    .replace(/\s*[\r\n]\s*/g, " ")
    .trim()
    .replaceAll("\0", "\ufffd");

function parse(markdown: string): Tree {
  return fromMarkdown(markdown, { extensions: [gfm()], mdastExtensions: [gfmFromMarkdown()] });
}

/** All kinds of nodes in a tree but texts, and links, whose text is what they lead to. */
function kinds(node: Node): readonly string[] {
  const below = "children" in node ? node.children.flatMap((child) => kinds(child)) : [];
  return node.type === "text" || node.type === "link" ? below : [node.type, ...below];
}

const runs = { numRuns: 300 };

test("in a paragraph, an item and a heading", () => {
  fc.assert(
    fc.property(text, text, (one, other) => {
      const tree = parse(`## ${escaped(one)}\n\n${escaped(one)}\n\n${list([escaped(one), escaped(other)])}`);
      const isThere = oneLine(one) !== "";
      const said = tree.children.map((child) => (child.type === "list" ? child.children.map((item) => toString(item)) : toString(child)));
      expect(said).toEqual([oneLine(one), ...(isThere ? [oneLine(one)] : []), [oneLine(one), oneLine(other)]]);
      expect(kinds(tree)).toEqual([
        "root",
        "heading",
        ...(isThere ? ["paragraph"] : []),
        "list",
        ...[one, other].flatMap((item) => ["listItem", ...(oneLine(item) === "" ? [] : ["paragraph"])]),
      ]);
    }),
    runs,
  );
});

test("in a cell", () => {
  fc.assert(
    fc.property(text, text, text, (a, b, c) => {
      const [table, ...more] = parse(tableOf(["x", a], [[b, c]])).children;
      expect(more).toEqual([]);
      expect(table!.type).toBe("table");
      const cells = table!.type === "table" ? table.children.map((row) => row.children.map((cell) => toString(cell))) : [];
      expect(cells).toEqual([
        ["x", oneLine(a)],
        [oneLine(b), oneLine(c)],
      ]);
      expect(new Set(kinds(table!))).toEqual(new Set(["table", "tableRow", "tableCell"]));
    }),
    runs,
  );
});

test("in bold, in code, and in a block", () => {
  fc.assert(
    fc.property(text, (words) => {
      const strong = parse(bold(words));
      expect(toString(strong)).toBe(oneLine(words));
      if (oneLine(words) !== "") expect(kinds(strong)).toEqual(["root", "paragraph", "strong"]);
      if (words.trim() !== "") {
        const [paragraph] = parse(`a ${code(words)}`).children;
        expect(kinds(paragraph!)).toEqual(["paragraph", "inlineCode"]);
      }
      const lines = words.trim().replace(/\r\n?/g, "\n");
      const [fenced, ...more] = parse(block(lines)).children;
      expect(more).toEqual([]);
      expect(fenced).toMatchObject({ type: "code", lang: "lore", value: lines.replaceAll("\0", "\ufffd") });
    }),
    runs,
  );
});

test("an address is a link to itself, without the end of its sentence", () => {
  const links: string[] = [];
  const walk = (node: Node): void => {
    if (node.type === "link") links.push(node.url);
    if ("children" in node) for (const child of node.children) walk(child);
  };
  walk(parse(escaped("See https://water.example/rules_2027?a=1&b=2, and (http://b.example/*x*).")));
  expect(links).toEqual(["https://water.example/rules_2027?a=1&b=2", "http://b.example/*x"]);
  expect(escaped("Ask ann@shop.example or www.shop.example.")).toBe("Ask ann\\@shop.example or www\\.shop.example.");
});
