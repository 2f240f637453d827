/**
 * Random small books of the plain kind that a shop begins with, and the slips that are made in writing them. Few words, so that
 * patterns meet: they disagree, come out level, leave gaps and hairlines, and say what others have said.
 *
 *   dice (fast-check) ──▶ text ──slip──▶ text with one thing wrong
 */
import * as fc from "fast-check";

const die = fc.nat(997);

const tests: readonly string[] = [
  "clarity is muddy",
  "clarity is clear",
  "clarity is not stained",
  "clarity is stained or dirtier",
  "clarity from stained to muddy",
  "cover has grass",
  "cover has docks",
  "cover has no grass",
  "cover is empty",
  "depth is deeper than 10 ft",
  "depth is 10 ft or shallower",
  "depth is shallower than 10 ft",
  "depth from 10 ft to 20 ft",
  "depth is 20 ft or deeper",
  "depth is shallower than 9.9 ft",
  "wind is above 10 mph",
  "wind is at most 10 mph",
  "wind is below 5 mph",
  "day from apr 15 to may 20",
  "rough",
  "wind is 15 mph",
];
const blades: readonly string[] = ["colorado", "willow", "indiana"];
const weights: readonly string[] = ["1/4 oz", "3/8 oz", "1/2 oz"];

interface PatternPlan {
  readonly action: number;
  readonly options: readonly [number, number];
  readonly tests: readonly number[];
  readonly joint: number;
  readonly beats: number | null;
  readonly checked: number;
}

const pattern: fc.Arbitrary<PatternPlan> = fc.record({
  action: die,
  options: fc.tuple(die, die),
  tests: fc.array(die, { minLength: 1, maxLength: 3, size: "max" }),
  joint: die,
  beats: fc.option(die, { freq: 5 }),
  checked: die,
});

export const plainBooks: fc.Arbitrary<string> = fc
  .record({
    patterns: fc.array(pattern, { minLength: 2, maxLength: 7, size: "max" }),
    trust: fc.array(die, { minLength: 0, maxLength: 3, size: "max" }),
    fallBacks: die,
    close: die,
  })
  .map(({ patterns, trust, fallBacks, close }) => {
    const trusted = [...new Set(trust.map((number) => ["clarity", "cover", "depth", "wind", "cover"][number % 5]!))];
    const statements = [
      'book "Plain"\n',
      "-- What the water is like.",
      "condition clarity: in order clear, stained, muddy\n  rising is dirtier, falling is clearer",
      "condition cover: any of grass, docks",
      "condition depth: 0 to 40 ft\n  rising is deeper, falling is shallower",
      "condition wind: 0 to 40 mph, to the nearest 1 mph",
      "condition day: days of the year",
      "situation rough: wind is above 20 mph or clarity is muddy\n",
      `pick blade: ${blades.join(", ")}`,
      `pick weight: ${weights.join(", ")}\n`,
      ...(close % 3 === 0
        ? [`pick rod: short, long\npattern "A round blade pulls"\n  go with rod long\n  when blade is colorado\nfall back on rod short\n`]
        : []),
      ...(trusted.length > 0 ? [`trust ${trusted.map((name, i) => (i === 0 ? `${name} first` : `then ${name}`)).join(", ")}\n`] : []),
      "-- Rules of thumb.",
      ...patterns.map((plan, i) => patternText(plan, i, patterns.length, close % 2 === 0 ? FEW : tests.length)),
      ...(fallBacks % 3 !== 0 ? ["fall back on blade indiana"] : []),
      ...(fallBacks % 5 > 1 ? ["fall back on weight 3/8 oz"] : []),
    ];
    return `${statements.join("\n")}\n`;
  });

/** So many of the tests, of clarity and cover alone, make patterns meet. */
const FEW = 9;

function patternText(
  { action, options, tests: numbers, joint, beats, checked }: PatternPlan,
  at: number,
  all: number,
  known: number,
): string {
  const pick = options[1] % 4 === 0 ? "weight" : "blade";
  const list = pick === "weight" ? weights : blades;
  const [a, b] = [list[options[0] % 3]!, list[(options[0] + 1 + (options[1] % 2)) % 3]!];
  const actions = [
    `go with ${pick} ${a}`,
    `go with ${pick} ${a}, then ${b}`,
    `go with ${pick} ${a} or ${b}`,
    `go with ${pick} ${a}, then ${b}`,
    `lean to ${pick} ${a}`,
    `lean to ${pick} ${a} by 2`,
    `never ${pick} ${a}`,
    `move weight ${options[0] % 2 === 0 ? "up" : "down"} 1`,
  ];
  const atoms = [...new Set(numbers.map((number) => tests[number % known]!))];
  const when =
    atoms.length === 3 && joint % 4 === 0
      ? `(${atoms[0]!} or ${atoms[1]!}) and ${atoms[2]!}`
      : atoms.length === 3 && joint % 4 === 1
        ? `${atoms[0]!} and ${atoms[1]!}, or ${atoms[2]!}`
        : atoms.join(" and ");
  const other = beats === null ? at : beats % all;
  return [
    `pattern "Rule ${at + 1}"`,
    actions[action % actions.length]!,
    ...(when === "" ? [] : [`when ${when}`]),
    ...(checked % 7 === 0 ? [`checked ${checked % 2 === 0 ? "2024-03-01" : "2027-02-01"}`] : []),
    ...(other === at ? [] : [`beats "Rule ${other + 1}"`]),
  ].join("\n  ");
}

/** What goes wrong in writing; each gives the text back unchanged where there is nothing to do it to. `number` says where. */
export const slips: Readonly<Record<string, (text: string, number: number) => string>> = {
  "two letters swapped in a name": (text, number) =>
    inOneOf(text, /(?<=when .*)\b(?:clarity|cover|depth)\b/g, number, (word) => `${word[1]!}${word[0]!}${word.slice(2)}`),
  "two letters swapped in a level": (text, number) =>
    inOneOf(text, /(?<=when .*)\b(?:stained|muddy|grass|docks)\b/g, number, (word) => `${word.slice(0, -2)}${word.at(-1)!}${word.at(-2)!}`),
  "two letters swapped in an option": (text, number) =>
    inOneOf(text, /(?<=blade )(?:colorado|willow|indiana)\b/g, number, (word) => `${word.slice(0, -2)}${word.at(-1)!}${word.at(-2)!}`),
  "a comma forgotten": (text, number) =>
    inOneOf(text, /(?<=any of grass), (?=docks)|(?<=pick blade: colorado), |(?<=1\/4 oz), (?=3)/g, number % 2, () => " "),
  "a title misspelled": (text, number) => inOneOf(text, /(?<=beats ")Rule/g, number, () => "Rul"),
  "a unit left out": (text, number) => inOneOf(text, /(?<=when .* (?:than|most|above|below) \d+) (?:ft|mph)\b/g, number, () => ""),
  "a unit of another kind": (text, number) =>
    inOneOf(text, /(?<=when .* (?:than|most|above|below) \d+) (?:ft|mph)\b/g, number, () => " oz"),
  "a value between two steps": (text, number) => inOneOf(text, /(?<=wind is )15 mph/g, number, () => "15.4 mph"),
  "`and` changed to `or`": (text, number) => inOneOf(text, /(?<=when [^\n(,]* and [^\n(,]*) and (?=[^\n(,]*\n)/g, number, () => " or "),
  "a stretch turned round": (text, number) =>
    inOneOf(text, /10 ft to 20 ft|stained to muddy/g, number, (stretch) => stretch.split(" to ").reverse().join(" to ")),
  "a pattern twice": (text, number) => inOneOf(text, /pattern .*\n(?: {2}.*\n)*/g, number, (statement) => statement + statement),
  "an option twice": (text) => text.replace("pick blade: colorado,", "pick blade: colorado, colorado,"),
  "a situation twice": (text) => text.replace(/situation rough: .*\n/, (statement) => statement + statement),
  "a fall back twice": (text) => text.replace(/fall back on blade .*\n/, (statement) => statement + statement),
  "words for more than they are": (text, number) => inOneOf(text, /depth is deeper than/g, number, () => "depth is above"),
};

function inOneOf(text: string, pattern: RegExp, number: number, change: (match: string) => string): string {
  const matches = [...text.matchAll(pattern)];
  const match = matches[number % Math.max(1, matches.length)];
  return match ? text.slice(0, match.index) + change(match[0]) + text.slice(match.index + match[0].length) : text;
}
