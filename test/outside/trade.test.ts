/**
 * Published values of the trade, told as books: what the sources print is what the book answers, and where printed figures leave a crack
 * or overlap by their rounding, the checker says so.
 *
 * How far each source was followed: S, seen in its own text; 2, seen second-hand; M, from memory. Waters and shops are invented.
 */
import { Fraction } from "fraction.js";
import { describe, expect, test } from "vitest";
import { answersAt } from "../../src/analysis/point.js";
import type { Model } from "../../src/model/model.js";
import { readValue } from "../../src/model/points.js";
import { check, codes, type Checked } from "../check.js";

/** What a pick says where every condition has the value given: its options by place, or its status. */
function answer(model: Model, pick: string, given: Readonly<Record<string, string>>): string {
  const point: number[] = [];
  for (const condition of model.conditions) {
    const reading = readValue(condition, model.axes, given[condition.name]!);
    if ("problem" in reading) throw new Error(reading.problem);
    for (const { axis, position } of reading.positions) point[axis] = position;
  }
  const asked = model.picks.find(({ name }) => name === pick)!;
  const { status, places } = answersAt(model, point)[asked.index]!.outcome;
  return places.length === 0
    ? status
    : places.map((place) => place.map((option) => asked.options[option]!.text).join(" or ")).join(", then ");
}

function ofCode({ findings }: Checked, code: string) {
  return findings.filter((finding) => finding.code === code);
}

describe("temperatures as printed in both scales (computed from °F = 9/5 °C + 32, NIST SP 811 B.9, and rounded to two places)", () => {
  const printed = [
    ["45", "7.22"],
    ["50", "10"],
    ["55", "12.78"],
    ["60", "15.56"],
    ["68", "20"],
    ["70", "21.11"],
    ["80", "26.67"],
    ["90", "32.22"],
  ] as const;
  const exact = ["50", "68"];
  test.each(printed)(
    "below %s °F and at least %s °C: a clean cut where the figures are exact, else a hairline of their rounding",
    (fahrenheit, celsius) => {
      const checked = check(`book "Two scales"
condition water-temp: 33 to 95 °F
pick speed: slow, fast
pattern "Below, in Fahrenheit" go with speed slow when water-temp is below ${fahrenheit} °F
pattern "From there, in Celsius" go with speed fast when water-temp is at least ${celsius} °C\n`);
      const hairlines = ofCode(checked, "hairline");
      if (exact.includes(fahrenheit)) return expect(codes(checked.findings)).toEqual([]);
      // Rounded up there is a crack, rounded down an overlap; either is no wider than half of the last place printed, 0.009 °F.
      const limit = new Fraction(celsius).mul(9, 5).add(32);
      const kind = limit.compare(fahrenheit) > 0 ? "gap" : "conflict";
      expect(hairlines.map(({ title }) => title)).toEqual([`A hairline ${kind}`]);
      expect(codes(checked.findings)).toContain(kind);
      const width = limit.sub(fahrenheit).abs();
      expect(width.compare("0.009")).toBeLessThanOrEqual(0);
      expect(hairlines[0]!.share).toBe(width.div(62).toFraction());
    },
  );
});

describe("sinker weights as printed in ounces and grams (computed from the exact ounce, NIST Handbook 44 C, and rounded to three places)", () => {
  const printed = [
    ["1/8 oz", "3.544 g"],
    ["1/4 oz", "7.087 g"],
    ["3/8 oz", "10.631 g"],
    ["1/2 oz", "14.175 g"],
    ["3/4 oz", "21.262 g"],
  ] as const;
  test("options in mixed units stand in order of size, each printed gram beside its ounce", () => {
    const { model, findings } = check(`book "Weights"
condition clarity: clear, muddy
pick weight: ${[...printed].reverse().flat().join(", ")}
fall back on weight 3/4 oz\n`);
    expect(codes(findings.filter(({ severity }) => severity === "error"))).toEqual([]);
    const order = printed.flatMap(([ounces, grams]) =>
      new Fraction(grams.split(" ")[0]!).compare(new Fraction(ounces.split(" ")[0]!).mul("28.349523125")) < 0
        ? [grams, ounces]
        : [ounces, grams],
    );
    expect(model.picks[0]!.options.map(({ text }) => text)).toEqual(order);
  });
  test.each(printed)("a lure of %s read as %s falls where the ounce does, to half of the last place printed", (ounces, grams) => {
    const { model } = check(`book "Weighed"
condition lure: 0 to 40 g
pick rod: light, exact, heavy
pattern "Lighter" go with rod light when lure is lighter than ${ounces}
pattern "Just so" go with rod exact when lure is ${ounces}
pattern "Heavier" go with rod heavy when lure is heavier than ${ounces}\n`);
    const number = new Fraction(grams.split(" ")[0]!);
    expect(answer(model, "rod", { lure: ounces })).toBe("exact");
    expect(answer(model, "rod", { lure: `${number.sub("0.0005").toString()} g` })).toBe("light");
    expect(answer(model, "rod", { lure: `${number.add("0.0005").toString()} g` })).toBe("heavy");
  });
});

describe("Carlson 1977, A trophic state index for lakes (formula 2: TSI = 60 − 14.41 ln(Secchi depth in m); pairs M: 64 m is 0, each halving 10 more)", () => {
  const pairs = [
    [64, 0],
    [32, 10],
    [16, 20],
    [8, 30],
    [4, 40],
    [2, 50],
    [1, 60],
    [0.5, 70],
  ] as const;
  const formula = (depth: number): number => 60 - 14.41 * Math.log(depth);
  const within = 0.08;
  // The book tells the published pairs; the depth is kept in feet, as a shop here would.
  const bands = pairs.map(([depth, tsi], i) => {
    const next = pairs[i + 1]?.[0];
    return `pattern "From ${tsi}" go with tsi ${tsi} when ${[...(i === 0 ? [] : [`secchi is at most ${depth} m`]), ...(next === undefined ? [] : [`secchi is above ${next} m`])].join(" and ")}`;
  });
  const { model, findings } = check(`book "Clarity by disk"
condition secchi: 0.5 to 210 ft
pick tsi: in order ${pairs.map(([, tsi]) => tsi).join(", ")}
${bands.join("\n")}\n`);

  test.each(pairs)("the formula at %d m is %d, within 0.08", (depth, tsi) => {
    expect(Math.abs(formula(depth) - tsi)).toBeLessThanOrEqual(within);
  });

  test("the book is complete and without conflict", () => {
    expect(codes(findings.filter(({ severity }) => severity === "error"))).toEqual([]);
  });

  test("at every inch of depth the book names the ten that the formula falls into, unless it is within 0.08 of the next", () => {
    let compared = 0;
    for (let inches = 20; inches <= 2500; inches++) {
      const exact = formula(inches * 0.0254);
      if (Math.abs(exact - 10 * Math.round(exact / 10)) <= within) continue;
      const ten = Math.min(70, Math.max(0, 10 * Math.floor(exact / 10)));
      expect([inches, answer(model, "tsi", { secchi: `${inches} in` })]).toEqual([inches, String(ten)]);
      compared++;
    }
    expect(compared).toBeGreaterThan(2400);
  });
});

describe("the Beaufort scale in three units (WMO, 2: knots, miles per hour, meters per second, forces 1 to 8)", () => {
  const knots = [
    [1, 3],
    [4, 6],
    [7, 10],
    [11, 16],
    [17, 21],
    [22, 27],
    [28, 33],
    [34, 40],
  ] as const;
  const miles = [
    [1, 3],
    [4, 7],
    [8, 12],
    [13, 18],
    [19, 24],
    [25, 31],
    [32, 38],
    [39, 46],
  ] as const;
  const meters = [
    [0.3, 1.5],
    [1.6, 3.3],
    [3.4, 5.4],
    [5.5, 7.9],
    [8.0, 10.7],
    [10.8, 13.8],
    [13.9, 17.1],
    [17.2, 20.7],
  ] as const;
  const book = (
    unit: string,
    bands: readonly (readonly [number, number])[],
    condition: string,
  ): string => `book "Beaufort"\ncondition wind: ${condition}\npick force: calm, ${bands.map((_, i) => `f${i + 1}`).join(", ")}
pattern "Below" go with force calm when wind is below ${bands[0]![0]} ${unit}
${bands.map(([from, to], i) => `pattern "Force ${i + 1}" go with force f${i + 1} when wind from ${from.toFixed(unit === "m/s" ? 1 : 0)} ${unit} to ${to.toFixed(unit === "m/s" ? 1 : 0)} ${unit}`).join("\n")}\n`;

  test.each([
    ["kn", knots, 40, "1 kn"],
    ["mph", miles, 46, "1 mph"],
    ["m/s", meters, 20.7, "0.1 m/s"],
  ] as const)(
    "in %s: nothing is missing when it is read in the steps it is printed in; else there is a crack between every two forces",
    (unit, bands, high, step) => {
      expect(codes(check(book(unit, bands, `0 to ${high} ${unit}, to the nearest ${step}`)).findings)).toEqual([]);
      const loose = check(book(unit, bands, `0 to ${high} ${unit}`));
      expect(codes(loose.findings)).toEqual(["gap", "hairline"]);
      // Each crack between two forces is one step wide.
      const cracks = bands
        .slice(1)
        .reduce((sum, [from], i) => sum.add(new Fraction(from.toFixed(1))).sub(bands[i]![1].toFixed(1)), new Fraction(0));
      expect(ofCode(loose, "gap")[0]!.share).toBe(cracks.div(high.toFixed(1)).toFraction());
    },
  );

  test("every whole knot, read in the other two columns: what the book says is what plain arithmetic says, and shows where the printed columns differ", () => {
    const columns = [
      ["mph", 0.44704, miles, check(book("mph", miles, "0 to 46.5 mph")).model],
      ["m/s", 1, meters, check(book("m/s", meters, "0 to 20.8 m/s")).model],
    ] as const;
    const differing: string[] = [];
    for (const [i, [from, to]] of knots.entries())
      for (let knot = from; knot <= to; knot++)
        for (const [unit, metersPerSecond, bands, model] of columns) {
          const value = (knot * 1852) / 3600 / metersPerSecond;
          const force = bands.findIndex(([low, high]) => low <= value && value <= high);
          const said = answer(model, "force", { wind: `${knot} kn` });
          expect([knot, unit, said]).toEqual([knot, unit, force < 0 ? "gap" : `f${force + 1}`]);
          if (said !== `f${i + 1}`) differing.push(`${knot} kn in ${unit}: ${said}`);
        }
    // 3 kn is 1.54 m/s, between 1.5 and 1.6; 16 kn is 8.23 m/s, where force 5 has begun.
    expect(differing).toEqual(expect.arrayContaining(["3 kn in m/s: gap", "16 kn in m/s: f5"]));
    console.log(`Beaufort columns that differ from the one in knots: ${differing.join(", ")}`);
  });
});

describe("temperatures of fish", () => {
  const temperature = "condition water-temp: 33 to 95 °F, to the nearest 1 °F\n  rising is warmer, falling is colder\n";
  const spawning = `book "Spawning"
${temperature}situation smallmouth-spawn: water-temp from 12.8 °C to 21.0 °C
situation smallmouth-most: water-temp from 18 °C to 22 °C
situation smallmouth-seen: water-temp from 15 °C to 26 °C
situation spotted-spawn: water-temp from 55 °F to 73 °F
situation walleye-peak: water-temp from 42 °F to 50 °F
pick fish: walleye, smallmouth, spotted, none
`;

  test("smallmouth 12.8–21.0 °C (Edwards 1983, S) is 55.04–69.8 °F: of whole degrees 56 to 69", () => {
    const { model } = check(`${spawning}pattern "Spawn" go with fish smallmouth when smallmouth-spawn\nfall back on fish none\n`);
    const on = Array.from({ length: 63 }, (_, i) => 33 + i).filter(
      (degree) => answer(model, "fish", { "water-temp": `${degree} °F` }) === "smallmouth",
    );
    expect([on[0], on.at(-1), on.length]).toEqual([56, 69, 14]);
  });

  test("walleye peak at 42–50 °F (Minnesota DNR, 2), never at the same time as smallmouth: no conflict; spotted bass at 55–73 °F (habitat suitability model, S), all around smallmouth: the narrower wins", () => {
    const going = `pattern "Walleye" go with fish walleye when walleye-peak\npattern "Smallmouth" go with fish smallmouth when smallmouth-spawn\n`;
    expect(ofCode(check(`${spawning}${going}fall back on fish none\n`), "conflict")).toEqual([]);
    const both = check(`${spawning}${going}pattern "Spotted" go with fish spotted when spotted-spawn\nfall back on fish none\n`);
    expect(ofCode(both, "conflict")).toEqual([]);
    const spotted = Array.from({ length: 63 }, (_, i) => 33 + i).filter(
      (degree) => answer(both.model, "fish", { "water-temp": `${degree} °F` }) === "spotted",
    );
    expect(spotted).toEqual([55, 70, 71, 72, 73]);
    // A promise of spotted bass all over its stretch is broken at 14 degrees of smallmouth and, nothing else being said, at the other five.
    const promised = check(
      `${spawning}pattern "Smallmouth" go with fish smallmouth when smallmouth-spawn\nfall back on fish none\npromise "Spotted bass water": fish must be spotted when spotted-spawn\n`,
    );
    expect(ofCode(promised, "promise")[0]!.share).toBe("19/63");
  });

  test("the two smallmouth sources disagree at the top: most spawn at 18–22 °C (Wrenn 1984, S), which is within what he saw, 15–26 °C, but not within 12.8–21.0 °C", () => {
    const book = `${spawning}pattern "Most" go with fish smallmouth when smallmouth-most\nfall back on fish none\n`;
    const promise = (title: string, when: string): string => `promise "${title}": fish must not be smallmouth when not ${when}\n`;
    expect(ofCode(check(book + promise("Within what was seen", "smallmouth-seen")), "promise")).toEqual([]);
    const [broken] = ofCode(check(book + promise("Within the model", "smallmouth-spawn")), "promise");
    // 21.0 °C is 69.8 °F and 22 °C is 71.6 °F: 70 and 71 °F, of 63 degrees.
    expect(broken!.share).toBe("2/63");
    expect(broken!.example!["water-temp"]).toMatch(/^7[01] °F$/);
  });

  test("feeding climbs at 10–20 °C, is flat at 21–27 °C, falls above (both basses, S): printed in whole degrees, so complete when read in them, a hairline when not", () => {
    const book = (domain: string): string => `book "Feeding"
condition water-temp: ${domain}
pick feeding: little, climbing, flat, falling
pattern "Cold" go with feeding little when water-temp is below 10 °C
pattern "Climbs" go with feeding climbing when water-temp from 10 °C to 20 °C
pattern "Flat" go with feeding flat when water-temp from 21 °C to 27 °C
pattern "Falls" go with feeding falling when water-temp is above 27 °C\n`;
    expect(codes(check(book("0 to 35 °C, to the nearest 1 °C")).findings)).toEqual([]);
    const loose = check(book("0 to 35 °C"));
    expect(codes(loose.findings)).toEqual(["gap", "hairline"]);
    expect(ofCode(loose, "hairline")[0]!.where).toBe("water-temp is above 20 °C and water-temp is below 21 °C");
    // Read in whole degrees Fahrenheit the crack is one reading wide: 69 °F is 20.56 °C.
    expect(ofCode(check(book("33 to 95 °F, to the nearest 1 °F")), "gap")[0]!.example).toEqual({ "water-temp": "69 °F" });
  });
});

describe("cautions start where their sources say", () => {
  test("water of 55 °F and below can kill within minutes (National Weather Service, S): below 55 °F alone leaves 55 °F itself without its warning", () => {
    const book = (when: string): string => `book "Cold"
condition water-temp: 33 to 95 °F
pick wear: float-suit, shirt
pattern "Cold water" go with wear float-suit when ${when}
fall back on wear shirt
promise "Dressed for it": wear must be float-suit when water-temp is at most 55 °F\n`;
    expect(ofCode(check(book("water-temp is at most 55 °F")), "promise")).toEqual([]);
    const [broken] = ofCode(check(book("water-temp is below 55 °F")), "promise");
    expect([broken!.share, broken!.example!["water-temp"]]).toEqual(["0", "55 °F"]);
  });

  test("twilights end at −6, −12 and −18° (US Naval Observatory, M), the sun rises at −0.8333°: the bands leave nothing out, and 12.5 kn of wind is below a small-craft advisory of 22 kn (National Weather Service, 2) in any unit", () => {
    const { model, findings } = check(`book "Light"
condition sun: -90 to 90 deg
band sun: night below -18 deg, astronomical below -12 deg, nautical below -6 deg, civil below -0.8333 deg, day
condition wind: 0 to 50 mph
pick go: out, with-lights, stay
pattern "Lights from sunset to sunrise" go with go with-lights when sun is not day and wind is below 22 kn
pattern "By day" go with go out when sun is day and wind is below 22 kn
pattern "Advisory" go with go stay when wind is at least 22 kn\n`);
    expect(codes(findings.filter(({ severity }) => severity !== "note"))).toEqual([]);
    const at = (sun: string, wind: string): string => answer(model, "go", { sun, wind });
    expect([
      at("-0.8334", "12.5 kn"),
      at("-0.8333", "12.5 kn"),
      at("-18", "6 m/s"),
      at("10", "25 mph"),
      at("10", "26 mph"),
      at("10", "40 km/h"),
      at("10", "41 km/h"),
    ]).toEqual(["with-lights", "out", "with-lights", "out", "stay", "out", "stay"]);
  });
});
