/**
 * Where in a book a completion is asked for: which statement, which tokens of it stand before, which word is half-typed.
 *
 *     when clarity is dirty or di▮            tokens  pattern "…" … when clarity is dirty or
 *                             └┘ word         due     a value, a comparing word, the subject of another test
 *
 *     beats "Mud wa▮"                         the word is the whole text with its quotes, closed or not
 *     fall back o▮                            the word ends a phrase of several: `rest` is what of the phrase is still to type
 */
import type { IToken } from "chevrotain";
import * as T from "../../../grammar/tokens.js";
import { makeTools } from "../../syntax/parse.js";
import { makeReport } from "../../syntax/report.js";
import { findStarts } from "../../syntax/starts.js";
import type { Range } from "../../text.js";
import { dueAfter, type Due, type DueNext } from "./due.js";
import type { View } from "../view.js";

export interface CompletionContext extends DueNext {
  /** Of the statement, before the word; none: no statement has begun. */
  readonly tokens: readonly IToken[];
  /** What a completion takes the place of. */
  readonly word: Range;
  /** As typed before the cursor, with its opening quote if it has one. */
  readonly typed: string;
  readonly quoted: boolean;
  /** Where the last token before the word ends. */
  readonly after: number;
  /** Whether only blanks stand before the word on its line, and how many of them. */
  readonly indent: number | undefined;
  /** Phrases of several words whose first words stand before the word already. */
  readonly phrases: readonly PhraseRest[];
}

interface PhraseRest extends Due {
  readonly phrase: string;
  /** What is still to be typed of it. */
  readonly rest: string;
}

/** Undefined in a comment, and right behind a quoted text: after it comes a blank, a comma or the end of the line. */
export function contextAt(view: View, offset: number): CompletionContext | undefined {
  const { text } = view;
  const lineStart = Math.max(text.lastIndexOf("\n", offset - 1), text.lastIndexOf("\r", offset - 1)) + 1;
  const line = text.slice(lineStart, offset);
  const quote = openQuote(line);
  if (quote === "comment" || (quote === undefined && /["”]$/.test(line))) return undefined;
  const word = quote === undefined ? wordAround(text, offset) : { start: lineStart + quote, end: quoteEnd(text, offset) };
  const tokens = tokensBefore(view, word.start);
  const last = tokens.at(-1);
  const before = text.slice(lineStart, word.start);
  const phrases = quote === undefined ? phrasesBefore(view, word.start, before) : [];
  return {
    ...dueNext(tokens),
    tokens,
    word,
    phrases,
    typed: text.slice(word.start, offset),
    quoted: quote !== undefined,
    after: last === undefined ? word.start : last.startOffset + last.image.length,
    indent: before.trim() === "" ? before.length : undefined,
  };
}

/** The tokens of the statement that an offset stands in, up to it. */
export function tokensBefore({ text, parsed }: View, offset: number): readonly IToken[] {
  const statements = parsed.tree.statements;
  let [low, high] = [0, statements.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (statements[middle]!.range.start < offset) low = middle + 1;
    else high = middle;
  }
  const start = statements[low - 1]?.range.start ?? 0;
  const slice = text.slice(start, offset);
  const tokens = [...makeTools().lexer.tokenize(slice).tokens];
  for (const token of tokens) token.endOffset = token.startOffset + token.image.length - 1;
  const { starts } = findStarts(tokens, makeReport("", slice));
  return tokens.slice(starts.at(-1) ?? tokens.length).map((token) => ({ ...token, startOffset: token.startOffset + start }));
}

function dueNext(tokens: readonly IToken[]): DueNext {
  return tokens.length === 0 ? { dues: [], mayEnd: true, lost: false } : dueAfter(tokens);
}

const word = /[\p{L}°%][\p{L}\p{M}\p{N}³°%-]*(?:\/[\p{L}³]*)?$/u;
const number = /(?<![\p{L}\p{M}\p{N}])-?\d[\d./:-]*$/u;
const goesOn = /^[\p{L}\p{M}\p{N}°%]+(?:-[\p{L}\p{M}\p{N}]+)*/u;
/** Longest word that is looked at. */
const LONGEST = 200;

function wordAround(text: string, offset: number): Range {
  const before = text.slice(Math.max(0, offset - LONGEST), offset);
  const found = word.exec(before) ?? number.exec(before);
  if (!found) return { start: offset, end: offset };
  return { start: offset - found[0].length, end: offset + (goesOn.exec(text.slice(offset, offset + LONGEST))?.[0].length ?? 0) };
}

/** Where on the line a quoted text begins that is still open at its end. */
function openQuote(line: string): number | "comment" | undefined {
  let open: number | undefined;
  for (let i = 0; i < line.length; i++) {
    if (open === undefined && line.startsWith("--", i)) return "comment";
    if (open === undefined ? /["“„]/.test(line[i]!) : /["”]/.test(line[i]!)) open = open === undefined ? i : undefined;
  }
  return open;
}

/** The end of an open text: its closing quote, if the line goes on to one before anything that would not stand in a title. */
function quoteEnd(text: string, offset: number): number {
  return offset + (/^[^"”,\r\n]*["”]/.exec(text.slice(offset, offset + LONGEST))?.[0].length ?? 0);
}

function phrasesBefore(view: View, start: number, before: string): PhraseRest[] {
  const found: PhraseRest[] = [];
  let [from, words] = [start, ""];
  for (let rest = before; ;) {
    const last = /(?<![\p{L}\p{M}\p{N}-])([\p{L}]+)[ \t]+$/u.exec(rest);
    if (!last) return found;
    rest = rest.slice(0, last.index);
    from -= last[0].length;
    words = words === "" ? last[1]! : `${last[1]!} ${words}`;
    const going = T.words.filter(({ phrase }) => phrase.startsWith(`${words} `));
    if (going.length === 0 && !T.words.some(({ phrase }) => phrase.includes(` ${words} `))) return found;
    if (going.length === 0) continue;
    const tokens = tokensBefore(view, from);
    const { dues, mayEnd } = dueNext(tokens);
    for (const { token, phrase, role } of going) {
      const due = dues.find((one) => one.token === token) ?? (mayEnd && role === "statement" ? { token, within: [] } : undefined);
      if (due) found.push({ ...due, phrase, rest: phrase.slice(words.length + 1) });
    }
  }
}
