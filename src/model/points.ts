/**
 * Values as a customer gives them, to positions on the axes, and back to words.
 *
 *     water-temp  "16 °C"        60.8 °F, the nearest step is 61 °F   ──▶ position 28
 *     cover       "grass;docks"  ──▶ grass 1, pads 0, …, docks 1           "none" ──▶ all 0
 *     depth       position 3, between 10 ft and 12 1/2 ft             ──▶ "11 1/2 ft", one value of that stretch
 *
 * A reading outside the range is refused before anything is rounded; one that is exactly halfway goes to the upper step.
 */
import { Fraction } from "fraction.js";
import type { Example } from "../diagnostics.js";
import { plainName } from "../lookalikes.js";
import * as say from "../messages/given.js";
import { indexOfLimit } from "./limits.js";
import { printDay, printTime, readDayOrDate, readTime } from "./calendar.js";
import { emptySet } from "./empty-set.js";
import type { Axis, Condition, Domain, Model } from "./model.js";
import { convert, printIn, printQuantity, readQuantity, unitsOf, type Unit } from "./quantities.js";
import { nearest } from "../suggest.js";

/** Where a value lies: a position on each axis of its condition; or why it cannot be taken, as a sentence with what would be accepted. */
export type Reading = { readonly positions: readonly At[] } | { readonly problem: string };
interface At {
  readonly axis: number;
  readonly position: number;
}

/**
 * Reads `muddy`, `grass;docks`, `none`, `61 °F`, `61`, `2027-04-15`, `apr 15`, `05:30`, whichever fits the condition. `axes` are all
 * axes of the model. `names`: other words that the caller takes for the condition, for a problem to name.
 */
export function readValue(condition: Condition, axes: readonly Axis[], text: string, names: readonly string[] = []): Reading {
  const given = text.trim();
  const [axis] = condition.axes;
  const at = (position: number | undefined): Reading =>
    position === undefined ? unknown(condition, given, names, names) : { positions: [{ axis: axis!, position }] };
  const { domain } = condition;
  switch (domain.kind) {
    case "scale": {
      const level = domain.levels.indexOf(plainName(given));
      return level >= 0 ? at(level) : unknown(condition, given, [...domain.levels, ...names], names);
    }
    case "set":
      return readSet(condition, domain, given);
    case "days":
      return at(readDayOrDate(given));
    case "times":
      return at(readTime(given));
    case "measure":
      return readMeasured(condition, domain, axes[axis!]!, given, names);
  }
}

/** What `readValue` takes, as the end of a sentence: "a temperature from 33 °F to 95 °F". */
export function accepted({ domain }: Condition): string {
  switch (domain.kind) {
    case "scale":
      return say.oneOf(domain.levels);
    case "set":
      return say.someOf(domain.members, domain.atLeastOne);
    case "days":
      return say.aDay;
    case "times":
      return say.aTime;
    case "measure":
      return say.aNumber(printMeasured(domain.low, domain), printMeasured(domain.high, domain), domain.unit && unitsOf(domain.unit.kind));
  }
}

/** A position as a book writes it: `dirty`, `61 °F`, `apr 15`; for an open stretch of a continuous measure one round value inside it; for a set's member `grass` or `no grass`. A measure in the unit it is said in, or as it is `written`. */
export function sayPosition(
  model: Pick<Model, "conditions" | "axes">,
  axis: number,
  position: number,
  as: "said" | "written" = "said",
): string {
  const { condition, member, limits } = model.axes[axis]!;
  const { domain } = model.conditions[condition]!;
  switch (domain.kind) {
    case "scale":
      return domain.levels[position]!;
    case "set":
      return position === 1 ? domain.members[member!]! : say.without(domain.members[member!]!);
    case "days":
      return printDay(position);
    case "times":
      return printTime(position);
    case "measure": {
      const print = (value: Fraction): string => (as === "said" ? printMeasured(value, domain) : printQuantity(value, domain.unit));
      if (domain.step !== undefined) return print(domain.low.add(domain.step.mul(position)));
      const [from, to] = [limits![position >> 1]!, limits![(position + 1) >> 1]!];
      return print(position % 2 === 0 ? from : roundInside(from, to, domain.unit));
    }
  }
}

/** A value of a measure, in the unit it is said in. */
function printMeasured(value: Fraction, { unit, saidIn }: { readonly unit?: Unit; readonly saidIn?: Unit }): string {
  return unit && saidIn ? printIn(value, unit, saidIn) : printQuantity(value, unit);
}

/**
 * A point, or part of one, as an example: a value for each condition, a list of members for a set (`[]` for none). `point` has a
 * position for each axis; conditions with an axis that has none are left out, and so are those not in `onlyConditions`, if given.
 */
export function exampleOf(
  model: Pick<Model, "conditions" | "axes">,
  point: readonly (number | undefined)[],
  onlyConditions?: Iterable<number>,
): Example {
  const wanted = onlyConditions === undefined ? undefined : new Set(onlyConditions);
  const example: Record<string, string | readonly string[]> = {};
  for (const { index, name, axes, domain } of model.conditions) {
    if ((wanted !== undefined && !wanted.has(index)) || axes.some((axis) => point[axis] === undefined)) continue;
    example[name] =
      domain.kind === "set"
        ? domain.members.filter((_, member) => point[axes[member]!] === 1)
        : sayPosition(model, axes[0]!, point[axes[0]!]!);
  }
  return example;
}

function readSet(condition: Condition, domain: Domain & { kind: "set" }, given: string): Reading {
  const names = given
    .split(/[;,]/)
    .map((name) => plainName(name.trim()))
    .filter((name) => name !== "");
  const isNone = names.length === 1 && names[0] === emptySet;
  if (names.length === 0 || (isNone && domain.atLeastOne)) return { problem: say.notAccepted(condition.name, given, accepted(condition)) };
  const stranger = names.find((name) => !domain.members.includes(name));
  if (!isNone && stranger !== undefined) return unknown(condition, stranger, domain.members);
  return {
    positions: condition.axes.map((axis, member) => ({ axis, position: !isNone && names.includes(domain.members[member]!) ? 1 : 0 })),
  };
}

function readMeasured(
  condition: Condition,
  domain: Domain & { kind: "measure" },
  axis: Axis,
  given: string,
  names: readonly string[],
): Reading {
  const read = readQuantity(given);
  if (!read) return unknown(condition, given, names, names);
  const unit = read.unit ?? domain.unit;
  if (unit?.kind !== domain.unit?.kind) return unknown(condition, given, [], names);
  const value = unit && domain.unit ? convert(read.value, unit, domain.unit) : read.value;
  if (value.lt(domain.low) || value.gt(domain.high))
    return { problem: say.outOfRange(condition.name, given, say.orNamed(accepted(condition), names)) };
  const on = (position: number): Reading => ({ positions: [{ axis: axis.index, position }] });
  if (domain.step !== undefined) return on(value.sub(domain.low).div(domain.step).add(1, 2).floor().valueOf());
  const limit = indexOfLimit(axis.limits!, value);
  return on(axis.limits![limit]!.equals(value) ? 2 * limit : 2 * limit - 1);
}

function unknown(condition: Condition, given: string, known: readonly string[], names: readonly string[] = []): Reading {
  const close = given === "" ? undefined : nearest(given, known);
  return { problem: say.notAccepted(condition.name, given, say.orNamed(accepted(condition), names), close) };
}

/** Near the middle of an open stretch, a value with as few digits as its length allows. */
function roundInside(from: Fraction, to: Fraction, unit: Unit | undefined): Fraction {
  const length = to.sub(from);
  const quarter = length.div(4);
  let step = new Fraction(1);
  const [ten, five, two] = [new Fraction(10), new Fraction(5), new Fraction(2)];
  const halved = unit?.fractions === true && [from, to].every(({ d }) => (d & (d - 1n)) === 0n);
  if (halved && quarter.lt(1)) while (step.gt(quarter)) step = step.div(two);
  else {
    while (step.gt(quarter)) step = step.div(ten);
    while (step.mul(ten).lte(quarter)) step = step.mul(ten);
    if (step.mul(five).lte(quarter)) step = step.mul(five);
  }
  return from.add(to).div(2).div(step).add(1, 2).floor().mul(step);
}
