/**
 * What each word of a book is, for editors that color by meaning.
 *
 *     pattern  "Mud wants thump"  go with  blade  round,      when     clarity   is dirty     or dirtier
 *     keyword  class              keyword  enum   enumMember  keyword  variable  … enumMember … operator
 *
 * Words of the language, numbers and texts come from the lexer, names from what they stand for; where both speak, the name counts. The
 * legend holds standard token types only (Language Server Protocol 3.17), so every editor's theme has colors for them.
 */
import { tokenMatcher, type IToken } from "chevrotain";
import * as T from "../../grammar/tokens.js";
import { longestBook, type LineMap, type Range } from "../text.js";
import { namesOf } from "./names/names.js";
import type { Mention, ThingKind } from "../model/names.js";
import type { View } from "./view.js";

export const semanticTokenTypes = [
  "namespace",
  "class",
  "enum",
  "enumMember",
  "variable",
  "type",
  "function",
  "operator",
  "keyword",
  "comment",
  "string",
  "number",
] as const;
export const semanticTokenModifiers = ["declaration", "deprecated"] as const;

export type SemanticTokenType = (typeof semanticTokenTypes)[number];
type SemanticTokenModifier = (typeof semanticTokenModifiers)[number];

export interface SemanticToken {
  /** Within one line. */
  readonly range: Range;
  readonly type: SemanticTokenType;
  /** `deprecated`: a pattern that is left out. */
  readonly modifiers: readonly SemanticTokenModifier[];
}

/** What the names of each kind of thing are colored as. */
const typeOfThing: Readonly<Record<ThingKind, SemanticTokenType>> = {
  book: "namespace",
  pattern: "class",
  caution: "class",
  promise: "class",
  condition: "variable",
  pick: "enum",
  judgement: "enum",
  situation: "function",
  level: "enumMember",
  member: "enumMember",
  option: "enumMember",
  band: "type",
  group: "type",
  "comparing word": "operator",
};

/** By place, none overlapping another. `within`: only those that reach into a range. */
export function semanticTokens(view: View, within: Range = { start: 0, end: view.text.length }): readonly SemanticToken[] {
  const { text, lines, path, parsed } = view;
  if (text.length > longestBook) return [];
  const named = namesOf(view).mentions.filter((mention) => mention.path === path);
  const words = lex(text).filter(({ range }) => range.end > within.start && range.start < within.end);
  const tokens: SemanticToken[] = parsed.tree.comments.map(({ range }) => ({ range, type: "comment", modifiers: [] }));
  let next = 0;
  for (const word of words) {
    while (next < named.length && named[next]!.range.end <= word.range.start) next++;
    const mention = named[next];
    if (mention === undefined || mention.range.start >= word.range.end) {
      if (word.type !== undefined) tokens.push({ range: word.range, type: word.type, modifiers: [] });
      continue;
    }
    // A title is colored with its quotes; an amount is one name of two words.
    const range = { start: Math.min(mention.range.start, word.range.start), end: Math.max(mention.range.end, word.range.end) };
    if (word.range.start <= mention.range.start)
      tokens.push({ range, type: typeOfThing[mention.thing.kind], modifiers: modifiersOf(mention) });
  }
  return tokens
    .filter(({ range }) => range.end > within.start && range.start < within.end)
    .sort((a, b) => a.range.start - b.range.start)
    .flatMap((token) => splitAtLines(text, lines, token));
}

function modifiersOf({ declares, thing }: Mention): SemanticTokenModifier[] {
  return [
    ...(declares ? ["declaration" as const] : []),
    ...(thing.kind === "pattern" && thing.of !== undefined ? ["deprecated" as const] : []),
  ];
}

let lexer: ReturnType<typeof T.makeLexer> | undefined;

function lex(text: string): { readonly range: Range; readonly type: SemanticTokenType | undefined }[] {
  const { tokens } = (lexer ??= T.makeLexer({ validate: false })).tokenize(text);
  return tokens.map((token, i) => ({
    range: { start: token.startOffset, end: token.startOffset + token.image.length },
    type: typeOfToken(token, tokens[i - 1]),
  }));
}

function typeOfToken(token: IToken, before: IToken | undefined): SemanticTokenType | undefined {
  if (T.wordOf.has(token.tokenType)) return "keyword";
  if (tokenMatcher(token, T.Text)) return "string";
  if ([T.Number, T.Day, T.Date, T.Time].includes(token.tokenType)) return "number";
  // `ft` is a name to the lexer; after a number it is a unit.
  if ((token.tokenType === T.Unit || token.tokenType === T.Name) && before?.tokenType === T.Number) return "number";
  return undefined;
}

/** A phrase of several words may go on in the next line. */
function splitAtLines(text: string, lines: LineMap, token: SemanticToken): SemanticToken[] {
  const { start, end } = token.range;
  const [first, last] = [lines.position(start).line, lines.position(end).line];
  if (first === last) return [token];
  return [...text.slice(start, end).matchAll(/[^\s](?:[^\r\n]*[^\s])?/g)].map((part) => ({
    ...token,
    range: { start: start + part.index, end: start + part.index + part[0].length },
  }));
}
