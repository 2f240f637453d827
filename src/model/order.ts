/**
 * The order of picks: each after all that it tests, otherwise as written; and the picks that test each other in a circle.
 *
 *     family ◀── blade ◀── trailer        order: family, blade, trailer        a ◀── b, b ◀── a: a circle
 *
 * What closes a circle, every statement by which two picks of it test each other, is left out, so that what remains has an order.
 */
import { components, postorder } from "./components.js";

export interface TestsPick<S> {
  /** The pick that tests, and the one that is tested. */
  readonly from: number;
  readonly to: number;
  /** The statement that says so. */
  readonly statement: S;
}

export interface PickOrder<S> {
  readonly order: readonly number[];
  /** Each the shortest way round from its first pick, as the tests that make it. */
  readonly circles: readonly (readonly TestsPick<S>[])[];
  /** Every statement that tests one pick of a circle from another, or a pick from itself. */
  readonly leftOut: ReadonlySet<S>;
}

export function orderPicks<S>(count: number, tests: readonly TestsPick<S>[]): PickOrder<S> {
  const outgoing: TestsPick<S>[][] = Array.from({ length: count }, () => []);
  for (const test of tests) outgoing[test.from]!.push(test);
  const component: number[] = [];
  components(outgoing.map((some) => some.map(({ to }) => to))).forEach((members, number) =>
    members.forEach((pick) => (component[pick] = number)),
  );
  const inside = tests.filter(({ from, to }) => component[from] === component[to]);
  const leftOut = new Set(inside.map(({ statement }) => statement));
  const circles: TestsPick<S>[][] = [];
  for (const start of new Set(component)) {
    const first = component.indexOf(start);
    const circle = shortestCircle(first, inside);
    if (circle !== undefined) circles.push(circle);
  }
  const tested = outgoing.map((some) =>
    some
      .filter(({ statement }) => !leftOut.has(statement))
      .map(({ to }) => to)
      .sort((a, b) => a - b),
  );
  return { order: postorder([...tested.keys()], tested).flat(), circles, leftOut };
}

/** Breadth first from a pick back to itself. */
function shortestCircle<S>(start: number, tests: readonly TestsPick<S>[]): TestsPick<S>[] | undefined {
  const cameBy = new Map<number, TestsPick<S>>();
  const queue = [start];
  for (let pick = queue.shift(); pick !== undefined; pick = queue.shift()) {
    for (const test of tests) {
      if (test.from !== pick || cameBy.has(test.to)) continue;
      cameBy.set(test.to, test);
      if (test.to !== start) queue.push(test.to);
      else {
        const way = [test];
        while (way[0]!.from !== start) way.unshift(cameBy.get(way[0]!.from)!);
        return way;
      }
    }
  }
  return undefined;
}
