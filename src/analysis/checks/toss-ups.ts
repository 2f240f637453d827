/**
 * Toss-ups: several options share the front, and no one pattern wrote them as equals.
 *
 * Accepted:
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, indiana, willow
 * pattern "Either is fine in mud" go with blade colorado or indiana when clarity is muddy
 * fall back on blade willow
 * ```
 * Rejected (`toss-up`):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Thump" lean to blade colorado when clarity is muddy
 * pattern "Flash" lean to blade willow when clarity is muddy
 * fall back on blade willow
 * ```
 *
 * One finding per pick and set of options.
 */
import { analysisWords } from "../../messages/analysis.js";
import { answersAt } from "../point.js";
import { leaves } from "../diagrams/diagram.js";
import { HOLDS } from "../diagrams/formula.js";
import { conjoined, flagged } from "../diagrams/region.js";
import type { Verdict } from "../verdict.js";
import { decidedPicks, find, finding, whereabouts, type Check, type Context } from "./context.js";
import { notHeld } from "./gaps.js";

export function* tossUps(context: Context): ReturnType<Check> {
  for (const diagrams of decidedPicks(context)) {
    yield;
    const { pick } = diagrams.rules;
    const frontKey = (leaf: Verdict): string => [...leaf.places[0]!].sort((a, b) => a - b).join(",");
    const fronts = new Set(
      leaves(diagrams.local)
        .filter((leaf) => leaf.status === "toss-up")
        .map(frontKey),
    );
    for (const key of [...fronts].sort()) {
      const asked = {
        picks: [pick.index],
        key: `toss-up ${key} ${context.answers.prints.held(pick.index)}`,
        question: analysisWords.questions.region(pick.name, "toss-up"),
        place: pick.namePlace,
      };
      const found = find(context, asked, (target, spend) =>
        conjoined(
          [
            flagged(diagrams.local, target, (leaf) => leaf.status === "toss-up" && frontKey(leaf) === key),
            ...notHeld(context, pick, target, spend),
          ],
          target,
          context.answers.variables,
        ),
      );
      if (!found) continue;
      const front = key.split(",").map(Number);
      // Who brings them level: at the example, the standing go withs, else the leans towards one of them.
      const answer = answersAt(context.model, found.point)[pick.index]!;
      const speakers =
        answer.verdict.standing.length > 0
          ? answer.verdict.standing.map((at) => answer.rules.rules[at]!)
          : answer.rules.rules.filter(
              (rule) => answer.situation.whens.get(rule.at) === HOLDS && rule.leans.some((lean) => front.includes(lean.option)),
            );
      const titles = speakers.map((rule) => rule.pattern.title);
      const options = front.map((option) => pick.options[option]!.text);
      const place = speakers.at(-1)?.pattern.namePlace ?? pick.namePlace;
      yield finding(
        "toss-up",
        place,
        analysisWords.tossUp(pick.name, options, titles, { where: found.where.text, example: found.example, share: found.share }),
        {
          pick: pick.name,
          patterns: titles,
          ...whereabouts(found),
          related: speakers
            .slice(0, -1)
            .map((rule) => ({ ...rule.pattern.namePlace, message: analysisWords.relatedPattern(rule.pattern.title) })),
        },
      );
    }
  }
}
