/**
 * One book as an editor holds it: its text now, all that was read of it, and, once worked out, its analysis.
 *
 *     text ──▶ View ──▶ hover, completion, definition, fixes …     one file per feature, each a function of a view and an offset
 *
 * A view is made anew for every text and never changed. What a feature returns is plain data in offsets and paths; the server turns
 * it into the protocol's positions. Books are half-written here most of the time: every feature answers as well as it can and never throws.
 */
import type { Analysis } from "../analysis/analyse.js";
import type { Finding } from "../diagnostics.js";
import type { Model } from "../model/model.js";
import { resolve } from "../model/resolve.js";
import type { Read } from "../model/books.js";
import { parse, type Parsed } from "../syntax/parse.js";
import { lineMap, type LineMap } from "../text.js";

export interface View {
  readonly path: string;
  readonly text: string;
  readonly lines: LineMap;
  readonly parsed: Parsed;
  /** Its last book is this one. */
  readonly model: Model;
  /** Of reading it and the books it builds on. */
  readonly findings: readonly Finding[];
  /** The analysis of exactly this text; undefined while it is being worked out. */
  readonly analysis?: Analysis;
}

export interface OpenOptions {
  /** The day to judge staleness by, `2027-04-15`. */
  readonly on?: string;
  /** The same text, as it was parsed under the same path. */
  readonly parsed?: Parsed;
}

export function openView(path: string, text: string, read: Read, options: OpenOptions = {}): View {
  const parsed = options.parsed?.path === path && options.parsed.text === text ? options.parsed : parse(text, path);
  const { model, findings } = resolve(parsed, read, options);
  return { path, text, lines: lineMap(text), parsed, model, findings };
}

export function withAnalysis(view: View, analysis: Analysis): View {
  return { ...view, analysis };
}
