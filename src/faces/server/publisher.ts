/**
 * What the editor has been told of each file, and what it is told next.
 *
 *     pier.lore  ──contributes──▶ ┐ what is found in base.lore ──▶ all that books find in the text it has now, each once
 *     ramp.lore  ──contributes──▶ ┴ …                                         └──▶ published, if it is not what was told before
 *
 * A book's findings may lie in the books it builds on, and several books may find the same. When a book is read or analysed is not
 * decided here.
 */
import type { Diagnostic } from "vscode-languageserver";
import type { Finding } from "../../diagnostics.js";
import { areMoved, inOneText } from "../../same-finding.js";
import type { View } from "../../service/view.js";
import { diagnosticOf, placesIn, type DiagnosticOptions } from "./convert.js";
import type { Library } from "./library.js";
import { moved } from "./moved.js";

/** What a book has to say: the view that knows it, and with it the texts that it was found in. */
interface Contribution {
  readonly view: View;
  readonly severities: DiagnosticOptions["severities"];
}

export interface Publisher {
  /** A book has been read, and more will be known: what that finds in its own file is told, unless the editor shows that already, moved along with the text. */
  read(contribution: Contribution): void;
  /** All is known of a book that will be: it takes the place of whatever it contributed before. */
  settled(contribution: Contribution): void;
  /** A book is looked at from the beginning: what it contributed counts no more. */
  forget(book: string): void;
  /** The same, and the editor does not show it any more. `uri`: what it was called there. */
  closed(book: string, uri: string): void;
}

export interface PublisherOptions {
  readonly library: Pick<Library, "uriOf" | "textAt" | "documentAt">;
  readonly diagnostics: () => Omit<DiagnosticOptions, "severities">;
  readonly publish: (uri: string, version: number | undefined, diagnostics: Diagnostic[]) => void;
}

/** What is known of one book. */
interface Said {
  /** The view of which something has been told last. */
  readonly view: View;
  /** Of each file, what was found in it, and in which text of it. */
  readonly files: ReadonlyMap<string, Part>;
  /** What reading it found when that was last looked at; it may be on the screen as part of more. */
  readonly reading?: { readonly text: string; readonly findings: readonly Finding[]; readonly severities: Contribution["severities"] };
}

interface Part {
  readonly text: string;
  /** By what makes them the same. */
  readonly diagnostics: ReadonlyMap<string, Diagnostic>;
}

export function openPublisher({ library, diagnostics, publish }: PublisherOptions): Publisher {
  const books = new Map<string, Said>();
  const told = new Map<string, { readonly diagnostics: string; readonly version: number | undefined }>();

  const partsOf = ({ view, severities }: Contribution, findings: readonly Finding[]): ReadonlyMap<string, Part> => {
    const places = placesIn(view, library.uriOf);
    const options = { ...diagnostics(), severities };
    const byPath = new Map<string, Map<string, Diagnostic>>();
    for (const finding of findings) {
      const file = byPath.get(finding.path) ?? new Map<string, Diagnostic>();
      byPath.set(finding.path, file);
      for (const diagnostic of diagnosticOf(finding, places, options)) file.set(inOneText(finding), diagnostic);
    }
    return new Map([...byPath].map(([path, file]) => [path, { text: textIn(view, path), diagnostics: file }]));
  };

  /** `always`: also where only the version is another. */
  const tell = (paths: Iterable<string>, always: boolean): void => {
    for (const path of new Set(paths)) {
      const uri = library.uriOf(path);
      const text = library.textAt(path);
      const version = library.documentAt(path)?.version;
      // Where several books find the same, it is said as the book itself says it.
      const parts = [...books]
        .sort(([a], [b]) => Number(a === path) - Number(b === path))
        .flatMap(([, { files }]) => files.get(path) ?? []);
      const now = [...new Map(parts.filter((part) => part.text === text).flatMap((part) => [...part.diagnostics])).values()];
      const written = JSON.stringify(now);
      const before = told.get(uri);
      if (before?.diagnostics === written && (!always || before.version === version)) continue;
      if (before === undefined && now.length === 0 && version === undefined) continue;
      if (now.length === 0 && version === undefined) told.delete(uri);
      else told.set(uri, { diagnostics: written, version });
      publish(uri, version, now);
    }
  };

  return {
    read: (contribution) => {
      const { view, severities } = contribution;
      const { path, text } = view;
      const before = books.get(path);
      if (before?.view === view) return;
      const findings = view.findings.filter((finding) => finding.path === path);
      const shown = before?.reading;
      const reading = { text, findings, severities };
      if (shown?.severities === severities && areMoved(shown.findings, findings, moved(shown.text, text))) {
        books.set(path, { ...before!, view, reading });
        return;
      }
      const own = partsOf(contribution, findings).get(path) ?? { text, diagnostics: new Map() };
      books.set(path, { view, reading, files: new Map([...(before?.files ?? []), [path, own]]) });
      tell([path], false);
    },
    settled: (contribution) => {
      const { view } = contribution;
      const before = books.get(view.path);
      const files = partsOf(contribution, [...view.findings, ...(view.analysis?.findings ?? [])]);
      books.set(view.path, { ...before, view, files });
      tell([...(before?.files.keys() ?? []), ...files.keys(), view.path], true);
    },
    forget: (book) => void books.delete(book),
    closed: (book, uri) => {
      const before = books.get(book);
      books.delete(book);
      // In the editor there is nothing left to show; in the file there may be what other books find there.
      if (told.delete(uri)) publish(uri, undefined, []);
      tell([...(before?.files.keys() ?? []), book], false);
    },
  };
}

function textIn(view: View, path: string): string {
  return path === view.path ? view.text : (view.model.books.find((book) => book.path === path)?.text ?? "");
}
