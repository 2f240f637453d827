/** The clock: the day of today, and what is a day. Knows neither Node nor the DOM. */
import { readDate } from "../model/calendar.js";

/** The day where the machine is: `2027-04-15`. */
export function today(now = new Date()): string {
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
}

/** Is it a day of the calendar, written `2027-04-15`? */
export function isDay(text: string): boolean {
  return text === text.trim() && readDate(text) !== undefined;
}
