/**
 * What people say instead of the language's own phrases, where it leaves no doubt: reported where it stands, and the tokens of the
 * statement mended, so that the parser reads on as if they were right.
 *
 *   use lure crab               → go with lure crab         temp is over 60 °F       → temp is above 60 °F
 *   not lure crab               → never lure crab           temp is between 5 and 9  → temp from 5 to 9
 *   unless sky is dark          → when not sky is dark      cover has weed, docks    → cover has any of weed, docks
 *   pattern Warm fish chase     → pattern "Warm fish chase"         temp is not above 60 °F → not temp is above 60 °F
 *
 * Signs that stand for words are in `signs.ts`. Each slip looks at one token and those about it, and says which stretch of tokens to put in place of which.
 */
import type { IToken, TokenType } from "chevrotain";
import * as T from "../../grammar/tokens.js";
import { syntaxWords } from "../messages/syntax.js";
import { tokenRange } from "./concrete.js";
import { afterValue, breaks, ends, isOne, isWord, joins, made, type Mending } from "./mending.js";
import { joinedName, noVerb, noWhen } from "./forgotten.js";
import { mending, rewrite, type Report } from "./report.js";
import { asRange, mendSign } from "./signs.js";
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
    for (const mend of [
      lostQuote,
      quoteText,
      joinedName,
      otherWord,
      noVerb,
      noWhen,
      noPick,
      but,
      unless,
      neither,
      notRelation,
      overOrUnder,
      between,
      dashed,
      fromInRange,
      hasList,
    ])
      mend(at, i);
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

/** `but not A`, `but A`: spelling reports it. */
function but({ tokens, report }: Mending, i: number): void {
  const [token, next] = [tokens[i]!, tokens[i + 1]];
  if (!isWord(token, "but") || !ends(tokens[i - 1])) return;
  if (isOne(next, T.Not) || (isOne(next, T.Name) && isOne(tokens[i + 2], T.RelationStart)))
    tokens[i] = made(report, T.And, tokenRange(token));
}

/** `unless A or B`, `except when A`: `when not (A or B)`, or `and not (A or B)` after a test. */
function unless({ tokens, reported, report }: Mending, i: number): void {
  const word = tokens[i]!;
  if (!isWord(word, "unless", "except") || !ends(tokens[i - 1])) return;
  const withWhen = isOne(tokens[i + 1], T.When);
  if (!isOne(tokens[withWhen ? i + 2 : i + 1], T.Name, T.Not, T.Open)) return;
  if (withWhen) tokens.splice(i, 2, made(report, T.Name, { start: word.startOffset, end: tokenRange(tokens[i + 1]!).end }));
  const token = tokens[i]!;
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
  report.add("syntax", range, syntaxWords.withNot(token.image, reading), [{ title: syntaxWords.writeInstead(reading), edits }]);
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

/** `is neither A or B`; `neither A is B nor C is D`, which is `not (A is B or C is D)`. */
function neither({ tokens, reported, report }: Mending, i: number): void {
  const token = tokens[i]!;
  if (token.tokenType === T.IsNeither) {
    for (let at = afterValue(tokens, i + 1); at !== undefined; at = afterValue(tokens, at + 1)) {
      // Once a `nor` is written, an `or` joins another test.
      if (!isOne(tokens[at], T.Or, T.Comma) || isOne(tokens[at + 1], T.Open, T.Not) || isOne(tokens[at + 2], T.RelationStart)) return;
      if (isOne(tokens[at], T.Or)) tokens[at] = made(report, T.Nor, tokenRange(tokens[at]!));
    }
    return;
  }
  if (!isWord(token, "neither") || !isOne(tokens[i + 1], T.Name) || !isOne(tokens[i + 2], T.RelationStart)) return;
  let end = i + 1;
  while (end < tokens.length && !isOne(tokens[end], T.ClauseStart)) end++;
  const parts = tokens.slice(i + 1, end).map((one) => (isOne(one, T.Nor) ? made(report, T.Or, tokenRange(one)) : one));
  const close = tokenRange(parts.at(-1)!).end;
  const reading = "not (… or …)";
  const joints = parts.filter((one) => isOne(one, T.Or) && one.image.toLowerCase() !== "or");
  report.add("syntax", tokenRange(token), syntaxWords.withNot(token.image, reading), [
    {
      title: syntaxWords.writeInstead(reading),
      edits: [
        { path: report.path, range: { start: token.startOffset, end: parts[0]!.startOffset }, text: "not (" },
        ...joints.map((one) => ({ path: report.path, range: tokenRange(one), text: "or" })),
        { path: report.path, range: { start: close, end: close }, text: ")" },
      ],
    },
  ]);
  const [not, open] = [
    made(report, T.Not, tokenRange(token)),
    made(report, T.Open, { start: parts[0]!.startOffset, end: parts[0]!.startOffset }),
  ];
  const closing = made(report, T.Close, { start: close, end: close });
  for (const one of [not, open, closing, ...joints]) reported.add(one);
  tokens.splice(i, end - i, not, open, ...parts, closing);
}

const sides: ReadonlyMap<string, TokenType> = new Map([
  ["over", T.IsAbove],
  ["under", T.IsBelow],
]);

/** `is over 4 in`; spelling reports it, or the model, where there are comparing words. */
function overOrUnder({ tokens, report }: Mending, i: number): void {
  const [is, word] = [tokens[i]!, tokens[i + 1]];
  const meant = is.tokenType === T.Is && isOne(word, T.Name) ? sides.get(word!.image.toLowerCase()) : undefined;
  if (meant === undefined || afterValue(tokens, i + 2) === undefined) return;
  tokens.splice(i, 2, made(report, meant, { start: is.startOffset, end: tokenRange(word!).end }));
}

/** `is 4-8 in`: the dash of the second number is no minus. */
function dashed(at: Mending, i: number): void {
  const { tokens, report } = at;
  const [low, high] = [tokens[i]!, tokens[i + 1]];
  if (!isOne(low, T.Number) || !isOne(high, T.Number) || !/^[-−–]/.test(high!.image) || tokenRange(low).end !== high!.startOffset) return;
  const { start, end } = tokenRange(high!);
  const second = made(report, T.Number, { start: start + 1, end });
  tokens[i + 1] = second;
  if (!asRange(at, i, { start, end: start + 1 }, i + 1)) tokens[i + 1] = high!;
}

/** `condition depth: from 0 to 40 ft`. */
function fromInRange({ tokens, report }: Mending, i: number): void {
  const [colon, from] = [tokens[i]!, tokens[i + 1]];
  const to = afterValue(tokens, i + 2);
  if (
    tokens[0]!.tokenType !== T.Condition ||
    colon.tokenType !== T.Colon ||
    !isOne(from, T.From) ||
    to === undefined ||
    !isOne(tokens[to], T.To)
  )
    return;
  report.add("syntax", tokenRange(from!), syntaxWords.fromInRange(), [
    mending(report.path, { start: from!.startOffset, end: tokens[i + 2]!.startOffset }, "", syntaxWords.takeOut()),
  ]);
  tokens.splice(i + 1, 1);
}

/** `fall back on 1/8 oz`: of which pick? The parser asks, and takes the unit for no name. */
function noPick({ tokens, reported, report }: Mending, i: number): void {
  const [verb, number, unit] = [tokens[i]!, tokens[i + 1], tokens[i + 2]];
  if (!isOne(verb, T.GoWith, T.LeanTo, T.LeanOff, T.FallBackOn) || !isOne(number, T.Number) || !isOne(unit, T.Unit, T.Name)) return;
  const whole = made(report, T.Number, { start: number!.startOffset, end: tokenRange(unit!).end });
  reported.add(whole);
  tokens.splice(i + 1, 2, whole);
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

/** `has weed, docks`, `has weed, docks and eels`: any of them, or all? */
function hasList({ tokens, reported, report }: Mending, i: number): void {
  const token = tokens[i]!;
  if (token.tokenType !== T.Has) return;
  const goesOn = (last: number, ...joints: readonly TokenType[]): boolean =>
    isOne(tokens[last], T.Name) &&
    isOne(tokens[last + 1], ...joints) &&
    isOne(tokens[last + 2], T.Name) &&
    !isOne(tokens[last + 3], T.RelationStart);
  let last = i + 1;
  while (goesOn(last, T.Comma)) last += 2;
  if (last === i + 1) return;
  const joint = goesOn(last, T.And, T.Or) ? tokens[last + 1] : undefined;
  if (joint !== undefined) {
    tokens[last + 1] = made(report, T.Comma, tokenRange(joint));
    last += 2;
  }
  const whole = { start: token.startOffset, end: tokenRange(tokens[last]!).end };
  const members = tokens
    .slice(i + 1, last + 1)
    .filter((one) => isOne(one, T.Name))
    .map(({ image }) => image)
    .join(", ");
  const phrases = joint?.tokenType === T.Or ? ["has any of"] : ["has any of", "has all of"];
  report.add(
    "syntax",
    whole,
    syntaxWords.hasList(members),
    phrases.map((phrase) => rewrite(report.path, whole, `${phrase} ${members}`, syntaxWords.writeInstead(`${phrase} ${members}`))),
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
