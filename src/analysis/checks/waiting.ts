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
 * A pick that waits for one with a gap, a conflict or a toss-up is not reported: that one is.
 */
import { say } from "../../messages/analysis.js";
import { conjoined, flagged, overAxes } from "../diagrams/region.js";
import { decidedPicks, find, finding, whereabouts, type Check, type Context } from "./context.js";
import { answersAt, frontOf } from "../point.js";
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
      question: say.questions.region(pick.name, "waiting answer"),
      place: pick.namePlace,
    };
    const found = find(context, asked, (target) => {
      const waits = overAxes(
        answers,
        flagged(diagrams.local, target, (leaf) => leaf.status === "waiting"),
        target,
      );
      // Every pick it asks has an answer of its own that nobody needs to mend.
      const sound = tested.map(({ whole }) =>
        flagged(whole, target, ({ status }) => status === "decided" || status === "fallback" || status === "not applicable"),
      );
      return conjoined([waits, ...sound], target, answers.variables);
    });
    if (!found) continue;
    const at = answersAt(model, found.point);
    const cause = tested
      .map(({ rules }) => rules.pick)
      .filter(({ index }) => {
        const front = frontOf(at[index]!.outcome);
        return typeof front !== "string" && front.length > 1;
      });
    const open = cause.map((other) => ({ pick: other.name, options: optionTexts(other, at[other.index]!.outcome.places)[0]! }));
    yield finding(
      "waiting",
      pick.namePlace,
      say.waiting(pick.name, open, { where: found.where.text, example: found.example, share: found.share }),
      {
        pick: pick.name,
        ...whereabouts(found),
        related: cause.map((other) => ({ ...other.namePlace, message: say.relatedPick(other.name) })),
      },
    );
  }
}
