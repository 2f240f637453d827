/**
 * A bound on work, counted so that the same input always stops at the same place.
 *
 *     steps   splits and nodes of one question         a question that is too hard is left open, and the others go on
 *     cost    what all the steps together looked at    the whole analysis ends in time and room, whatever the shape of the book
 */
export interface Budget {
  /** Throws `OutOfBudget` once the steps or the cost are used up, or when the caller asked to stop. */
  spend(steps?: number, cost?: number): void;
}

/** What many questions may cost together: parts of formulas, limits of boxes and nodes of diagrams looked at. */
export interface Purse {
  left: number;
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

/** What the steps of one question may look at: this much each, and some more; of what is left for all, no more than that part. */
const COST_PER_STEP = 32;
const COST_AT_LEAST = 200_000;
const PART_OF_PURSE = 1 / 4;

export function budget(steps: number, interrupted?: () => boolean, purse: Purse = { left: Number.MAX_SAFE_INTEGER }): Budget {
  let left = steps;
  let costs = Math.min(COST_AT_LEAST + COST_PER_STEP * steps, purse.left * PART_OF_PURSE);
  let asked = 0;
  return {
    spend(used = 1, cost = used) {
      left -= used;
      costs -= cost;
      purse.left -= cost;
      if (left < 0 || costs < 0 || purse.left < 0) throw new OutOfBudget();
      if (interrupted && (++asked & 255) === 0 && interrupted()) throw new Interrupted();
    },
  };
}

/** For work that is bounded by what it works on. */
export const unlimited: Budget = { spend() {} };

/** The value of `work`, or undefined where its budget ran out. */
export function withinBudget<T>(work: () => T): T | undefined {
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
