/**
 * The books that ship: each checks clean and is laid out as `format` does it, and they say what they are meant to say.
 *
 *     rules/**.lore ──check──▶ nothing found, nothing left undecided
 *                   ──ask a day──▶ the facts below, each with where it is from
 */
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import type { Outcome } from "../src/analysis/outcome.js";
import { answersAt } from "../src/analysis/point.js";
import type { Model } from "../src/model/model.js";
import { resolve } from "../src/model/resolve.js";
import { parse } from "../src/syntax/parse.js";
import { format } from "../src/syntax/print.js";
import { pinned, readGiven } from "../src/answer/given.js";
import { check, type Texts } from "./check.js";

const rules = join(dirname(fileURLToPath(import.meta.url)), "..", "rules");
const shelf: Texts = Object.fromEntries(
  readdirSync(rules, { recursive: true, encoding: "utf8" })
    .filter((file) => file.endsWith(".lore"))
    .map((file) => [file.split(sep).join("/"), readFileSync(join(rules, file), "utf8")]),
);
/** A day in the season of every book that has one. */
const on = "2027-04-15";

/** Common practice in the trade: no source. */
const practice = "common practice, no source";

describe("every book that ships", () => {
  test("is here", () => {
    expect(Object.keys(shelf).sort()).toEqual(
      expect.arrayContaining([
        "blades.lore",
        "common/cautions.lore",
        "common/conditions.lore",
        "hollin-cove.lore",
        "inshore.lore",
        "reservoir.lore",
        "river.lore",
      ]),
    );
  });

  test.each(Object.keys(shelf))("%s checks clean", { timeout: 60_000 }, (path) => {
    const { findings, analysis } = check(shelf, { root: path, on });
    expect(findings.map(({ code, path, title, message }) => `${path}: ${code}: ${title}. ${message}`)).toEqual([]);
    expect(analysis.undecided).toEqual([]);
  });

  test.each(Object.keys(shelf))("%s is laid out as it should be", (path) => {
    expect(format(shelf[path]!)).toBe(shelf[path]);
  });

  // Some say it once for all at their head instead.
  const sourced = Object.keys(shelf).filter((path) => !shelf[path]!.includes("Where no source is named, it is common practice"));
  test.each(sourced)("%s says of every pattern where it is from", (path) => {
    const { model } = read(path);
    expect(model.patterns.filter(({ see }) => see.length === 0).map(({ title }) => title)).toEqual([]);
  });

  test("has promises, if it recommends anything", () => {
    const without = Object.keys(shelf).filter((path) => {
      const { books, patterns, promises } = read(path).model;
      const last = books.length - 1;
      return patterns.some(({ book }) => book === last) && !promises.some(({ book }) => book === last);
    });
    expect(without).toEqual([]);
  });
});

/** One day: what is different from the usual one, and what some picks answer there, places by ` > `, options of one place by ` or `. */
interface Fact {
  readonly title: string;
  readonly source: string;
  readonly given: Readonly<Record<string, string>>;
  readonly answers: Readonly<Record<string, string>>;
}

describe("the reservoir", () => {
  /** In this water, on this day, nothing is out of the ordinary: a soft plastic, then a jig. */
  const usual = {
    clarity: "stained",
    "water-temp": "65 °F",
    depth: "8 ft",
    cover: "none",
    sky: "broken",
    daylight: "daytime",
    sun: "30 deg",
    wind: "5 mph",
    day: "may 1",
    mat: "open",
    bottom: "sand",
    forage: "none",
    "forage-length": "5 in",
    front: "settled",
    traffic: "quiet",
    strikes: "firm",
  };
  const summer = { day: "jul 1", "water-temp": "78 °F" };
  const spinnerbait = { ...summer, daylight: "dusk" };

  facts("reservoir.lore", usual, [
    {
      title: "at night one large round blade of half an ounce",
      source: practice,
      given: { ...summer, daylight: "night" },
      answers: { family: "spinnerbait > worm", blade: "round", number: "6 > 5", setup: "single > tandem", weight: "1/2 oz" },
    },
    {
      title: "clear and night: light overrides clarity",
      source: practice,
      given: { ...summer, daylight: "night", clarity: "very-clear", wind: "0 mph" },
      answers: { family: "spinnerbait > worm", blade: "round", color: "black > dark-red" },
    },
    {
      title: "sun and clear water: silver",
      source: practice,
      given: { ...summer, clarity: "clear", sky: "bright" },
      answers: { finish: "silver > gold", blade: "leaf > teardrop" },
    },
    {
      title: "clouds: gold",
      source: practice,
      given: { ...spinnerbait, clarity: "clear", sky: "overcast" },
      answers: { finish: "gold > silver" },
    },
    {
      title: "mud: copper or painted",
      source: practice,
      given: { ...spinnerbait, clarity: "muddy", sky: "overcast" },
      answers: { finish: "copper > painted" },
    },
    {
      title: "food of 2 to 3 inches: number 3 to 4",
      source: practice,
      given: { ...spinnerbait, "forage-length": "2.5 in" },
      answers: { number: "3 > 4" },
    },

    { title: "0 to 3 feet: 1/4 oz", source: practice, given: { depth: "3 ft" }, answers: { weight: "1/4 oz > 3/8 oz" } },
    { title: "3 to 6 feet: 3/8 oz", source: practice, given: { depth: "6 ft" }, answers: { weight: "3/8 oz > 1/4 oz" } },
    { title: "6 to 10 feet: 1/2 oz", source: practice, given: { depth: "10 ft" }, answers: { weight: "1/2 oz > 3/8 oz" } },
    { title: "deeper: 3/4 to 1 oz", source: practice, given: { depth: "11 ft" }, answers: { weight: "3/4 oz > 1 oz" } },
    {
      title: "wind of 10 mph is not above 10 mph",
      source: practice,
      given: { wind: "10 mph" },
      answers: { weight: "1/2 oz > 3/8 oz", seen: "stained" },
    },
    {
      title: "wind above 10 mph: one up, and the chop one step less clear",
      source: practice,
      given: { wind: "11 mph" },
      answers: { weight: "3/4 oz > 1/2 oz", seen: "dirty" },
    },
    {
      title: "muddy and deep: a round blade lifts, so a quarter ounce more",
      source: practice,
      given: { ...spinnerbait, clarity: "muddy" },
      answers: { blade: "round > teardrop", weight: "3/4 oz > 1/2 oz" },
    },

    { title: "visibility under 2 feet: larger", source: practice, given: { clarity: "dirty" }, answers: { size: "larger" } },
    { title: "very clear: one down", source: practice, given: { clarity: "very-clear" }, answers: { size: "smaller" } },
    {
      title: "after a cold front: smaller and slower",
      source: practice,
      given: { ...spinnerbait, front: "cold-front" },
      answers: { size: "smaller", retrieve: "slow-roll" },
    },
    {
      title: "pressured (small) and dirty (large): keep the profile, slow down",
      source: practice,
      given: { ...spinnerbait, traffic: "busy", clarity: "dirty" },
      answers: { size: "larger", retrieve: "slow-roll" },
    },

    {
      title: "4 to 8 feet of visibility: natural, after the food",
      source: practice,
      given: { clarity: "clear", forage: "shad, crayfish" },
      answers: { color: "natural > white-pearl > brown-orange > green-orange" },
    },
    { title: "2 to 4 feet: white and chartreuse", source: practice, given: {}, answers: { color: "white-chartreuse" } },
    {
      title: "under 1 foot: black and blue, or solid chartreuse",
      source: practice,
      given: { clarity: "muddy" },
      answers: { color: "black-blue or chartreuse" },
    },
    {
      title: "between them the food decides: sunfish, green and orange",
      source: practice,
      given: { clarity: "dirty", forage: "sunfish, crayfish" },
      answers: { color: "green-orange > brown-orange" },
    },

    {
      title: "below 45 °F: blade bait, jigging spoon, small jig, even on rock",
      source: practice,
      given: { "water-temp": "44 °F", day: "jan 20", bottom: "rock" },
      answers: { family: "blade-bait > spoon > small-jig" },
    },
    {
      title: "45 to 50 °F: a jerkbait with long pauses",
      source: practice,
      given: { "water-temp": "45 °F", day: "mar 1" },
      answers: { family: "jerkbait > small-jig", retrieve: "long-pauses" },
    },
    {
      title: "50 to 60 °F before the spawn: lipless or flat crankbait, spinnerbait, jig, slow-rolled",
      source: practice,
      given: { "water-temp": "52 °F", day: "apr 1" },
      answers: { family: "lipless > crankbait > spinnerbait > jig", retrieve: "slow-roll", reel: "about 5:1 to 6:1" },
    },
    { title: "60 to 68 °F, the spawn: soft plastics", source: practice, given: {}, answers: { family: "soft-plastic > jig" } },
    {
      title: "68 to 75 °F: swim jig",
      source: practice,
      given: { "water-temp": "70 °F", day: "jun 1" },
      answers: { family: "swim-jig > topwater" },
    },
    {
      title: "above 80 °F at midday: deeper than 10 feet, deep crankbait, worm",
      source: practice,
      given: { "water-temp": "84 °F", day: "jul 1", depth: "14 ft" },
      answers: { family: "deep-crankbait > worm" },
    },
    {
      title: "above 80 °F at dawn: topwater",
      source: practice,
      given: { "water-temp": "84 °F", day: "jul 1", daylight: "dawn" },
      answers: { family: "topwater > swim-jig" },
    },
    {
      title: "fall, 75 to 60 °F: moving baits",
      source: practice,
      given: { day: "oct 10" },
      answers: { family: "crankbait > spinnerbait > swim-jig" },
    },
    {
      title: "matted grass: hollow frog or punch rig, braid, a heavy rod",
      source: practice,
      given: { ...summer, cover: "grass", mat: "matted" },
      answers: { family: "frog > punch-rig", line: "50 to 65 lb braid", rod: "heavy" },
    },
    {
      title: "a punch rig weighs an ounce",
      source: practice,
      given: { cover: "grass", mat: "matted" },
      answers: { family: "punch-rig", weight: "1 oz" },
    },
    {
      title: "rock: football jig, crankbait",
      source: practice,
      given: { bottom: "rock" },
      answers: { family: "football-jig > crankbait" },
    },
    {
      title: "calm and very clear: a finesse worm on thin line",
      source: practice,
      given: { clarity: "very-clear", wind: "3 mph" },
      answers: { family: "finesse-worm", rod: "spinning", line: "6 to 8 lb fluorocarbon", reel: "spinning reel" },
    },
    {
      title: "clear, windy, above 60 °F: burned, on a fast reel",
      source: practice,
      given: { ...spinnerbait, clarity: "clear", wind: "12 mph" },
      answers: { retrieve: "burn > steady", reel: "7:1 and up" },
    },
    {
      title: "wood: bump and pause",
      source: practice,
      given: { ...spinnerbait, cover: "wood" },
      answers: { retrieve: "bump-and-pause > slow-roll", blade: "round > teardrop" },
    },
    {
      title: "short strikes in open water: a trailer hook",
      source: practice,
      given: { ...spinnerbait, strikes: "short" },
      answers: { hook: "trailer-hook" },
    },
    {
      title: "none in dense cover",
      source: practice,
      given: { ...spinnerbait, strikes: "short", cover: "wood" },
      answers: { hook: "single-hook" },
    },
    {
      title: "muddy and hot: clarity picks the blade, temperature the speed",
      source: practice,
      given: { ...spinnerbait, clarity: "muddy" },
      answers: { blade: "round > teardrop", retrieve: "steady", trailer: "wide" },
    },
    {
      title: "muddy and grass: leaf in back or a compact round, else a jig",
      source: practice,
      given: { ...summer, clarity: "muddy", cover: "grass" },
      answers: { family: "spinnerbait > jig", blade: "leaf > round", setup: "tandem" },
    },

    // Habitat suitability models of both basses: feeding climbs from 10 to 20 °C, is flat from 21 to 27 °C, falls above. Seen in the
    // sources' own text. 49 °F is 9.4 °C, 50 °F 10 °C, 68 °F 20 °C, 70 °F 21.1 °C, 80 °F 26.7 °C, 81 °F 27.2 °C.
    ...(
      [
        ["49 °F", "shy"],
        ["50 °F", "willing"],
        ["68 °F", "willing"],
        ["70 °F", "eager"],
        ["80 °F", "eager"],
        ["81 °F", "willing"],
      ] as const
    ).map(([temperature, mood]) => ({
      title: `at ${temperature} they are ${mood}`,
      source: "habitat suitability models of both basses",
      given: { "water-temp": temperature, day: "may 1" },
      answers: { mood },
    })),
  ]);
});

describe("the cove", () => {
  const usual = {
    clarity: "stained",
    "water-temp": "78 °F",
    depth: "8 ft",
    cover: "none",
    sky: "broken",
    daylight: "dusk",
    sun: "30 deg",
    wind: "5 mph",
    day: "jul 1",
    mat: "open",
    bottom: "sand",
    forage: "crayfish",
    "forage-length": "5 in",
    front: "settled",
    traffic: "quiet",
    strikes: "firm",
    spot: "shore",
  };
  // The county, its notice and the shop's log are invented.
  facts("hollin-cove.lore", usual, [
    {
      title: "is open on April 19",
      source: "invented",
      given: { day: "apr 19", "water-temp": "52 °F" },
      answers: { family: "lipless > crankbait > spinnerbait > jig" },
    },
    { title: "is open again on June 1", source: "invented", given: { day: "jun 1" }, answers: { family: "spinnerbait > worm" } },
    { title: "has no lead up to half an ounce", source: "invented", given: {}, answers: { weight: "1/2 oz > 3/8 oz", metal: "lead-free" } },
    {
      title: "has lead above",
      source: "invented",
      given: { depth: "12 ft" },
      answers: { weight: "3/4 oz > 1 oz", metal: "lead-free > lead" },
    },
    { title: "has springs", source: "invented", given: { spot: "springs" }, answers: { family: "swim-jig > jig" } },
    { title: "has crayfish of its own", source: "invented", given: { clarity: "dirty" }, answers: { color: "brick-red" } },
  ]);

  test.each(["apr 20", "may 3", "may 31"])("says nothing at all on %s", (day) => {
    const { model, answers } = ask("hollin-cove.lore", { ...usual, day, "water-temp": "64 °F" });
    expect(model.picks.filter(({ judgement }) => !judgement).map(({ name }) => [name, answers[name]!.status])).toEqual(
      model.picks.filter(({ judgement }) => !judgement).map(({ name }) => [name, "no advice"]),
    );
  });
});

describe("the river", () => {
  const usual = {
    species: "smallmouth",
    "water-temp": "65 °F",
    current: "slow",
    stage: "6 ft",
    trend: "steady",
    turbidity: "20 NTU",
    barometer: "30 inHg",
    depth: "5 ft",
    daylight: "daytime",
    day: "may 1",
  };
  facts("river.lore", usual, [
    // Minnesota Department of Natural Resources, second-hand: walleye spawn most at 42 to 50 °F.
    ...(
      [
        ["41.9 °F", "not-yet"],
        ["42 °F", "spawning"],
        ["50 °F", "spawning"],
        ["50.1 °F", "over"],
      ] as const
    ).map(([temperature, phase]) => ({
      title: `walleye at ${temperature}: ${phase}`,
      source: "Minnesota Department of Natural Resources, second-hand",
      given: { species: "walleye", "water-temp": temperature },
      answers: { phase },
    })),
    // Edwards 1983: smallmouth spawn at 12.8 to 21.0 °C. Wrenn 1984: nests at 15 to 26 °C, most at 18 to 22 °C.
    ...(
      [
        ["12.7 °C", "not-yet"],
        ["12.8 °C", "spawning"],
        ["21 °C", "spawning"],
        ["22 °C", "spawning"],
        ["22.1 °C", "over > spawning"],
        ["26 °C", "over > spawning"],
        ["26.1 °C", "over"],
      ] as const
    ).map(([temperature, phase]) => ({
      title: `smallmouth at ${temperature}: ${phase}`,
      source: "Edwards 1983, Wrenn 1984",
      given: { "water-temp": temperature },
      answers: { phase },
    })),
    {
      title: "current takes a small leaf, which holds its depth",
      source: practice,
      given: { current: "medium", "water-temp": "75 °F" },
      answers: { bait: "spinnerbait > crankbait", blade: "leaf > teardrop" },
    },
    { title: "nothing over the banks", source: "invented", given: { stage: "14 ft" }, answers: { bait: "", weight: "", color: "" } },
  ]);
});

describe("inshore", () => {
  const usual = {
    species: "redfish",
    tide: "high",
    wind: "8 kn",
    "water-temp": "75 °F",
    clarity: "clear",
    cover: "none",
    depth: "3 ft",
    daylight: "daytime",
    stand: "shore",
  };
  facts("inshore.lore", usual, [
    // 10 mph are 4.4704 m/s, 1 kn is 1852/3600 m/s (NIST SP 811): 10 mph are 8.69 kn.
    {
      title: "8 knots are no chop, for they are less than 10 mph",
      source: "NIST SP 811",
      given: {},
      answers: { seen: "clear", weight: "1/8 oz > 1/4 oz" },
    },
    { title: "9 knots are one", source: "NIST SP 811", given: { wind: "9 kn" }, answers: { seen: "stained", weight: "1/4 oz > 3/8 oz" } },
    {
      title: "three kinds of fish meet on a jig",
      source: practice,
      given: { species: "redfish, seatrout, flounder" },
      answers: { bait: "jig" },
    },
    {
      title: "nothing in a gale, 34 knots by the Beaufort scale",
      source: "World Meteorological Organization, second-hand",
      given: { wind: "34 kn" },
      answers: { bait: "", place: "", color: "", leader: "" },
    },
  ]);
});

function facts(path: string, usual: Readonly<Record<string, string>>, list: readonly Fact[]): void {
  test.each(list)("$title ($source)", ({ given, answers: expected }) => {
    const { model, answers } = ask(path, { ...usual, ...given });
    const words = ({ places }: Outcome, pick: string): string => {
      const { options } = model.picks.find(({ name }) => name === pick)!;
      return places.map((place) => place.map((option) => options[option]!.text).join(" or ")).join(" > ");
    };
    expect(Object.fromEntries(Object.keys(expected).map((pick) => [pick, words(answers[pick]!, pick)]))).toEqual(expected);
  });
}

const models = new Map<string, Model>();

function read(path: string): { readonly model: Model } {
  let model = models.get(path);
  if (!model) {
    model = resolve(
      parse(shelf[path]!, path),
      (other) => (other in shelf ? { text: shelf[other]! } : { problem: "there is no such file" }),
      { on },
    ).model;
    models.set(path, model);
  }
  return { model };
}

/** Every pick's answer on a day on which everything is known. */
function ask(
  path: string,
  day: Readonly<Record<string, string>>,
): { readonly model: Model; readonly answers: Readonly<Record<string, Outcome>> } {
  const { model } = read(path);
  const reading = readGiven(model, Object.entries(day));
  if ("problems" in reading) throw new Error(JSON.stringify(reading.problems));
  const point = model.axes.map(({ index, condition }) => {
    const position = pinned(reading.given.box, index);
    if (position === undefined) throw new Error(`${model.conditions[condition]!.name} is not given`);
    return position;
  });
  return { model, answers: Object.fromEntries(answersAt(model, point).map(({ outcome }, pick) => [model.picks[pick]!.name, outcome])) };
}
