/**
 * Slips of the pen that leave no doubt what was meant: reported where they stand, with the fix, and read as if they were right.
 *
 *   Pattern → pattern     fall back → fall back on     “…” → "…"     15 april → apr 15     ½ oz → 1/2 oz     Muddy → muddy
 *   clаrity, with a Cyrillic а → clarity
 */
import { tokenMatcher, type IToken } from "chevrotain";
import * as T from "../../grammar/tokens.js";
import type { Code } from "../diagnostics.js";
import { plainName, strangersIn, unmasked } from "../lookalikes.js";
import { syntaxWords, type Saying } from "../messages/syntax.js";
import { longestName, readUnit, tokenRange, unquoted } from "./concrete.js";
import { longestNumber, readDate, readDay, readNumber, readTime } from "./literals.js";
import { beforeTexts, closedReadings } from "./quotes.js";
import { mending, rewrite, type Report } from "./report.js";

/** Reports what is misspelt about one token; `before` is the token before it. */
export function checkSpelling(token: IToken, before: IToken | undefined, report: Report): void {
  const slip = slipOf(token, before);
  if (slip === undefined) return;
  report.add(
    slip.code,
    tokenRange(token),
    slip.saying,
    slip.instead.map((text) => (slip.mends ? mending : rewrite)(report.path, tokenRange(token), text, syntaxWords.writeInstead(text))),
  );
}

interface Slip {
  readonly code: Code;
  readonly saying: Saying;
  /** What to write instead: one fix each. */
  readonly instead: readonly string[];
  /** It is no name, value, unit or number, and says no other thing instead: it is mended without asking. */
  readonly mends?: boolean;
}

/** Characters of a text: about a minute's reading aloud. */
const longestText = 1000;

function slipOf(token: IToken, before: IToken | undefined): Slip | undefined {
  const { image, tokenType } = token;
  const word = T.wordOf.get(tokenType);
  const strangers = tokenMatcher(token, T.Name) || word !== undefined ? strangersIn(image) : [];
  if (strangers.length > 0) {
    const plain = isUnit(token, before) ? unmasked(image) : plainName(image);
    return { code: "name", saying: syntaxWords.lookalike(plain, strangers), instead: [plain], mends: word !== undefined };
  }
  if (word !== undefined) {
    return image === word.phrase || image.replace(/\s+/g, " ") === word.phrase
      ? undefined
      : {
          code: "syntax",
          saying: syntaxWords.word(image, word.phrase),
          instead: [word.phrase],
          mends: senseOf(image) === senseOf(word.phrase),
        };
  }
  if (tokenMatcher(token, T.Text) && unquoted(image).length > longestText)
    return { code: "syntax", saying: syntaxWords.longText(longestText), instead: [] };
  switch (tokenType) {
    case T.Name: {
      if (image.length > longestName) return { code: "syntax", saying: syntaxWords.longName(longestName), instead: [] };
      const small = image.toLowerCase();
      if (small === image || isUnit(token, before)) return undefined;
      return { code: "name", saying: syntaxWords.capitals(image, small), instead: [small] };
    }
    case T.CurlyText:
      return { code: "syntax", saying: syntaxWords.curly(), instead: [`"${unquoted(image)}"`], mends: true };
    case T.UnclosedText: {
      if (image.length === 1) return { code: "syntax", saying: syntaxWords.loneQuote(), instead: [] };
      const instead = closedReadings(image, before);
      const isFree = before !== undefined && beforeTexts.includes(before.tokenType);
      return { code: "syntax", saying: syntaxWords.unclosed(unquoted(image)), instead, mends: isFree && instead.length === 1 };
    }
    case T.Number:
      if (image.length > longestNumber) return { code: "range", saying: syntaxWords.longNumber(longestNumber), instead: [] };
      return literal(image, readNumber(image), "number");
    case T.Day:
      return literal(image, readDay(image), "day");
    case T.Date:
      return literal(image, readDate(image), "date");
    case T.Time:
      return literal(image, readTime(image), "time");
    case T.Unit: {
      const plain = readUnit(image);
      return plain === image ? undefined : { code: "unit", saying: syntaxWords.word(image, plain), instead: [plain] };
    }
    default:
      return undefined;
  }
}

/** How often a phrase denies, rules out, leans, joins, and looks back to another: what takes its place must do so as often. */
function senseOf(phrase: string): string {
  return [
    /\b(?:not?|none|cannot)\b|n['’]t\b|!|≠|<>/g,
    /\bnever\b/g,
    /\blean\b/g,
    /\band\b/g,
    /\bor\b/g,
    /\bnor\b/g,
    /\b(?:otherwise|else)\b/g,
  ]
    .map((word) => phrase.toLowerCase().match(word)?.length ?? 0)
    .join();
}

function isUnit(token: IToken, before: IToken | undefined): boolean {
  return token.tokenType === T.Name && before !== undefined && tokenMatcher(before, T.Number);
}

function literal(image: string, readings: readonly string[], kind: "number" | "day" | "date" | "time"): Slip | undefined {
  const [written] = readings;
  if (written === undefined) return { code: "range", saying: syntaxWords.noSuch(image, kind), instead: [] };
  if (readings.length > 1) return { code: "syntax", saying: syntaxWords.twoDates(image, readings), instead: readings };
  return image.replace(/[ \t]+/g, " ") === written
    ? undefined
    : { code: "syntax", saying: syntaxWords.literal(image, written, kind), instead: [written] };
}
