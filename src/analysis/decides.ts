/**
 * What becomes of one pattern: where it takes part in the answer, where it yields, and to whom. Exact, for one pattern at a time.
 *
 *     where its `when` holds   ┌ decides   it stands and gives the list, or the answer would be another without it
 *                              ├ yields    another pattern stands in its stead, or a stated `beats` silences it
 *                              ├ clashes   it stands where the answer is a conflict
 *                              └ the rest  the pick is not asked, waits or is silent there; what it says changes nothing
 *
 * Only points where the `when` holds are looked at, and only the rules that can meet it there, so most patterns cost next to nothing.
 */
import Fraction from "fraction.js";
import type { Pattern, Test } from "../model/model.js";
import { amongPossible, findPossible, outcomeKey, sharesOf, weighedAmong, type Answers, type Askable } from "./answers.js";
import { count, type Span } from "../model/span.js";
import { withinBudget, type Budget } from "./budget.js";
import { decide, whether, type Question } from "./diagrams/decide.js";
import { boxes, forest, type Box, type Node } from "./diagrams/diagram.js";
import { FAILS, HOLDS, oneBit } from "./diagrams/formula.js";
import { meet, subset } from "./neighbours.js";
import { constantsOf, pickFormulas, pickQuestion } from "./pick-question.js";
import { flags, mergedBoxes, overAxes } from "./diagrams/region.js";
import type { PickRules, Rule } from "./rules.js";
import { isSilent, silencedBook, verdict, type Situation, type Yield } from "./verdict.js";

/** What a pattern is to one pick that it speaks of. Shares are of all possible points. */
export interface Deciding {
  readonly pick: number;
  readonly decides: Fraction;
  readonly yields: Fraction;
  readonly clashes: Fraction;
  /** To whom it yields, by which rule, the largest share first; at one point it may yield to several. `lean`: a go with spoke, so its leans or moves were not asked. */
  readonly to: readonly YieldsTo[];
  /** Where it decides and where it yields: over axes and tested picks, largest first. Undefined: out of budget. */
  boxes(of: "decides" | "yields", spend: Budget): readonly Box[] | undefined;
}
interface YieldsTo {
  readonly pattern: number;
  readonly by: Yield["by"] | "lean";
  readonly share: Fraction;
}

/** One entry for each pick the pattern speaks of; undefined where a pick is not decided, or the budget runs out. */
export function decidesOf(answers: Answers, pattern: Pattern, spend: Budget): readonly Deciding[] | undefined {
  if (!answers.anythingPossible) return undefined;
  return withinBudget(() => {
    const found: Deciding[] = [];
    for (const askable of answers.askable) {
      const rule = askable?.rules.rules.find((one) => one.pattern.index === pattern.index);
      if (!askable || !rule) continue;
      found.push(decidesOn(answers, askable, rule, spend));
    }
    return found.length === spokenOf(pattern).size ? found : undefined;
  });
}

/** The share of all possible points where a test holds; undefined where the budget runs out. */
export function coverOf(answers: Answers, test: Test | undefined, spend: Budget): Fraction | undefined {
  if (!answers.anythingPossible) return undefined;
  return withinBudget(() => {
    const target = flags(spend);
    const node = overAxes(answers, decide(answers.store, whether(answers.compile(test)), target, spend), target);
    const { weights, total } = sharesOf(answers, node, String, spend);
    return new Fraction(weights.get(1) ?? 0n, total);
  });
}

function spokenOf({ goes, leans, nevers, moves }: Pattern): ReadonlySet<number> {
  return new Set([goes, leans, nevers, moves].flatMap((parts) => parts.map(({ pick }) => pick)));
}

type Fate = "" | "decides" | "yields" | "clashes";
interface Part {
  readonly fate: Fate;
  readonly to: readonly { readonly pattern: number; readonly by: YieldsTo["by"] }[];
}
const nothing: Part = { fate: "", to: [] };
const partKey = ({ fate, to }: Part): string => `${fate}|${to.map(({ pattern, by }) => `${pattern} ${by}`).join(",")}`;

function decidesOn(answers: Answers, { rules: all, hull }: Askable, rule: Rule, spend: Budget): Deciding {
  const { store } = answers;
  const near = all.rules.filter((one) => one === rule || meet(hull(one), hull(rule)));
  const few = subset(all, near);
  const at = few.rules.findIndex(({ pattern }) => pattern === rule.pattern);
  const target = forest<Part>(partKey, spend);
  const local = decide(store, fateQuestion(answers, few, at), target, spend);
  const among = amongPossible(answers, overAxes(answers, local, target), partKey, spend);
  const { weights, total } = weighedAmong(answers, among, spend);
  const shareOf = (wanted: (part: Part) => boolean): Fraction =>
    new Fraction(
      [...weights].reduce((sum, [part, weight]) => (wanted(part) ? sum + weight : sum), 0n),
      total,
    );
  const rivals = new Map([...weights.keys()].flatMap(({ to }) => to.map((one) => [`${one.pattern} ${one.by}`, one] as const)));
  const to = [...rivals.values()].map((one) => ({
    ...one,
    share: shareOf((part) => part.to.some(({ pattern, by }) => pattern === one.pattern && by === one.by)),
  }));
  return {
    pick: all.pick.index,
    decides: shareOf(({ fate }) => fate === "decides"),
    yields: shareOf(({ fate }) => fate === "yields"),
    clashes: shareOf(({ fate }) => fate === "clashes"),
    to: to.sort((a, b) => b.share.compare(a.share)),
    boxes: (of, allowed) => withinBudget(() => boxesWhere(answers, local, ({ fate }) => fate === of, allowed)),
  };
}

/** Where a diagram over axes and tested picks has a wanted leaf and a point is possible: disjoint boxes, the largest first. */
export function boxesWhere<L>(answers: Answers, node: Node<L>, wanted: (leaf: L) => boolean, spend: Budget): readonly Box[] {
  const {
    variables,
    model: { axes },
  } = answers;
  const found: Box[] = [];
  for (const { box } of boxes(node, variables, wanted)) if (findPossible(answers, box, spend) !== undefined) found.push(box);
  const part = ([variable, span]: readonly [number, Span]): number => {
    const [some, all] = [span, [0, variables.size(variable) - 1]].map((of) =>
      Number(variable < axes.length ? variables.weight(variable, of) : BigInt(count(of))),
    );
    return some! / all!;
  };
  const size = (box: Box): number => [...box].reduce((product, limit) => product * part(limit), 1);
  return mergedBoxes(found, variables)
    .map((box) => ({ box, size: size(box) }))
    .sort((x, y) => y.size - x.size)
    .map(({ box }) => box);
}

/** Asks first whether the `when` holds; where it does not, nothing else is asked. */
function fateQuestion(answers: Answers, rules: PickRules, at: number): Question<Part> {
  const { model } = answers;
  const places = pickFormulas(rules, answers.compile);
  const own = places.rule(at);
  const question = pickQuestion<Part>(model, rules, places, {
    watched: new Set([at]),
    leafOf: (situation) => fateAt(answers, rules, at, situation),
  });
  return {
    formulas: places.formulas,
    settle(state) {
      const mine = state.mask(own);
      if ((mine & HOLDS) === 0) return { leaf: nothing };
      return oneBit(mine) ? question.settle(state) : { keep: state.live, ask: [own], signature: constantsOf(state.live, state.mask) };
    },
  };
}

function fateAt({ model }: Answers, rules: PickRules, at: number, situation: Situation): Part {
  if (situation.whens.get(at) !== HOLDS) return nothing;
  const rule = rules.rules[at]!;
  const silenced = silencedBook(rules, situation, model.moreLocal);
  const yields: Yield[] = [];
  const result = verdict(rules, situation, silenced, (yielded) => yields.push(yielded));
  const index = (other: number): number => rules.rules[other]!.pattern.index;
  const beaten = yields.find((yielded) => yielded.rule === at);
  const inCircle = result.cause.kind === "circle" && result.cause.rules.includes(at);
  if (result.standing.includes(at) || inCircle) return { fate: result.status === "conflict" ? "clashes" : "decides", to: [] };
  // The answer would be another without it: it leans, moves, or strikes out.
  const without = { ...situation, whens: new Map(situation.whens).set(at, FAILS) };
  const does = rule.leans.length > 0 || rule.nevers.size > 0 || rule.move !== 0;
  if (
    does &&
    beaten?.by !== "beats" &&
    outcomeKey(verdict(rules, without, silencedBook(rules, without, model.moreLocal))) !== outcomeKey(result)
  ) {
    return { fate: result.status === "conflict" ? "clashes" : "decides", to: [] };
  }
  if (beaten?.by === "beats") {
    const by = rule.beatenBy.filter((other) => situation.whens.get(other) === HOLDS && !isSilent(rules.rules[other]!, silenced));
    return { fate: "yields", to: by.map((other) => ({ pattern: index(other), by: "beats" })) };
  }
  if (beaten) return { fate: "yields", to: result.standing.map((other) => ({ pattern: index(other), by: beaten.by })) };
  if (silenced.rest(rule.pattern.book)) return nothing;
  // Leans are weighed only where no go with stands.
  if (rule.leans.length > 0 && !rule.goes && result.standing.length > 0)
    return { fate: "yields", to: result.standing.map((other) => ({ pattern: index(other), by: "lean" })) };
  // A lean on something the answer has, though it does not tip it.
  const leads = result.cause.kind === "list" && result.cause.from === "lean";
  return leads && rule.leans.some(({ option, by }) => by.compare(0) > 0 && result.places.flat().includes(option))
    ? { fate: "decides", to: [] }
    : nothing;
}
