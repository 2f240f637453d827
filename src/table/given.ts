/**
 * What a customer has told: names and values as written, to what is still possible on each axis.
 *
 *     clarity=muddy cover=grass,docks wind=        ──▶   clarity [3,3], grass [1,1], pads [0,0], …, docks [1,1];   unknown: wind, sky, …
 *
 * A condition that is not named, or named with nothing after it, is unknown; it is never taken to be anything in particular.
 */
import type { Box } from "../analysis/diagram.js";
import { say } from "../messages/table.js";
import type { Example } from "../diagnostics.js";
import type { Condition, Model } from "../model/model.js";
import { exampleOf, readValue } from "../model/points.js";
import { count } from "../model/span.js";
import { nearest } from "../suggest.js";

export interface Given {
  /** Positions still possible on axes of which something is known. */
  readonly box: Box;
  /** Every known value as the book writes it; of a continuous measure as the customer gave it. */
  readonly values: Example;
  /** Indexes of the conditions of which nothing, or not everything, is known, in book order. */
  readonly unknown: readonly number[];
}

export interface GivenProblem {
  /** The name as it was given. */
  readonly name: string;
  /** A sentence: what is wrong, and what would be accepted. */
  readonly problem: string;
}

/** Reads `NAME`, `VALUE` pairs; every bad one is reported. */
export function readGiven(model: Model, entries: Iterable<readonly [name: string, value: string]>): { readonly given: Given } | { readonly problems: readonly GivenProblem[] } {
  const problems: GivenProblem[] = [];
  const box = new Map<number, readonly [number, number]>();
  const texts = new Map<number, string>();
  for (const [name, value] of entries) {
    const condition = model.conditions.find((one) => one.name === name.trim());
    if (!condition) problems.push({ name, problem: unknownName(model, name.trim()) });
    else if (texts.has(condition.index)) problems.push({ name, problem: say.givenTwice(condition.name) });
    else if (value.trim() !== "") {
      texts.set(condition.index, value.trim());
      const reading = readValue(condition, model.axes, value);
      if ("problem" in reading) problems.push({ name, problem: reading.problem });
      else for (const { axis, position } of reading.positions) box.set(axis, [position, position]);
    }
  }
  return problems.length > 0 ? { problems } : { given: givenOf(model, box, (condition) => texts.get(condition)) };
}

/** What is known where some axes are limited; `written`: how a value was given, by condition. */
export function givenOf(model: Model, box: Box, written: (condition: number) => string | undefined = () => undefined): Given {
  const point = model.axes.map(({ index }) => pinned(box, index));
  const known = exampleOf(model, point);
  const values: Record<string, Example[string]> = {};
  for (const condition of model.conditions) {
    const value = known[condition.name];
    if (value === undefined) continue;
    const text = isContinuous(condition) ? written(condition.index) : undefined;
    values[condition.name] = text === undefined ? value : withUnit(condition, text);
  }
  return { box, values, unknown: model.conditions.filter(({ name }) => known[name] === undefined).map(({ index }) => index) };
}

/** The one position left on an axis. */
export function pinned(box: Box, axis: number): number | undefined {
  const span = box.get(axis);
  return span && count(span) === 1 ? span[0] : undefined;
}

function isContinuous({ domain }: Condition): boolean {
  return domain.kind === "measure" && domain.step === undefined;
}

function withUnit({ domain }: Condition, text: string): string {
  return domain.kind === "measure" && domain.unit && /\d$/.test(text) ? `${text} ${domain.unit.symbol}` : text;
}

function unknownName(model: Model, name: string): string {
  if (model.picks.some((pick) => pick.name === name)) return say.pickAsCondition(name);
  return say.unknownCondition(name, nearest(name, model.conditions.map((condition) => condition.name)), model.conditions.map((condition) => condition.name));
}
