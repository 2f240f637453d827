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
import { analysisWords } from "../../messages/analysis.js";
import type { Pick } from "../../model/model.js";
import type { Askable } from "../answers.js";
import { decide, type Question } from "../diagrams/decide.js";
import { leaves } from "../diagrams/diagram.js";
import { HOLDS, oneBit } from "../diagrams/formula.js";
import { meeting, subset } from "../neighbours.js";
import { constantsOf, pickFormulas, pickQuestion, shareNothing } from "../pick-question.js";
import { boxRegion, flagged, isAllPossible } from "../diagrams/region.js";
import type { PickRules, Rule } from "../rules.js";
import { silencedBook, verdict, type Verdict } from "../verdict.js";
import {
  askablePicks,
  find,
  finding,
  located,
  recalled,
  saysOf,
  whereabouts,
  type Check,
  type Context,
  type FoundRegion,
} from "./context.js";
import { dropsEarly, overruling, type Overruling } from "./overruling.js";

type Kind = "disagree" | "struck" | "nothing left" | "circle";

/** A group of rules that together leave no answer. */
interface Clash {
  readonly kind: Kind;
  readonly rules: readonly number[];
}

export function* conflicts(context: Context): ReturnType<Check> {
  for (const diagrams of askablePicks(context)) {
    yield;
    const { pick } = diagrams.rules;
    const over = overruling(context.answers, diagrams);
    const { pairs, more, others } = recalled(context, [pick.index], "clashes", () => ({
      ...disagreeingPairs(diagrams),
      others: otherClashes(context, diagrams),
    }));
    for (const clash of [...pairs, ...others].sort((a, b) => compareLists(a.rules, b.rules)))
      yield reportClash(context, diagrams, over, clash);
    if (more)
      context.undecided.push({
        what: analysisWords.undecided.question(analysisWords.questions.morePairs(pick.name, MOST_PAIRS)),
        place: pick.namePlace,
      });
  }
}

function otherClashes({ answers }: Context, diagrams: Askable): readonly Clash[] {
  const local = answers.picks[diagrams.rules.pick.index]?.local;
  const clashes = new Map<string, Clash>();
  for (const leaf of local ? leaves(local) : []) for (const clash of clashesOf(leaf)) clashes.set(keyOf(clash), clash);
  return [...clashes.values()];
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

/** Pairs of one pick beyond which nobody reads on. */
const MOST_PAIRS = 10_000;

/** Pairs of go withs that meet, share no option, and are not settled between the two of them; `more`: not all of them. */
function disagreeingPairs({ rules, hull, index }: Askable): { readonly pairs: readonly Clash[]; readonly more: boolean } {
  const pairs: Clash[] = [];
  for (const a of rules.rules) {
    if (!a.goes) continue;
    for (const at of index().meeting(hull(a))) {
      const b = rules.rules[at]!;
      if (at <= a.at || !b.goes || !shareNothing(a, b)) continue;
      if (rules.byTrust(a, b) !== 0 || dropsEarly(rules, a, b) || dropsEarly(rules, b, a)) continue;
      if (pairs.length === MOST_PAIRS) return { pairs, more: true };
      pairs.push({ kind: "disagree", rules: [a.at, at] });
    }
  }
  return { pairs, more: false };
}

function askedOf(pick: Pick, clash: Clash) {
  return { picks: [pick.index], key: keyOf(clash), question: analysisWords.questions.region(pick.name, "conflict"), place: pick.namePlace };
}

/** Where two disagree: mostly just where both hold, which is one box. */
function pairRegion(context: Context, askable: Askable, over: Overruling, clash: Clash): FoundRegion | undefined {
  const { rules, hull } = askable;
  const { pick } = rules;
  const { answers } = context;
  const [a, b] = clash.rules.map((at) => rules.rules[at]!) as [Rule, Rule];
  const both = meeting(hull(a), hull(b));
  const involved = over.involved([a, b], [], both);
  const plain =
    involved.size === 2 &&
    !pick.onlyWhen &&
    pick.sayNothing.length === 0 &&
    [a, b].every((rule) => answers.store.conjunction(answers.compile(rule.pattern.when)));
  return plain && both !== "nowhere" && isAllPossible(answers, both)
    ? located(context, boxRegion(answers, both))
    : find(context, askedOf(pick, clash), (target, spend) =>
        decide(answers.store, pairQuestion(context, rules, over, involved, a, b), target, spend),
      );
}

/** Where both stand and leave no option; undecided rules of other picks, circles and silence are seen to by the pick's own question. */
function pairQuestion(
  context: Context,
  rules: PickRules,
  over: Overruling,
  involved: ReadonlySet<Rule>,
  a: Rule,
  b: Rule,
): Question<number> {
  const chosen = rules.rules.filter((rule) => involved.has(rule));
  const few = subset(rules, chosen);
  const at = pickFormulas(few, context.answers.compile);
  const place = new Map(chosen.map((rule, i) => [rule, i]));
  const mine = [a, b].map((rule) => place.get(rule)!);
  const indexes = mine.map(at.rule);
  const rivals = new Set([...over.any(a), ...over.any(b)].filter((rule) => place.has(rule)));
  const base = pickQuestion<number>(context.model, few, at, {
    leafOf(situation) {
      const { cause, standing } = verdict(few, situation, silencedBook(few, situation, context.model.moreLocal));
      return cause.kind === "disagree" && mine.every((rule) => standing.includes(rule)) ? 1 : 0;
    },
  });
  return {
    formulas: at.formulas,
    settle(state) {
      const { live, mask } = state;
      if (indexes.some((index) => (mask(index) & HOLDS) === 0)) return { leaf: 0 };
      const open = indexes.filter((index) => !oneBit(mask(index)));
      if (open.length > 0) return { keep: live, ask: open, signature: constantsOf(live, mask) };
      if (rules.pick.sayNothing.length === 0 && over.dropped(rivals, (rule) => (place.has(rule) ? mask(at.rule(place.get(rule)!)) : 0)))
        return { leaf: 0 };
      return base.settle(state);
    },
  };
}

function reportClash(context: Context, askable: Askable, over: Overruling, clash: Clash): Finding | undefined {
  const { rules } = askable;
  const { pick } = rules;
  const found =
    clash.kind === "disagree" && clash.rules.length === 2
      ? pairRegion(context, askable, over, clash)
      : find(context, askedOf(pick, clash), (target) =>
          flagged(context.answers.picks[pick.index]!.local, target, (leaf) =>
            clashesOf(leaf).some((other) => keyOf(other) === keyOf(clash)),
          ),
        );
  if (!found) return undefined;
  const involved = clash.rules.map((at) => rules.rules[at]!);
  const titles = involved.map((rule) => rule.pattern.title);
  const spoken = involved.map((rule) => ({ title: rule.pattern.title, says: saysOf(pick, rule) }));
  const at = { where: found.where.text, example: found.example, share: found.share };
  const saying =
    clash.kind === "circle"
      ? analysisWords.circle(pick.name, titles, at)
      : clash.kind === "nothing left"
        ? analysisWords.nothingLeft(pick.name, titles, at)
        : clash.kind === "struck"
          ? analysisWords.struck(pick.name, spoken, at)
          : analysisWords.disagree(pick.name, spoken, at);
  // Reported at the pattern written last: that is the one being worked on.
  const [here, ...others] = [...involved].sort(
    (a, b) => b.pattern.book - a.pattern.book || b.pattern.place.range.start - a.pattern.place.range.start,
  );
  return finding(clash.kind === "circle" ? "circle" : "conflict", here!.pattern.namePlace, saying, {
    pick: pick.name,
    patterns: titles,
    ...whereabouts(found),
    related: others.map((rule) => ({ ...rule.pattern.namePlace, message: analysisWords.relatedPattern(rule.pattern.title) })),
    fixes: clash.kind !== "circle" && involved.length === 2 ? beatsFixes(context, rules, involved[0]!, involved[1]!) : [],
  });
}

/** `beats` either way, where the book may say so and no circle would close. */
export function beatsFixes(context: Context, rules: PickRules, a: Rule, b: Rule): Fix[] {
  return (
    [
      [a, b],
      [b, a],
    ] as const
  )
    .filter(
      ([winner, loser]) => winner.pattern.book === loser.pattern.book || context.model.moreLocal(winner.pattern.book, loser.pattern.book),
    )
    .filter(([winner, loser]) => !beatsInTurn(rules, loser.at, winner.at))
    .map(([winner, loser]) => ({ title: beatsTitle(rules.pick, winner, loser), edits: [beatsEdit(winner, loser)] }));
}

/** One that only rules out leaves nothing in the stead of the list it silences. */
function beatsTitle(pick: Pick, { pattern: winner, goes }: Rule, { pattern: loser }: Rule): string {
  return goes || pick.fallBack || pick.sameAs
    ? analysisWords.fixBeats(winner.title, loser.title)
    : analysisWords.fixBeatsToGap(winner.title, loser.title, pick.name);
}

function beatsEdit(winner: Rule, loser: Rule): Edit {
  const { place, beats } = winner.pattern;
  const last = beats.at(-1);
  return last
    ? { path: last.place.path, range: { start: last.place.range.end, end: last.place.range.end }, text: `, "${loser.pattern.title}"` }
    : { path: place.path, range: { start: place.range.end, end: place.range.end }, text: `\n  beats "${loser.pattern.title}"` };
}

/** Whether one rule beats another, or one that beats it, and so on. A set goes on to what is added meanwhile. */
function beatsInTurn(rules: PickRules, from: number, to: number): boolean {
  const reached = new Set([from]);
  for (const at of reached) for (const next of rules.rules[at]!.beats) reached.add(next);
  return reached.has(to);
}

function compareLists(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < Math.max(a.length, b.length); i++) if ((a[i] ?? -1) !== (b[i] ?? -1)) return (a[i] ?? -1) - (b[i] ?? -1);
  return 0;
}
