/**
 * "Did you mean": the known word nearest to an unknown one, where one is near enough to be worth saying.
 *
 * Distance: optimal string alignment (Damerau 1964; a swap of neighbours counts once), computed row by row (Wagner and Fischer 1974).
 */

/** The nearest of `known`, the first of equals; undefined if none is close: one slip for every three letters, at least one. */
export function nearest(word: string, known: Iterable<string>): string | undefined {
  const wanted = word.toLowerCase();
  let best: string | undefined;
  let bestDistance = Math.max(1, Math.floor(Math.max(3, [...wanted].length) / 3)) + 1;
  for (const candidate of known) {
    const distance = distanceOf(wanted, candidate.toLowerCase());
    if (distance < bestDistance && distance < [...candidate].length) {
      best = candidate;
      bestDistance = distance;
    }
  }
  return best;
}

function distanceOf(a: string, b: string): number {
  const [from, to] = [[...a], [...b]];
  let beforeLast: number[] = [];
  let last = to.map((_, j) => j);
  last.push(to.length);
  for (let i = 1; i <= from.length; i++) {
    const row = [i];
    for (let j = 1; j <= to.length; j++) {
      const changed = from[i - 1] === to[j - 1] ? 0 : 1;
      let least = Math.min(row[j - 1]! + 1, last[j]! + 1, last[j - 1]! + changed);
      if (i > 1 && j > 1 && from[i - 1] === to[j - 2] && from[i - 2] === to[j - 1]) least = Math.min(least, beforeLast[j - 2]! + 1);
      row.push(least);
    }
    [beforeLast, last] = [last, row];
  }
  return last[to.length]!;
}
