/** Law: a text that is read with an earlier one at hand is read as if there had been none. */
import fc from "fast-check";
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { parse, type Parsed } from "../../src/syntax/parse.js";
import { damaged, strangeSigns, wordDamages } from "../hard/damage.js";

const hollin = readFileSync(new URL("../books/hollin.lore", import.meta.url), "utf8");
const shop = `book "Counter"\npick bait: worm, jig\ncondition sky: in order bright, dark\n${Array.from({ length: 30 }, (_, n) => `pattern "Rule ${n}"\n  go with bait ${n % 2 ? "jig" : "worm"}\n  when sky is dark\n`).join("")}`;

function all({ tree, findings, broken }: Parsed): string {
  return JSON.stringify([tree, findings, tree.statements.map((statement) => broken.has(statement))]);
}

describe("reading a book again", () => {
  test("gives what reading it for the first time gives, damage after damage", () => {
    fc.assert(
      fc.property(fc.constantFrom(hollin, shop), fc.array(wordDamages(2), { minLength: 1, maxLength: 8 }), (book, steps) => {
        let before = parse(book, "x.lore");
        for (const damages of steps) {
          const text = damaged(before.text, damages, hollin);
          const parsed = parse(text, "x.lore", before);
          expect(all(parsed)).toBe(all(parse(text, "x.lore")));
          before = parsed;
        }
      }),
      { numRuns: 60 },
    );
  });

  test("gives the same sign by sign, as it is typed and taken back", () => {
    fc.assert(
      fc.property(fc.nat(), fc.constantFrom(...strangeSigns, "pattern ", "pick ", " or ", "fall ", "trust"), (at, typed) => {
        const place = at % shop.length;
        let before = parse(shop, "x.lore");
        for (const length of [...Array(typed.length + 1).keys(), ...[...Array(typed.length).keys()].reverse()]) {
          const text = shop.slice(0, place) + typed.slice(0, length) + shop.slice(place);
          before = parse(text, "x.lore", before);
          expect(all(before)).toBe(all(parse(text, "x.lore")));
        }
      }),
      { numRuns: 60 },
    );
  });

  test("takes over what stands before the change, and reads the changed statement anew", () => {
    const before = parse(shop, "x.lore");
    const after = parse(shop.replace('"Rule 7"', '"Rule seven"'), "x.lore", before);
    const same = after.tree.statements.map((statement, i) => statement === before.tree.statements[i]);
    expect(same.indexOf(false)).toBe(
      before.tree.statements.findIndex((statement) => statement.kind === "pattern" && statement.title?.value === "Rule 7"),
    );
    expect(all(after)).not.toBe(all(before));
  });

  test("words its examples from the book as it is now", () => {
    const broken = `${shop}pattern "No action"\n  when sky is dark\n`;
    const text = broken.replace("pick bait: worm, jig", "pick lure: frog, fly");
    const parsed = parse(text, "x.lore", parse(broken, "x.lore"));
    expect(all(parsed)).toBe(all(parse(text, "x.lore")));
    expect(JSON.stringify(parsed.findings)).toContain("lure");
  });

  test("takes nothing over from another book", () => {
    const broken = `${shop}pattern\n`;
    expect(all(parse(broken, "b.lore", parse(broken, "a.lore")))).toBe(all(parse(broken, "b.lore")));
  });
});
