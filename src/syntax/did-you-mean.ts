/**
 * "Did you mean", where words that do not fit come close to a phrase of the language.
 *
 *     elan to weight        `elan to`: the letters of `lean to`         adys of the year      `adys of the year`, not `adys of` for `any of`
 *
 * What has just the letters of a phrase goes before what is only near one, and then the longest.
 */
import type { IToken, TokenType } from "chevrotain";
import * as T from "../../grammar/tokens.js";
import { syntaxWords } from "../messages/syntax.js";
import { nearest } from "../suggest.js";
import { tokenRange } from "./concrete.js";
import { isOne } from "./mending.js";
import { mending, rewrite, type Report } from "./report.js";

/** Reports a phrase that begins at a token of a statement, or at the one before it; false if none comes close. */
export function didYouMean(tokens: readonly IToken[], at: number, report: Report): boolean {
  const stretches = stretchesAt(tokens, at);
  const longest = stretches.toSorted((a, b) => b.words.length - a.words.length);
  const found =
    meantBy(longest, (written, known) =>
      nearest(
        written,
        known.filter((phrase) => hasLetters(phrase, written)),
      ),
    ) ?? meantBy(stretches, nearest);
  if (found === undefined) return false;
  const { words, written, meant } = found;
  const range = { start: tokenRange(words[0]!).start, end: tokenRange(words.at(-1)!).end };
  const write = joinsOrDenies.test(meant) || report.declares(written) ? rewrite : mending;
  report.add("syntax", range, syntaxWords.didYouMean(written, meant), [write(report.path, range, meant, syntaxWords.writeInstead(meant))]);
  return true;
}

interface Stretch {
  readonly words: readonly IToken[];
  readonly written: string;
  /** What it might be. */
  readonly known: readonly string[];
}

const MOST_WORDS = 4;

function stretchesAt(tokens: readonly IToken[], at: number): readonly Stretch[] {
  // A parenthesis shows what the word before it was to be.
  const first = tokens[at]?.tokenType === T.Open ? at - 1 : at;
  const stretches: Stretch[] = [];
  for (const from of [at - 1, at].filter((one) => one >= 0))
    for (let to = Math.max(from, first); to < Math.min(from + MOST_WORDS, tokens.length); to++) {
      const words = tokens.slice(from, to + 1);
      const after = tokens[to + 1];
      // A name that something is said of is one.
      const isSubject = isName(words.at(-1)!) && isOne(after, T.RelationStart);
      const written = words.map(({ image }) => image).join(" ");
      if (!words.every(isWord) || !words.some(isName) || isSubject || written.length < 3) continue;
      const known = [...phrases, ...freeAt(tokens[from - 1], after)].filter((phrase) => phrase.includes(" ") === words.length > 1);
      stretches.push({ words, written, known });
    }
  return stretches;
}

function meantBy(stretches: readonly Stretch[], closest: (written: string, known: readonly string[]) => string | undefined) {
  for (const { words, written, known } of stretches) {
    const meant = closest(written, known);
    if (meant !== undefined) return { words, written, meant };
  }
  return undefined;
}

function hasLetters(phrase: string, written: string): boolean {
  const sorted = (text: string): string => [...text.toLowerCase()].sort().join("");
  return sorted(phrase) === sorted(written);
}

function isName({ tokenType }: IToken): boolean {
  return tokenType === T.Name;
}

function isWord({ image }: IToken): boolean {
  return /^\p{L}+$/u.test(image);
}

/** Words that turn a meaning round, or say how tests go together: a misspelt one is asked about. */
const joinsOrDenies = /\b(?:not?|never|lean|and|or|nor|neither)\b/;
const phrases = T.words.filter(({ role }) => role !== "statement" && role !== "free").map(({ phrase }) => phrase);

/** Words that may be names as well, by what stands before or after them. */
const free: readonly { readonly before?: TokenType; readonly after?: TokenType; readonly phrases: readonly string[] }[] = [
  { after: T.Text, phrases: ["shop", "water", "edition"] },
  { after: T.Number, phrases: ["below", "up", "down"] },
  { after: T.Comma, phrases: ["first"] },
  { after: T.Open, phrases: ["not"] },
  { before: T.FilledFromThe, phrases: ["date", "clock", "sun", "moon"] },
];

function freeAt(before: IToken | undefined, after: IToken | undefined): readonly string[] {
  const fitting = free.filter((one) => (one.before === undefined ? isOne(after, one.after!) : isOne(before, one.before)));
  // A trust list ends with its statement.
  return [...fitting.flatMap((one) => one.phrases), ...(after === undefined ? ["first"] : [])];
}
