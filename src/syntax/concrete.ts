/** Reading a concrete tree: children by rule or token, and the small things every statement is made of. Nothing here fails. */
import type { CstNode, IToken, TokenType } from "chevrotain";
import * as T from "../../grammar/tokens.js";
import { plainName, unmasked } from "../lookalikes.js";
import type { Range } from "../text.js";
import { dayOf, readDate, readDay, readNumber, readTime } from "./literals.js";
import type * as Tree from "./tree.js";

/** Letters of a name: more are not said in one breath. */
export const longestName = 80;

export function kids(node: CstNode | undefined, rule: string): CstNode[] {
  return (node?.children[rule] ?? []).filter((child): child is CstNode => "children" in child);
}

export function kid(node: CstNode | undefined, rule: string): CstNode | undefined {
  return kids(node, rule)[0];
}

/** Tokens as written; what recovery put in is not. */
export function tokens(node: CstNode | undefined, type: TokenType): IToken[] {
  return (node?.children[type.name] ?? []).filter((child): child is IToken => "image" in child && child.isInsertedInRecovery !== true);
}

export function has(node: CstNode | undefined, type: TokenType): boolean {
  return tokens(node, type).length > 0;
}

export function maybe<A, B>(thing: A | undefined, make: (thing: A) => B | undefined): B | undefined {
  return thing === undefined ? undefined : make(thing);
}

/** Undefined for a node that recovery left empty. */
export function rangeOf(node: CstNode): Range | undefined {
  const { startOffset, endOffset } = node.location ?? {};
  if (startOffset === undefined || endOffset === undefined || Number.isNaN(startOffset) || Number.isNaN(endOffset)) return undefined;
  return { start: startOffset, end: endOffset + 1 };
}

export function tokenRange(token: IToken): Range {
  return { start: token.startOffset, end: token.startOffset + token.image.length };
}

export function name(node: CstNode | undefined): Tree.Name | undefined {
  return maybe(tokens(node, T.Name)[0], nameFrom);
}

export function named(node: CstNode): Tree.Name[] {
  const one = name(node);
  return one ? [one] : [];
}

export function text(node: CstNode | undefined): Tree.Text | undefined {
  return maybe(tokens(node, T.Text)[0], (token) => ({ value: unquoted(token.image), range: tokenRange(token) }));
}

export function texts(node: CstNode | undefined, rule: string): Tree.Text[] {
  return kids(node, rule).flatMap((one) => text(one) ?? []);
}

export function date(node: CstNode | undefined): Tree.DateValue | undefined {
  return maybe(tokens(node, T.Date)[0], dateFrom);
}

export function number(node: CstNode | undefined): Tree.NumberValue | undefined {
  return maybe(tokens(node, T.Number)[0], (token) =>
    maybe(only(readNumber(token.image)), (written) => ({ number: written, range: tokenRange(token) })),
  );
}

export function quantity(node: CstNode | undefined): Tree.Quantity | undefined {
  const [own, range] = [number(node), node && rangeOf(node)];
  if (own === undefined || range === undefined) return undefined;
  const unitNode = kid(node, "unit");
  const unit = tokens(unitNode, T.Unit)[0] ?? tokens(unitNode, T.Name)[0];
  return {
    kind: "quantity",
    range,
    number: own.number,
    ...(unit ? { unit: { text: readUnit((unit.payload as string | undefined) ?? unit.image), range: tokenRange(unit) } } : {}),
  };
}

export function option(node: CstNode): Tree.Value[] {
  const one = value(kid(node, "value"));
  return one ? [one] : [];
}

export function value(node: CstNode | undefined): Tree.Value | undefined {
  const written = kid(node, "quantity");
  if (written) return quantity(written);
  const [word] = tokens(node, T.Name);
  if (word) return { kind: "name", ...nameFrom(word) };
  const [quoted] = tokens(node, T.Text);
  if (quoted) return { kind: "text", value: unquoted(quoted.image), range: tokenRange(quoted) };
  const [day] = tokens(node, T.Day);
  if (day) return maybe(only(readDay(day.image)), (one) => ({ kind: "day", ...dayOf(one), range: tokenRange(day) }));
  const [on] = tokens(node, T.Date);
  if (on) return dateFrom(on);
  const [at] = tokens(node, T.Time);
  return maybe(at, (token) => maybe(only(readTime(token.image)), (one) => ({ kind: "time", text: one, range: tokenRange(token) })));
}

/** The text of a quoted token, whatever quotes it has, whether or not it is closed, and on one line. Equal texts are equal whichever way their accents were typed. */
export function unquoted(image: string): string {
  return image
    .replace(/^["“„]/, "")
    .replace(/["“”]$/, "")
    .replace(/\s*[\r\n]\s*/g, " ")
    .normalize("NFC");
}

/** Nothing of it shows. */
export function isBlank(text: string): boolean {
  return /^[\s\p{Default_Ignorable_Code_Point}]*$/u.test(text);
}

/** `° f` is `°F`. */
export function readUnit(image: string): string {
  return image.startsWith("°") ? image.replace(/\s+/g, "").toUpperCase() : unmasked(image);
}

function nameFrom(token: IToken): Tree.Name {
  // A mended name says what it stands for. Of what is far too long, which has been reported, enough to tell it from names.
  return { text: plainName(((token.payload as string | undefined) ?? token.image).slice(0, longestName + 1)), range: tokenRange(token) };
}

function dateFrom(token: IToken): Tree.DateValue | undefined {
  return maybe(only(readDate(token.image)), (one) => ({ kind: "date", text: one, range: tokenRange(token) }));
}

function only<A>(readings: readonly A[]): A | undefined {
  return readings.length === 1 ? readings[0] : undefined;
}
