/**
 * Pictures, on the books that ship: every cell says what `answer` says in its box and what direct evaluation says at its points, and
 * the parts of a side are all there is.
 */
import { readFileSync } from "node:fs";
import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Box } from "../../src/analysis/diagrams/diagram.js";
import type { Outcome, Point } from "../../src/analysis/outcome.js";
import { answersAt } from "../../src/analysis/point.js";
import { count, full, holds as holdsAt, positions, run, union, type Span } from "../../src/model/span.js";
import { hatches, hues, marksOf } from "../../src/publish/marks.js";
import {
  joined,
  pictureOf,
  rectanglesOf,
  withoutConditions,
  type Cell,
  type PicturePart,
  type Picture,
} from "../../src/publish/picture.js";
import { givenOf } from "../../src/answer/given.js";
import { closedAt, isShut } from "../../src/answer/closed.js";
import type { Model } from "../../src/model/model.js";
import { answer, whyImpossible } from "../../src/answer/answer.js";
import { readBooks, readShipped, shipped, type Read } from "./shelf.js";

const runs = Number(process.env["LAW_RUNS"] ?? 12);
const outcomeWords = ({ status, places }: Outcome): string => `${status} ${places.map(String).join(" > ")}`;
const possibleWords = (possible: Cell["possible"]): string =>
  possible
    .map(({ outcome, share }) => `${outcomeWords(outcome)}: ${share.toFraction()}`)
    .sort()
    .join("\n");

function isShutAt(model: Model, pick: number, point: Point): boolean {
  const all = answersAt(model, point);
  return closedAt(model, point, (index) => all[index]!.outcome).length > 0 && isShut(model.picks[pick]!, all[pick]!.outcome);
}

interface Drawn extends Read {
  readonly pick: number;
  readonly held: Box;
  readonly picture: Picture;
  /** An endless row of numbers from 0 up to, not including, `below`. */
  dice(below: number): number;
}

/** Pictures of random picks over two or three random conditions, some others known. */
function law(name: string, holds: (drawn: Drawn) => void): void {
  test.each(shipped)(`${name}: %s`, { timeout: 120_000 }, (path) => {
    const book = readShipped(path);
    const { model } = book;
    const picks = model.picks.filter(({ index }) => book.answers.picks[index]);
    fc.assert(
      fc.property(fc.nat(9999), fc.integer({ min: 1, max: 2 ** 30 }), (pick, seed) => {
        let state = seed;
        const dice = (below: number): number => (state = (Math.imul(state, 1_103_515_245) + 12_345) >>> 0) % below;
        const chosen = picks[pick % picks.length]!.index;
        // Conditions that matter to the pick come up more often than others.
        const joint = book.sourceOf(chosen).joint;
        const order = [...model.conditions]
          .map((condition) => ({
            condition,
            key: dice(1000) - (condition.axes.some((axis) => joint.node.support.includes(axis)) ? 800 : 0),
          }))
          .sort((a, b) => a.key - b.key)
          .map(({ condition }) => condition.index);
        const known = new Map<number, Span>();
        for (const { index, condition, size } of model.axes)
          if (condition % 3 === seed % 3) known.set(index, ((position) => run(position, position))(dice(size)));
        const by = seed % 2 === 0 ? order[2]! : undefined;
        const sides = [order[0]!, order[1]!, ...(by === undefined ? [] : [by])];
        const held = withoutConditions(model, known, sides);
        holds({
          ...book,
          pick: chosen,
          held,
          dice,
          picture: pictureOf(book.sourceOf(chosen), { down: order[0]!, across: order[1]!, by, known }),
        });
      }),
      { numRuns: runs, seed: 20_270_415 },
    );
  });
}

function cellsOf({ picture, held }: Pick<Drawn, "picture" | "held">): readonly { readonly cell: Cell; readonly boxes: readonly Box[] }[] {
  return picture.frames.flatMap(({ part, cells }) =>
    cells.flatMap((row, y) =>
      row.map((cell, x) => {
        const parts = [picture.down.parts[y]!, picture.across.parts[x]!, ...(part ? [part] : [])];
        return {
          cell,
          boxes: parts.reduce<readonly Box[]>(
            (all, { boxes }) => all.flatMap((box) => boxes.map((more) => joined(box, { boxes: [more] }))),
            [held],
          ),
        };
      }),
    ),
  );
}

describe("a picture's cells", () => {
  law("say what `answer` says in each of their boxes", ({ model, answers, pick, picture, held, dice }) => {
    const cells = cellsOf({ picture, held });
    for (let i = 0; i < 4; i++) {
      const { cell, boxes } = cells[dice(cells.length)]!;
      const box = boxes[dice(boxes.length)]!;
      const answered = answer(model, givenOf(model, box), () => answers);
      // Where all is closed there is nothing to show, as where nothing is possible.
      const isNothing = "problem" in answered || answered.picks[pick]!.shut === true;
      expect(isNothing).toBe(cell.possible.length === 0);
      if ("problem" in answered || isNothing) continue;
      expect(possibleWords(cell.possible)).toBe(possibleWords(answered.picks[pick]!.possible));
      expect(cell.safe).toEqual(answered.picks[pick]!.safe);
    }
  });

  law("hold what direct evaluation says at their points", ({ model, pick, picture, held, dice }) => {
    for (const { cell, boxes } of cellsOf({ picture, held }).slice(0, 60)) {
      for (const box of boxes.slice(0, 6)) {
        const point: Point = model.axes.map(({ index, size }) => {
          const all = [...positions(box.get(index) ?? full(size))];
          return all[dice(all.length)]!;
        });
        if (whyImpossible(model, point) !== undefined || isShutAt(model, pick, point)) continue;
        const said = outcomeWords(answersAt(model, point)[pick]!.outcome);
        expect(cell.possible.map(({ outcome }) => outcomeWords(outcome))).toContain(said);
      }
    }
  });

  law("share out everything that is possible, front by front", (drawn) => {
    for (const { cell } of cellsOf(drawn)) {
      if (cell.possible.length === 0) continue;
      const sum = cell.fronts.map(({ share }) => share).reduce((total, share) => total.add(share));
      expect(sum.toFraction()).toBe("1");
      for (const options of cell.fronts.map((front) => front.options))
        expect(cell.fronts.filter((front) => String(front.options) === String(options) && options.length > 0).length).toBeLessThan(2);
    }
  });
});

describe("a picture's sides", () => {
  law("have a part for every value that can be, and only one", ({ model, answers, picture, held }) => {
    for (const { condition, parts, exact } of [picture.down, picture.across]) {
      const { axes, domain } = model.conditions[condition]!;
      if (domain.kind === "set") {
        if (exact) expect(subsetsOf(axes, parts).filter((holding) => holding > 1)).toEqual([]);
        continue;
      }
      const spans = parts.map(({ boxes }) => boxes[0]!.get(axes[0]!)!);
      const size = model.axes[axes[0]!]!.size;
      const covered = spans.reduce(union, []);
      expect(spans.reduce((sum, span) => sum + count(span), 0)).toBe(count(covered));
      for (const position of positions(full(size))) {
        if (holdsAt(covered, position)) continue;
        const box = new Map([...held, [axes[0]!, run(position, position)] as const]);
        const answered = answer(model, givenOf(model, box), () => answers);
        expect("problem" in answered || answered.shut).toBe(true);
      }
    }
  });

  test("a set's parts are the subsets that answers tell apart, fewest members first", () => {
    const { model, sourceOf } = readShipped("blades.lore");
    const [clarity, cover] = ["clarity", "cover"].map((name) => model.conditions.find((one) => one.name === name)!.index);
    const { down, frames } = pictureOf(sourceOf(model.picks.findIndex(({ name }) => name === "blade")), { down: cover!, across: clarity! });
    // None; hard, no soft; soft, no hard; both: 1 + 3 + 3 + 9 of the 16 subsets of grass, pads, wood, docks, counted by hand.
    expect(down.exact).toBe(true);
    expect(down.parts.map(({ boxes }) => boxes.reduce((sum, box) => sum + 2 ** (4 - box.size), 0))).toEqual([1, 3, 3, 9]);
    // Soft and hard together: the teardrop, which both have second, whatever the clarity.
    expect(frames[0]!.cells[3]!.map((cell) => cell.possible.map(({ outcome }) => outcomeWords(outcome)))).toEqual(
      Array.from({ length: 5 }, () => ["decided 1"]),
    );
  });

  test("a limit that a pattern writes cuts a measure, and so does a band", () => {
    const { sourceOf } = readBooks(
      {
        "pond.lore": `book "Pond"
condition depth "Depth": 0 to 40 ft
  rising is deeper, falling is shallower
condition sky "Sky": in order bright, dark
  rising is darker, falling is brighter
band depth: near below 10 ft, far
pick bait "Bait": worm, jig
pattern "Deep"
  go with bait jig
  when depth is deeper than 20 ft and sky is dark
fall back on bait worm
`,
      },
      "pond.lore",
    );
    const { across, frames } = pictureOf(sourceOf(0), { down: 1, across: 0 });
    // Limits 0, 10, 20, 40 ft at positions 0, 2, 4, 6.
    expect(across.parts.map(({ boxes, band }) => [boxes[0]!.get(0), band])).toEqual([
      [[0, 1], 0],
      [[2, 4], 1],
      [[5, 6], 1],
    ]);
    expect(frames[0]!.cells.map((row) => row.map(({ fronts }) => fronts.map(({ options }) => options[0]!)))).toEqual([
      [[0], [0], [0]],
      [[0], [0], [1]],
    ]);
    expect(rectanglesOf(frames[0]!.cells, ({ fronts }) => String(fronts[0]!.options))).toEqual([
      { top: 0, bottom: 0, left: 0, right: 2 },
      { top: 1, bottom: 1, left: 0, right: 1 },
      { top: 1, bottom: 1, left: 2, right: 2 },
    ]);
  });
});

/** Of every subset: how many parts hold it. */
function subsetsOf(axes: readonly number[], parts: readonly PicturePart[]): readonly number[] {
  return Array.from(
    { length: 2 ** axes.length },
    (_, subset) =>
      parts.filter(({ boxes }) =>
        boxes.some((box) => axes.every((axis, bit) => !box.has(axis) || box.get(axis)![0] === ((subset >> bit) & 1))),
      ).length,
  );
}

describe("rectangles", () => {
  test("hold every cell once, each of one key, on any grid", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 7 }),
        fc.array(fc.array(fc.nat(2), { minLength: 7, maxLength: 7 }), { minLength: 1, maxLength: 6 }),
        (width, wide) => {
          const grid = wide.map((row) => row.slice(0, width));
          const covered = grid.map((row) => row.map(() => 0));
          for (const { top, bottom, left, right } of rectanglesOf(grid, String)) {
            for (let y = top; y <= bottom; y++)
              for (let x = left; x <= right; x++) {
                covered[y]![x]!++;
                expect(grid[y]![x]).toBe(grid[top]![left]);
              }
          }
          expect(covered.flat().every((times) => times === 1)).toBe(true);
        },
      ),
    );
  });
});

describe("marks", () => {
  test("no two options of a book that ships have one sign, or one color and hatch", () => {
    for (const path of shipped)
      for (const { options } of readShipped(path).model.picks) {
        const marks = marksOf(options.map(({ text }) => text));
        expect(new Set(marks.map(({ sign }) => sign)).size).toBe(options.length);
        if (options.length <= hues * hatches) expect(new Set(marks.map(({ hue, hatch }) => `${hue} ${hatch}`)).size).toBe(options.length);
      }
  });

  test("are short", () => {
    expect(marksOf(["round", "teardrop", "leaf"]).map(({ sign }) => sign)).toEqual(["R", "T", "L"]);
    expect(marksOf(["spoon", "small-jig", "spinnerbait"]).map(({ sign }) => sign)).toEqual(["S", "SJ", "SP"]);
    expect(marksOf(["1/4 oz", "1 oz", "1 1/2 oz"]).map(({ sign }) => sign)).toEqual(["1/4", "1", "1 1/2"]);
    expect(marksOf(["worm", "worm-2", "wörm", "w"]).map(({ sign }) => sign)).toEqual(["W", "W2", "WÖ", "WW"].slice(0, 3).concat("W3"));
  });

  test("have each its color on a light page, on a dark one and on paper, where it is that of a light one", () => {
    expect(pages.map(({ fills }) => fills.length)).toEqual([hues, hues]);
    expect(fillsIn(style("print.css"))).toEqual(pages[0]!.fills);
  });

  // WCAG 2.2, success criterion 1.4.3: at least 4.5 to 1 for text of any size.
  test("can be read on their colors", () => {
    for (const { ink, fills } of pages) for (const fill of fills) expect(contrast(fill, ink)).toBeGreaterThanOrEqual(4.5);
  });

  // Matrices for a missing cone (severity 1.0): Machado, Oliveira and Fernandes 2009, table 1. A difference of 0.02 in OKLab is about what can just be seen (Ottosson 2020).
  test("differ in color to an eye that lacks one kind of cone, too", () => {
    for (const { fills } of pages)
      for (const eye of Object.values(eyes)) {
        const seen = fills.map((fill) => okLab(eye.map((row) => row.reduce((sum, factor, i) => sum + factor * linear(fill)[i]!, 0))));
        seen.forEach((one, i) =>
          seen.slice(i + 1).forEach((other) => expect(Math.hypot(...one.map((value, k) => value - other[k]!))).toBeGreaterThan(0.08)),
        );
      }
  });
});

/** The colors of `charts.css`, on a light page and on a dark one. */
const pages = style("charts.css")
  .split("@media screen and (prefers-color-scheme: dark)")
  .map((text) => ({ ink: /--chart-ink: (#\w+)/.exec(text)![1]!, fills: fillsIn(text) }));

function style(name: string): string {
  return readFileSync(new URL(`../../src/publish/page/${name}`, import.meta.url), "utf8");
}

/** In the order of their numbers. */
function fillsIn(text: string): readonly string[] {
  const fills = [...text.matchAll(/\[data-hue="(\d)"\] \{\s*--fill: (#\w+);/g)];
  expect(fills.map(([, hue]) => Number(hue))).toEqual(fills.map((_, i) => i));
  return fills.map(([, , fill]) => fill!);
}

const eyes: Readonly<Record<string, readonly (readonly number[])[]>> = {
  usual: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritanopia: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

function linear(color: string): readonly number[] {
  return [1, 3, 5]
    .map((at) => parseInt(color.slice(at, at + 2), 16) / 255)
    .map((value) => (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4));
}

function contrast(a: string, b: string): number {
  const [low, high] = [a, b]
    .map((color) => linear(color))
    .map(([r, g, b]) => 0.2126 * r! + 0.7152 * g! + 0.0722 * b! + 0.05)
    .sort((x, y) => x - y);
  return high! / low!;
}

/** Ottosson, "A perceptual color space for image processing", 2020. */
function okLab(color: readonly number[]): readonly number[] {
  const [r, g, b] = color.map((value) => Math.max(0, value)) as [number, number, number];
  const l = Math.cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const m = Math.cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const s = Math.cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return [
    0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s,
    1.9779984951 * l - 2.428592205 * m + 0.4505937099 * s,
    0.0259040371 * l + 0.7827717662 * m - 0.808675766 * s,
  ];
}
