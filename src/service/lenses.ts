/**
 * Code lenses: a line above a promise or a pattern.
 *
 *     holds                                       fails: clarity muddy, cover none
 *     promise "Never a leaf in mud": …            promise …
 *
 *     decides 12 %, yields in 4 %  |  against “Sun wants flash”
 *     pattern "Mud wants thump"
 *
 * Each leads on: to the rows that the pattern decides, the day on which the promise fails, the other pattern.
 *
 * Lenses come in two steps, as editors ask for them: where they stand, at once; what they say, for those in sight only.
 */
import type { Analysis } from "../analysis/analyse.js";
import type { Deciding } from "../analysis/decides.js";
import type { Example } from "../diagnostics.js";
import { serviceWords } from "../messages/service.js";
import type { Model } from "../model/model.js";
import type { Range } from "../text.js";
import { promiseState } from "./promises.js";
import { decidingOf } from "./shares.js";
import type { View } from "./view.js";

export interface Lens {
  readonly kind: "promise" | "pattern" | "rival";
  /** The title it stands above. */
  readonly range: Range;
  /** Index in the model's promises or patterns. */
  readonly index: number;
  /** Of a rival its index. */
  readonly other?: number;
}

/** Where a click on a lens goes. */
export type Leads =
  | { readonly to: "rows"; readonly pick: string; readonly title: string }
  | { readonly to: "day"; readonly example: Example }
  | { readonly to: "pattern"; readonly pattern: number };

export interface LensText {
  readonly text: string;
  /** All is well. */
  readonly good: boolean;
  readonly leads?: Leads;
}

/** Those of the viewed book, in reading order; none before there is an analysis. */
export function lenses({ model, path, analysis }: View): readonly Lens[] {
  if (!analysis) return [];
  const of = (
    kind: Lens["kind"],
    all: readonly { readonly index: number; readonly book: number; readonly namePlace: { readonly range: Range } }[],
  ): Lens[] =>
    all.filter(({ book }) => model.books[book]!.path === path).map(({ index, namePlace }) => ({ kind, index, range: namePlace.range }));
  const patterns = of("pattern", model.patterns);
  const rivals = patterns.flatMap((lens) =>
    rivalsOf(model, analysis, lens.index).map((other): Lens => ({ ...lens, kind: "rival", other })),
  );
  return [...of("promise", model.promises), ...patterns, ...rivals].sort((a, b) => a.range.start - b.range.start);
}

/** Patterns that one does not agree with, each once. */
function rivalsOf({ patterns }: Model, { findings }: Analysis, index: number): readonly number[] {
  const { title } = patterns[index]!;
  const others = findings
    .filter(({ code, patterns: both = [] }) => disagreeing.has(code) && both.includes(title))
    .flatMap(({ patterns: both = [] }) => both.filter((other) => other !== title));
  return [...new Set(others)].map((other) => patterns.findIndex((one) => one.title === other)).filter((other) => other >= 0);
}
const disagreeing: ReadonlySet<string> = new Set(["conflict", "toss-up", "set-clash"]);

/** What a lens says; undefined while it is not known. */
export function lensText({ model, analysis }: View, { kind, index, other }: Lens): LensText | undefined {
  if (!analysis) return undefined;
  if (kind === "rival")
    return { text: serviceWords.lensAgainst(model.patterns[other!]!.title), good: false, leads: { to: "pattern", pattern: other! } };
  if (kind === "pattern") {
    const deciding = decidingOf(analysis, index);
    if (!deciding) return undefined;
    const parts = inOne(deciding).map(({ pick, ...shares }) => ({
      ...shares,
      pick: pick === undefined ? undefined : model.picks[pick]!.name,
    }));
    const good = deciding.every(({ clashes }) => clashes.n === 0n);
    return { text: serviceWords.lens(parts), good, leads: leadsOf(model, deciding, index) };
  }
  const promise = model.promises[index];
  if (!promise) return undefined;
  const state = promiseState(analysis, promise);
  if (state.kind === "fails")
    return { text: serviceWords.lensFails(state.example), good: false, leads: { to: "day", example: state.example } };
  return { text: state.kind === "holds" ? serviceWords.lensHolds : serviceWords.lensOpen, good: state.kind === "holds" };
}

/** To the rows of a pick that the pattern decides; where it decides none, to the pattern that it yields to. */
function leadsOf({ picks, patterns }: Model, deciding: readonly Deciding[], index: number): Leads | undefined {
  const rows = deciding.find(({ pick, decides }) => decides.n > 0n && !picks[pick]!.judgement);
  if (rows) return { to: "rows", pick: picks[rows.pick]!.name, title: patterns[index]!.title };
  const winner = deciding.flatMap(({ to }) => to)[0];
  return winner && { to: "pattern", pattern: winner.pattern };
}

/** Picks by name only where they differ. */
function inOne(deciding: readonly Deciding[]): readonly (Pick<Deciding, "decides" | "yields" | "clashes"> & { readonly pick?: number })[] {
  const [first] = deciding;
  if (!first) return [];
  const same = (["decides", "yields", "clashes"] as const).every((share) => deciding.every((one) => one[share].equals(first[share])));
  return same ? [{ decides: first.decides, yields: first.yields, clashes: first.clashes }] : deciding;
}
