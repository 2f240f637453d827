/**
 * Answers where some conditions may be unknown.
 *
 *     given ──everything known?──▶ yes: direct evaluation at the point
 *                                  no:  each pick's diagram, limited to what is known
 *                                         ├──▶ one outcome left: the answer
 *                                         └──▶ several: "depends", all of them with their exact shares,
 *                                              the options that are safe whichever it is, and the question that settles most
 *
 * Shares are among the possible points that agree with what is known, each level, step and member counting alike, a continuous
 * measure by length. An option is safe where it stands in the list at every such point, single values included.
 */
import Fraction from "fraction.js";
import { pointIn, type Answers } from "../analysis/answers.js";
import { budget, OutOfBudget, toTheEnd, withinBudget, type Budget } from "../analysis/budget.js";
import type { Box } from "../analysis/diagrams/diagram.js";
import { FAILS, HOLDS, type Mask } from "../analysis/diagrams/formula.js";
import { likeliestBox } from "../analysis/diagrams/region.js";
import type { Outcome, Point } from "../analysis/outcome.js";
import { answersAt, valueAt } from "../analysis/point.js";
import { tableWords } from "../messages/table.js";
import { axesIn } from "../model/atoms.js";
import type { Model, Places, Test } from "../model/model.js";
import { canChange, choosingQuestion } from "./ask.js";
import { reasonsFor, type Reason } from "./because.js";
import { leftOver, type Left } from "./left.js";
import { cautionsAt, cautionsIn, type Warning } from "./cautions.js";
import { closedAt, closedIn, closedJoint, isShut, openFor, type Closed } from "./closed.js";
import { pinned, type Given } from "./given.js";
import { together, type Joint } from "./joint.js";

export interface Answered {
  readonly given: Given;
  /** One per pick and judgement, in the order of `model.picks`. */
  readonly picks: readonly PickAnswered[];
  readonly cautions: readonly Warning[];
  /** What closes everything for what is given, or may: told before all else. The picks are then told of where they are open. */
  readonly closed: readonly Closed[];
  /** All of it is closed: nothing is told of a pick that is `shut`, and nothing is asked. */
  readonly shut: boolean;
  /** Those of the unknown conditions that can change some answer, in book order; all of them where the budget did not do for a pick. */
  readonly open: readonly number[];
  /** Index of the condition to ask about; none: nothing that is unknown can change a pick. */
  readonly ask?: number;
  /** A possible point that agrees with what is given; the point itself where all is known. */
  readonly example: Point;
}

export interface PickAnswered {
  readonly pick: number;
  /** Its own answer where there is only one; undefined: it depends. */
  readonly outcome?: Outcome;
  readonly because: readonly Reason[];
  readonly safe: Places;
  /** Largest share first. */
  readonly possible: readonly Possible[];
  /** Nothing that agrees with what is given is open for it. */
  readonly shut?: true;
  /** The budget did not do for this pick: nothing is known of it. */
  readonly undecided?: true;
}
export interface Possible {
  readonly outcome: Outcome;
  readonly share: Fraction;
}

export interface AnswerOptions {
  /** Splits and nodes allowed per question; 400,000 if not said. */
  readonly steps?: number;
  readonly interrupted?: () => boolean;
  /** False: `open` and `ask` are left empty, which takes half the time; for whoever shows the answer first and asks after. */
  readonly question?: boolean;
}

const STEPS = 400_000;

/** What is recommended before what is only judged. */
export function judgementsLast<P extends { readonly pick: number }>({ picks }: Pick<Model, "picks">, all: readonly P[]): readonly P[] {
  const [judged, others] = [true, false].map((wanted) => all.filter(({ pick }) => picks[pick]!.judgement === wanted));
  return [...others!, ...judged!];
}

/**
 * Every pick's answer for what is given. `answersOf` is only called where something is unknown, and should remember its result.
 * A problem, in a sentence, where no possible point agrees with what is given.
 */
export function answer(model: Model, given: Given, answersOf: () => Answers, options: AnswerOptions = {}): Answered | Refused {
  return toTheEnd(answeringGiven(model, given, answersOf, options));
}

/** The same, in short pieces of work. */
export function* answeringGiven(
  model: Model,
  given: Given,
  answersOf: () => Answers,
  options: AnswerOptions = {},
): Generator<void, Answered | Refused> {
  const point = model.axes.map(({ index }) => pinned(given.box, index));
  return point.every((position) => position !== undefined)
    ? answerAt(model, given, point)
    : yield* answeringIn(answersOf(), given, options);
}

/** Why there is no answer, in a sentence. */
interface Refused {
  readonly problem: string;
}

function answerAt(model: Model, given: Given, point: Point): Answered | Refused {
  const problem = whyImpossible(model, point);
  if (problem !== undefined) return { problem };
  const all = answersAt(model, point);
  const closed = closedAt(model, point, (pick) => all[pick]!.outcome);
  const shut = closed.some(({ sure }) => sure);
  const picks = all.map(({ outcome }, pick): PickAnswered => ({
    pick,
    outcome,
    because: reasonsFor(model, all, pick),
    safe: outcome.places,
    possible: [{ outcome, share: new Fraction(1) }],
    ...(shut && isShut(model.picks[pick]!, outcome) && { shut: true as const }),
  }));
  return { given, picks, cautions: cautionsAt(model, point, all), closed, shut, open: [], example: point };
}

/** Why a point is refused, in a sentence; undefined: it is possible. */
export function whyImpossible(model: Model, point: Point): string | undefined {
  const never = (): Outcome => ({ status: "gap", places: [] });
  const empty = model.domain.find((test) => valueAt(test, point, never) === FAILS);
  if (empty) return tableWords.emptySet(conditionOf(model, empty));
  const statement = model.impossible.find(({ when }) => valueAt(when, point, never) === HOLDS);
  return statement && tableWords.impossible(statement.because);
}

function* answeringIn(answers: Answers, given: Given, options: AnswerOptions): Generator<void, Answered | Refused> {
  const { model } = answers;
  const fresh = () => budget(options.steps ?? STEPS, options.interrupted);
  const anywhere = examplePoint(answers, given.box);
  if (!anywhere) return { problem: whyNothingLeft(answers, given.box) };
  const closed = closedIn(answers, given.box);
  // Of all that agrees, a point that is open if there is one.
  const open = closed.length > 0 ? pointOpen(answers, "all", given.box) : anywhere;
  const shut = open === undefined;
  const example = open ?? anywhere;
  const left: (Left | undefined)[] = [];
  const points: (Point | undefined)[] = [];
  for (const { index } of model.picks) {
    yield;
    const own = shut ? pointOpen(answers, index, given.box) : example;
    const told = own ? openFor(answers, index)! : answers;
    points.push(own);
    left.push(answers.picks[index] && withinBudget(() => leftOver(model, jointOf(told, index, fresh), given.box, fresh())));
  }
  const at = answersAt(model, example);
  const picks = left.map((mine, index): PickAnswered => {
    if (!mine) return { pick: index, because: [], safe: [], possible: [], undecided: true };
    const possible = sharesIn(mine);
    const point = points[index];
    const all = point === undefined || point === example ? at : answersAt(model, point);
    return {
      pick: index,
      possible,
      safe: safeList(possible.map(({ outcome }) => outcome)),
      ...(possible.length === 1 ? { outcome: possible[0]!.outcome, because: reasonsFor(model, all, index) } : { because: [] }),
      ...(point === undefined && { shut: true as const }),
    };
  });
  yield;
  const base = { given, picks, cautions: cautionsIn(answers, given.box), closed, shut, example };
  if (options.question === false || shut) return { ...base, open: [] };
  const depends = left.flatMap((mine, pick) =>
    mine && picks[pick]!.possible.length > 1 ? [{ mine, judgement: model.picks[pick]!.judgement }] : [],
  );
  const asked = depends.flatMap(({ mine, judgement }) => (judgement ? [] : [mine]));
  const closing = closed.length > 0 ? withinBudget(() => leftOver(model, closedJoint(answers)!, given.box, fresh())) : undefined;
  const changing = [...depends.map(({ mine }) => mine), ...(closing ? [closing] : [])];
  const unsettled: number[] = [];
  for (const index of given.unknown) {
    yield;
    if (left.includes(undefined) || changing.some((mine) => canChange(model.conditions[index]!, mine, fresh))) unsettled.push(index);
  }
  // Whether it is closed at all is asked before anything else.
  const first = closing && (yield* choosingQuestion(model, [closing], given, fresh));
  const ask = first ?? (asked.length === 0 ? undefined : yield* choosingQuestion(model, asked, given, fresh));
  return { ...base, open: unsettled, ask };
}

interface Remembered {
  /** Undefined: it outgrew its budget. */
  readonly joint: Joint | undefined;
  budget: Budget;
}
const remembered = new WeakMap<Answers, Map<number, Remembered>>();

/** One pick among possible points, made once per book. Throws `OutOfBudget`; every use has a fresh budget. */
function jointOf(answers: Answers, pick: number, fresh: () => Budget): Joint {
  let joints = remembered.get(answers);
  if (!joints) remembered.set(answers, (joints = new Map()));
  let known = joints.get(pick);
  if (known) known.budget = fresh();
  else {
    const purse = { budget: fresh() };
    known = Object.assign(purse, {
      joint: withinBudget(() => together(answers, [pick], { spend: (...spent) => purse.budget.spend(...spent) })),
    });
    joints.set(pick, known);
  }
  if (!known.joint) throw new OutOfBudget();
  return known.joint;
}

/** Every outcome that is left, with its share. */
export function sharesIn({ chances }: Left): readonly Possible[] {
  return [...chances].map(([leaf, share]) => ({ outcome: leaf[0]!, share })).sort((a, b) => b.share.compare(a.share));
}

/** Options in the list of every outcome, by the worst place any gives them. */
export function safeList(outcomes: readonly Outcome[]): Places {
  const worst = new Map<number, number>();
  for (const option of outcomes[0]!.places.flat()) {
    const places = outcomes.map((outcome) => outcome.places.findIndex((place) => place.includes(option)));
    if (!places.includes(-1)) worst.set(option, Math.max(...places));
  }
  const ranks = [...new Set(worst.values())].sort((a, b) => a - b);
  return ranks.map((rank) =>
    [...worst]
      .filter(([, place]) => place === rank)
      .map(([option]) => option)
      .sort((a, b) => a - b),
  );
}

/** A point inside the limits that is open to a pick, or to all. */
function pointOpen(answers: Answers, pick: number | "all", box: Box): Point | undefined {
  const open = openFor(answers, pick);
  return open && examplePoint(open, box);
}

/** A possible point inside the limits, as ordinary as can be. */
function examplePoint(answers: Answers, box: Box): Point | undefined {
  const found = likeliestBox(answers, answers.possible.node, (flag) => flag === 1, box);
  return found && pointIn(answers, found);
}

/** Names what rules out everything that agrees with the limits, or else says that several statements do together. */
export function whyNothingLeft({ model, compile, store }: Answers, box: Box): string {
  const throughout = (test: Test, value: Mask): boolean => store.mask(store.narrow(compile(test), box)) === value;
  const empty = model.domain.find((test) => throughout(test, FAILS));
  if (empty) return tableWords.emptySet(conditionOf(model, empty));
  const statement = model.impossible.find(({ when }) => throughout(when, HOLDS));
  return statement
    ? tableWords.impossible(statement.because)
    : tableWords.impossibleTogether(model.impossible.flatMap(({ because }) => because ?? []));
}

/** The name of the one condition a `, at least one` is about. */
function conditionOf(model: Model, test: Test): string {
  return model.conditions[model.axes[axesIn(test)[0]!]!.condition]!.name;
}
