/**
 * When which book is read and analysed.
 *
 *     change ──2 ms──▶ read the book itself
 *        ├────150 ms of quiet──▶ for each book that read the text, the latest first:  settings ─▶ read ─▶ analyse, in pieces
 *        └────1 s of quiet──▶ whoever writes in it has paused: what is known of it is said once more
 *                              left, or saved ──▶ nobody writes in it any more: once more
 *
 * Whoever wants to know is called when a book has been read and when all is known of it; what is found is of no interest here.
 */
import type { Answers } from "../../analysis/answers.js";
import { decidingOf } from "../../service/shares.js";
import type { View } from "../../service/view.js";
import type { Library } from "./library.js";
import { inPieces } from "./pieces.js";
import type { BookSettings, Settings } from "./settings.js";
import { openWorkshop, type Workshop } from "./workshop.js";

export interface Schedule {
  opened(path: string): void;
  /** Its text is another now, in the editor or in its file. */
  changed(path: string): void;
  /** Whoever wrote in it has gone elsewhere, or has saved it. */
  left(path: string): void;
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
  /** The same with what its picks answer, which is known before the rest. */
  answered(path: string): Promise<Answering | undefined>;
  /** Comes back once all is known of every open book, and nobody has just written in one; at once, if that is so. */
  calm(): Promise<void>;
  /** Works out, when there is time, what becomes of a pattern, and says when that is known; false where that was tried in vain. */
  want(view: View, pattern: number): boolean;
  stop(): void;
}

/** A book of which it is known what every pick answers. */
export type Answering = View & { readonly answers: Answers };

/** Whether somebody has just typed in a book, and may be in the middle of a word, or has typed some time ago and not left what was written. */
export type Hand = "writing" | "paused" | undefined;

export interface ScheduleOptions {
  readonly library: Library;
  /** Lets everything else go first. */
  readonly pause: () => Promise<void>;
  readonly settings: Settings;
  /** A book has been read, with more to come. */
  readonly read: (view: View, settings: BookSettings, hand: Hand) => void;
  /** All is known of a book that will be; without its analysis where that failed. */
  readonly settled: (view: View, settings: BookSettings, hand: Hand) => void;
  /** What takes long of telling that somebody has paused, in pieces. */
  readonly pausing: (view: View) => Generator<void, void>;
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
  hand: Hand;
  /** Runs while somebody is writing in it. */
  rest?: ReturnType<typeof setTimeout> | undefined;
  /** Called when its answers are known, when its analysis is, and when either will not be. */
  waiting: { readonly answers: (() => void)[]; readonly all: (() => void)[] };
}

export function openSchedule({ library, pause, settings, read, settled, pausing, analysed, fault, progress }: ScheduleOptions): Schedule {
  /** The latest first. */
  let books: readonly OpenBook[] = [];
  let soon: ReturnType<typeof setTimeout> | undefined;
  let quiet: ReturnType<typeof setTimeout> | undefined;
  let working = false;
  /** What somebody wants to know more of, when there is nothing else to do. */
  const wanted: { readonly view: View; readonly pattern: number }[] = [];
  const sought = new WeakMap<View, Set<number>>();
  let stopped = false;
  const waiting = new Set<() => void>();

  const isCalm = (): boolean =>
    stopped || (!working && quiet === undefined && books.every((book) => book.rest === undefined && !isDue(book)));
  const tellCalm = (): void => {
    if (!isCalm()) return;
    const waiters = [...waiting];
    waiting.clear();
    for (const go of waiters) go();
  };

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

  const tellRead = ({ workshop, hand }: OpenBook): void => {
    const view = workshop.view();
    // That a file is not known yet is nothing to tell.
    if (!library.waits()) read(view, workshop.settings, hand);
  };

  /** The hand rests, or is gone: what waited for it is told. */
  const rest = (book: OpenBook, hand: Hand): void => {
    clearTimeout(book.rest);
    book.rest = undefined;
    book.hand = hand;
    if (!books.includes(book) || !book.begun) return tellCalm();
    try {
      if (isDue(book)) tellRead(book);
      else settled(book.workshop.view(), book.workshop.settings, hand);
    } catch (error) {
      fault(book.workshop.path, error);
    }
    tellCalm();
  };

  /** Unless somebody writes on meanwhile. */
  const paused = async (book: OpenBook, timer: OpenBook["rest"]): Promise<void> => {
    const isOver = (): boolean => stopped || book.rest !== timer;
    try {
      await inPieces(pausing(book.workshop.view()), { pause, stopped: isOver });
    } catch (error) {
      fault(book.workshop.path, error);
    }
    if (!isOver()) rest(book, "paused");
  };

  const restLater = (book: OpenBook): void => {
    clearTimeout(book.rest);
    book.hand = "writing";
    const timer = setTimeout(() => void paused(book, timer), REST);
    book.rest = timer;
  };

  const tellWaiting = (book: OpenBook, what: "answers" | "all"): void => {
    for (const go of book.waiting[what].splice(0)) go();
    if (what === "all") tellWaiting(book, "answers");
  };

  /** A book once something is known of it; undefined if that will not be, or if its text has changed meanwhile. */
  const later = async (path: string, what: "answers" | "all", isKnown: (book: OpenBook) => boolean): Promise<OpenBook | undefined> => {
    const book = bookAt(path);
    if (book === undefined) return undefined;
    const { text } = book.workshop.view();
    if (!isKnown(book) && !book.failed)
      await new Promise<void>((go) => {
        book.waiting[what].push(go);
        if (quiet === undefined) void workAll();
      });
    return books.includes(book) && book.workshop.view().text === text ? book : undefined;
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
      const patiently = (): Promise<void> => {
        if (done === undefined && performance.now() - started > LONG) done = progress(workshop.path);
        return pause();
      };
      const found = await workshop.analyse({ pause: patiently, stopped: gone, answered: () => tellWaiting(book, "answers") });
      if (found === undefined || !books.includes(book)) return;
      view = found;
    } catch (error) {
      book.failed = true;
      fault(workshop.path, error);
    } finally {
      done?.();
    }
    settled(view, workshop.settings, book.hand);
    tellWaiting(book, "all");
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
          await pause();
        }
      }
    } catch (error) {
      fault("checking", error);
      for (const book of books) tellWaiting(book, "all");
    } finally {
      working = false;
      tellCalm();
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
      if (before !== undefined) tellWaiting(before, "all");
      const workshop = openWorkshop(path, library, settings.usual());
      books = [
        { workshop, begun: false, failed: false, hand: undefined, waiting: { answers: [], all: [] } },
        ...books.filter((book) => book !== before),
      ];
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
    left: (path) => {
      const book = bookAt(path);
      if (book?.hand !== undefined) rest(book, undefined);
    },
    closed: (path) => {
      const gone = bookAt(path);
      clearTimeout(gone?.rest);
      if (gone !== undefined) gone.rest = undefined;
      books = books.filter((book) => book !== gone);
      touchAll(path);
      if (gone !== undefined) tellWaiting(gone, "all");
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
    whole: async (path) => (await later(path, "all", ({ workshop }) => workshop.isAnalysed()))?.workshop.view(),
    answered: async (path) => {
      const workshop = (await later(path, "answers", (book) => book.workshop.answers() !== undefined))?.workshop;
      const answers = workshop?.answers();
      return workshop && answers && { ...workshop.view(), answers };
    },
    calm: () => (isCalm() ? Promise.resolve() : new Promise((go) => void waiting.add(go))),
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
      for (const book of books) tellWaiting(book, "all");
      books = [];
      tellCalm();
    },
  };
}

function isDue({ workshop, failed }: OpenBook): boolean {
  return !failed && !workshop.isAnalysed();
}
