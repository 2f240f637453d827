/**
 * Text to tree: never fails, returns a tree for whatever could be read and a finding for whatever could not.
 *
 *   text ──lexer──▶ tokens ──statement starts──▶ pieces ──parser──▶ concrete trees ──build-tree──▶ statements
 *
 * A piece is one statement with all that stands before the next word that starts one. Each piece is read alone, which keeps
 * mistakes apart and memory small.
 */
import type { CstNode, IToken } from "chevrotain";
import { LoreParser, statementRules } from "../../grammar/parser.js";
import * as T from "../../grammar/tokens.js";
import type { Finding } from "../diagnostics.js";
import { sayings } from "../messages/syntax.js";
import { longestBook, type Range } from "../text.js";
import { buildStatement } from "./build-tree.js";
import { tokenRange } from "./concrete.js";
import { reportErrors } from "./errors.js";
import { withinReach } from "./nesting.js";
import { makeReport, rewrite, type Report } from "./report.js";
import { mendSlips } from "./slips.js";
import { checkSpelling } from "./spelling.js";
import { findStarts, unmaskedWord } from "./starts.js";
import type { Comment, Statement, Tree } from "./tree.js";

export interface Parsed {
  readonly path: string;
  readonly text: string;
  readonly tree: Tree;
  readonly findings: readonly Finding[];
  /** Statements in which something could not be read as it stands: what the tree holds of them may be too little. */
  readonly broken: ReadonlySet<Statement>;
}

/** A statement, or a stretch that belongs to none. */
export interface Piece {
  readonly range: Range;
  readonly concrete?: CstNode;
  readonly statement?: Statement;
  /** Something in it was reported. */
  readonly broken: boolean;
}

export function parse(text: string, path: string): Parsed {
  const report = makeReport(path, text);
  const { comments, pieces } = readPieces(text, report);
  const statements: Statement[] = [];
  const broken = new Set<Statement>();
  for (const piece of pieces) {
    if (piece.statement === undefined) continue;
    statements.push(piece.statement);
    if (piece.broken) broken.add(piece.statement);
  }
  return { path, text, tree: { range: { start: 0, end: text.length }, statements, comments }, findings: report.findings(), broken };
}

/** The pieces of a text, read one by one as they are asked for. */
export function readPieces(text: string, report: Report): { readonly comments: readonly Comment[]; readonly pieces: Iterable<Piece> } {
  if (text.length > longestBook) return { comments: [], pieces: [unread(text, report)] };
  const { tokens: found, groups } = makeTools().lexer.tokenize(text);
  const tokens = found.map(unmaskedWord);
  for (const token of tokens) token.endOffset = token.startOffset + token.image.length - 1;
  const comments = (groups["comments"] ?? []).map((token): Comment => ({ text: token.image.slice(2).replace(/^ /, ""), range: tokenRange(token) }));
  return { comments, pieces: pieces(tokens, groups["unknown"] ?? [], report) };
}

/** A text that nobody wrote as a book: left as it is. */
function unread(text: string, report: Report): Piece {
  report.add("syntax", { start: 0, end: 0 }, sayings.bookTooLong(longestBook));
  return { range: { start: 0, end: text.length }, broken: true };
}

function* pieces(tokens: IToken[], unknown: readonly IToken[], report: Report): Generator<Piece> {
  const { starts, slips } = findStarts(tokens, report);
  let nextUnknown = 0;
  let nextSlip = 0;
  for (let i = 0; i <= starts.length; i++) {
    const from = i === 0 ? 0 : starts[i - 1]!;
    const to = starts[i] ?? tokens.length;
    const before = report.count();
    const own = tokens.slice(from, to);
    const end = tokens[to]?.startOffset ?? Infinity;
    for (; nextSlip < slips.length && slips[nextSlip]!.range.start < end; nextSlip++) report.take(slips[nextSlip]!);
    const strange: IToken[] = [];
    for (; nextUnknown < unknown.length && unknown[nextUnknown]!.startOffset < end; nextUnknown++) strange.push(unknown[nextUnknown]!);
    if (own.length === 0 && strange.length === 0) continue;
    const mended = mendSlips(own, strange, report);
    for (const token of mended.strange) reportUnknown(token, report);
    for (const [j, token] of mended.tokens.entries()) if (!mended.reported.has(token)) checkSpelling(token, mended.tokens[j - 1], report);
    yield readPiece(mended.tokens, spanOf([own[0], own.at(-1), strange[0], strange.at(-1)]), i > 0, before, report);
  }
}

function readPiece(tokens: IToken[], range: Range, starts: boolean, before: number, report: Report): Piece {
  const rule = starts ? statementRules.get(tokens[0]!.tokenType) : undefined;
  if (rule === undefined) {
    if (tokens[0] !== undefined) report.add("syntax", tokenRange(tokens[0]), sayings.noStatement(tokens[0].image));
    return { range, broken: true };
  }
  const { parser } = makeTools();
  const kept = withinReach(tokens, report);
  parser.input = kept;
  const concrete = parser[rule]();
  if (kept.length === tokens.length) reportErrors(parser.errors, tokens, report);
  const statement = buildStatement(concrete, range, report, report.count() === before);
  return { range, concrete, statement, broken: report.count() > before };
}

function reportUnknown(token: IToken, report: Report): void {
  const range = tokenRange(token);
  if (token.tokenType === T.LongDash) report.add("syntax", range, sayings.longDash(), [rewrite(report.path, range, `--${token.image.slice(1)}`, sayings.writeInstead("--"))]);
  else report.add("syntax", range, sayings.unknown(token.image));
}

function spanOf(tokens: readonly (IToken | undefined)[]): Range {
  const ranges = tokens.flatMap((token) => (token ? [tokenRange(token)] : []));
  return { start: Math.min(...ranges.map(({ start }) => start)), end: Math.max(...ranges.map(({ end }) => end)) };
}

let tools: { readonly lexer: ReturnType<typeof T.makeLexer>; readonly parser: LoreParser } | undefined;

/** Made once, when first needed; a test makes them with all checks on. */
function makeTools(): NonNullable<typeof tools> {
  return (tools ??= { lexer: T.makeLexer({ validate: false }), parser: new LoreParser({ validate: false }) });
}
