/**
 * Texts that lost a quotation mark. The lexer pairs marks from left to right, so a lost one turns text into words and words into text:
 *
 *   because They feel it before they see it."            the opening mark is lost: up to the mark is text, what follows is read anew
 *   because "They feel it see "the log"                  the closing mark is lost: the text ends before `see`
 *   because "They feel it                                the text goes on below: so is this, up to the mark that ends it
 *     before they see it."
 *
 * A mark that ends a text stands right after a sign and before a blank. Here the tokens are mended; `text-slips.ts` reports it.
 */
import type { IToken, TokenType } from "chevrotain";
import * as T from "../../grammar/tokens.js";
import type { Range } from "../text.js";
import { tokenRange } from "./concrete.js";
import { isOne, made } from "./mending.js";

/** What a lexer finds, each list by place. */
export interface Signs {
  readonly tokens: IToken[];
  readonly unknown: readonly IToken[];
  readonly comments: readonly IToken[];
}

/** Words after which a text is due. */
export const beforeTexts: readonly TokenType[] = [
  T.Book,
  T.BuildsOn,
  T.LeaveOut,
  T.Pattern,
  T.Caution,
  T.Promise,
  T.Because,
  T.Say,
  T.See,
  T.Ask,
  T.Beats,
];
/** Those of them that start a clause. */
export const textClauses: readonly TokenType[] = [T.Because, T.Say, T.See, T.Ask, T.Beats];

/** More are not mended, for each is read anew, and more findings are not shown. */
const mostMended = 100;

type Read = (range: Range) => Signs;

/** `read` finds the signs of a stretch of the text. */
export function mendQuotes(signs: Signs, text: string, read: Read): Signs {
  return mend(signs, text, read, broken);
}

/** `below`: finds a text that goes on below its line. */
function mend(signs: Signs, text: string, read: Read, below: typeof broken): Signs {
  const { tokens } = signs;
  let { unknown, comments } = signs;
  let count = 0;
  for (let i = 0; i < tokens.length && count < mostMended; i++) {
    const lost = unclosed(tokens, i, text) ?? below(tokens, i, text) ?? unopened(tokens, i, text);
    if (lost === undefined) continue;
    count++;
    const from = tokens.findIndex(({ startOffset }) => startOffset >= lost.start);
    let to = from;
    while (tokens[to] !== undefined && tokens[to]!.startOffset < lost.line) to++;
    // A phrase may have gone on into the next line.
    const end = Math.max(lost.line, tokenRange(tokens[to - 1]!).end);
    const anew = read({ start: lost.end, end });
    const whole = continues(anew.tokens[0])
      ? { rest: anew, end: lost.end }
      : { rest: undefined, end: lost.start + text.slice(lost.start, lost.line).trimEnd().length };
    const image = text.slice(lost.start, whole.end);
    // A text over several lines is only mended where it leaves no doubt.
    if (whole.rest === undefined && /[\r\n]/.test(image)) continue;
    const rest = mend(whole.rest ?? read({ start: lost.line, end }), text, read, () => undefined);
    // Another statement would be printed on a line of its own, and then all would be read otherwise.
    if (rest.tokens.some((token) => isOne(token, T.StatementStart))) continue;
    const inside = ({ startOffset }: IToken): boolean => startOffset >= lost.start && startOffset < end;
    tokens.splice(from, to - from, made({ text }, T.UnclosedText, { start: lost.start, end: whole.end }), ...rest.tokens);
    unknown = spliced(unknown, inside, rest.unknown);
    comments = spliced(comments, inside, rest.comments);
    // The last token of the line once more: it may go on below.
    i = from + Math.max(rest.tokens.length - 1, 0);
  }
  return { tokens, unknown, comments };
}

/** From the text's first sign to after its closing mark, and where the line of that ends. */
interface Lost extends Range {
  readonly line: number;
}

function unopened(tokens: readonly IToken[], i: number, text: string): Lost | undefined {
  const next = tokens[i + 1];
  if (
    next === undefined ||
    isOne(next, T.Text, T.Colon) ||
    !isDue(tokens, i) ||
    /[\r\n]/.test(text.slice(tokenRange(tokens[i]!).end, next.startOffset))
  )
    return undefined;
  const start = next.startOffset;
  return (
    closing(text, start, start) ??
    (beforeTexts.includes(tokens[i]!.tokenType) && quotesWithin(tokens, i + 1, text) ? wholeLine(text, start) : undefined)
  );
}

/** `because They call it "slow" water`: do quoted words stand in a text without quotation marks? */
function quotesWithin(tokens: readonly IToken[], i: number, text: string): boolean {
  let at = i;
  while (tokens[at] !== undefined && !isOne(tokens[at], T.Text, T.ClauseStart, T.StatementStart, T.Colon, T.Comma)) at++;
  return (
    tokens[at] !== undefined && isOne(tokens[at], T.Text) && !/[\r\n]|--/.test(text.slice(tokens[i]!.startOffset, tokens[at]!.startOffset))
  );
}

function wholeLine(text: string, start: number): Lost | undefined {
  const line = lineEnd(text, start);
  return line === undefined ? undefined : { start, end: start + text.slice(start, line).trimEnd().length, line };
}

const beforeNextText = new RegExp(`\\s+(?:${textClauses.map((type) => T.wordOf.get(type)!.phrase).join("|")})\\s+"$`, "u");

/** A text that is not closed, where what follows leaves no doubt where it ends: before `see "…"`, or before the only colon. */
function unclosed(tokens: readonly IToken[], i: number, text: string): Lost | undefined {
  const [before, { image, tokenType, startOffset: start }] = [tokens[i - 1], tokens[i]!];
  if (tokenType === T.ClosedText) {
    const next = tokens[i + 1];
    // A mark that begins a text stands right before it.
    const found = next?.startOffset === start + image.length ? beforeNextText.exec(image) : null;
    const line = found === null || found.index < 2 ? undefined : lineEnd(text, start);
    return line === undefined ? undefined : { start, end: start + found!.index, line };
  }
  if (tokenType !== T.UnclosedText || !opens(image) || !beforeColon(before)) return undefined;
  const colon = image.indexOf(":");
  return !isDue(tokens, i - 1) || image.slice(1, Math.max(colon, 1)).trim() === "" || image.includes(":", colon + 1)
    ? undefined
    : { start, end: start + image.slice(0, colon).trimEnd().length, line: start + image.length };
}

/** Not so of a text that has been mended. */
export function opens(image: string): boolean {
  return /^["“„]/.test(image);
}

/** After a title of a promise, and after a label, a colon is due. */
function beforeColon(before: IToken | undefined): boolean {
  return before !== undefined && isOne(before, T.Promise, T.Name);
}

/** Tokens of a list of texts that are looked back on. */
const longestList = 50;

/** Is a text due after this token? */
function isDue(tokens: readonly IToken[], i: number): boolean {
  const [before, token] = [tokens[i - 1], tokens[i]!];
  if (beforeTexts.includes(token.tokenType)) return true;
  // A label.
  if (isOne(token, T.Name) && before !== undefined && isOne(before, T.Condition, T.Pick, T.Judgement)) return true;
  if ([T.Shop, T.Water, T.Edition].includes(token.tokenType)) return before !== undefined && isOne(before, T.Text, T.Date);
  if (token.tokenType !== T.Comma) return false;
  let first = i - 1;
  while (first > i - longestList && first > 0 && (tokens[first]!.tokenType === T.Comma || isOne(tokens[first], T.Text))) first--;
  return first < i - 1 && [T.See, T.Beats, T.LeaveOut].includes(tokens[first]!.tokenType);
}

/** Lines on which a text may go on. */
const mostLines = 4;

function broken(tokens: readonly IToken[], i: number, text: string): Lost | undefined {
  const { tokenType, image } = tokens[i]!;
  const { start, end } = tokenRange(tokens[i]!);
  if (tokenType !== T.UnclosedText || !opens(image) || end === start + 1 || text.slice(start, end).includes("--")) return undefined;
  let line = end;
  let next = i + 1;
  for (let count = 0; count < mostLines; count++) {
    const gap = /^[ \t]*(?:\r\n|\r|\n)[ \t]*(?=[^\s"])/.exec(text.slice(line, line + 1000));
    if (gap === null) return undefined;
    const begins = line + gap[0].length;
    while (tokens[next] !== undefined && tokens[next]!.startOffset < begins) next++;
    const first = tokens[next];
    if (first?.startOffset === begins && isOne(first, T.ClauseStart, T.StatementStart) && !isPlain(first, tokens[next + 1]))
      return undefined;
    const found = closing(text, start, begins);
    if (found !== undefined) return found;
    const ends = lineEnd(text, begins);
    if (ends === undefined || /"|--/.test(text.slice(begins, ends))) return undefined;
    line = ends;
  }
  return undefined;
}

/** `see it."`: a word that starts a clause only before a text. */
function isPlain(token: IToken, next: IToken | undefined): boolean {
  return textClauses.includes(token.tokenType) && next !== undefined && !isOne(next, T.Text);
}

/** The first mark of a line, if it is one that ends a text; looked for from `from` on. */
function closing(text: string, start: number, from: number): Lost | undefined {
  const line = lineEnd(text, from);
  if (line === undefined) return undefined;
  const found = /^(?:(?!--)[^"“„”])*[^\s"“„”]["”](?=$|[\s,:)])/.exec(text.slice(from, line));
  return found === null ? undefined : { start, end: from + found[0].length, line };
}

/** Signs of a line that are looked at: no text is that long, and rubbish may stand on one line. */
const longestLine = 2000;

function lineEnd(text: string, from: number): number | undefined {
  const line = /^[^\r\n]*/.exec(text.slice(from, from + longestLine))![0].length;
  return line === longestLine ? undefined : from + line;
}

/** May a statement go on with this after a text? */
function continues(token: IToken | undefined): boolean {
  return token === undefined || isOne(token, T.ClauseStart, T.Comma, T.Colon, T.Close, T.Shop, T.Water, T.Edition);
}

function spliced(list: readonly IToken[], inside: (token: IToken) => boolean, anew: readonly IToken[]): readonly IToken[] {
  if (anew.length === 0 && !list.some(inside)) return list;
  return [...list.filter((token) => !inside(token)), ...anew].sort((a, b) => a.startOffset - b.startOffset);
}

/** At most so many places are offered where a text may end. */
const mostReadings = 3;
const clauseWords = T.words.filter(({ role }) => role === "clause").map(({ phrase }) => phrase.replaceAll(" ", "\\s+"));
const beforeClause = `\\s+(?=--|(?:${clauseWords.join("|")})(?![\\p{L}\\p{N}-]))`;

/**
 * A text that is not closed, closed wherever it may have been meant to end: at the end of its line, or before what looks as if it no
 * longer belonged to it. `before`: the token before it.
 */
export function closedReadings(image: string, before: IToken | undefined): readonly string[] {
  const text = image.replace(/^["“„]/, "").trimEnd();
  const isFree = before !== undefined && beforeTexts.includes(before.tokenType);
  const colons = beforeColon(before) ? [...text.matchAll(/:/g)].map(({ index }) => index) : [];
  const other = isFree ? beforeClause : `${beforeClause}|,`;
  const places = colons.length > 0 ? colons : [text.length, ...[...text.matchAll(new RegExp(other, "gu"))].map(({ index }) => index)];
  return places
    .filter((place) => text.slice(0, place).trim() !== "")
    .slice(0, mostReadings)
    .map((place) => `"${text.slice(0, place).trimEnd()}"${text.slice(place)}`);
}
