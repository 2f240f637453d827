/**
 * Outcomes that begin with the same choice, taken together: whoever stands at the counter takes the first.
 *
 *     football-jig, then worm (30 %)                football-jig (57 %)
 *     punch-rig (33 %)                      ──▶     punch-rig (33 %)
 *     football-jig (27 %) …                         …
 */
import type { Fraction } from "fraction.js";
import type { Possible } from "./answer.js";

export interface Front {
  /** Its outcomes, the likeliest first. */
  readonly outcomes: readonly Possible[];
  /** Of all points that are still possible. */
  readonly share: Fraction;
}

/** The likeliest first; of equals, the one that holds the likeliest outcome. */
export function frontsOf(possible: readonly Possible[]): readonly Front[] {
  const fronts = new Map<string, { outcomes: Possible[]; share: Fraction }>();
  for (const one of possible) {
    const [first] = one.outcome.places;
    const key = first === undefined ? one.outcome.status : String(first);
    const front = fronts.get(key);
    if (front === undefined) fronts.set(key, { outcomes: [one], share: one.share });
    else {
      front.outcomes.push(one);
      front.share = front.share.add(one.share);
    }
  }
  return [...fronts.values()].sort((a, b) => b.share.compare(a.share));
}
