/** Laws of reading and writing books, tried on damaged, commented and randomly parenthesized ones. */
import fc from "fast-check";
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { makeLexer, wordOf } from "../../grammar/tokens.js";
import { parse, type Parsed } from "../../src/syntax/parse.js";
import { format } from "../../src/syntax/print.js";
import { findingLimit } from "../../src/syntax/report.js";
import type { Range } from "../../src/text.js";

const book = readFileSync(new URL("../books/hollin.lore", import.meta.url), "utf8");
const lexer = makeLexer({ validate: true });
const runs = { numRuns: 100 };
const patient = 120_000;

describe("a damaged book", () => {
  test(
    "is read without a throw into a tree within its text",
    () => {
      fc.assert(
        fc.property(damaged(), (text) => {
          const parsed = parse(text, "x.lore");
          expect(parsed.findings.length).toBeLessThanOrEqual(findingLimit + 1);
          const isWithin = ({ start, end }: Range): boolean =>
            Number.isInteger(start) && Number.isInteger(end) && 0 <= start && start <= end && end <= text.length;
          expect([...rangesOf(parsed.tree), ...rangesOf(parsed.findings)].filter((range) => !isWithin(range))).toEqual([]);
          const starts = parsed.tree.statements.map(({ range }) => range.start);
          expect(starts).toEqual([...starts].sort((a, b) => a - b));
        }),
        runs,
      );
    },
    patient,
  );

  test(
    "is formatted once and for all, and loses no word and no comment",
    () => {
      fc.assert(
        fc.property(damaged(), (text) => {
          const once = format(text);
          expect(format(once)).toBe(once);
          expect(commentsOf(once)).toEqual(commentsOf(text));
          expect(bare(parse(once, "x.lore"))).toBe(bare(parse(text, "x.lore")));
        }),
        runs,
      );
    },
    patient,
  );
});

describe("a sound book", () => {
  test(
    "keeps its comments, wherever they stand, and its meaning",
    () => {
      fc.assert(
        fc.property(
          fc.array(fc.tuple(fc.nat(), fc.constantFrom(" -- a\n", "\n-- b\n", "\n\n  -- c\n", " --d\n\n")), { maxLength: 12 }),
          (places) => {
            // Before a word, or between the words of a phrase: wherever a blank may stand.
            const blanks = lexer
              .tokenize(book)
              .tokens.flatMap(({ startOffset, tokenType, image }) => [
                startOffset,
                ...(wordOf.has(tokenType) ? [...image.matchAll(/ /g)].map(({ index }) => startOffset + index) : []),
              ]);
            const text = withAt(book, new Map(places.map(([i, comment]) => [blanks[i % blanks.length]!, comment])));
            const once = format(text);
            expect(format(once)).toBe(once);
            expect(commentsOf(once)).toEqual(commentsOf(text));
            expect(bare(parse(once, "x.lore"))).toBe(bare(parse(text, "x.lore")));
            expect(parse(once, "x.lore").findings).toEqual([]);
          },
        ),
        runs,
      );
    },
    patient,
  );

  test(
    "keeps the comments in its tests, before and after every parenthesis",
    () => {
      const comments = fc.array(fc.tuple(fc.nat(), fc.constantFrom(" -- a\n", "\n-- b\n", " --c\n\n")), { minLength: 1, maxLength: 5 });
      const heads = fc.constantFrom("situation x: ", "impossible when ", 'pattern "P" move w up 1 when ', "pick p: a, b only when ");
      const tails = fc.constantFrom("", "\n", " -- last\n", '\n  because "so"\n');
      fc.assert(
        fc.property(heads, anyTest, tails, comments, (head, written, tail, places) => {
          const plain = head + written + (head.startsWith("imp") || head.startsWith("pat") ? tail : "\n");
          const { tokens } = lexer.tokenize(plain);
          const text = withAt(plain, new Map(places.map(([i, comment]) => [tokens[i % tokens.length]!.startOffset, comment])));
          const once = format(text);
          expect(format(once)).toBe(once);
          expect(commentsOf(once)).toEqual(commentsOf(text));
          expect(bare(parse(once, "x.lore"))).toBe(bare(parse(text, "x.lore")));
        }),
        { numRuns: 500 },
      );
    },
    patient,
  );

  test(
    "means the same whatever its blanks, line ends and byte order mark",
    () => {
      fc.assert(
        fc.property(fc.constantFrom("\n", "\r\n", "\r"), fc.constantFrom(" ", "\t", "   "), fc.boolean(), (end, blank, mark) => {
          const text =
            (mark ? "\uFEFF" : "") + book.replace(/"[^"\n]*"|--.*|\n| /g, (part) => (part === "\n" ? end : part === " " ? blank : part));
          expect(bare(parse(text, "x.lore"))).toBe(bare(parse(book, "x.lore")));
          expect(format(text).replace("\uFEFF", "")).toBe(format(book));
        }),
        { numRuns: 20 },
      );
    },
    patient,
  );

  test(
    "means the same without the parentheses that formatting takes away",
    () => {
      fc.assert(
        fc.property(anyTest, (written) => {
          const text = `situation x: ${written}\n`;
          const parsed = parse(text, "x.lore");
          const once = format(text);
          expect(format(once)).toBe(once);
          expect(parse(once, "x.lore").findings.length).toBe(parsed.findings.length);
          expect(bare(parse(once, "x.lore"))).toBe(bare(parsed));
        }),
        { numRuns: 500 },
      );
    },
    patient,
  );
});

/** The text with something put in at each of some offsets. */
function withAt(text: string, inserts: ReadonlyMap<number, string>): string {
  return [...inserts].sort(([a], [b]) => b - a).reduce((done, [offset, word]) => done.slice(0, offset) + word + done.slice(offset), text);
}

// Making books ----------------------------------------------------------------------------------------------------------------

/** The example with pieces cut out, doubled, moved, or strange ones put in. */
function damaged(): fc.Arbitrary<string> {
  const strange = fc.oneof(
    fc.constantFrom(
      '"',
      "“",
      ",",
      ":",
      "(",
      ")",
      "--",
      "—",
      "\n",
      "when ",
      "go with ",
      "pattern ",
      "or ",
      "and ",
      "is ",
      "1/2 oz",
      "apr 31",
      "Sky",
      "½",
      "-",
      "\0",
      "\ud800",
      "\r",
      "\t",
      "\uFEFF",
    ),
    fc.string({ unit: "binary", maxLength: 6 }),
  );
  const splice = fc.record({
    at: fc.nat(),
    cut: fc.nat({ max: 60 }),
    from: fc.nat(),
    copy: fc.nat({ max: 60 }),
    put: strange,
    copied: fc.boolean(),
  });
  return fc.array(splice, { minLength: 1, maxLength: 8 }).map((splices) =>
    splices.reduce((text, { at, cut, from, copy, put, copied }) => {
      const place = at % (text.length + 1);
      const source = from % (text.length + 1);
      return text.slice(0, place) + (copied ? text.slice(source, source + copy) : put) + text.slice(place + cut);
    }, book),
  );
}

const { anyTest } = fc.letrec<{ anyTest: string; term: string }>((tie) => ({
  anyTest: fc
    .tuple(tie("term"), fc.array(fc.tuple(fc.constantFrom(" and ", " and ", " or ", ", or ", ", and "), tie("term")), { maxLength: 3 }))
    .map(([first, rest]) => first + rest.map(([join, term]) => join + term).join("")),
  term: fc.oneof(
    { depthSize: "small", withCrossShrink: true },
    fc.constantFrom(
      "a",
      "b",
      "c is d",
      "e is f or g",
      "h is not i",
      "j only k, l",
      "m is neither n nor o",
      "p from 1 ft to 2 ft",
      "q is colder than 3 °F",
      "r is 4 oz or heavier",
      "not s",
      "t is empty",
      "u is not empty",
    ),
    tie("anyTest").map((inner) => `(${inner})`),
    tie("anyTest").map((inner) => `not (${inner})`),
  ),
}));

// Comparing books ---------------------------------------------------------------------------------------------------------------

function commentsOf(text: string): string[] {
  return (lexer.tokenize(text).groups["comments"] ?? []).map(({ image }) => image.trimEnd()).sort();
}

/** What a book says: its tree without places, comments and parentheses. */
function bare({ tree }: Parsed): string {
  return JSON.stringify(strip(tree.statements), undefined, 1);
}

function strip(node: unknown): unknown {
  if (Array.isArray(node)) return node.map(strip);
  if (typeof node !== "object" || node === null) return node;
  const { range: _, ...rest } = node as Record<string, unknown>;
  if (rest["kind"] === "parentheses") return strip(rest["part"]);
  const stripped = Object.fromEntries(Object.entries(rest).map(([key, value]) => [key, strip(value)]));
  if (stripped["kind"] !== "and" && stripped["kind"] !== "or") return stripped;
  const parts = (stripped["parts"] as { kind?: unknown; parts?: unknown[] }[]).flatMap((part) =>
    part.kind === stripped["kind"] ? part.parts! : [part],
  );
  return { ...stripped, parts };
}

function rangesOf(node: unknown): Range[] {
  if (typeof node !== "object" || node === null) return [];
  return Object.entries(node).flatMap(([key, value]) => (key === "range" ? [value as Range] : rangesOf(value)));
}
