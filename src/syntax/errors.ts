/**
 * The parser's exceptions into findings: one per clause, at the place where it shows, in words about the book.
 *
 *   exception: in pickName of goWith of pattern, at `when`, after `go with`   ──▶   After `go with` I expected the name of a pick …
 */
import { EOF, tokenMatcher, type IRecognitionException, type IToken } from "chevrotain";
import * as T from "../../grammar/tokens.js";
import { examples, punctuation, roles, syntaxWords, type FoundInstead } from "../messages/syntax.js";
import { tokenRange } from "./concrete.js";
import { didYouMean } from "./did-you-mean.js";
import { rewrite, type Report } from "./report.js";

/** Reports what the parser could not read of one statement, whose tokens are given. */
export function reportErrors(errors: readonly IRecognitionException[], tokens: readonly IToken[], report: Report): void {
  const reported = new Set<number>();
  for (const error of errors) {
    const place = placeOf(error, tokens);
    if (reported.has(place.clause)) continue;
    reported.add(place.clause);
    if (isLeftOver(error)) reportLeftOver(place, tokens, report);
    else reportMissing(error, place, tokens, report);
  }
}

interface Place {
  /** Index of the token where it shows; `tokens.length` at the end of the statement. */
  readonly at: number;
  /** Index of the word that starts the clause; 0 for the statement's head. */
  readonly clause: number;
}

function placeOf(error: IRecognitionException, tokens: readonly IToken[]): Place {
  const at = tokenMatcher(error.token, EOF) ? tokens.length : indexAt(tokens, error.token.startOffset);
  let clause = isLeftOver(error) ? at : at - 1;
  while (clause > 0 && !startsClause(tokens, clause)) clause--;
  return { at, clause: Math.max(clause, 0) };
}

function indexAt(tokens: readonly IToken[], offset: number): number {
  let low = 0;
  let high = tokens.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (tokens[middle]!.startOffset < offset) low = middle + 1;
    else high = middle;
  }
  return low;
}

function startsClause(tokens: readonly IToken[], i: number): boolean {
  const token = tokens[i]!;
  if (tokenMatcher(token, T.ClauseStart)) return true;
  return [T.Shop, T.Water, T.Edition].some((type) => type === token.tokenType) && tokenMatcher(tokens[i + 1] ?? token, T.Text);
}

/** The statement was complete before this token. */
function isLeftOver(error: IRecognitionException): boolean {
  return error.name === "NotAllInputParsedException" || (error.name === "MismatchedTokenException" && error.message === EOF.name);
}

function reportLeftOver({ at, clause }: Place, tokens: readonly IToken[], report: Report): void {
  const token = tokens[at]!;
  const before = tokens[at - 1]!;
  const range = tokenRange(token);
  if (tokenMatcher(token, T.ClauseStart)) report.add("syntax", range, syntaxWords.wrongClause(phraseOf(token), phraseOf(tokens[0]!)));
  else if (didYouMean(tokens, at, report)) return;
  else if (tokenMatcher(before, T.Text) && tokenRange(before).end === range.start) report.add("syntax", range, syntaxWords.quoteInText());
  else if (tokenMatcher(token, T.Number) && tokens[at - 2]?.tokenType === T.Is) {
    report.add("syntax", range, syntaxWords.noThan(before.image, token.image), [
      rewrite(report.path, { start: range.start, end: range.start }, "than ", syntaxWords.writeInstead("than")),
    ]);
  } else {
    let start = clause;
    while (start > 0 && !startsClause(tokens, start)) start--;
    report.add("syntax", range, syntaxWords.leftOver(said(tokens, start, at), token.image, phraseOf(tokens[start]!)));
  }
}

function reportMissing(error: IRecognitionException, { at, clause }: Place, tokens: readonly IToken[], report: Report): void {
  const next = tokens[at];
  const before = tokens[at - 1];
  if (next !== undefined && didYouMean(tokens, at, report)) return;
  const stack = [...error.context.ruleStack].reverse();
  if (stack[0] === "join" && next !== undefined && before?.tokenType === T.Comma) {
    const isTest = next.tokenType === T.Name && tokenMatcher(tokens[at + 1] ?? next, T.RelationStart);
    const saying = isTest ? syntaxWords.betweenTests(",") : syntaxWords.commaInTest(next.image, report.sample());
    const joints = isTest ? ["and", "or"] : ["or"];
    report.add(
      "syntax",
      tokenRange(before),
      saying,
      joints.map((joint) => rewrite(report.path, tokenRange(before), ` ${joint}`, syntaxWords.writeInstead(joint))),
    );
    return;
  }
  const found: FoundInstead =
    next === undefined
      ? { kind: "end" }
      : startsClause(tokens, at)
        ? { kind: "clause", word: phraseOf(next) }
        : { kind: "word", word: next.image };
  const example = stack.map((rule) => examples[rule]).find((one) => one !== undefined);
  const shown = typeof example === "function" ? example(report.sample()) : example;
  report.add(
    "syntax",
    tokenRange(found.kind === "word" ? next! : (before ?? next!)),
    syntaxWords.missing(said(tokens, clause, at), expected(error, stack), found, shown),
  );
}

/** What a rule is there for; a value is there for what its parent is. */
function expected(error: IRecognitionException, stack: readonly string[]): string {
  const role =
    stack
      .filter((rule, i) => !(rule === "value" && roles[stack[i + 1]!] !== undefined))
      .map((rule) => roles[rule])
      .find((one) => one !== undefined) ?? roles["value"]!;
  if (error.name !== "MismatchedTokenException") return role;
  const word = T.words.find(({ token }) => token.name === error.message);
  return word !== undefined ? `\`${word.phrase}\`` : (punctuation[error.message] ?? role);
}

/** What was written from one token up to another, the end of it if it is long. */
function said(tokens: readonly IToken[], from: number, to: number): string {
  const words = tokens.slice(from, to).map(({ image }) => image.replace(/\s+/g, " "));
  let start = words.length - 1;
  let length = 0;
  while (start > 0 && length + words[start]!.length < 40) length += words[start--]!.length + 1;
  const text = words
    .slice(Math.max(start, 0))
    .join(" ")
    .replace(/ ([,:)])/g, "$1")
    .replace(/\( /g, "(");
  return start > 0 ? `… ${text}` : text;
}

function phraseOf(token: IToken): string {
  return T.wordOf.get(token.tokenType)?.phrase ?? token.image;
}
