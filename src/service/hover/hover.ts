/**
 * Hover: what stands under the pointer, in plain words.
 *
 *     a name      ──▶ what it is (model), how much and where (analysis, once it is there)      hover-conditions, -picks, -patterns
 *     a quantity  ──▶ the same in the other units
 *     a word      ──▶ what it does, in a line
 *
 * Without an analysis, hover tells what the model knows and leaves the rest out.
 */
import { Fraction } from "fraction.js";
import type { IToken } from "chevrotain";
import * as T from "../../../grammar/tokens.js";
import { serviceWords } from "../../messages/service.js";
import { wordLines } from "../../messages/service-words.js";
import { convert, convertDifference, printQuantity, readNumber, units, unitsOf, type Unit } from "../../model/quantities.js";
import { tokenRange } from "../../syntax/concrete.js";
import type { Range } from "../../text.js";
import { tokensBefore } from "../completion/context.js";
import { bandText, conditionText, groupText, levelText, memberText, situationText, wordText } from "./conditions.js";
import { bookText, cautionText, patternText, promiseText } from "./patterns.js";
import { optionText, pickText } from "./picks.js";
import { bold, escaped } from "../../render/markdown.js";
import { namesOf } from "../names/names.js";
import type { Thing } from "../../model/names.js";
import type { View } from "../view.js";

export interface Hover {
  /** What it is about. */
  readonly range: Range;
  /** CommonMark. */
  readonly markdown: string;
}

/** Undefined where there is nothing to say; never throws. */
export function hover(view: View, offset: number): Hover | undefined {
  const mention = namesOf(view).at(offset);
  const tokens = tokensAround(view, offset);
  const at = tokens.findIndex((token) => token.startOffset <= offset && offset <= tokenRange(token).end);
  const amount = quantityAt(tokens, at) ?? quantityAt(tokens, at - 1, offset);
  const converted = amount && conversionText(amount);
  const about = mention && aboutThing(view, mention.thing);
  if (mention && about) return { range: mention.range, markdown: [...about, ...(converted ? [converted] : [])].join("\n\n") };
  if (amount && converted) return { range: amount.range, markdown: converted };
  const word = tokens[at] && T.wordOf.get(tokens[at].tokenType);
  return word && wordLines[word.phrase] !== undefined
    ? { range: tokenRange(tokens[at]!), markdown: `${bold(word.phrase)}: ${wordLines[word.phrase]}` }
    : undefined;
}

/** Paragraphs of Markdown; undefined for what the model does not know. */
function aboutThing(view: View, thing: Thing): readonly string[] | undefined {
  switch (thing.kind) {
    case "condition":
      return conditionText(view, thing);
    case "level":
      return levelText(view, thing);
    case "member":
      return memberText(view, thing);
    case "band":
      return bandText(view, thing);
    case "group":
      return groupText(view, thing);
    case "comparing word":
      return wordText(view, thing);
    case "situation":
      return situationText(view, thing);
    case "pick":
    case "judgement":
      return pickText(view, thing);
    case "option":
      return optionText(view, thing);
    case "pattern":
      return patternText(view, thing);
    case "caution":
      return cautionText(view, thing);
    case "promise":
      return promiseText(view, thing);
    case "book":
      return bookText(view, thing);
  }
}

/** The tokens of the statement around an offset. */
function tokensAround(view: View, offset: number): readonly IToken[] {
  const statement = view.parsed.tree.statements.findLast(({ range }) => range.start <= offset && offset <= range.end);
  return statement ? tokensBefore(view, statement.range.end) : [];
}

// Quantities ----------------------------------------------------------------------------------------------------------------

interface Amount {
  readonly range: Range;
  readonly value: Fraction;
  readonly unit: Unit;
  /** A step converts as a difference. */
  readonly isStep: boolean;
}

/** A number and its unit at a token; of `from 50 to 60 °F`, the unit that both share. `until`: only if it reaches so far. */
function quantityAt(tokens: readonly IToken[], at: number, until = -1): Amount | undefined {
  const number = tokens[at];
  if (number?.tokenType !== T.Number) return undefined;
  const own = unitOf(tokens[at + 1]);
  const shared = tokens[at + 1]?.tokenType === T.To && tokens[at + 2]?.tokenType === T.Number ? unitOf(tokens[at + 3]) : undefined;
  const unit = own ?? shared;
  const value = readNumber(number.image)?.value;
  const end = tokenRange(own ? tokens[at + 1]! : number).end;
  if (unit === undefined || value === undefined || end < until) return undefined;
  return { range: { start: number.startOffset, end }, value, unit, isStep: tokens[at - 1]?.tokenType === T.ToTheNearest };
}

function unitOf(token: IToken | undefined): Unit | undefined {
  return token && (token.tokenType === T.Unit || token.tokenType === T.Name) ? units.get(token.image) : undefined;
}

function conversionText({ value, unit, isStep }: Amount): string | undefined {
  const others = unitsOf(unit.kind)
    .filter((symbol) => symbol !== unit.symbol)
    .map((symbol) => {
      const to = units.get(symbol)!;
      const exact = isStep ? convertDifference(value, unit, to) : convert(value, unit, to);
      return { to, exact, size: Math.abs(exact.valueOf()), rounded: rounded(exact) };
    });
  // Nobody weighs a lure in kilograms: only what is a number of everyday size, or else all there is.
  const usual = others.filter(({ size }) => size === 0 || (size >= SMALLEST && size < LARGEST));
  const shown = usual.length > 0 ? usual : others;
  if (shown.length === 0) return undefined;
  const texts = (isExact: boolean): string[] =>
    shown.filter(({ exact, rounded }) => exact.equals(rounded) === isExact).map(({ rounded, to }) => `${decimal(rounded)} ${to.symbol}`);
  const written = printQuantity(value, unit);
  return escaped(
    isStep
      ? serviceWords.convertedStep(written, [...texts(true), ...texts(false)])
      : serviceWords.converted(written, texts(true), texts(false)),
  );
}

const SMALLEST = 0.05;
const LARGEST = 3_000;

/** To three digits, to the whole number from 100 on: 14.2, 0.0313, 453. */
function rounded(exact: Fraction): Fraction {
  const size = Math.abs(exact.valueOf());
  const places = size >= 100 || size === 0 ? 0 : Math.min(6, 2 - Math.floor(Math.log10(size)));
  const scale = new Fraction(10).pow(places);
  return exact.mul(scale).round().div(scale);
}

function decimal(value: Fraction): string {
  return value.d === 1n ? value.toFraction() : String(Number(value.valueOf().toPrecision(12)));
}
