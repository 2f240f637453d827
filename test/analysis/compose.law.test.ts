/** Composed diagrams say at every point what the parts say one after the other, whichever way they are gone through. */
import * as fc from "fast-check";
import { expect, test } from "vitest";
import { unlimited } from "../../src/analysis/budget.js";
import { compose } from "../../src/analysis/diagrams/compose.js";
import { forest, lookup, type Forest, type Node } from "../../src/analysis/diagrams/diagram.js";
import { spanOf } from "../../src/model/span.js";

/** Variables 0 to 3 are left; 4 and 5 stand for inputs. */
const SIZES = [2, 3, 4, 6, 3, 4];
const AXES = [0, 1, 2, 3];

/** A tree of tests, with leaves from 0. */
type Tree = number | { readonly variable: number; readonly inside: readonly number[]; readonly yes: Tree; readonly no: Tree };

function trees(variables: readonly number[], leaves: number): fc.Arbitrary<Tree> {
  return fc.letrec<{ tree: Tree }>((tie) => ({
    tree: fc.oneof(
      { maxDepth: 6, depthSize: "large" },
      fc.nat(leaves - 1),
      fc.constantFrom(...variables).chain((variable) =>
        fc.record({
          variable: fc.constant(variable),
          inside: fc.uniqueArray(fc.nat(SIZES[variable]! - 1), { minLength: 1, maxLength: SIZES[variable]! - 1 }),
          yes: tie("tree"),
          no: tie("tree"),
        }),
      ),
    ),
  })).tree;
}

function grown(tree: Tree, made: Forest<number>): Node<number> {
  if (typeof tree === "number") return made.leaf(tree);
  return made.fork(tree.variable, spanOf(tree.inside), grown(tree.yes, made), grown(tree.no, made));
}

function* points(at = 0): Generator<readonly number[]> {
  if (at === AXES.length) yield [];
  else for (let position = 0; position < SIZES[at]!; position++) for (const rest of points(at + 1)) yield [position, ...rest];
}

const variables = { size: (variable: number) => SIZES[variable]!, weight: () => 1n };
const forests = (): Forest<number> => forest<number>(String, unlimited);

test("composing", () => {
  fc.assert(
    fc.property(trees([...AXES, 4, 5], 4), trees(AXES, SIZES[4]!), trees(AXES, SIZES[5]!), (whole, first, second) => {
      const target = forests();
      const node = grown(whole, target);
      const inputs = new Map([first, second].map((tree, i) => [4 + i, made(tree)]));
      const ways = [0, 2, Infinity].map((few) => compose(node, target, inputs, variables, few));
      for (const way of ways) expect(way.support.every((variable) => variable < AXES.length)).toBe(true);
      for (const point of points()) {
        const position = (variable: number): number =>
          variable < AXES.length ? point[variable]! : lookup(inputs.get(variable)!.node, (axis) => point[axis]!);
        const wanted = lookup(node, position);
        expect(ways.map((way) => lookup(way, position))).toEqual(ways.map(() => wanted));
      }
    }),
    { numRuns: Number(process.env["LAW_RUNS"] ?? 300) },
  );
});

function made(tree: Tree): { readonly node: Node<number>; readonly forest: Forest<number> } {
  const own = forests();
  return { node: grown(tree, own), forest: own };
}
