/**
 * The canonical layout of a book, as a Prettier printer and as `format`.
 *
 *   piece ──▶ head                         pattern "Mud wants thump"
 *             clauses, in fixed order        go with blade colorado, then indiana
 *                                            when seen is dirty or dirtier
 *
 * Statements keep their order, with one blank line between them where the text had any; clauses come in the order of `clauseOrder`.
 * A statement with a syntax finding is left exactly as it stands. Comments stay with what they stand beside or above. Prettier's own
 * comment attachment is not used: it moves an own-line comment inside a clause on every second pass.
 */
import type { CstNode, IToken } from "chevrotain";
import { builders, printer as docPrinter } from "prettier/doc";
import { longestBook } from "../text.js";
import { rangeOf, tokenRange } from "./concrete.js";
import { readPieces, type Piece } from "./parse.js";
import { grouped, ordered, startOf, type Doc, type PrintPart, type Remark } from "./print-parts.js";
import { printNode, printParts } from "./print-clause.js";
import { makeReport } from "./report.js";

const { group, hardline, indent, join, line, literalline } = builders;

export const layout = { printWidth: 100, tabWidth: 2, useTabs: false } as const;

/** The text of a book in canonical layout: lines end in `\n`, a byte order mark stays. Idempotent; never throws. What is, or would become, too long for a book stays as it is. */
export function format(text: string): string {
  if (text.length > longestBook) return text;
  const mark = text.startsWith("\uFEFF") ? "\uFEFF" : "";
  const plain = text.slice(mark.length).replace(/\r\n?/g, "\n");
  const shaped = mark + docPrinter.printDocToString(printBook(readBook(plain)), layout).formatted;
  return shaped.length > longestBook ? text : shaped;
}

/** What is laid out: pieces and comments of one text, whose lines end in `\n`. */
export interface ConcreteBook {
  readonly text: string;
  readonly pieces: readonly Piece[];
  readonly remarks: readonly Remark[];
}

export function readBook(text: string): ConcreteBook {
  const { comments, pieces } = readPieces(text, makeReport("", text));
  const remarks = comments.map(({ range }): Remark => ({
    range,
    image: text.slice(range.start, range.end).trimEnd(),
    ownLine: /(?:^|\n)[^\S\n]*$/.test(lineBefore(text, range.start)),
  }));
  return { text, pieces: [...pieces], remarks };
}

export function printBook(book: ConcreteBook): Doc {
  const blocks: Doc[] = [];
  let end = 0;
  let next = 0;
  const add = (doc: Doc, start: number, until: number): void => {
    if (blocks.length > 0) blocks.push(/\n[^\S\n]*\n/.test(book.text.slice(end, start)) ? [hardline, hardline] : hardline);
    blocks.push(doc);
    end = until;
  };
  for (const piece of book.pieces) {
    for (; next < book.remarks.length && book.remarks[next]!.range.start < piece.range.start; next++)
      add(book.remarks[next]!.image, book.remarks[next]!.range.start, book.remarks[next]!.range.end);
    const own: Remark[] = [];
    while (next < book.remarks.length && belongs(book.remarks[next]!, piece, own.at(-1), book.text)) own.push(book.remarks[next++]!);
    add(
      printPiece(piece, own, book.text),
      piece.range.start,
      own.at(-1) === undefined ? piece.range.end : Math.max(piece.range.end, own.at(-1)!.range.end),
    );
  }
  for (; next < book.remarks.length; next++) add(book.remarks[next]!.image, book.remarks[next]!.range.start, book.remarks[next]!.range.end);
  return blocks.length === 0 ? "" : [...blocks, hardline];
}

/** Inside a piece, after it on its line, or right below and indented. */
function belongs(remark: Remark, piece: Piece, before: Remark | undefined, text: string): boolean {
  if (remark.range.start < piece.range.end) return true;
  const end = Math.max(piece.range.end, before?.range.end ?? 0);
  return /^[^\S\n]*(?:\n[^\S\n]+)?$/.test(text.slice(end, remark.range.start));
}

// One statement -------------------------------------------------------------------------------------------------------------

const clauseOrder = [
  "shop",
  "water",
  "edition",
  "goodFrom",
  "onlyWhen",
  "comparing",
  "filledFrom",
  "ask",
  "goWith",
  "lean",
  "never",
  "move",
  "when",
  "because",
  "say",
  "see",
  "checked",
  "until",
  "beats",
];
const actions = new Set(["goWith", "lean", "never", "move"]);
/** Statements that stand on one line if they fit. */
const short = new Set(["fallBack", "sayNothing", "promise"]);

/** The head of a statement or one of its clauses, with the comments that go with it. */
interface Unit {
  readonly rule: string;
  readonly part: PrintPart;
  readonly above: readonly Remark[];
  readonly beside: Remark | undefined;
}

function printPiece(piece: Piece, remarks: readonly Remark[], text: string): Doc {
  const onOwnLines = (some: readonly Remark[]): readonly Doc[] => some.map(({ image }) => indent([hardline, image]));
  const below = onOwnLines(remarks.filter(({ range, ownLine }) => range.start >= piece.range.end && ownLine));
  if (piece.broken || piece.concrete === undefined) {
    const beside = remarks.find(({ range, ownLine }) => range.start >= piece.range.end && !ownLine);
    return [
      join(literalline, text.slice(piece.range.start, piece.range.end).split("\n")),
      beside === undefined ? "" : [" ", beside.image],
      ...below,
    ];
  }
  const { units, left } = unitsOf(
    piece.concrete,
    remarks.filter(({ range, ownLine }) => range.start < piece.range.end || !ownLine),
  );
  const [head, ...clauses] = units;
  const inOrder = [...clauses].sort((a, b) => rank(a.rule) - rank(b.rule));
  return [printUnits([head!, ...inOrder], piece.concrete.name), ...onOwnLines(left), ...below];
}

function rank(rule: string): number {
  return clauseOrder.indexOf(actions.has(rule) ? "goWith" : rule);
}

/** `left`: comments that follow the last of them, each on a line of its own. */
function unitsOf(node: CstNode, remarks: readonly Remark[]): { readonly units: readonly Unit[]; readonly left: readonly Remark[] } {
  const all = ordered(node);
  const isClause = (child: CstNode | IToken): child is CstNode =>
    "children" in child && (child.name.endsWith("Clause") || child.name === "when" || child.name === "because");
  const clauses = all.filter(isClause).map((clause) => (clause.name.endsWith("Clause") ? (ordered(clause)[0] as CstNode) : clause));
  const head = all.filter((child) => !isClause(child));
  const stretches = [{ rule: "head", children: head }, ...clauses.map((clause) => ({ rule: clause.name, children: [clause] }))];
  let next = 0;
  let left: Remark[] = [];
  const units = stretches.map(({ rule, children }, i): Unit => {
    const start = startOf(children[0]!);
    const end = endOf(children.at(-1)!);
    const [above, inside]: [Remark[], Remark[]] = [left, []];
    for (; next < remarks.length && remarks[next]!.range.start < start; next++) above.push(remarks[next]!);
    for (; next < remarks.length && remarks[next]!.range.start < end; next++) inside.push(remarks[next]!);
    const following = stretches[i + 1] === undefined ? Infinity : startOf(stretches[i + 1]!.children[0]!);
    const after = remarks[next]?.ownLine === false && remarks[next]!.range.start < following ? [remarks[next++]!] : [];
    const part = rule === "head" ? printParts(children, inside) : printNode(children[0] as CstNode, inside);
    // What no word of the unit came after, as before its last parenthesis, follows it.
    const [beside, ...others] = [...inside, ...after];
    left = others;
    return { rule, part, above, beside };
  });
  return { units, left };
}

function endOf(child: CstNode | IToken): number {
  return "image" in child ? tokenRange(child).end : (rangeOf(child)?.end ?? 0);
}

function printUnits(units: readonly Unit[], rule: string): Doc {
  const docs: Doc[] = [];
  let row: Doc[] = [];
  for (const [i, unit] of units.entries()) {
    const before = units[i - 1];
    const doc = [grouped(unit.part), unit.beside === undefined ? "" : [" ", unit.beside.image]];
    const apart = before === undefined || before.beside !== undefined || unit.above.length > 0;
    const beside = apart ? undefined : besideInRow(rule, before.rule, unit.rule);
    if (beside !== undefined) row.push(beside, doc);
    else {
      if (before !== undefined) docs.push(group(row), apart || !short.has(rule) ? hardline : line);
      docs.push(unit.above.map(({ image }) => [image, hardline]));
      row = [doc];
    }
  }
  return group(indent([...docs, group(row)]));
}

/** What stands between two units that share a line; nothing where the second starts its own. */
function besideInRow(rule: string, before: string, unit: string): Doc | undefined {
  if (unit === "when" && before === "head" && (rule === "impossible" || rule === "caution")) return " ";
  return (before === "say" && unit === "see") || (before === "see" && unit === "checked") ? line : undefined;
}

function lineBefore(text: string, offset: number): string {
  return text.slice(text.lastIndexOf("\n", offset - 1) + 1, offset);
}
