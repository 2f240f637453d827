/**
 * What a customer has told: names and values as written, to what is still possible on each axis.
 *
 *     clarity=muddy cover=grass,docks wind=        ──▶   clarity [3,3], grass [1,1], pads [0,0], …, docks [1,1];   unknown: wind, sky, …
 *     water-temp=cold sky=bright,hazy              ──▶   water-temp [0,16], sky [0,1]: partly known, so both may still be asked for
 *
 * A condition that is not named, or named with nothing after it, is unknown; it is never taken to be anything in particular.
 */
import type { Box } from "../analysis/diagrams/diagram.js";
import { tableWords } from "../messages/table.js";
import { listed } from "../messages/words.js";
import type { Example } from "../diagnostics.js";
import { plainName } from "../lookalikes.js";
import type { Condition, Model } from "../model/model.js";
import { exampleOf, readValue } from "../model/points.js";
import { printIn, readQuantity } from "../model/quantities.js";
import { count, run, spanOf, union, type Span } from "../model/span.js";
import { nearest } from "../suggest.js";

export interface Given {
  /** Positions still possible on axes of which something is known. */
  readonly box: Box;
  /** Every known value as the book writes it; of a continuous measure as the customer gave it; of what is partly known, the names it was given by. */
  readonly values: Example;
  /** Indexes of the conditions of which nothing, or not everything, is known, in book order. */
  readonly unknown: readonly number[];
  /** Those of the unknown of which something is known: `values` has a name, or a list of names of which one holds. */
  readonly partly: readonly number[];
  /** Names of the conditions filled from a day that was given beside them. */
  readonly filled: readonly string[];
  /** Where that day was given, if it filled one. */
  readonly dayFrom?: string;
}

export interface GivenProblem {
  /** The name as it was given. */
  readonly name: string;
  /** A sentence: what is wrong, and what would be accepted. */
  readonly problem: string;
}

/**
 * Reads `NAME`, `VALUE` pairs; every bad one is reported. A name may be a condition's label as well; a value the name of a band or of
 * a group of levels, or several such names and levels. `day`, such as `2027-04-15`, fills what is filled from the date and not among
 * the pairs; `dayFrom` is where it was given.
 */
export function readGiven(
  model: Model,
  entries: Iterable<readonly [name: string, value: string]>,
  day?: string,
  dayFrom = "--on",
): { readonly given: Given } | { readonly problems: readonly GivenProblem[] } {
  const problems: GivenProblem[] = [];
  const box = new Map<number, Span>();
  const texts = new Map<number, string | readonly string[]>();
  const take = (condition: Condition, name: string, value: string): void => {
    const reading =
      readNames(model, condition, value) ??
      readValue(
        condition,
        model.axes,
        value,
        namesFor(model, condition).map(([word]) => word),
      );
    texts.set(condition.index, "names" in reading ? reading.names : value.trim());
    if ("problem" in reading) problems.push({ name, problem: reading.problem });
    else if ("names" in reading) box.set(condition.axes[0]!, reading.span);
    else for (const { axis, position } of reading.positions) box.set(axis, run(position, position));
  };
  for (const [name, value] of entries) {
    const condition = conditionNamed(model, name);
    if (!condition) problems.push({ name, problem: unknownName(model, name.trim()) });
    else if (texts.has(condition.index)) problems.push({ name, problem: tableWords.givenTwice(condition.name) });
    else if (value.trim() !== "") take(condition, name, value);
  }
  const filled = day === undefined ? [] : model.conditions.filter(({ index, filledFrom }) => filledFrom === "date" && !texts.has(index));
  for (const condition of filled) take(condition, condition.name, day!);
  return problems.length > 0
    ? { problems }
    : {
        given: {
          ...givenOf(model, box, (condition) => texts.get(condition)),
          filled: filled.map(({ name }) => name),
          ...(filled.length > 0 && { dayFrom }),
        },
      };
}

/** The condition of that name, or else of that label, in whatever case. */
export function conditionNamed(model: Model, word: string): Condition | undefined {
  const wanted = plainName(word.trim());
  return model.conditions.find(({ name }) => name === wanted) ?? model.conditions.find(({ label }) => plainName(label) === wanted);
}

/** What is known where some axes are limited; `written`: how a value was given, by condition; a list of names if it was given by these. */
export function givenOf(
  model: Model,
  box: Box,
  written: (condition: number) => string | readonly string[] | undefined = () => undefined,
): Given {
  const point = model.axes.map(({ index }) => pinned(box, index));
  // A condition may be called `constructor`.
  const known = new Map(Object.entries(exampleOf(model, point)));
  const values: Record<string, Example[string]> = {};
  const partly: number[] = [];
  for (const condition of model.conditions) {
    const value = known.get(condition.name);
    const text = written(condition.index);
    if (value !== undefined)
      values[condition.name] = typeof text === "string" && isContinuous(condition) ? withUnit(condition, text) : value;
    else if (typeof text === "object") {
      values[condition.name] = text.length === 1 ? text[0]! : text;
      partly.push(condition.index);
    }
  }
  return { box, values, unknown: model.conditions.filter(({ name }) => !known.has(name)).map(({ index }) => index), partly, filled: [] };
}

/** The values for a person to read: "bright or hazy" of what is partly known, and where a day comes from. */
export function saidValues(model: Model, { values, partly, filled, dayFrom }: Given): Example {
  return Object.fromEntries(
    Object.entries(values).map(([name, value]) => {
      const said =
        typeof value === "object" && partly.some((index) => model.conditions[index]!.name === name) ? listed(value, "or") : value;
      return [name, typeof said === "string" && dayFrom !== undefined && filled.includes(name) ? tableWords.dayFrom(said, dayFrom) : said];
    }),
  );
}

/** The values of which everything is known. */
export function exactValues(model: Model, { values, partly }: Given): Example {
  return Object.fromEntries(Object.entries(values).filter(([name]) => !partly.some((index) => model.conditions[index]!.name === name)));
}

/** The one position left on an axis. */
export function pinned(box: Box, axis: number): number | undefined {
  const span = box.get(axis);
  return span && count(span) === 1 ? span[0] : undefined;
}

/** Bands of a measure, of days or times; groups of a scale: each with its stretch. */
function namesFor(model: Model, { index, domain }: Condition): readonly (readonly [word: string, span: Span])[] {
  if (domain.kind === "set") return [];
  return [
    ...model.bands.filter(({ condition }) => condition === index).map(({ name, span }) => [name, span] as const),
    ...model.groups.filter(({ condition }) => condition === index).map(({ name, members }) => [name, spanOf(members)] as const),
  ];
}

/** A name, or several; undefined where it is one value, to be read as such. */
function readNames(
  model: Model,
  condition: Condition,
  value: string,
): { readonly names: readonly string[]; readonly span: Span } | { readonly problem: string } | undefined {
  const levels = condition.domain.kind === "scale" ? condition.domain.levels.map((level, i) => [level, run(i, i)] as const) : [];
  const named = namesFor(model, condition);
  const parts = value
    .split(/[;,]/)
    .map((part) => part.trim())
    .filter((part) => part !== "");
  const found = parts.map((part) => [...levels, ...named].find(([word]) => word === plainName(part)));
  const stranger = found.indexOf(undefined);
  if (parts.length > 0 && stranger < 0)
    return { names: [...new Set(found.map((one) => one![0]))], span: found.reduce<Span>((all, one) => union(all, one![1]), []) };
  if (parts.length < 2 || levels.length === 0) return undefined;
  const reading = readValue(
    condition,
    model.axes,
    parts[stranger]!,
    named.map(([word]) => word),
  );
  return "problem" in reading ? reading : undefined;
}

function isContinuous({ domain }: Condition): boolean {
  return domain.kind === "measure" && domain.step === undefined;
}

/** With its unit, in the one it is said in where that is not the book's. */
function withUnit({ domain }: Condition, text: string): string {
  if (domain.kind !== "measure" || !domain.unit) return text;
  const read = domain.saidIn && readQuantity(text);
  if (read) return printIn(read.value, read.unit ?? domain.unit, domain.saidIn);
  return /\d$/.test(text) ? `${text} ${domain.unit.symbol}` : text;
}

function unknownName(model: Model, name: string): string {
  if (model.picks.some((pick) => pick.name === name)) return tableWords.pickAsCondition(name);
  return tableWords.unknownCondition(
    name,
    nearest(
      name,
      model.conditions.map((condition) => condition.name),
    ),
    model.conditions.map((condition) => condition.name),
  );
}
