/**
 * What people say instead of the language's own phrases, where it leaves no doubt: reported where it stands, and the tokens of the
 * statement mended, so that the parser reads on as if they were right.
 *
 *   use lure crab               → go with lure crab         temp < 60 °F             → temp is below 60 °F
 *   not lure crab               → never lure crab           temp is between 5 and 9  → temp from 5 to 9
 *   unless sky is dark          → when not sky is dark      cover has weed, docks    → cover has any of weed, docks
 *   pattern Warm fish chase     → pattern "Warm fish chase"         temp is not above 60 °F → not temp is above 60 °F
 *
 * Each slip looks at one token and those about it, and says which stretch of tokens to put in place of which.
 */
import type { IToken, TokenType } from "chevrotain";
import * as T from "../../grammar/tokens.js";
import { syntaxWords } from "../messages/syntax.js";
import { tokenRange } from "./concrete.js";
import { afterValue, breaks, ends, isOne, joins, made, type Mending } from "./mending.js";
import { joinedName, noVerb, noWhen } from "./forgotten.js";
import { mending, rewrite, type Report } from "./report.js";
import { loneQuote, lostQuote, quoteText } from "./text-slips.js";

export interface Mended {
  readonly tokens: IToken[];
  /** Signs that mean nothing, without those that became part of a token. */
  readonly strange: readonly IToken[];
  /** Tokens whose spelling has been spoken of. */
  readonly reported: ReadonlySet<IToken>;
}

/** `tokens` and `strange` of one statement, each by place. */
export function mendSlips(tokens: readonly IToken[], strange: readonly IToken[], report: Report): Mended {
  const at: Mending = { tokens: [...tokens], strange: [...strange], reported: new Set(), report };
  for (const sign of strange) mendSign(at, sign);
  for (let i = at.tokens.length - 1; i >= 0; i--) for (const mend of [fullDate, loneQuote]) mend(at, i);
  for (let i = 0; i < at.tokens.length; i++)
    for (const mend of [lostQuote, quoteText, joinedName, otherWord, noVerb, noWhen, unless, notRelation, between, hasList]) mend(at, i);
  return at;
}

// Words ---------------------------------------------------------------------------------------------------------------------

const clauseWords: ReadonlyMap<string, TokenType> = new Map([
  ["go", T.GoWith],
  ["use", T.GoWith],
  ["choose", T.GoWith],
  ["try", T.GoWith],
  ["prefer", T.LeanTo],
  ["avoid", T.Never],
  ["not", T.Never],
  ["lean", T.LeanTo],
]);

/** `use lure crab`; spelling reports it, but for `lean`, which can be said two ways. */
function otherWord({ tokens, reported, report }: Mending, i: number): void {
  const [token, pick, option, after] = [tokens[i]!, tokens[i + 1], tokens[i + 2], tokens[i + 3]];
  const word = token.image.toLowerCase();
  const meant = clauseWords.get(word);
  if (meant === undefined || tokens[0]!.tokenType !== T.Pattern || !isOne(token, T.Name, T.Not) || !ends(tokens[i - 1])) return;
  if (!isOne(pick, T.Name) || !isOne(option, T.Name, T.Number, T.Text) || isOne(after, T.RelationStart)) return;
  // `go wth blade leaf` has all its words.
  if (word === "go" && isOne(option, T.Name) && isOne(after, T.Name, T.Number, T.Text) && !breaks(report, option!, after!)) return;
  tokens[i] = made(report, meant, tokenRange(token));
  if (word !== "lean") return;
  reported.add(tokens[i]);
  const phrases = ["lean to", "lean off"];
  report.add(
    "syntax",
    tokenRange(token),
    syntaxWords.oneOfWords(word, phrases),
    phrases.map((phrase) => rewrite(report.path, tokenRange(token), phrase, syntaxWords.writeInstead(phrase))),
  );
}

/** `unless A or B`: `when not (A or B)`, or `and not (A or B)` after a test. */
function unless({ tokens, reported, report }: Mending, i: number): void {
  const token = tokens[i]!;
  if (
    token.tokenType !== T.Name ||
    token.image.toLowerCase() !== "unless" ||
    !ends(tokens[i - 1]) ||
    !isOne(tokens[i + 1], T.Name, T.Not, T.Open)
  )
    return;
  let [start, end] = [i - 1, i + 1];
  while (
    start > 0 &&
    !isOne(tokens[start], T.ClauseStart) &&
    !(tokens[0]!.tokenType === T.Situation && tokens[start]!.tokenType === T.Colon)
  )
    start--;
  while (end < tokens.length && !isOne(tokens[end], T.ClauseStart)) end++;
  const goesOn = isOne(tokens[start], T.When, T.OnlyWhen, T.Colon);
  const before = goesOn && joins(tokens.slice(start + 1, i));
  const inside = joins(tokens.slice(i + 1, end));
  const range = tokenRange(token);
  const [first, next, last] = [tokenRange(tokens[start + 1]!), tokenRange(tokens[i + 1]!), tokenRange(tokens[end - 1]!)];
  const words = `${before ? ") " : ""}${goesOn ? "and" : "when"} not ${inside ? "(" : ""}`;
  const put = (offset: number, text: string) => ({ path: report.path, range: { start: offset, end: offset }, text });
  const unlessRange = { start: before ? tokenRange(tokens[i - 1]!).end : range.start, end: next.start };
  const edits = [
    ...(before ? [put(first.start, "(")] : []),
    { path: report.path, range: unlessRange, text: words },
    ...(inside ? [put(last.end, ")")] : []),
  ];
  const reading = `${goesOn ? "and" : "when"} not ${inside ? "(…)" : "…"}`;
  report.add("syntax", range, syntaxWords.unless(reading), [{ title: syntaxWords.writeInstead(reading), edits }]);
  const joint = made(report, goesOn ? T.And : T.When, range);
  reported.add(joint);
  const mark = (type: TokenType, offset: number): IToken => made(report, type, { start: offset, end: offset });
  const test = [
    mark(T.Not, range.end),
    ...(inside ? [mark(T.Open, range.end)] : []),
    ...tokens.slice(i + 1, end),
    ...(inside ? [mark(T.Close, last.end)] : []),
  ];
  for (const one of test) if (one.image === "") reported.add(one);
  tokens.splice(i, end - i, ...(before ? [mark(T.Close, range.start)] : []), joint, ...test);
  if (before) tokens.splice(start + 1, 0, mark(T.Open, first.start));
}

/** `is between 50 and 60 °F`, with or without `is`. */
function between({ tokens, reported, report }: Mending, i: number): void {
  const token = tokens[i]!;
  if (token.tokenType !== T.Name || token.image.toLowerCase() !== "between" || !isOne(tokens[i - 1], T.Is, T.Name)) return;
  const and = afterValue(tokens, i + 1);
  const end = and === undefined || tokens[and]?.tokenType !== T.And ? undefined : afterValue(tokens, and + 1);
  if (and === undefined || end === undefined) return;
  const from = tokens[i - 1]!.tokenType === T.Is ? i - 1 : i;
  const words = { start: tokenRange(tokens[from]!).start, end: tokenRange(token).end };
  const whole = { start: words.start, end: tokenRange(tokens[end - 1]!).end };
  const [low, high] = [
    [tokens[i + 1]!, tokens[and - 1]!],
    [tokens[and + 1]!, tokens[end - 1]!],
  ].map(([a, b]) => report.text.slice(tokenRange(a!).start, tokenRange(b!).end));
  const reading = `from ${low} to ${high}`;
  report.add("syntax", whole, syntaxWords.between(reading), [rewrite(report.path, whole, reading, syntaxWords.writeInstead(reading))]);
  const [start, to] = [made(report, T.IsFrom, words), made(report, T.To, tokenRange(tokens[and]!))];
  reported.add(start).add(to);
  tokens[and] = to;
  tokens.splice(from, i + 1 - from, start);
}

const deniable: ReadonlyMap<string, TokenType> = new Map([
  ["between", T.IsFrom],
  ["from", T.IsFrom],
  ["at least", T.IsAtLeast],
  ["at most", T.IsAtMost],
  ["above", T.IsAbove],
  ["below", T.IsBelow],
]);

/** `temp is not between 50 and 60 °F`: `not` takes a whole test, so it goes before it. */
function notRelation({ tokens, reported, report }: Mending, i: number): void {
  const [subject, is] = [tokens[i - 1], tokens[i]!];
  if (is.tokenType !== T.IsNot || !isOne(subject, T.Name)) return;
  const value = i + (tokens[i + 1]?.image.toLowerCase() === "at" ? 3 : 2);
  const word = tokens
    .slice(i + 1, value)
    .map(({ image }) => image.toLowerCase())
    .join(" ");
  const meant = deniable.get(word);
  const next = afterValue(tokens, value);
  if (meant === undefined || next === undefined) return;
  const isRange = meant === T.IsFrom;
  if (isRange && !isOne(tokens[next], word === "between" ? T.And : T.To)) return;
  const end = isRange ? afterValue(tokens, next + 1) : next;
  if (end === undefined) return;
  const written = (from: number, to: number): string => report.text.slice(tokenRange(tokens[from]!).start, tokenRange(tokens[to - 1]!).end);
  const reading = `not ${subject!.image} ${isRange ? `from ${written(value, next)} to ${written(next + 1, end)}` : `is ${word} ${written(value, end)}`}`;
  const whole = { start: tokenRange(subject!).start, end: tokenRange(tokens[end - 1]!).end };
  // Whether `between` takes in its ends, only a person knows.
  const write = word === "between" ? rewrite : mending;
  report.add("syntax", whole, syntaxWords.notRelation(reading), [write(report.path, whole, reading, syntaxWords.writeInstead(reading))]);
  const not = made(report, T.Not, { start: whole.start, end: whole.start });
  const relation = made(report, meant, { start: is.startOffset, end: tokenRange(tokens[value - 1]!).end });
  reported.add(not).add(relation);
  if (isRange) {
    tokens[next] = made(report, T.To, tokenRange(tokens[next]!));
    reported.add(tokens[next]);
  }
  tokens.splice(i - 1, value - i + 1, not, subject!, relation);
}

/** `has weed, docks`: any of them, or all? */
function hasList({ tokens, reported, report }: Mending, i: number): void {
  const token = tokens[i]!;
  if (token.tokenType !== T.Has) return;
  let last = i + 1;
  while (
    isOne(tokens[last], T.Name) &&
    isOne(tokens[last + 1], T.Comma) &&
    isOne(tokens[last + 2], T.Name) &&
    !isOne(tokens[last + 3], T.RelationStart)
  )
    last += 2;
  if (last === i + 1) return;
  const whole = { start: token.startOffset, end: tokenRange(tokens[last]!).end };
  const members = report.text.slice(tokenRange(tokens[i + 1]!).start, whole.end);
  const phrases = ["has any of", "has all of"];
  report.add(
    "syntax",
    whole,
    syntaxWords.hasList(members),
    phrases.map((phrase) => rewrite(report.path, tokenRange(token), phrase, syntaxWords.writeInstead(`${phrase} ${members}`))),
  );
  tokens[i] = made(report, T.HasAnyOf, tokenRange(token));
  reported.add(tokens[i]);
}

// Literals ------------------------------------------------------------------------------------------------------------------

/** `until april 30`: of which year? The clause is passed over. */
function fullDate({ tokens, report }: Mending, i: number): void {
  const [clause, first, to, second] = tokens.slice(i, i + 4);
  const days = isOne(clause, T.Until, T.Checked)
    ? [first]
    : isOne(clause, T.GoodFrom) && isOne(first, T.Day, T.Date) && isOne(to, T.To) && isOne(second, T.Day, T.Date)
      ? [first, second]
      : [];
  const lacking = days.filter((day) => day?.tokenType === T.Day);
  for (const day of lacking) report.add("syntax", tokenRange(day!), syntaxWords.fullDate(day!.image));
  if (lacking.length > 0) tokens.splice(i, days.length === 1 ? 2 : 4);
}

const signs: ReadonlyMap<string, TokenType> = new Map([
  ["<", T.IsBelow],
  [">", T.IsAbove],
  ["<=", T.IsAtMost],
  ["=<", T.IsAtMost],
  ["≤", T.IsAtMost],
  [">=", T.IsAtLeast],
  ["=>", T.IsAtLeast],
  ["≥", T.IsAtLeast],
  ["=", T.Is],
  ["==", T.Is],
  ["!=", T.IsNot],
  ["<>", T.IsNot],
  ["≠", T.IsNot],
]);

/** `temp < 60 °F`, `temp is < 60 °F`; spelling reports it. */
function mendSign(at: Mending, sign: IToken): void {
  const { tokens, report } = at;
  const meant = signs.get(sign.image);
  const next = tokens.findIndex(({ startOffset }) => startOffset > sign.startOffset);
  const before = tokens[next - 1];
  if (meant === undefined || !isOne(before, T.Name, T.Is) || afterValue(tokens, next) === undefined) return;
  const isBefore = before!.tokenType === T.Is;
  at.strange = at.strange.filter((other) => other !== sign);
  tokens.splice(
    isBefore ? next - 1 : next,
    isBefore ? 1 : 0,
    made(report, meant, { start: isBefore ? before!.startOffset : sign.startOffset, end: tokenRange(sign).end }),
  );
}
