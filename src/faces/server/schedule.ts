/**
 * When which book is read and analysed.
 *
 *     change ──2 ms──▶ read the book itself
 *        ├────150 ms of quiet──▶ for each book that read the text, the latest first:  settings ─▶ read ─▶ analyse, in pieces
 *        └────1 s of quiet──▶ nobody is writing in it any more: what is known of it is said once more
 *
 * Whoever wants to know is called when a book has been read and when all is known of it; what is found is of no interest here.
 */
import { decidingOf } from "../../service/shares.js";
import type { View } from "../../service/view.js";
import type { Host } from "./host.js";
import type { Library } from "./library.js";
import type { BookSettings, Settings } from "./settings.js";
import { openWorkshop, type Workshop } from "./workshop.js";

export interface Schedule {
  opened(path: string): void;
  /** Its text is another now, in the editor or in its file. */
  changed(path: string): void;
  closed(path: string): void;
  /** A file has been looked at that was not known before. */
  looked(path: string): void;
  /** The settings of the editor, or of folders, may be others. */
  refresh(): void;
  /** An open book as it is now. */
  view(path: string): View | undefined;
  settingsOf(path: string): BookSettings | undefined;
  /** Some file may have changed without a word: looks whether one has that an open book was read from. */
  lookAgain(): void;
  /** The same with its analysis, as soon as that is there; undefined once it is closed, or if the text has meanwhile changed. */
  whole(path: string): Promise<View | undefined>;
  /** Works out, when there is time, what becomes of a pattern, and says when that is known; false where that was tried in vain. */
  want(view: View, pattern: number): boolean;
  stop(): void;
}

export interface ScheduleOptions {
  readonly library: Library;
  readonly host: Pick<Host, "pause">;
  readonly settings: Settings;
  /** A book has been read, with more to come. `writing`: somebody has just typed in it, and may be in the middle of a word. */
  readonly read: (view: View, settings: BookSettings, writing: boolean) => void;
  /** All is known of a book that will be; without its analysis where that failed. */
  readonly settled: (view: View, settings: BookSettings, writing: boolean) => void;
  /** More is known of some book. */
  readonly analysed: () => void;
  /** Told about a fault of ours. */
  readonly fault: (what: string, error: unknown) => void;
  /** Shows that a book takes long; gives back what ends it. */
  readonly progress: (path: string) => () => void;
}

/** Milliseconds from a change until its book is read, in case more follow at once, and until it is analysed. */
const SOON = 2;
const QUIET = 150;
/** Until whoever types has paused: longer than a look for the next key, and than the pauses between words. */
const REST = 1000;
/** An analysis that takes longer is worth a word. */
const LONG = 1000;
/** Steps for a pattern that somebody looks at: short enough for a typist not to notice. */
const PATIENT = 8_000;

interface OpenBook {
  readonly workshop: Workshop;
  /** It has been read with its own settings and all its files at hand. */
  begun: boolean;
  /** Its analysis has failed; it is not tried again before something changes. */
  failed: boolean;
  /** Runs while somebody is writing in it. */
  rest?: ReturnType<typeof setTimeout> | undefined;
  waiting: ((view: View | undefined) => void)[];
}

export function openSchedule({ library, host, settings, read, settled, analysed, fault, progress }: ScheduleOptions): Schedule {
  /** The latest first. */
  let books: readonly OpenBook[] = [];
  let soon: ReturnType<typeof setTimeout> | undefined;
  let quiet: ReturnType<typeof setTimeout> | undefined;
  let working = false;
  /** What somebody wants to know more of, when there is nothing else to do. */
  const wanted: { readonly view: View; readonly pattern: number }[] = [];
  const sought = new WeakMap<View, Set<number>>();
  let stopped = false;

  const bookAt = (path: string): OpenBook | undefined => books.find(({ workshop }) => workshop.path === path);

  const touch = (book: OpenBook): void => {
    book.workshop.touch();
    book.failed = false;
  };

  const touchAll = (path: string): void => {
    for (const book of books) if (book.workshop.reads(path)) touch(book);
  };

  const adoptSettings = async (book: OpenBook): Promise<void> => {
    const { workshop } = book;
    const now = await settings.of(library.uriOf(workshop.path));
    if (JSON.stringify(now) === JSON.stringify(workshop.settings)) return;
    workshop.settings = now;
    touch(book);
  };

  const tellRead = ({ workshop, rest }: OpenBook): void => {
    const view = workshop.view();
    // That a file is not known yet is nothing to tell.
    if (!library.waits()) read(view, workshop.settings, rest !== undefined);
  };

  const restLater = (book: OpenBook): void => {
    clearTimeout(book.rest);
    book.rest = setTimeout(() => {
      book.rest = undefined;
      if (!books.includes(book) || !book.begun) return;
      try {
        if (isDue(book)) tellRead(book);
        else settled(book.workshop.view(), book.workshop.settings, false);
      } catch (error) {
        fault(book.workshop.path, error);
      }
    }, REST);
  };

  const answerAll = (book: OpenBook, view: View | undefined): void => {
    const { waiting } = book;
    book.waiting = [];
    for (const answer of waiting) answer(view);
  };

  /** Reads and analyses one book. */
  const work = async (book: OpenBook): Promise<void> => {
    const { workshop } = book;
    await adoptSettings(book);
    let view = workshop.view();
    // What was not known has been looked at: the book is due again.
    if (await library.look()) return;
    if (!books.includes(book)) return;
    book.begun = true;
    tellRead(book);
    const started = performance.now();
    const gone = (): boolean => stopped || !books.includes(book);
    let done: (() => void) | undefined;
    try {
      const pause = (): Promise<void> => {
        if (done === undefined && performance.now() - started > LONG) done = progress(workshop.path);
        return host.pause();
      };
      const found = await workshop.analyse({ pause, stopped: gone });
      if (found === undefined || !books.includes(book)) return;
      view = found;
    } catch (error) {
      book.failed = true;
      fault(workshop.path, error);
    } finally {
      done?.();
    }
    settled(view, workshop.settings, book.rest !== undefined);
    answerAll(book, view);
    analysed();
  };

  const workAll = async (): Promise<void> => {
    if (working) return;
    working = true;
    try {
      for (;;) {
        const next = books.find(isDue);
        if (stopped || quiet !== undefined || (next === undefined && wanted.length === 0)) break;
        if (next !== undefined) await work(next);
        else {
          const { view, pattern } = wanted.shift()!;
          if (books.some(({ workshop }) => workshop.view() === view)) decidingOf(view.analysis!, pattern, PATIENT);
          if (wanted.length === 0) analysed();
          await host.pause();
        }
      }
    } catch (error) {
      fault("checking", error);
      for (const book of books) answerAll(book, undefined);
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

  return {
    opened: (path) => {
      touchAll(path);
      const before = bookAt(path);
      clearTimeout(before?.rest);
      if (before !== undefined) answerAll(before, undefined);
      const workshop = openWorkshop(path, library, settings.usual());
      books = [{ workshop, begun: false, failed: false, waiting: [] }, ...books.filter((book) => book !== before)];
      whenQuiet(0);
    },
    changed: (path) => {
      touchAll(path);
      const own = bookAt(path);
      if (own !== undefined) {
        books = [own, ...books.filter((book) => book !== own)];
        restLater(own);
        clearTimeout(soon);
        soon = setTimeout(() => {
          try {
            if (own.begun && books.includes(own)) tellRead(own);
          } catch (error) {
            fault(path, error);
          }
        }, SOON);
      }
      whenQuiet(QUIET);
    },
    closed: (path) => {
      const gone = bookAt(path);
      clearTimeout(gone?.rest);
      books = books.filter((book) => book !== gone);
      touchAll(path);
      if (gone !== undefined) answerAll(gone, undefined);
      whenQuiet(QUIET);
    },
    looked: (path) => {
      const readers = books.filter(({ workshop }) => workshop.reads(path));
      readers.forEach(touch);
      if (readers.length > 0 && quiet === undefined && !working) whenQuiet(0);
    },
    refresh: () => {
      for (const book of books) touch(book);
      whenQuiet(0);
    },
    view: (path) => bookAt(path)?.workshop.view(),
    settingsOf: (path) => bookAt(path)?.workshop.settings,
    lookAgain: () => {
      const changed = new Set(
        books
          .flatMap(({ workshop }) => workshop.view().model.books)
          .filter(({ path, text }) => library.textAt(path) !== text)
          .map(({ path }) => path),
      );
      for (const path of changed) touchAll(path);
      if (changed.size > 0) whenQuiet(QUIET);
    },
    whole: async (path) => {
      const book = bookAt(path);
      if (book === undefined) return undefined;
      const view = book.workshop.view();
      if (view.analysis !== undefined || book.failed) return view;
      const found = await new Promise<View | undefined>((answer) => {
        book.waiting.push(answer);
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
      for (const { rest } of books) clearTimeout(rest);
      for (const book of books) answerAll(book, undefined);
      books = [];
    },
  };
}

function isDue({ workshop, failed }: OpenBook): boolean {
  return !failed && !workshop.isAnalysed();
}
