/**
 * Answers that wait: one pick says "either of these", and another asks which of the two it is.
 *
 * Accepted:
 * ```lore
 * condition clarity: in order clear, muddy
 * pick family: spinnerbait, swim-jig, frog
 * pick blade: colorado, willow
 *   only when family is spinnerbait or swim-jig
 * pattern "Either will do in mud" go with family spinnerbait or swim-jig when clarity is muddy
 * pattern "Frog in clear water" go with family frog when clarity is clear
 * pattern "Mud wants thump" go with blade colorado, then willow when clarity is muddy
 * ```
 * Rejected (`waiting`):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick family: spinnerbait, frog
 * pick blade: colorado, willow
 *   only when family is spinnerbait
 * pattern "Either will do in mud" go with family spinnerbait or frog when clarity is muddy
 * pattern "Clear" go with family spinnerbait when clarity is clear
 * pattern "Mud wants thump" go with blade colorado when clarity is muddy
 * fall back on blade willow
 * ```
 *
 * A pick that waits for one with a gap, a conflict or a toss-up is not reported: that one is. So what is asked is where it would have no
 * advice if "either of these" were no advice: where all that holds it up is on purpose.
 */
import { analysisWords } from "../../messages/analysis.js";
import type { Span } from "../../model/span.js";
import { spanOf } from "../../model/span.js";
import type { Answers, PickDiagrams } from "../answers.js";
import type { Budget } from "../budget.js";
import { decide } from "../diagrams/decide.js";
import { compose } from "../diagrams/compose.js";
import { forest, mapLeaves, type Input, type Node } from "../diagrams/diagram.js";
import { FAILS, formulas, HOLDS, NO_ADVICE, WAITS, type Quarters } from "../diagrams/formula.js";
import { conjoined, flagged, overAxes, type Flags } from "../diagrams/region.js";
import type { Outcome } from "../outcome.js";
import { pickFormulas, pickQuestion } from "../pick-question.js";
import { answersAt, frontOf, valueOfFront } from "../point.js";
import { silencedBook, verdict } from "../verdict.js";
import { decidedPicks, find, finding, whereabouts, type Check, type Context } from "./context.js";
import { optionTexts } from "../../model/texts.js";

export function* waiting(context: Context): ReturnType<Check> {
  const { model, answers } = context;
  for (const diagrams of decidedPicks(context)) {
    yield;
    const { pick } = diagrams.rules;
    const tested = pick.tests.map((index) => answers.picks[index]!);
    if (!tested.some(({ fronts }) => fronts.some((front) => typeof front !== "string" && front.length > 1))) continue;
    const asked = {
      picks: [pick.index],
      key: "waiting",
      question: analysisWords.questions.region(pick.name, "waiting answer"),
      place: pick.namePlace,
    };
    const found = find(context, asked, (target, spend) => {
      const waits = overAxes(
        answers,
        flagged(diagrams.local, target, (leaf) => leaf.status === "waiting"),
        target,
      );
      return "leaf" in waits && waits.leaf === 0
        ? waits
        : conjoined([waits, onPurpose(answers, diagrams, target, spend)], target, answers.variables);
    });
    if (!found) continue;
    const at = answersAt(model, found.point);
    const cause = tested.map(({ rules }) => rules.pick).filter(({ index }) => isEither(at[index]!.outcome));
    const open = cause.map((other) => ({ pick: other.name, options: optionTexts(other, at[other.index]!.outcome.places)[0]! }));
    yield finding(
      "waiting",
      pick.namePlace,
      analysisWords.waiting(pick.name, open, { where: found.where.text, example: found.example, share: found.share }),
      {
        pick: pick.name,
        ...whereabouts(found),
        related: cause.map((other) => ({ ...other.namePlace, message: analysisWords.relatedPick(other.name) })),
      },
    );
  }
}

/** Several options in front, as somebody wrote them. */
function isEither({ status, places }: Outcome): boolean {
  return (status === "decided" || status === "fallback") && places[0]!.length > 1;
}

/** 1, over axes, where nothing holds the pick up but what is on purpose. */
function onPurpose(
  { model, picks, variables, pickVariable }: Answers,
  { rules }: PickDiagrams,
  target: Flags,
  spend: Budget,
): Node<number> {
  const store = formulas(variables.size);
  // What a tested pick answers, as far as a test on it can tell, and whether it is "either of these".
  const read = new Map(
    rules.pick.tests.map((tested) => {
      const known: Outcome[] = [];
      const places = new Map<string, number>();
      const positions = forest<number>(String, spend);
      const node = mapLeaves(picks[tested]!.whole, positions, (outcome) => {
        const key = `${String(frontOf(outcome))}|${isEither(outcome)}`;
        if (!places.has(key)) places.set(key, known.push(outcome) - 1);
        return places.get(key)!;
      });
      return [tested, { known, input: { node, forest: positions } satisfies Input }] as const;
    }),
  );
  const readPick = (tested: number, span: Span): { readonly variable: number; readonly quarters: Quarters } => {
    const values = read.get(tested)!.known.map((outcome) => {
      const value = valueOfFront(frontOf(outcome), span);
      return value === WAITS && isEither(outcome) ? NO_ADVICE : value;
    });
    const where = (mask: number): Span => spanOf(values.flatMap((value, at) => (value === mask ? [at] : [])));
    return { variable: pickVariable(tested), quarters: [where(HOLDS), where(FAILS), where(WAITS), where(NO_ADVICE)] };
  };
  const question = pickQuestion(
    model,
    rules,
    pickFormulas(rules, (test) => store.compile(test, readPick)),
    {
      leafOf: (situation) => (verdict(rules, situation, silencedBook(rules, situation, model.moreLocal)).status === "no advice" ? 1 : 0),
    },
  );
  return compose(
    decide(store, question, target, spend),
    target,
    new Map([...read].map(([tested, { input }]) => [pickVariable(tested), input])),
    variables,
  );
}
