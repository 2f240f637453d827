/**
 * Signs that people write instead of words. The lexer leaves them out; here each finds its place among the tokens of its statement.
 *
 *   temp < 60 °F  → temp is below 60 °F        from 4 in – 8 in → from 4 in to 8 in      weed; docks → weed, docks
 *   plain_hook    → plain-hook                 2' and 4"        → 2 ft and 4 in           sky is dark & … → sky is dark and …
 */
import type { IToken, TokenType } from "chevrotain";
import * as T from "../../grammar/tokens.js";
import { syntaxWords } from "../messages/syntax.js";
import type { Range } from "../text.js";
import { tokenRange } from "./concrete.js";
import { afterValue, ends, isOne, made, type Mending } from "./mending.js";
import { rewrite } from "./report.js";

const relations: ReadonlyMap<string, TokenType> = new Map([
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

/** Takes a sign for what it stands for, where that is known; otherwise it stays among the strange ones. */
export function mendSign(at: Mending, sign: IToken): void {
  if (!at.strange.includes(sign)) return;
  const found = at.tokens.findIndex(({ startOffset }) => startOffset > sign.startOffset);
  const next = found === -1 ? at.tokens.length : found;
  for (const mend of [relation, dash, unitMark, underscore, ampersand, semicolon]) {
    if (!mend(at, sign, next)) continue;
    at.strange = at.strange.filter((other) => other !== sign);
    return;
  }
}

/** `temp < 60 °F`, `temp is < 60 °F`; spelling reports it. `next`, here and below: the index of the token after the sign. */
function relation({ tokens, report }: Mending, sign: IToken, next: number): boolean {
  const meant = relations.get(sign.image);
  const before = tokens[next - 1];
  if (meant === undefined || !isOne(before, T.Name, T.Is) || afterValue(tokens, next) === undefined) return false;
  const isBefore = before!.tokenType === T.Is;
  const token = made(report, meant, { start: isBefore ? before!.startOffset : sign.startOffset, end: tokenRange(sign).end });
  tokens.splice(isBefore ? next - 1 : next, isBefore ? 1 : 0, token);
  return true;
}

/** `from 4 in – 8 in`. */
function dash(at: Mending, sign: IToken, next: number): boolean {
  if (!/^[-−–]$/.test(sign.image)) return false;
  const first = [next - 2, next - 1].find((i) => i > 0 && afterValue(at.tokens, i) === next);
  return first !== undefined && asRange(at, first, tokenRange(sign), next);
}

/** Makes `from A to B` of two values with a dash between them, and says so; false where no such range can stand. */
export function asRange({ tokens, reported, report }: Mending, first: number, dash: Range, second: number): boolean {
  const [before, end] = [tokens[first - 1], afterValue(tokens, second)];
  const inTest = isOne(before, T.Is, T.IsFrom, T.From);
  if (end === undefined || !(inTest || (isOne(before, T.Colon) && tokens[0]!.tokenType === T.Condition))) return false;
  const isBare = before!.tokenType === T.Is;
  const whole = { start: (isBare ? before! : tokens[first]!).startOffset, end: tokenRange(tokens[end - 1]!).end };
  const [low, high] = [
    report.text.slice(tokens[first]!.startOffset, dash.start).trimEnd(),
    report.text.slice(tokens[second]!.startOffset, whole.end),
  ];
  const reading = `${isBare ? "from " : ""}${low} to ${high}`;
  report.add("syntax", whole, syntaxWords.dash(reading), [rewrite(report.path, whole, reading, syntaxWords.writeInstead(reading))]);
  const to = made(report, T.To, dash);
  reported.add(to);
  tokens.splice(second, 0, to);
  if (isBare) {
    tokens[first - 1] = made(report, T.IsFrom, tokenRange(before!));
    reported.add(tokens[first - 1]!);
  }
  return true;
}

/** `2'` and `4"`, right after a number. */
function unitMark({ tokens, reported, report }: Mending, sign: IToken, next: number): boolean {
  const before = tokens[next - 1];
  const unit = sign.tokenType === T.InchMark ? "in" : /^['’′]$/.test(sign.image) ? "ft" : undefined;
  if (unit === undefined || !isOne(before, T.Number) || tokenRange(before!).end !== sign.startOffset) return false;
  const range = tokenRange(sign);
  report.add("unit", range, syntaxWords.unitMark(sign.image, unit), [
    rewrite(report.path, range, ` ${unit}`, syntaxWords.writeInstead(unit)),
  ]);
  const token = { ...made(report, T.Name, range), payload: unit };
  reported.add(token);
  tokens.splice(next, 0, token);
  return true;
}

/** `plain_hook`, and as many parts as it has. */
function underscore(at: Mending, _: IToken, next: number): boolean {
  const { tokens, reported, report } = at;
  const joins = (i: number): boolean => {
    const [before, after] = [tokens[i - 1], tokens[i]];
    return isOne(before, T.Name) && isOne(after, T.Name) && /^_+$/.test(report.text.slice(tokenRange(before!).end, after!.startOffset));
  };
  if (!joins(next)) return false;
  let end = next + 1;
  while (joins(end)) end++;
  const range = { start: tokens[next - 1]!.startOffset, end: tokenRange(tokens[end - 1]!).end };
  const written = report.text.slice(range.start, range.end);
  const meant = written.toLowerCase().replace(/_+/g, "-");
  report.add("name", range, syntaxWords.underscore(written, meant), [rewrite(report.path, range, meant, syntaxWords.writeInstead(meant))]);
  const token = { ...made(report, T.Name, range), payload: meant };
  reported.add(token);
  tokens.splice(next - 1, end - next + 1, token);
  at.strange = at.strange.filter(({ startOffset }) => startOffset < range.start || startOffset >= range.end);
  return true;
}

function ampersand({ tokens, reported, report }: Mending, sign: IToken, next: number): boolean {
  if (!/^&&?$/.test(sign.image) || !ends(tokens[next - 1]) || !isOne(tokens[next], T.Name, T.Not, T.Open)) return false;
  const range = tokenRange(sign);
  report.add("syntax", range, syntaxWords.word(sign.image, "and"), [rewrite(report.path, range, "and", syntaxWords.writeInstead("and"))]);
  const token = made(report, T.And, range);
  reported.add(token);
  tokens.splice(next, 0, token);
  return true;
}

/** In a list a comma; between two tests it does not say which joint is meant. */
function semicolon({ tokens, reported, report }: Mending, sign: IToken, next: number): boolean {
  if (sign.image !== ";" || !ends(tokens[next - 1]) || !isOne(tokens[next], T.Name, T.Number, T.Text, T.Not, T.Open, T.Then)) return false;
  const range = tokenRange(sign);
  const isTest = isOne(tokens[next], T.Not, T.Open) || isOne(tokens[next + 1], T.RelationStart);
  const meant = isTest ? [" and", " or"] : [","];
  report.add(
    "syntax",
    range,
    isTest ? syntaxWords.betweenTests(";") : syntaxWords.word(";", ","),
    meant.map((text) => rewrite(report.path, range, text, syntaxWords.writeInstead(text.trim()))),
  );
  const token = made(report, isTest ? T.And : T.Comma, range);
  reported.add(token);
  tokens.splice(next, 0, token);
  return true;
}
