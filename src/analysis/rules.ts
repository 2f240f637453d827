/**
 * What one pick's patterns are to each other, before any point is looked at.
 *
 *     stated beats     a ──▶ b        from the book's words
 *     more local       a ──▶ b        a's book builds on b's
 *     narrower         a ──▶ b        a's `when` implies b's and not the other way round
 *     trust            a ≺ b          sorted ranks of the listed conditions that can change whether the `when` holds
 *
 * All four depend on the book alone. *Narrower* and the ranks are judged from the `when`s alone, over every combination of the values
 * they mention, possible or not, a tested pick standing for any one of its options; they are worked out when first asked for, since
 * most pairs of patterns never meet.
 */
import { components } from "../model/components.js";
import type { Model, Pattern, Pick, Places, Subject, Test } from "../model/model.js";
import { complement, within as spanWithin, type Span } from "../model/span.js";
import type { Budget } from "./budget.js";
import { boxInBox, plainBox } from "./plain.js";
import { findBox, whether } from "./diagrams/decide.js";
import { formulas, oneBit, type Formula, type Formulas, type Quarters } from "./diagrams/formula.js";

/** A pattern's part in one pick. */
export interface Rule {
  /** Its place in `PickRules.rules`. */
  readonly at: number;
  readonly pattern: Pattern;
  readonly goes: Places | undefined;
  /** Options of `goes`. */
  readonly goesTo: ReadonlySet<number>;
  readonly leans: Pattern["leans"];
  readonly nevers: ReadonlySet<number>;
  readonly move: number;
  /** Rules (by place) that a stated `beats` silences on this pick, and that silence it. */
  readonly beats: readonly number[];
  readonly beatenBy: readonly number[];
}

export interface PickRules {
  readonly pick: Pick;
  readonly rules: readonly Rule[];
  /** Rules that stand in some stated circle, by circle. */
  readonly circles: readonly (readonly number[])[];
  moreLocal(a: Rule, b: Rule): boolean;
  narrower(a: Rule, b: Rule): boolean;
  /** Negative: a is trusted more; 0: alike. */
  byTrust(a: Rule, b: Rule): number;
  /** The ranks themselves, best first: places in the pick's trust list. */
  ranks(rule: Rule): readonly number[];
}

export function pickRules(model: Model, pick: Pick, whens: Whens): PickRules {
  const speaking = model.patterns.filter((pattern) => speaksOn(pattern, pick.index));
  const place = new Map(speaking.map((pattern, at) => [pattern.index, at]));
  const beats = speaking.map((pattern) => [...new Set(pattern.beats.flatMap((beaten) => place.get(beaten.pattern) ?? []))]);
  const beatenBy: number[][] = speaking.map(() => []);
  beats.forEach((list, at) => list.forEach((beaten) => beatenBy[beaten]!.push(at)));
  const rules = speaking.map((pattern, at): Rule => {
    const goes = pattern.goes.find((part) => part.pick === pick.index)?.places;
    return {
      at,
      pattern,
      goes,
      goesTo: new Set(goes?.flat()),
      leans: pattern.leans.filter((part) => part.pick === pick.index),
      nevers: new Set(pattern.nevers.filter((part) => part.pick === pick.index).flatMap((part) => part.options)),
      move: pattern.moves.filter((part) => part.pick === pick.index).reduce((sum, part) => sum + part.by, 0),
      beats: beats[at]!,
      beatenBy: beatenBy[at]!,
    };
  });
  const rankCache = new Map<number, readonly number[]>();
  const ranks = (rule: Rule): readonly number[] => {
    let known = rankCache.get(rule.at);
    if (!known) {
      known = ranksOf(pick, rule.pattern.when, whens);
      rankCache.set(rule.at, known);
    }
    return known;
  };
  let order: readonly number[] | undefined;
  return {
    pick,
    rules,
    circles: components(beats).filter(([first, ...others]) => others.length > 0 || beats[first!]!.includes(first!)),
    ranks,
    moreLocal: (a, b) => model.moreLocal(a.pattern.book, b.pattern.book),
    narrower: remembered(rules.length, (a, b) => whens.narrower(a.pattern.when, b.pattern.when)),
    byTrust: (a, b) => {
      order ??= inOrder(rules.map(ranks));
      return order[a.at]! - order[b.at]!;
    },
  };
}

/** A relation between some of `count` rules that is asked again and again of the same few, each pair worked out once. */
export function remembered(count: number, relation: (a: Rule, b: Rule) => boolean): (a: Rule, b: Rule) => boolean {
  /** Row by row: 0 not yet known, 1 no, 2 yes. */
  const known: Uint8Array[] = [];
  return (a, b) => {
    const row = (known[a.at] ??= new Uint8Array(count));
    return (row[b.at] ||= relation(a, b) ? 2 : 1) === 2;
  };
}

/** For each list of ranks its place among them all: equal lists, equal places. */
function inOrder(ranks: readonly (readonly number[])[]): readonly number[] {
  const distinct = [...new Map(ranks.map((list) => [list.join(), list])).values()].sort(compareRanks);
  const place = new Map(distinct.map((list, at) => [list.join(), at]));
  return ranks.map((list) => place.get(list.join())!);
}

/** Places in the pick's trust list that a `when` depends on, rising. */
export function ranksOf(pick: Pick, when: Test | undefined, about: Whens): readonly number[] {
  return pick.trust.flatMap((subject, rank) => (about.dependsOn(when, subject) ? [rank] : []));
}

/** The pick's rules where one of them has another `when`. */
export function withWhen(rules: PickRules, at: number, when: Test | undefined, about: Whens): PickRules {
  const changed = ranksOf(rules.pick, when, about);
  const ranks = (rule: Rule): readonly number[] => (rule.at === at ? changed : rules.ranks(rule));
  return {
    ...rules,
    rules: rules.rules.map((rule) => (rule.at === at ? { ...rule, pattern: { ...rule.pattern, when } } : rule)),
    ranks,
    narrower: (a, b) => (a.at === at || b.at === at ? about.narrower(a.pattern.when, b.pattern.when) : rules.narrower(a, b)),
    byTrust: (a, b) => (a.at === at || b.at === at ? compareRanks(ranks(a), ranks(b)) : rules.byTrust(a, b)),
  };
}

/** The passes after the stated `beats`, in their order. */
export const PASSES = ["more local", "narrower", "trust"] as const;

/** Whether in a pass one go with drops another, where both are left. */
export function drops(rules: PickRules, by: (typeof PASSES)[number], winner: Rule, loser: Rule): boolean {
  switch (by) {
    case "more local":
      return rules.moreLocal(winner, loser);
    case "narrower":
      return rules.narrower(winner, loser);
    case "trust":
      return rules.byTrust(winner, loser) < 0;
  }
}

export function speaksOn(pattern: Pattern, pick: number): boolean {
  return [pattern.goes, pattern.leans, pattern.nevers, pattern.moves].some((parts) => parts.some((part) => part.pick === pick));
}

/** Position by position, smaller first, missing last. */
export function compareRanks(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < Math.max(a.length, b.length); i++) {
    const difference = (a[i] ?? Infinity) - (b[i] ?? Infinity);
    if (difference !== 0 && !Number.isNaN(difference)) return difference;
  }
  return 0;
}

/** Questions about `when`s alone. */
export interface Whens {
  /** a implies b, and b does not imply a. */
  narrower(a: Test | undefined, b: Test | undefined): boolean;
  /** Whether the subject's value can change whether the `when` holds. */
  dependsOn(when: Test | undefined, subject: Subject): boolean;
  /** Whether it can hold at all. */
  canHold(when: Test | undefined): boolean;
}

export function whens(model: Model, budget: Budget): Whens {
  const axes = model.axes.length;
  const store = formulas((variable) => (variable < axes ? model.axes[variable]!.size : model.picks[variable - axes]!.options.length));
  const readOption = (pick: number, span: Span) => ({
    variable: axes + pick,
    quarters: [span, complement(span, model.picks[pick]!.options.length), [], []] as const,
  });
  const domain = model.domain.map((test) => store.compile(test, readOption));
  const compiled = new Map<Test | undefined, Formula>();
  const compile = (test: Test | undefined): Formula => {
    let formula = compiled.get(test);
    if (formula === undefined) compiled.set(test, (formula = store.compile(test, readOption)));
    return formula;
  };
  const holdsSomewhere = (whole: Formula): boolean => findBox(store, whether(whole), (holds) => holds === 1, budget) !== undefined;
  const satisfiable = (parts: readonly Formula[]): boolean => {
    return holdsSomewhere(store.and([...parts, ...domain.filter((test) => parts.some((part) => meets(store, part, test)))]));
  };
  const atomOutside = (
    formula: Formula,
    mine: readonly number[],
  ): { readonly variable: number; readonly quarters: Quarters } | undefined => {
    const { kind, parts } = store.shape(formula);
    if (kind === "atom")
      return mine.includes(store.support(formula)[0]!)
        ? undefined
        : { variable: store.support(formula)[0]!, quarters: store.quarters(formula) };
    for (const part of parts) {
      const found = atomOutside(part, mine);
      if (found) return found;
    }
    return undefined;
  };
  // Whether, with every other variable settled somehow, the formula still goes both ways over `mine`.
  const varies = (left: Formula, limits: readonly Formula[], mine: readonly number[]): boolean => {
    budget.spend();
    if (oneBit(store.mask(left)) || limits.includes(store.never)) return false;
    const other = atomOutside(left, mine);
    if (!other) return [left, store.not(left)].every((side) => holdsSomewhere(store.and([side, ...limits])));
    return [other.quarters[0], other.quarters[1]].some((side) =>
      varies(
        store.restrict(left, other.variable, side),
        limits.map((limit) => store.restrict(limit, other.variable, side)),
        mine,
      ),
    );
  };
  const cached = <T>(): ((a: number, b: number, work: () => T) => T) => {
    const known = new Map<number, T>();
    return (a, b, work) => {
      const key = a * 2 ** 26 + b;
      let result = known.get(key);
      if (result === undefined) known.set(key, (result = work()));
      return result;
    };
  };
  const implication = cached<boolean>();
  const implies = (a: Formula, b: Formula): boolean =>
    implication(a, b, () => {
      if (a === b || b === store.always) return true;
      if (a === store.never) return true;
      const plainA = store.conjunction(a);
      const plainB = store.conjunction(b);
      // Box in box: every limit of b is kept by a (a conjunction has one atom per variable). Exact where no set asks for at least one member.
      if (plainA && plainB && domain.length === 0)
        return plainB.every((limit) =>
          plainA.some((own) => own.variable === limit.variable && spanWithin(own.quarters[0], limit.quarters[0])),
        );
      return !satisfiable([a, store.not(b)]);
    });
  const dependence = cached<boolean>();
  return {
    narrower: (a, b) => {
      const [one, other] = [plainBox(a), plainBox(b)];
      // Box in box. Exact where no set asks for at least one member.
      if (typeof one !== "string" && typeof other !== "string" && domain.length === 0)
        return boxInBox(model, one, other) && !boxInBox(model, other, one);
      const [first, second] = [compile(a), compile(b)];
      return first !== second && implies(first, second) && !implies(second, first);
    },
    canHold: (when) => satisfiable([compile(when)]),
    dependsOn: (when, subject) => {
      const formula = compile(when);
      const mine = subject.kind === "pick" ? [axes + subject.index] : model.conditions[subject.index]!.axes;
      return dependence(formula, mine[0]!, () => {
        if (!store.support(formula).some((variable) => mine.includes(variable))) return false;
        return varies(formula, domain, mine);
      });
    },
  };
}

function meets(store: Formulas, a: Formula, b: Formula): boolean {
  return store.support(a).some((variable) => store.support(b).includes(variable));
}
