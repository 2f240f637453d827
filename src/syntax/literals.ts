/**
 * Numbers, days, dates and times as people write them, read into how the language writes them.
 *
 *   "½" → 1/2     "1,200" → 1200     "15 april" → apr 15     "4/15/2027" → 2027-04-15     "5:30 pm" → 17:30
 *
 * Each reader gives every reading that exists: none for `feb 30`, two for `4/5/2027`.
 */
import { months } from "../../grammar/months.js";

const vulgar: Readonly<Record<string, string>> = { "¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8" };

/** More signs than any number that is measured, counted or said. */
export const longestNumber = 40;

/** The number in plain digits: `-90`, `4.5`, `3/8`, `1 1/2`. None where the fraction is over nought, or where it is too long. */
export function readNumber(image: string): readonly string[] {
  if (image.length > longestNumber) return [];
  const plain = image
    .replace(/[−–]/, "-")
    .replaceAll(",", "")
    .replace(/[ \t]*([¼½¾⅛⅜⅝⅞])/, (_, sign: string) => ` ${vulgar[sign]}`)
    .replace(/(^-?) /, "$1")
    .replace(/^(-?)\./, "$10.")
    .replace(/[ \t]+/, " ");
  return /\/0+$/.test(plain) ? [] : [plain];
}

/** `apr 15`. February has 29 days: a day of any year. */
export function readDay(image: string): readonly string[] {
  const name = /\p{L}{3}/u.exec(image)?.[0].toLowerCase();
  const month = months.findIndex((one) => one === name);
  const day = Number(/\d+/.exec(image)?.[0]);
  return month >= 0 && day >= 1 && day <= daysIn(2000, month + 1) ? [`${months[month]} ${day}`] : [];
}

export function dayOf(written: string): { readonly month: number; readonly day: number } {
  const [name, day] = written.split(" ");
  return { month: months.findIndex((one) => one === name) + 1, day: Number(day) };
}

/** `2027-04-15`. Year first, or year last with the month before or after the day. */
export function readDate(image: string): readonly string[] {
  const [first, second, third] = image.split(/[-/.]/) as [string, string, string];
  const orders =
    first.length === 4
      ? [[first, second, third]]
      : third.length === 4
        ? [
            [third, first, second],
            [third, second, first],
          ]
        : [];
  const readings = orders
    .filter(
      ([year, month, day]) =>
        Number(month) >= 1 && Number(month) <= 12 && Number(day) >= 1 && Number(day) <= daysIn(Number(year), Number(month)),
    )
    .map(([year, month, day]) => `${year}-${month!.padStart(2, "0")}-${day!.padStart(2, "0")}`);
  return [...new Set(readings)];
}

/** `05:30`, of 24 hours. */
export function readTime(image: string): readonly string[] {
  const [, hours, minutes, half] = /^(\d+):(\d+)[ \t]*([ap])?/i.exec(image)!;
  const written = Number(hours);
  if (Number(minutes) > 59) return [];
  if (half === undefined) return written <= 23 ? [`${hours!.padStart(2, "0")}:${minutes}`] : [];
  if (written < 1 || written > 12) return [];
  return [`${String((written % 12) + (half.toLowerCase() === "p" ? 12 : 0)).padStart(2, "0")}:${minutes}`];
}

function daysIn(year: number, month: number): number {
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  return month === 2 ? (leap ? 29 : 28) : [4, 6, 9, 11].includes(month) ? 30 : 31;
}
