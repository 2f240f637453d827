/**
 * Answers with unknown conditions, on random small books, against going through every possible point: what is possible with which
 * share, what is safe, which question to ask, which cautions to show.
 */
import { Ajv2020 } from "ajv/dist/2020.js";
import * as fc from "fast-check";
import Fraction from "fraction.js";
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { answers } from "../../src/analysis/answers.js";
import type { Model } from "../../src/model/model.js";
import { exampleOf } from "../../src/model/points.js";
import { holds as holdsAt, run, union, type Span } from "../../src/model/span.js";
import { givenOf, pinned, readGiven, type Given } from "../../src/answer/given.js";
import { answersJson } from "../../src/render/json.js";
import { answer, type Answered } from "../../src/answer/answer.js";
import { books, thinBooks, type Sizes } from "../law/books.js";
import { evaluate, isClosed, isOpenTo, oracle, type Answer } from "../law/oracle.js";
import { canonical, pointInWords, possiblePoints, weighed, type Weighed } from "../law/points.js";
import { read } from "../law/reading.js";

const runs = Number(process.env["LAW_RUNS"] ?? 60);
const seed = process.env["LAW_SEED"] === undefined ? undefined : Number(process.env["LAW_SEED"]);

interface Asked {
  readonly model: Model;
  readonly given: Given;
  /** Position per axis; undefined: unknown, or only partly known. */
  readonly fixed: readonly (number | undefined)[];
  readonly result: Answered | { readonly problem: string };
  readonly points: readonly (Weighed & { readonly answers: readonly Answer[] })[];
}

/** Random books, a few questions each: every condition is known, partly known or not by the dice, its value that of a random point, possible or not. */
function law(name: string, holds: (asked: Asked) => void, { numRuns = runs, ...sizes }: Sizes & { readonly numRuns?: number } = {}): void {
  test(name, { timeout: 240_000 }, () => {
    const dice = fc.array(
      fc.record({ values: fc.array(fc.nat(9999), { minLength: 16, maxLength: 16 }), known: fc.nat(4095), wide: fc.nat(4095) }),
      { minLength: 4, maxLength: 4 },
    );
    fc.assert(
      fc.property(fc.oneof(books({ points: 300, ...sizes }), thinBooks({ points: 300, ...sizes })), dice, (texts, questions) => {
        const { model } = read(texts.texts, texts.root);
        const found = answers(model, { steps: 400_000 });
        for (const { values, known, wide } of questions) {
          // Of a set everything is known or nothing; anything else may lie in two stretches, as where two bands were named.
          const stretches = model.axes.map(({ condition, member, size, index }): Span | undefined => {
            const at = (i: number): number => values[(index + i) % 16]! % size;
            if (!((known >> condition) & 1)) return undefined;
            return member === undefined && (wide >> condition) & 1
              ? union(run(Math.min(at(0), at(1)), Math.max(at(0), at(1))), run(at(2), at(2)))
              : run(at(0), at(0));
          });
          const box = new Map(stretches.flatMap((span, axis) => (span ? [[axis, span] as const] : [])));
          const fixed = model.axes.map(({ index }) => pinned(box, index));
          const given = givenOf(model, box);
          const agrees = ({ point }: Weighed): boolean =>
            point.every((position, axis) => holdsAt(box.get(axis) ?? [position, position], position));
          const left = possiblePoints(model, fixed).filter(agrees);
          const points = weighed(
            model,
            left.map(({ point }) => point),
          ).map((one) => ({ ...one, answers: oracle(model, one.point) }));
          holds({ model, given, fixed, points, result: answer(model, given, () => found) });
        }
      }),
      { numRuns, ...(seed === undefined ? {} : { seed }) },
    );
  });
}

function answered({ result }: Asked): Answered {
  if ("problem" in result) throw new Error(result.problem);
  return result;
}

/** The points that a pick is told of: those that are open to it, if any is. */
function toldOf({ model, points }: Asked, pick: number): Asked["points"] {
  const open = points.filter(({ point, answers }) => isOpenTo(model, model.picks[pick]!, point, answers));
  if (open.length === 0 || open.length === points.length) return points;
  const weights = weighed(
    model,
    open.map(({ point }) => point),
  );
  return open.map((one, i) => ({ ...one, weight: weights[i]!.weight }));
}

const words = (outcome: Answer["outcome"]): string => JSON.stringify(canonical(outcome));

describe("an answer with unknown conditions", () => {
  law("is refused exactly where no possible point is left", ({ result, points }) => {
    expect("problem" in result).toBe(points.length === 0);
  });

  law("lists every outcome that is left, each with its exact share, and what is safe", (asked) => {
    const { model, points: all } = asked;
    if (all.length === 0) return;
    answered(asked).picks.forEach(({ pick, safe, possible, outcome }) => {
      const points = toldOf(asked, pick);
      const worst = (pick: number, option: number): number =>
        Math.max(
          ...points.map(({ answers }) => {
            const place = answers[pick]!.outcome.places.findIndex((some) => some.includes(option));
            return place < 0 ? Infinity : place;
          }),
        );
      const total = points.reduce((sum, { weight }) => sum + weight, 0n);
      const expected = groupBy(
        model.picks[pick]!.options.map((_, option) => option).filter((option) => worst(pick, option) < Infinity),
        (option) => String(worst(pick, option)),
      );
      expect(safe.map((place) => [...place].sort((a, b) => a - b))).toEqual(
        [...expected].sort(([a], [b]) => Number(a) - Number(b)).map(([, options]) => options),
      );
      const shares = new Map<string, bigint>();
      for (const { answers, weight } of points)
        shares.set(words(answers[pick]!.outcome), (shares.get(words(answers[pick]!.outcome)) ?? 0n) + weight);
      expect(new Set(possible.map(({ outcome }) => words(outcome)))).toEqual(new Set(shares.keys()));
      expect(possible.reduce((sum, { share }) => sum.add(share), new Fraction(0)).toFraction()).toBe("1");
      for (const { outcome, share } of possible)
        expect(share.toFraction()).toBe(new Fraction(shares.get(words(outcome))!, total).toFraction());
      expect(outcome && words(outcome)).toBe(shares.size === 1 ? [...shares.keys()][0] : undefined);
    });
  });

  let closings = 0;
  law(
    "asks what can change something, and of that what settles most",
    (asked) => {
      const { model, given, points } = asked;
      if (points.length === 0) return;
      const { ask } = answered(asked);
      const shut = points.filter(({ point, answers }) => isClosed(model, point, answers)).length;
      if (shut === points.length) {
        expect(ask).toBe(undefined);
        return;
      }
      // Whether it is closed is asked first, as an answer of a pick would be.
      const questions =
        shut > 0
          ? [({ point, answers }: Asked["points"][number]) => String(isClosed(model, point, answers))]
          : model.picks
              .filter(({ judgement }) => !judgement)
              .map(
                ({ index }) =>
                  ({ answers }: Asked["points"][number]) =>
                    words(answers[index]!.outcome),
              );
      const open = questions.filter((keyOf) => new Set(points.map(keyOf)).size > 1);
      if (shut > 0) closings++;
      if (ask === undefined) {
        expect(open).toEqual([]);
        return;
      }
      expect(given.unknown).toContain(ask);
      const weights = model.axes.map(({ index, weights }) => (pinned(given.box, index) === undefined ? weights : undefined));
      const weigh = ({ point }: Weighed): bigint =>
        point.reduce((product, position, axis) => product * (weights[axis]?.[position] ?? 1n), 1n);
      const total = points.reduce((sum, point) => sum + weigh(point), 0n);
      if (total === 0n) return;
      // By plain counting: the points after each reply, pick by pick.
      const worth = (condition: number): readonly [settled: Fraction, agreement: Fraction] => {
        let settled = new Fraction(0);
        let agreement = new Fraction(0);
        for (const keyOf of open) {
          const replies = groupBy(points, ({ point }) => model.conditions[condition]!.axes.map((axis) => point[axis]).join());
          for (const reply of replies.values()) {
            const weight = reply.reduce((sum, point) => sum + weigh(point), 0n);
            if (weight === 0n) continue;
            const outcomes = [...groupBy(reply, keyOf).values()].map((some) => some.reduce((sum, point) => sum + weigh(point), 0n));
            if (outcomes.length === 1) settled = settled.add(new Fraction(weight, total));
            agreement = agreement.add(
              new Fraction(
                outcomes.reduce((sum, one) => sum + one * one, 0n),
                weight * total,
              ),
            );
          }
        }
        return [settled, agreement];
      };
      const before = open.reduce(
        (sum, keyOf) =>
          sum.add(
            new Fraction(
              [...groupBy(points, keyOf).values()].reduce(
                (squares, some) => squares + some.reduce((inner, point) => inner + weigh(point), 0n) ** 2n,
                0n,
              ),
              total * total,
            ),
          ),
        new Fraction(0),
      );
      const [settled, agreement] = worth(ask);
      // 0: the customer tells it; 1: anyone can tell, but the tool mostly knows; 2: only the tool can work it out.
      const group = (condition: number): number =>
        ({ date: 1, clock: 1, sun: 2, moon: 2, none: 0 })[model.conditions[condition]!.filledFrom ?? "none"];
      const earlier = (a: number, b: number): boolean => group(a) < group(b) || (group(a) === group(b) && a < b);
      for (const other of given.unknown) {
        if (other === ask || (group(other) === 2) !== (group(ask) === 2)) continue;
        const [otherSettled, otherAgreement] = worth(other);
        const order = otherAgreement.compare(agreement) || otherSettled.compare(settled);
        expect(order < 0 || (order === 0 && (earlier(ask, other) || otherAgreement.equals(before)))).toBe(true);
      }
      const gains = agreement.compare(before) > 0;
      const changes = points.some((a) =>
        points.some(
          (b) =>
            model.axes.every(({ index, condition }) => condition === ask || a.point[index] === b.point[index]) &&
            open.some((keyOf) => keyOf(a) !== keyOf(b)),
        ),
      );
      expect(gains || changes, "the question could change nothing").toBe(true);
    },
    { points: 120 },
  );

  test("whether it is closed is asked often enough for that to count", () => expect(closings).toBeGreaterThan(10));

  law("says what closes everything, for certain or perhaps, and then nothing of what is shut", (asked) => {
    const { model, points } = asked;
    if (points.length === 0) return;
    const { closed, shut, picks, open, ask } = answered(asked);
    const truths = model.closed.map((silence) => ({
      silence,
      truths: points.map(
        ({ point, answers }) =>
          evaluate(
            silence.when,
            point,
            answers.map(({ outcome }) => outcome),
          ).truth,
      ),
    }));
    expect(closed).toEqual(
      truths.flatMap(({ silence, truths }) =>
        truths.every((truth) => truth === "fails") ? [] : [{ silence, sure: truths.every((truth) => truth === "holds") }],
      ),
    );
    expect(shut).toBe(points.every(({ point, answers }) => isClosed(model, point, answers)));
    if (shut) expect([open, ask]).toEqual([[], undefined]);
    for (const one of picks)
      expect(one.shut === true).toBe(shut && !points.some(({ point, answers }) => isOpenTo(model, model.picks[one.pick]!, point, answers)));
  });

  law("knows which conditions can still change an answer", (asked) => {
    const { model, given, points } = asked;
    if (points.every(({ point, answers }) => isClosed(model, point, answers))) return;
    const changes = (condition: number): boolean => {
      const others = ({ point }: Weighed): string => point.filter((_, axis) => model.axes[axis]!.condition !== condition).join();
      const differ = (some: Asked["points"], keyOf: (one: Asked["points"][number]) => string): boolean =>
        [...groupBy(some, others).values()].some((alike) => new Set(alike.map(keyOf)).size > 1);
      return (
        differ(points, ({ point, answers }) => String(isClosed(model, point, answers))) ||
        model.picks.some(({ index }) => differ(toldOf(asked, index), ({ answers }) => words(answers[index]!.outcome)))
      );
    };
    expect(answered(asked).open).toEqual(given.unknown.filter(changes));
  });

  law("shows every caution that holds, and every one that may", (asked) => {
    const { model, points } = asked;
    if (points.length === 0) return;
    const shown = new Map(answered(asked).cautions.map(({ caution, sure }) => [caution.index, sure]));
    for (const caution of model.cautions) {
      const truths = points.map(({ point, answers }) =>
        caution.when
          ? evaluate(
              caution.when,
              point,
              answers.map(({ outcome }) => outcome),
            ).truth
          : "holds",
      );
      expect(shown.get(caution.index)).toBe(
        truths.every((truth) => truth === "holds") ? true : truths.every((truth) => truth === "fails") ? undefined : false,
      );
    }
  });

  const validate = new Ajv2020({ strict: true, strictRequired: false, allErrors: true }).compile(
    JSON.parse(readFileSync(new URL("../../src/schema/answers.json", import.meta.url), "utf8")) as object,
  );
  law("has a JSON form as its schema says", (asked) => {
    if (asked.points.length === 0) return;
    expect(validate(JSON.parse(JSON.stringify(answersJson(asked.model, [answered(asked)])))) ? [] : validate.errors).toEqual([]);
  });
});

describe("what is given", () => {
  law(
    "is read back as it was printed",
    ({ model, points }) => {
      for (const { point } of points.slice(0, 5)) {
        const example = exampleOf(model, point);
        const reading = readGiven(
          model,
          Object.entries(example).map(([name, value]) => [name, typeof value === "string" ? value : value.join(";") || "none"] as const),
        );
        if ("problems" in reading) throw new Error(JSON.stringify(reading.problems));
        expect(
          model.axes.map(({ index }) => reading.given.box.get(index)?.[0]),
          pointInWords(model, point),
        ).toEqual(point);
        expect(reading.given.values).toEqual(example);
      }
    },
    { numRuns: 50 },
  );
});

function groupBy<T>(list: readonly T[], keyOf: (item: T) => string): ReadonlyMap<string, readonly T[]> {
  const groups = new Map<string, T[]>();
  for (const item of list) groups.set(keyOf(item), [...(groups.get(keyOf(item)) ?? []), item]);
  return groups;
}
