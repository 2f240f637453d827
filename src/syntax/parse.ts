/**
 * Text to tree: never fails, returns a tree for whatever could be read and a finding for whatever could not.
 *
 *   text ──lexer──▶ tokens ──statement starts──▶ pieces ──parser──▶ concrete trees ──build-tree──▶ statements
 *
 * A piece is one statement with all that stands before the next word that starts one. Each piece is read alone, which keeps
 * mistakes apart and memory small, and lets a later text take over what has not changed (`again.ts`).
 */
import type { CstNode, IToken } from "chevrotain";
import { LoreParser, statementRules } from "../../grammar/parser.js";
import * as T from "../../grammar/tokens.js";
import type { Finding } from "../diagnostics.js";
import { syntaxWords } from "../messages/syntax.js";
import { longestBook, type Range } from "../text.js";
import { cutOf, lookIn, type Before, type Cut, type CutRead } from "./again.js";
import { buildStatement } from "./build-tree.js";
import { tokenRange } from "./concrete.js";
import { reportErrors } from "./errors.js";
import { withinReach } from "./nesting.js";
import { mendQuotes, type Signs } from "./quotes.js";
import { makeReport, mending, rewrite, type Report } from "./report.js";
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

interface ReadPiece extends Piece {
  /** None of a text that was left as it is. */
  readonly read?: CutRead;
}

/** For reading a later text of the same book; nobody else's business, so beside what was parsed and not in it. */
const kept = new WeakMap<Parsed, { readonly reads: readonly CutRead[]; readonly sample: Report["sample"] }>();

/** `before`: an earlier text of the same book as it was parsed. Nothing comes out differently with it, only sooner. */
export function parse(text: string, path: string, before?: Parsed): Parsed {
  const report = makeReport(path, text);
  const known = before?.path === path ? kept.get(before) : undefined;
  const { comments, pieces } = readPieces(text, report, known && lookIn(known.reads, known.sample, report.sample));
  const statements: Statement[] = [];
  const broken = new Set<Statement>();
  const reads: CutRead[] = [];
  for (const piece of pieces) {
    if (piece.read !== undefined) reads.push(piece.read);
    if (piece.statement === undefined) continue;
    statements.push(piece.statement);
    if (piece.broken) broken.add(piece.statement);
  }
  const parsed: Parsed = {
    path,
    text,
    tree: { range: { start: 0, end: text.length }, statements, comments },
    findings: report.findings(),
    broken,
  };
  kept.set(parsed, { reads, sample: report.sample });
  return parsed;
}

/** The pieces of a text, read one by one as they are asked for. Those found in a reading before have no concrete tree. */
export function readPieces(
  text: string,
  report: Report,
  before?: Before,
): { readonly comments: readonly Comment[]; readonly pieces: Iterable<ReadPiece> } {
  if (text.length > longestBook) return { comments: [], pieces: [unread(text, report)] };
  const { tokens, unknown, comments } = mendQuotes(signsOf(text), text, ({ start, end }) => signsOf(text.slice(start, end), start));
  return {
    comments: comments.map((token): Comment => ({ text: token.image.slice(2).replace(/^ /, ""), range: tokenRange(token) })),
    pieces: pieces(tokens, unknown, report, before),
  };
}

/** `start`: where in its book the text begins. */
function signsOf(text: string, start = 0): Signs {
  const { lexer } = makeTools();
  const first = lexer.tokenize(text);
  const comments = first.groups["comments"] ?? [];
  const between = insidePhrases(first.tokens, comments);
  const { tokens: found, groups } = between.length === 0 ? first : lexer.tokenize(without(text, between));
  const tokens = found.map(unmaskedWord);
  const unknown = groups["unknown"] ?? [];
  for (const list of [tokens, unknown, comments]) {
    for (const token of list) {
      token.startOffset += start;
      token.endOffset = token.startOffset + token.image.length - 1;
    }
  }
  return { tokens, unknown, comments };
}

/** Comments between words that make one phrase: `go -- why not` and, on the next line, `with`. */
function insidePhrases(tokens: readonly IToken[], comments: readonly IToken[]): readonly IToken[] {
  let next = 0;
  return comments.filter((comment) => {
    while (tokens[next] && tokens[next]!.startOffset < comment.startOffset) next++;
    const [before, after] = [tokens[next - 1], tokens[next]];
    return before && after && T.pairs.has(`${/\S*$/.exec(before.image)![0]} ${/^\S*/.exec(after.image)![0]}`.toLowerCase());
  });
}

/** The text with blanks in the place of some comments. */
function without(text: string, comments: readonly IToken[]): string {
  let left = "";
  for (const { startOffset, image } of comments) left += text.slice(left.length, startOffset) + " ".repeat(image.length);
  return left + text.slice(left.length);
}

/** A text that nobody wrote as a book: left as it is. */
function unread(text: string, report: Report): ReadPiece {
  report.add("syntax", { start: 0, end: 0 }, syntaxWords.bookTooLong(longestBook));
  return { range: { start: 0, end: text.length }, broken: true };
}

function* pieces(tokens: IToken[], unknown: readonly IToken[], report: Report, before?: Before): Generator<ReadPiece> {
  const { starts, slips } = findStarts(tokens, report);
  let nextUnknown = 0;
  let nextSlip = 0;
  for (let i = 0; i <= starts.length; i++) {
    const from = i === 0 ? 0 : starts[i - 1]!;
    const to = starts[i] ?? tokens.length;
    const firstSlip = nextSlip;
    const own = tokens.slice(from, to);
    const end = tokens[to]?.startOffset ?? Infinity;
    for (; nextSlip < slips.length && slips[nextSlip]!.range.start < end; nextSlip++) report.take(slips[nextSlip]!);
    const strange: IToken[] = [];
    for (; nextUnknown < unknown.length && unknown[nextUnknown]!.startOffset < end; nextUnknown++) strange.push(unknown[nextUnknown]!);
    if (own.length === 0 && strange.length === 0) continue;
    const range = spanOf(own, strange);
    const cut = cutOf(report.text, range, own, strange, { starts: i > 0, slipped: nextSlip > firstSlip });
    const found = before?.(cut);
    const piece: ReadPiece = found
      ? { range, statement: found.statement, broken: found.broken, read: found }
      : readPiece(cut, own, strange, range, report);
    report.takeAll(piece.read!);
    yield piece;
  }
}

function readPiece(cut: Cut, own: readonly IToken[], strange: readonly IToken[], range: Range, { path, text, sample }: Report): ReadPiece {
  const report = makeReport(path, text, sample);
  const mended = mendSlips(own, strange, report);
  for (const token of mended.strange) reportUnknown(token, report);
  for (const [j, token] of mended.tokens.entries()) if (!mended.reported.has(token)) checkSpelling(token, mended.tokens[j - 1], report);
  const found = readStatement(mended.tokens, cut, range, report);
  const broken = cut.slipped || report.count() > 0;
  return { ...found, range, broken, read: { cut, statement: found.statement, broken, findings: report.kept(), count: report.count() } };
}

function readStatement(tokens: IToken[], { starts, slipped }: Cut, range: Range, report: Report): Pick<Piece, "concrete" | "statement"> {
  const rule = starts ? statementRules.get(tokens[0]!.tokenType) : undefined;
  if (rule === undefined) {
    if (tokens[0] !== undefined) report.add("syntax", tokenRange(tokens[0]), syntaxWords.noStatement(tokens[0].image));
    return {};
  }
  const { parser } = makeTools();
  const reached = withinReach(tokens, report);
  parser.input = reached;
  const concrete = parser[rule]();
  if (reached.length === tokens.length) reportErrors(parser.errors, tokens, report);
  return { concrete, statement: buildStatement(concrete, range, report, !slipped && report.count() === 0) };
}

function reportUnknown(token: IToken, report: Report): void {
  const range = tokenRange(token);
  if (token.tokenType === T.ForeignComment) {
    const [mark] = /^(?:\/\/|.)/u.exec(token.image)!;
    // Before a number it may be a dash or a minus.
    const write = /^[—―]\s*\d/.test(token.image) ? rewrite : mending;
    report.add("syntax", range, syntaxWords.foreignComment(mark), [
      write(report.path, range, `--${token.image.slice(mark.length)}`, syntaxWords.writeInstead("--")),
    ]);
  } else report.add("syntax", range, syntaxWords.unknown(token.image));
}

/** From the first to the last of some tokens and signs, each by place. */
function spanOf(tokens: readonly IToken[], strange: readonly IToken[]): Range {
  let [start, end] = [Infinity, 0];
  for (const token of [tokens[0], strange[0], tokens.at(-1), strange.at(-1)]) {
    if (token === undefined) continue;
    start = Math.min(start, token.startOffset);
    end = Math.max(end, tokenRange(token).end);
  }
  return { start, end };
}

let tools: { readonly lexer: ReturnType<typeof T.makeLexer>; readonly parser: LoreParser } | undefined;

/** Made once, when first needed; a test makes them with all checks on. */
export function makeTools(): NonNullable<typeof tools> {
  return (tools ??= { lexer: T.makeLexer({ validate: false }), parser: new LoreParser({ validate: false }) });
}
