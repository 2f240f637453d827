/** What the slips of one statement are mended on: its tokens, and small questions about them. */
import { tokenMatcher, type IToken, type TokenType } from "chevrotain";
import * as T from "../../grammar/tokens.js";
import type { Range } from "../text.js";
import { tokenRange } from "./concrete.js";
import type { Report } from "./report.js";

export interface Mending {
  readonly tokens: IToken[];
  strange: IToken[];
  readonly reported: Set<IToken>;
  readonly report: Report;
}

export function made({ text }: Pick<Report, "text">, type: TokenType, { start, end }: Range): IToken {
  return { image: text.slice(start, end), startOffset: start, endOffset: end - 1, tokenType: type, tokenTypeIdx: type.tokenTypeIdx! };
}

export function isOne(token: IToken | undefined, ...types: readonly TokenType[]): boolean {
  return token !== undefined && types.some((type) => tokenMatcher(token, type));
}

/** Is it a name that is one of these words, in capitals or not? */
export function isWord(token: IToken, ...words: readonly string[]): boolean {
  return token.tokenType === T.Name && words.includes(token.image.toLowerCase());
}

/** May a clause be over with this token? */
export function ends(token: IToken | undefined): boolean {
  return isOne(token, T.Text, T.Name, T.Number, T.Unit, T.Day, T.Date, T.Time, T.Close);
}

/** Does a run of tokens join several tests or values? */
export function joins(tokens: readonly IToken[]): boolean {
  return tokens.some((token) => isOne(token, T.And, T.Or, T.Comma));
}

/** The index after a value, if one stands at `i`. */
export function afterValue(tokens: readonly IToken[], i: number): number | undefined {
  if (isOne(tokens[i], T.Name, T.Day, T.Date, T.Time, T.Text)) return i + 1;
  if (!isOne(tokens[i], T.Number)) return undefined;
  return isOne(tokens[i + 1], T.Unit, T.Name) ? i + 2 : i + 1;
}

/** Does a new line begin between two tokens? */
export function breaks({ text }: Pick<Report, "text">, before: IToken, after: IToken): boolean {
  return /[\r\n]/.test(text.slice(tokenRange(before).end, after.startOffset));
}
