/** The algebra of spans against sets of numbers. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import * as span from "../../src/model/span.js";

const size = 24;
const members = fc.uniqueArray(fc.integer({ min: 0, max: size - 1 }), { maxLength: size });
const sorted = (set: Iterable<number>): number[] => [...set].sort((a, b) => a - b);
const list = (one: span.Span): number[] => [...span.positions(one)];

describe("spans", () => {
  test("hold what they were made of, in runs that are disjoint, not adjacent and rising", () => {
    fc.assert(
      fc.property(members, (a) => {
        const made = span.spanOf(a);
        expect(list(made)).toEqual(sorted(a));
        expect(span.count(made)).toBe(a.length);
        expect(span.isEmpty(made)).toBe(a.length === 0);
        expect(span.first(made)).toBe(sorted(a)[0]);
        for (let i = 0; i < made.length; i += 2) {
          expect(made[i]!).toBeLessThanOrEqual(made[i + 1]!);
          if (i > 0) expect(made[i]!).toBeGreaterThan(made[i - 1]! + 1);
        }
        for (let position = 0; position < size; position++) expect(span.holds(made, position)).toBe(a.includes(position));
      }),
    );
  });

  test("join, meet and differ as sets do", () => {
    fc.assert(
      fc.property(members, members, (a, b) => {
        const [one, other] = [span.spanOf(a), span.spanOf(b)];
        const [setA, setB] = [new Set(a), new Set(b)];
        expect(span.union(one, other)).toEqual(span.spanOf([...a, ...b]));
        expect(span.intersect(one, other)).toEqual(span.spanOf(a.filter((x) => setB.has(x))));
        expect(span.subtract(one, other)).toEqual(span.spanOf(a.filter((x) => !setB.has(x))));
        expect(span.complement(one, size)).toEqual(span.spanOf([...Array(size).keys()].filter((x) => !setA.has(x))));
        expect(span.disjoint(one, other)).toBe(a.every((x) => !setB.has(x)));
        expect(span.within(one, other)).toBe(a.every((x) => setB.has(x)));
        expect(span.same(one, other)).toBe(setA.size === setB.size && a.every((x) => setB.has(x)));
      }),
    );
  });

  test("runs and the whole", () => {
    expect(span.full(4)).toEqual([0, 3]);
    expect(span.full(0)).toEqual([]);
    expect(span.run(2, 5)).toEqual([2, 5]);
    expect(span.run(5, 2)).toEqual([]);
  });
});
