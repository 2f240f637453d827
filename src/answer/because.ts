/**
 * Which patterns an answer comes from.
 *
 *     standing go withs, or leans, or the fall back  ──▶  list  ──moves──▶  ──nevers──▶  answer
 *     └──────────────── gave it ─────────────────┘             shifted it   struck options out of it
 */
import { amongPossible, type Answers } from "../analysis/answers.js";
import { withinBudget, type Budget } from "../analysis/budget.js";
import { forest, mapLeaves, type Box, type Node } from "../analysis/diagrams/diagram.js";
import { HOLDS, type Mask } from "../analysis/diagrams/formula.js";
import type { Outcome, Point } from "../analysis/outcome.js";
import { answersAt, type PickAnswer } from "../analysis/point.js";
import { overAxes } from "../analysis/diagrams/region.js";
import type { PickRules, Rule } from "../analysis/rules.js";
import { isSilent, silencedBook, verdict, type Verdict } from "../analysis/verdict.js";
import type { Model, Places, SayNothing } from "../model/model.js";
import { valuesIn } from "./truth.js";
import { reachedIn } from "../analysis/diagrams/reach.js";

export interface Reason {
  /** What it did: `gave` the list (or, in a conflict, took part in it), `moved` it, `struck` options out of it; `silent`: a `say nothing`. */
  readonly did: "gave" | "moved" | "struck" | "silent";
  /** Index of the pattern; none: the pick's fall back or a `say nothing`. */
  readonly pattern?: number;
  /** Its `because`, where one is written. */
  readonly text?: string;
}

/** Why one pick has its answer at a point, in the order in which things happen. */
export function reasonsFor(model: Model, all: readonly PickAnswer[], at: number): readonly Reason[] {
  const answer = all[at]!;
  const { verdict: found, rules } = answer;
  const { pick } = rules;
  const speaking = unbeaten(model, answer);
  const ofRule =
    (did: Reason["did"]) =>
    (at: number): Reason =>
      reasonOf(did, rules.rules[at]!);
  const { cause } = found;
  if (cause.kind === "silent" || found.status === "no advice") return silentReasons(all, at);
  if (cause.kind === "circle") return cause.rules.map(ofRule("gave"));
  if (cause.kind === "nothing left") return cause.nevers.map(ofRule("struck"));
  if (cause.kind !== "list" && cause.kind !== "disagree" && cause.kind !== "struck") return [];

  const given: Reason[] = found.standing.map(ofRule("gave"));
  if (cause.kind === "list" && cause.from === "lean") given.push(...leaning(model, answer, speaking).map((rule) => reasonOf("gave", rule)));
  if (cause.kind === "list" && cause.from === "fall back") given.push({ did: "gave", text: pick.fallBack!.because });
  const { plain, shifted } = beforeStriking(model, answer);
  const movers = sameList(plain, shifted) ? [] : speaking.filter((rule) => rule.move !== 0);
  const strikers = speaking.filter((rule) => shifted.flat().some((option) => rule.nevers.has(option)));
  return [...given, ...movers.map((rule) => reasonOf("moved", rule)), ...strikers.map((rule) => reasonOf("struck", rule))];
}

/**
 * For a row of a table: patterns whose go withs give the answer anywhere in its box, and all that count at its example. `standing`: which
 * patterns' go withs stand where, over whatever the boxes limit; `undefined` where nothing is possible.
 */
export function rowReasons(
  { model, variables }: Answers,
  picks: readonly number[],
  standing: readonly Node<readonly number[] | undefined>[],
): (box: Box, example: Point) => readonly number[] {
  return (box, example) => {
    const patterns = new Set<number>();
    for (const node of standing)
      for (const list of reachedIn(node, variables, box)) for (const pattern of list ?? []) patterns.add(pattern);
    const at = answersAt(model, example);
    for (const pick of picks) for (const { pattern } of reasonsFor(model, at, pick)) if (pattern !== undefined) patterns.add(pattern);
    return [...patterns].sort((a, b) => a - b);
  };
}

/** The `say nothing`s that hold on a pick, or else on what it goes by and what has no advice either. */
function silentReasons(all: readonly PickAnswer[], at: number): readonly Reason[] {
  const { rules, situation } = all[at]!;
  const own = rules.pick.sayNothing.filter((_, i) => situation.silences[i] === HOLDS);
  if (own.length > 0) return own.map(({ because }): Reason => ({ did: "silent", text: because }));
  const silent = rules.pick.tests.filter((pick) => all[pick]!.outcome.status === "no advice");
  const reasons = silent.flatMap((pick) => silentReasons(all, pick));
  return reasons.filter(({ text }, i) => reasons.findIndex((other) => other.text === text) === i);
}

/** For a row of a table: why its picks without advice have none. Every reason once. */
export function silencesIn(answers: Answers, picks: readonly number[], box: Box, outcomes: readonly Outcome[]): readonly string[] {
  const values = ({ when }: SayNothing): readonly Mask[] => valuesIn(answers, when, box) ?? [HOLDS];
  const of = (index: number): readonly SayNothing[] => {
    const { sayNothing, tests } = answers.model.picks[index]!;
    const own = sayNothing.filter((silence) => values(silence).includes(HOLDS));
    const throughout = own.filter((silence) => values(silence).every((value) => value === HOLDS));
    // Only what does not fall silent by itself does so by what it goes by.
    return throughout.length > 0 ? throughout : [...own, ...tests.flatMap(of)];
  };
  const silent = picks.filter((_, i) => outcomes[i]!.status === "no advice");
  return [...new Set(silent.flatMap(of).flatMap(({ because }) => because ?? []))];
}

/** Rules whose `when` holds and that no applicable `beats` silences. */
export function unbeaten(model: Model, { rules, situation }: PickAnswer): readonly Rule[] {
  const silenced = silencedBook(rules, situation, model.moreLocal);
  const holds = (at: number): boolean => situation.whens.get(at) === HOLDS;
  return rules.rules.filter((rule) => holds(rule.at) && !rule.beatenBy.some((by) => holds(by) && !isSilent(rules.rules[by]!, silenced)));
}

function leaning(model: Model, { rules, situation, outcome }: PickAnswer, speaking: readonly Rule[]): readonly Rule[] {
  const silenced = silencedBook(rules, situation, model.moreLocal);
  const listed = new Set(outcome.places.flat());
  const all = speaking.filter((rule) => !silenced.rest(rule.pattern.book) && rule.leans.some(({ by }) => by.compare(0) > 0));
  const direct = all.filter((rule) => rule.leans.some(({ option, by }) => listed.has(option) && by.compare(0) > 0));
  // A moved list no longer holds the options that were leaned to.
  return direct.length > 0 ? direct : all;
}

/** The list as it was given, and as moved, before anything was struck out. */
export function beforeStriking(model: Model, { rules, situation }: PickAnswer): { readonly plain: Places; readonly shifted: Places } {
  const listOf = (change: (rule: Rule) => Rule): Places => {
    const changed: PickRules = { ...rules, rules: rules.rules.map(change) };
    return verdict(changed, situation, silencedBook(changed, situation, model.moreLocal)).places;
  };
  const none: ReadonlySet<number> = new Set();
  return { plain: listOf((rule) => ({ ...rule, nevers: none, move: 0 })), shifted: listOf((rule) => ({ ...rule, nevers: none })) };
}

/** For each pick, over the axes, the patterns whose go withs stand; a pick is left out where the budget runs out. */
export function standingOver(answers: Answers, picks: readonly number[], spend: Budget): readonly Node<readonly number[] | undefined>[] {
  return picks.flatMap(
    (pick) =>
      withinBudget(() => {
        const made = forest<readonly number[]>(String, spend);
        const node = mapLeaves(answers.picks[pick]!.local, made, ({ standing }) => patternsOf(answers, pick, standing));
        return amongPossible(answers, overAxes(answers, node, made), String, spend);
      }) ?? [],
  );
}

/** The patterns whose go withs stand, of a pick's verdicts over the axes and the picks it tests. */
export function standingAmong(
  answers: Answers,
  pick: number,
  verdicts: Node<Verdict | undefined>,
  spend: Budget,
): Node<readonly number[] | undefined> {
  return mapLeaves(
    verdicts,
    forest<readonly number[] | undefined>(String, spend),
    (leaf) => leaf && patternsOf(answers, pick, leaf.standing),
  );
}

function patternsOf({ picks }: Answers, pick: number, standing: readonly number[]): readonly number[] {
  return standing.map((at) => picks[pick]!.rules.rules[at]!.pattern.index);
}

function reasonOf(did: Reason["did"], { pattern }: Rule): Reason {
  return { did, pattern: pattern.index, text: pattern.because };
}

function sameList(a: Places, b: Places): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}
