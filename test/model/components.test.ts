/** Components against plain reachability on small graphs, and on chains longer than any stack. */
import * as fc from "fast-check";
import { expect, test } from "vitest";
import { components } from "../../src/model/components.js";

const graphs = fc
  .integer({ min: 1, max: 8 })
  .chain((size) => fc.array(fc.array(fc.nat(size - 1), { maxLength: 4 }), { minLength: size, maxLength: size }));

test("nodes are together just where each leads to the other, and a component comes after all that it leads to", () => {
  fc.assert(
    fc.property(graphs, (next) => {
      const found = components(next);
      const reached = next.map((_, from) => {
        const all = new Set([from]);
        for (const at of all) next[at]!.forEach((to) => all.add(to));
        return all;
      });
      expect(found.flat().sort((a, b) => a - b)).toEqual([...next.keys()]);
      const place = (node: number) => found.findIndex((members) => members.includes(node));
      for (const a of next.keys())
        for (const b of next.keys()) {
          expect(place(a) === place(b)).toBe(reached[a]!.has(b) && reached[b]!.has(a));
          if (reached[a]!.has(b)) expect(place(b)).toBeLessThanOrEqual(place(a));
        }
      for (const members of found) expect(members).toEqual([...members].sort((a, b) => a - b));
    }),
    { numRuns: 500 },
  );
});

test("of a chain and of a ring of 200,000", () => {
  const chain = Array.from({ length: 200_000 }, (_, at) => (at < 199_999 ? [at + 1] : []));
  expect(components(chain)).toHaveLength(200_000);
  expect(components(chain.map((to) => (to.length > 0 ? to : [0])))).toHaveLength(1);
});
