/**
 * Edits as the formatter would have them: where a book stood in its usual layout it does so afterwards, and where it did not, only
 * what is needed is touched.
 *
 *     edits ──grouped by the statements they touch──▶ each changed statement laid out ──▶ edits
 */
import type { Edit } from "../../diagnostics.js";
import { format } from "../../syntax/print.js";
import type { Range } from "../../text.js";
import type { View } from "../view.js";
import { applied, replace } from "./edits.js";

/** Whether a view's book stands in its usual layout. */
const known = new WeakMap<View, boolean>();

export function tidied(view: View, given: readonly Edit[]): readonly Edit[] {
  const lineEnd = view.text.includes("\r\n") ? "\r\n" : "\n";
  const edits = given.map((edit) => behindComment(view, { ...edit, text: edit.text.replace(/\r?\n/g, lineEnd) }));
  const formatted = known.get(view) ?? format(view.text) === view.text;
  known.set(view, formatted);
  return formatted && edits.every(({ path }) => path === view.path) ? layOut(view, edits) : edits;
}

/** A new line begins behind the comment that ends the line before it: the comment stays beside what it is about. */
function behindComment({ path, text }: View, edit: Edit): Edit {
  const { start, end } = edit.range;
  const comment = edit.path === path && start === end && /^\r?\n/.test(edit.text) ? /^[^\S\r\n]*--[^\r\n]*/.exec(text.slice(start)) : null;
  return comment ? { ...edit, range: { start: start + comment[0].length, end: end + comment[0].length } } : edit;
}

function layOut(view: View, edits: readonly Edit[]): readonly Edit[] {
  const { statements } = view.parsed.tree;
  const groups: { range: Range; edits: Edit[] }[] = [];
  for (const edit of [...edits].sort((a, b) => a.range.start - b.range.start)) {
    const touched = statements.filter(({ range }) => range.start <= edit.range.end && range.end >= edit.range.start);
    const range = {
      start: Math.min(edit.range.start, ...touched.map((one) => one.range.start)),
      end: Math.max(edit.range.end, ...touched.map((one) => one.range.end)),
    };
    const last = groups.at(-1);
    if (last && last.range.end >= range.start) {
      last.range = { start: last.range.start, end: Math.max(last.range.end, range.end) };
      last.edits.push(edit);
    } else groups.push({ range, edits: [edit] });
  }
  return groups.map(({ range, edits: own }) => {
    const before = view.text.slice(range.start, range.end);
    const inside = own.map((edit) => ({ ...edit, range: { start: edit.range.start - range.start, end: edit.range.end - range.start } }));
    const text = applied(new Map([[view.path, before]]), inside).get(view.path)!;
    const [lead, trail] = [/^\s*/.exec(text)![0], /\s*$/.exec(text)![0]];
    return smallest(replace(view, range, text.trim() === "" ? text : lead + format(text.trim()).trimEnd() + trail), before);
  });
}

/** The edit without what stays as it is at either end. */
function smallest({ path, range, text }: Edit, before: string): Edit {
  const most = Math.min(before.length, text.length);
  let [start, end] = [0, 0];
  while (start < most && before[start] === text[start]) start++;
  while (end < most - start && before[before.length - 1 - end] === text[text.length - 1 - end]) end++;
  return { path, range: { start: range.start + start, end: range.end - end }, text: text.slice(start, text.length - end) };
}
