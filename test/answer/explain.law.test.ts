/** Explanations on random small books: what they say of a point is so. */
import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { toTheEnd } from "../../src/analysis/budget.js";
import type { Condition, Model, Pick } from "../../src/model/model.js";
import { readValue } from "../../src/model/points.js";
import { explaining, type Explanation } from "../../src/answer/explain.js";
import { explanationText } from "../../src/render/explain-text.js";
import { widthOf } from "../../src/render/columns.js";
import { books } from "../law/books.js";
import { evaluate, oracle, type Answer } from "../law/oracle.js";
import { isPossible, outcomeInWords, possiblePoints } from "../law/points.js";
import { read } from "../law/reading.js";

const runs = Number(process.env["LAW_RUNS"] ?? 40);
const seed = process.env["LAW_SEED"] === undefined ? undefined : Number(process.env["LAW_SEED"]);

interface Explained {
  readonly model: Model;
  readonly point: readonly number[];
  readonly answers: readonly Answer[];
  readonly explanation: Explanation;
}

/** Random books, a few possible points of each. */
function law(name: string, holds: (explained: Explained) => void): void {
  test(name, { timeout: 240_000 }, () => {
    fc.assert(
      fc.property(books({ points: 200 }), fc.array(fc.nat(9999), { minLength: 3, maxLength: 3 }), (texts, dice) => {
        const { model } = read(texts.texts, texts.root);
        const points = [...possiblePoints(model)];
        for (const die of points.length === 0 ? [] : dice) {
          const { point } = points[die % points.length]!;
          holds({ model, point, answers: oracle(model, point), explanation: toTheEnd(explaining(model, point)) });
        }
      }),
      { numRuns: runs, ...(seed === undefined ? {} : { seed }) },
    );
  });
}

/** As `outcomeInWords` says it, options of one place in the pick's order. */
function inWords({ options }: Pick, status: string, answer: readonly (readonly string[])[]): string {
  const order = options.map(({ text }) => text);
  const list = answer.map((place) => [...place].sort((a, b) => order.indexOf(a) - order.indexOf(b)).join(" or ")).join(", then ");
  return list === "" ? status : `${status}: ${list}`;
}

describe("an explanation", () => {
  law("names the answer, every pattern that speaks, and those that stand", ({ model, point, answers, explanation }) => {
    explanation.picks.forEach(({ status, answer, patterns, from, circle }, index) => {
      expect(inWords(model.picks[index]!, status, answer)).toBe(outcomeInWords(model, index, answers[index]!.outcome));
      // Where leans give the list, or there is a circle, the oracle calls those that take part standing.
      if (from !== "lean" && circle.length === 0)
        expect(patterns.filter(({ stands }) => stands).map(({ pattern }) => pattern)).toEqual(
          answers[index]!.standing.map((at) => model.patterns[at]!.title),
        );
      if (status === "not applicable") return;
      const speaking = model.patterns
        .filter((pattern) =>
          [pattern.goes, pattern.leans, pattern.nevers, pattern.moves].some((parts) => parts.some(({ pick }) => pick === index)),
        )
        .filter(
          ({ when }) =>
            when === undefined ||
            evaluate(
              when,
              point,
              answers.map(({ outcome }) => outcome),
            ).truth === "holds",
        );
      expect(patterns.map(({ pattern }) => pattern)).toEqual(speaking.map(({ title }) => title));
    });
  });

  law("says truly which rule a pattern yields by", ({ model, explanation }) => {
    const byTitle = new Map(model.patterns.map((pattern) => [pattern.title, pattern]));
    for (const { patterns, pick } of explanation.picks)
      for (const { pattern, yields, stands } of patterns) {
        if (!yields) continue;
        expect(stands).toBe(false);
        const [loser, winner] = [byTitle.get(pattern)!, byTitle.get(yields.to)!];
        if (yields.by === "beats") expect(winner.beats.map((beaten) => beaten.pattern)).toContain(loser.index);
        if (yields.by === "more local") expect(model.moreLocal(winner.book, loser.book)).toBe(true);
        if (yields.by !== "trust") continue;
        const trust = model.picks
          .find(({ name }) => name === pick)!
          .trust.map(({ kind, index }) => (kind === "condition" ? model.conditions : model.picks)[index]!.name);
        expect(trust).toContain(yields.other);
        expect(yields.own === undefined || trust.indexOf(yields.own) > trust.indexOf(yields.other!)).toBe(true);
      }
  });

  law("gives for every other option a reason that holds", ({ model, explanation }) => {
    explanation.picks.forEach(({ answer, others, patterns, totals }, index) => {
      const { options } = model.picks[index]!;
      expect(others.map(({ option }) => option)).toEqual(
        answer.length === 0 ? [] : options.map(({ text }) => text).filter((text) => !answer[0]!.includes(text)),
      );
      const saying = (titles: readonly string[]) => patterns.filter(({ pattern }) => titles.includes(pattern));
      for (const other of others) {
        if (other.why === "later") expect(answer[other.place - 1]).toContain(other.option);
        else expect(answer.flat()).not.toContain(other.option);
        if (other.why === "ruled out") for (const pattern of saying(other.patterns)) expect(pattern.nevers).toContain(other.option);
        if (other.why === "moved") for (const pattern of saying(other.patterns)) expect(pattern.move).not.toBe(0);
        if (other.why === "yields")
          for (const pattern of saying(other.patterns))
            expect([pattern.goes?.flat().includes(other.option), pattern.yields !== undefined]).toEqual([true, true]);
        if (other.why === "silent") for (const pattern of saying(other.patterns)) expect(pattern.silent).toBe(true);
        if (other.why === "not in every list")
          for (const pattern of saying(other.patterns))
            expect([pattern.stands, pattern.goes!.flat().includes(other.option)]).toEqual([true, false]);
        if (other.why === "only leaned to" || other.why === "leaned to less")
          expect(totals.find(({ option }) => option === other.option)?.total).toBe(other.total);
        if (other.why === "nothing speaks for it") expect(patterns.filter(({ goes }) => goes?.flat().includes(other.option))).toEqual([]);
      }
    });
  });

  law(
    "names the nearest change of each condition that changes the answer, and what it would be then",
    ({ model, point, answers, explanation }) => {
      explanation.picks.forEach(({ changes }, index) => {
        const now = outcomeInWords(model, index, answers[index]!.outcome);
        for (const condition of model.conditions) {
          const saidAt = (other: readonly number[]): string =>
            isPossible(model, other) ? outcomeInWords(model, index, oracle(model, other)[index]!.outcome) : now;
          const change = changes.find((one) => one.condition === condition.name);
          const values = valuesOf(model, condition, point).filter(({ distance }) => condition.domain.kind !== "set" || distance <= 2);
          // Without a change every value would have to be tried; of long cycles some are.
          if (!change)
            expect(
              new Set(values.filter((_, i) => values.length < 50 || i % 7 === 0).map(({ point }) => saidAt(point))),
              condition.name,
            ).toEqual(new Set([now]));
          if (!change) continue;
          const reading = readValue(condition, model.axes, typeof change.to === "string" ? change.to : change.to.join(";") || "none");
          if ("problem" in reading) throw new Error(reading.problem);
          const changed = point.map((position, axis) => reading.positions.find((at) => at.axis === axis)?.position ?? position);
          expect(outcomeInWords(model, index, oracle(model, changed)[index]!.outcome)).toBe(
            inWords(model.picks[index]!, change.status, change.answer),
          );
          const found = distanceOf(model, condition, point, changed);
          for (const nearer of values) if (nearer.distance < found) expect(saidAt(nearer.point)).toBe(now);
        }
      });
    },
  );

  law("reads in lines of 80 columns", ({ explanation }) => {
    const text = explanationText(explanation);
    expect(text).not.toMatch(/undefined|\[object/);
    for (const line of text.split("\n")) expect(widthOf(line)).toBeLessThanOrEqual(80);
  });
});

/** The point with every value a condition can have. */
function valuesOf(
  model: Model,
  condition: Condition,
  point: readonly number[],
): readonly { readonly point: readonly number[]; readonly distance: number }[] {
  const variants = condition.axes.reduce<readonly (readonly number[])[]>(
    (some, axis) =>
      some.flatMap((one) =>
        Array.from({ length: model.axes[axis]!.size }, (_, position) => one.map((old, at) => (at === axis ? position : old))),
      ),
    [point],
  );
  return variants.map((other) => ({ point: other, distance: distanceOf(model, condition, point, other) }));
}

function distanceOf(model: Model, { axes, domain }: Condition, a: readonly number[], b: readonly number[]): number {
  if (domain.kind === "set") return axes.filter((axis) => a[axis] !== b[axis]).length;
  const { cyclic, size } = model.axes[axes[0]!]!;
  const straight = Math.abs(a[axes[0]!]! - b[axes[0]!]!);
  return cyclic ? Math.min(straight, size - straight) : straight;
}
