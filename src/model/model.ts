/**
 * The resolved model: every name bound, every quantity exact, every test a formula over axes.
 *
 *   condition ──▶ axis (one; of a set, one per member)      position 0 … size − 1
 *
 * A scale's positions are its levels, a stepped measure's its steps, `days` has 366, `times` 1,440 minutes, a set's member 0 (absent)
 * or 1 (present). A continuous measure is cut at every limit any book writes:
 *
 *     limits     L0        L1        L2          position 2i is the single value Li,
 *     positions   0    1    2    3    4          position 2i + 1 the open stretch between Li and Li+1
 *
 * so that nothing said in a book can tell two values of one position apart, and all analysis is exact on whole numbers.
 * Whoever holds a Model has resolved already: broken statements have been left out and reported, and `held` says where a broken
 * pattern might have spoken.
 */
import type { Fraction } from "fraction.js";
import type { Place } from "../diagnostics.js";
import type { Range } from "../text.js";
import type { Tree } from "../syntax/tree.js";
import type { Mention } from "./names.js";
import type { Span } from "./span.js";
import type { Unit } from "./quantities.js";

export interface Model {
  /** Books in reading order: what a book builds on stands before it; the last is the book that was asked for. */
  readonly books: readonly Book[];
  readonly conditions: readonly Condition[];
  readonly axes: readonly Axis[];
  readonly bands: readonly Band[];
  readonly groups: readonly Group[];
  readonly situations: readonly Situation[];
  /** Picks and judgements, each after every pick that it tests. Indexes into this list are what tests hold. */
  readonly picks: readonly Pick[];
  readonly patterns: readonly Pattern[];
  readonly impossible: readonly Impossible[];
  /** Every `say nothing on everything`, each of which stands with every pick as well. Their tests mention no pick that is no judgement. */
  readonly closed: readonly SayNothing[];
  /** Holds for every value that exists: `, at least one` of a set. Independent of `impossible`. */
  readonly domain: readonly Test[];
  readonly cautions: readonly Caution[];
  readonly promises: readonly Promise[];
  /** Broken patterns: where each might have spoken had it been readable. */
  readonly held: readonly Held[];
  /** Every name that was bound, in no particular order, and what it stands for; a place may come twice, with the same thing. */
  readonly names: readonly Mention[];
  /** `moreLocal(a, b)`: book a builds, directly or not, on book b. */
  moreLocal(a: number, b: number): boolean;
  /** The day everything was resolved for, `2027-04-15`, if one was given. */
  readonly on?: string;
}

/** What a book says of itself; the days as `2027-04-15`. */
export interface BookFacts {
  readonly title: string;
  readonly shop?: string;
  readonly water?: string;
  readonly edition?: string;
  readonly goodFrom?: string;
  readonly goodTo?: string;
}

export interface Book extends BookFacts {
  readonly path: string;
  readonly text: string;
  readonly tree: Tree;
  /** Indexes of the books it names after `builds on`. */
  readonly buildsOn: readonly number[];
}

/** Something declared: where, and in which book. */
export interface Declared {
  readonly index: number;
  readonly book: number;
  /** The whole statement. */
  readonly place: Place;
  /** Just its name or title. */
  readonly namePlace: Place;
}

export interface Condition extends Declared {
  readonly name: string;
  /** The quoted label, else the name. */
  readonly label: string;
  readonly domain: Domain;
  readonly axes: readonly number[];
  readonly rising?: string;
  readonly falling?: string;
  readonly ask?: string;
  readonly filledFrom?: "date" | "clock" | "sun" | "moon";
}

export type Domain =
  | { readonly kind: "scale"; readonly ordered: boolean; readonly levels: readonly string[] }
  | { readonly kind: "set"; readonly members: readonly string[]; readonly atLeastOne: boolean }
  /** `low`, `high`, `step` in `unit`; `saidIn`: the unit a reader is told them in, where that is another. */
  | {
      readonly kind: "measure";
      readonly low: Fraction;
      readonly high: Fraction;
      readonly step?: Fraction;
      readonly unit?: Unit;
      readonly saidIn?: Unit;
    }
  | { readonly kind: "days" }
  | { readonly kind: "times" };

export interface Axis {
  readonly index: number;
  readonly condition: number;
  /** Of a set: which member. */
  readonly member?: number;
  readonly size: number;
  /** Days and times go round. */
  readonly cyclic: boolean;
  /** Whole-number weight of each position; undefined: every position weighs 1. Single values of a continuous measure weigh 0. */
  readonly weights?: readonly bigint[];
  /** Of a continuous measure: the limits, rising, in its unit; `precision[i]` is one unit in the last place in which limit i was written (0: the ends of the range, unless written in a test). */
  readonly limits?: readonly Fraction[];
  readonly precision?: readonly Fraction[];
}

/** Tests are evaluated in three values; a test on a pick may be unsettled. */
export type Test =
  | { readonly kind: "and" | "or"; readonly parts: readonly Test[]; readonly range: Range }
  | { readonly kind: "not"; readonly part: Test; readonly range: Range }
  | { readonly kind: "axis"; readonly axis: number; readonly span: Span; readonly range: Range }
  /** Holds if every option at the pick's front is in `span` (positions are options). */
  | { readonly kind: "pick"; readonly pick: number; readonly span: Span; readonly range: Range }
  | { readonly kind: "always" | "never"; readonly range: Range };

export interface Band extends Declared {
  readonly name: string;
  readonly condition: number;
  readonly span: Span;
}
export interface Group extends Declared {
  readonly name: string;
  readonly condition: number;
  /** Levels of a scale or members of a set, by index. */
  readonly members: readonly number[];
}
export interface Situation extends Declared {
  readonly name: string;
  readonly test: Test;
}
export interface Impossible extends Declared {
  readonly when: Test;
  readonly because?: string;
}

export interface Pick extends Declared {
  readonly name: string;
  readonly label: string;
  readonly judgement: boolean;
  readonly options: readonly Option[];
  /** `in order`, or quantities, which are ordered by size. Only then may it be moved. Options are listed in that order. */
  readonly ordered: boolean;
  readonly rising?: string;
  readonly falling?: string;
  readonly ask?: string;
  readonly onlyWhen?: Test;
  /** `same as`: the axis copied, and for each option the positions that become it. */
  readonly sameAs?: { readonly condition: number; readonly axis: number; readonly spans: readonly Span[] };
  /** The one `fall back` that counts. */
  readonly fallBack?: FallBack;
  /** Every `say nothing on` this pick, of any book. */
  readonly sayNothing: readonly SayNothing[];
  /** The one trust list that counts: conditions and judgements, most trusted first. */
  readonly trust: readonly Subject[];
  /** Picks that its patterns, `only when` or `say nothing` test. */
  readonly tests: readonly number[];
}
export type Subject = { readonly kind: "condition"; readonly index: number } | { readonly kind: "pick"; readonly index: number };

export interface Option {
  /** As the book writes it, quoted options without their quotes. */
  readonly text: string;
  /** Of a number or quantity: its exact size in the base unit of its kind. */
  readonly size?: Fraction;
}
/** Option indexes in order of preference; those in one list share a place. */
export type Places = readonly (readonly number[])[];

export interface FallBack {
  readonly places: Places;
  readonly because?: string;
  readonly book: number;
  readonly place: Place;
}
export interface SayNothing {
  /** Said of every pick at once: what less and what not more local books go with is silent then, and the leans and `fall back`s of every book. */
  readonly everything: boolean;
  readonly when: Test;
  readonly because?: string;
  readonly book: number;
  readonly place: Place;
}

export interface Pattern extends Declared {
  readonly title: string;
  /** None: always. */
  readonly when?: Test;
  readonly goes: readonly { readonly pick: number; readonly places: Places }[];
  /** `by` is positive for `lean to`, negative for `lean off`; exact. */
  readonly leans: readonly { readonly pick: number; readonly option: number; readonly by: Fraction }[];
  readonly nevers: readonly { readonly pick: number; readonly options: readonly number[] }[];
  readonly moves: readonly { readonly pick: number; readonly by: number }[];
  readonly because?: string;
  readonly see: readonly string[];
  readonly checked?: string;
  readonly until?: string;
  /** Patterns named after `beats`, by index, and where each title stands. */
  readonly beats: readonly { readonly pattern: number; readonly place: Place }[];
}
export interface Held {
  readonly picks: readonly number[];
  /** Wherever it might have spoken; none: anywhere. */
  readonly when?: Test;
}
export interface Caution extends Declared {
  readonly title: string;
  readonly when?: Test;
  readonly say: string;
  readonly see: readonly string[];
}
export interface Promise extends Declared {
  readonly title: string;
  readonly pick: number;
  readonly must: "be" | "not be" | "have an answer" | "have no answer";
  readonly options: readonly number[];
  readonly when?: Test;
  /** Of a base book: its failure is a warning. */
  readonly ofBase: boolean;
}
