/**
 * Who may drop whom on one pick, worked out once: a question about two rules need only look at those.
 *
 *     beats ──▶ more local ──▶ narrower ──▶ trust          `early`: the first three
 *
 * The trust pass looks at all that the three before it have left, so whoever drops a rule by trust does so whether or not it is dropped
 * itself in that pass: of rules that are only asked for because they drop others, `early` is all that matters.
 */
import { HOLDS, NO_ADVICE, WAITS, type Mask } from "../diagrams/formula.js";
import type { Answers, Askable } from "../answers.js";
import { meet, type Hull } from "../neighbours.js";
import { drops, type PickRules, type Rule } from "../rules.js";

export interface Overruling {
  /** Rules that silence a rule, or drop it before trust is asked, somewhere. */
  early(rule: Rule): readonly Rule[];
  /** The same, or by trust. */
  any(rule: Rule): readonly Rule[];
  /** All that has a say, inside a hull, in whether rules stand and whether others are left when trust is asked. */
  involved(standing: readonly Rule[], left: readonly Rule[], hull: Hull | "nowhere"): ReadonlySet<Rule>;
  /** Whether a rule is bound to be dropped by one of those given, whatever is still open. */
  dropped(by: Iterable<Rule>, mask: (rule: Rule) => Mask): boolean;
}

export function overruling({ store, compile }: Answers, { rules, hull, index }: Askable): Overruling {
  const inCircle = new Set(rules.circles.flat());
  // Rules that can leave the pick waiting or in a circle.
  const restless = rules.rules.filter((rule) => inCircle.has(rule.at) || store.mask(compile(rule.pattern.when)) & (WAITS | NO_ADVICE));
  const meeting = (rule: Rule): readonly Rule[] =>
    index()
      .meeting(hull(rule))
      .map((at) => rules.rules[at]!)
      .filter((other) => other !== rule);
  const early = remembered((rule: Rule) => meeting(rule).filter((other) => dropsEarly(rules, other, rule)));
  const any = remembered((rule: Rule) => meeting(rule).filter((other) => dropsAtAll(rules, other, rule)));
  return {
    early,
    any,
    involved(standing, left, within) {
      const involved = new Set([...standing, ...left]);
      const add = (list: readonly Rule[]): void => {
        for (const rule of list) if (meet(hull(rule), within)) involved.add(rule);
      };
      add(restless);
      for (const rule of standing) add(any(rule));
      // A set goes on to what is added meanwhile.
      for (const rule of involved) add(early(rule));
      return involved;
    },
    dropped(by, mask) {
      for (const rule of by) if (mask(rule) === HOLDS && early(rule).every((other) => (mask(other) & HOLDS) === 0)) return true;
      return false;
    },
  };
}

/** Whether a, where it stands, silences b or drops it before trust is asked. */
export function dropsEarly(rules: PickRules, a: Rule, b: Rule): boolean {
  return a.beats.includes(b.at) || (bothGo(a, b) && (drops(rules, "more local", a, b) || drops(rules, "narrower", a, b)));
}

function dropsAtAll(rules: PickRules, a: Rule, b: Rule): boolean {
  return dropsEarly(rules, a, b) || (bothGo(a, b) && drops(rules, "trust", a, b));
}

function bothGo(a: Rule, b: Rule): boolean {
  return a.goes !== undefined && b.goes !== undefined;
}

function remembered<T>(work: (rule: Rule) => T): (rule: Rule) => T {
  const known = new Map<Rule, T>();
  return (rule) => {
    let value = known.get(rule);
    if (value === undefined) known.set(rule, (value = work(rule)));
    return value;
  };
}
