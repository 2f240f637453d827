/**
 * `check --fix`: mends a book's words where there is only one way to.
 *
 * Only findings about spelling and names are mended, only those that offer a single fix, and only in the book itself, never in
 * one that it builds on. What a unit was meant to be changes what is said, so it is offered and not mended. What disagrees with what is for a person to settle. A mended word may bring another slip to light, so it
 * goes round until nothing is left to mend.
 */
import type { Code, Edit, Finding } from "../../diagnostics.js";
import type { Read } from "../../model/books.js";
import { resolve } from "../../model/resolve.js";
import { applied } from "../../service/actions/edits.js";
import { parse } from "../../syntax/parse.js";
import { lineMap } from "../../text.js";
import type { Source } from "../node/source.js";

export interface Mended {
  readonly text: string;
  readonly changes: readonly { readonly line: number; readonly title: string }[];
}

const MENDABLE: readonly Code[] = ["syntax", "name"];
const ROUNDS = 10;

export function mend({ path, text }: Source, read: Read): Mended {
  const changes: Mended["changes"][number][] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const fixes = soleFixes(resolve(parse(text, path), read).findings, path);
    if (fixes.length === 0) break;
    const { position } = lineMap(text);
    const edits: Edit[] = [];
    for (const fix of fixes) {
      if (fix.edits.some((edit) => edits.some((other) => overlap(edit, other)))) continue;
      edits.push(...fix.edits);
      changes.push({ line: position(fix.edits[0]!.range.start).line, title: fix.title });
    }
    text = applied(new Map([[path, text]]), edits).get(path)!;
  }
  return { text, changes };
}

function soleFixes(findings: readonly Finding[], path: string): readonly NonNullable<Finding["fixes"]>[number][] {
  return findings.flatMap(({ code, fixes = [] }) => {
    const [fix, other] = fixes;
    return fix !== undefined &&
      other === undefined &&
      MENDABLE.includes(code) &&
      fix.edits.length > 0 &&
      fix.edits.every((edit) => edit.path === path)
      ? [fix]
      : [];
  });
}

function overlap({ range: a }: Edit, { range: b }: Edit): boolean {
  return (a.start < b.end && b.start < a.end) || a.start === b.start;
}
