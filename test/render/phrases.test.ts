/** Phrases about a set: together they hold just the subsets that the boxes hold, and there are fewer of them. */
import * as fc from "fast-check";
import { expect, test } from "vitest";
import { phrasesFor, type Limits, type Phrase } from "../../src/render/phrases.js";

const MEMBERS = 6;
const groups = [
  [0, 1, 2],
  [3, 4],
  [2, 5],
];

function held({ has, no, some }: Limits & { readonly some?: readonly number[] }): readonly number[] {
  return Array.from({ length: 2 ** MEMBERS }, (_, subset) => subset).filter((subset) => {
    const isIn = (member: number): boolean => ((subset >> member) & 1) === 1;
    return has.every(isIn) && !no.some(isIn) && (some ?? []).every((group) => groups[group]!.some(isIn));
  });
}
const together = (some: readonly (Limits | Phrase)[]): readonly number[] => [...new Set(some.flatMap(held))].sort((a, b) => a - b);

test("random boxes", () => {
  const box = fc.array(fc.constantFrom("has", "no", "any"), { minLength: MEMBERS, maxLength: MEMBERS }).map((sides): Limits => ({
    has: sides.flatMap((side, member) => (side === "has" ? [member] : [])),
    no: sides.flatMap((side, member) => (side === "no" ? [member] : [])),
  }));
  let said = 0;
  fc.assert(
    fc.property(fc.array(box, { minLength: 2, maxLength: 5 }), (boxes) => {
      const phrases = phrasesFor(boxes, groups);
      if (!phrases) return;
      said++;
      expect(phrases.length).toBeLessThan(boxes.length);
      expect(together(phrases)).toEqual(together(boxes));
    }),
    { numRuns: 400, seed: 1 },
  );
  expect(said).toBeGreaterThan(20);
});

test("any of a group, and any of another", () => {
  const boxes: readonly Limits[] = [
    { has: [0, 3], no: [] },
    { has: [0, 4], no: [3] },
    { has: [1, 3], no: [0] },
    { has: [1, 4], no: [0, 3] },
  ];
  expect(
    phrasesFor(boxes, [
      [0, 1],
      [3, 4],
    ]),
  ).toEqual([{ has: [], no: [], some: [0, 1] }]);
});

test("boxes that have nothing to do with each other stay boxes", () => {
  expect(
    phrasesFor(
      [
        { has: [0], no: [1] },
        { has: [1], no: [0] },
      ],
      [],
    ),
  ).toBeUndefined();
});
