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
import { say } from "../messages/analysis.js";
import type { Model } from "../model/model.js";
import { answers, outcomeKey, sharesOf, type Answers, type Limits } from "./answers.js";
import { within } from "./budget.js";
import { conflicts } from "./checks/conflicts.js";
import { finding, fresh, type Context, type Undecided } from "./checks/context.js";
import { gaps } from "./checks/gaps.js";
import { hairlines } from "./checks/hairlines.js";
import { idle } from "./checks/idle.js";
import { neverRecommended } from "./checks/never-recommended.js";
import { brokenPromises } from "./checks/promises.js";
import { setClashes } from "./checks/set-clashes.js";
import { tossUps } from "./checks/toss-ups.js";
import { waiting } from "./checks/waiting.js";
import { statuses, type Status } from "./outcome.js";

export interface Analysis {
  readonly findings: readonly Finding[];
  readonly coverage: readonly Coverage[];
  /** What a budget left open, in sentences; each has its finding too. */
  readonly undecided: readonly string[];
  readonly answers: Answers;
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
}

/** Splits and nodes per pick and per question, if not said. */
export const STEPS = 100_000;

export function analyse(model: Model, options: AnalyseOptions = {}): Analysis {
  const limits: Limits = { steps: options.steps ?? STEPS, interrupted: options.interrupted };
  const found = answers(model, limits);
  const context: Context = { answers: found, model, limits, undecided: undecidedPicks(found) };
  const findings = !found.anythingPossible ? [] : [gaps, hairlines, conflicts, tossUps, waiting, brokenPromises, setClashes, neverRecommended, idle].flatMap((check) => check(context));
  const coverage = found.anythingPossible ? coverageOf(context) : [];
  const undecided = new Map(context.undecided.map(({ what, place }) => [what, place]));
  for (const [what, place] of undecided) findings.push(finding("budget", place, say.budget(what)));
  return { findings, coverage, undecided: [...undecided.keys()], answers: found };
}

function undecidedPicks({ model, picks }: Answers): Undecided[] {
  return model.picks.flatMap((pick) => {
    if (picks[pick.index]) return [];
    const blocking = pick.tests.find((other) => !picks[other]);
    const what = blocking === undefined ? say.undecided.pick(pick.name) : say.undecided.blocked(pick.name, model.picks[blocking]!.name);
    return [{ what, place: pick.namePlace }];
  });
}

function coverageOf(context: Context): Coverage[] {
  return context.model.picks.flatMap((pick) => {
    const diagrams = context.answers.picks[pick.index];
    if (!diagrams) return [];
    const shares = within(() => sharesOf(context.answers, diagrams.whole, outcomeKey, fresh(context)));
    if (!shares) {
      context.undecided.push({ what: say.undecided.question(say.questions.shares(pick.name)), place: pick.namePlace });
      return [];
    }
    const sums = Object.fromEntries(statuses.map((status) => [status, 0n])) as Record<Status, bigint>;
    for (const [{ status }, weight] of shares.weights) sums[status] += weight;
    return [{ pick: pick.index, shares: Object.fromEntries(statuses.map((status) => [status, new Fraction(sums[status], shares.total)])) as Record<Status, Fraction> }];
  });
}
