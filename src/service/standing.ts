/**
 * How a book stands, in a few words: how much of each pick is answered, what to settle next, whether its promises hold.
 *
 *     coverage ──▶ blade 97 %, weight 100 %           without what is a gap, a conflict, a toss-up or waits
 *     findings ──▶ next: the gravest, of these the widest
 *
 * The least answered pick stands for the book.
 */
import { Fraction } from "fraction.js";
import type { Analysis } from "../analysis/analyse.js";
import type { Status } from "../analysis/outcome.js";
import type { Finding, Place } from "../diagnostics.js";
import { promiseState, type PromiseState } from "./promises.js";
import type { View } from "./view.js";

export interface Standing {
  /** Of those that are no judgements, in book order. */
  readonly picks: readonly { readonly label: string; readonly answered: Fraction }[];
  /** The smallest share; 1 where the book picks nothing. */
  readonly answered: Fraction;
  /** Errors and warnings of the book itself, what to settle first first. */
  readonly open: readonly Finding[];
  /** Of the book itself. */
  readonly promises: readonly { readonly title: string; readonly place: Place; readonly state: PromiseState }[];
}

export function standingOf({ model, path, findings, analysis }: View & { readonly analysis: Analysis }): Standing {
  const picks = analysis.coverage
    .filter(({ pick }) => !model.picks[pick]!.judgement)
    .map(({ pick, shares }) => ({
      label: model.picks[pick]!.label,
      answered: unanswered.reduce((left, status) => left.sub(shares[status]), new Fraction(1)),
    }));
  const own = [...findings, ...analysis.findings].filter((one) => one.path === path && one.severity !== "note");
  return {
    picks,
    answered: picks.reduce((least, { answered }) => (answered.lt(least) ? answered : least), new Fraction(1)),
    open: own.sort(
      (a, b) =>
        Number(b.severity === "error") - Number(a.severity === "error") ||
        // What cannot be read comes first: the rest may follow from it.
        Number(a.share !== undefined) - Number(b.share !== undefined) ||
        new Fraction(b.share ?? 0).compare(a.share ?? 0) ||
        a.range.start - b.range.start,
    ),
    promises: model.promises
      .filter(({ namePlace }) => namePlace.path === path)
      .map((promise) => ({ title: promise.title, place: promise.namePlace, state: promiseState(analysis, promise) })),
  };
}

const unanswered: readonly Status[] = ["gap", "conflict", "toss-up", "waiting"];
