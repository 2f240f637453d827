/**
 * Where something is from, as a reader is told: only what one can look up.
 *
 *     "bluegill spawning, EDIS FA23"     ──▶  See bluegill spawning, EDIS FA23.
 *     "common practice, no source"       ──▶  nothing: it tells those who keep the book, not a customer
 */
import { tableWords } from "../messages/table.js";

/** A sentence; empty where no source is named. */
export function sourceWords(see: readonly string[]): string {
  const named = see.filter((source) => !/\bno source\b/i.test(source));
  return named.length === 0 ? "" : tableWords.see(named);
}
