/**
 * Which patterns an answer comes from.
 *
 *     standing go withs, or leans, or the fall back  ──▶  list  ──moves──▶  ──nevers──▶  answer
 *     └──────────────── gave it ─────────────────┘             shifted it   struck options out of it
 */
import { amongPossible, type Answers } from "../analysis/answers.js";
import { withinBudget, type Budget } from "../analysis/budget.js";
import { forest, mapLeaves, type Box, type Node } from "../analysis/diagrams/diagram.js";
import { HOLDS } from "../analysis/diagrams/formula.js";
import type { Point } from "../analysis/outcome.js";
import { answersAt, type PickAnswer } from "../analysis/point.js";
import { overAxes } from "../analysis/diagrams/region.js";
import type { PickRules, Rule } from "../analysis/rules.js";
import { silencedBook, verdict, type Verdict } from "../analysis/verdict.js";
import type { Model, Places } from "../model/model.js";
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
export function reasonsFor(model: Model, answer: PickAnswer): readonly Reason[] {
  const { verdict: found, situation, rules } = answer;
  const { pick } = rules;
  const speaking = unbeaten(answer);
  const ofRule =
    (did: Reason["did"]) =>
    (at: number): Reason =>
      reasonOf(did, rules.rules[at]!);
  const { cause } = found;
  if (cause.kind === "silent" || found.status === "no advice")
    return pick.sayNothing.flatMap((silence, i) =>
      situation.silences[i] === HOLDS ? [{ did: "silent" as const, text: silence.because }] : [],
    );
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
    for (const pick of picks) for (const { pattern } of reasonsFor(model, at[pick]!)) if (pattern !== undefined) patterns.add(pattern);
    return [...patterns].sort((a, b) => a - b);
  };
}

/** Rules whose `when` holds and that no applicable `beats` silences. */
export function unbeaten({ rules, situation }: PickAnswer): readonly Rule[] {
  const applies = (at: number): boolean => situation.whens.get(at) === HOLDS;
  return rules.rules.filter((rule) => applies(rule.at) && !rule.beatenBy.some(applies));
}

function leaning(model: Model, { rules, situation, outcome }: PickAnswer, speaking: readonly Rule[]): readonly Rule[] {
  const silenced = silencedBook(rules, situation, model.moreLocal);
  const listed = new Set(outcome.places.flat());
  const all = speaking.filter((rule) => !silenced(rule.pattern.book) && rule.leans.some(({ by }) => by.compare(0) > 0));
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
