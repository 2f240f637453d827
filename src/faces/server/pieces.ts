/**
 * Long work beside everything else: a few milliseconds of it, then whatever messages have come, then the next few.
 *
 *     work ──piece──piece──piece──▶ pause (hover, completion, an edit …) ──▶ still wanted? ──piece──piece── …
 *
 * What somebody waits for, a table or a fix, goes before what nobody has asked for: the analysis stands still meanwhile.
 */

export interface Manners {
  /** Lets messages go first. */
  readonly pause: () => Promise<void>;
  /** Asked after every pause: nobody wants it any more. */
  readonly stopped: () => boolean;
}

/** Milliseconds of work between two pauses: less than anyone feels. */
const PIECE = 8;

/** What the work comes to; undefined if it was given up. Throws what the work throws. */
export async function inPieces<T>(work: Generator<unknown, T>, { pause, stopped }: Manners): Promise<T | undefined> {
  for (;;) {
    const since = performance.now();
    do {
      const piece = work.next();
      if (piece.done) return piece.value;
    } while (performance.now() - since < PIECE);
    await pause();
    if (stopped()) return undefined;
  }
}

export interface Turns {
  /** Work that somebody waits for. */
  ahead<T>(work: () => Promise<T>): Promise<T>;
  /** Lets messages go first, and all that is ahead. */
  behind(): Promise<void>;
}

export function openTurns(pause: () => Promise<void>): Turns {
  const ahead = new Set<symbol>();
  return {
    ahead: async (work) => {
      const mine = Symbol();
      ahead.add(mine);
      try {
        return await work();
      } finally {
        ahead.delete(mine);
      }
    },
    behind: async () => {
      do await pause();
      while (ahead.size > 0);
    },
  };
}
