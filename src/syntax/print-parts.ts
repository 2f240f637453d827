/**
 * Pieces of layout that know about comments: a comment runs to the end of its line, so whatever follows it must start a new one.
 *
 *   go with blade -- thump          part(`go with blade`) glue part(`colorado`, led by the comment)
 *     colorado
 *
 * Parts are made in the order of the text. Each comment waits until the next word is made and leads it, so none can be lost; before
 * a comma, colon or closing parenthesis it waits one word longer.
 * Documents are Prettier's (Wadler, "A prettier printer", 2003; Oppen 1980).
 */
import type { CstNode, IToken } from "chevrotain";
import { builders } from "prettier/doc";
import * as T from "../../grammar/tokens.js";
import type { Range } from "../text.js";
import { tokenRange } from "./concrete.js";

export type Doc = builders.Doc;

const { fill, group, hardline, indent, line } = builders;

/** A stretch of layout, with the comments before its first word: they stand on the line of what is before it, or on their own. */
export interface PrintPart {
  readonly doc: Doc;
  readonly lead?: { readonly doc: Doc; readonly ownLine: boolean };
}

/** A comment as the printer needs it. */
export interface Remark {
  readonly range: Range;
  readonly image: string;
  /** Nothing but blanks stands before it on its line. */
  readonly ownLine: boolean;
}

/** The comments inside one unit, which the words of the unit use up. */
export type Waiting = Remark[];

export function word(token: IToken, waiting: Waiting): PrintPart {
  return writtenPart(spelled(token), token, waiting);
}

/** A word that starts a line together with what follows it, led by the comments before either. */
export function joint(token: IToken, following: CstNode | IToken | undefined, waiting: Waiting): PrintPart {
  return writtenPart(spelled(token), token, waiting, following && startOf(following));
}

/** Text that stands for a token, led by the comments before it. */
export function writtenPart(text: string, token: IToken, waiting: Waiting, before = tokenRange(token).start): PrintPart {
  if (token.tokenType === T.Comma || token.tokenType === T.Colon || token.tokenType === T.Close) return { doc: text };
  const remarks: Remark[] = [];
  while (waiting[0] !== undefined && waiting[0].range.start < before) remarks.push(waiting.shift()!);
  if (remarks.length === 0) return { doc: text };
  return { doc: text, lead: { doc: remarks.map(({ image }) => [image, hardline]), ownLine: remarks[0]!.ownLine } };
}

/** `a`, then `separator`, then `b`; comments before `b` end the line instead. */
export function glue(a: PrintPart, separator: Doc, b: PrintPart): PrintPart {
  return { doc: [a.doc, between(separator, b), b.doc], lead: a.lead };
}

export function glueAll(parts: readonly PrintPart[], separator: Doc = " "): PrintPart {
  return parts.length === 0 ? { doc: "" } : parts.reduce((a, b) => glue(a, separator, b));
}

/** Items one after another, as many on a line as fit. */
export function filled(items: readonly PrintPart[]): PrintPart {
  return { doc: fill(items.flatMap((item, i) => (i === 0 ? [item.doc] : [between(line, item), item.doc]))), lead: items[0]?.lead };
}

/** The same part with its layout, but for the comments before it, inside something. */
export function wrapped(part: PrintPart, wrap: (doc: Doc) => Doc): PrintPart {
  return { doc: wrap(part.doc), lead: part.lead };
}

/** On one line if that fits, else broken at every `line`; continuation lines stand further in. */
export function grouped(part: PrintPart): Doc {
  return [part.lead?.doc ?? "", group(indent(part.doc))];
}

function between(separator: Doc, { lead }: PrintPart): Doc {
  return lead === undefined ? separator : [lead.ownLine ? hardline : " ", lead.doc];
}

/** Children in the order of the text; what recovery put in is left out. */
export function ordered(node: CstNode): (CstNode | IToken)[] {
  return Object.values(node.children)
    .flat()
    .filter((child) => !("image" in child && child.isInsertedInRecovery))
    .sort((a, b) => startOf(a) - startOf(b));
}

export function startOf(child: CstNode | IToken): number {
  return "image" in child ? child.startOffset : (child.location?.startOffset ?? 0);
}

/** A word as the language writes it, a literal as it is written but for blanks. */
function spelled(token: IToken): string {
  const phrase = T.wordOf.get(token.tokenType)?.phrase;
  return phrase ?? (token.image.startsWith('"') ? token.image : token.image.replace(/\s+/g, " "));
}
