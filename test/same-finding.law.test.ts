/** The four answers to "is it the same finding?", one against the others, for findings and changes of all kinds. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Finding } from "../src/diagnostics.js";
import { moved } from "../src/faces/server/moved.js";
import { areMoved, editionKey, inOneText, keyText, slipOf, troubleOf, wordingOf } from "../src/same-finding.js";

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

describe("findings of a text that is changed in one place", () => {
  const change = fc.tuple(text, text, text, text);

  test("are the same where their text went along, whatever was written elsewhere", () => {
    fc.assert(
      fc.property(change, fc.array(finding, { maxLength: 4 }), ([start, out, put, end], findings) => {
        const [before, now] = [start + out + end, start + put + end];
        const move = moved(before, now);
        const inside = findings.filter(({ range }) => range.end <= before.length);
        const went = inside.map((one) => ({ ...one, range: move(one.range) }));
        for (const [i, { range }] of went.entries())
          if (range !== undefined)
            expect(now.slice(range.start, range.end)).toBe(before.slice(inside[i]!.range.start, inside[i]!.range.end));
        const all = went.flatMap((one) => (one.range === undefined ? [] : [{ ...one, range: one.range }]));
        expect(areMoved(inside, all, move)).toBe(all.length === inside.length);
      }),
    );
  });

  test("are others if one is more or less, says something else, or stands elsewhere", () => {
    fc.assert(
      fc.property(fc.array(finding, { minLength: 1, maxLength: 4 }), fc.nat(), (findings, pick) => {
        const at = pick % findings.length;
        const but = (change: Partial<Finding>): Finding[] => findings.map((one, i) => (i === at ? { ...one, ...change } : one));
        const same = (now: readonly Finding[]): boolean => areMoved(findings, now, (range) => range);
        const { start, end } = findings[at]!.range;
        expect(same(findings)).toBe(true);
        expect(same(findings.slice(1))).toBe(false);
        expect(same(but({ message: "Other." }))).toBe(false);
        expect(same(but({ title: "Other" }))).toBe(false);
        expect(same(but({ code: "budget" }))).toBe(false);
        expect(same(but({ range: { start, end: end + 1 } }))).toBe(false);
        expect(same(but({ range: { start: start + 1, end: end + 1 } }))).toBe(false);
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
