/**
 * `and` mixed with `or`: what can be heard two ways is an error that writes out both.
 *
 *   a and b or c      (a and b) or c        `and` joins first
 *                     a and (b or c)        `or` joins first
 */
import type { Finding, Fix } from "../diagnostics.js";
import { syntaxWords } from "../messages/syntax.js";
import type { Range } from "../text.js";
import { makeFinding } from "./report.js";

export type Joint = "and" | "or";

/**
 * The finding for terms joined by both words at one level.
 *
 * `terms` are the places of the terms in `book.text`, in order; `joints[i]` joins term i and term i + 1. Serves the parser, and the
 * resolver where the last value of `sky is dark and clarity is muddy or low-vision` turns out to be a situation: then the terms are
 * `sky is dark`, `clarity is muddy`, `low-vision`.
 */
export function mixingFinding(
  book: { readonly path: string; readonly text: string },
  terms: readonly Range[],
  joints: readonly Joint[],
): Finding {
  const range = { start: terms[0]!.start, end: terms.at(-1)!.end };
  const readings = (["and", "or"] as const).map((first) => {
    const runs = runsOf(first, joints);
    const words = terms.map((term) => plain(book.text.slice(term.start, term.end)));
    for (const { from, to } of runs) {
      words[from] = `(${words[from]}`;
      words[to] = `${words[to]})`;
    }
    const reading = words.map((word, i) => (i === 0 ? word : `${joints[i - 1]} ${word}`)).join(" ");
    const edits = runs.flatMap(({ from, to }) => [
      { path: book.path, range: { start: terms[from]!.start, end: terms[from]!.start }, text: "(" },
      { path: book.path, range: { start: terms[to]!.end, end: terms[to]!.end }, text: ")" },
    ]);
    return { reading, fix: { title: syntaxWords.meant(reading), edits } satisfies Fix };
  });
  return makeFinding(
    book.path,
    "mixing",
    range,
    syntaxWords.mixing(readings[0]!.reading, readings[1]!.reading),
    readings.map(({ fix }) => fix),
  );
}

/** Stretches of two or more terms that `joint` joins. */
function runsOf(joint: Joint, joints: readonly Joint[]): { from: number; to: number }[] {
  const runs: { from: number; to: number }[] = [];
  for (const [i, one] of joints.entries()) {
    if (one !== joint) continue;
    const last = runs.at(-1);
    if (last?.to === i) last.to = i + 1;
    else runs.push({ from: i, to: i + 1 });
  }
  return runs;
}

/** On one line, without comments. */
function plain(text: string): string {
  return text
    .replace(/"[^"\r\n]*"|--[^\r\n]*/g, (part) => (part.startsWith("--") ? "" : part))
    .replace(/\s+/g, " ")
    .trim();
}
