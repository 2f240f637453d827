/**
 * What the editor has been told of each file, and what it is told next.
 *
 *     pier.lore  ──contributes──▶ ┐ what is found in base.lore ──▶ all that books find in it, each once, moved along with its text
 *     ramp.lore  ──contributes──▶ ┴ …                                         └──▶ published, if it is not what the editor shows
 *
 * A book's findings may lie in the books it builds on, and several books may find the same. When a book is read or analysed is not
 * decided here.
 *
 *     letter ──▶ what was found moves with the text; nothing that was true goes away because a word is half-typed
 *     read ────▶ of reading, what is found now                  while somebody writes: what was wrong in the statement at hand goes
 *     analysed ▶ all that is found now                          while somebody writes: all but what is wrong in the statement at hand
 *                                                               in a pause: all but what is mended by writing on
 */
import type { Diagnostic } from "vscode-languageserver";
import type { Finding, Place } from "../../diagnostics.js";
import { inOneText, wordingOf } from "../../same-finding.js";
import type { View } from "../../service/view.js";
import { lineMap } from "../../text.js";
import { diagnosticOf, type DiagnosticOptions } from "./convert.js";
import type { Library } from "./library.js";
import { changeBetween, movedAlong } from "./moved.js";

/** What is known of a book, and the texts that it was found in: a view, or what is kept of one. */
export interface Known extends Pick<View, "path" | "text" | "findings"> {
  readonly analysis?: { readonly findings: readonly Finding[] };
  readonly model: { readonly books: readonly { readonly path: string; readonly text: string }[] };
}

interface Contribution {
  readonly view: Known;
  readonly severities: DiagnosticOptions["severities"];
  /** Somebody is typing in it, and is told that something waits. */
  readonly writing?: Writing;
}

/** What waits while somebody types, or pauses in the middle of a statement. */
export interface Writing {
  readonly paused: boolean;
  /** Of what reading has found, what waits; `hand`: where the text was changed last. */
  readonly waits: (findings: readonly Finding[], hand: number) => ReadonlySet<Finding>;
}

export interface Publisher {
  /** A text was changed in the editor, in one place: what is known of it moves. */
  edited(path: string, before: string, now: string): void;
  /** A book has been read, and more will be known: what that finds in its own file is told, beside what the analysis before has found. */
  read(contribution: Contribution): void;
  /** All is known of a book that will be: it takes the place of whatever it contributed before. */
  settled(contribution: Contribution): void;
  /** The same of one of many that are not open, whose base would else be told of once for each: it is told with the next `flush`. */
  found(contribution: Contribution): void;
  flush(): void;
  /** Where a book was changed last, as long as something of it may wait. */
  handIn(book: string): number | undefined;
  /** The editor does not show a book any more, and what it contributed counts no more. `uri`: what it was called there. */
  closed(book: string, uri: string): void;
  /** The same, but it is still looked after: what it contributed stays until that is known anew. */
  left(book: string): void;
}

export interface PublisherOptions {
  readonly library: Pick<Library, "uriOf" | "textAt" | "documentAt">;
  readonly diagnostics: () => Omit<DiagnosticOptions, "severities">;
  readonly publish: (uri: string, version: number | undefined, diagnostics: Diagnostic[]) => void;
  /** Whether something that is wrong waits until somebody has written it to its end. */
  readonly holding?: (uri: string, held: boolean) => void;
}

/** What is known of one file by one book. */
interface Part {
  /** Where the findings lie. */
  readonly text: string;
  readonly reading: readonly Finding[];
  readonly analysis: readonly Finding[];
}

interface Told {
  readonly text: string;
  readonly findings: readonly Finding[];
  readonly version: number | undefined;
}

/** By file. */
type Parts = ReadonlyMap<string, Part>;

export function openPublisher({ library, diagnostics, publish, holding = () => undefined }: PublisherOptions): Publisher {
  /** Of each book, what the editor is to show of it. */
  const books = new Map<string, Parts>();
  /** Of each book, what is known where something of a file waits. */
  const latest = new Map<string, Parts>();
  const told = new Map<string, Told>();
  /** Where each open book was changed last. */
  const hands = new Map<string, number>();
  const held = new Set<string>();
  const pending = new Set<string>();

  const tell = (paths: Iterable<string>, always: boolean): void => {
    for (const path of new Set(paths)) {
      const uri = library.uriOf(path);
      const text = library.textAt(path) ?? "";
      const version = library.documentAt(path)?.version;
      // Where several books find the same, it is said as the book itself says it.
      const parts = [...books]
        .sort(([a], [b]) => Number(a === path) - Number(b === path))
        .flatMap(([, files]) => files.get(path) ?? [])
        .map((part) => partIn(part, path, text));
      const all = parts.flatMap(({ reading, analysis }) => [...reading, ...analysis]);
      const now = [...new Map(all.map((finding) => [inOneText(finding), finding])).values()];
      const before = told.get(uri);
      if (before !== undefined) {
        const shown = shownIn(before, path, text);
        told.set(uri, shown);
        if (sameFindings(shown.findings, now) && (!always || before.version === version)) continue;
      }
      if (before === undefined && now.length === 0 && version === undefined) continue;
      if (now.length === 0 && version === undefined) told.delete(uri);
      else told.set(uri, { text, findings: now, version });
      const lines = lineMap(text);
      const places = { uriOf: library.uriOf, linesOf: (other: string) => (other === path ? lines : linesIn(library.textAt(other))) };
      publish(
        uri,
        version,
        now.flatMap((finding) => diagnosticOf(finding, places, { ...diagnostics(), severities: {} })),
      );
    }
  };

  const hold = (path: string, now: boolean): void => {
    if (held.has(path) === now) return;
    if (now) held.add(path);
    else held.delete(path);
    holding(library.uriOf(path), now);
  };

  const settle = (contribution: Contribution): readonly string[] => {
    const { view, writing } = contribution;
    const { path, text } = view;
    const before = books.get(path);
    const found = partsOf(contribution);
    latest.set(path, found);
    const now = new Map(found);
    const hand = hands.get(path);
    const own = found.get(path);
    const waiting = writing && own && hand !== undefined ? writing.waits(own.reading, hand) : new Set<Finding>();
    hold(path, waiting.size > 0);
    for (const file of held) {
      const shown = before?.get(file);
      if (shown === undefined) now.delete(file);
      else now.set(file, shown);
    }
    if (waiting.size > 0) {
      const shown = partIn(before?.get(path) ?? { text, reading: [], analysis: [] }, path, text);
      const stays = writing!.paused ? [] : [...writing!.waits(shown.reading, hand!)];
      now.set(path, { ...shown, reading: [...own!.reading.filter((one) => !waiting.has(one)), ...stays] });
    } else {
      hands.delete(path);
      // What other books have found in it meanwhile.
      for (const [book, parts] of latest) {
        const part = parts.get(path);
        const shown = new Map(books.get(book));
        if (book === path || (part === undefined && !shown.delete(path))) continue;
        if (part !== undefined) shown.set(path, part);
        books.set(book, shown);
      }
    }
    books.set(path, now);
    return [...(before?.keys() ?? []), ...now.keys(), path];
  };

  return {
    edited: (path, before, now) => {
      const move = moving(path, before, now);
      const moved = (file: string, part: Part): Part => {
        if (file !== path) return movedPart(part, move);
        return part.text === before ? { ...movedPart(part, move), text: now } : partIn(part, path, now);
      };
      for (const all of [books, latest])
        for (const [book, parts] of all) all.set(book, new Map([...parts].map(([file, part]) => [file, moved(file, part)])));
      const uri = library.uriOf(path);
      const shown = told.get(uri);
      if (shown !== undefined) told.set(uri, shownIn(shown, path, now));
      // Behind what is new.
      hands.set(path, changeBetween(before, now).to);
    },
    read: (contribution) => {
      const { view, writing } = contribution;
      const { path, text } = view;
      const found = partsOf(contribution, path).get(path) ?? { text, reading: [], analysis: [] };
      const files = books.get(path);
      const before = partIn(files?.get(path) ?? { text, reading: [], analysis: [] }, path, text);
      const hand = hands.get(path);
      let { reading } = found;
      if (writing && hand !== undefined) {
        const still = new Set(reading.map(wordingOf));
        const waiting = writing.waits(writing.paused ? reading : before.reading, hand);
        reading = writing.paused
          ? reading.filter((finding) => !waiting.has(finding))
          : before.reading.filter((finding) => !waiting.has(finding) || still.has(wordingOf(finding)));
        hold(path, !writing.paused || waiting.size > 0);
      }
      books.set(path, new Map([...(files ?? []), [path, { ...before, reading }]]));
      tell([path], false);
    },
    settled: (contribution) => tell(settle(contribution), true),
    found: (contribution) => {
      for (const path of settle(contribution)) pending.add(path);
    },
    flush: () => {
      tell(pending, false);
      pending.clear();
    },
    handIn: (book) => hands.get(book),
    closed: (book, uri) => {
      const before = books.get(book);
      books.delete(book);
      latest.delete(book);
      hands.delete(book);
      held.delete(book);
      // In the editor there is nothing left to show; in the file there may be what other books find there.
      if (told.delete(uri)) publish(uri, undefined, []);
      tell([...(before?.keys() ?? []), book], false);
    },
    left: (book) => {
      const shown = books.get(book);
      const known = latest.get(book);
      if (known !== undefined) books.set(book, known);
      hands.delete(book);
      held.delete(book);
      tell([...(shown?.keys() ?? []), ...(known?.keys() ?? []), book], true);
    },
  };
}

/** Of each file, or of one, what a book has found in it, as grave as the settings have it. */
function partsOf({ view, severities }: Contribution, only?: string): Parts {
  const parts = new Map<string, { readonly text: string; readonly reading: Finding[]; readonly analysis: Finding[] }>();
  const put = (kind: "reading" | "analysis", findings: readonly Finding[]): void => {
    for (const { fixes: _, ...finding } of findings) {
      const { path } = finding;
      const severity = severities[finding.code] ?? finding.severity;
      if (severity === "off" || (only !== undefined && path !== only)) continue;
      const part = parts.get(path) ?? { text: textIn(view, path), reading: [], analysis: [] };
      parts.set(path, part);
      part[kind].push({ ...finding, severity });
    }
  };
  put("reading", view.findings);
  put("analysis", view.analysis?.findings ?? []);
  return parts;
}

/** Where a finding lies when a text is another; undefined where its own text is gone. */
type Move = (finding: Finding) => Finding | undefined;

function moving(path: string, before: string, now: string): Move {
  if (before === now) return (finding) => finding;
  const move = movedAlong(before, now);
  const put = <P extends Place>(place: P): P | undefined => {
    if (place.path !== path) return place;
    const range = move(place.range);
    return range && { ...place, range };
  };
  return (finding) => put({ ...finding, ...(finding.related && { related: finding.related.flatMap((one) => put(one) ?? []) }) });
}

function movedPart(part: Part, move: Move): Part {
  const moved = (findings: readonly Finding[]): readonly Finding[] => findings.flatMap((finding) => move(finding) ?? []);
  return { ...part, reading: moved(part.reading), analysis: moved(part.analysis) };
}

/** What is known of a file, in the text that it has now. */
function partIn(part: Part, path: string, now: string): Part {
  return { ...movedPart(part, moving(path, part.text, now)), text: now };
}

/** What an editor shows once the text is another: it moves what it was told, and keeps what has lost its text until it is told otherwise. */
function shownIn(told: Told, path: string, text: string): Told {
  const move = moving(path, told.text, text);
  return { ...told, text, findings: told.findings.map((finding) => move(finding) ?? finding) };
}

function sameFindings(some: readonly Finding[], others: readonly Finding[]): boolean {
  return JSON.stringify(some) === JSON.stringify(others);
}

function linesIn(text: string | undefined): ReturnType<typeof lineMap> | undefined {
  return text === undefined ? undefined : lineMap(text);
}

function textIn(view: Known, path: string): string {
  return path === view.path ? view.text : (view.model.books.find((book) => book.path === path)?.text ?? "");
}
