/**
 * When two findings are the same. There are three questions, and each needs its own answer:
 *
 *     two books find it in one text                      `inOneText`        the place and what it is about; not how large it is
 *     a fix was tried, which may change any place        `slipOf`, `wordingOf`, `troubleOf`      what is wrong, wherever it stands
 *     a book was moved about, put into shape, edited     `editionKey`       what a file of known findings goes by
 *
 * What is the same by the first is the same by all the others, but for its wording, which may say how large it is.
 */
import type { Finding } from "./diagnostics.js";
import { byText } from "./text.js";

/** Equal for two findings of one text that say the same of one place, whatever share of the points each has in mind. */
export function inOneText({ code, path, range, title, pick, patterns, where, message }: Finding): string {
  return JSON.stringify([code, path, range.start, range.end, title, pick, patterns, where ?? message]);
}

/** Equal for findings of one kind in one book, even where the message lists names and the names are others now. */
export function slipOf({ code, path, title }: Finding): string {
  return JSON.stringify([code, path, title]);
}

/** Equal for findings that say the same, word by word. */
export function wordingOf({ code, path, title, message }: Finding): string {
  return JSON.stringify([code, path, title, message]);
}

/** What is wrong between rules, whatever its size: the kind, the pick and the patterns; of a broken promise its title, as `promise`. */
export function troubleOf({ code, pick, patterns = [] }: Finding, promise?: string): string {
  return JSON.stringify([code, pick, code === "promise" ? promise : [...patterns].sort(byText)]);
}

/**
 * What stays of a finding from one edition of a book to the next.
 *
 *     kept:  code, book, pick, patterns, where, and the text that is marked, unless that is the title of one of the patterns
 *     not:   lines, columns, order, blanks, comments, shares, examples, and the words in which it is said
 */
export interface EditionKey {
  readonly path: string;
  readonly code: string;
  readonly pick?: string;
  readonly patterns?: readonly string[];
  readonly where?: string;
  readonly text?: string;
}

/** The key of a finding in a book of that text. Several findings may have the same. */
export function editionKey({ code, path, pick, patterns, where, range }: Finding, text: string): EditionKey {
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
export function keyText({ path, code, pick, patterns, where, text }: EditionKey): string {
  return JSON.stringify([path, code, pick ?? "", patterns ?? [], where ?? "", text ?? ""]);
}

const LONGEST = 160;

/** Without comments, every stretch of blanks as one. */
function bare(text: string): string {
  const words = text
    .replace(/("[^"]*")|--[^\r\n]*|\s+/g, (_, quoted: string | undefined) => quoted ?? " ")
    .replace(/ +/g, " ")
    .trim();
  return words.length > LONGEST ? `${words.slice(0, LONGEST)}…` : words;
}
