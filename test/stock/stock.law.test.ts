/**
 * Laws of the stock report and of the log, tried on random small books against counting point by point. The counting knows the answers
 * from the oracle alone.
 */
import Fraction from "fraction.js";
import * as fc from "fast-check";
import { expect, test } from "vitest";
import { answers, type Answers } from "../../src/analysis/answers.js";
import { statuses, type Outcome, type Status } from "../../src/analysis/outcome.js";
import type { Model } from "../../src/model/model.js";
import { run } from "../../src/model/span.js";
import { coverageBy, type Log, type LoggedDay, type Often } from "../../src/stock/log.js";
import { stockReport, type Frequency } from "../../src/stock/stock.js";
import type { Item, Stock } from "../../src/stock/rows.js";
import { books, thinBooks } from "../law/books.js";
import { oracle } from "../law/oracle.js";
import { possiblePoints, sharesOf, weighed, type Weighed } from "../law/points.js";
import { read } from "../law/reading.js";
import { fresh } from "./shop.js";

const runs = Number(process.env["LAW_RUNS"] ?? 60);
const zero = new Fraction(0);
const sum = (parts: readonly Fraction[]): Fraction => parts.reduce((all, part) => all.add(part), zero);
const text = (value: Fraction): string => value.toFraction();

interface Known {
  readonly model: Model;
  readonly answers: Answers;
  readonly points: readonly (Weighed & { readonly outcomes: readonly Outcome[] })[];
}

function law(name: string, holds: (known: Known, dice: readonly number[]) => void): void {
  test(name, { timeout: 120_000 }, () => {
    fc.assert(
      fc.property(
        fc.oneof(books({ points: 150 }), thinBooks({ points: 150 })),
        fc.array(fc.nat(997), { minLength: 40, maxLength: 40 }),
        (book, dice) => {
          const { model } = read(book.texts, book.root);
          const points = [...possiblePoints(model)].map((one) => ({
            ...one,
            outcomes: oracle(model, one.point).map(({ outcome }) => outcome),
          }));
          fc.pre(points.length > 0);
          holds({ model, answers: answers(model, { steps: 400_000 }), points }, dice);
        },
      ),
      { numRuns: runs },
    );
  });
}

/** Days of which each condition is known or not, as the dice fall; every one agrees with a possible point. */
function daysFor(
  { model, points }: Known,
  dice: readonly number[],
): readonly (LoggedDay & { readonly fixed: readonly (number | undefined)[] })[] {
  return Array.from({ length: 6 }, (_, i) => {
    const { point } = points[dice[i]! % points.length]!;
    const fixed = model.axes.map(({ condition }, axis) => ((dice[6 + i]! >> (condition % 8)) % 2 === 0 ? point[axis] : undefined));
    const box = new Map(fixed.flatMap((position, axis) => (position === undefined ? [] : [[axis, run(position, position)] as const])));
    return { row: i + 2, fixed, box, trips: new Fraction((dice[12 + i]! % 9) + 1, (dice[18 + i]! % 3) + 1), month: (i % 3) + 4 };
  });
}

/** How the possible points that agree with a day share it. */
function chances(
  { model, points }: Known,
  fixed: readonly (number | undefined)[],
): readonly { readonly outcomes: readonly Outcome[]; readonly share: Fraction }[] {
  const left = points.filter(({ point }) => fixed.every((position, axis) => position === undefined || point[axis] === position));
  const weights = weighed(
    model,
    left.map(({ point }) => point),
  ).map(({ weight }) => weight);
  const total = weights.reduce((all, weight) => all + weight, 0n);
  return left.map(({ outcomes }, i) => ({ outcomes, share: new Fraction(weights[i]!, total) }));
}

function counted(
  all: readonly { readonly trips: Fraction; readonly left: ReturnType<typeof chances> }[],
  wanted: (outcomes: readonly Outcome[]) => boolean,
): Record<keyof Often, string> {
  return {
    trips: text(sum(all.flatMap(({ trips, left }) => left.flatMap(({ outcomes, share }) => (wanted(outcomes) ? [share.mul(trips)] : []))))),
    sure: text(sum(all.flatMap(({ trips, left }) => (left.every(({ outcomes }) => wanted(outcomes)) ? [trips] : [])))),
    possible: text(sum(all.flatMap(({ trips, left }) => (left.some(({ outcomes }) => wanted(outcomes)) ? [trips] : [])))),
  };
}

const asText = ({ trips, sure, possible }: Often): Record<keyof Often, string> => ({
  trips: text(trips),
  sure: text(sure),
  possible: text(possible),
});

law("one day per point, weighed as the point, gives the plain shares", ({ model, answers, points }) => {
  const log: Log = {
    byTrips: true,
    days: points.map(({ point, weight }, i) => ({
      row: i + 2,
      box: new Map(point.map((position, axis) => [axis, run(position, position)])),
      trips: new Fraction(weight),
    })),
  };
  const total = sum(log.days.map(({ trips }) => trips));
  const plain = sharesOf(model);
  for (const { pick, statuses: found } of coverageBy(answers, log, fresh))
    for (const status of statuses) {
      expect(text(found![status].trips.div(total))).toBe(text(plain[pick]![status]));
      expect(text(found![status].sure)).toBe(text(found![status].possible));
    }
});

law("coverage by days is what counting every point of every day gives", (known, dice) => {
  const days = daysFor(known, dice);
  const all = days.map(({ trips, fixed }) => ({ trips, left: chances(known, fixed) }));
  for (const { pick, statuses: found } of coverageBy(known.answers, { days, byTrips: true }, fresh))
    for (const status of statuses) expect(asText(found![status])).toEqual(counted(all, (outcomes) => outcomes[pick]!.status === status));
});

law("weights add up, and what is certain is no more than what is told, and that no more than what is possible", (known, dice) => {
  const days = daysFor(known, dice);
  const trips = text(sum(days.map((day) => day.trips)));
  for (const { statuses: found } of coverageBy(known.answers, { days, byTrips: true }, fresh)) {
    expect(text(sum(statuses.map((status: Status) => found![status].trips)))).toBe(trips);
    for (const { trips: told, sure, possible } of Object.values(found!))
      expect(sure.compare(told) <= 0 && told.compare(possible) <= 0).toBe(true);
  }
});

/** Every choice of some of them, but neither none nor all. */
function parts(picks: readonly number[]): readonly (readonly number[])[] {
  return Array.from({ length: 2 ** picks.length - 2 }, (_, bits) => picks.filter((_, i) => ((bits + 1) >> i) % 2 === 1));
}

/** Items with options as the dice fall. */
function stockFor(model: Model, dice: readonly number[]): Stock {
  const picks = model.picks
    .filter(({ judgement }) => !judgement)
    .map(({ index }) => index)
    .slice(0, 3);
  const items = Array.from({ length: 5 }, (_, i): Item => {
    const options = picks.flatMap((pick, at) => {
      const die = dice[24 + ((i * 3 + at) % 16)]!;
      const size = model.picks[pick]!.options.length;
      return die % 3 === 0 ? [] : [[pick, [...new Set([die % size, (die >> 3) % size])].sort((a, b) => a - b)] as const];
    });
    const notFor = picks.filter((pick, at) => !options.some(([named]) => named === pick) && dice[(i + at) % 24]! % 2 === 0);
    return {
      row: i + 2,
      name: `item ${i}`,
      options: new Map(options),
      notFor: new Set(notFor),
      inStock: dice[i]! % 4 === 0 ? "no" : "yes",
      available: dice[i]! % 4 !== 0,
    };
  });
  return { picks: picks.filter((pick) => items.some(({ options }) => options.has(pick))), items };
}

law("what items and answers sell as is what trying every item at every point gives", (known, dice) => {
  const stock = stockFor(known.model, dice);
  const days = daysFor(known, dice);
  fc.pre(days.length > 0);
  const report = stockReport(known.answers, stock, { log: { days, byTrips: true } });
  const plain = [{ trips: new Fraction(1), left: chances(known, []) }];
  const logged = days.map(({ trips, fixed, month }) => ({ trips, month, left: chances(known, fixed) }));
  const same = (frequency: Frequency, wanted: (outcomes: readonly Outcome[]) => boolean): void => {
    expect(text(frequency.share)).toBe(counted(plain, wanted).trips);
    expect(asText(frequency.days!)).toEqual(counted(logged, wanted));
  };
  // An item's place at a point: the worst that any of its picks gives it; none where one does not list it.
  const placeOf = (item: Item, outcomes: readonly Outcome[]): number | undefined => {
    const places = [...item.options].map(([pick, options]) =>
      Math.min(...outcomes[pick]!.places.flatMap((place, at) => (place.some((option) => options.includes(option)) ? [at] : [])), Infinity),
    );
    return places.length > 0 && places.every((place) => place < Infinity) ? Math.max(...places) : undefined;
  };
  const sellers = (pick: number, outcomes: readonly Outcome[]): readonly Item[] => {
    const lot = report.lots.find(({ picks }) => picks.includes(pick))!.picks;
    return stock.items.filter(
      (item) =>
        [...item.options.keys()].some((named) => lot.includes(named)) && !item.notFor.has(pick) && placeOf(item, outcomes) !== undefined,
    );
  };
  expect(report.undecided).toEqual([]);
  expect(report.lots.flatMap(({ picks }) => picks).sort((a, b) => a - b)).toEqual([...stock.picks].sort((a, b) => a - b));
  // Picks are in one lot just where a chain of items joins them.
  for (const { picks } of report.lots)
    for (const some of parts(picks))
      expect(
        stock.items.some(
          ({ options }) => some.some((pick) => options.has(pick)) && picks.some((pick) => options.has(pick) && !some.includes(pick)),
        ),
      ).toBe(true);
  for (const { options } of stock.items)
    expect(report.lots.filter(({ picks }) => picks.some((pick) => options.has(pick))).length).toBeLessThanOrEqual(1);

  stock.items.forEach((item, i) => {
    const { silent, found } = report.items[i]!;
    expect(silent).toBe(item.options.size === 0);
    if (!found) return;
    const only = (outcomes: readonly Outcome[]): boolean =>
      report.lots
        .flatMap(({ picks }) => picks)
        .some((pick) => outcomes[pick]!.places.length > 0 && sellers(pick, outcomes).length === 1 && sellers(pick, outcomes)[0] === item);
    expect(found.ever).toBe(known.points.some(({ outcomes }) => placeOf(item, outcomes) !== undefined));
    same(found.first, (outcomes) => placeOf(item, outcomes) === 0);
    same(found.listed, (outcomes) => placeOf(item, outcomes) !== undefined);
    expect(found.only !== undefined).toBe(known.points.some(({ outcomes }) => only(outcomes)));
    if (found.only) same(found.only, only);
    for (const [month, often] of found.months)
      expect(asText(often)).toEqual(
        counted(
          logged.filter((day) => day.month === month),
          (outcomes) => placeOf(item, outcomes) === 0,
        ),
      );
  });

  for (const { picks, answers: all } of report.lots) {
    expect(text(sum(all.map(({ share }) => share)))).toBe("1");
    expect(text(sum(all.map(({ days: often }) => often!.trips)))).toBe(text(sum(days.map(({ trips }) => trips))));
    const sells = (outcomes: readonly Outcome[]): string => {
      const asked = picks.filter((pick) => outcomes[pick]!.places.length > 0);
      const best = asked.map((pick) =>
        Math.min(
          ...sellers(pick, outcomes)
            .filter(({ available }) => available)
            .map((item) => placeOf(item, outcomes)!),
          Infinity,
        ),
      );
      return asked.length === 0
        ? "not asked for"
        : best.includes(Infinity)
          ? "nothing"
          : Math.max(...best) === 0
            ? "first choice"
            : "later choice";
    };
    for (const kind of ["first choice", "later choice", "nothing", "not asked for"]) {
      const mine = all.filter((answer) => answer.sells === kind);
      expect(text(sum(mine.map(({ share }) => share)))).toBe(counted(plain, (outcomes) => sells(outcomes) === kind).trips);
      expect(text(sum(mine.map(({ days: often }) => often!.trips)))).toBe(counted(logged, (outcomes) => sells(outcomes) === kind).trips);
    }
  }
});
