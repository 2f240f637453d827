/**
 * How editors color and type a book without reading it: a TextMate grammar, its injection into Markdown, and a language configuration,
 * all made from the words and signs in `tokens.ts`.
 *
 *     go with blade colorado, then indiana   -- thump
 *     └─────┘ └───────────┘ └────┘└──────┘   └──────┘      the same pieces that the lexer cuts, each with a scope
 *
 * The grammar is flat: at each place of a line the first expression that fits is taken, in the order of the lexer, so an unfinished
 * sentence never colors the next one. What a name stands for is left to the language server. A word that is free as a name is colored
 * only in its spot.
 *
 * The format is that of TextMate 2 as read by vscode-textmate; expressions are Oniguruma's, which takes those of the lexer as they are.
 */
import type { TokenType } from "chevrotain";
import * as T from "./tokens.js";

interface Scope {
  readonly name: string;
}

interface Rule {
  readonly name?: string;
  readonly contentName?: string;
  readonly match?: string;
  readonly begin?: string;
  readonly end?: string;
  readonly captures?: Readonly<Record<string, Scope>>;
  readonly beginCaptures?: Readonly<Record<string, Scope>>;
  readonly endCaptures?: Readonly<Record<string, Scope>>;
  readonly include?: string;
  readonly patterns?: readonly Rule[];
}

export interface Grammar {
  readonly name?: string;
  readonly scopeName: string;
  readonly fileTypes?: readonly string[];
  readonly injectionSelector?: string;
  readonly patterns: readonly Rule[];
}

const scopeName = "source.lore";

/** By role; themes know the first parts of a scope. */
export const wordScopes: Readonly<Record<T.Role, string>> = {
  statement: "keyword.control.statement.lore",
  clause: "keyword.other.clause.lore",
  relation: "keyword.operator.expression.relation.lore",
  joining: "keyword.operator.expression.joining.lore",
  free: "keyword.other.clause.lore",
};

export function loreGrammar(): Grammar {
  return {
    name: "Lore",
    scopeName,
    fileTypes: ["lore"],
    patterns: [
      { name: "comment.line.double-dash.lore", match: expression(T.Comment) },
      ...[T.Book, T.Pattern, T.Caution, T.Promise].map((type) => titled(type)),
      { name: "string.quoted.double.lore", match: either(T.ClosedText, T.CurlyText) },
      { name: "string.quoted.double.unclosed.lore", match: expression(T.UnclosedText) },
      { name: "constant.numeric.day.lore", match: either(T.Day, T.Date, T.Time) },
      {
        match: `(${expression(T.Number)})(?:\\s*(${expression(T.Unit)}|(?!${allWords()})${expression(T.Name)}))?`,
        captures: { 1: { name: "constant.numeric.lore" }, 2: { name: "keyword.other.unit.lore" } },
      },
      ...[T.Condition, T.Pick, T.Judgement, T.Situation].map((type) => declared(type)),
      ...freeSpots,
      ...byLength(T.words.filter(({ role }) => role !== "free")).map(({ token, role }) => ({
        name: wordScopes[role],
        match: expression(token),
      })),
      { name: "variable.other.lore", match: expression(T.Name) },
      { name: "punctuation.separator.lore", match: either(T.Colon, T.Comma) },
    ],
  };
}

/** Colors a book in a fenced code block marked `lore`. */
export function markdownInjection(): Grammar {
  return {
    scopeName: "markdown.lore.codeblock",
    injectionSelector: "L:text.html.markdown",
    patterns: [
      {
        name: "markup.fenced_code.block.markdown",
        begin: "(^|\\G)(\\s*)(`{3,}|~{3,})\\s*(?i:(lore))(?=\\s|$)([^`]*)$",
        end: "(^|\\G)(?:\\2|\\s{0,3})(\\3)\\s*$",
        beginCaptures: {
          3: { name: "punctuation.definition.markdown" },
          4: { name: "fenced_code.block.language.markdown" },
          5: { name: "fenced_code.block.language.attributes.markdown" },
        },
        endCaptures: { 2: { name: "punctuation.definition.markdown" } },
        contentName: "meta.embedded.block.lore",
        patterns: [{ include: scopeName }],
      },
    ],
  };
}

/** Comments, pairs, what a double click takes for a word, and where a line goes in. */
export function languageConfiguration(): Readonly<Record<string, unknown>> {
  const quotes = [
    ['"', '"'],
    ["“", "”"],
  ] as const;
  const parentheses = ["(", ")"] as const;
  const starts = byLength(T.words.filter(({ role }) => role === "statement"))
    .map(({ phrase }) => phrase.replaceAll(" ", "\\s+"))
    .join("|");
  const goesIn = [T.Book, T.Condition, T.Pattern, T.Caution].map((type) => T.wordOf.get(type)!.phrase).join("|");
  return {
    comments: { lineComment: "--" },
    brackets: [parentheses],
    autoClosingPairs: [
      { open: parentheses[0], close: parentheses[1], notIn: ["string", "comment"] },
      ...quotes.map(([open, close]) => ({ open, close, notIn: ["string", "comment"] })),
    ],
    autoCloseBefore: ":,) \n\t",
    surroundingPairs: [parentheses, ...quotes],
    wordPattern: { pattern: `${sourceOf(T.Name)}|${sourceOf(T.Number)}`, flags: "u" },
    indentationRules: {
      increaseIndentPattern: `^(${goesIn})\\s+\\S`,
      decreaseIndentPattern: `^\\s+(${starts})\\s$`,
    },
    folding: { offSide: true },
  };
}

// Rules -----------------------------------------------------------------------------------------------------------------------

const quoted = '["“„]';
const end = "(?=\\s*(?:,|--|$))";

/** Where each free word is a word of the language and no name. */
const freeSpots: readonly Rule[] = [
  ...[T.Shop, T.Water, T.Edition].map((type) => ({ name: wordScopes.free, match: `${expression(type)}(?=\\s*${quoted})` })),
  {
    match: `(${expression(T.FilledFromThe)})\\s+(${either(T.TheDate, T.TheClock, T.TheSun, T.TheMoon)})`,
    captures: { 1: { name: wordScopes.clause }, 2: { name: wordScopes.free } },
  },
  {
    match: `(${expression(T.Move)})\\s+(${expression(T.Name)})\\s+(${either(T.Up, T.Down)})`,
    captures: { 1: { name: wordScopes.clause }, 2: { name: "variable.other.lore" }, 3: { name: wordScopes.free } },
  },
  {
    match: `(${expression(T.SayNothingOn)})\\s+(${expression(T.Everything)})`,
    captures: { 1: { name: wordScopes.statement }, 2: { name: wordScopes.free } },
  },
  { name: wordScopes.free, match: `${expression(T.Below)}(?=\\s*(?:${expression(T.Number)}|${expression(T.Day)}))` },
  // In `trust clarity first, then sky` it follows a name, never a word.
  {
    match: `((?!${allWords()})${expression(T.Name)})\\s+(${expression(T.First)})${end}`,
    captures: { 1: { name: "variable.other.lore" }, 2: { name: wordScopes.free } },
  },
];

/** `pattern "Mud wants thump"` */
function titled(type: TokenType): Rule {
  return {
    match: `(${expression(type)})\\s*(${either(T.ClosedText, T.CurlyText)})`,
    captures: { 1: { name: wordScopes.statement }, 2: { name: "string.quoted.double.title.lore entity.name.section.lore" } },
  };
}

/** `condition clarity` */
function declared(type: TokenType): Rule {
  return {
    match: `(${expression(type)})\\s+(${expression(T.Name)})`,
    captures: { 1: { name: wordScopes.statement }, 2: { name: "entity.name.type.lore" } },
  };
}

// Expressions -------------------------------------------------------------------------------------------------------------------

/** As the lexer has it: what ends in a letter ends a word. No group of it counts. */
function expression(type: TokenType): string {
  return `${sourceOf(type)}(?:(?<![A-Za-z])|(?!-?${T.namePart}))`;
}

function either(...types: readonly TokenType[]): string {
  return `(?:${types.map(expression).join("|")})`;
}

/** Any word that is never a name. */
function allWords(): string {
  return either(...byLength(T.words.filter(({ role }) => role !== "free")).map(({ token }) => token));
}

function sourceOf(type: TokenType): string {
  const { pattern, anyCase } = T.sources.get(type)!;
  return `(?${anyCase ? "i" : ""}:${uncounted(pattern)})`;
}

/** The date's only group makes sure that both its signs are the same: written out, one alternative per sign. */
function uncounted(pattern: string): string {
  const group = /\(\[([^\]]+)\]\)/.exec(pattern);
  if (group === null) return pattern;
  return [...group[1]!].map((sign) => pattern.replace(group[0], `[${sign}]`).replaceAll("\\1", `[${sign}]`)).join("|");
}

function byLength(words: readonly T.Word[]): readonly T.Word[] {
  return [...words].sort((a, b) => b.phrase.length - a.phrase.length);
}
