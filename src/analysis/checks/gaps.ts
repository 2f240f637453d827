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
import type { Fix } from "../../diagnostics.js";
import { analysisWords } from "../../messages/analysis.js";
import { firstUnused } from "../../messages/words.js";
import type { Pick, Test } from "../../model/model.js";
import { decide, whether, type Question } from "../diagrams/decide.js";
import type { Askable } from "../answers.js";
import type { Node } from "../diagrams/diagram.js";
import { HOLDS } from "../diagrams/formula.js";
import { pickFormulas, pickQuestion } from "../pick-question.js";
import { conjoined, flagged, type Flags } from "../diagrams/region.js";
import type { PickRules } from "../rules.js";
import { silencedBook, verdict } from "../verdict.js";
import { sayWhere, optionAsWritten } from "../where.js";
import type { Budget } from "../budget.js";
import { askablePicks, atEndOfBook, find, finding, whereabouts, type Check, type Context, type FoundRegion } from "./context.js";

export function* gaps(context: Context): ReturnType<Check> {
  for (const diagrams of askablePicks(context)) {
    yield;
    const { pick } = diagrams.rules;
    const asked = {
      picks: [pick.index],
      key: `gap ${context.answers.prints.held(pick.index)}`,
      question: analysisWords.questions.region(pick.name, "gap"),
      place: pick.namePlace,
    };
    const found = find(context, asked, (target, spend) => gapDiagram(context, diagrams, target, spend));
    if (!found) continue;
    yield finding(
      "gap",
      pick.namePlace,
      analysisWords.gap(pick.name, { where: found.where.text, example: found.example, share: found.share }),
      {
        pick: pick.name,
        ...whereabouts(found),
        fixes: fixesFor(context, diagrams, found),
      },
    );
  }
}

/** 1 where the pick has a gap and no broken pattern might have filled it. */
export function gapDiagram(context: Context, diagrams: Askable, target: Flags, spend: Budget): Node<number> {
  const local = context.answers.picks[diagrams.rules.pick.index]?.local;
  // Whether there is a gap is a far smaller question than what the answer is: any one go with settles it.
  const gap = local
    ? flagged(local, target, (leaf) => leaf.status === "gap")
    : decide(context.answers.store, gapQuestion(context, diagrams.rules), target, spend);
  return conjoined([gap, ...notHeld(context, diagrams.rules.pick, target, spend)], target, context.answers.variables);
}

function gapQuestion({ model, answers }: Context, rules: PickRules): Question<number> {
  const at = pickFormulas(rules, answers.compile);
  const base = pickQuestion<number>(model, rules, at, {
    leafOf: (situation) => (verdict(rules, situation, silencedBook(rules, situation, model.moreLocal)).status === "gap" ? 1 : 0),
  });
  const unruly = rules.pick.sayNothing.length > 0 || rules.circles.length > 0;
  // A fall back that nothing silences or strikes leaves no gap anywhere.
  if (rules.pick.fallBack && !unruly && rules.rules.every((rule) => rule.nevers.size === 0))
    return { formulas: [], settle: () => ({ leaf: 0 }) };
  const neverSilenced = rules.rules.filter((rule) => rule.goes && rule.beatenBy.length === 0);
  return {
    formulas: at.formulas,
    settle: (state) => (!unruly && neverSilenced.some((rule) => state.mask(at.rule(rule.at)) === HOLDS) ? { leaf: 0 } : base.settle(state)),
  };
}

/** 1 where no broken pattern of the pick might have spoken: one diagram per broken pattern. */
export function notHeld(context: Context, pick: Pick, target: Flags, spend: Budget): Node<number>[] {
  return context.model.held
    .filter((held) => held.picks.includes(pick.index))
    .map((held) =>
      testDiagram(context, held.when && { kind: "not", part: held.when, range: pick.place.range }, held.when !== undefined, target, spend),
    );
}

/** 1 where a test holds. `otherwise`: what a missing test counts as. */
function testDiagram(context: Context, test: Test | undefined, otherwise: boolean, target: Flags, spend: Budget): Node<number> {
  if (!test) return target.leaf(otherwise ? 1 : 0);
  return decide(context.answers.store, whether(context.answers.compile(test)), target, spend);
}

/** Boxes beyond which a `when` would be unreadable. */
const MOST_STUB_BOXES = 40;

function fixesFor(context: Context, { rules }: Askable, found: FoundRegion): Fix[] {
  const { pick } = rules;
  const { model } = context;
  const places = safePlaces(rules);
  if (places === undefined) return [];
  const fixes: Fix[] = [];
  const where = sayWhere(context.answers, found.boxes, MOST_STUB_BOXES, found.whole);
  if (where.exact) {
    const title = firstUnused(`Fills the gap in ${pick.name}`, new Set(model.patterns.map((pattern) => pattern.title)));
    const when = where.text === "always" ? "" : `\n  when ${where.text}`;
    fixes.push({
      title: analysisWords.fixStub(pick.name),
      edits: [atEndOfBook(model, `pattern "${title}"\n  go with ${pick.name} ${places}${when}`)],
    });
  }
  if (!pick.fallBack && !pick.sameAs)
    fixes.push({ title: analysisWords.fixFallBack(pick.name, places), edits: [atEndOfBook(model, `fall back on ${pick.name} ${places}`)] });
  return fixes;
}

/** An option no pattern ever rules out; else all of them in turn, so that one is always left. Undefined where moves could bring any list onto what is ruled out. */
function safePlaces({ pick, rules }: PickRules): string | undefined {
  const ruledOut = new Set(rules.flatMap((rule) => [...rule.nevers]));
  if (ruledOut.size > 0 && rules.some((rule) => rule.move !== 0)) return undefined;
  const safe = pick.options.findIndex((_, option) => !ruledOut.has(option));
  return safe >= 0 ? optionAsWritten(pick, safe) : pick.options.map((_, option) => optionAsWritten(pick, option)).join(", then ");
}
