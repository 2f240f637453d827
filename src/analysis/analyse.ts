/**
 * The analysis of one book with all it builds on: exact answers everywhere, then one check after another.
 *
 *     model ──▶ answers (diagrams) ──▶ gaps, hairlines, conflicts, toss-ups, waiting answers, promises, set clashes, idle patterns, unused options
 *                               └────▶ coverage: the exact share of every status
 *
 * Nothing is sampled. Where a budget runs out, `undecided` says what was left open; everything reported is certain.
 */
import Fraction from "fraction.js";
import type { Finding } from "../diagnostics.js";
import { analysisWords } from "../messages/analysis.js";
import type { Model, Pick } from "../model/model.js";
import { answering, outcomeKey, sharesOf, type Answers, type Limits } from "./answers.js";
import { toTheEnd, withinBudget, type Purse } from "./budget.js";
import { conflicts } from "./checks/conflicts.js";
import { finding, fresh, recalled, type Check, type Context, type Undecided } from "./checks/context.js";
import { gaps } from "./checks/gaps.js";
import { hairlines } from "./checks/hairlines.js";
import { idle } from "./checks/idle.js";
import { notClosed } from "./checks/not-closed.js";
import { nothingPossible } from "./checks/nothing-possible.js";
import { neverRecommended } from "./checks/never-recommended.js";
import { brokenPromises } from "./checks/promises.js";
import { setClashes } from "./checks/set-clashes.js";
import { tossUps } from "./checks/toss-ups.js";
import { waiting } from "./checks/waiting.js";
import { memory, type Memory } from "./memory.js";
import { statuses, type Status } from "./outcome.js";

export interface Analysis {
  readonly findings: readonly Finding[];
  readonly coverage: readonly Coverage[];
  /** What a budget left open, in sentences; each has its finding too. */
  readonly undecided: readonly string[];
  /** What it cost, of `COST`. */
  readonly cost: number;
  readonly answers: Answers;
  /** What the analysis of the next text of the book can use again. */
  readonly memory: Memory;
}

/** How often a pick has each status among all possible points: exact, adding up to 1. */
export interface Coverage {
  readonly pick: number;
  readonly shares: Readonly<Record<Status, Fraction>>;
}

export interface AnalyseOptions {
  /** Splits and nodes allowed per pick and per question. */
  readonly steps?: number;
  /** Asked now and then; true stops the analysis with `Interrupted`. */
  readonly interrupted?: () => boolean;
  /** Told what every pick answers as soon as that is known, long before all is that is wrong with it. */
  readonly answered?: (answers: Answers) => void;
}

/** Splits and nodes per pick and per question, if not said. */
export const STEPS = 100_000;

/** What all questions of an analysis may cost together, in parts of formulas, limits of boxes and nodes looked at: some seconds. */
export const COST = 12_000_000;

export function analyse(model: Model, options: AnalyseOptions = {}): Analysis {
  return toTheEnd(analysing(model, options));
}

const checks: readonly Check[] = [
  gaps,
  hairlines,
  conflicts,
  tossUps,
  waiting,
  brokenPromises,
  setClashes,
  notClosed,
  neverRecommended,
  idle,
];

/**
 * The same, in short pieces of work: between two of them the caller may do other things, or stop for good.
 * `before`, the analysis of an earlier text of the same book, is used again where nothing has changed.
 */
export function* analysing(model: Model, options: AnalyseOptions & { readonly before?: Analysis } = {}): Generator<void, Analysis> {
  const purse: Purse = { left: COST };
  const limits: Limits = { steps: options.steps ?? STEPS, interrupted: options.interrupted, purse };
  const known = options.before?.memory ?? memory();
  known.begin();
  const found = yield* answering(model, limits, known);
  options.answered?.(found);
  const context: Context = { answers: found, model, limits, undecided: undecidedPicks(found) };
  const findings: Finding[] = [];
  const coverage: Coverage[] = [];
  for (const check of found.anythingPossible ? checks : [nothingPossible])
    for (const one of check(context)) {
      if (one) findings.push(one);
      yield;
    }
  if (found.anythingPossible)
    for (const pick of model.picks) {
      const shares = sharesOfPick(context, pick);
      if (shares) coverage.push({ pick: pick.index, shares });
      yield;
    }
  const undecided = new Map(context.undecided.map(({ what, place }) => [what, place]));
  for (const [what, place] of undecided) findings.push(finding("budget", place, analysisWords.budget(what)));
  return { findings, coverage, undecided: [...undecided.keys()], cost: COST - purse.left, answers: found, memory: known };
}

function undecidedPicks({ model, picks }: Answers): Undecided[] {
  return model.picks.flatMap((pick) => {
    if (picks[pick.index]) return [];
    const blocking = pick.tests.find((other) => !picks[other]);
    const what =
      blocking === undefined
        ? analysisWords.undecided.pick(pick.name)
        : analysisWords.undecided.blocked(pick.name, model.picks[blocking]!.name);
    return [{ what, place: pick.namePlace }];
  });
}

function sharesOfPick(context: Context, pick: Pick): Coverage["shares"] | undefined {
  const diagrams = context.answers.picks[pick.index];
  if (!diagrams) return undefined;
  const shares = recalled(context, [pick.index], "shares", () =>
    withinBudget(() => sharesOf(context.answers, diagrams.whole, outcomeKey, fresh(context))),
  );
  if (!shares) {
    context.undecided.push({ what: analysisWords.undecided.question(analysisWords.questions.shares(pick.name)), place: pick.namePlace });
    return undefined;
  }
  const sums = Object.fromEntries(statuses.map((status) => [status, 0n])) as Record<Status, bigint>;
  for (const [{ status }, weight] of shares.weights) sums[status] += weight;
  return Object.fromEntries(statuses.map((status) => [status, new Fraction(sums[status], shares.total)])) as Record<Status, Fraction>;
}
