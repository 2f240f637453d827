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
 * One finding per pair of patterns that disagree, whichever others join in: pairs that overlap are few and quickly found, then what
 * could drop one of the two is subtracted. Where no two disagree but all together do, one for the group; where nevers strike a list out, one per list and the nevers it takes.
 */
import type { Edit, Finding, Fix } from "../../diagnostics.js";
import { say } from "../../messages/analysis.js";
import type { Askable } from "../answers.js";
import { decide, type Question } from "../decide.js";
import { leaves } from "../diagram.js";
import { HOLDS, oneBit } from "../formula.js";
import { meet, meeting, subset } from "../neighbours.js";
import { pickFormulas, pickQuestion, shareNothing } from "../pick-question.js";
import { flagged } from "../region.js";
import type { PickRules, Rule } from "../rules.js";
import { silencedBook, verdict, type Verdict } from "../verdict.js";
import { askablePicks, find, finding, saysOf, whereabouts, type Context } from "./context.js";

type Kind = "disagree" | "struck" | "nothing left" | "circle";

/** A group of rules that together leave no answer. */
interface Clash {
  readonly kind: Kind;
  readonly rules: readonly number[];
}

export function conflicts(context: Context): Finding[] {
  return askablePicks(context).flatMap((diagrams) => {
    const local = context.answers.picks[diagrams.rules.pick.index]?.local;
    const clashes = new Map<string, Clash>();
    for (const leaf of local ? leaves(local) : []) for (const clash of clashesOf(leaf)) clashes.set(keyOf(clash), clash);
    return [...disagreeingPairs(diagrams), ...clashes.values()]
      .sort((a, b) => compareLists(a.rules, b.rules))
      .flatMap((clash) => reportClash(context, diagrams, clash));
  });
}

function keyOf({ kind, rules }: Clash): string {
  return `${kind}:${rules.join(",")}`;
}

/** What the whole diagram shows; pairs that disagree are looked for one by one. */
function clashesOf({ cause, standing, ...leaf }: Verdict): readonly Clash[] {
  if (leaf.status !== "conflict") return [];
  if (cause.kind === "circle") return [{ kind: "circle", rules: cause.rules }];
  if (cause.kind === "nothing left") return [{ kind: "nothing left", rules: cause.nevers }];
  if (cause.kind === "disagree") return [{ kind: "disagree", rules: standing }];
  if (cause.kind === "struck") return standing.map((at): Clash => ({ kind: "struck", rules: [at, ...cause.nevers] }));
  return [];
}

/** Pairs of go withs that meet, share no option, and are not settled between the two of them. */
function disagreeingPairs({ rules, hulls }: Askable): Clash[] {
  const goes = rules.rules.filter((rule) => rule.goes);
  const pairs: Clash[] = [];
  for (const [i, a] of goes.entries())
    for (const b of goes.slice(i + 1)) {
      if (!shareNothing(a, b) || !meet(hulls[a.at]!, hulls[b.at]!)) continue;
      if (a.beats.includes(b.at) || b.beats.includes(a.at)) continue;
      if (rules.byTrust(a, b) !== 0 || drops(rules, a, b) || drops(rules, b, a)) continue;
      pairs.push({ kind: "disagree", rules: [a.at, b.at] });
    }
  return pairs;
}

/** Whether a, where both are left, is bound to drop b before trust is asked. */
function drops(rules: PickRules, a: Rule, b: Rule): boolean {
  return rules.moreLocal(a, b) || rules.narrower(a, b);
}

/** Where both stand and leave no option; undecided rules of other picks, circles and silence are seen to by the pick's own question. */
function pairQuestion(context: Context, { rules, hulls }: Askable, a: Rule, b: Rule): Question<number> {
  const both = meeting(hulls[a.at]!, hulls[b.at]!);
  const inCircle = new Set(rules.circles.flat());
  const near = rules.rules.filter((rule) => rule !== a && rule !== b && meet(hulls[rule.at]!, both));
  // Whoever could drop one of the two, whoever could drop those, and whatever may leave the pick waiting or in a circle.
  const involved = new Set([a, b]);
  for (let size = 0; size < involved.size; ) {
    size = involved.size;
    for (const rule of near)
      if (!involved.has(rule) && [...involved].some((other) => rule.beats.includes(other.at) || (rule.goes && other.goes && (drops(rules, rule, other) || rules.byTrust(rule, other) < 0)))) involved.add(rule);
  }
  const axes = context.model.axes.length;
  for (const rule of near) if (inCircle.has(rule.at) || context.answers.store.support(context.answers.compile(rule.pattern.when)).some((variable) => variable >= axes)) involved.add(rule);
  // Whoever silences an involved one has its say too.
  for (const rule of near) if ([...involved].some((other) => rule.beats.includes(other.at))) involved.add(rule);
  const few = subset(rules, rules.rules.filter((rule) => involved.has(rule)));
  const at = pickFormulas(few, context.answers.compile);
  const mine = [a, b].map((rule) => few.rules.findIndex((other) => other.pattern === rule.pattern));
  const indexes = mine.map(at.rule);
  const base = pickQuestion<number>(context.model, few, at, {
    leafOf(situation) {
      const { cause, standing } = verdict(few, situation, silencedBook(few, situation, context.model.moreLocal));
      return cause.kind === "disagree" && mine.every((rule) => standing.includes(rule)) ? 1 : 0;
    },
  });
  return {
    formulas: at.formulas,
    settle(mask) {
      if (indexes.some((index) => (mask(index) & HOLDS) === 0)) return { leaf: 0 };
      const open = indexes.filter((index) => !oneBit(mask(index)));
      if (open.length > 0) return { keep: at.formulas.map((_, i) => i).filter((i) => mask(i) !== 0), ask: open, signature: "" };
      return base.settle(mask);
    },
  };
}

function reportClash(context: Context, diagrams: Askable, clash: Clash): Finding[] {
  const { rules } = diagrams;
  const { pick } = rules;
  const pair = clash.kind === "disagree" && clash.rules.length === 2;
  const found = find(context, { place: pick.namePlace }, say.questions.region(pick.name, "conflict"), (target, spend) => pair
    ? decide(context.answers.store, pairQuestion(context, diagrams, rules.rules[clash.rules[0]!]!, rules.rules[clash.rules[1]!]!), target, spend)
    : flagged(context.answers.picks[pick.index]!.local, target, (leaf) => clashesOf(leaf).some((other) => keyOf(other) === keyOf(clash))));
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
