/**
 * What the random books talk about: conditions of every kind and picks of every kind, each with the statements that declare it and
 * every small test the language can say of it.
 *
 *   condition clarity …   ──▶   clarity is dirty · clarity is not dirty · clarity is dirty or dirtier · clarity from stained to muddy · …
 *
 * All names differ, so any selection makes a book free of errors of words. The waters and values are invented.
 */
interface Subject {
  readonly name: string;
  /** Every test of one clause that can be said of it. */
  readonly atoms: readonly string[];
}

export interface ConditionEntry extends Subject {
  readonly statements: readonly string[];
  /** No fewer positions than any book can cut it into. */
  readonly size: number;
}

export interface PickEntry {
  readonly name: string;
  readonly kind: "pick" | "judgement";
  /** All that may be declared, in order; a book declares the first few. */
  readonly options: readonly string[];
  readonly ordered: boolean;
  /** The order need not be written: quantities are ordered by size. */
  readonly bySize?: boolean;
  readonly words?: readonly [rising: string, falling: string];
  /** `same as`: the options are then those of the condition. */
  readonly sameAs?: string;
  /** One more option, for `add`. */
  readonly extra?: string;
}

export const conditions: readonly ConditionEntry[] = [
  scale("clarity", ["clear", "stained", "dirty", "muddy"], { words: ["dirtier", "clearer"], group: ["murky", "dirty", "muddy"] }),
  set("cover", ["grass", "reeds", "logs"], false, ["soft", "grass", "reeds"]),
  scale("bottom", ["sand", "gravel", "silt"], { ordered: false, group: ["firm", "sand", "gravel"] }),
  measure("water-temp", 40, 70, "°F", {
    step: "5 °F",
    size: 7,
    words: ["warmer", "colder"],
    bands: ["cold below 50 °F", "cool below 60 °F", "warm"],
    values: ["45 °F", "50 °F", "10 °C", "60 °F"],
    between: ["52 °F"],
  }),
  set("forage", ["shad", "perch"], true),
  measure("depth", 0, 40, "ft", {
    size: 11,
    words: ["deeper", "shallower"],
    values: ["10 ft", "120 in", "5 yd", "20.5 ft"],
    bands: ["shoal below 10 ft", "ledge below 15 ft", "basin"],
  }),
  scale("sky", ["bright", "broken", "dark"]),
  measure("wind", 0, 20, "mph", { step: "5 mph", size: 5, values: ["5 mph", "10 mph", "15 mph"], between: ["12 mph"] }),
  measure("flow", 0, 3, "ft/s", { size: 7, values: ["1/2 ft/s", "1 ft/s"], bands: ["slack below 1/2 ft/s", "running"] }),
  measure("sun", -90, 90, "deg", {
    size: 9,
    values: ["-6 deg", "0 deg", "30 deg"],
    bands: ["night below -6 deg", "low below 30 deg", "high"],
  }),
  cycle(
    "day",
    "days of the year",
    366,
    ["frost from dec 1", "thaw from mar 10", "heat from jun 1"],
    ["apr 15", "may 20", "nov 10", "feb 29"],
  ),
  cycle(
    "clock",
    "times of the day",
    1440,
    ["dawn from 05:30", "midday from 10:00", "dusk from 19:00"],
    ["04:00", "06:15", "20:00", "23:30"],
  ),
];

export const picks: readonly PickEntry[] = [
  { name: "family", kind: "pick", options: ["spinnerbait", "jig", "worm", "frog"], ordered: false, extra: "spoon" },
  { name: "blade", kind: "pick", options: ["willow", "indiana", "colorado"], ordered: true, extra: "round" },
  {
    name: "seen",
    kind: "judgement",
    options: ["clear", "stained", "dirty", "muddy"],
    ordered: true,
    words: ["dirtier", "clearer"],
    sameAs: "clarity",
  },
  {
    name: "weight",
    kind: "pick",
    options: ["1/4 oz", "3/8 oz", "1/2 oz", "3/4 oz"],
    ordered: true,
    bySize: true,
    words: ["heavier", "lighter"],
    extra: "1 oz",
  },
  { name: "mood", kind: "judgement", options: ["sluggish", "neutral", "active"], ordered: true, words: ["livelier", "lazier"] },
  { name: "color", kind: "pick", options: ['"black and blue"', "white", '"no. 4"'], ordered: false },
  { name: "feel", kind: "judgement", options: ["cold", "cool", "warm"], ordered: true, words: ["warmer", "colder"], sameAs: "water-temp" },
  { name: "size", kind: "pick", options: ["3.5", "4", "4.5"], ordered: true },
  { name: "speed", kind: "pick", options: ["slow", "medium", "fast"], ordered: true, words: ["faster", "slower"] },
];

/** Every small test of a pick that has these options. */
export function pickAtoms(entry: PickEntry, options: readonly string[]): readonly string[] {
  const { name } = entry;
  const tests = [...membership(name, options)];
  if (entry.ordered) tests.push(...stretches(name, options));
  if (entry.words !== undefined) tests.push(...comparisons(name, options, entry.words));
  if (entry.ordered && (entry.words === undefined || entry.bySize === true)) tests.push(...limits(name, options));
  return tests;
}

// Conditions -------------------------------------------------------------------------------------------------------------

interface ScaleOptions {
  readonly ordered?: boolean;
  readonly words?: readonly [string, string];
  readonly group?: readonly [name: string, ...members: string[]];
}

function scale(name: string, levels: readonly string[], { ordered = true, words, group }: ScaleOptions = {}): ConditionEntry {
  const atoms = [...membership(name, levels)];
  if (ordered) atoms.push(...stretches(name, levels));
  if (words !== undefined) atoms.push(...comparisons(name, levels, words));
  if (group !== undefined) atoms.push(`${name} is ${group[0]}`, `${name} is not ${group[0]}`, `${name} is ${levels[0]!} or ${group[0]}`);
  return {
    name,
    statements: [
      `condition ${name}: ${ordered ? "in order " : ""}${levels.join(", ")}${rising(words)}`,
      ...(group === undefined ? [] : [`group ${name}: ${group[0]} is ${group.slice(1).join(", ")}`]),
    ],
    atoms,
    size: levels.length,
  };
}

function set(
  name: string,
  members: readonly string[],
  atLeastOne: boolean,
  group?: readonly [name: string, ...members: string[]],
): ConditionEntry {
  const atoms = members.flatMap((member) => [`${name} has ${member}`, `${name} has no ${member}`, `${name} only ${member}`]);
  const [first, second] = [members[0]!, members.at(-1)!];
  atoms.push(
    `${name} has any of ${first}, ${second}`,
    `${name} has all of ${first}, ${second}`,
    `${name} only ${first}, ${second}`,
    `${name} has no ${first}, ${second}`,
  );
  if (!atLeastOne) atoms.push(`${name} is empty`, `${name} is not empty`);
  if (group !== undefined)
    atoms.push(
      `${name} has ${group[0]}`,
      `${name} has all of ${group[0]}`,
      `${name} has no ${group[0]}`,
      `${name} has any of ${group[0]}, ${second}`,
    );
  return {
    name,
    statements: [
      `condition ${name}: any of ${members.join(", ")}${atLeastOne ? ", at least one" : ""}`,
      ...(group === undefined ? [] : [`group ${name}: ${group[0]} is ${group.slice(1).join(", ")}`]),
    ],
    atoms,
    size: 2 ** members.length,
  };
}

interface MeasureOptions {
  readonly size: number;
  readonly step?: string;
  readonly words?: readonly [string, string];
  /** As the book writes them, rising. */
  readonly bands?: readonly string[];
  /** Values in range, on a step. */
  readonly values: readonly string[];
  /** Values between two steps, which only a limit may name. */
  readonly between?: readonly string[];
}

function measure(
  name: string,
  low: number,
  high: number,
  unit: string,
  { size, step, words, bands = [], values, between = [] }: MeasureOptions,
): ConditionEntry {
  const names = bands.map((band) => band.split(" ")[0]!);
  const atoms = values.flatMap((value) => [`${name} is ${value}`, `${name} is not ${value}`]);
  atoms.push(`${name} from ${values[0]!} to ${values.at(-1)!}`);
  atoms.push(...membership(name, names).filter(() => names.length > 1));
  if (words !== undefined)
    atoms.push(
      ...comparisons(name, values, words),
      ...comparisons(name, names, words),
      ...between.map((value) => `${name} is ${words[0]} than ${value}`),
    );
  else atoms.push(...limits(name, values), ...limits(name, names), ...between.map((value) => `${name} is below ${value}`));
  return {
    name,
    statements: [
      `condition ${name}: ${low} to ${high} ${unit}${step === undefined ? "" : `, to the nearest ${step}`}${rising(words)}`,
      ...(bands.length === 0 ? [] : [`band ${name}: ${bands.join(", ")}`]),
    ],
    atoms,
    size,
  };
}

function cycle(name: string, domain: string, size: number, bands: readonly string[], values: readonly string[]): ConditionEntry {
  const names = bands.map((band) => band.split(" ")[0]!);
  const atoms = [...membership(name, names)];
  for (const from of values) for (const to of values) if (from !== to) atoms.push(`${name} from ${from} to ${to}`);
  return { name, statements: [`condition ${name}: ${domain}`, `band ${name}: ${bands.join(", ")}`], atoms, size };
}

function rising(words: readonly [string, string] | undefined): string {
  return words === undefined ? "" : `\n  rising is ${words[0]}, falling is ${words[1]}`;
}

// Tests ------------------------------------------------------------------------------------------------------------------

function membership(name: string, values: readonly string[]): string[] {
  const tests = values.flatMap((value) => [`${name} is ${value}`, `${name} is not ${value}`]);
  values.forEach((a, i) => values.slice(i + 1).forEach((b) => tests.push(`${name} is ${a} or ${b}`, `${name} is neither ${b} nor ${a}`)));
  return tests;
}

function stretches(name: string, values: readonly string[]): string[] {
  return values.flatMap((from, i) => values.slice(i + 1).map((to) => `${name} from ${from} to ${to}`));
}

function comparisons(name: string, values: readonly string[], [up, down]: readonly [string, string]): string[] {
  return values.flatMap((value) => [
    `${name} is ${value} or ${up}`,
    `${name} is ${up} than ${value}`,
    `${name} is ${value} or ${down}`,
    `${name} is ${down} than ${value}`,
  ]);
}

function limits(name: string, values: readonly string[]): string[] {
  return values.flatMap((value) => ["at least", "at most", "above", "below"].map((limit) => `${name} is ${limit} ${value}`));
}
