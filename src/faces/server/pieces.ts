/**
 * Long work beside everything else: a few milliseconds of it, then whatever messages have come, then the next few.
 *
 *     work ──piece──piece──piece──▶ pause (hover, completion, an edit …) ──▶ still wanted? ──piece──piece── …
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
