/**
 * Why one point gets its answer, pick by pick, as plain data in the book's own words.
 *
 *     every pattern that speaks ──▶ what it says, and whether it stands or which other it yields to, by which rule
 *     list ──moves──nevers──▶ answer; of every other option why it is not in front; of every condition the nearest change
 *     that would change the answer
 */
import Fraction from "fraction.js";
import { HOLDS, NO_ADVICE, WAITS } from "../analysis/diagrams/formula.js";
import type { Point, Status } from "../analysis/outcome.js";
import { answersAt, frontOf, type PickAnswer } from "../analysis/point.js";
import { compareRanks, type Rule } from "../analysis/rules.js";
import { silencedBook, type Yield } from "../analysis/verdict.js";
import type { Example } from "../diagnostics.js";
import { picksIn } from "../model/atoms.js";
import type { Model, Places } from "../model/model.js";
import { exampleOf } from "../model/points.js";
import { beforeStriking, unbeaten } from "./because.js";
import { tryingOthers, type Change } from "./nearest.js";
import type { Texts } from "../messages/words.js";
import { onlyWhenText } from "../model/reader.js";
import { optionTexts } from "../model/texts.js";

export interface Explanation {
  readonly point: Example;
  /** One per pick and judgement, in the order of `model.picks`. */
  readonly picks: readonly PickExplained[];
}

export interface PickExplained {
  readonly pick: string;
  readonly label: string;
  readonly judgement: boolean;
  readonly status: Status;
  readonly answer: Texts;
  /** Where the list comes from; none: there is no list. */
  readonly from?: "go with" | "lean" | "fall back" | "copy";
  /** Its `because`, where the book falls back or says nothing. */
  readonly text?: string;
  /** Where it is not applicable: the test after `only when`, as written. */
  readonly onlyWhen?: string;
  /** Every pattern that speaks on the pick here, in book order. */
  readonly patterns: readonly Spoken[];
  /** Picks whose answer is not settled here, though something waits for it. */
  readonly waitsFor: readonly string[];
  /** Lean totals, where any pattern leans: exact, highest first. */
  readonly totals: readonly { readonly option: string; readonly total: string }[];
  /** Steps by which everything was moved along the order; 0: none. */
  readonly shift: number;
  /** Titles of patterns that each beat another of them, in a circle. */
  readonly circle: readonly string[];
  /** Every option that is not in front, and why; empty where there is no list. */
  readonly others: readonly Other[];
  /** At most one per condition, in book order. */
  readonly changes: readonly Change[];
}

export interface Spoken {
  readonly pattern: string;
  readonly because?: string;
  readonly goes?: Texts;
  readonly leans: readonly { readonly option: string; readonly by: string }[];
  readonly nevers: readonly string[];
  readonly move: number;
  /** Its go with stands to the end. */
  readonly stands: boolean;
  /** Its go withs and leans are not heard: a `say nothing` holds. */
  readonly silent: boolean;
  readonly yields?: Yielded;
}
interface Yielded {
  readonly to: string;
  readonly by: Yield["by"];
  /** By trust: the first place where the two differ, the listed condition each goes by there; none: it goes by none that is left. */
  readonly own?: string;
  readonly other?: string;
  /** More local: the book the other stands in. */
  readonly book?: string;
}

export type Other = { readonly option: string } &
  /** It is in the list, but not in front; `place` counts from 2. */
  (
    | { readonly why: "later"; readonly place: number }
    /** Nevers rule it out. */
    | { readonly why: "ruled out"; readonly patterns: readonly string[] }
    /** Moved away from it. */
    | { readonly why: "moved"; readonly patterns: readonly string[] }
    /** Of the standing lists, these do not have it. */
    | { readonly why: "not in every list"; readonly patterns: readonly string[] }
    /** What recommends it yields. */
    | { readonly why: "yields"; readonly patterns: readonly string[] }
    /** What speaks for it is not heard. */
    | { readonly why: "silent"; readonly patterns: readonly string[] }
    /** It is leaned to, but something goes with another outright. */
    | { readonly why: "only leaned to"; readonly total: string }
    /** It is leaned to less than those in front, or altogether leaned off. */
    | { readonly why: "leaned to less"; readonly total: string; readonly front: string }
    | { readonly why: "nothing speaks for it" }
  );

/**
 * Why every pick has its answer at a possible point. `given`: values as a customer told them, where they are more exact than a position
 * (4 ft is somewhere between two limits). In short pieces of work.
 */
export function* explaining(model: Model, point: Point, given: Example = {}): Generator<void, Explanation> {
  const answers = answersAt(model, point);
  const changes = yield* tryingOthers(model, point);
  return {
    point: { ...exampleOf(model, point), ...given },
    picks: answers.map((answer, index) => explainPick(model, answers, answer, changes[index]!)),
  };
}

function explainPick(model: Model, answers: readonly PickAnswer[], answer: PickAnswer, changes: readonly Change[]): PickExplained {
  const { rules, situation, verdict, outcome } = answer;
  const { pick } = rules;
  const { cause } = verdict;
  const totals = totalsOf(model, answer);
  return {
    pick: pick.name,
    label: pick.label,
    judgement: pick.judgement,
    status: outcome.status,
    answer: optionTexts(pick, outcome.places),
    from: cause.kind === "list" ? cause.from : undefined,
    text:
      cause.kind === "list" && cause.from === "fall back"
        ? pick.fallBack!.because
        : outcome.status === "no advice"
          ? pick.sayNothing.find((_, i) => situation.silences[i] === HOLDS)?.because
          : undefined,
    onlyWhen: outcome.status === "not applicable" ? onlyWhenText(model, pick) : undefined,
    patterns:
      outcome.status === "not applicable"
        ? []
        : rules.rules.filter(({ at }) => situation.whens.get(at) === HOLDS).map((rule) => spokenBy(model, answer, rule)),
    waitsFor: cause.kind === "waiting" ? waitsFor(model, answers, answer) : [],
    totals: [...totals]
      .sort(([, a], [, b]) => b.compare(a))
      .map(([option, total]) => ({ option: pick.options[option]!.text, total: total.toFraction() })),
    shift: outcome.places.length > 0 ? unbeaten(model, answer).reduce((sum, rule) => sum + rule.move, 0) : 0,
    circle: cause.kind === "circle" ? cause.rules.map((at) => rules.rules[at]!.pattern.title) : [],
    others:
      outcome.places.length > 0
        ? pick.options.flatMap((_, option) => (outcome.places[0]!.includes(option) ? [] : [whyNot(model, answer, totals, option)]))
        : [],
    changes,
  };
}

function spokenBy(model: Model, answer: PickAnswer, rule: Rule): Spoken {
  const { rules, situation, verdict, yields } = answer;
  const { pick } = rules;
  const yielded = yields.find(({ rule: at }) => at === rule.at);
  const silenced = silencedBook(rules, situation, model.moreLocal);
  return {
    pattern: rule.pattern.title,
    because: rule.pattern.because,
    goes: rule.goes && optionTexts(pick, rule.goes),
    leans: rule.leans.map(({ option, by }) => ({ option: pick.options[option]!.text, by: by.toFraction() })),
    nevers: [...rule.nevers].sort((a, b) => a - b).map((option) => pick.options[option]!.text),
    move: rule.move,
    stands: verdict.standing.includes(rule.at),
    silent: silenced.goes(rule.pattern.book) || (!rule.goes && silenced.rest(rule.pattern.book)),
    yields: yielded && yieldedTo(model, answer, yielded),
  };
}

function yieldedTo(model: Model, { rules }: PickAnswer, { rule, to, by }: Yield): Yielded {
  const [loser, winner] = [rules.rules[rule]!, rules.rules[to]!];
  const base = { to: winner.pattern.title, by };
  if (by === "more local") return { ...base, book: model.books[winner.pattern.book]!.title };
  if (by !== "trust") return base;
  const [mine, theirs] = [rules.ranks(loser), rules.ranks(winner)];
  const at = Array.from({ length: Math.max(mine.length, theirs.length) }, (_, i) => i).find(
    (i) => compareRanks(mine.slice(0, i + 1), theirs.slice(0, i + 1)) !== 0,
  )!;
  const subject = (rank: number | undefined): string | undefined => {
    if (rank === undefined) return undefined;
    const { kind, index } = rules.pick.trust[rank]!;
    return kind === "condition" ? model.conditions[index]!.name : model.picks[index]!.name;
  };
  return { ...base, own: subject(mine[at]), other: subject(theirs[at]) };
}

/** Picks tested by what is unsettled here, whose own answer is not settled. */
function waitsFor(model: Model, answers: readonly PickAnswer[], { rules, situation }: PickAnswer): readonly string[] {
  const { pick } = rules;
  const isOpen = (value: number | undefined): boolean => value === WAITS || value === NO_ADVICE;
  const tests = [
    ...(isOpen(situation.gate) ? [pick.onlyWhen] : []),
    ...pick.sayNothing.flatMap(({ when }, i) => (isOpen(situation.silences[i]) ? [when] : [])),
    ...rules.rules.flatMap(({ at, pattern }) => (isOpen(situation.whens.get(at)) ? [pattern.when] : [])),
  ];
  const tested = [...new Set(tests.flatMap(picksIn))].sort((a, b) => a - b);
  const unsettled = (index: number): boolean => {
    const front = frontOf(answers[index]!.outcome);
    return front === "unsettled" || front === "no advice" || (typeof front !== "string" && front.length > 1);
  };
  return tested.filter(unsettled).map((index) => model.picks[index]!.name);
}

/** Lean totals of all patterns that are heard, by option. */
function totalsOf(model: Model, answer: PickAnswer): ReadonlyMap<number, Fraction> {
  const silenced = silencedBook(answer.rules, answer.situation, model.moreLocal);
  const totals = new Map<number, Fraction>();
  if (answer.outcome.status === "not applicable") return totals;
  for (const rule of unbeaten(model, answer))
    if (!silenced.rest(rule.pattern.book))
      for (const { option, by } of rule.leans) totals.set(option, (totals.get(option) ?? new Fraction(0)).add(by));
  return totals;
}

function whyNot(model: Model, answer: PickAnswer, totals: ReadonlyMap<number, Fraction>, option: number): Other {
  const { rules, situation, verdict, outcome, yields } = answer;
  const { pick } = rules;
  const base = { option: pick.options[option]!.text };
  const titles = (some: readonly Rule[]): readonly string[] => some.map(({ pattern }) => pattern.title);
  const place = outcome.places.findIndex((options) => options.includes(option));
  if (place > 0) return { ...base, why: "later", place: place + 1 };
  const speaking = unbeaten(model, answer);
  const nevers = speaking.filter((rule) => rule.nevers.has(option));
  if (nevers.length > 0) return { ...base, why: "ruled out", patterns: titles(nevers) };
  const { plain, shifted } = beforeStriking(model, answer);
  if (isIn(plain, option) && !isIn(shifted, option))
    return { ...base, why: "moved", patterns: titles(speaking.filter((rule) => rule.move !== 0)) };
  const recommends = rules.rules.filter((rule) => situation.whens.get(rule.at) === HOLDS && rule.goesTo.has(option));
  const standing = verdict.standing.map((at) => rules.rules[at]!);
  if (recommends.some((rule) => standing.includes(rule)))
    return { ...base, why: "not in every list", patterns: titles(standing.filter((rule) => !rule.goesTo.has(option))) };
  const yielding = recommends.filter((rule) => yields.some(({ rule: at }) => at === rule.at));
  if (yielding.length > 0) return { ...base, why: "yields", patterns: titles(yielding) };
  if (recommends.length > 0) return { ...base, why: "silent", patterns: titles(recommends) };
  const total = totals.get(option);
  if (total && verdict.standing.length > 0 && total.compare(0) > 0) return { ...base, why: "only leaned to", total: total.toFraction() };
  if (total && verdict.cause.kind === "list" && verdict.cause.from === "lean")
    return { ...base, why: "leaned to less", total: total.toFraction(), front: highest(totals).toFraction() };
  return { ...base, why: "nothing speaks for it" };
}

function isIn(places: Places, option: number): boolean {
  return places.some((place) => place.includes(option));
}

function highest(totals: ReadonlyMap<number, Fraction>): Fraction {
  return [...totals.values()].reduce((a, b) => (b.compare(a) > 0 ? b : a));
}
