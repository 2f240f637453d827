/** Changes that the server proposes (`WorkspaceEdit` of the protocol), as changes of the desk's books and as lines to be read first. */
import { Text, type ChangeSpec } from "@codemirror/state";
import type { Position, TextEdit, WorkspaceEdit } from "vscode-languageserver-protocol";
import { pathOf } from "./language.js";

/** By path. */
export function editsOf({ changes, documentChanges }: WorkspaceEdit): ReadonlyMap<string, readonly TextEdit[]> {
  const all = documentChanges?.flatMap((change) =>
    "edits" in change ? [[pathOf(change.textDocument.uri), change.edits.filter((edit) => "newText" in edit)] as const] : [],
  );
  return new Map(all ?? Object.entries(changes ?? {}).map(([uri, edits]) => [pathOf(uri), edits] as const));
}

export function changesIn(doc: Text, edits: readonly TextEdit[]): ChangeSpec[] {
  return edits.map(({ range, newText }) => ({ from: offsetIn(doc, range.start), to: offsetIn(doc, range.end), insert: newText }));
}

export function applied(text: string, edits: readonly TextEdit[]): string {
  const doc = Text.of(text.split("\n"));
  let after = text;
  for (const { range, newText } of [...edits].sort((a, b) => offsetIn(doc, b.range.start) - offsetIn(doc, a.range.start)))
    after = after.slice(0, offsetIn(doc, range.start)) + newText + after.slice(offsetIn(doc, range.end));
  return after;
}

export interface ChangedLine {
  readonly kind: "gone" | "new";
  readonly text: string;
}

/** The lines that a change takes away and those it brings, from the first that differs to the last. */
export function changedLines(before: string, after: string): readonly ChangedLine[] {
  const [old, now] = [before.split("\n"), after.split("\n")];
  let start = 0;
  while (start < old.length && start < now.length && old[start] === now[start]) start++;
  let end = 0;
  while (end < old.length - start && end < now.length - start && old.at(-1 - end) === now.at(-1 - end)) end++;
  return [
    ...old.slice(start, old.length - end).map((text): ChangedLine => ({ kind: "gone", text })),
    ...now.slice(start, now.length - end).map((text): ChangedLine => ({ kind: "new", text })),
  ];
}

function offsetIn(doc: Text, { line, character }: Position): number {
  if (line >= doc.lines) return doc.length;
  const { from, to } = doc.line(line + 1);
  return Math.min(from + character, to);
}
