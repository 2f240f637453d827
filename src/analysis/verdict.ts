/**
 * What a pick says where every test has its value: the steps of the language reference, "What it means at one point", in their order.
 * The one place that holds this meaning: direct answers, diagrams, and explanations all come here.
 *
 *     applicable ──beats──▶ ──more local──▶ ──narrower──▶ ──trust──▶ standing ──▶ list ──move──▶ ──never──▶ answer
 */
import Fraction from "fraction.js";
import type { Places } from "../model/model.js";
import { FAILS, HOLDS, WAITS, NO_ADVICE, type Mask } from "./diagrams/formula.js";
import type { Outcome } from "./outcome.js";
import { drops, PASSES, type PickRules, type Rule } from "./rules.js";

/** Why there is an answer, or none. Rules are named by their place in `PickRules.rules`. */
type Cause =
  /** Standing go withs (empty: leans or fall back) gave the list. */
  | { readonly kind: "list"; readonly from: "go with" | "lean" | "fall back" | "copy" }
  | { readonly kind: "circle"; readonly rules: readonly number[] }
  /** Standing lists share no option; `clash` where already two of them share none. */
  | { readonly kind: "disagree" | "clash" }
  /** Standing nevers strike out the whole list of the standing go withs. */
  | { readonly kind: "struck"; readonly nevers: readonly number[] }
  /** Nothing speaks for anything and the nevers rule out every option. */
  | { readonly kind: "nothing left"; readonly nevers: readonly number[] }
  | { readonly kind: "silent" }
  | { readonly kind: "waiting" | "not applicable" | "nothing speaks" };

export interface Yield {
  readonly rule: number;
  readonly to: number;
  readonly by: "beats" | (typeof PASSES)[number];
}

export interface Verdict extends Outcome {
  readonly cause: Cause;
  /** Go withs that stand after all passes. */
  readonly standing: readonly number[];
}

/** Everything that is the case at one point, for one pick. */
export interface Situation {
  readonly gate: Mask;
  /** One per `say nothing` of the pick. */
  readonly silences: readonly Mask[];
  /** By place of the rule, rising; one that is left out is known not to matter. */
  readonly whens: ReadonlyMap<number, Mask>;
  /** Of a judgement that is `same as` something: the option it copies. */
  readonly copy?: number;
}

/** What the `say nothing`s that hold leave unheard of a book. A `never` or a `move` is always heard. */
export interface Silenced {
  goes(book: number): boolean;
  /** Its leans, its `fall back` and, of a judgement, its copy. */
  rest(book: number): boolean;
}

export function silencedBook(
  rules: PickRules,
  situation: Pick<Situation, "silences">,
  moreLocal: (a: number, b: number) => boolean,
): Silenced {
  const active = rules.pick.sayNothing.filter((_, i) => situation.silences[i] === HOLDS);
  const isLess = (book: number, than: number): boolean => book === than || moreLocal(than, book);
  return {
    goes: (book) => active.some((silence) => (silence.everything ? !moreLocal(book, silence.book) : isLess(book, silence.book))),
    rest: (book) => active.some((silence) => silence.everything || isLess(book, silence.book)),
  };
}

/** Whether nothing of a rule is heard. */
export function isSilent(rule: Rule, silenced: Silenced): boolean {
  const { book } = rule.pattern;
  return (
    rule.nevers.size === 0 && rule.move === 0 && (!rule.goes || silenced.goes(book)) && (rule.leans.length === 0 || silenced.rest(book))
  );
}

export function verdict(rules: PickRules, situation: Situation, silenced: Silenced, onYield?: (yielded: Yield) => void): Verdict {
  const { pick } = rules;
  const { gate, silences, whens } = situation;

  // 0. Not applicable.
  if (gate === FAILS) return none("not applicable", { kind: "not applicable" });

  // 1.–3. What speaks, what is silenced by a stated beats, what is unsettled.
  const applicable: Rule[] = [];
  let unsettled = gate | silences.reduce((sum, value) => sum | value, 0);
  const beaten = (rule: Rule): number | undefined =>
    rule.beatenBy.find((by) => whens.get(by) === HOLDS && !isSilent(rules.rules[by]!, silenced));
  for (const [at, when] of whens) {
    const rule = rules.rules[at]!;
    if (isSilent(rule, silenced)) continue;
    if (when === HOLDS) applicable.push(rule);
    else if (beaten(rule) === undefined) unsettled |= when;
  }
  if (unsettled & WAITS) return none("waiting", { kind: "waiting" });
  const circle = rules.circles.length > 0 ? circleAmong(rules, new Set(applicable.map((rule) => rule.at))) : undefined;
  if (circle) return none("conflict", { kind: "circle", rules: circle });
  if (unsettled & NO_ADVICE) return none("no advice", { kind: "waiting" });
  const left = applicable.filter((rule) => {
    const by = beaten(rule);
    if (by !== undefined) onYield?.({ rule: rule.at, to: by, by: "beats" });
    return by === undefined;
  });
  const nevers = left.filter((rule) => rule.nevers.size > 0);
  const ruledOut = (option: number): boolean => nevers.some((rule) => rule.nevers.has(option));
  const everyOptionRuledOut = (): boolean => pick.options.every((_, option) => ruledOut(option));
  const shift = left.reduce((sum, rule) => sum + rule.move, 0);
  const totals = leanTotals(left.filter((rule) => !silenced.rest(rule.pattern.book)));

  // 4. Three more passes.
  let standing = left.filter((rule) => rule.goes && !silenced.goes(rule.pattern.book));
  for (const by of PASSES) {
    if (standing.length < 2) break;
    const before = standing;
    standing = before.filter((rule) => {
      const to = before.find((other) => other !== rule && drops(rules, by, other, rule));
      if (to) onYield?.({ rule: rule.at, to: to.at, by });
      return !to;
    });
  }

  const finish = (list: Places): Places => struckOut(moved(list, shift, pick.options.length), ruledOut);
  const stands = standing.map((rule) => rule.at);
  let spoken = false;

  // 5. The list of those that stand.
  if (standing.length > 0) {
    const list = commonList(standing, totals);
    if (list.length === 0) return none("conflict", { kind: "disagree" }, stands);
    const places = finish(list);
    if (places.length === 0) {
      const options = moved(list, shift, pick.options.length).flat();
      return none("conflict", { kind: "struck", nevers: fewestRulingOut(nevers, options) }, stands);
    }
    const together = places[0]!.length === 1 || writtenTogether(standing, list, places[0]!, shift, pick.options.length);
    return { status: together ? "decided" : "toss-up", places, cause: { kind: "list", from: "go with" }, standing: stands };
  }

  // 6. Leans.
  const leaning = byTotal(totals);
  if (leaning.length > 0) {
    spoken = true;
    const places = finish(leaning);
    if (places.length > 0)
      return { status: places[0]!.length === 1 ? "decided" : "toss-up", places, cause: { kind: "list", from: "lean" }, standing: [] };
  }

  // 7. Fall back, or the copy that `same as` makes.
  const fallBack = pick.fallBack && !silenced.rest(pick.fallBack.book) ? pick.fallBack.places : undefined;
  const copy = situation.copy !== undefined && !silenced.rest(pick.book) ? [[situation.copy]] : undefined;
  const last = fallBack ?? copy;
  if (last) {
    const places = finish(last);
    if (places.length > 0)
      return fallBack
        ? { status: "fallback", places, cause: { kind: "list", from: "fall back" }, standing: [] }
        : { status: "decided", places, cause: { kind: "list", from: "copy" }, standing: [] };
    spoken = true;
  }

  // 1., last sentence: silence, if nothing else gave a list. 8. Else nothing.
  if (!spoken && silences.includes(HOLDS)) return none("no advice", { kind: "silent" });
  return everyOptionRuledOut()
    ? none("conflict", {
        kind: "nothing left",
        nevers: fewestRulingOut(
          nevers,
          pick.options.map((_, option) => option),
        ),
      })
    : none("gap", { kind: "nothing speaks" });
}

function none(status: Outcome["status"], cause: Cause, standing: readonly number[] = []): Verdict {
  return { status, places: [], cause, standing };
}

/** Some stated circle of which every rule is applicable. */
function circleAmong(rules: PickRules, applicable: ReadonlySet<number>): readonly number[] | undefined {
  for (const component of rules.circles) {
    const inside = component.filter((at) => applicable.has(at));
    // Peel off rules that name no other one left, until nothing changes: what remains holds a circle.
    let left = inside;
    for (;;) {
      const next = left.filter(
        (at) => rules.rules[at]!.beats.some((beaten) => left.includes(beaten)) && rules.rules[at]!.beatenBy.some((by) => left.includes(by)),
      );
      if (next.length === left.length) break;
      left = next;
    }
    if (left.length > 0) return left;
  }
  return undefined;
}

function leanTotals(rules: readonly Rule[]): ReadonlyMap<number, Fraction> {
  const totals = new Map<number, Fraction>();
  for (const rule of rules) for (const { option, by } of rule.leans) totals.set(option, (totals.get(option) ?? new Fraction(0)).add(by));
  return totals;
}

/** The options in all standing lists, by the best place any gives, then by lean total; equal ones share a place. */
function commonList(standing: readonly Rule[], totals: ReadonlyMap<number, Fraction>): Places {
  const common = [...standing[0]!.goesTo].filter((option) => standing.every((rule) => rule.goesTo.has(option)));
  const best = new Map(common.map((option) => [option, Math.min(...standing.map((rule) => placeOf(rule.goes!, option)))]));
  const total = (option: number): Fraction => totals.get(option) ?? new Fraction(0);
  const compare = (a: number, b: number): number => best.get(a)! - best.get(b)! || total(b).compare(total(a));
  return grouped(
    [...common].sort((a, b) => compare(a, b) || a - b),
    compare,
  );
}

/** Positive totals, highest first, at most three places. */
function byTotal(totals: ReadonlyMap<number, Fraction>): Places {
  const positive = [...totals].filter(([, total]) => total.compare(0) > 0);
  const of = new Map(positive);
  const compare = (a: number, b: number): number => of.get(b)!.compare(of.get(a)!);
  return grouped(
    positive.map(([option]) => option).sort((a, b) => compare(a, b) || a - b),
    compare,
  ).slice(0, 3);
}

function grouped(sorted: readonly number[], compare: (a: number, b: number) => number): Places {
  const places: number[][] = [];
  for (const option of sorted) {
    const last = places.at(-1);
    if (last && compare(last[0]!, option) === 0) last.push(option);
    else places.push([option]);
  }
  return places;
}

/** Every place shifted along the pick's order, stopping at its ends; an option brought twice keeps its best place. */
function moved(places: Places, shift: number, options: number): Places {
  if (shift === 0) return places;
  const seen = new Set<number>();
  return places
    .map((place) =>
      [...new Set(place.map((option) => shifted(option, shift, options)))]
        .filter((option) => !seen.has(option) && seen.add(option))
        .sort((a, b) => a - b),
    )
    .filter((place) => place.length > 0);
}

function shifted(option: number, shift: number, options: number): number {
  return Math.max(0, Math.min(options - 1, option + shift));
}

function struckOut(places: Places, ruledOut: (option: number) => boolean): Places {
  return places.map((place) => place.filter((option) => !ruledOut(option))).filter((place) => place.length > 0);
}

/** Nevers that together rule out all the given options, none of them to spare. */
function fewestRulingOut(nevers: readonly Rule[], options: readonly number[]): readonly number[] {
  return smallest(nevers, (some) => options.every((option) => some.some((rule) => rule.nevers.has(option)))).map((rule) => rule.at);
}

/** Part of a list for which `enough` still holds, though not without any one of its items. */
export function smallest<T>(list: readonly T[], enough: (some: readonly T[]) => boolean): readonly T[] {
  let left = list;
  for (const item of list) {
    const without = left.filter((other) => other !== item);
    if (enough(without)) left = without;
  }
  return left;
}

/** Whether one standing list writes all options at the final front in one place: "either of these". */
function writtenTogether(standing: readonly Rule[], list: Places, front: readonly number[], shift: number, options: number): boolean {
  // The place of the list that became the front: nevers may have emptied those before it.
  const origins = list.find((place) => place.some((option) => front.includes(shifted(option, shift, options))))!;
  return standing.some((rule) =>
    rule.goes!.some((place) =>
      front.every((option) => place.some((written) => origins.includes(written) && shifted(written, shift, options) === option)),
    ),
  );
}

function placeOf(places: Places, option: number): number {
  return places.findIndex((place) => place.includes(option));
}
