/**
 * Formatting as small edits, so that cursors, folds and marks stay where they are.
 *
 *     text   ──format──▶ shaped                both are cut at their statements, which keep their order, and what stands between them:
 *     ▏gap▕ statement ▏gap▕ statement ▏gap▕    each piece is compared with its own counterpart, word by word
 *
 * Words in common are the longest common subsequence (Hunt and Szymanski's problem, by the table of Wagner and Fischer 1974). A statement
 * that could not be read has no other shape. A part of a book is formatted by whole statements: a clause may move within its own.
 * Line ends stay what they are in the text, those of most lines where they are mixed.
 */
import { format } from "../syntax/print.js";
import { parse, type Parsed } from "../syntax/parse.js";
import type { Range } from "../text.js";
import type { View } from "./view.js";

export interface TextEdit {
  readonly range: Range;
  readonly text: string;
}

/** The edits that bring the whole book into its usual shape, in reading order; none if it has it. */
export function formatting({ parsed }: Pick<View, "parsed">): readonly TextEdit[] {
  const { before, after } = shapes(parsed);
  return edits(before, after, 0, before.pieces.length);
}

/** The same for the statements that a range touches, or the blanks and comments it lies in. */
export function rangeFormatting({ parsed }: Pick<View, "parsed">, range: Range): readonly TextEdit[] {
  const { before, after } = shapes(parsed);
  const touched = before.pieces.flatMap((piece, i) => (i % 2 === 1 && piece.start <= range.end && range.start <= piece.end ? [i] : []));
  const around = before.pieces.findIndex((piece) => piece.start <= range.start && range.end <= piece.end);
  let [from, to] = touched.length > 0 ? [touched[0]!, touched.at(-1)! + 1] : [around, around + 1];
  if (from < 0) return [];
  // A comment may go from behind a statement into it: then both pieces, or none.
  while (commentsIn(before, from, to) !== commentsIn(after, from, to))
    [from, to] = [Math.max(0, from - 1), Math.min(before.pieces.length, to + 1)];
  return edits(before, after, from, to);
}

/** A text cut into what stands before, in, between and after its statements. */
interface Cut {
  readonly text: string;
  readonly pieces: readonly Range[];
  readonly comments: Parsed["tree"]["comments"];
}

function shapes(parsed: Parsed): { readonly before: Cut; readonly after: Cut } {
  const shaped = withLineEnds(format(parsed.text), parsed.text);
  const before = cutAtStatements(parsed);
  const after = shaped === parsed.text ? before : cutAtStatements(parse(shaped, parsed.path));
  // Whatever would read as more or fewer statements than before is compared as a whole.
  return before.pieces.length === after.pieces.length ? { before, after } : { before: whole(before), after: whole(after) };
}

function cutAtStatements({ text, tree: { statements, comments } }: Parsed): Cut {
  const bounds = [0, ...statements.flatMap(({ range: { start, end } }) => [start, end]), text.length];
  return { text, comments, pieces: bounds.slice(1).map((end, i) => ({ start: bounds[i]!, end })) };
}

function whole(cut: Cut): Cut {
  return { ...cut, pieces: [{ start: 0, end: cut.text.length }] };
}

function withLineEnds(shaped: string, text: string): string {
  const windows = text.match(/\r\n/g)?.length ?? 0;
  const plain = (text.match(/\n/g)?.length ?? 0) - windows;
  return windows > plain ? shaped.replaceAll("\n", "\r\n") : shaped;
}

function commentsIn({ pieces, comments }: Cut, from: number, to: number): string {
  const [start, end] = [pieces[from]!.start, pieces[to - 1]!.end];
  return comments
    .filter(({ range }) => range.start >= start && range.start < end)
    .map(({ text }) => text.trim())
    .sort()
    .join("\n");
}

function edits(before: Cut, after: Cut, from: number, to: number): readonly TextEdit[] {
  const found: TextEdit[] = [];
  for (let i = from; i < to; i++) {
    const [a, b] = [before.pieces[i]!, after.pieces[i]!];
    for (const edit of differences(before.text.slice(a.start, a.end), after.text.slice(b.start, b.end))) {
      const moved = { start: edit.range.start + a.start, end: edit.range.end + a.start };
      const last = found.at(-1);
      // Where one ends and the next begins they are one.
      if (last && last.range.end === moved.start)
        found[found.length - 1] = { range: { start: last.range.start, end: moved.end }, text: last.text + edit.text };
      else found.push({ range: moved, text: edit.text });
    }
  }
  return found;
}

/** Cells of the table for one piece; more are replaced as a whole. */
const LARGEST_TABLE = 1_000_000;

function differences(a: string, b: string): readonly TextEdit[] {
  if (a === b) return [];
  const [from, to] = [words(a), words(b)];
  let [start, end] = [0, 0];
  while (start < from.length && start < to.length && from[start] === to[start]) start++;
  while (end < from.length - start && end < to.length - start && from[from.length - 1 - end] === to[to.length - 1 - end]) end++;
  const offset = from.slice(0, start).join("").length;
  const [left, right] = [from.slice(start, from.length - end), to.slice(start, to.length - end)];
  if (left.length * right.length > LARGEST_TABLE)
    return [{ range: { start: offset, end: offset + left.join("").length }, text: right.join("") }];
  return between(left, right, offset);
}

/** Blanks, signs, and what stands between them. */
function words(text: string): readonly string[] {
  return text.match(/\s+|[,:()]|[^\s,:()]+/g) ?? [];
}

function between(a: readonly string[], b: readonly string[], offset: number): readonly TextEdit[] {
  const width = b.length + 1;
  const common = new Uint16Array((a.length + 1) * width);
  for (let i = a.length - 1; i >= 0; i--)
    for (let j = b.length - 1; j >= 0; j--)
      common[i * width + j] =
        a[i] === b[j] ? common[(i + 1) * width + j + 1]! + 1 : Math.max(common[(i + 1) * width + j]!, common[i * width + j + 1]!);
  const found: TextEdit[] = [];
  let [i, j, at] = [0, 0, offset];
  let [start, text] = [offset, ""];
  const close = (): void => {
    if (at > start || text !== "") found.push({ range: { start, end: at }, text });
  };
  while (i < a.length || j < b.length) {
    if (i < a.length && j < b.length && a[i] === b[j]) {
      close();
      at += a[i]!.length;
      [i, j, start, text] = [i + 1, j + 1, at, ""];
    } else if (j >= b.length || (i < a.length && common[(i + 1) * width + j]! >= common[i * width + j + 1]!)) at += a[i++]!.length;
    else text += b[j++]!;
  }
  close();
  return found;
}
