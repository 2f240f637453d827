/**
 * Where statements start: at the words that start one, which are reserved. Three slips would otherwise spoil two statements each:
 *
 *   pick sort: trust, book, other      a reserved word used as a name: it stands where a name is due and nothing it starts follows
 *   patern "Mud wants thump"           a misspelt first word, or one of several: it stands first on an unindented line before what
 *   flal back on lure crab             would follow it
 *   pattern Trust the mud              a text without its quotation marks, with such a word in it
 *
 * All are read as what was meant: the token list is mended in place. The first is reported here, the second by `spelling.ts`, the third
 * by `text-slips.ts`.
 */
import { tokenMatcher, type IToken, type TokenType } from "chevrotain";
import * as T from "../../grammar/tokens.js";
import type { Finding } from "../diagnostics.js";
import { plainName } from "../lookalikes.js";
import { syntaxWords } from "../messages/syntax.js";
import { nearest } from "../suggest.js";
import { tokenRange } from "./concrete.js";
import { breaks, isOne, isWord } from "./mending.js";
import { beforeTexts, textClauses } from "./quotes.js";
import { makeFinding, type Report } from "./report.js";

export function findStarts(tokens: IToken[], report: Report): { readonly starts: readonly number[]; readonly slips: readonly Finding[] } {
  const starts: number[] = [];
  const slips: Finding[] = [];
  for (let i = 0; i < tokens.length; i++) {
    plainWords(tokens, i, report.text);
    const token = tokens[i]!;
    const clause = tokens[starts.at(-1) ?? -1]?.tokenType === T.Pattern ? pickAsClause(tokens, i, report.text) : undefined;
    if (clause !== undefined) {
      tokens[i] = clause;
      continue;
    }
    const isStart = tokenMatcher(token, T.StatementStart);
    if ((isStart || tokenMatcher(token, T.ClauseStart)) && isName(tokens, i, report.text)) {
      slips.push(makeFinding(report.path, "name", tokenRange(token), syntaxWords.reserved(token.image)));
      tokens[i] = { ...token, tokenType: T.Name, tokenTypeIdx: T.Name.tokenTypeIdx! };
      continue;
    }
    const inOne = isOne(token, T.Name, T.Say, T.Trust)
      ? (fallback(tokens, i, report.text) ?? severalWords(tokens, i, report.text))
      : undefined;
    if (inOne !== undefined) {
      tokens.splice(i, inOne.length, inOne.token);
      starts.push(i);
    } else if (isStart) starts.push(i);
    else if (token.tokenType === T.Name) {
      const meant = misspelt(tokens, i, report.text);
      if (meant === undefined) continue;
      tokens[i] = { ...token, tokenType: meant.token, tokenTypeIdx: meant.token.tokenTypeIdx! };
      starts.push(i);
    }
  }
  return { starts, slips };
}

/** A name that only looks like a word of the language, as that word; `spelling.ts` reports it. */
export function unmaskedWord(token: IToken): IToken {
  if (token.tokenType !== T.Name || /^[\u0000-\u007f]*$/.test(token.image)) return token;
  const word = T.words.find(({ phrase }) => phrase === plainName(token.image));
  return word === undefined ? token : { ...token, tokenType: word.token, tokenTypeIdx: word.token.tokenTypeIdx! };
}

const nameIsDue: readonly TokenType[] = [
  T.Comma,
  T.Colon,
  T.Is,
  T.IsNot,
  T.IsNeither,
  T.Or,
  T.Nor,
  T.Has,
  T.HasAnyOf,
  T.HasAllOf,
  T.HasNo,
  T.Only,
  T.AnyOf,
  T.InOrder,
  T.Condition,
  T.Band,
  T.Group,
  T.Situation,
  T.Pick,
  T.Judgement,
  T.TrustFor,
  T.FallBackOn,
  T.SayNothingOn,
];
const followsName: readonly TokenType[] = [T.Comma, T.Colon, T.Or, T.Nor, T.Than, T.Close, T.RelationStart, T.StatementStart];

/** A reserved word in the place of a name. */
function isName(tokens: readonly IToken[], i: number, text: string): boolean {
  const [before, token, after] = [tokens[i - 1], tokens[i]!, tokens[i + 1]];
  if (before === undefined || breaks({ text }, before, token) || !/^\p{L}+$/u.test(token.image) || !isOne(before, ...nameIsDue))
    return false;
  return after === undefined || isOne(after, ...followsName) || breaks({ text }, token, after);
}

/** Texts in which anything may be said; a title is shorter. */
const sentences: readonly TokenType[] = [T.Because, T.Say, T.See, T.Ask];

/** Is it a word that would start a clause if a text in quotation marks followed, taken for a part of a sentence? */
export function isPlainClause(token: IToken): boolean {
  return token.tokenType === T.Name && textClauses.some((type) => T.wordOf.get(type)!.phrase === token.image);
}

/** Makes names of the reserved words in a text without quotation marks: it goes to the next clause, or to the end of the line. */
function plainWords(tokens: IToken[], i: number, text: string): void {
  if (!beforeTexts.includes(tokens[i]!.tokenType)) return;
  for (let at = i + 1; at < tokens.length; at++) {
    const token = tokens[at]!;
    if (isOne(token, T.Text, T.Colon) || breaks({ text }, tokens[at - 1]!, token)) return;
    // A title begins with a capital, a clause does not.
    const isPlain =
      sentences.includes(tokens[i]!.tokenType) &&
      at > i + 1 &&
      textClauses.includes(token.tokenType) &&
      tokens[at + 1] !== undefined &&
      !isOne(tokens[at + 1], T.Text);
    if (tokenMatcher(token, T.ClauseStart) && !isPlain && !(at === i + 1 && /^\p{Lu}/u.test(token.image))) return;
    if (!isOne(token, T.StatementStart, T.ClauseStart)) continue;
    if (tokenMatcher(token, T.StatementStart) && goesOn(tokens, at)) return;
    tokens[at] = { ...token, tokenType: T.Name, tokenTypeIdx: T.Name.tokenTypeIdx! };
  }
}

/** Is a word that starts a statement followed by what it starts? */
function goesOn(tokens: readonly IToken[], i: number): boolean {
  const [token, next, after] = [tokens[i]!, tokens[i + 1], tokens[i + 2]];
  if (next === undefined) return false;
  if (isOne(next, T.Text, T.When)) return true;
  const onlyText = [T.FallBackOn, T.SayNothingOn, T.Add].includes(token.tokenType);
  return next.tokenType === T.Name && isOne(after, ...(onlyText ? [T.Text] : [T.Text, T.Colon, T.First]));
}

/** What follows a statement's first word, by that word. */
const beforeText = T.words.filter(({ token }) => [T.Book, T.Pattern, T.Caution, T.Promise].some((type) => type === token));
const beforeName = T.words.filter(({ token }) =>
  [T.Condition, T.Band, T.Group, T.Situation, T.Pick, T.Judgement, T.Trust].some((type) => type === token),
);
const beforeWhen = T.words.filter(({ token }) => token === T.Impossible);
const ofSeveralWords = T.words.filter(({ role, phrase }) => role === "statement" && phrase.includes(" "));

function beginsLine({ startOffset }: IToken, text: string): boolean {
  return startOffset === 0 || /[\r\n\uFEFF]/.test(text[startOffset - 1]!);
}

function misspelt(tokens: readonly IToken[], i: number, text: string): T.Word | undefined {
  const [before, token, after] = [tokens[i - 1], tokens[i]!, tokens[i + 1]];
  if (after === undefined || token.image.length < 3 || !beginsLine(token, text)) return undefined;
  if (isOne(before, ...nameIsDue, T.And, T.Not, T.When, T.OnlyWhen, T.Open, T.Number)) return undefined;
  const candidates = [
    { next: T.Text, words: beforeText },
    { next: T.Name, words: beforeName },
    { next: T.When, words: beforeWhen },
  ].flatMap(({ next, words }) => (tokenMatcher(after, next) ? words : []));
  const near = nearest(
    token.image,
    candidates.map(({ phrase }) => phrase),
  );
  return candidates.find(({ phrase }) => phrase === near);
}

/** `flal back on lure crab`, `say nohting on lure`: as one token that stands for the first `length` of them. */
function severalWords(tokens: readonly IToken[], i: number, text: string): { readonly token: IToken; readonly length: number } | undefined {
  if (!beginsLine(tokens[i]!, text)) return undefined;
  for (const { token: tokenType, phrase } of ofSeveralWords) {
    const { length } = phrase.split(" ");
    const words = tokens.slice(i, i + length);
    const written = words.map(({ image }) => image).join(" ");
    const isNear =
      words.length === length && words.every(({ image }) => /^\p{L}+$/u.test(image)) && nearest(written, [phrase]) !== undefined;
    const [next, after] = [tokens[i + length], tokens[i + length + 1]];
    // `trust fog first` is no `trust for`: that has a colon.
    if (isNear && isOne(next, T.Name, T.Text) && (tokenType !== T.TrustFor || isOne(after, T.Colon)))
      return { token: standingFor(words, tokenType, text), length };
  }
  return undefined;
}

function standingFor(words: readonly IToken[], tokenType: TokenType, text: string): IToken {
  const { end } = tokenRange(words.at(-1)!);
  const [first] = words;
  return { ...first!, image: text.slice(first!.startOffset, end), endOffset: end - 1, tokenType, tokenTypeIdx: tokenType.tokenTypeIdx! };
}

/** `fallback lure crab`, `fallback on lure crab`, `otherwise lure crab`: as one token that stands for the first `length` of them. */
function fallback(tokens: readonly IToken[], i: number, text: string): { readonly token: IToken; readonly length: number } | undefined {
  const [before, token] = [tokens[i - 1], tokens[i]!];
  if (!isWord(token, "fallback", "otherwise") || (before !== undefined && !breaks({ text }, before, token))) return undefined;
  const length = tokens[i + 1]?.image === "on" ? 2 : 1;
  if (tokens[i + length]?.tokenType !== T.Name) return undefined;
  return { token: standingFor(tokens.slice(i, i + length), T.FallBackOn, text), length };
}

/** `pick lure crab` further in than its pattern: no declaration, for that has a colon. */
function pickAsClause(tokens: readonly IToken[], i: number, text: string): IToken | undefined {
  const [token, name, option, after] = [tokens[i]!, tokens[i + 1], tokens[i + 2], tokens[i + 3]];
  if (token.tokenType !== T.Pick || !/[ \t]/.test(text[token.startOffset - 1] ?? "") || name?.tokenType !== T.Name) return undefined;
  if (!isOne(option, T.Name, T.Number) || after?.tokenType === T.Colon) return undefined;
  return { ...token, tokenType: T.GoWith, tokenTypeIdx: T.GoWith.tokenTypeIdx! };
}
