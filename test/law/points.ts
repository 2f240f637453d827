/**
 * Every possible point of a small model, each with its exact weight, and the shares and answers under unknown values that follow by
 * plain counting.
 *
 *   one position per axis ──▶ keep those where every `domain` test holds and no `impossible` does ──▶ weight = product over the axes
 *
 * "Each level, step, subset counts alike, a continuous measure by length": beside a stretch a single value of a continuous measure weighs
 * nothing, so a point may be possible and weigh 0. "Where all that is possible has some measure at a single value, single values count
 * alike, each as the whole range of its measure, and points with the fewest measures at single values are all that counts."
 */
import { Fraction } from "fraction.js";
import type { Condition, Model, Places } from "../../src/model/model.js";
import { statuses, type Outcome, type Point, type Status } from "../../src/analysis/outcome.js";
import { evaluate, oracle, type Answer } from "./oracle.js";

export interface Weighed {
  readonly point: Point;
  readonly weight: bigint;
}

/** How many combinations of positions there are, possible or not. */
export function combinationsOf(model: Model): number {
  return model.axes.reduce((product, axis) => product * axis.size, 1);
}

/** All possible points that agree with `fixed` (a position per axis; undefined: any). */
export function possiblePoints(model: Model, fixed: readonly (number | undefined)[] = []): readonly Weighed[] {
  return weighed(model, [...goingThrough(model, fixed)]);
}

/** The same one by one and without weights, for whoever does not want them all. */
export function* goingThrough(model: Model, fixed: readonly (number | undefined)[] = []): Generator<Point> {
  const point: number[] = [];
  function* from(axis: number): Generator<Point> {
    const here = model.axes[axis];
    if (here === undefined) {
      if (isPossible(model, point)) yield [...point];
      return;
    }
    for (let position = 0; position < here.size; position++) {
      if (fixed[axis] !== undefined && fixed[axis] !== position) continue;
      point[axis] = position;
      yield* from(axis + 1);
    }
  }
  yield* from(0);
}

/** The points with their weights among themselves: those of the fewest measures at single values, each of which counts as its whole range. */
export function weighed(model: Model, points: readonly Point[]): readonly Weighed[] {
  const each = points.map((point) => {
    let [weight, alone] = [1n, 0];
    for (const { index, weights } of model.axes) {
      const length = weights?.[point[index]!] ?? 1n;
      weight *= length > 0n ? length : weights!.reduce((sum, other) => sum + other);
      if (length === 0n) alone++;
    }
    return { point, weight, alone };
  });
  const fewest = each.reduce((least, { alone }) => Math.min(least, alone), Infinity);
  return each.map(({ point, weight, alone }) => ({ point, weight: alone === fewest ? weight : 0n }));
}

export function isPossible(model: Model, point: Point): boolean {
  return (
    model.domain.every((test) => evaluate(test, point, []).truth === "holds") &&
    model.impossible.every(({ when }) => evaluate(when, point, []).truth === "fails")
  );
}

/** Per pick the exact share of each status over all possible points. */
export function sharesOf(model: Model): readonly Readonly<Record<Status, Fraction>>[] {
  const points = [...possiblePoints(model)];
  const total = points.reduce((sum, { weight }) => sum + weight, 0n);
  const sums = model.picks.map(() => Object.fromEntries(statuses.map((status) => [status, 0n])) as Record<Status, bigint>);
  for (const { point, weight } of points) oracle(model, point).forEach(({ outcome }, pick) => (sums[pick]![outcome.status] += weight));
  return sums.map(
    (sum) => Object.fromEntries(statuses.map((status) => [status, new Fraction(sum[status], total)])) as Record<Status, Fraction>,
  );
}

/** What may be answered when only some conditions are known. */
export interface Unknown {
  /** "the options that stand in the list at every remaining possible point, ordered by their worst place" */
  readonly safe: Places;
  /** "all possible answers with their shares" */
  readonly possible: readonly { readonly outcome: Outcome; readonly share: Fraction }[];
}

/** Per pick the safe answer and all possible outcomes at the points that agree with `fixed`; undefined where no point does. */
export function unknownAt(model: Model, fixed: readonly (number | undefined)[]): readonly Unknown[] | undefined {
  const points = [...possiblePoints(model, fixed)];
  if (points.length === 0) return undefined;
  const total = points.reduce((sum, { weight }) => sum + weight, 0n);
  const answers = points.map(({ point }) => oracle(model, point));
  return model.picks.map((pick) => {
    const worst = pick.options.map((_, option) =>
      Math.max(
        ...answers.map((answer) => {
          const place = answer[pick.index]!.outcome.places.findIndex((place) => place.includes(option));
          return place < 0 ? Infinity : place;
        }),
      ),
    );
    const ranks = [...new Set(worst.filter((place) => place < Infinity))].sort((a, b) => a - b);
    const weights = new Map<string, { outcome: Outcome; weight: bigint }>();
    points.forEach(({ weight }, i) => {
      const outcome = answers[i]![pick.index]!.outcome;
      const key = JSON.stringify(canonical(outcome));
      weights.set(key, { outcome, weight: (weights.get(key)?.weight ?? 0n) + weight });
    });
    return {
      safe: ranks.map((rank) => worst.flatMap((place, option) => (place === rank ? [option] : []))),
      possible: [...weights.values()].map(({ outcome, weight }) => ({
        outcome,
        share: new Fraction(weight, total),
      })),
    };
  });
}

/** The outcome with the options of each place in rising order, so that equal outcomes are equal data. */
export function canonical({ status, places }: Outcome): Outcome {
  return { status, places: places.map((place) => [...place].sort((a, b) => a - b)) };
}

// In words, for the tests ------------------------------------------------------------------------------------------------

/** Values of some conditions as a person writes them: `dirty`, `grass, docks`, `none`, `50`, `2 1/2`, `apr 15`, `05:30`. Measures in the condition's own unit. Throws on anything else: a mistake in the test. */
export type Given = Readonly<Record<string, string>>;

/** A position per axis that `given` names, undefined elsewhere. */
export function positionsOf(model: Model, given: Given): readonly (number | undefined)[] {
  const fixed: (number | undefined)[] = model.axes.map(() => undefined);
  for (const [name, value] of Object.entries(given)) {
    const condition = model.conditions.find((one) => one.name === name);
    if (condition === undefined) throw new Error(`no condition ${name}`);
    if (condition.domain.kind === "set") {
      const members = value === "none" ? [] : value.split(", ");
      const unknown = members.find((member) => condition.domain.kind === "set" && !condition.domain.members.includes(member));
      if (unknown !== undefined) throw new Error(`no member ${unknown} of ${name}`);
      condition.axes.forEach((axis) => (fixed[axis] = members.includes(memberOf(condition, model.axes[axis]!.member!)) ? 1 : 0));
    } else {
      const axis = condition.axes[0]!;
      const position = positionOf(model, condition, value);
      if (!(position >= 0 && position < model.axes[axis]!.size)) throw new Error(`no value ${value} of ${name}`);
      fixed[axis] = position;
    }
  }
  return fixed;
}

/** `decided: colorado, then indiana or willow`, `gap`. */
export function outcomeInWords(model: Model, pick: number, { status, places }: Outcome): string {
  const options = model.picks[pick]!.options;
  const list = canonical({ status, places })
    .places.map((place) => place.map((option) => options[option]!.text).join(" or "))
    .join(", then ");
  return list === "" ? status : `${status}: ${list}`;
}

/** A point for a failure message: `clarity = muddy; cover = grass; depth between 10 and 20`. */
export function pointInWords(model: Model, point: Point): string {
  return model.conditions.map((condition) => `${condition.name} ${valueInWords(model, condition, point)}`).join("; ");
}

export function answersInWords(model: Model, answers: readonly Pick<Answer, "outcome">[]): Readonly<Record<string, string>> {
  return Object.fromEntries(model.picks.map((pick) => [pick.name, outcomeInWords(model, pick.index, answers[pick.index]!.outcome)]));
}

const monthNames = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
const monthLengths = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** 0 for jan 1, 59 for feb 29, 365 for dec 31. */
function dayIndex(month: string, day: number): number {
  return monthLengths.slice(0, monthNames.indexOf(month)).reduce((sum, length) => sum + length, 0) + day - 1;
}

function positionOf(model: Model, condition: Condition, value: string): number {
  const domain = condition.domain;
  switch (domain.kind) {
    case "scale":
      return domain.levels.indexOf(value);
    case "days": {
      const [month, day] = value.split(" ");
      return dayIndex(month!, Number(day));
    }
    case "times": {
      const [hours, minutes] = value.split(":");
      return Number(hours) * 60 + Number(minutes);
    }
    case "measure": {
      const number = new Fraction(value);
      if (domain.step !== undefined) return number.sub(domain.low).div(domain.step).valueOf();
      const limits = model.axes[condition.axes[0]!]!.limits!;
      const at = limits.findIndex((limit) => limit.compare(number) >= 0);
      return limits[at]!.equals(number) ? 2 * at : 2 * at - 1;
    }
    case "set":
      throw new Error("a set has an axis per member");
  }
}

function memberOf(condition: Condition, member: number): string {
  return condition.domain.kind === "set" ? condition.domain.members[member]! : "";
}

function valueInWords(model: Model, condition: Condition, point: Point): string {
  const domain = condition.domain;
  if (domain.kind === "set") {
    const present = condition.axes.filter((axis) => point[axis] === 1).map((axis) => memberOf(condition, model.axes[axis]!.member!));
    return `= ${present.join(", ") || "none"}`;
  }
  const position = point[condition.axes[0]!]!;
  if (domain.kind === "scale") return `= ${domain.levels[position]!}`;
  if (domain.kind === "times") return `= ${String(Math.floor(position / 60)).padStart(2, "0")}:${String(position % 60).padStart(2, "0")}`;
  if (domain.kind === "days") {
    const month = monthLengths.findIndex((length, i) => position < dayIndex(monthNames[i]!, 1) + length);
    return `= ${monthNames[month]!} ${position - dayIndex(monthNames[month]!, 1) + 1}`;
  }
  if (domain.step !== undefined) return `= ${domain.low.add(domain.step.mul(position)).toFraction()}`;
  const limits = model.axes[condition.axes[0]!]!.limits!;
  const below = limits[position >> 1]!;
  return position % 2 === 0 ? `= ${below.toFraction()}` : `between ${below.toFraction()} and ${limits[(position >> 1) + 1]!.toFraction()}`;
}
