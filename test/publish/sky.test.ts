/** Sun and moon against published values, and what they fill in. */
import { describe, expect, test } from "vitest";
import { filledAt } from "../../src/publish/fill.js";
import { daylightAt, instantOf, moonAt, sunAt } from "../../src/publish/sky.js";
import { Body, Equator, Observer } from "astronomy-engine";
import { readShipped } from "./shelf.js";

describe("the sun", () => {
  // NREL/TP-560-34302 (Reda & Andreas), worked example, second-hand: 2003-10-17 12:30:30, UTC−7, 39.742476 N, 105.1786 W, 1830.14 m;
  // topocentric zenith without refraction 50.127954° (the published 50.111622° less what the air bends), azimuth 194.340241°.
  test("stands where the worked example of NREL says", () => {
    const at = instantOf({ date: "2003-10-17", minute: 12 * 60 + 30.5, zone: -420 });
    const { height, azimuth } = sunAt(at, { latitude: 39.742476, longitude: -105.1786 }, 1830.14);
    expect(90 - height).toBeCloseTo(50.127954, 2);
    expect(azimuth).toBeCloseTo(194.340241, 2);
  });

  // Meeus, Astronomical Algorithms, example 25.a, second-hand: 1992-10-13 0h TD, right ascension 198.38083°, declination −7.78507°.
  test("has the right ascension and declination of Meeus' example", () => {
    const seconds = 59; // TD − UT in 1992, from memory
    const { ra, dec } = Equator(Body.Sun, new Date(Date.UTC(1992, 9, 13) - seconds * 1000), new Observer(0, 0, 0), true, true);
    expect(ra * 15).toBeCloseTo(198.38083, 1);
    expect(dec).toBeCloseTo(-7.78507, 1);
  });

  // NREL/TP-560-34302, table A2.1, second-hand: 1994-01-02, 35° N, longitude 0, sunrise 7:08:12.8, sunset 16:59:55.9. Its sunrise is at −0.8333°.
  test.each([
    ["sunrise", 7 * 60 + 8 + 12.8 / 60],
    ["sunset", 16 * 60 + 59 + 55.9 / 60],
  ])("%s is when the table of NREL says", (_, minute) => {
    expect(sunAt(instantOf({ date: "1994-01-02", minute, zone: 0 }), { latitude: 35, longitude: 0 }).height).toBeCloseTo(-0.8333, 1);
  });
});

test("the moon was full on 2000-01-21, when it was eclipsed, at 04:40 UTC (from memory)", () => {
  const { phase, lit } = moonAt(new Date("2000-01-21T04:40:00Z"));
  expect(phase).toBeCloseTo(180, 0);
  expect(lit).toBeGreaterThan(0.99);
});

test("a day has night, dawn, day, dusk and night", () => {
  const place = { latitude: 37.2, longitude: -79.9 };
  const light = [0, 6.25 * 60, 12 * 60, 20.5 * 60, 23 * 60].map((minute) =>
    daylightAt(instantOf({ date: "2027-05-20", minute, zone: -240 }), place),
  );
  expect(light).toEqual(["night", "dawn", "day", "dusk", "night"]);
});

test("a date, a time and a place fill what a book asks for, and nothing is filled without them", () => {
  const { model } = readShipped("blades.lore");
  const filled = filledAt(model, { date: "2027-05-20", minute: 20.5 * 60, zone: -240, place: { latitude: 37.2, longitude: -79.9 } });
  expect(filled.get("daylight")).toBe("dusk");
  expect(filled.get("day")).toBe("2027-05-20");
  expect(Number(filled.get("sun"))).toBeCloseTo(0, -1);
  expect([...filledAt(model, { zone: 0 })]).toEqual([]);
});
