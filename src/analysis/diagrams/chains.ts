/**
 * Finds things again by what they are made of, where there are millions: things are numbered from 0, and those that share a hash are
 * chained, the latest first, so that the latest are easily forgotten.
 *
 *     heads   · · 7 · · 9 ·        7 ──▶ 3 ──▶ none        9 ──▶ none
 */
export interface Chains {
  /** The number of a thing with this hash of which `isIt` is true. */
  find(hash: number, isIt: (at: number) => boolean): number | undefined;
  /** Adds the next number. */
  push(hash: number): void;
  /** Forgets all from the given number on. */
  cut(from: number): void;
}

export function chains(): Chains {
  let heads = new Int32Array(1024).fill(-1);
  const hashes: number[] = [];
  const earlier: number[] = [];
  const link = (at: number): void => {
    const head = hashes[at]! & (heads.length - 1);
    earlier[at] = heads[head]!;
    heads[head] = at;
  };
  return {
    find(hash, isIt) {
      for (let at = heads[hash & (heads.length - 1)]!; at >= 0; at = earlier[at]!) if (hashes[at] === hash && isIt(at)) return at;
      return undefined;
    },
    push(hash) {
      hashes.push(hash);
      if (hashes.length <= heads.length) return link(hashes.length - 1);
      heads = new Int32Array(2 * heads.length).fill(-1);
      hashes.forEach((_, at) => link(at));
    },
    cut(from) {
      for (let at = hashes.length - 1; at >= from; at--) heads[hashes[at]! & (heads.length - 1)] = earlier[at]!;
      hashes.length = from;
      earlier.length = from;
    },
  };
}

/** A hash with some more numbers in it; the constants are those of Knuth's multiplicative hashing and of MurmurHash3. */
export function mixed(hash: number, numbers: readonly number[]): number {
  for (const number of numbers) hash = Math.imul(hash ^ number, 0x9e3779b1) ^ (hash >>> 15);
  return Math.imul(hash ^ numbers.length, 0x85ebca6b);
}
