/**
 * Two patterns disagree, and one goes by a condition that the trust list does not name: naming it, last, lets that one win and settles
 * nothing that was settled before. (Putting the list in another order never settles it: both go by the same of its names, in whatever
 * order those stand.)
 *
 * Before (`conflict`):
 * ```lore
 * condition clarity: in order clear, muddy
 * condition sky: bright, dark
 * pick blade: colorado, willow
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy
 * pattern "Sun wants flash"
 *   go with blade willow
 *   when sky is bright
 * fall back on blade colorado
 * ```
 * After (Trust clarity for blade, so that “Mud wants thump” wins):
 * ```lore
 * condition clarity: in order clear, muddy
 * condition sky: bright, dark
 * pick blade: colorado, willow
 * trust for blade: clarity first
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy
 * pattern "Sun wants flash"
 *   go with blade willow
 *   when sky is bright
 * fall back on blade colorado
 * ```
 */
import { withinBudget } from "../../analysis/budget.js";
import { prepared } from "../../analysis/point.js";
import type { Edit } from "../../diagnostics.js";
import { fixTitles } from "../../messages/fixes.js";
import type { Model, Pick, Subject } from "../../model/model.js";
import type { Trust } from "../../syntax/tree.js";
import type { View } from "../view.js";
import type { Mend } from "./candidate.js";
import { addAtEnd, addBelow, insert } from "./edits.js";

export const trust: Mend = {
  codes: ["conflict", "toss-up"],
  *candidates(view, { pick: name, patterns = [] }) {
    const { model } = view;
    const pick = model.picks.find((one) => one.name === name);
    const rivals = patterns.flatMap((title) => model.patterns.find((pattern) => pattern.title === title) ?? []);
    if (!pick || rivals.length !== 2 || rivals.some(({ goes }) => !goes.some((part) => part.pick === pick.index))) return;
    for (const subject of unlisted(model, pick)) {
      const by = rivals.filter(({ when }) => withinBudget(() => prepared(model).whens.dependsOn(when, subject)) === true);
      if (by.length === 1)
        yield {
          title: fixTitles.trust(nameOf(model, subject), pick.name, by[0]!.title, pick.trust.length === 0),
          edits: [listed(view, pick, nameOf(model, subject))],
        };
    }
  },
};

function unlisted({ conditions, picks }: Model, pick: Pick): readonly Subject[] {
  const subjects: readonly Subject[] = [
    ...conditions.map(({ index }) => ({ kind: "condition", index }) as const),
    ...picks.filter(({ judgement, index }) => judgement && index < pick.index).map(({ index }) => ({ kind: "pick", index }) as const),
  ];
  return subjects.filter(({ kind, index }) => !pick.trust.some((one) => one.kind === kind && one.index === index));
}

function nameOf({ conditions, picks }: Model, { kind, index }: Subject): string {
  return (kind === "condition" ? conditions : picks)[index]!.name;
}

/** The list that counts for the pick, with one more name: the book's own for it grows, else it gets one. */
function listed(view: View, pick: Pick, name: string): Edit {
  const { statements } = view.parsed.tree;
  const lists = statements.filter((statement): statement is Trust => statement.kind === "trust");
  const own = lists.find((one) => one.pick?.text === pick.name);
  if (own) return insert(view, own.range.end, `, then ${name}`);
  const names = [...pick.trust.map((subject) => nameOf(view.model, subject)).filter((one) => one !== pick.name), name];
  const statement = `trust for ${pick.name}: ${names.map((one, i) => (i === 0 ? `${one} first` : `then ${one}`)).join(", ")}`;
  const before =
    lists.findLast((one) => one.pick === undefined) ??
    lists.at(-1) ??
    statements.find((one) => (one.kind === "pick" || one.kind === "judgement") && one.name?.text === pick.name);
  return before ? addBelow(view, before, statement) : addAtEnd(view, statement);
}
