/**
 * What the analysis can tell of one pattern, pick or option, worked out when first asked for and kept with the analysis.
 *
 *     hover, lens, hint ──▶ known? ──no──▶ a few steps of work, or undefined where they do not do
 *     idle time         ──▶ the same question, with more steps
 *
 * So a question of the editor is answered at once, and says more a moment later.
 */
import { Fraction } from "fraction.js";
import type { Analysis } from "../analysis/analyse.js";
import { outcomeKey, sharesOf } from "../analysis/answers.js";
import { budget, withinBudget } from "../analysis/budget.js";
import { boxesWhere, coverOf, decidesOf, type Deciding } from "../analysis/decides.js";
import type { Box } from "../analysis/diagrams/diagram.js";
import type { Test } from "../model/model.js";

/** Steps for a question that somebody waits for: some milliseconds. */
const QUICK = 1_000;

interface Known {
  /** By what was asked, with the steps allowed where they did not do. */
  readonly answers: Map<string, { readonly value: unknown; readonly steps: number }>;
}
const kept = new WeakMap<Analysis, Known>();

function known<T>(analysis: Analysis, key: string, steps: number, work: (steps: number) => T | undefined): T | undefined {
  let mine = kept.get(analysis);
  if (!mine) kept.set(analysis, (mine = { answers: new Map() }));
  const before = mine.answers.get(key);
  if (before && (before.value !== undefined || before.steps >= steps)) return before.value as T | undefined;
  const value = work(steps);
  mine.answers.set(key, { value, steps });
  return value;
}

/** What becomes of a pattern on each pick it speaks of; undefined: not known yet. */
export function decidingOf(analysis: Analysis, pattern: number, steps = QUICK): readonly Deciding[] | undefined {
  return known(analysis, `decides ${pattern}`, steps, (left) =>
    decidesOf(analysis.answers, analysis.answers.model.patterns[pattern]!, budget(left)),
  );
}

/** Where a pattern decides or yields on a pick: boxes, the largest first. */
export function whereItDecides(
  analysis: Analysis,
  pattern: number,
  { pick, boxes }: Deciding,
  of: "decides" | "yields",
): readonly Box[] | undefined {
  return known(analysis, `${of} ${pattern} ${pick}`, QUICK, (left) => boxes(of, budget(left)));
}

/** The share of all possible points where a test holds. `key` names the test. */
export function shareOfTest(analysis: Analysis, key: string, test: Test | undefined, steps = QUICK): Fraction | undefined {
  return known(analysis, `covers ${key}`, steps, (left) => coverOf(analysis.answers, test, budget(left)));
}

/** How often each option of a pick is in front, and how often it stands further back. */
export interface OptionShares {
  readonly front: readonly Fraction[];
  readonly later: readonly Fraction[];
}

export function optionShares(analysis: Analysis, pick: number, steps = QUICK): OptionShares | undefined {
  const { answers } = analysis;
  return known(analysis, `options ${pick}`, steps, (left) => {
    const diagrams = answers.picks[pick];
    if (!diagrams || !answers.anythingPossible) return undefined;
    return withinBudget(() => {
      const { weights, total } = sharesOf(answers, diagrams.whole, outcomeKey, budget(left));
      const share = (is: (place: number) => boolean) =>
        answers.model.picks[pick]!.options.map(
          (_, option) =>
            new Fraction(
              [...weights].reduce(
                (sum, [{ places }, weight]) => (is(places.findIndex((place) => place.includes(option))) ? sum + weight : sum),
                0n,
              ),
              total,
            ),
        );
      return { front: share((place) => place === 0), later: share((place) => place > 0) };
    });
  });
}

/** Where an option is in front: boxes, the largest first. */
export function whereInFront(analysis: Analysis, pick: number, option: number): readonly Box[] | undefined {
  const { answers } = analysis;
  return known(analysis, `front ${pick} ${option}`, QUICK, (left) => {
    const diagrams = answers.picks[pick];
    return (
      diagrams &&
      withinBudget(() => boxesWhere(answers, diagrams.local, ({ places }) => places[0]?.includes(option) ?? false, budget(left)))
    );
  });
}
