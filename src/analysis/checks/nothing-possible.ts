/**
 * A book whose `impossible`s rule everything out: there is no point of which anything could be said, and no other check has anything to
 * look at.
 *
 * Accepted:
 * ```lore
 * condition clarity: in order clear, stained, muddy
 * pick blade: colorado, willow
 * impossible when clarity is muddy
 * pattern "Clear water" go with blade willow when clarity is clear
 * fall back on blade colorado
 * ```
 * Rejected (`nothing-possible`):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * impossible when clarity is muddy
 * impossible when clarity is clear
 * fall back on blade colorado
 * ```
 *
 * Reported at the last of the statements that it takes, none of them to spare.
 */
import { analysisWords } from "../../messages/analysis.js";
import type { Impossible } from "../../model/model.js";
import { withinBudget } from "../budget.js";
import { findBox, whether } from "../diagrams/decide.js";
import { smallest } from "../verdict.js";
import { finding, fresh, type Check, type Context } from "./context.js";

export function* nothingPossible(context: Context): ReturnType<Check> {
  const { answers, model } = context;
  const { store, compile } = answers;
  const spend = fresh(context);
  const rulesAllOut = (some: readonly Impossible[]): boolean =>
    findBox(
      store,
      whether(store.and([...model.domain.map(compile), ...some.map(({ when }) => store.not(compile(when)))])),
      (holds) => holds === 1,
      spend,
    ) === undefined;
  const all = model.impossible;
  const needed = withinBudget(() => smallest(all, rulesAllOut)) ?? all;
  const [last, ...others] = [...needed].reverse();
  yield finding("nothing-possible", last!.place, analysisWords.nothingPossible(needed.length), {
    related: others.map(({ place }) => ({ ...place, message: analysisWords.relatedImpossible })),
  });
}
