/**
 * Answers from a table's JSON form alone, for a web shop or any other program: what to tie on for what is known, never taking what is
 * unknown for some usual value. Nothing else is needed, neither the book nor Waterlore; published beside the data as one file.
 *
 *     rows ─── minus what cannot occur ──▶ pieces, once per table
 *     pieces ─── that agree with what is given ──▶ their outcomes: one, or several with exact shares, and what is safe in all of them
 *
 * A piece is a box: on each axis (a condition; of a set, each member) the positions it allows. Positions are levels, steps, days, minutes,
 * absent or present; a continuous measure is cut at every limit that the table names, each single limit being a position that weighs
 * nothing and each stretch between two weighing its length. Says the same as `waterlore answer`.
 */
import { daysOfTheYear, minutesOfTheDay, readDayOrDate, readTime } from "../../model/calendar.js";
import { emptySet } from "../../model/empty-set.js";
import { count, full, run, spanOf, union, type Span } from "../../model/span.js";
import { inside, without, type Box } from "./boxes.js";
import { compare, nearestStep, ratioText, readRatio, type Ratio } from "./ratio.js";

/** A table as `waterlore table --format json` writes it: the parts that are read here. */
export interface Table {
  readonly conditions: readonly Condition[];
  readonly picks: readonly { readonly name: string; readonly options: readonly string[]; readonly judgement?: true }[];
  readonly rows: readonly Row[];
  readonly impossible: readonly { readonly because?: string; readonly when: readonly When[] }[];
  readonly closed?: readonly { readonly text: string; readonly when: readonly When[]; readonly may?: readonly When[] }[];
  readonly cautions: readonly {
    readonly caution: string;
    readonly text: string;
    readonly see?: readonly string[];
    readonly when: readonly When[];
    readonly may?: readonly When[];
  }[];
}
export interface Condition {
  readonly name: string;
  readonly kind: "scale" | "set" | "measure" | "days" | "times";
  readonly levels?: readonly string[];
  readonly members?: readonly string[];
  readonly atLeastOne?: boolean;
  readonly low?: string;
  readonly high?: string;
  readonly step?: string;
  readonly unit?: string;
}
export interface Row {
  readonly when: When;
  readonly picks: Readonly<Record<string, Outcome>>;
  readonly because: readonly string[];
}
export type When = Readonly<Record<string, unknown>>;
export interface Outcome {
  readonly status: string;
  readonly answer: Places;
}
/** Places in order of preference, each a list of options that share it. */
export type Places = readonly (readonly string[])[];

/**
 * What is known, by the names of conditions: a level; a list of members, `[]` for none; a number in the condition's own unit, or a text
 * with it ("61 °F"); a day like "apr 15" or "2027-04-15"; a time like "05:30". What is left out, null or undefined is unknown.
 */
export type Given = Readonly<Record<string, string | number | readonly string[] | null | undefined>>;

export interface Answer {
  /** What closes everything, to be shown before all else; `may`: whether it does depends on something unknown. */
  readonly closed: readonly Closed[];
  /** Nothing that agrees with what is given is open: the line above and the cautions are the answer. Else picks are told of where they are open. */
  readonly shut: boolean;
  readonly picks: Readonly<Record<string, PickAnswer>>;
  /** To be shown beside the answer; `may`: whether it applies depends on something unknown. */
  readonly cautions: readonly Caution[];
  /** Names of conditions of which nothing is known. */
  readonly unknown: readonly string[];
}
export interface PickAnswer {
  /** As in the table; "depends" where more than one outcome is possible: `answer` is then empty, and the rest says more. */
  readonly status: string;
  readonly answer: Places;
  /** Options in the list whatever the unknown conditions are, by their worst place. */
  readonly safe: Places;
  /** Every outcome still possible, largest share first; shares are exact fractions and add up to 1. */
  readonly possible: readonly Possible[];
  /** Titles of the patterns behind the rows that are left; of the table's other picks too, if it answers several. */
  readonly because: readonly string[];
}
export interface Possible extends Outcome {
  readonly share: string;
}
export interface Closed {
  readonly text: string;
  readonly may?: true;
}
export interface Caution {
  readonly caution: string;
  readonly text: string;
  readonly see?: readonly string[];
  readonly may?: true;
}
/** Why there is no answer: no condition of that name, a value that it cannot have, or values that do not occur together. */
export type Problem =
  | { readonly problem: "no such condition" | "not accepted"; readonly condition: string }
  | { readonly problem: "impossible"; readonly because?: string };

/** `tables`: one, or several of one book, each with picks of its own. */
export function lookup(tables: Table | readonly Table[], given: Given): Answer | Problem {
  const all = "rows" in tables ? [tables] : tables;
  const picks: Record<string, PickAnswer> = {};
  let shown: Omit<Answer, "picks"> = { closed: [], shut: false, cautions: [], unknown: [] };
  for (const [i, table] of all.entries()) {
    const ready = prepared(table);
    const known = read(ready, given);
    if ("problem" in known) return known;
    if (i === 0) {
      const left = ready.possible.flatMap((box) => inside(box, known) ?? []);
      if (left.length === 0) return { problem: "impossible", because: whyNothingLeft(ready, known) };
      shown = {
        closed: closedIn(ready, left),
        shut: ready.closed.length > 0 && without(left, shutBoxes(ready), ready.axes).length === 0,
        cautions: cautionsIn(ready, left),
        unknown: table.conditions.filter(({ name }) => isUnknown(given, name)).map(({ name }) => name),
      };
    }
    for (const pick of table.picks) picks[pick.name] = pickAnswer(ready, known, pick);
  }
  return { picks, ...shown };
}

interface Axis {
  readonly condition: Condition;
  readonly member?: string;
  readonly size: number;
  /** Undefined: every position weighs 1. */
  readonly weights?: readonly bigint[];
  /** The position at a number, or of the stretch it lies in. */
  at(value: Ratio): number;
}

interface Ready {
  readonly table: Table;
  readonly axes: readonly Axis[];
  readonly impossible: readonly { readonly because?: string; readonly boxes: readonly Box[] }[];
  readonly possible: readonly Box[];
  /** `open`: what of it is not closed. */
  readonly pieces: readonly { readonly row: Row; readonly box: Box; readonly open: readonly Box[] }[];
  readonly closed: readonly Where[];
  readonly cautions: readonly Where[];
}
/** Where something holds, and of that where it is not sure to. */
interface Where {
  readonly when: readonly Box[];
  readonly may: readonly Box[];
}

const ready = new WeakMap<Table, Ready>();

function prepared(table: Table): Ready {
  const known = ready.get(table);
  if (known) return known;
  const whens = [
    ...table.rows.map(({ when }) => when),
    ...[...table.impossible, ...(table.closed ?? []), ...table.cautions].flatMap(({ when }) => when),
    ...[...(table.closed ?? []), ...table.cautions].flatMap(({ may }) => may ?? []),
  ];
  const axes = table.conditions.flatMap((condition) => axesOf(condition, whens));
  const box = (when: When): Box => boxOf(axes, when);
  const impossible = table.impossible.map(({ because, when }) => ({ because, boxes: when.map(box) }));
  const never: Box[] = impossible.flatMap(({ boxes }) => boxes);
  for (const condition of table.conditions) {
    if (!condition.atLeastOne) continue;
    never.push(new Map(axes.flatMap((axis, i) => (axis.condition === condition ? [[i, run(0, 0)] as const] : []))));
  }
  const where = ({ when, may = [] }: { readonly when: readonly When[]; readonly may?: readonly When[] }): Where => ({
    when: when.map(box),
    may: may.map(box),
  });
  const closed = (table.closed ?? []).map(where);
  const made: Ready = {
    table,
    axes,
    impossible,
    possible: without([new Map()], never, axes),
    pieces: table.rows.flatMap((row) =>
      without([box(row.when)], never, axes).map((piece) => ({
        row,
        box: piece,
        open: without([piece], shutBoxes({ closed, axes }), axes),
      })),
    ),
    closed,
    cautions: table.cautions.map(where),
  };
  ready.set(table, made);
  return made;
}

function axesOf(condition: Condition, whens: readonly When[]): readonly Axis[] {
  const one = (size: number, at: Axis["at"] = () => 0, weights?: readonly bigint[]): Axis => ({ condition, size, at, weights });
  switch (condition.kind) {
    case "scale":
      return [one(condition.levels!.length)];
    case "set":
      return condition.members!.map((member) => ({ ...one(2), member }));
    case "times":
      return [one(minutesOfTheDay, ({ n }) => Number(n))];
    case "days":
      return [one(daysOfTheYear, ({ n }) => Number(n))];
    case "measure":
      break;
  }
  const read = (text: string): Ratio => numberOf(condition, text)!;
  const [low, high] = [read(condition.low!), read(condition.high!)];
  if (condition.step !== undefined) {
    const step = read(condition.step);
    const at = (value: Ratio): number => Number(((value.n * low.d - low.n * value.d) * step.d) / (value.d * low.d * step.n));
    return [one(at(high) + 1, at)];
  }
  const limits = [
    low,
    high,
    ...whens.flatMap((when) => stretchesOf(when[condition.name]).flatMap((stretch) => Object.values(stretch).map(read))),
  ]
    .sort(compare)
    .filter((limit, i, all) => i === 0 || compare(all[i - 1]!, limit) !== 0);
  const scale = limits.reduce((product, { d }) => product * d, 1n);
  const place = ({ n, d }: Ratio): bigint => (n * scale) / d;
  const weights = Array.from({ length: 2 * limits.length - 1 }, (_, i) => place(limits[(i + 1) >> 1]!) - place(limits[i >> 1]!));
  return [
    one(
      weights.length,
      (value) => {
        const next = limits.findIndex((limit) => compare(limit, value) >= 0);
        return compare(limits[next]!, value) === 0 ? 2 * next : 2 * next - 1;
      },
      weights,
    ),
  ];
}

function stretchesOf(allowed: unknown): readonly Readonly<Record<string, string>>[] {
  return allowed === undefined ? [] : ((Array.isArray(allowed) ? allowed : [allowed]) as readonly Readonly<Record<string, string>>[]);
}

function boxOf(axes: readonly Axis[], when: When): Box {
  const box = new Map<number, Span>();
  axes.forEach((axis, i) => {
    const {
      condition: { name, kind, levels },
      member,
    } = axis;
    if (!Object.hasOwn(when, name)) return;
    const allowed = when[name];
    if (kind === "scale") box.set(i, spanOf((allowed as readonly string[]).map((level) => levels!.indexOf(level))));
    else if (kind === "set") {
      const { has, no } = allowed as { readonly has?: readonly string[]; readonly no?: readonly string[] };
      if (has?.includes(member!)) box.set(i, run(1, 1));
      if (no?.includes(member!)) box.set(i, run(0, 0));
    } else
      box.set(
        i,
        stretchesOf(allowed)
          .map((stretch) => spanOn(axis, stretch))
          .reduce(union),
      );
  });
  return box;
}

function spanOn({ condition, size, at }: Axis, { from, above, to, below }: Readonly<Record<string, string>>): Span {
  const position = (text: string): number => at(numberOf(condition, text)!);
  const low = from === undefined ? position(above!) + 1 : position(from);
  const high = to === undefined ? position(below!) - 1 : position(to);
  // Round the end of the year or the day.
  return low <= high || condition.kind === "measure" ? run(low, high) : union(run(0, high), run(low, size - 1));
}

function isUnknown(given: Given, name: string): boolean {
  return !Object.hasOwn(given, name) || given[name] === null || given[name] === undefined;
}

/** What is known, as a box. */
function read({ table, axes }: Ready, given: Given): Box | Problem {
  const stranger = Object.keys(given).find((name) => !table.conditions.some((condition) => condition.name === name));
  if (stranger !== undefined) return { problem: "no such condition", condition: stranger };
  const box = new Map<number, Span>();
  for (const condition of table.conditions) {
    if (isUnknown(given, condition.name)) continue;
    const value = valueOf(condition, given[condition.name]!);
    if (value === undefined) return { problem: "not accepted", condition: condition.name };
    axes.forEach((axis, i) => {
      if (axis.condition !== condition) return;
      const position =
        typeof value === "string" ? condition.levels!.indexOf(value) : "n" in value ? axis.at(value) : Number(value.includes(axis.member!));
      box.set(i, run(position, position));
    });
  }
  return box;
}

/** A level, the members present, or a number. */
type Value = string | readonly string[] | Ratio;
/** What is given, read; undefined if the condition cannot have it. */
function valueOf(condition: Condition, given: string | number | readonly string[]): Value | undefined {
  if (condition.kind === "set") {
    const members =
      typeof given === "object"
        ? given
        : String(given) === emptySet
          ? []
          : String(given)
              .split(/[;,]/)
              .map((member) => member.trim());
    const known = members.every((member) => condition.members!.includes(member));
    return known && !(condition.atLeastOne && members.length === 0) ? members : undefined;
  }
  if (typeof given === "object") return undefined;
  const text = String(given).trim();
  if (condition.kind === "scale") return condition.levels!.includes(text) ? text : undefined;
  const number = numberOf(condition, text);
  if (!number || condition.kind !== "measure") return number;
  const [low, high] = [numberOf(condition, condition.low!)!, numberOf(condition, condition.high!)!];
  if (compare(number, low) < 0 || compare(number, high) > 0) return undefined;
  const step = condition.step === undefined ? undefined : numberOf(condition, condition.step);
  return step ? nearestStep(number, low, step) : number;
}

/** Days by their place in the year, times as minutes, measures without their unit. */
function numberOf({ kind, unit }: Condition, text: string): Ratio | undefined {
  if (kind === "measure") return readRatio(unit !== undefined && text.endsWith(unit) ? text.slice(0, -unit.length).trim() : text);
  const at = kind === "days" ? readDayOrDate(text) : readTime(text);
  return at === undefined ? undefined : { n: BigInt(at), d: 1n };
}

function pickAnswer({ pieces, axes }: Ready, known: Box, { name: pick, options, judgement }: Table["picks"][number]): PickAnswer {
  const within = (boxes: (piece: Ready["pieces"][number]) => readonly Box[]): readonly { readonly row: Row; readonly box: Box }[] =>
    pieces.flatMap((piece) =>
      boxes(piece).flatMap((box) => {
        const part = inside(box, known);
        return part ? [{ row: piece.row, box: part }] : [];
      }),
    );
  // A more local book may have an answer where all else is closed.
  const isHeard = ({ status, answer }: Outcome): boolean => !judgement && (answer.length > 0 || status === "conflict");
  const told = within(({ row, box, open }) => (isHeard(row.picks[pick]!) ? [box] : open));
  const left = told.length > 0 ? told : within(({ box }) => [box]);
  // An axis that no piece limits weighs the same in all of them.
  const open = [...new Set(left.flatMap(({ box }) => [...box.keys()]))].filter((axis) => !known.has(axis));
  const lots = left.map(({ box }) => open.reduce((product, axis) => times(product, lotOf(axes[axis]!, box.get(axis))), WHOLE));
  // What has a measure more at a single value is nothing beside the others.
  const fewest = lots.reduce((least, { alone }) => Math.min(least, alone), Infinity);
  const weights = lots.map(({ weight, alone }) => (alone === fewest ? weight : 0n));
  const total = weights.reduce((sum, weight) => sum + weight, 0n);
  const found = new Map<string, { readonly outcome: Outcome; weight: bigint }>();
  left.forEach(({ row }, i) => {
    const { status, answer } = row.picks[pick]!;
    const key = JSON.stringify([status, answer]);
    const before = found.get(key);
    if (before) before.weight += weights[i]!;
    else found.set(key, { outcome: { status, answer }, weight: weights[i]! });
  });
  const outcomes = [...found.values()].sort((a, b) => (a.weight > b.weight ? -1 : a.weight < b.weight ? 1 : 0));
  const settled = outcomes.length === 1 ? outcomes[0]!.outcome : undefined;
  return {
    status: settled?.status ?? "depends",
    answer: settled?.answer ?? [],
    safe: safeIn(
      outcomes.map(({ outcome }) => outcome.answer),
      options,
    ),
    possible: outcomes.map(({ outcome, weight }) => ({ ...outcome, share: ratioText(weight, total) })),
    because: settled ? [...new Set(left.flatMap(({ row }) => row.because))] : [],
  };
}

/** How much a box weighs, and how many measures are at single values in it: each of these counts as its whole range would. */
interface Lot {
  readonly weight: bigint;
  readonly alone: number;
}
const WHOLE: Lot = { weight: 1n, alone: 0 };

function times(a: Lot, b: Lot): Lot {
  return { weight: a.weight * b.weight, alone: a.alone + b.alone };
}

function lotOf({ size, weights }: Axis, span: Span = full(size)): Lot {
  if (!weights) return { weight: BigInt(count(span)), alone: 0 };
  const sum = (of: Span): bigint => {
    let total = 0n;
    for (let i = 0; i < of.length; i += 2) for (let at = of[i]!; at <= of[i + 1]!; at++) total += weights[at]!;
    return total;
  };
  const length = sum(span);
  return length > 0n ? { weight: length, alone: 0 } : { weight: BigInt(count(span)) * sum(full(size)), alone: 1 };
}

/** Options in every list, by the worst place that any gives them. */
function safeIn(lists: readonly Places[], options: readonly string[]): Places {
  const places: (string[] | undefined)[] = [];
  for (const option of options) {
    const worst = lists.reduce((place, list) => {
      const here = list.findIndex((some) => some.includes(option));
      return here < 0 ? Infinity : Math.max(place, here);
    }, 0);
    if (worst < Infinity) (places[worst] ??= []).push(option);
  }
  return places.filter((place) => place !== undefined);
}

/** Where it is closed for certain. */
function shutBoxes({ closed, axes }: Pick<Ready, "closed" | "axes">): readonly Box[] {
  return closed.flatMap(({ when, may }) => without(when, may, axes));
}

function closedIn({ table, closed, axes }: Ready, left: readonly Box[]): readonly Closed[] {
  return (table.closed ?? []).flatMap(({ text }, i): Closed[] => {
    const holds = holdsIn(closed[i]!, left, axes);
    return holds === undefined ? [] : [{ text, ...(!holds && { may: true as const }) }];
  });
}

/** Whether something holds in all of these boxes; undefined: in none of them. */
function holdsIn({ when, may }: Where, left: readonly Box[], axes: readonly Axis[]): boolean | undefined {
  const meets = (boxes: readonly Box[]): boolean => boxes.some((box) => left.some((part) => inside(part, box)));
  return meets(when) ? !meets(may) && without(left, when, axes).length === 0 : undefined;
}

function cautionsIn({ table, cautions, axes }: Ready, left: readonly Box[]): readonly Caution[] {
  return table.cautions.flatMap(({ caution, text, see }, i): Caution[] => {
    const holds = holdsIn(cautions[i]!, left, axes);
    return holds === undefined ? [] : [{ caution, text, ...(see && { see }), ...(!holds && { may: true as const }) }];
  });
}

/** The reason of the statement that alone rules out everything that is left, if there is one. */
function whyNothingLeft({ impossible, axes }: Ready, known: Box): string | undefined {
  return impossible.find(({ boxes }) => without([known], boxes, axes).length === 0)?.because;
}
