/**
 * Days, dates and times of the day.
 *
 *     jan 1 ▶ 0 … feb 28 ▶ 58, feb 29 ▶ 59, mar 1 ▶ 60 … dec 31 ▶ 365        00:00 ▶ 0 … 23:59 ▶ 1439
 *
 * A day of the year is one of 366, feb 29 like any other, so that `apr 15` means the same in every year. A date is a day of one year,
 * in the proleptic Gregorian calendar, written as ISO 8601 writes it: `2027-04-15`.
 */
import { months } from "../../grammar/months.js";

export const daysOfTheYear = 366;
export const minutesOfTheDay = 1440;

export interface CalendarDate {
  readonly year: number;
  /** From 1. */
  readonly month: number;
  readonly day: number;
}

const lengths = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
/** Days before each month in a year of 366. */
const starts = lengths.map((_, month) => lengths.slice(0, month).reduce((sum, length) => sum + length, 0));

/** The place of a day among the 366; undefined for a day that no year has. Months count from 1. */
export function dayIndex(month: number, day: number): number | undefined {
  const length = lengths[month - 1];
  return length !== undefined && day >= 1 && day <= length ? starts[month - 1]! + day - 1 : undefined;
}

/** `apr 15` */
export function printDay(index: number): string {
  const month = monthAt(index) - 1;
  return `${months[month]} ${index - starts[month]! + 1}`;
}

/** The month of a day of the year, from 1. */
export function monthAt(index: number): number {
  return starts.findLastIndex((start) => start <= index) + 1;
}

/** How many days a month can have, with its name: for messages about a day that does not exist. */
export function monthLength(month: number): { readonly name: string; readonly length: number } | undefined {
  const length = lengths[month - 1];
  return length === undefined ? undefined : { name: months[month - 1]!, length };
}

/** The first and the last day of a month given by its name, short or in full. */
export function monthNamed(text: string): { readonly first: string; readonly last: string } | undefined {
  const month =
    /^(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)$/.test(
      text,
    )
      ? monthOf(text.slice(0, 3))
      : -1;
  return month < 0 ? undefined : { first: `${months[month]} 1`, last: `${months[month]} ${lengths[month]}` };
}

/** The days that `4/1` may be: the month before the day, or after it. */
export function daysWithSlash(text: string): readonly string[] {
  const match = /^(\d{1,2})\/(\d{1,2})$/.exec(text);
  if (!match) return [];
  const [a, b] = [Number(match[1]), Number(match[2])];
  const indexes = [dayIndex(a, b), dayIndex(b, a)].filter((index) => index !== undefined);
  return [...new Set(indexes.map(printDay))];
}

/** Reads `apr 15`, in any case. */
export function readDay(text: string): number | undefined {
  const match = /^([a-z]{3}) +(\d{1,2})$/.exec(text.trim().toLowerCase());
  return match ? dayIndex(monthOf(match[1]!) + 1, Number(match[2])) : undefined;
}

/** Reads `apr 15`, or `2027-04-15` as that day of any year. */
export function readDayOrDate(text: string): number | undefined {
  const date = readDate(text);
  return date === undefined ? readDay(text) : dayIndex(date.month, date.day);
}

/** Reads `2027-04-15`; undefined where there is no such day (2027-02-29). */
export function readDate(text: string): CalendarDate | undefined {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text.trim());
  if (!match) return undefined;
  const [year, month, day] = [Number(match[1]), Number(match[2]), Number(match[3])] as const;
  if (dayIndex(month, day) === undefined || (month === 2 && day === 29 && !isLeap(year))) return undefined;
  return { year, month, day };
}

/** Whole days from one date to a later one, negative to an earlier one. */
export function daysBetween(from: CalendarDate, to: CalendarDate): number {
  return dayNumber(to) - dayNumber(from);
}

/** Reads `05:30` or `5:30`. */
export function readTime(text: string): number | undefined {
  const match = /^(\d{1,2}):(\d{2})$/.exec(text.trim());
  if (!match) return undefined;
  const [hour, minute] = [Number(match[1]), Number(match[2])];
  return hour < 24 && minute < 60 ? hour * 60 + minute : undefined;
}

export function printTime(minute: number): string {
  return `${String(Math.floor(minute / 60)).padStart(2, "0")}:${String(minute % 60).padStart(2, "0")}`;
}

function isLeap(year: number): boolean {
  return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
}

/** Days since the start of year 0. */
function dayNumber({ year, month, day }: CalendarDate): number {
  const before = year - 1;
  const leapDays = year > 0 ? 1 + Math.floor(before / 4) - Math.floor(before / 100) + Math.floor(before / 400) : 0;
  const place = dayIndex(month, day)! - (month > 2 && !isLeap(year) ? 1 : 0);
  return year * 365 + leapDays + place;
}

function monthOf(name: string): number {
  return months.findIndex((month) => month === name);
}
