/**
 * Conflicts: where a pick has no answer because patterns pull apart, or rule everything out.
 *
 * Accepted:
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump" go with blade colorado when clarity is muddy
 * pattern "Flash otherwise" go with blade willow when clarity is clear
 * ```
 * Rejected (`conflict`):
 * ```lore
 * condition clarity: in order clear, muddy
 * condition sky: bright, dark
 * pick blade: colorado, willow
 * pattern "Mud wants thump" go with blade colorado when clarity is muddy
 * pattern "Sun wants flash" go with blade willow when sky is bright
 * fall back on blade colorado
 * ```
 *
 * One finding per pair of patterns that disagree, whichever others join in; where no two disagree but all together do, one for the
 * smallest group that does; where nevers strike a list out, one per list and the nevers it takes.
 */
import type { Edit, Finding, Fix } from "../../diagnostics.js";
import { say } from "../../messages/analysis.js";
import type { PickDiagrams } from "../answers.js";
import { leaves } from "../diagram.js";
import { flagged } from "../region.js";
import type { PickRules, Rule } from "../rules.js";
import { smallest, type Verdict } from "../verdict.js";
import { decidedPicks, find, finding, saysOf, whereabouts, type Context } from "./context.js";

type Kind = "disagree" | "struck" | "nothing left" | "circle";

/** A group of rules that together leave no answer. */
interface Clash {
  readonly kind: Kind;
  readonly rules: readonly number[];
}

export function conflicts(context: Context): Finding[] {
  return decidedPicks(context).flatMap((diagrams) => {
    const clashes = new Map<string, Clash>();
    for (const leaf of leaves(diagrams.local)) for (const clash of clashesOf(diagrams.rules, leaf)) clashes.set(keyOf(clash), clash);
    return [...clashes.values()]
      .sort((a, b) => compareLists(a.rules, b.rules))
      .flatMap((clash) => reportClash(context, diagrams, clash));
  });
}

function keyOf({ kind, rules }: Clash): string {
  return `${kind}:${rules.join(",")}`;
}

function clashesOf(rules: PickRules, leaf: Verdict): readonly Clash[] {
  const { cause } = leaf;
  if (cause.kind === "circle") return [{ kind: "circle", rules: cause.rules }];
  if (cause.kind === "nothing left") return [{ kind: "nothing left", rules: cause.nevers }];
  if (cause.kind === "disagree") return disagreements(rules, leaf.standing).map((group): Clash => ({ kind: "disagree", rules: group }));
  if (cause.kind === "struck") return leaf.standing.map((at): Clash => ({ kind: "struck", rules: [at, ...cause.nevers] }));
  return [];
}

function disagreements(rules: PickRules, standing: readonly number[]): readonly (readonly number[])[] {
  const goesTo = (at: number): ReadonlySet<number> => rules.rules[at]!.goesTo;
  const empty = (some: readonly number[]): boolean => some.length > 0 && ![...goesTo(some[0]!)].some((option) => some.every((at) => goesTo(at).has(option)));
  const pairs = standing.flatMap((a, i) => standing.slice(i + 1).filter((b) => empty([a, b])).map((b) => [a, b]));
  return pairs.length > 0 ? pairs : [smallest(standing, empty)];
}

function reportClash(context: Context, diagrams: PickDiagrams, clash: Clash): Finding[] {
  const { rules } = diagrams;
  const { pick } = rules;
  const found = find(context, say.undecided.question(say.questions.region(pick.name, "conflict")), (target) =>
    flagged(diagrams.local, target, (leaf) => clashesOf(rules, leaf).some((other) => keyOf(other) === keyOf(clash))));
  if (!found) return [];
  const involved = clash.rules.map((at) => rules.rules[at]!);
  const titles = involved.map((rule) => rule.pattern.title);
  const spoken = involved.map((rule) => ({ title: rule.pattern.title, says: saysOf(pick, rule) }));
  const at = { where: found.where.text, example: found.example, share: found.share };
  const saying = clash.kind === "circle" ? say.circle(pick.name, titles, at)
    : clash.kind === "nothing left" ? say.nothingLeft(pick.name, titles, at)
    : clash.kind === "struck" ? say.struck(pick.name, spoken, at)
    : say.disagree(pick.name, spoken, at);
  // Reported at the pattern written last: that is the one being worked on.
  const [here, ...others] = [...involved].sort((a, b) => b.pattern.book - a.pattern.book || b.pattern.place.range.start - a.pattern.place.range.start);
  return [finding(clash.kind === "circle" ? "circle" : "conflict", here!.pattern.namePlace, saying, {
    pick: pick.name, patterns: titles, ...whereabouts(found),
    related: others.map((rule) => ({ ...rule.pattern.namePlace, message: say.relatedPattern(rule.pattern.title) })),
    fixes: clash.kind !== "circle" && involved.length === 2 ? beatsFixes(context, rules, involved[0]!, involved[1]!) : [],
  })];
}

/** `beats` either way, where the book may say so and no circle would close. */
export function beatsFixes(context: Context, rules: PickRules, a: Rule, b: Rule): Fix[] {
  return ([[a, b], [b, a]] as const)
    .filter(([winner, loser]) => winner.pattern.book === loser.pattern.book || context.model.moreLocal(winner.pattern.book, loser.pattern.book))
    .filter(([winner, loser]) => !reaches(rules, loser.at, winner.at))
    .map(([winner, loser]) => ({ title: say.fixBeats(winner.pattern.title, loser.pattern.title), edits: [beatsEdit(winner, loser)] }));
}

function beatsEdit(winner: Rule, loser: Rule): Edit {
  const { place, beats } = winner.pattern;
  const last = beats[beats.length - 1];
  return last
    ? { path: last.place.path, range: { start: last.place.range.end, end: last.place.range.end }, text: `, "${loser.pattern.title}"` }
    : { path: place.path, range: { start: place.range.end, end: place.range.end }, text: `\n  beats "${loser.pattern.title}"` };
}

function reaches(rules: PickRules, from: number, to: number, seen = new Set<number>()): boolean {
  if (from === to) return true;
  if (seen.has(from)) return false;
  seen.add(from);
  return rules.rules[from]!.beats.some((next) => reaches(rules, next, to, seen));
}

function compareLists(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < Math.max(a.length, b.length); i++) if ((a[i] ?? -1) !== (b[i] ?? -1)) return (a[i] ?? -1) - (b[i] ?? -1);
  return 0;
}
