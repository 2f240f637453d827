/**
 * "Did you mean": the known word nearest to an unknown one, where one is near enough to be worth saying.
 *
 * Distance: optimal string alignment (Damerau 1964; a swap of neighbours counts once), computed row by row (Wagner and Fischer 1974).
 */

/** Longer words are not slips of the pen. */
const longestWord = 200;

/** The nearest of `known`, the first of equals; undefined if none is close: one slip for every three letters, at least one. */
export function nearest(word: string, known: Iterable<string>): string | undefined {
  if (word.length > longestWord) return undefined;
  const wanted = [...word.toLowerCase()];
  let best: string | undefined;
  let bestDistance = Math.max(1, Math.floor(wanted.length / 3)) + 1;
  for (const candidate of known) {
    if (candidate.length > 2 * longestWord) continue;
    const letters = [...candidate.toLowerCase()];
    const distance = distanceBelow(bestDistance, wanted, letters);
    if (distance < bestDistance && distance < letters.length) {
      best = candidate;
      bestDistance = distance;
    }
  }
  return best;
}

/** The distance if it is below `limit`; else `limit`. What two words begin and end with alike takes no part in it. */
function distanceBelow(limit: number, a: readonly string[], b: readonly string[]): number {
  if (Math.abs(a.length - b.length) >= limit) return limit;
  const shorter = Math.min(a.length, b.length);
  let [start, end] = [0, 0];
  while (start < shorter && a[start] === b[start]) start++;
  while (end < shorter - start && a[a.length - 1 - end] === b[b.length - 1 - end]) end++;
  const [from, to] = [a.slice(start, a.length - end), b.slice(start, b.length - end)];
  let beforeLast: number[] = [];
  let last = Array.from({ length: to.length + 1 }, (_, j) => j);
  let leastOfLast = 0;
  for (let i = 1; i <= from.length; i++) {
    const row = [i];
    let leastOfRow = i;
    for (let j = 1; j <= to.length; j++) {
      const changed = from[i - 1] === to[j - 1] ? 0 : 1;
      let least = Math.min(row[j - 1]! + 1, last[j]! + 1, last[j - 1]! + changed);
      if (i > 1 && j > 1 && from[i - 1] === to[j - 2] && from[i - 2] === to[j - 1]) least = Math.min(least, beforeLast[j - 2]! + 1);
      row.push(least);
      leastOfRow = Math.min(leastOfRow, least);
    }
    // A swap reaches back two rows.
    if (leastOfRow >= limit && leastOfLast >= limit) return limit;
    [beforeLast, last, leastOfLast] = [last, row, leastOfRow];
  }
  return Math.min(limit, last[to.length]!);
}
