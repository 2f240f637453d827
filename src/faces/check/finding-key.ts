/**
 * What makes a finding the same finding after a book was moved about, put into shape, or changed elsewhere.
 *
 *     kept:  code, book, pick, patterns, where, and the text that is marked, unless that is the title of one of the patterns
 *     not:   lines, columns, order, blanks, comments, shares, examples, and the words in which it is said
 */
import type { Finding } from "../../diagnostics.js";
import { byText } from "../../text.js";

export interface FindingKey {
  readonly path: string;
  readonly code: string;
  readonly pick?: string;
  readonly patterns?: readonly string[];
  readonly where?: string;
  readonly text?: string;
}

const LONGEST = 160;

/** The key of a finding in a book of that text. Several findings may have the same. */
export function findingKey({ code, path, pick, patterns, where, range }: Finding, text: string): FindingKey {
  const marked = bare(text.slice(range.start, range.end));
  const said = marked === "" || (patterns ?? []).some((title) => marked === bare(`"${title}"`));
  return {
    path,
    code,
    ...(pick !== undefined && { pick }),
    ...(patterns !== undefined && { patterns: [...patterns].sort(byText) }),
    ...(where !== undefined && { where }),
    ...(!said && { text: marked }),
  };
}

/** Equal for keys that are alike, whatever else stands beside them. */
export function keyText({ path, code, pick, patterns, where, text }: FindingKey): string {
  return JSON.stringify([path, code, pick ?? "", patterns ?? [], where ?? "", text ?? ""]);
}

/** Without comments, every stretch of blanks as one. */
function bare(text: string): string {
  const words = text
    .replace(/("[^"]*")|--[^\r\n]*|\s+/g, (_, quoted: string | undefined) => quoted ?? " ")
    .replace(/ +/g, " ")
    .trim();
  return words.length > LONGEST ? `${words.slice(0, LONGEST)}…` : words;
}
