/**
 * One pick as a question for box splitting: which formulas still matter in a box, and what the pick says once they are settled.
 *
 * Pruning keeps the boxes few: a rule that some sure rule is bound to drop is not asked about. It may only be dropped where it could
 * change nothing else either, and the reasons below are each safe whatever the still open rules turn out to be.
 */
import type { Model } from "../model/model.js";
import { FAILS, HOLDS, NO_ADVICE, oneBit, WAITS, type Formula, type Formulas, type Mask } from "./diagrams/formula.js";
import type { Question, Settled } from "./diagrams/decide.js";
import { remembered, type PickRules, type Rule } from "./rules.js";
import { isSilent, silencedBook, verdict, type Silenced, type Situation, type Verdict } from "./verdict.js";

/** Where each formula of a pick stands in its question. */
export interface PickFormulas {
  readonly formulas: readonly Formula[];
  readonly silence: (i: number) => number;
  readonly rule: (at: number) => number;
  readonly copy: (option: number) => number;
}

export function pickFormulas(rules: PickRules, compile: (test: Parameters<Formulas["compile"]>[0]) => Formula): PickFormulas {
  const { pick } = rules;
  const silences = pick.sayNothing.length;
  const count = rules.rules.length;
  return {
    formulas: [
      compile(pick.onlyWhen),
      ...pick.sayNothing.map((silence) => compile(silence.when)),
      ...rules.rules.map((rule) => compile(rule.pattern.when)),
      ...(pick.sameAs?.spans ?? []).map((span) => compile({ kind: "axis", axis: pick.sameAs!.axis, span, range: pick.place.range })),
    ],
    silence: (i) => 1 + i,
    rule: (at) => 1 + silences + at,
    copy: (option) => 1 + silences + count + option,
  };
}

export interface PickQuestionOptions<L> {
  /** What to answer where everything that matters is settled; the verdict unless said otherwise. */
  readonly leafOf?: (situation: Situation) => L;
  /** Rules that must stay in view and may not serve as a reason to drop others. */
  readonly watched?: ReadonlySet<number>;
  /**
   * The variant that the watched rules are compared in: how they stand to others there, and what their `when` is. Without it, anything;
   * with it, a watched rule is dropped where it changes nothing, as it stands or in the variant.
   */
  readonly variant?: { readonly rules: PickRules; readonly when: Mask };
  /** What to answer where two that surely stand share no option, watched rules or not. */
  readonly clash?: L;
}

export function pickQuestion(model: Model, rules: PickRules, at: PickFormulas): Question<Verdict>;
export function pickQuestion<L>(
  model: Model,
  rules: PickRules,
  at: PickFormulas,
  options: PickQuestionOptions<L> & { readonly leafOf: (situation: Situation) => L },
): Question<L>;
export function pickQuestion<L>(
  model: Model,
  rules: PickRules,
  at: PickFormulas,
  options: PickQuestionOptions<L> = {},
): Question<L | Verdict> {
  const { pick } = rules;
  const watched = options.watched ?? new Set<number>();
  const { variant } = options;
  const clash = options.leafOf ? options.clash : CLASH;
  // Of a watched rule what holds in either variant is taken into account.
  const inEither = (a: Rule, b: Rule, relation: (rules: PickRules, a: Rule, b: Rule) => boolean): boolean =>
    relation(rules, a, b) ||
    (variant !== undefined &&
      (watched.has(a.at) || watched.has(b.at)) &&
      relation(variant.rules, variant.rules.rules[a.at]!, variant.rules.rules[b.at]!));
  const inBoth = (a: Rule, b: Rule, relation: (rules: PickRules, a: Rule, b: Rule) => boolean): boolean =>
    !inEither(a, b, (of, one, other) => !relation(of, one, other));
  const isUnknown = (rule: Rule): boolean => watched.has(rule.at) && variant === undefined;
  const among = (relation: (a: Rule, b: Rule) => boolean) => remembered(rules.rules.length, relation);
  const mayDrop = among((a, b) => isUnknown(a) || rules.moreLocal(a, b) || inEither(a, b, (of, one, other) => of.narrower(one, other)));
  const mayBeTrustedMore = among((a, b) => inEither(a, b, (of, one, other) => of.byTrust(one, other) < 0));
  const isNarrower = among((a, b) => inBoth(a, b, (of, one, other) => of.narrower(one, other)));
  const isTrustedMore = among((a, b) => inBoth(a, b, (of, one, other) => of.byTrust(one, other) < 0));
  const inCircle = new Set(rules.circles.flat());
  const anyMoves = rules.rules.some((rule) => rule.move !== 0);
  const anyBeats = rules.rules.some((rule) => rule.beats.length > 0);
  const leafOf =
    options.leafOf ??
    ((situation: Situation) => {
      const result = verdict(rules, situation, silencedBook(rules, situation, model.moreLocal));
      const disagree =
        result.cause.kind === "disagree" &&
        result.standing.some((a, i) => result.standing.slice(i + 1).some((b) => shareNothing(rules.rules[a]!, rules.rules[b]!)));
      return disagree ? CLASH : result;
    });

  const isSilence = (index: number): boolean => index >= at.silence(0) && index < at.rule(0);
  const ruleBy = (index: number): Rule | undefined => rules.rules[index - at.rule(0)];
  const isCopy = (index: number): boolean => index >= at.copy(0) && index < at.formulas.length;

  return {
    formulas: at.formulas,
    settle({ live, mask }): Settled<L | Verdict> {
      const gate = mask(0);
      if (gate === FAILS) return { leaf: leafOf({ gate, silences: [], whens: new Map() }) };
      if (!oneBit(gate)) return { keep: live, ask: [0], signature: constantsOf(live, mask) };
      const openSilences = live.filter((index) => isSilence(index) && !oneBit(mask(index)));
      if (openSilences.length > 0) return { keep: live, ask: openSilences, signature: constantsOf(live, mask) };
      const silences = pick.sayNothing.map((_, i) => mask(at.silence(i)));
      const silenced = silencedBook(rules, { silences }, model.moreLocal);
      // A watched rule may be anything in the variant it is compared with.
      const when = (rule: Rule): Mask =>
        !watched.has(rule.at) ? mask(at.rule(rule.at)) : variant ? mask(at.rule(rule.at)) | variant.when : ANYTHING;

      const isCandidate = (rule: Rule): boolean => (when(rule) & ~FAILS) !== 0 && !isSilent(rule, silenced);
      const candidates: Rule[] = [];
      for (const index of live) {
        const rule = ruleBy(index);
        if (rule && isCandidate(rule)) candidates.push(rule);
      }
      const beaten = (rule: Rule, test: (mask: Mask) => boolean): boolean =>
        rule.beatenBy.some((other) => isCandidate(rules.rules[other]!) && test(when(rules.rules[other]!)));
      const beatenSurely = (rule: Rule): boolean => beaten(rule, (value) => value === HOLDS);
      const beatenMaybe = (rule: Rule): boolean => beaten(rule, (value) => (value & HOLDS) !== 0);

      const free = (rule: Rule): boolean =>
        !isUnknown(rule) && !inCircle.has(rule.at) && !rule.beats.some((beaten) => isCandidate(rules.rules[beaten]!));
      const onlyFails = (rule: Rule): boolean => (when(rule) & (WAITS | NO_ADVICE)) === 0;
      let left: readonly Rule[] = anyBeats ? candidates.filter((rule) => !(beatenSurely(rule) && free(rule))) : candidates;

      // Rules that surely go into the passes, and can be a reason to drop others.
      const goes = left.filter((rule) => rule.goes && !silenced.goes(rule.pattern.book));
      const sure = goes.filter((rule) => when(rule) === HOLDS && !watched.has(rule.at) && !beatenMaybe(rule));
      if (sure.length > 0) {
        const rivals = goes.filter((rule) => when(rule) & HOLDS && !beatenSurely(rule));
        const couldDrop = (other: Rule, rule: Rule): boolean => other !== rule && mayDrop(other, rule);
        const safe = sure.filter((rule) => !rivals.some((other) => couldDrop(other, rule)));
        const dropped = (rule: Rule): boolean =>
          sure.some(
            (other) =>
              other !== rule && (rules.moreLocal(other, rule) || (other.pattern.book === rule.pattern.book && isNarrower(other, rule))),
          ) ||
          (safe.some((other) => other !== rule && isTrustedMore(other, rule)) &&
            !rivals.some((other) => other !== rule && (isUnknown(other) || mayDrop(rule, other))));
        left = left.filter((rule) => !(onlyGoes(rule) && free(rule) && onlyFails(rule) && dropped(rule)));
        // With one list sure to stand, what cannot touch its options does not matter.
        const standing = safe.filter((rule) => !rivals.some((other) => other !== rule && mayBeTrustedMore(other, rule)));
        const stands = standing[0];
        // Two that surely stand and share no option: whatever else there is, they are in conflict.
        if (
          stands &&
          standing.length > 1 &&
          clash !== undefined &&
          gate === HOLDS &&
          silences.every((value) => value === HOLDS || value === FAILS) &&
          candidates.every((rule) => onlyFails(rule) && !inCircle.has(rule.at)) &&
          standing.some((a, i) => standing.slice(i + 1).some((b) => shareNothing(a, b)))
        )
          return { leaf: clash };
        if (stands) {
          const touches = (rule: Rule): boolean =>
            rule.move !== 0 ||
            rule.goes !== undefined ||
            [...rule.nevers].some((option) => anyMoves || stands.goesTo.has(option)) ||
            (stands.goesTo.size > 1 && rule.leans.some((lean) => stands.goesTo.has(lean.option)));
          left = left.filter((rule) => touches(rule) || !free(rule) || !onlyFails(rule));
          // Nor do many more that would only say the same once again.
          const echoes = (rule: Rule): boolean =>
            !oneBit(when(rule)) &&
            onlyGoes(rule) &&
            free(rule) &&
            onlyFails(rule) &&
            sameList(rule, stands) &&
            !rivals.some((other) => !sameList(other, stands) && (couldDrop(rule, other) || mayBeTrustedMore(rule, other)));
          const many = left.length > MOST_ECHOES && left.filter(echoes).length > MOST_ECHOES;
          if (many || watched.size > 0) left = left.filter((rule) => !((many || watched.has(rule.at)) && echoes(rule)));
        }
      }

      const ruleIndexes = left.map((rule) => at.rule(rule.at));
      const before = live.filter((index) => index < at.rule(0));
      const open = ruleIndexes.filter((index) => !oneBit(mask(index)));
      const copyMaySpeak = pick.sameAs && !(pick.fallBack && !silenced.rest(pick.fallBack.book));
      const copyIndexes = copyMaySpeak ? live.filter((index) => isCopy(index) && mask(index) & HOLDS) : [];
      const keep = [...before, ...ruleIndexes, ...copyIndexes];
      if (open.length > 0) {
        // Leans and moves that are settled count only by what they add up to.
        const folds = (rule: Rule): boolean =>
          free(rule) && !rule.goes && rule.nevers.size === 0 && when(rule) === HOLDS && !beatenMaybe(rule);
        return { keep, ask: open, signature: signatureOf(left, folds, [...before, ...copyIndexes], mask, at, silenced) };
      }
      const whens = new Map<number, Mask>();
      for (const rule of left) whens.set(rule.at, mask(at.rule(rule.at)));
      const situation: Situation = { gate, silences, whens };
      if (copyIndexes.length === 0) return { leaf: leafOf(situation) };
      const copied: Situation = { ...situation, copy: copyIndexes[0]! - at.copy(0) };
      // Where bands are broken, the only one that may hold need not.
      if (copyIndexes.length === 1 && oneBit(mask(copyIndexes[0]!))) return { leaf: leafOf(copied) };
      const usesCopy = watched.size > 0 || verdict(rules, copied, silenced).standing.length === 0;
      if (!usesCopy) return { leaf: leafOf(copied) };
      return { keep, ask: copyIndexes.filter((index) => !oneBit(mask(index))), signature: constantsOf(keep, mask) };
    },
  };
}

/** Patterns that say just what another says already: up to so many are told apart in what stands, of more only some are. */
const MOST_ECHOES = 8;

export function sameList(a: Rule, b: Rule): boolean {
  return (
    a.goes!.length === b.goes!.length &&
    a.goes!.every((place, i) => place.length === b.goes![i]!.length && place.every((option, k) => option === b.goes![i]![k]))
  );
}

const ANYTHING: Mask = HOLDS | FAILS | WAITS | NO_ADVICE;

/** Some two standing go withs share no option; which ones, the conflict check finds pair by pair. */
const CLASH: Verdict = { status: "conflict", places: [], cause: { kind: "clash" }, standing: [] };

export function shareNothing(a: Rule, b: Rule): boolean {
  for (const option of a.goesTo) if (b.goesTo.has(option)) return false;
  return true;
}

export function onlyGoes(rule: Rule): boolean {
  return rule.goes !== undefined && rule.leans.length === 0 && rule.nevers.size === 0 && rule.move === 0;
}

/** Those of the formulas that are settled, and how. */
export function constantsOf(indexes: readonly number[], mask: (index: number) => Mask): string {
  let key = "";
  for (const index of indexes) {
    const value = mask(index);
    if (oneBit(value)) key += `${index}:${value} `;
  }
  return key;
}

function signatureOf(
  left: readonly Rule[],
  folds: (rule: Rule) => boolean,
  others: readonly number[],
  mask: (index: number) => Mask,
  at: PickFormulas,
  silenced: Silenced,
): string {
  const folded = left.filter(folds);
  const rest = left.filter((rule) => !folds(rule)).map((rule) => at.rule(rule.at));
  const totals = new Map<number, Rule["leans"][number]["by"]>();
  let shift = 0;
  for (const rule of folded) {
    shift += rule.move;
    if (!silenced.rest(rule.pattern.book)) for (const { option, by } of rule.leans) totals.set(option, totals.get(option)?.add(by) ?? by);
  }
  const sums = [...totals].sort(([a], [b]) => a - b).map(([option, total]) => `${option}:${total.toFraction()}`);
  return `${constantsOf([...others, ...rest], mask)}/${sums.join(",")}/${shift}`;
}
