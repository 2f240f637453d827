/**
 * What a pattern decides today is made a promise, so that whoever changes the book later is told when it would no longer be so.
 *
 * Before (the selection in ‹ ›):
 * ```lore
 * condition clarity: in order clear, stained, muddy
 * pick blade: colorado, willow
 * pattern "Mud ‹›wants thump"
 *   go with blade colorado
 *   when clarity is muddy
 * fall back on blade willow
 * ```
 * After (Promise that blade stays colorado here):
 * ```lore
 * condition clarity: in order clear, stained, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy
 * fall back on blade willow
 *
 * promise "Mud wants thump: blade": blade must be colorado when clarity is muddy
 * ```
 *
 * It holds because it is read off the answers: a stretch of which they say that the pattern stands and the pick is decided.
 */
import { findPossible, type PickDiagrams } from "../../analysis/answers.js";
import { budget, withinBudget } from "../../analysis/budget.js";
import { boxes, type Box } from "../../analysis/diagrams/diagram.js";
import { sayWhere } from "../../analysis/where.js";
import { fixTitles } from "../../messages/fixes.js";
import type { View } from "../view.js";
import type { Rewrite } from "./candidate.js";
import { addAtEnd, addBelow, patternNamed, statementsAt } from "./edits.js";
import { optionWords, unusedTitle } from "./points.js";

export const promiseAnswer: Rewrite = {
  kind: "refactor.extract",
  *candidates(view, selection) {
    const { statements } = view.parsed.tree;
    const last = statements.findLast(({ kind }) => kind === "promise");
    for (const title of statementsAt(view, selection).flatMap((one) => (one.kind === "pattern" && one.title ? [one.title.value] : [])))
      for (const diagrams of view.analysis?.answers.picks ?? []) {
        const example = diagrams && exampleOf(view, diagrams, title);
        if (!example || !patternNamed(view, title)) continue;
        const { pick } = diagrams.rules;
        const options = example.front.map((option) => optionWords(pick, option));
        const promise = `promise "${unusedTitle(view, fixTitles.promiseTitle(pick.name, title))}": ${pick.name} must be ${options.join(" or ")}${example.where === "always" ? "" : ` when ${example.where}`}`;
        yield { title: fixTitles.promise(pick.name, options), edits: [last ? addBelow(view, last, promise) : addAtEnd(view, promise)] };
      }
  },
};

/** Enough to find one that is simply said. */
const FEW_BOXES = 60;
const FEW_STEPS = 20_000;

/** A stretch where the pattern stands and decides, in the fewest words there are. */
function exampleOf(
  { model, analysis }: View,
  diagrams: PickDiagrams,
  title: string,
): { readonly front: readonly number[]; readonly where: string } | undefined {
  const { answers } = analysis!;
  const rule = diagrams.rules.rules.find(({ pattern }) => pattern.title === title);
  if (!rule || rule.pattern.book !== model.books.length - 1) return undefined;
  let best: { readonly box: Box; readonly front: readonly number[]; readonly where: string } | undefined;
  let looked = 0;
  for (const { box, leaf } of boxes(
    diagrams.local,
    answers.variables,
    ({ status, standing }) => status === "decided" && standing.includes(rule.at),
  )) {
    if (looked++ >= FEW_BOXES) break;
    if (best && box.size >= best.box.size) continue;
    const { text: where, exact } = sayWhere(answers, [box]);
    if (exact && withinBudget(() => findPossible(answers, box, budget(FEW_STEPS))))
      best = { box, front: [...leaf.places[0]!].sort((a, b) => a - b), where };
  }
  return best;
}
