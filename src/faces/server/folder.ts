/**
 * The books of the workspace that are not open, checked as well, in the background.
 *
 *     anything changes ──until nobody writes──▶ which books rest on another text than when they were checked?
 *                                                   │ each:  kept from before ─▶ told
 *                                                   └──────  read ─▶ told,  then analysed in pieces ─▶ told
 *
 * Nobody has to say what has changed: each book remembers the texts it rests on, and is held against those of now. What somebody has
 * open goes before all of it.
 */
import { analysing } from "../../analysis/analyse.js";
import { openView, type View } from "../../service/view.js";
import type { ClosedBooks } from "./closed-books.js";
import type { Findings, How, Kept } from "./host.js";
import type { Library } from "./library.js";
import { inPieces } from "./pieces.js";
import type { Known } from "./publisher.js";
import type { BookSettings, Settings } from "./settings.js";

export interface Folder {
  /** Something may be otherwise: a text, a file, a setting, what is open. */
  wake(): void;
  /** A book is not open any more; whether it is looked after from now on. */
  closed(path: string): boolean;
  /** Comes back once all is known of every book. */
  settled(): Promise<void>;
  stop(): void;
}

export interface FolderOptions {
  readonly library: Library;
  readonly books: Pick<ClosedBooks, "checked">;
  /** Lets messages go first, and what somebody waits for. */
  readonly pause: () => Promise<void>;
  readonly settings: Settings;
  readonly kept: () => Kept | undefined;
  /** Comes back once nobody writes and all is known of what is open; at once, if that is so. */
  readonly calm: () => Promise<void>;
  /** A book has been read, with more to come. */
  readonly read: (known: Known, settings: BookSettings) => void;
  /** All is known of a book that will be; told now and then with `flush`. */
  readonly found: (known: Known, settings: BookSettings) => void;
  readonly flush: () => void;
  /** A book is not looked after any more. */
  readonly gone: (path: string) => void;
  readonly fault: (what: string, error: unknown) => void;
  /** Shows how far it is, once that takes long; gives back what ends it. */
  readonly progress: () => { report(done: number, of: number): void; done(): void };
}

/** What a book was checked by. */
interface Rest {
  readonly texts: ReadonlyMap<string, string | undefined>;
  readonly settings: BookSettings;
}

/** Milliseconds after which it is worth a word, and between two moments at which what was found is told. */
const LONG = 1000;
const OFTEN = 250;

export function openFolder({
  library,
  books,
  pause,
  settings,
  kept,
  calm,
  read,
  found,
  flush,
  gone,
  fault,
  progress,
}: FolderOptions): Folder {
  /** By path, those that are looked after; undefined: it has yet to be checked. */
  const rests = new Map<string, Rest | undefined>();
  let looked: ReadonlySet<string> = new Set();
  let [wakes, seen] = [0, 0];
  let running: Promise<void> | undefined;
  let stopped = false;

  const isOpen = (path: string): boolean => library.documentAt(path) !== undefined;
  const isBehind = (): boolean => !stopped && wakes !== seen;

  /** The books that are not as they were checked, in the order in which they are to be. */
  const due = async (): Promise<readonly string[]> => {
    const paths = await books.checked();
    looked = new Set(paths);
    for (const path of [...rests.keys()]) {
      if (looked.has(path) && !isOpen(path)) continue;
      rests.delete(path);
      if (!isOpen(path)) gone(path);
    }
    const texts = new Map<string, string | undefined>();
    const textAt = (path: string): string | undefined => {
      if (!texts.has(path)) texts.set(path, library.textAt(path));
      return texts.get(path);
    };
    const stale: string[] = [];
    for (const path of paths) {
      if (isOpen(path)) continue;
      const rest = rests.get(path);
      const now = await settings.of(library.uriOf(path));
      const same = rest && [...rest.texts].every(([at, text]) => textAt(at) === text) && sameSettings(rest.settings, now);
      if (!same) stale.push(path);
    }
    // What somebody has just changed the base of comes first.
    const isNear = (path: string): boolean => [...(rests.get(path)?.texts.keys() ?? [])].some(isOpen);
    return [...stale.filter(isNear), ...stale.filter((path) => !isNear(path))];
  };

  const opened = async (path: string, by: BookSettings, keeper: Kept | undefined) => {
    for (;;) {
      const asked = new Set([path]);
      const text = library.textAt(path) ?? "";
      const record = keeper?.record({ path, text }, library.reader(asked), howOf(by));
      const view = openView(path, text, record?.read ?? library.reader(asked), { on: by.day, parsed: library.parsedAt(path, text) });
      if (!(await library.look())) return { view, asked, keep: record?.keep };
    }
  };

  const tell = (path: string, { reading, analysis, asked }: Findings, by: BookSettings): void => {
    const texts = new Map(asked.map((at) => [at, library.textAt(at)]));
    rests.set(path, { texts, settings: by });
    found(knownOf(path, reading, analysis, texts), by);
  };

  /** What is known without any work, and else what reading finds; whether there is more to find. */
  const begin = async (path: string): Promise<boolean> => {
    const by = await settings.of(library.uriOf(path));
    if (library.textAt(path) === undefined) await library.look();
    const text = library.textAt(path);
    // What cannot be read has nothing in it that could be wrong.
    const known =
      text === undefined ? { reading: [], analysis: [], asked: [path] } : kept()?.find({ path, text }, library.openedAt, howOf(by));
    if (known !== undefined) tell(path, known, by);
    else if (rests.has(path)) read((await opened(path, by, undefined)).view, by);
    return known === undefined;
  };

  const finish = async (path: string): Promise<void> => {
    const by = await settings.of(library.uriOf(path));
    const { view, asked, keep } = await opened(path, by, kept());
    let at = wakes;
    const isOver = (): boolean => {
      if (stopped || isOpen(path)) return true;
      if (at === wakes) return false;
      at = wakes;
      return !isAsRead(view);
    };
    const patiently = (): Promise<void> => pause().then(calm);
    const result = { reading: view.findings, analysis: [], asked: [...asked] };
    try {
      const done = await inPieces(analysing(view.model, { steps: by.steps }), { pause: patiently, stopped: isOver });
      if (done === undefined || isOpen(path) || !isAsRead(view)) return;
      const whole = { ...result, analysis: done.findings };
      keep?.(whole);
      tell(path, whole, by);
    } catch (error) {
      fault(path, error);
      tell(path, result, by);
    }
  };
  const isAsRead = (view: View): boolean => view.model.books.every(({ path, text }) => library.textAt(path) === text);

  /** One book after the other, from the beginning where something changes meanwhile. */
  const run = async (): Promise<void> => {
    const shown = later(progress);
    try {
      do {
        await calm();
        seen = wakes;
        const paths = await due();
        const left: string[] = [];
        const goThrough = async (some: readonly string[], work: (path: string) => Promise<unknown>): Promise<void> => {
          let told = performance.now();
          for (const [i, path] of some.entries()) {
            await pause();
            await calm();
            if (stopped || isBehind()) break;
            await work(path);
            shown.report(i, some.length);
            if (performance.now() - told < OFTEN) continue;
            flush();
            told = performance.now();
          }
          flush();
        };
        await goThrough(paths, async (path) => ((await begin(path)) ? left.push(path) : undefined));
        await goThrough(left, finish);
      } while (isBehind());
    } catch (error) {
      if (!stopped) fault("folder", error);
    } finally {
      shown.done();
    }
  };

  return {
    wake: () => {
      wakes++;
      if (stopped) return;
      running ??= run().finally(() => (running = undefined));
    },
    closed: (path) => {
      if (!looked.has(path)) return false;
      rests.set(path, undefined);
      return true;
    },
    settled: async () => {
      for (let now = running; now !== undefined; now = running) await now;
    },
    stop: () => void (stopped = true),
  };
}

/** What the check of a book depends on beside the texts. */
function howOf({ day, steps }: BookSettings): How {
  return { on: day, ...(steps !== undefined && { steps }) };
}

function sameSettings(some: BookSettings, others: BookSettings): boolean {
  return JSON.stringify(some) === JSON.stringify(others);
}

function knownOf(
  path: string,
  reading: Findings["reading"],
  analysis: Findings["analysis"],
  texts: ReadonlyMap<string, string | undefined>,
): Known {
  return {
    path,
    text: texts.get(path) ?? "",
    findings: reading,
    analysis: { findings: analysis },
    model: { books: [...texts].flatMap(([at, text]) => (text === undefined ? [] : [{ path: at, text }])) },
  };
}

/** Shown only once it has taken long. */
function later(progress: FolderOptions["progress"]): ReturnType<FolderOptions["progress"]> {
  const started = performance.now();
  let shown: ReturnType<FolderOptions["progress"]> | undefined;
  return {
    report: (done, of) => {
      if (performance.now() - started > LONG) (shown ??= progress()).report(done, of);
    },
    done: () => shown?.done(),
  };
}
