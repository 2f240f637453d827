/**
 * `check --fix`: mends a book's words where there is only one way to.
 *
 * Only wrong forms that cannot change what is meant (`Fix.mends`), only where a single fix is offered, and only in the book itself,
 * never in one that it builds on. A name, a value, a unit, a number, an `and` or `or` is offered and not mended. A mended word may
 * bring another slip to light, so it goes round until nothing is left to mend.
 */
import type { Edit, Finding, Fix } from "../../diagnostics.js";
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

function soleFixes(findings: readonly Finding[], path: string): readonly Fix[] {
  return findings.flatMap(({ fixes: [fix, other] = [] }) =>
    fix?.mends === true && other === undefined && fix.edits.every((edit) => edit.path === path) ? [fix] : [],
  );
}

function overlap({ range: a }: Edit, { range: b }: Edit): boolean {
  return (a.start < b.end && b.start < a.end) || a.start === b.start;
}
