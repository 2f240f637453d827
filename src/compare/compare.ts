/**
 * Exactly where two books recommend differently.
 *
 *     old ─┐                 ┌─ old's answers ─┐
 *          ├─ one space ─────┤                 ├─ overlaid: [colorado → willow] where …, [gap → jig] where …
 *     new ─┘                 └─ new's answers ─┘                 └─ region, exact share, an example, what caused it
 *
 * Nothing is sampled: both books' diagrams are laid over one another, and each pair of unlike answers is a region. Answers are compared
 * where a point is possible in both books; what only one of them holds possible is reported as such. Where the budget ends, the pick
 * is named as undecided.
 */
import type { Fraction } from "fraction.js";
import type { Example } from "../diagnostics.js";
import { answers as answersOf, findPossible, pointIn, type Answers } from "../analysis/answers.js";
import { budget, withinBudget, type Budget } from "../analysis/budget.js";
import { forest, leaves, mapLeaves, reaches, type Box } from "../analysis/diagrams/diagram.js";
import { flagged, flags, regionOf, type Region } from "../analysis/diagrams/region.js";
import type { Outcome, Point } from "../analysis/outcome.js";
import { sayWhere } from "../analysis/where.js";
import { STEPS } from "../analysis/analyse.js";
import type { Texts } from "../messages/words.js";
import type { Model } from "../model/model.js";
import { optionTexts } from "../model/texts.js";
import { rowReasons, standingOver } from "../answer/because.js";
import { causesAt, distinctCauses, type Cause } from "./causes.js";
import { onOneSpace, type ConditionChange } from "./space.js";
import { commonPlaces, sideBySide, type Paired, type PatternChange, type Side, type Statements } from "./statements.js";
import { wordChanges, type WordChange } from "./words.js";
import { overlaid } from "../analysis/diagrams/overlay.js";

export interface Comparison {
  /** Whether a recommendation changes anywhere, or what is possible does, or a pick comes or goes. Judgements and words do not count. */
  readonly different: boolean;
  /** Pick by pick as in the newer book, judgements last; the largest share first. */
  readonly changes: readonly AnswerChange[];
  /** Conditions that only one of the books holds possible. */
  readonly ground: readonly GroundChange[];
  readonly conditions: readonly ConditionChange[];
  readonly picks: readonly PickChange[];
  /** All patterns that are new, gone or mean something else; those that no answer comes from among them. */
  readonly patterns: readonly PatternChange[];
  readonly words: readonly WordChange[];
  /** Names of picks that need more than the budget; `possible` where even that does. */
  readonly undecided: readonly string[];
  /** Both books on one space, to which points and boxes belong. */
  readonly models: Readonly<Record<Side, Model>>;
}

/** One way in which one pick's answer is another, wherever it is so. */
export interface AnswerChange {
  readonly pick: string;
  readonly label: string;
  readonly judgement: boolean;
  readonly before: Said;
  readonly after: Said;
  /** The whole region, as a test of the language. */
  readonly where: string;
  /** The same for people: of many stretches the largest. */
  readonly mostly: string;
  /** Exact share of all that is possible in both books. */
  readonly share: Fraction;
  /** Every point of it that is possible in both books changes so. */
  readonly example: Example;
  /** A whole point. */
  readonly point: Point;
  /** Over axes: disjoint; of what is possible in both books just this changes so. */
  readonly boxes: readonly Box[];
  readonly causes: readonly Cause[];
  /** Titles of the patterns from which the answer comes, on each side. */
  readonly standing: Readonly<Record<Side, readonly string[]>>;
}

export interface Said {
  readonly status: Outcome["status"];
  /** Options by place, as the book writes them. */
  readonly answer: Texts;
}

export interface GroundChange {
  /** The book that holds it possible. */
  readonly only: Side;
  readonly where: string;
  readonly mostly: string;
  /** Exact share of what that book holds possible. */
  readonly share: Fraction;
  readonly example: Example;
  readonly point: Point;
  readonly boxes: readonly Box[];
}

export interface PickChange {
  readonly pick: string;
  readonly judgement: boolean;
  readonly change: "added" | "removed" | "changed";
  /** Options that only one side has. */
  readonly added?: readonly string[];
  readonly removed?: readonly string[];
}

export interface CompareOptions {
  /** Nodes and splits per pick and per question. */
  readonly steps?: number;
  readonly interrupted?: () => boolean;
}

export function compare(old: Model, now: Model, { steps = STEPS, interrupted }: CompareOptions = {}): Comparison {
  const { before, after, conditions } = onOneSpace(old, now);
  const models = { before, after };
  const answers = { before: answersOf(before, { steps, interrupted }), after: answersOf(after, { steps, interrupted }) };
  const fresh = (): Budget => budget(steps, interrupted);
  const statements = sideBySide(answers.before, answers.after, fresh());
  const both = withinBudget(() => possibleInBoth(answers, fresh()));
  const undecided: string[] = [];
  const changes: AnswerChange[] = [];
  const known = isKnown(answers.before) && isKnown(answers.after);
  for (const pair of inOrder(statements.picks)) {
    if (!pair.before || !pair.after) continue;
    const found = both && known ? withinBudget(() => changesOf(answers, both, statements, pair, fresh)) : undefined;
    if (found) changes.push(...found);
    else undecided.push(pair.name);
  }
  const ground = known ? withinBudget(() => [...groundOf(answers, "before", fresh()), ...groundOf(answers, "after", fresh())]) : undefined;
  const picks = statements.picks.flatMap(pickChange);
  return {
    different:
      changes.some(({ judgement }) => !judgement) ||
      (ground ?? []).length > 0 ||
      picks.some(({ change, judgement }) => change !== "changed" && !judgement),
    changes,
    ground: ground ?? [],
    conditions,
    picks,
    models,
    patterns: statements.patterns,
    words: wordChanges(old, now, models, statements),
    undecided: ground ? undecided : ["possible", ...undecided],
  };
}

/** Whether it is known what is possible: else nothing was asked of any pick. */
function isKnown({ model, askable }: Answers): boolean {
  return model.picks.length === 0 || askable.some((pick) => pick !== undefined);
}

function inOrder(picks: readonly Paired[]): readonly Paired[] {
  const isJudgement = ({ after }: Paired): boolean => after?.judgement === true;
  return [...picks.filter((pair) => !isJudgement(pair)), ...picks.filter(isJudgement)];
}

type Both = Readonly<Record<Side, Answers>>;

/** The newer book's answers, asked only where the older one holds a point possible too. */
function possibleInBoth({ before, after }: Both, spend: Budget): Answers {
  const made = flags(spend);
  const [a, b] = [before, after].map(({ possible }) => mapLeaves(possible.node, made, (flag) => flag));
  const node = overlaid(a!, b!, made, made, after.variables, (one, other) => one & other, { alike: (one) => one })!;
  return { ...after, possible: { node, forest: made }, anythingPossible: reaches(node, (flag) => flag === 1) };
}

/** What one pick answers, by the common options: before and now. `undefined`: the same. */
type Pair = readonly [Outcome, Outcome] | undefined;

const commonKey = ({ status, places }: Outcome): string => `${status}|${JSON.stringify(places)}`;
const pairKey = (pair: Pair): string => (pair ? pair.map(commonKey).join("→") : "same");

/** Undefined: undecided. Throws `OutOfBudget`. */
function changesOf(
  answers: Both,
  both: Answers,
  statements: Statements,
  pair: Paired,
  fresh: () => Budget,
): readonly AnswerChange[] | undefined {
  const spend = fresh();
  const [was, now] = [answers.before.picks[pair.before!.index], answers.after.picks[pair.after!.index]];
  if (!was || !now) return undefined;
  const outcomes = forest<Outcome>(commonKey, spend);
  const common =
    (options: readonly number[]) =>
    ({ status, places }: Outcome): Outcome => ({ status, places: commonPlaces(places, options) });
  const pairs = forest<Pair>(pairKey, spend);
  const node = overlaid<Outcome, Pair>(
    mapLeaves(was.whole, outcomes, common(pair.ofBefore)),
    mapLeaves(now.whole, outcomes, common(pair.ofAfter)),
    outcomes,
    pairs,
    both.variables,
    (a, b) => (commonKey(a) === commonKey(b) ? undefined : [a, b]),
    { alike: () => pairs.leaf(undefined) },
  )!;
  const reasonsIn = (one: Answers, pick: number) => rowReasons(one, [pick], standingOver(one, [pick], fresh()));
  const reasons = { before: reasonsIn(answers.before, pair.before!.index), after: reasonsIn(answers.after, pair.after!.index) };
  const found = leaves(node).flatMap((leaf): AnswerChange[] => {
    if (!leaf) return [];
    const target = flags(spend);
    const region = regionOf(
      both,
      flagged(node, target, (other) => other === leaf),
      target,
      spend,
    );
    if (!region) return [];
    const saidOf = ({ status, places }: Outcome): Said => ({
      status,
      answer: optionTexts(pair, places),
    });
    return [
      {
        pick: pair.name,
        label: pair.after!.label,
        judgement: pair.before!.judgement && pair.after!.judgement,
        before: saidOf(leaf[0]),
        after: saidOf(leaf[1]),
        ...placesOf(both, region),
        ...behind(both, answers, statements, pair, region, reasons, fresh()),
      },
    ];
  });
  return found.sort((a, b) => b.share.compare(a.share) || (a.where < b.where ? -1 : 1));
}

function placesOf(
  answers: Answers,
  { boxes, share, example, point }: Region,
): Pick<AnswerChange, "where" | "mostly" | "share" | "example" | "point" | "boxes"> {
  return { where: sayWhere(answers, boxes, boxes.length).text, mostly: sayWhere(answers, boxes).text, share, example, point, boxes };
}

/** What stands in the region's boxes, and what caused the change at a point of each. */
function behind(
  both: Answers,
  answers: Both,
  statements: Statements,
  pair: Paired,
  { boxes, point }: Region,
  reasons: Readonly<Record<Side, ReturnType<typeof rowReasons>>>,
  spend: Budget,
): Pick<AnswerChange, "causes" | "standing"> {
  const models = { before: answers.before.model, after: answers.after.model };
  const standing = { before: new Set<string>(), after: new Set<string>() };
  const causes: Cause[] = [...causesAt(models, statements, pair, point)];
  for (const box of boxes.slice(0, MOST_BOXES)) {
    const found = withinBudget(() => findPossible(both, box, spend));
    if (!found) continue;
    const at = pointIn(both, found);
    causes.push(...causesAt(models, statements, pair, at));
    for (const side of ["before", "after"] as const)
      for (const pattern of reasons[side](box, at)) standing[side].add(models[side].patterns[pattern]!.title);
  }
  return { causes: distinctCauses(causes), standing: { before: [...standing.before], after: [...standing.after] } };
}

/** Boxes of one region that are looked into for reasons; the largest come first. */
const MOST_BOXES = 24;

/** Where a point is possible in one book only. */
function groundOf(answers: Both, only: Side, spend: Budget): readonly GroundChange[] {
  const [own, other] = only === "before" ? [answers.before, answers.after] : [answers.after, answers.before];
  if (!own.anythingPossible) return [];
  const target = flags(spend);
  // In words of the newer book.
  const worded: Answers = { ...own, model: { ...own.model, bands: answers.after.model.bands, groups: answers.after.model.groups } };
  const region = regionOf(
    worded,
    flagged(other.possible.node, target, (flag) => flag === 0),
    target,
    spend,
  );
  return region ? [{ only, ...placesOf(worded, region) }] : [];
}

function pickChange({ name, before, after, options, ofBefore, ofAfter }: Paired): readonly PickChange[] {
  const judgement = (after ?? before)!.judgement;
  if (!before) return [{ pick: name, judgement, change: "added" }];
  if (!after) return [{ pick: name, judgement, change: "removed" }];
  const missingIn = (own: readonly number[]): readonly string[] =>
    options.flatMap(({ text }, option) => (own.includes(option) ? [] : [text]));
  const [added, removed] = [missingIn(ofBefore), missingIn(ofAfter)];
  if (added.length + removed.length === 0) return [];
  return [{ pick: name, judgement, change: "changed", ...(added.length > 0 && { added }), ...(removed.length > 0 && { removed }) }];
}
