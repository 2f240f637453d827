/**
 * The recommendation table: few disjoint rows that together cover every possible point, each with one answer for every pick asked.
 *
 *     answers ──together──▶ one diagram ──split──▶ disjoint boxes ──fewer──▶ rows ──in reading order──▶ table
 *
 *     clarity         cover        blade                    A condition that a row does not name does not matter there.
 *     dirty, muddy    any          colorado, then indiana   Impossible points belong to no row in particular: they are given to
 *     clear, stained  grass, …     willow                   whichever row is simpler for it.
 *
 * Looking a possible point up gives the same status and places as direct evaluation, for every pick of the table.
 */
import type { Answers } from "../analysis/answers.js";
import { findPossible, pointIn } from "../analysis/answers.js";
import { budget, piecesWithin, toTheEnd, withinBudget, type Budget } from "../analysis/budget.js";
import type { Box, Node } from "../analysis/diagrams/diagram.js";
import type { Outcome, Point } from "../analysis/outcome.js";
import type { Verdict } from "../analysis/verdict.js";
import { tableWords } from "../messages/table.js";
import type { Model } from "../model/model.js";
import { rowReasons, silencesIn, standingAmong, standingOver } from "../answer/because.js";
import type { OpenAnswers } from "../answer/closed.js";
import { findingFewest } from "./fewest.js";
import { inReadingOrder } from "./order.js";
import { answered, chaining, joining } from "../answer/joint.js";
import { testedBy, type Tested } from "./tested.js";
import type { Piece } from "./split.js";
import { trimmed } from "./trim.js";

export interface Table {
  readonly model: Model;
  /** Indexes of the picks it answers, in book order. */
  readonly picks: readonly number[];
  /** Picks that have columns of their own, as far as some row names them: rows then also limit their answers. */
  readonly tested: readonly Tested[];
  /** Indexes of the conditions that some row names: the one that parts most rows first. */
  readonly conditions: readonly number[];
  readonly rows: readonly Row[];
}

export interface Row {
  /** Limits on axes, and on tested picks that have columns; what it leaves out does not matter here. */
  readonly box: Box;
  /** One per pick of the table. */
  readonly outcomes: readonly Outcome[];
  /**
   * Indexes of patterns: those whose go withs give the answer anywhere in the row, and those that lean to, move, rule out or clash over
   * what the row answers at its example. In book order.
   */
  readonly because: readonly number[];
  /** Why nothing is said, where a pick has no advice: the reason of every `say nothing` that holds somewhere in the row. */
  readonly silence: readonly string[];
  /** A possible point of the row, as ordinary as can be. */
  readonly example: Point;
}

export interface CompileOptions {
  /** Indexes of picks; without it every pick that is no judgement. One row fixes the answers of all of them. */
  readonly picks?: readonly number[];
  /** Of one pick: those it tests get columns of their own where that takes far fewer rows. */
  readonly chained?: boolean;
  /** More rows than this are a problem, not a table; 5,000 if not said. */
  readonly rows?: number;
  /** Splits and nodes allowed; 400,000 if not said. */
  readonly steps?: number;
  readonly interrupted?: () => boolean;
}

const ROWS = 5_000;
const STEPS = 400_000;

/** The table, or in a sentence why there is none. */
export type Compiled = { readonly table: Table } | { readonly problem: string };

/** Of one pick it may be given what is open for it: then rows name no value at which all is closed. */
export function compile(answers: OpenAnswers, options: CompileOptions = {}): Compiled {
  return toTheEnd(compiling(answers, options));
}

/** The same, in short pieces of work: between two of them the caller may do other things, or stop for good. */
export function* compiling(answers: OpenAnswers, options: CompileOptions = {}): Generator<void, Compiled> {
  const { model } = answers;
  const picks = options.picks ?? model.picks.filter((pick) => !pick.judgement).map((pick) => pick.index);
  const undecided = picks.find((pick) => answers.picks[pick] === undefined);
  if (undecided !== undefined) return { problem: tableWords.undecided(model.picks[undecided]!.name) };
  if (!answers.anythingPossible) return { problem: tableWords.nothingPossible };
  const most = options.rows ?? ROWS;
  const fresh = (): Budget => budget(options.steps ?? STEPS, options.interrupted);
  const tooMany = {
    problem: tableWords.tooManyRows(
      most,
      picks.map((pick) => model.picks[pick]!.name),
    ),
  };

  const short = options.chained ? yield* shortest(answers, picks[0]!, most, fresh) : undefined;
  // Whoever reads a chart of its own need not look anything up first, so that may take a few more rows.
  const longest = short ? Math.min(most, AS_GOOD * short.pieces.length) : most;
  // Every answer takes a row at least, and nothing possible one leaf more.
  const joint = yield* piecesWithin(joining(answers, picks, fresh(), most + 1));
  const pieces = joint && (yield* piecesWithin(findingFewest(joint, longest, fresh())));
  if (!pieces && !short) return tooMany;
  const reasons = rowReasons(
    answers,
    picks,
    pieces
      ? standingOver(answers, picks, fresh())
      : (withinBudget(() => [standingAmong(answers, picks[0]!, short!.verdicts, fresh())]) ?? []),
  );
  const rows: Row[] = [];
  for (const { box: whole, outcomes } of pieces ?? short!.pieces) {
    yield;
    const box = withinBudget(() => trimmed(answers, whole, fresh())) ?? whole;
    const example = pointIn(answers, withinBudget(() => findPossible(answers, box, fresh())) ?? box);
    rows.push({ box, outcomes, example, because: reasons(box, example), silence: silencesIn(answers, picks, box, outcomes) });
  }
  const tested = pieces ? [] : model.picks[picks[0]!]!.tests.flatMap((pick) => testedBy(answers, pick) ?? []);
  return { table: { model, picks, ...inReadingOrder(model, rows, tested) } };
}

/** A table over conditions alone is as good as one over other picks with up to so many times fewer rows. */
const AS_GOOD = 2;

/** One pick in as few rows as limits on the picks it tests allow; undefined where it tests none, or has too many rows even so. */
function* shortest(
  answers: Answers,
  pick: number,
  most: number,
  fresh: () => Budget,
): Generator<void, { readonly pieces: readonly Piece[]; readonly verdicts: Node<Verdict | undefined> } | undefined> {
  if (answers.model.picks[pick]!.tests.length === 0) return undefined;
  const verdicts = yield* piecesWithin(chaining(answers, pick, fresh()));
  const joint = verdicts && withinBudget(() => answered(answers, verdicts, fresh()));
  const pieces = joint && (yield* piecesWithin(findingFewest(joint, most, fresh())));
  return verdicts && pieces && { pieces, verdicts };
}
