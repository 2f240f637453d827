/**
 * Whatever stands in a book: findings and no throw, in every form that Waterlore gives.
 *
 * Seeds are fixed; `HARD_SEED=…` and `HARD_RUNS=…` (a factor) look elsewhere and longer. The counts are printed at the end.
 */
import * as fc from "fast-check";
import { afterAll, describe, expect, test } from "vitest";
import { parse } from "../../src/syntax/parse.js";
import { books } from "../law/books.js";
import { byteDamages, bytesDamaged, damaged, strangeSigns, wordDamages } from "./damage.js";
import { checkIn, formatIn, useIn } from "./everything.js";

const seed = Number(process.env["HARD_SEED"] ?? 20270415);
const factor = Number(process.env["HARD_RUNS"] ?? 1);
const patient = { timeout: 600_000 };
const counts: Record<string, number> = {};
const count = (what: string): void => void (counts[what] = (counts[what] ?? 0) + 1);
afterAll(() =>
  console.log(
    `hard/fuzz: ${Object.entries(counts)
      .map(([what, number]) => `${number} ${what}`)
      .join(", ")} (seed ${seed})`,
  ),
);

const small = { points: 300, conditions: 3, picks: 3, patterns: 6 };
const runs = (numRuns: number) => ({ numRuns: Math.ceil(numRuns * factor), seed });

describe("words", () => {
  test("a damaged book is checked, used and formatted", patient, async () => {
    await fc.assert(
      fc.asyncProperty(books(small), books(small), wordDamages(5), fc.boolean(), async (book, donor, damages, inBase) => {
        const paths = Object.keys(book.texts);
        const hurt = inBase ? paths[0]! : book.root;
        const texts = { ...book.texts, [hurt]: damaged(book.texts[hurt]!, damages, donor.texts[donor.root]) };
        const findings = await checkIn(texts, book.root);
        useIn(texts, book.root);
        count("damaged books checked, tabled, answered and explained");
        if (findings.some(({ code }) => code === "syntax")) count("of them with errors of reading");
      }),
      runs(700),
    );
  });

  test("a damaged book is formatted without a loss", patient, () => {
    fc.assert(
      fc.property(books(small), wordDamages(8), (book, damages) => {
        formatIn(damaged(book.texts[book.root]!, damages));
        count("damaged books formatted");
      }),
      runs(2500),
    );
  });

  test("two books in one file", patient, async () => {
    await fc.assert(
      fc.asyncProperty(
        books({ ...small, layered: false }),
        books({ ...small, layered: false }),
        fc.boolean(),
        async (one, other, mixed) => {
          const [a, b] = [one.texts[one.root]!, other.texts[other.root]!];
          const text = mixed ? mix(a, b) : a + b;
          const texts = { "book.lore": text };
          await checkIn(texts, "book.lore");
          useIn(texts, "book.lore");
          formatIn(text);
          count("merged books");
        },
      ),
      runs(150),
    );
  });

  test("nothing but words of the language and strange signs", patient, async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(
          fc.oneof(
            fc.constantFrom(
              "book",
              "condition",
              "pick",
              "pattern",
              "when",
              "go with",
              "is",
              "a",
              "b",
              ":",
              ",",
              '"t"',
              "or",
              "and",
              "not",
              "band",
              "never",
              "move",
              "up",
              "trust",
              "first",
            ),
            fc.constantFrom(...strangeSigns),
          ),
          { maxLength: 40, size: "max" },
        ),
        fc.constantFrom(" ", "\n", ""),
        async (parts, between) => {
          const texts = { "x.lore": parts.join(between) };
          await checkIn(texts, "x.lore");
          useIn(texts, "x.lore");
          formatIn(texts["x.lore"]);
          count("texts of words and signs");
        },
      ),
      runs(500),
    );
  });
});

/** The statements of two books by turns. */
function mix(a: string, b: string): string {
  const [some, others] = [a, b].map((text) => text.split(/\n(?=\S)/));
  return some!
    .flatMap((statement, i) => [statement, ...(others![i] === undefined ? [] : [others![i]])])
    .concat(others!.slice(some!.length))
    .join("\n");
}

describe("bytes", () => {
  test("a book with damaged bytes is read, checked and formatted", patient, async () => {
    await fc.assert(
      fc.asyncProperty(books(small), byteDamages, async (book, damages) => {
        const text = new TextDecoder().decode(bytesDamaged(book.texts[book.root]!, damages));
        const texts = { ...book.texts, [book.root]: text };
        await checkIn(texts, book.root);
        formatIn(text);
        count("books with damaged bytes");
      }),
      runs(500),
    );
  });

  test("any text at all is read and formatted", patient, () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string({ unit: "binary", maxLength: 200 }),
          fc.array(fc.nat(0xffff), { maxLength: 100 }).map((units) => String.fromCharCode(...units)),
          fc.string({ unit: "grapheme", maxLength: 100 }),
        ),
        (text) => {
          const { findings } = parse(text, "x.lore");
          expect(findings.every(({ range }) => 0 <= range.start && range.start <= range.end && range.end <= text.length)).toBe(true);
          formatIn(text);
          count("texts of anything");
        },
      ),
      runs(3000),
    );
  });
});
