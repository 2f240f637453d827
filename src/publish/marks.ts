/**
 * How an option looks on a chart: a letter or two, a color of our own, and a hatch where there are more options than colors.
 *
 *     round, teardrop, leaf            ──▶  R  T  L
 *     spoon, small-jig, spinnerbait    ──▶  S  SJ SP         the shortest sign that no option before it has
 *     3/8 oz, 1/2 oz                   ──▶  3/8  1/2         the number, where that is enough to tell them apart
 *
 * Two options never have one sign, so nobody needs to tell colors apart. The colors were searched for: of eight, the two that are
 * hardest to tell apart still differ by more than 0.08 in OKLab, to an eye that lacks any one kind of cone as well (simulated after
 * Machado, Oliveira and Fernandes 2009), and the sign on them has at least the contrast that WCAG 2.2 asks of text.
 */

export interface Mark {
  readonly sign: string;
  /** Which of the `hues` colors. */
  readonly hue: number;
  /** Which hatch lies over it; 0: none. */
  readonly hatch: number;
}

export interface Hue {
  /** On a light page and on paper, under dark signs. */
  readonly light: string;
  /** On a dark page, under light signs. */
  readonly dark: string;
}

export const hues: readonly Hue[] = [
  { light: "#89d7f9", dark: "#1b6ab6" },
  { light: "#fbc031", dark: "#aa4429" },
  { light: "#c09c8a", dark: "#786268" },
  { light: "#f4f4ad", dark: "#52020a" },
  { light: "#f3813f", dark: "#772c18" },
  { light: "#c6d0ac", dark: "#391b3c" },
  { light: "#19affe", dark: "#0d4980" },
  { light: "#95a5c5", dark: "#031d6c" },
];
/** Signs on them. */
export const ink: Hue = { light: "#111111", dark: "#ffffff" };
export const hatches = 4;

/** One mark per option, in their order. */
export function marksOf(options: readonly string[]): readonly Mark[] {
  return signsOf(options).map((sign, i) => ({ sign, hue: i % hues.length, hatch: Math.floor(i / hues.length) % hatches }));
}

function signsOf(options: readonly string[]): readonly string[] {
  const numbers = options.map((option) => /^\d[\d.]*(?: \d+\/\d+|\/\d+)?(?=\s|$)/.exec(option)?.[0]);
  if (numbers.every((number) => number !== undefined) && new Set(numbers).size === options.length) return numbers;
  const taken = new Set<string>();
  return options.map((option) => {
    const sign = firstFree(option, taken);
    taken.add(sign);
    return sign;
  });
}

function firstFree(option: string, taken: ReadonlySet<string>): string {
  for (const sign of candidates(option)) if (!taken.has(sign)) return sign;
  return option;
}

/** Ever longer signs: first letter, first letters of two words, two letters, and in the end numbers without end. */
function* candidates(option: string): Generator<string> {
  const words = option
    .toUpperCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== "")
    .map((word) => [...word]);
  const first = words[0] ?? ["?"];
  const heads = words.map((word) => word[0]!).join("");
  if (words.length > 1) yield [...heads].slice(0, 2).join("");
  yield first[0]!;
  for (const letter of first.slice(1)) yield first[0]! + letter;
  for (const letter of words.slice(1).flat()) yield first[0]! + letter;
  for (let n = 2; ; n++) yield `${first[0]!}${n}`;
}
