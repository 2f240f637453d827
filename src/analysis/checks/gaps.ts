/**
 * Gaps: possible conditions for which nothing is recommended.
 *
 * Accepted:
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump" go with blade colorado when clarity is muddy
 * fall back on blade willow
 * ```
 * Rejected (`gap`):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump" go with blade colorado when clarity is muddy
 * ```
 *
 * One finding per pick, with the whole region. Where a broken pattern might have spoken, nothing is reported.
 */
import type { Finding, Fix } from "../../diagnostics.js";
import { say } from "../../messages/analysis.js";
import { firstUnused } from "../../messages/words.js";
import type { Pick, Test } from "../../model/model.js";
import { decide } from "../decide.js";
import type { PickDiagrams } from "../answers.js";
import type { Node } from "../diagram.js";
import { HOLDS, oneBit } from "../formula.js";
import { conjoined, flagged, type Flags } from "../region.js";
import { sayWhere, written } from "../where.js";
import type { Budget } from "../budget.js";
import { atEndOfBook, decidedPicks, find, finding, whereabouts, type Context, type Found } from "./context.js";

export function gaps(context: Context): Finding[] {
  return decidedPicks(context).flatMap((diagrams) => {
    const { pick } = diagrams.rules;
    const found = find(context, say.undecided.question(say.questions.region(pick.name, "gap")), (target, spend) => gapDiagram(context, diagrams, target, spend));
    if (!found) return [];
    return [finding("gap", pick.namePlace, say.gap(pick.name, { where: found.where.text, example: found.example, share: found.share }), {
      pick: pick.name, ...whereabouts(found), fixes: fixesFor(context, diagrams, found),
    })];
  });
}

/** 1 where the pick has a gap and no broken pattern might have filled it. */
export function gapDiagram(context: Context, diagrams: PickDiagrams, target: Flags, spend: Budget): Node<number> {
  const gap = flagged(diagrams.local, target, (leaf) => leaf.status === "gap");
  return conjoined([gap, ...notHeld(context, diagrams.rules.pick, target, spend)], target, context.answers.variables);
}

/** 1 where no broken pattern of the pick might have spoken: one diagram per broken pattern. */
export function notHeld(context: Context, pick: Pick, target: Flags, spend: Budget): Node<number>[] {
  return context.model.held.filter((held) => held.picks.includes(pick.index)).map((held) => testDiagram(context, held.when && { kind: "not", part: held.when, range: pick.place.range }, held.when !== undefined, target, spend));
}

/** 1 where a test holds. `otherwise`: what a missing test counts as. */
export function testDiagram(context: Context, test: Test | undefined, otherwise: boolean, target: Flags, spend: Budget): Node<number> {
  if (!test) return target.leaf(otherwise ? 1 : 0);
  return decide<number>(context.answers.store, {
    formulas: [context.answers.compile(test)],
    settle: (mask) => (oneBit(mask(0)) ? { leaf: mask(0) === HOLDS ? 1 : 0 } : { keep: [0], ask: [0], signature: "" }),
  }, target, spend);
}

/** Boxes beyond which a `when` would be unreadable. */
const MOST_STUB_BOXES = 40;

function fixesFor(context: Context, { rules }: PickDiagrams, found: Found): Fix[] {
  const { pick } = rules;
  const { model } = context;
  const places = safePlaces(pick, rules.rules.flatMap((rule) => [...rule.nevers]));
  const fixes: Fix[] = [];
  const where = sayWhere(context.answers, found.boxes, MOST_STUB_BOXES);
  if (where.exact) {
    const title = firstUnused(`Fills the gap in ${pick.name}`, new Set(model.patterns.map((pattern) => pattern.title)));
    const when = where.text === "always" ? "" : `\n  when ${where.text}`;
    fixes.push({ title: say.fixStub(pick.name), edits: [atEndOfBook(model, `pattern "${title}"\n  go with ${pick.name} ${places}${when}`)] });
  }
  if (!pick.fallBack && !pick.sameAs) fixes.push({ title: say.fixFallBack(pick.name, places), edits: [atEndOfBook(model, `fall back on ${pick.name} ${places}`)] });
  return fixes;
}

/** An option no pattern ever rules out; else all of them in turn, so that one is always left. */
function safePlaces(pick: Pick, ruledOut: readonly number[]): string {
  const safe = pick.options.findIndex((_, option) => !ruledOut.includes(option));
  return safe >= 0 ? written(pick, safe) : pick.options.map((_, option) => written(pick, option)).join(", then ");
}
