/** Days and dates against the calendar of the runtime (ECMA-262: proleptic Gregorian, UTC). */
import { describe, expect, test } from "vitest";
import { dayIndex, daysBetween, printDay, printTime, readDate, readDay, readTime } from "../../src/model/calendar.js";

const dayLong = 86_400_000;

describe("days of the year", () => {
  test("366 of them, each in its place as in a leap year, and each prints as it reads", () => {
    for (let index = 0; index < 366; index++) {
      const date = new Date(Date.UTC(2024, 0, 1) + index * dayLong);
      expect(dayIndex(date.getUTCMonth() + 1, date.getUTCDate())).toBe(index);
      expect(readDay(printDay(index))).toBe(index);
    }
    expect(printDay(0)).toBe("jan 1");
    expect(printDay(59)).toBe("feb 29");
    expect(printDay(365)).toBe("dec 31");
  });

  test.each([
    [2, 30],
    [4, 31],
    [13, 1],
    [0, 1],
    [1, 0],
  ])("month %i has no day %i", (month, day) => {
    expect(dayIndex(month, day)).toBeUndefined();
  });
});

describe("dates", () => {
  test("the days between two are counted across leap years and centuries", () => {
    for (const [from, to] of [
      ["2026-02-01", "2027-02-01"],
      ["2024-02-28", "2024-03-01"],
      ["1999-12-31", "2000-03-01"],
      ["1900-02-28", "1900-03-01"],
      ["2027-04-15", "2027-04-15"],
      ["2028-03-01", "2027-03-01"],
      ["0001-01-01", "2027-01-01"],
    ] as const) {
      const expected = (Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / dayLong;
      expect(daysBetween(readDate(from)!, readDate(to)!)).toBe(expected);
    }
  });

  test("feb 29 is a date in leap years only", () => {
    expect(readDate("2028-02-29")).toEqual({ year: 2028, month: 2, day: 29 });
    expect(readDate("2027-02-29")).toBeUndefined();
    expect(readDate("1900-02-29")).toBeUndefined();
    expect(readDate("2000-02-29")).toBeDefined();
  });

  test.each(["2027-13-01", "2027-4-1", "apr 15", "2027-04-31", ""])("%s is no date", (text) => {
    expect(readDate(text)).toBeUndefined();
  });
});

test("times of the day", () => {
  expect(readTime("00:00")).toBe(0);
  expect(readTime("05:30")).toBe(330);
  expect(readTime("5:30")).toBe(330);
  expect(readTime("23:59")).toBe(1439);
  expect(readTime("24:00")).toBeUndefined();
  expect(readTime("12:60")).toBeUndefined();
  expect(printTime(330)).toBe("05:30");
});
