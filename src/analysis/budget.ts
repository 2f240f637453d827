/** A bound on work, counted in steps so that the same input always stops at the same place. */
export interface Budget {
  /** Throws `OutOfBudget` once the steps are used up, or when the caller asked to stop. */
  spend(steps?: number): void;
}

/** What work in pieces comes to, done in one go. */
export function toTheEnd<T>(work: Generator<unknown, T>): T {
  for (;;) {
    const piece = work.next();
    if (piece.done) return piece.value;
  }
}

/** Caught where one pick's, pattern's or finding's analysis starts: the tool then says what it left undecided. */
export class OutOfBudget extends Error {}

/** Thrown through everything when `interrupted` says so. */
export class Interrupted extends Error {}

export function budget(steps: number, interrupted?: () => boolean): Budget {
  let left = steps;
  return {
    spend(used = 1) {
      left -= used;
      if (left < 0) throw new OutOfBudget();
      if (interrupted && (left & 255) === 0 && interrupted()) throw new Interrupted();
    },
  };
}

/** For work that is bounded by what it works on. */
export const unlimited: Budget = { spend() {} };

/** The value of `work`, or undefined where its budget ran out. */
export function within<T>(work: () => T): T | undefined {
  try {
    return work();
  } catch (problem) {
    if (problem instanceof OutOfBudget) return undefined;
    throw problem;
  }
}

/** The same of work in pieces. */
export function* piecesWithin<T>(work: Generator<void, T>): Generator<void, T | undefined> {
  try {
    return yield* work;
  } catch (problem) {
    if (problem instanceof OutOfBudget) return undefined;
    throw problem;
  }
}
