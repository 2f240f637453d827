/**
 * When which book is read and analysed, and what the editor is told of it.
 *
 *     change ──2 ms──▶ read the book itself ──▶ what that finds, if it is not what is shown already
 *        └────150 ms of quiet──▶ for each book that read the text, the latest first:  read ─▶ analyse, in pieces ─▶ all findings
 *
 * A book's findings may lie in the books it builds on, and several books may find the same. What is told of a file is what all open
 * books find in it, each once, and only findings of exactly the text that the file has now.
 */
import type { Diagnostic } from "vscode-languageserver";
import type { Finding } from "../../diagnostics.js";
import { areMoved } from "../../same-finding.js";
import { decidingOf } from "../../service/shares.js";
import type { View } from "../../service/view.js";
import { diagnosticOf, placesIn, type DiagnosticOptions } from "./convert.js";
import type { FolderSettings, Host } from "./host.js";
import type { Library } from "./library.js";
import { moved } from "./moved.js";
import { openWorkshop, type BookSettings, type Workshop } from "./workshop.js";

export interface Checker {
  opened(path: string): void;
  /** Its text is another now, in the editor or in its file. */
  changed(path: string): void;
  /** `uri`: what the editor called it. */
  closed(path: string, uri: string): void;
  /** The settings of the editor, or of folders, may be others. */
  refresh(): void;
  /** An open book as it is now. */
  view(path: string): View | undefined;
  settingsOf(path: string): BookSettings | undefined;
  severitiesOf(path: string): DiagnosticOptions["severities"];
  /** Some file may have changed without a word: looks whether one has that an open book was read from. */
  lookAgain(): void;
  /** The same with its analysis, as soon as that is there; undefined once it is closed, or if the text has meanwhile changed. */
  whole(path: string): Promise<View | undefined>;
  /** Works out, when there is time, what becomes of a pattern, and says when that is known; false where that was tried in vain. */
  want(view: View, pattern: number): boolean;
  stop(): void;
}

export interface CheckerOptions {
  readonly library: Library;
  readonly host: Host;
  readonly publish: (uri: string, version: number | undefined, diagnostics: Diagnostic[]) => void;
  readonly client: () => { readonly day?: string; readonly steps?: number };
  readonly supports: () => DiagnosticOptions["supports"];
  /** Called when more is known of some book. */
  readonly analysed: () => void;
  /** Told about settings that could not be read. */
  readonly warn: (problem: string) => void;
  /** Told about a fault of ours. */
  readonly fault: (what: string, error: unknown) => void;
  /** Shows that a book takes long; gives back what ends it. */
  readonly progress: (path: string) => () => void;
}

/** Milliseconds from a change until its book is read, in case more follow at once, and until it is analysed. */
const SOON = 2;
const QUIET = 150;
/** An analysis that takes longer is worth a word. */
const LONG = 1000;
/** Steps for a pattern that somebody looks at: short enough for a typist not to notice. */
const PATIENT = 8_000;

/** What is known of an open book. */
interface Desk {
  readonly workshop: Workshop;
  folder: FolderSettings;
  /** What it contributes to each file, and of which text of that file. */
  shown: Map<string, { readonly text: string; readonly diagnostics: readonly Diagnostic[] }>;
  /** What reading it found when that was last looked at. */
  reading?: { readonly text: string; readonly findings: readonly Finding[] };
  /** The view whose findings have been shown, as far as they were known. */
  told?: View;
  /** Its analysis has failed; it is not tried again before something changes. */
  failed: boolean;
  waiting: ((view: View | undefined) => void)[];
}

export function openChecker({ library, host, publish, client, supports, analysed, warn, fault, progress }: CheckerOptions): Checker {
  /** The latest first. */
  let desks: readonly Desk[] = [];
  const sent = new Map<string, { readonly key: string; readonly version: number | undefined }>();
  const warned = new Set<string>();
  let soon: ReturnType<typeof setTimeout> | undefined;
  let quiet: ReturnType<typeof setTimeout> | undefined;
  let working = false;
  /** What somebody wants to know more of, when there is nothing else to do. */
  const wanted: { readonly view: View; readonly pattern: number }[] = [];
  const sought = new WeakMap<View, Set<number>>();
  let stopped = false;

  const deskOf = (path: string): Desk | undefined => desks.find(({ workshop }) => workshop.path === path);
  const textAt = (view: View, path: string): string | undefined =>
    path === view.path ? view.text : view.model.books.find((book) => book.path === path)?.text;

  const contribute = (
    desk: Desk,
    view: View,
    findings: readonly Finding[],
  ): ReadonlyMap<string, { readonly text: string; readonly diagnostics: readonly Diagnostic[] }> => {
    const places = placesIn(view, library.uriOf);
    const options = { supports: supports(), severities: desk.folder.severities ?? {}, hintPage: host.hintPage };
    const byPath = new Map<string, Diagnostic[]>();
    for (const finding of findings) {
      const list = byPath.get(finding.path) ?? [];
      list.push(...diagnosticOf(finding, places, options));
      byPath.set(finding.path, list);
    }
    return new Map([...byPath].map(([path, diagnostics]) => [path, { text: textAt(view, path) ?? "", diagnostics }]));
  };

  const tell = (paths: Iterable<string>, always: boolean): void => {
    for (const path of new Set(paths)) {
      const uri = library.uriOf(path);
      const text = library.textAt(path);
      const version = library.documentAt(path)?.version;
      const all = desks
        .map(({ shown }) => shown.get(path))
        .filter((part) => part !== undefined && part.text === text)
        .flatMap((part) => part!.diagnostics);
      const diagnostics = [...new Map(all.map((one) => [identity(one), one])).values()];
      const key = JSON.stringify(diagnostics);
      const before = sent.get(uri);
      if (before?.key === key && (!always || before.version === version)) continue;
      if (before === undefined && diagnostics.length === 0 && version === undefined) continue;
      if (diagnostics.length === 0 && version === undefined) sent.delete(uri);
      else sent.set(uri, { key, version });
      publish(uri, version, diagnostics);
    }
  };

  /** Shows what reading finds, unless the editor shows that already, moved along with the text. */
  const tellReading = (desk: Desk): void => {
    const view = desk.workshop.view();
    if (desk.told === view) return;
    desk.told = view;
    const { path } = view;
    const own = view.findings.filter((finding) => finding.path === path);
    const same = desk.reading !== undefined && areMoved(desk.reading.findings, own, moved(desk.reading.text, view.text));
    desk.reading = { text: view.text, findings: own };
    if (same) return;
    desk.shown.set(path, contribute(desk, view, own).get(path) ?? { text: view.text, diagnostics: [] });
    tell([path], false);
  };

  const tellAll = (desk: Desk, view: View): void => {
    const before = desk.shown;
    desk.told = view;
    desk.shown = new Map(contribute(desk, view, [...view.findings, ...(view.analysis?.findings ?? [])]));
    tell([...before.keys(), ...desk.shown.keys(), view.path], true);
  };

  const adopt = async (desk: Desk): Promise<void> => {
    const folder = await host.settingsFor(library.uriOf(desk.workshop.path));
    if (folder.problem !== undefined && !warned.has(folder.problem)) {
      warned.add(folder.problem);
      warn(folder.problem);
    }
    const { day, steps } = client();
    const settings: BookSettings = {
      day: day ?? folder.day ?? host.today(),
      daySet: (day ?? folder.day) !== undefined,
      steps: steps ?? folder.steps,
    };
    if (JSON.stringify([settings, folder]) === JSON.stringify([desk.workshop.settings, desk.folder])) return;
    desk.workshop.settings = settings;
    desk.folder = folder;
    desk.reading = undefined;
    touch(desk);
  };

  const touch = (desk: Desk): void => {
    desk.workshop.touch();
    desk.failed = false;
  };

  const isDue = ({ workshop, failed }: Desk): boolean => !failed && !workshop.isAnalysed();

  const answerAll = (desk: Desk, view: View | undefined): void => {
    const { waiting } = desk;
    desk.waiting = [];
    for (const answer of waiting) answer(view);
  };

  /** Reads and analyses one book. */
  const work = async (desk: Desk): Promise<void> => {
    const { workshop } = desk;
    await adopt(desk);
    let view = workshop.view();
    if (await library.look()) {
      touch(desk);
      return;
    }
    if (!desks.includes(desk)) return;
    tellReading(desk);
    const started = performance.now();
    const gone = (): boolean => stopped || !desks.includes(desk);
    let done: (() => void) | undefined;
    try {
      const pause = (): Promise<void> => {
        if (done === undefined && performance.now() - started > LONG) done = progress(workshop.path);
        return host.pause();
      };
      const found = await workshop.analyse({ pause, stopped: gone });
      if (found === undefined || !desks.includes(desk)) return;
      view = found;
    } catch (error) {
      desk.failed = true;
      fault(workshop.path, error);
    } finally {
      done?.();
    }
    tellAll(desk, view);
    answerAll(desk, view);
    analysed();
  };

  const workAll = async (): Promise<void> => {
    if (working) return;
    working = true;
    try {
      for (;;) {
        const next = desks.find(isDue);
        if (stopped || quiet !== undefined || (next === undefined && wanted.length === 0)) break;
        if (next !== undefined) await work(next);
        else {
          const { view, pattern } = wanted.shift()!;
          if (desks.some(({ workshop }) => workshop.view() === view)) decidingOf(view.analysis!, pattern, PATIENT);
          if (wanted.length === 0) analysed();
          await host.pause();
        }
      }
    } catch (error) {
      fault("checking", error);
      for (const desk of desks) answerAll(desk, undefined);
    } finally {
      working = false;
    }
  };

  const whenQuiet = (delay: number): void => {
    clearTimeout(quiet);
    quiet = setTimeout(() => {
      quiet = undefined;
      void workAll();
    }, delay);
  };

  const touchAll = (path: string): void => {
    for (const desk of desks) if (desk.workshop.reads(path)) touch(desk);
  };

  return {
    opened: (path) => {
      touchAll(path);
      const before = deskOf(path);
      if (before !== undefined) answerAll(before, undefined);
      const { day, steps } = client();
      desks = [
        {
          workshop: openWorkshop(path, library, { day: day ?? host.today(), daySet: day !== undefined, steps }),
          folder: {},
          shown: new Map(),
          failed: false,
          waiting: [],
        },
        ...desks.filter((desk) => desk !== before),
      ];
      whenQuiet(0);
    },
    changed: (path) => {
      touchAll(path);
      const own = deskOf(path);
      if (own !== undefined) {
        desks = [own, ...desks.filter((desk) => desk !== own)];
        clearTimeout(soon);
        soon = setTimeout(() => {
          try {
            if (own.told !== undefined && desks.includes(own)) tellReading(own);
          } catch (error) {
            fault(path, error);
          }
        }, SOON);
      }
      whenQuiet(QUIET);
    },
    closed: (path, uri) => {
      const gone = deskOf(path);
      desks = desks.filter((desk) => desk !== gone);
      touchAll(path);
      if (gone !== undefined) answerAll(gone, undefined);
      // In the editor there is nothing left to show; in the file there may be what other books find there.
      if (sent.has(uri)) {
        sent.delete(uri);
        publish(uri, undefined, []);
      }
      tell([...(gone?.shown.keys() ?? []), path], false);
      whenQuiet(QUIET);
    },
    refresh: () => {
      for (const desk of desks) touch(desk);
      whenQuiet(0);
    },
    view: (path) => deskOf(path)?.workshop.view(),
    settingsOf: (path) => deskOf(path)?.workshop.settings,
    severitiesOf: (path) => deskOf(path)?.folder.severities ?? {},
    lookAgain: () => {
      const changed = new Set(
        desks
          .flatMap(({ workshop }) => workshop.view().model.books)
          .filter(({ path, text }) => library.textAt(path) !== text)
          .map(({ path }) => path),
      );
      for (const path of changed) touchAll(path);
      if (changed.size > 0) whenQuiet(QUIET);
    },
    whole: async (path) => {
      const desk = deskOf(path);
      if (desk === undefined) return undefined;
      const view = desk.workshop.view();
      if (view.analysis !== undefined || desk.failed) return view;
      const found = await new Promise<View | undefined>((answer) => {
        desk.waiting.push(answer);
        if (quiet === undefined) void workAll();
      });
      return found?.text === view.text ? found : undefined;
    },
    want: (view, pattern) => {
      const before = sought.get(view) ?? new Set();
      if (view.analysis === undefined || before.has(pattern)) return false;
      sought.set(view, before.add(pattern));
      wanted.push({ view, pattern });
      if (quiet === undefined) void workAll();
      return true;
    },
    stop: () => {
      stopped = true;
      clearTimeout(soon);
      clearTimeout(quiet);
      for (const desk of desks) answerAll(desk, undefined);
      desks = [];
    },
  };
}

/** Of two that say the same of one place, one is enough, whatever share of the points each has in mind. */
function identity({ range, code, message, data }: Diagnostic): string {
  const { where, pick, patterns } = data as Pick<Finding, "where" | "pick" | "patterns">;
  return JSON.stringify([range, code, pick, patterns, where ?? message]);
}
