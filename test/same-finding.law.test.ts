/** The answers to "is it the same finding?", one against the others, for findings and changes of all kinds. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Finding } from "../src/diagnostics.js";
import { editionKey, inOneText, keyText, slipOf, troubleOf, wordingOf } from "../src/same-finding.js";

const text = fc
  .array(fc.constantFrom("sky", "dark", '"Mud"', " ", "\n", "-- why\n", "wind"), { maxLength: 12 })
  .map((parts) => parts.join(""));
/** Few words, so that two findings are often alike. */
const finding = fc.record<Finding>(
  {
    code: fc.constantFrom("gap", "conflict", "name"),
    severity: fc.constantFrom("error", "warning"),
    path: fc.constantFrom("a.lore", "b.lore"),
    range: fc.tuple(fc.nat(6), fc.nat(6)).map(([start, length]) => ({ start, end: start + length })),
    title: fc.constantFrom("Two patterns disagree", "Nobody has declared mud"),
    message: fc.constantFrom("In 25 % of all conditions.", "In 30 % of all conditions."),
    help: fc.constantFrom("", "Say which one wins."),
    pick: fc.constantFrom(undefined, "bait"),
    patterns: fc.constantFrom(undefined, ["Sun", "Mud"], ["Mud", "Sun"]),
    where: fc.constantFrom(undefined, "sky is dark"),
    share: fc.constantFrom("1/4", "3/10"),
  },
  { requiredKeys: ["code", "severity", "path", "range", "title", "message", "help"] },
);

describe("findings of one text", () => {
  test("that are the same are the same in every other way, and say the same where no region is said", () => {
    let alike = 0;
    fc.assert(
      fc.property(finding, finding, fc.boolean(), text, (one, other, near, book) => {
        const second = near ? { ...one, message: other.message, share: other.share, severity: other.severity } : other;
        if (inOneText(one) !== inOneText(second)) return;
        alike++;
        expect(slipOf(second)).toBe(slipOf(one));
        expect(troubleOf(second)).toBe(troubleOf(one));
        expect(keyText(editionKey(second, book))).toBe(keyText(editionKey(one, book)));
        if (one.where === undefined) expect(wordingOf(second)).toBe(wordingOf(one));
      }),
    );
    expect(alike).toBeGreaterThan(10);
  });

  test("are told apart by place, kind, and what they are about; not by size, gravity or help", () => {
    fc.assert(
      fc.property(finding, finding, (one, other) => {
        const { severity, help, share } = other;
        expect(inOneText({ ...one, severity, help, share })).toBe(inOneText(one));
        for (const field of ["code", "path", "range", "title", "pick", "patterns", "where"] as const) {
          const same = JSON.stringify(one[field]) === JSON.stringify(other[field]);
          // Where a region is said, the sentence around it does not count.
          const changed = { ...one, [field]: other[field] };
          expect(inOneText(changed) === inOneText(one)).toBe(same);
        }
      }),
    );
  });
});

test("trouble between rules is the same in whatever order its patterns stand, and of another promise another", () => {
  fc.assert(
    fc.property(finding, finding, (one, other) => {
      expect(troubleOf({ ...one, patterns: [...(one.patterns ?? [])].reverse() })).toBe(troubleOf(one));
      expect(troubleOf({ ...one, range: other.range, message: other.message, share: other.share })).toBe(troubleOf(one));
    }),
  );
  const broken = { code: "promise", patterns: ["Sun"] } as unknown as Finding;
  expect(troubleOf(broken, "Mud thumps")).not.toBe(troubleOf(broken, "Sun shines"));
});
