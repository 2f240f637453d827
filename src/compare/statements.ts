/**
 * What two books state, side by side: picks and options by name, patterns by title, each statement by what it means and not by how it
 * is written. Of two `when`s it is asked whether they have one value everywhere, whatever the picks they test may answer.
 */
import type { Answers } from "../analysis/answers.js";
import { withinBudget, type Budget } from "../analysis/budget.js";
import { differing, findBox } from "../analysis/diagrams/decide.js";
import { FAILS, formulas, HOLDS, NO_ADVICE, WAITS, type Formula } from "../analysis/diagrams/formula.js";
import { valueOfFront, type Front } from "../analysis/point.js";
import type { Model, Option, Pattern, Pick, Places, SayNothing, Test } from "../model/model.js";
import { readQuantity } from "../model/quantities.js";
import { holds, spanOf, type Span } from "../model/span.js";

/** A pick as both books have it. */
export interface Paired {
  readonly name: string;
  readonly before?: Pick;
  readonly after?: Pick;
  /** All options of either, those of the newer book in its order. */
  readonly options: readonly Option[];
  /** For each option of the older, of the newer book: which of `options` it is. */
  readonly ofBefore: readonly number[];
  readonly ofAfter: readonly number[];
}

export type Side = "before" | "after";
export type Change = "added" | "removed" | "changed";

export interface PatternChange {
  readonly title: string;
  readonly change: Change;
  readonly before?: Pattern;
  readonly after?: Pattern;
}

/** Statements of a pick that are no patterns. */
const pickStatements = ["options", "only when", "say nothing", "same as", "fall back", "trust"] as const;
export type PickStatement = (typeof pickStatements)[number];

export interface Statements {
  readonly picks: readonly Paired[];
  /** In the order of the newer book, those that are gone at the end. */
  readonly patterns: readonly PatternChange[];
  /** Which of a pick's statements mean something else now. */
  changed(pick: Paired): readonly PickStatement[];
  /** Whether two tests, the first of the older book, have one value everywhere. */
  sameTest(before: Test | undefined, after: Test | undefined): boolean;
}

/** Both answers must be of models on one space. `spend`: where it runs out, two tests count as different. */
export function sideBySide(before: Answers, after: Answers, spend: Budget): Statements {
  const picks = paired(before.model, after.model);
  const sameTest = testsCompared(before, after, picks, spend);
  const models = { before: before.model, after: after.model };
  const keyOf = (side: Side, pattern: Pattern): string => patternKey(models[side], pattern, (pick) => pairOf(picks, side, pick), side);
  const byTitle = (model: Model): ReadonlyMap<string, Pattern> => new Map(model.patterns.map((pattern) => [pattern.title, pattern]));
  const [old, now] = [byTitle(models.before), byTitle(models.after)];
  const patterns: PatternChange[] = [];
  for (const [title, pattern] of now) {
    const was = old.get(title);
    if (!was) patterns.push({ title, change: "added", after: pattern });
    else if (keyOf("before", was) !== keyOf("after", pattern) || !sameTest(was.when, pattern.when))
      patterns.push({ title, change: "changed", before: was, after: pattern });
  }
  for (const [title, pattern] of old) if (!now.has(title)) patterns.push({ title, change: "removed", before: pattern });
  return {
    picks,
    patterns,
    sameTest,
    changed: (pick) =>
      pick.before && pick.after ? pickStatements.filter((statement) => !sameStatement(statement, pick, models, picks, sameTest)) : [],
  };
}

/** Places by the common options, those of one place in order. */
export function commonPlaces(places: Places, options: readonly number[]): Places {
  return places.map((place) => place.map((option) => options[option]!).sort((a, b) => a - b));
}

function paired(before: Model, after: Model): readonly Paired[] {
  const both = after.picks.map((now): Paired => {
    const was = before.picks.find(({ name }) => name === now.name);
    const options = [...now.options];
    const ofBefore = (was?.options ?? []).map((option) => {
      const at = options.findIndex((other) => isSameOption(option, other));
      return at >= 0 ? at : options.push(option) - 1;
    });
    return { name: now.name, ...(was && { before: was }), after: now, options, ofBefore, ofAfter: now.options.map((_, option) => option) };
  });
  const gone = before.picks.filter(({ name }) => !after.picks.some((now) => now.name === name));
  return [
    ...both,
    ...gone.map((was): Paired => ({
      name: was.name,
      before: was,
      options: was.options,
      ofBefore: was.options.map((_, option) => option),
      ofAfter: [],
    })),
  ];
}

/** Quantities are one where they are one size: `1/4 oz` and `0.25 oz`. */
function isSameOption(a: Option, b: Option): boolean {
  if (a.text === b.text) return true;
  return a.size !== undefined && b.size !== undefined && a.size.equals(b.size) && kindOf(a.text) === kindOf(b.text);
}

function kindOf(text: string): string | undefined {
  return readQuantity(text)?.unit?.kind;
}

export function pairOf(picks: readonly Paired[], side: Side, pick: number): Paired {
  return picks.find((one) => one[side]?.index === pick)!;
}

function optionsOf(pair: Paired, side: Side): readonly number[] {
  return side === "before" ? pair.ofBefore : pair.ofAfter;
}

/** All that a pattern says but its `when` and its words. */
function patternKey(
  model: Model,
  { goes, leans, nevers, moves, beats, book }: Pattern,
  pair: (pick: number) => Paired,
  side: Side,
): string {
  const options = (pick: number): readonly number[] => optionsOf(pair(pick), side);
  const sorted = (list: readonly unknown[]): readonly string[] => list.map((one) => JSON.stringify(one)).sort();
  return JSON.stringify([
    sorted(goes.map(({ pick, places }) => [pair(pick).name, commonPlaces(places, options(pick))])),
    sorted(leans.map(({ pick, option, by }) => [pair(pick).name, options(pick)[option], by.toFraction()])),
    sorted(nevers.map(({ pick, options: ruled }) => [pair(pick).name, commonPlaces([ruled], options(pick))])),
    sorted(moves.map(({ pick, by }) => [pair(pick).name, by])),
    sorted(beats.map(({ pattern }) => model.patterns[pattern]!.title)),
    model.books.length - 1 - book === 0,
  ]);
}

function sameStatement(
  statement: PickStatement,
  pair: Paired,
  models: Readonly<Record<Side, Model>>,
  picks: readonly Paired[],
  sameTest: Statements["sameTest"],
): boolean {
  const { before, after } = pair as Required<Paired>;
  const both = (key: (pick: Pick, side: Side) => unknown): boolean =>
    JSON.stringify(key(before, "before")) === JSON.stringify(key(after, "after"));
  switch (statement) {
    // Of options in no order it does not matter in which they are listed.
    case "options":
      return both((pick, side) => [pick.ordered, pick.ordered ? optionsOf(pair, side) : [...optionsOf(pair, side)].sort((a, b) => a - b)]);
    case "only when":
      return sameTest(before.onlyWhen, after.onlyWhen);
    case "say nothing":
      return sameSilences(before.sayNothing, after.sayNothing, models, sameTest);
    case "same as":
      return both((pick, side) => pick.sameAs && [models[side].conditions[pick.sameAs.condition]!.name, pick.sameAs.spans]);
    case "fall back":
      return both(
        (pick, side) =>
          pick.fallBack && [commonPlaces(pick.fallBack.places, optionsOf(pair, side)), isRoot(models[side], pick.fallBack.book)],
      );
    case "trust":
      return both((pick, side) =>
        pick.trust.map(({ kind, index }) =>
          kind === "condition" ? models[side].conditions[index]!.name : pairOf(picks, side, index).name,
        ),
      );
  }
}

function isRoot(model: Model, book: number): boolean {
  return book === model.books.length - 1;
}

function sameSilences(
  before: readonly SayNothing[],
  after: readonly SayNothing[],
  models: Readonly<Record<Side, Model>>,
  sameTest: Statements["sameTest"],
): boolean {
  const alike = (a: SayNothing, b: SayNothing): boolean =>
    a.everything === b.everything && isRoot(models.before, a.book) === isRoot(models.after, b.book) && sameTest(a.when, b.when);
  return (
    before.length === after.length &&
    before.every((a) => after.some((b) => alike(a, b))) &&
    after.every((b) => before.some((a) => alike(a, b)))
  );
}

function testsCompared(before: Answers, after: Answers, picks: readonly Paired[], spend: Budget): Statements["sameTest"] {
  const axes = after.model.axes.length;
  const fronts = picks.map((pair) => commonFronts(pair, before, after));
  const store = formulas((variable) => (variable < axes ? after.model.axes[variable]!.size : fronts[variable - axes]!.length));
  const compiled = (side: Side, test: Test | undefined): Formula =>
    store.compile(test, (pick, span) => {
      const pair = pairOf(picks, side, pick);
      const own = optionsOf(pair, side);
      const wanted = spanOf(own.flatMap((common, option) => (holds(span, option) ? [common] : [])));
      const at = picks.indexOf(pair);
      const values = fronts[at]!.map((front) => valueOfFront(front, wanted));
      const where = (value: number): Span => spanOf(values.flatMap((one, position) => (one === value ? [position] : [])));
      return { variable: axes + at, quarters: [where(HOLDS), where(FAILS), where(WAITS), where(NO_ADVICE)] };
    });
  return (a, b) => {
    const pair = [compiled("before", a), compiled("after", b)] as const;
    return pair[0] === pair[1] || withinBudget(() => findBox(store, differing(pair), (leaf) => leaf, spend) === undefined) === true;
  };
}

/** What may be seen of a pick, by the common options: all that either book answers somewhere. */
function commonFronts(pair: Paired, before: Answers, after: Answers): readonly Front[] {
  const found = new Map<string, Front>();
  for (const [answers, side] of [
    [before, "before"],
    [after, "after"],
  ] as const) {
    const pick = pair[side];
    if (!pick) continue;
    const own = optionsOf(pair, side);
    const fronts: readonly Front[] = answers.picks[pick.index]?.fronts ?? [
      ...pick.options.map((_, option) => [option]),
      "unsettled",
      "no advice",
      "not applicable",
    ];
    for (const front of fronts) {
      const common = typeof front === "string" ? front : commonPlaces([front], own)[0]!;
      found.set(String(common), common);
    }
  }
  return [...found.values()];
}
