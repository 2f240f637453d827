/**
 * How an option looks on a chart: a letter or two, a color of our own, and a hatch where there are more options than colors.
 *
 *     round, teardrop, leaf            ──▶  R  T  L
 *     spoon, small-jig, spinnerbait    ──▶  S  SJ SP         the shortest sign that no option before it has
 *     3/8 oz, 1/2 oz                   ──▶  3/8  1/2         the number, where that is enough to tell them apart
 *
 * Two options never have one sign, so nobody needs to tell colors apart. The colors themselves: `page/charts.css`.
 */

export interface Mark {
  readonly sign: string;
  /** Which of the `hues` colors. */
  readonly hue: number;
  /** Which hatch lies over it; 0: none. */
  readonly hatch: number;
}

/** As many colors as the style sheets of the page have. */
export const hues = 8;
export const hatches = 4;

/** One mark per option, in their order. */
export function marksOf(options: readonly string[]): readonly Mark[] {
  return signsOf(options).map((sign, i) => ({ sign, hue: i % hues, hatch: Math.floor(i / hues) % hatches }));
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
