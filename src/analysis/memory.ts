/**
 * What one analysis of a book can leave to the next: results, under what they depend on.
 *
 *     pick's print ┐
 *     question     ┴──▶ value         asked again with the same print, it is not worked out again
 *
 * Half-written patterns come and go while someone types, so what has not been asked for lately is kept for a few more rounds.
 */
export interface Memory {
  /** The same text, the same number. */
  number(text: string): number;
  /** The value of `work`, or what it was when all that `key` names was the same. */
  recall<T>(key: string, work: () => T): T;
  /** Begins another analysis: what has not been asked for in the last few is forgotten. */
  begin(): void;
  /** How many questions there have been, and how many of them were answered from memory. */
  used(): { readonly asked: number; readonly recalled: number };
}

/** Analyses for which a value is kept that none of them asks for. */
const KEPT = 8;

export function memory(): Memory {
  let round = 0;
  const numbers = new Map<string, { readonly number: number; round: number }>();
  const values = new Map<string, { readonly value: unknown; round: number }>();
  let next = 0;
  let asked = 0;
  let recalled = 0;
  return {
    number(text) {
      let known = numbers.get(text);
      if (!known) numbers.set(text, (known = { number: next++, round }));
      known.round = round;
      return known.number;
    },
    recall<T>(key: string, work: () => T): T {
      let known = values.get(key);
      asked++;
      if (known) recalled++;
      else values.set(key, (known = { value: work(), round }));
      known.round = round;
      return known.value as T;
    },
    begin() {
      round++;
      for (const kept of [numbers, values]) for (const [key, entry] of kept) if (entry.round < round - KEPT) kept.delete(key);
    },
    used: () => ({ asked, recalled }),
  };
}
