/**
 * Two patterns disagree: one of them keeps out of where the other speaks. Of the other's `when` only what the first does not already
 * ask for needs saying. Where that is no way out, and where a pattern breaks a promise, the place of the trouble itself is left out.
 *
 * Before (`conflict`):
 * ```lore
 * condition clarity: in order clear, muddy
 * condition cover: any of grass, docks
 * pick blade: colorado, willow
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy and cover has no docks
 * pattern "A long blade sheds weed"
 *   go with blade willow
 *   when cover has grass and cover has no docks
 * fall back on blade colorado
 * ```
 * After (Keep “Mud wants thump” out of where “A long blade sheds weed” speaks):
 * ```lore
 * condition clarity: in order clear, muddy
 * condition cover: any of grass, docks
 * pick blade: colorado, willow
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy and cover has no docks and cover has no grass
 * pattern "A long blade sheds weed"
 *   go with blade willow
 *   when cover has grass and cover has no docks
 * fall back on blade colorado
 * ```
 */
import { prepared } from "../../analysis/point.js";
import { withinBudget } from "../../analysis/budget.js";
import type { Edit } from "../../diagnostics.js";
import { fixTitles } from "../../messages/fixes.js";
import type { Model, Test } from "../../model/model.js";
import type * as tree from "../../syntax/tree.js";
import type { View } from "../view.js";
import type { Mend } from "./candidate.js";
import { insert, patternNamed } from "./edits.js";
import { oppositeOfAll, partsOf } from "./negate.js";

export const narrow: Mend = {
  codes: ["conflict", "toss-up", "set-clash", "promise"],
  *candidates(view, { code, patterns = [], where }) {
    for (const title of patterns) {
      const pattern = patternNamed(view, title);
      if (!pattern) continue;
      const others = patterns.filter((other) => other !== title);
      const apart = others.length === 1 ? keptApart(view, title, others[0]!) : undefined;
      if (apart !== undefined) yield { title: fixTitles.narrow(title, others[0]!), edits: narrowed(view, pattern, apart) };
      else if (where !== undefined && where !== "always" && (code === "conflict" || code === "promise"))
        yield { title: fixTitles.narrowBy(title, where), edits: narrowed(view, pattern, `not (${where})`) };
    }
  },
};

/** The pattern with one more demand. */
function narrowed(view: View, { when, actions }: tree.Pattern, demand: string): readonly Edit[] {
  return demanding(view, when, actions.at(-1)!.range.end, demand, "\n  ");
}

/** A `when` with one more demand; where there is none yet, it begins at a place, behind a blank of some kind. */
export function demanding(view: View, when: tree.Test | undefined, at: number, demand: string, blank: string): readonly Edit[] {
  if (!when) return [insert(view, at, `${blank}when ${demand}`)];
  if (when.kind !== "or") return [insert(view, when.range.end, ` and ${demand}`)];
  return [insert(view, when.range.start, "("), insert(view, when.range.end, `) and ${demand}`)];
}

/** What the pattern has to ask for so as never to speak where the other does; undefined where it speaks nowhere else. */
function keptApart(view: View, title: string, other: string): string | undefined {
  const [mine, others] = [title, other].map((name) => view.model.patterns.find((pattern) => pattern.title === name));
  const rival = patternNamed(view, other)?.when;
  if (!rival || !mine || !others?.when) return undefined;
  const theirs = others.when;
  const left = partsOf(rival).filter((part) => !implied(view.model, mine.when, testAt(theirs, part)));
  return left.length === 0 ? undefined : oppositeOfAll(view, left);
}

function implied(model: Model, when: Test | undefined, part: Test | undefined): boolean {
  if (!part) return false;
  const both: Test = { kind: "and", parts: [...(when ? [when] : []), { kind: "not", part, range: part.range }], range: part.range };
  return withinBudget(() => !prepared(model).whens.canHold(both)) === true;
}

/** The bound test of a written one: the outermost in its place. */
function testAt(test: Test, { range }: tree.Test): Test | undefined {
  if (test.range.start >= range.start && test.range.end <= range.end) return test;
  const inner = test.kind === "not" ? [test.part] : test.kind === "and" || test.kind === "or" ? test.parts : [];
  for (const part of inner) {
    const found = testAt(part, { range } as tree.Test);
    if (found) return found;
  }
  return undefined;
}
