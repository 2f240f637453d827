/**
 * Laws of comparing, tried on random small books and edits of them: the regions are exactly the points where the oracle answers
 * otherwise, shares are exact, examples true.
 *
 * The points are those of the common space, but each book reads them for itself: every value is said in words and read back by the
 * book as it was written, so that nothing here relies on how the two were laid on one space.
 */
import { Fraction } from "fraction.js";
import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { compare, type Comparison } from "../../src/compare/compare.js";
import type { Box } from "../../src/analysis/diagrams/diagram.js";
import type { Point } from "../../src/analysis/outcome.js";
import type { Condition, Model } from "../../src/model/model.js";
import { exampleOf, readValue } from "../../src/model/points.js";
import { holds } from "../../src/model/span.js";
import { wordDamages, damaged } from "../hard/damage.js";
import { books, type Books } from "./books.js";
import { oracle } from "./oracle.js";
import { combinationsOf, isPossible, weighed } from "./points.js";
import { read } from "./reading.js";

const runs = Number(process.env["LAW_RUNS"] ?? 100);
const seed = process.env["LAW_SEED"] === undefined ? undefined : Number(process.env["LAW_SEED"]);
const MOST_POINTS = 4000;

/** An outcome in words that mean the same in either book. */
type Said = Readonly<Record<string, string>>;
interface Seen {
  readonly point: Point;
  /** Undefined: impossible in that book. */
  readonly before?: Said;
  readonly after?: Said;
}

/** The point as one book reads it; undefined if the book has no such values. */
function readBy(model: Model, common: Model, point: Point): Point | undefined {
  const example = exampleOf(common, point);
  const positions: number[] = model.axes.map(() => 0);
  for (const condition of model.conditions) {
    const value = example[nameOf(condition, common)]!;
    const text = typeof value === "string" ? value : membersOf(condition, value);
    const reading = condition.domain.kind === "set" && text === "" ? { positions: [] } : readValue(condition, model.axes, text);
    if ("problem" in reading) return undefined;
    for (const { axis, position } of reading.positions) positions[axis] = position;
  }
  return positions;
}

function nameOf({ name, domain }: Condition, common: Model): string {
  const was = `${name} (as it was)`;
  return common.conditions.some((one) => one.name === was && one.domain.kind === domain.kind) ? was : name;
}

function membersOf({ domain }: Condition, members: readonly string[]): string {
  return members.filter((member) => domain.kind === "set" && domain.members.includes(member)).join(";");
}

function saidBy(model: Model, point: Point | undefined): Said | undefined {
  if (!point || !isPossible(model, point)) return undefined;
  return Object.fromEntries(
    oracle(model, point).map(({ outcome: { status, places } }, pick) => {
      const { name, options } = model.picks[pick]!;
      return [
        name,
        `${status}: ${places
          .map((place) =>
            place
              .map((option) => options[option]!.text)
              .sort()
              .join(" or "),
          )
          .join(", then ")}`,
      ];
    }),
  );
}

function* everyPoint(model: Model, point: Point = []): Generator<Point> {
  const here = model.axes[point.length];
  if (!here) yield point;
  else for (let position = 0; position < here.size; position++) yield* everyPoint(model, [...point, position]);
}

const isIn = (boxes: readonly Box[], point: Point): boolean =>
  boxes.some((box) => [...box].every(([axis, span]) => holds(span, point[axis]!)));
const textOf = ({ status, answer }: { readonly status: string; readonly answer: readonly (readonly string[])[] }): string =>
  `${status}: ${answer.map((place) => [...place].sort().join(" or ")).join(", then ")}`;

function shareOf(model: Model, all: readonly Seen[], wanted: (seen: Seen) => boolean): Fraction {
  const weights = weighed(
    model,
    all.map(({ point }) => point),
  ).map(({ weight }) => weight);
  const sum = (list: readonly bigint[]): bigint => list.reduce((total, weight) => total + weight, 0n);
  return new Fraction(sum(weights.filter((_, i) => wanted(all[i]!))), sum(weights));
}

function agrees(model: Model, example: Comparison["changes"][number]["example"], point: Point): boolean {
  const named = model.conditions.filter(({ name }) => Object.hasOwn(example, name)).map(({ index }) => index);
  return JSON.stringify(exampleOf(model, point, named)) === JSON.stringify(example);
}

let compared = 0;
let differing = 0;

function holdsFor(old: Model, now: Model): Comparison {
  const comparison = compare(old, now);
  const common = comparison.models.after;
  if (combinationsOf(common) > MOST_POINTS) return comparison;
  compared++;
  if (comparison.different) differing++;
  expect(comparison.undecided).toEqual([]);
  const points = [...everyPoint(common)].map((point): Seen => ({
    point,
    before: saidBy(old, readBy(old, common, point)),
    after: saidBy(now, readBy(now, common, point)),
  }));
  const both = points.filter(({ before, after }) => before && after);
  for (const { name } of now.picks) {
    const own = comparison.changes.filter(({ pick }) => pick === name);
    if (!old.picks.some((pick) => pick.name === name)) {
      expect(own).toEqual([]);
      continue;
    }
    for (const { point, before, after } of both) {
      const here = own.filter(({ boxes }) => isIn(boxes, point)).map((change) => [textOf(change.before), textOf(change.after)]);
      expect(here, JSON.stringify(exampleOf(common, point))).toEqual(before![name] === after![name] ? [] : [[before![name], after![name]]]);
    }
    for (const change of own) {
      expect(change.share.toFraction()).toBe(shareOf(common, both, ({ point }) => isIn(change.boxes, point)).toFraction());
      const agreeing = both.filter(({ point }) => agrees(common, change.example, point));
      expect(agreeing.length).toBeGreaterThan(0);
      for (const { point } of agreeing) expect(isIn(change.boxes, point)).toBe(true);
      expect(agrees(common, change.example, change.point)).toBe(true);
      expect(change.causes.length).toBeGreaterThan(0);
    }
  }
  for (const [only, other] of [
    ["before", "after"],
    ["after", "before"],
  ] as const) {
    const own = points.filter((one) => one[only]);
    const alone = own.filter((one) => !one[other]);
    const [ground] = comparison.ground.filter((one) => one.only === only);
    expect(ground !== undefined).toBe(alone.length > 0);
    if (!ground) continue;
    for (const one of own) expect(isIn(ground.boxes, one.point)).toBe(one[other] === undefined);
    expect(ground.share.toFraction()).toBe(shareOf(common, own, (one) => alone.includes(one)).toFraction());
    for (const { point } of own.filter((one) => agrees(common, ground.example, one.point))) expect(isIn(ground.boxes, point)).toBe(true);
  }
  return comparison;
}

const law = (name: string, property: fc.IRawProperty<unknown>, numRuns = runs): void =>
  test(name, { timeout: 240_000 }, () => fc.assert(property, { numRuns, ...(seed === undefined ? {} : { seed }) }));
const model = ({ texts, root }: Books): Model => read(texts, root).model;

describe("comparing", () => {
  law(
    "a book with itself finds nothing",
    fc.property(books({ points: 300 }), (one) => {
      const { models: _, ...found } = compare(model(one), model(one));
      expect(found).toEqual({
        different: false,
        changes: [],
        ground: [],
        conditions: [],
        picks: [],
        patterns: [],
        words: [],
        undecided: [],
      });
    }),
  );

  law(
    "an edited book finds exactly the points that answer otherwise",
    fc.property(books({ points: 200 }), wordDamages(3), (one, damages) => {
      const edited = { ...one.texts, [one.root]: damaged(one.texts[one.root]!, damages) };
      const { model: now, faults } = read(edited, one.root);
      if (faults.length === 0) holdsFor(model(one), now);
    }),
    2 * runs,
  );

  law(
    "a book without one of its statements, which alone is the cause",
    fc.property(books({ points: 200, layered: false, patterns: 6 }), fc.nat(997), (one, which) => {
      const statements = one.texts[one.root]!.split(/\n(?=\S)/);
      const at = which % statements.length;
      const { model: now, faults } = read({ [one.root]: statements.filter((_, i) => i !== at).join("\n") }, one.root);
      if (faults.length > 0) return;
      const { changes, patterns } = holdsFor(model(one), now);
      const [, title] = /^pattern "(.*)"/.exec(statements[at]!) ?? [];
      if (title !== undefined) expect(patterns).toMatchObject([{ title, change: "removed" }]);
      for (const { causes } of changes)
        if (title !== undefined) expect(causes).toEqual([{ kind: "pattern", title, change: "removed" }]);
        else
          expect(
            causes.map((cause) =>
              cause.kind === "statement" ? statements[at]!.replace("only when", "").includes(cause.statement) : cause,
            ),
          ).toEqual(causes.map(() => true));
    }),
    runs,
  );

  law(
    "two unlike books",
    fc.property(
      books({ points: 24, conditions: 2, picks: 3, patterns: 6 }),
      books({ points: 24, conditions: 2, picks: 3, patterns: 6 }),
      (one, other) => void holdsFor(model(one), model(other)),
    ),
  );

  const declared = (condition: string, test: string): Model =>
    read(
      {
        "book.lore": `book "Two"
${condition}
condition sky: bright, dark
pick blade: round, leaf, long
pattern "One" go with blade leaf when ${test}
pattern "Two" go with blade long when sky is dark and ${test}
fall back on blade round
`,
      },
      "book.lore",
    ).model;

  test.each([
    [
      "a level renamed",
      "condition c: in order clear, murky, muddy",
      "c is murky",
      "condition c: in order clear, dirty, muddy",
      "c is dirty",
    ],
    ["a level added", "condition c: in order clear, muddy", "c is muddy", "condition c: in order clear, stained, muddy", "c is not clear"],
    [
      "levels in another order",
      "condition c: in order clear, stained, muddy",
      "c from clear to stained",
      "condition c: in order stained, clear, muddy",
      "c from clear to muddy",
    ],
    [
      "a wider range",
      "condition c: 40 to 60 °F, to the nearest 1 °F",
      "c from 41 °F to 45 °F",
      "condition c: 38 to 62 °F, to the nearest 1 °F",
      "c from 42 °F to 45 °F",
    ],
    [
      "other steps",
      "condition c: 40 to 50 °F, to the nearest 1 °F",
      "c from 44 °F to 50 °F",
      "condition c: 40 to 50 °F, to the nearest 2 °F",
      "c from 44 °F to 50 °F",
    ],
    [
      "steps, and none",
      "condition c: 40 to 50 °F, to the nearest 1 °F",
      "c from 44 °F to 46 °F",
      "condition c: 40 to 50 °F",
      "c from 44 °F to 46 °F",
    ],
    [
      "another unit",
      "condition c: 0 to 30 °C, to the nearest 5 °C",
      "c from 10 °C to 20 °C",
      "condition c: 32 to 86 °F, to the nearest 9 °F",
      "c from 50 °F to 59 °F",
    ],
    ["another unit, in no steps", "condition c: 0 to 3 m", "c from 1 m to 2 m", "condition c: 0 to 10 ft", "c from 3 ft to 6 ft"],
    ["other limits", "condition c: 0 to 40 ft", "c from 1 ft to 10 ft", "condition c: 0 to 40 ft", "c from 1 ft to 12 1/2 ft"],
    ["a member more", "condition c: any of grass, docks", "c only grass", "condition c: any of grass, rock, docks", "c only grass"],
    [
      "a member renamed, at least one",
      "condition c: any of grass, docks, at least one",
      "c has no grass",
      "condition c: any of weed, docks, at least one",
      "c has no weed",
    ],
    ["another kind", "condition c: in order low, high", "c is low", "condition c: 0 to 10 ft", "c from 2 ft to 3 ft"],
    ["none at all", "condition c: in order low, high", "c is low", "condition d: 0 to 10 ft", "d from 2 ft to 3 ft"],
  ])("%s", (_, first, wasWhen, second, nowWhen) => {
    const [old, now] = [declared(first, wasWhen), declared(second, nowWhen)];
    const before = compared;
    holdsFor(old, now);
    holdsFor(now, old);
    expect(compared).toBe(before + 2);
  });

  test("has been tried", () => {
    expect(compared).toBeGreaterThan(runs);
    expect(differing).toBeGreaterThan(runs / 2);
  });
});
