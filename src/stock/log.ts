/**
 * A log of observed days: how often conditions really occur.
 *
 *     day         clarity  wind    trips            known there        spread over what is left, weighted by trips
 *     2027-04-03  muddy    12 mph  3       ──▶      clarity, wind  ──▶   colorado 3
 *     2027-04-04                   1       ──▶      nothing        ──▶   colorado 3/8, willow 5/8      (for certain: neither)
 *
 * A day of which something is not known is not taken for any one day. It counts for every answer that may be the right one, each by its
 * share among the possible points that agree with what is known, just as `answer` gives it; beside that stand what is certain and what
 * is possible at most. So weights add up, and a "log" of one day of which nothing is known gives the plain shares.
 */
import Fraction from "fraction.js";
import { findPossible, type Answers } from "../analysis/answers.js";
import { withinBudget, type Budget } from "../analysis/budget.js";
import type { Box } from "../analysis/diagrams/diagram.js";
import { statuses, type Outcome, type Status } from "../analysis/outcome.js";
import { nearest } from "../suggest.js";
import * as given from "../messages/given.js";
import { logWords } from "../messages/stock.js";
import type { Condition, Model } from "../model/model.js";
import { monthAt, readDayOrDate } from "../model/calendar.js";
import { alikeKey } from "../answer/alike.js";
import { conditionNamed, readGiven } from "../answer/given.js";
import { together, type Joint } from "../answer/joint.js";
import { whyNothingLeft } from "../answer/answer.js";
import { leftOver } from "../answer/left.js";

/** A row of a file: the line it ends on, and its cells by the names of their columns, left to right. */
export interface LogRow {
  readonly row: number;
  readonly cells: readonly (readonly [column: string, cell: string])[];
}
/** A cell, or a whole row, that cannot be taken, and why, in a sentence. */
export interface RowProblem {
  readonly row: number;
  readonly column?: string;
  readonly problem: string;
}

export interface Log {
  readonly days: readonly LoggedDay[];
  /** Whether days bring a number of trips each; else every day weighs 1. */
  readonly byTrips: boolean;
}
export interface LoggedDay {
  readonly row: number;
  /** What is known of it. */
  readonly box: Box;
  readonly trips: Fraction;
  /** 1 to 12; undefined: not known. */
  readonly month?: number;
}

/** Columns beside the conditions. A condition of that name goes before. */
const DAY = "day";
const TRIPS = "trips";

/** The name of a column: of a condition, by its name or label, `day` or `trips`; or why there is no such column. */
export function logColumn(model: Model, heading: string): { readonly name: string } | { readonly problem: string } {
  const condition = conditionNamed(model, heading);
  if (condition) return { name: condition.name };
  const own = heading.trim().toLowerCase();
  if (own === DAY || own === TRIPS) return { name: own };
  const known = [...model.conditions.map(({ name }) => name), DAY, TRIPS];
  return {
    problem: logWords.unknownColumn(
      heading.trim(),
      [...new Set(known)],
      nearest(own, known),
      model.picks.some(({ name }) => name === own),
    ),
  };
}

/** Reads the rows of a log, whose columns `logColumn` has named. A row with a problem is left out; the others are kept. */
export function readLog(
  answers: Answers,
  rows: Iterable<LogRow>,
  fresh: () => Budget,
): { readonly log: Log; readonly problems: readonly RowProblem[] } {
  const { model } = answers;
  const days: LoggedDay[] = [];
  const problems: RowProblem[] = [];
  const keyOf = alikeKey(model);
  const refused = new Map<string, string | undefined>();
  const conditionDay = model.conditions.find(({ name }) => name === DAY);
  const conditionTrips = model.conditions.some(({ name }) => name === TRIPS);
  let byTrips = false;
  for (const { row, cells } of rows) {
    const cellOf = (name: string): string => cells.find(([column]) => column === name)?.[1].trim() ?? "";
    const found: RowProblem[] = [];
    const isDate = conditionDay === undefined || isOfDays(conditionDay);
    const date = isDate ? cellOf(DAY) : "";
    const month = date === "" ? undefined : monthIn(date);
    if (date !== "" && month === undefined && !conditionDay)
      found.push({ row, column: DAY, problem: given.notAccepted(DAY, date, given.aDay) });
    const trips = conditionTrips ? "" : cellOf(TRIPS);
    byTrips ||= trips !== "";
    if (trips !== "" && !isAmount(trips)) found.push({ row, column: TRIPS, problem: given.notAccepted(TRIPS, trips, logWords.anAmount) });
    const entries = cells.filter(([column]) => conditionNamed(model, column) !== undefined);
    const reading = readGiven(model, entries, month === undefined ? undefined : date);
    if ("problems" in reading) found.push(...reading.problems.map(({ name, problem }) => ({ row, column: name, problem })));
    if ("given" in reading && found.length === 0) {
      const { box } = reading.given;
      const key = keyOf(box);
      if (!refused.has(key)) refused.set(key, whyRefused(answers, box, fresh));
      const problem = refused.get(key);
      if (problem === undefined)
        days.push({ row, box, trips: trips === "" ? new Fraction(1) : new Fraction(trips), ...(month !== undefined && { month }) });
      else found.push({ row, problem });
    }
    problems.push(...found);
  }
  return { log: { days, byTrips }, problems };
}

/** A day of which nothing is known: weighs by conditions, each level, step, subset alike. */
export const noLog: Log = { days: [{ row: 0, box: new Map(), trips: new Fraction(1) }], byTrips: false };

/** How many trips some days are, in all and by what is answered on them. */
export interface Tally<L> {
  readonly trips: Fraction;
  /** Adds up to `trips`. What only single values of a continuous measure reach stands there with 0. */
  readonly spread: ReadonlyMap<L, Fraction>;
  /** Days by all that may be answered on them. */
  readonly cases: readonly { readonly leaves: ReadonlySet<L>; readonly trips: Fraction }[];
}
export interface Tallies<L> {
  readonly all: Tally<L>;
  /** By month, 1 to 12, for days whose month is known. */
  readonly months: ReadonlyMap<number, Tally<L>>;
}

/** Trips on which something is so: as spread, for certain, and at most. `sure ≤ trips ≤ possible`. */
export interface Often {
  readonly trips: Fraction;
  readonly sure: Fraction;
  readonly possible: Fraction;
}

export function often<L>({ spread, cases }: Tally<L>, wanted: (leaf: L) => boolean): Often {
  const sum = (parts: Iterable<Fraction>): Fraction => [...parts].reduce((total, part) => total.add(part), new Fraction(0));
  return {
    trips: sum([...spread].flatMap(([leaf, trips]) => (wanted(leaf) ? [trips] : []))),
    sure: sum(cases.flatMap(({ leaves, trips }) => ([...leaves].every(wanted) ? [trips] : []))),
    possible: sum(cases.flatMap(({ leaves, trips }) => ([...leaves].some(wanted) ? [trips] : []))),
  };
}

export type Leaf = readonly Outcome[];

/** Several picks' answers together, and how often each is given. */
export interface Weighing {
  readonly joint: Joint;
  /** Throws `OutOfBudget`. Every day has a budget of its own. */
  tally(log: Log): Tallies<Leaf>;
}

/** Throws `OutOfBudget`. Every pick must have its diagrams. */
export function weighing(answers: Answers, picks: readonly number[], fresh: () => Budget): Weighing {
  let budget = fresh();
  const spend: Budget = { spend: (...spent) => budget.spend(...spent) };
  const joint = together(answers, picks, spend);
  const keyOf = alikeKey(answers.model);
  const known = new Map<string, ReadonlyMap<Leaf, Fraction>>();
  const answered = (box: Box): ReadonlyMap<Leaf, Fraction> => {
    const key = keyOf(box);
    let chances = known.get(key);
    if (!chances) {
      budget = fresh();
      chances = leftOver(answers.model, joint, box, spend).chances;
      known.set(key, chances);
    }
    return chances;
  };
  return {
    joint,
    tally({ days }) {
      const all = counter();
      const months = new Map<number, ReturnType<typeof counter>>();
      for (const { box, trips, month } of days) {
        const chances = answered(box);
        all.add(chances, trips);
        if (month === undefined) continue;
        if (!months.has(month)) months.set(month, counter());
        months.get(month)!.add(chances, trips);
      }
      return {
        all: all.tally(),
        months: new Map([...months].sort(([a], [b]) => a - b).map(([month, counted]) => [month, counted.tally()])),
      };
    },
  };
}

/** How often each pick has each status on the days of a log; undefined: the budget did not do. Trips of the statuses add up to all trips. */
export function coverageBy(
  answers: Answers,
  log: Log,
  fresh: () => Budget,
): readonly { readonly pick: number; readonly statuses: Readonly<Record<Status, Often>> | undefined }[] {
  return answers.model.picks.map(({ index }) => {
    const tally = answers.picks[index] && withinBudget(() => weighing(answers, [index], fresh).tally(log).all);
    return {
      pick: index,
      statuses:
        tally &&
        (Object.fromEntries(statuses.map((status) => [status, often(tally, ([outcome]) => outcome!.status === status)])) as Record<
          Status,
          Often
        >),
    };
  });
}

/** Adds up days that are answered alike before it works with them one by one. */
function counter(): { readonly add: (chances: ReadonlyMap<Leaf, Fraction>, trips: Fraction) => void; readonly tally: () => Tally<Leaf> } {
  const alike = new Map<ReadonlyMap<Leaf, Fraction>, Fraction>();
  return {
    add: (chances, trips) => void alike.set(chances, (alike.get(chances) ?? new Fraction(0)).add(trips)),
    tally: () => {
      const spread = new Map<Leaf, Fraction>();
      let all = new Fraction(0);
      for (const [chances, trips] of alike) {
        all = all.add(trips);
        for (const [leaf, chance] of chances) spread.set(leaf, (spread.get(leaf) ?? new Fraction(0)).add(chance.mul(trips)));
      }
      return { trips: all, spread, cases: [...alike].map(([chances, trips]) => ({ leaves: new Set(chances.keys()), trips })) };
    },
  };
}

function whyRefused(answers: Answers, box: Box, fresh: () => Budget): string | undefined {
  const looked = withinBudget(() => ({ found: findPossible(answers, box, fresh()) }));
  return looked && looked.found === undefined ? whyNothingLeft(answers, box) : undefined;
}

function isOfDays({ domain }: Condition): boolean {
  return domain.kind === "days";
}

/** `2027-04-15`, `apr 15`: 4. */
function monthIn(text: string): number | undefined {
  const day = readDayOrDate(text);
  return day === undefined ? undefined : monthAt(day);
}

/** A decimal, 0 or more. */
export function isAmount(text: string): boolean {
  return /^\d{1,12}(\.\d{1,6})?$/.test(text);
}
