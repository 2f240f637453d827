/** A share in words: all and none only where it is so, and else to the place shown. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { sayPercent, type Share } from "../../src/messages/words.js";

const share = fc
  .tuple(fc.bigInt({ min: 1n, max: 10n ** 30n }), fc.bigInt({ min: 0n, max: 10n ** 30n }))
  .map(([a, b]): Share => (a > b ? { n: b, d: a } : { n: a, d: b }));
/** Near none, near all, and everywhere between. */
const anyShare = fc.oneof(
  share,
  fc.integer({ min: 0, max: 2000 }).map((n): Share => ({ n: BigInt(n), d: 2000n })),
  share.chain(({ d }) => fc.constantFrom<Share>({ n: 0n, d }, { n: 1n, d }, { n: d - 1n, d }, { n: d, d }).filter(({ n, d }) => n <= d)),
);

/** What is read, in percent, between two bounds. */
function read(text: string): readonly [low: number, high: number] {
  if (text === "less than 0.1 %") return [0, 0.1];
  if (text === "more than 99.9 %") return [99.9, 100];
  const match = /^(\d+)(?:\.(\d))? %$/.exec(text);
  if (!match) throw new Error(text);
  const value = Number(`${match[1]}.${match[2] ?? 0}`);
  const half = value > 10 && value < 99 ? 0.5 : 0.05;
  return value === 0 || value === 100 ? [value, value] : [value - (value === 10 ? 0.05 : half), value + (value === 10 ? 0.5 : half)];
}

test("the share is what is read, to the last place that is shown", () => {
  fc.assert(
    fc.property(anyShare, ({ n, d }) => {
      const [low, high] = read(sayPercent({ n, d }));
      const percent = Number((n * 10n ** 9n) / d) / 1e7;
      expect(percent).toBeGreaterThanOrEqual(low - 1e-6);
      expect(percent).toBeLessThanOrEqual(high + 1e-6);
    }),
    { numRuns: 1000 },
  );
});

test("only none is 0 %, and only all is 100 %", () => {
  fc.assert(
    fc.property(anyShare, (share) => {
      expect(sayPercent(share) === "0 %").toBe(share.n === 0n);
      expect(sayPercent(share) === "100 %").toBe(share.n === share.d);
    }),
    { numRuns: 1000 },
  );
});

test.each([
  [0n, 7n, "0 %"],
  [1n, 1001n, "less than 0.1 %"],
  [1n, 1000n, "0.1 %"],
  [1n, 16n, "6.3 %"],
  [996n, 10_000n, "10 %"],
  [1n, 3n, "33 %"],
  [1n, 2n, "50 %"],
  [988n, 1000n, "99 %"],
  [995n, 1000n, "99.5 %"],
  [9_991n, 10_000n, "more than 99.9 %"],
  [7n, 7n, "100 %"],
])("%s of %s reads %s", (n, d, text) => {
  expect(sayPercent({ n, d })).toBe(text);
});
