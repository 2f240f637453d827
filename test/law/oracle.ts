/**
 * The outside oracle: what every pick says at one point, read off the section "What it means at one point" sentence by sentence.
 *
 *   point ──▶ pick 0 ──▶ pick 1 ──▶ …      each pick sees the outcomes of those before it
 *
 * Slow, literal, and written without looking at the analysis, which is the point: where both say the same on thousands of random
 * books, both have read the text alike. Each step opens with the sentence it carries out. Judgements from the `when`s alone
 * (narrower, trust) are made by trying every combination of the values they mention, and kept per model.
 */
import { Fraction } from "fraction.js";
import type { Model, Pattern, Pick, Places, SayNothing, Subject, Test } from "../../src/model/model.js";
import { holds as inSpan } from "../../src/model/span.js";
import type { Outcome, Point } from "../../src/analysis/outcome.js";

export interface Answer {
  readonly outcome: Outcome;
  /** Indexes of the patterns that gave the list, or whose lists or circle made the conflict. */
  readonly standing: readonly number[];
  /** Of a pick that waits: the picks whose unsettled tests hold it up. */
  readonly heldUpBy?: readonly number[];
}

/** One answer per pick, in the model's order. The point must be possible. */
export function oracle(model: Model, point: Point): readonly Answer[] {
  const answers: Answer[] = [];
  for (const pick of model.picks)
    answers.push(
      answerOf(
        model,
        pick,
        point,
        answers.map((answer) => answer.outcome),
      ),
    );
  return answers;
}

type Truth = "holds" | "fails" | "unsettled";

/** A test's truth, and the picks whose unsettled tests leave it unsettled. */
export interface Verdict {
  readonly truth: Truth;
  readonly culprits: readonly number[];
}

/** "A test on a pick with several options at the front holds if it holds for each, fails if it fails for each, else it is unsettled; on a gap, conflict, waiting or no-advice pick it is unsettled. `and`, `or`, `not` are three-valued." */
export function evaluate(test: Test, point: Point, outcomes: readonly Outcome[]): Verdict {
  switch (test.kind) {
    case "always":
      return { truth: "holds", culprits: [] };
    case "never":
      return { truth: "fails", culprits: [] };
    case "axis":
      return { truth: inSpan(test.span, point[test.axis]!) ? "holds" : "fails", culprits: [] };
    case "pick": {
      const { status, places } = outcomes[test.pick]!;
      // Step 0: "tests on it fail, and their negations hold".
      if (status === "not applicable") return { truth: "fails", culprits: [] };
      const front = places[0];
      if (front === undefined) return { truth: "unsettled", culprits: [test.pick] };
      if (front.every((option) => inSpan(test.span, option))) return { truth: "holds", culprits: [] };
      if (front.every((option) => !inSpan(test.span, option))) return { truth: "fails", culprits: [] };
      return { truth: "unsettled", culprits: [test.pick] };
    }
    case "not": {
      const { truth, culprits } = evaluate(test.part, point, outcomes);
      return { truth: truth === "holds" ? "fails" : truth === "fails" ? "holds" : "unsettled", culprits };
    }
    case "and":
    case "or": {
      const settling = test.kind === "and" ? "fails" : "holds";
      const verdicts = test.parts.map((part) => evaluate(part, point, outcomes));
      if (verdicts.some(({ truth }) => truth === settling)) return { truth: settling, culprits: [] };
      const unsettled = verdicts.filter(({ truth }) => truth === "unsettled");
      if (unsettled.length > 0) return { truth: "unsettled", culprits: unsettled.flatMap(({ culprits }) => culprits) };
      return { truth: test.kind === "and" ? "holds" : "fails", culprits: [] };
    }
  }
}

// One pick ---------------------------------------------------------------------------------------------------------------

function answerOf(model: Model, pick: Pick, point: Point, outcomes: readonly Outcome[]): Answer {
  const verdict = (test: Test | undefined): Verdict =>
    test === undefined ? { truth: "holds", culprits: [] } : evaluate(test, point, outcomes);
  const none = (status: Outcome["status"], standing: readonly Pattern[] = []): Answer => ({
    outcome: { status, places: [] },
    standing: indexes(standing),
  });

  // "0. Where its `only when` fails: not applicable; … An unsettled `only when` or `say nothing` makes the pick wait, as a
  // pattern's `when` does."
  const onlyWhen = verdict(pick.onlyWhen);
  if (onlyWhen.truth === "fails") return none("not applicable");
  const truthOf = ({ book, when }: SayNothing) => ({ book, verdict: verdict(when) });
  const ofPick = pick.sayNothing.filter(({ everything }) => !everything).map(truthOf);
  // "`everything` names every pick of all books that are read together … It names no judgement."
  const ofEverything = pick.judgement ? [] : model.closed.map(truthOf);
  const sayings = [...ofPick, ...ofEverything];

  // "1. Where a `say nothing` of the pick holds, every `go with`, `lean` and `fall back` of the pick from the same or a less local
  // book is silent."
  const holding = (list: typeof sayings): typeof sayings => list.filter((saying) => saying.verdict.truth === "holds");
  const silencing = holding(sayings);
  const silencedBook = (book: number): boolean =>
    holding(ofPick).some((saying) => saying.book === book || model.moreLocal(saying.book, book));
  // "Where a `say nothing on everything` holds, the leans and `fall back`s of every book are, and every `go with` that is not from a
  // more local one."
  const closed = holding(ofEverything);
  const silencedGoing = (book: number): boolean => silencedBook(book) || closed.some((saying) => !model.moreLocal(book, saying.book));
  const silencedElse = (book: number): boolean => silencedBook(book) || closed.length > 0;
  // "A pattern of which all is silent on the pick, having no `never` and no `move` there either, is silent as a whole."
  const silent = (pattern: Pattern): boolean =>
    !says(pattern.nevers, pick) &&
    !says(pattern.moves, pick) &&
    (!says(pattern.goes, pick) || silencedGoing(pattern.book)) &&
    (!says(pattern.leans, pick) || silencedElse(pattern.book));

  // "a pattern past its `until` no longer speaks"
  const spoken = model.patterns.filter((pattern) => speaks(pattern, pick) && !past(model, pattern));
  const whens = new Map(spoken.map((pattern) => [pattern, verdict(pattern.when)]));

  // "3. Applicable patterns: not silent, `when` holds. A stated `beats` silences the named pattern on the picks both speak about,
  // whatever it says there …; a silenced pattern still silences those it names."
  const applicable = spoken.filter((pattern) => !silent(pattern) && whens.get(pattern)!.truth === "holds");
  const names = (beater: Pattern, beaten: Pattern): boolean => beater.beats.some(({ pattern }) => pattern === beaten.index);
  const beaten = (pattern: Pattern): boolean => applicable.some((beater) => names(beater, pattern));

  // "2. … A pick is waiting exactly where a pattern of it that is neither silent nor silenced by an applicable `beats` is unsettled
  // (no advice, where all the picks whose unsettled tests leave it unsettled have no advice). Waiting goes before a circle, a
  // circle before no advice."
  const unsettled = [
    onlyWhen,
    ...sayings.map((saying) => saying.verdict),
    ...spoken.filter((pattern) => !silent(pattern) && !beaten(pattern)).map((pattern) => whens.get(pattern)!),
  ].filter(({ truth }) => truth === "unsettled");
  const withoutAdvice = ({ culprits }: Verdict): boolean => culprits.every((culprit) => outcomes[culprit]!.status === "no advice");
  if (unsettled.some((one) => !withoutAdvice(one))) return { ...none("waiting"), heldUpBy: unsettled.flatMap(({ culprits }) => culprits) };

  // "Only a stated circle can exist; where one applies: conflict."
  const circling = applicable.filter((pattern) => reaches(pattern, pattern, applicable, names));
  if (circling.length > 0) return none("conflict", circling);
  if (unsettled.length > 0) return none("no advice");

  const standing = applicable.filter((pattern) => !beaten(pattern));
  const voiced = standing.filter((pattern) => !silencedElse(pattern.book));
  const nevers = standing.flatMap((pattern) =>
    pattern.nevers.filter((never) => never.pick === pick.index).flatMap((never) => never.options),
  );
  const by = standing
    .flatMap((pattern) => pattern.moves.filter((move) => move.pick === pick.index))
    .reduce((sum, move) => sum + move.by, 0);
  const ruledOut = pick.options.every((_, option) => nevers.includes(option));
  const totals = leanTotals(pick, voiced);

  // "9. Moves of the pick add up and shift every place of the list along the pick's order, stopping at its ends (an option brought
  // twice keeps its best place). Then the standing `never`s … strike out options."
  const finish = (list: Places): readonly Place[] => strike(shift(list, by, pick.options.length), nevers);
  const written = (list: readonly Place[]): Places => list.map((place) => place.map(({ option }) => option));

  // "4. The applicable `go with` patterns are thinned in three more passes, each looking only at those still left"
  const left = thin(
    model,
    pick,
    standing.filter((pattern) => says(pattern.goes, pick) && !silencedGoing(pattern.book)),
  );

  // "5. If any stands: the list = the options in all standing lists, by the best place any gives (…), then by lean total.
  // Empty: conflict. If no `go with` is left standing and there is no circle, go on."
  if (left.length > 0) {
    const lists = left.flatMap((pattern) => pattern.goes.filter((go) => go.pick === pick.index).map((go) => go.places));
    // "9. … If that empties a list from 5: conflict"
    const list = finish(together(pick, lists, totals));
    if (list.length === 0) return none("conflict", left);
    // "10. Status: list from 5 decided (one option in front, or several that one standing list writes in one place: 'either of
    // these'; a front shared otherwise is a toss-up; judged on the final list)"
    const front = list[0]!;
    const oneVoice = lists.some((places) =>
      places.some((place) => front.every(({ from }) => from.some((option) => place.includes(option)))),
    );
    return { outcome: { status: front.length === 1 || oneVoice ? "decided" : "toss-up", places: written(list) }, standing: indexes(left) };
  }

  // "6. Else leans: totals (…); the positive ones, highest first, at most three places."
  const leaned = byTotal(
    pick.options.map((_, option) => option).filter((option) => totals[option]!.compare(0) > 0),
    totals,
  ).slice(0, 3);
  if (leaned.length > 0) {
    const list = finish(leaned);
    // "10. … from 6 decided, or toss-up if the front is tied"; "9. … from 6: go on to 7"
    const leaning = voiced.filter((pattern) => says(pattern.leans, pick));
    if (list.length > 0)
      return { outcome: { status: list[0]!.length === 1 ? "decided" : "toss-up", places: written(list) }, standing: indexes(leaning) };
  }

  // "7. Else `fall back on`." Of a judgement: "the copy counts as the judgement's own fall back with status decided, and a
  // `go with`, lean or `fall back` of its own goes before it".
  const fallBack = pick.fallBack !== undefined && !silencedElse(pick.fallBack.book) ? pick.fallBack.places : undefined;
  const copy = pick.sameAs !== undefined && !silencedElse(pick.book) ? copied(pick.sameAs, point) : undefined;
  const last = fallBack ?? copy;
  if (last !== undefined) {
    const list = finish(last);
    if (list.length > 0)
      return { outcome: { status: fallBack !== undefined ? "fallback" : "decided", places: written(list) }, standing: [] };
    // "9. … from 7: conflict where every option is ruled out, else gap."
    return none(ruledOut ? "conflict" : "gap");
  }

  // "1. … If nothing else then gives a list (a `never` or `move` does not; a list that nevers then empty has spoken): no advice."
  if (silencing.length > 0 && leaned.length === 0) return none("no advice");
  // "8. Else nothing: gap, or conflict (nothing is left) where standing nevers rule out every option."
  return none(ruledOut ? "conflict" : "gap");
}

function says(parts: readonly { readonly pick: number }[], pick: Pick): boolean {
  return parts.some((part) => part.pick === pick.index);
}

function speaks(pattern: Pattern, pick: Pick): boolean {
  return says(pattern.goes, pick) || says(pattern.leans, pick) || says(pattern.nevers, pick) || says(pattern.moves, pick);
}

function past(model: Model, pattern: Pattern): boolean {
  return model.on !== undefined && pattern.until !== undefined && pattern.until < model.on;
}

function reaches(from: Pattern, to: Pattern, among: readonly Pattern[], names: (a: Pattern, b: Pattern) => boolean): boolean {
  const seen = new Set<Pattern>();
  const visit = (pattern: Pattern): boolean =>
    among.some((next) => {
      if (!names(pattern, next)) return false;
      if (next === to) return true;
      if (seen.has(next)) return false;
      seen.add(next);
      return visit(next);
    });
  return visit(from);
}

function indexes(patterns: readonly Pattern[]): readonly number[] {
  return patterns.map((pattern) => pattern.index);
}

// Lists ------------------------------------------------------------------------------------------------------------------

/** An option in the final list, and the options that a move brought to it at its best place. */
interface Entry {
  readonly option: number;
  readonly from: readonly number[];
}
type Place = readonly Entry[];

/** "totals (`lean to … by N` adds, `lean off` subtracts, N = 1 if not said, positive, exact)": one per option. */
function leanTotals(pick: Pick, voiced: readonly Pattern[]): readonly Fraction[] {
  const leans = voiced.flatMap((pattern) => pattern.leans.filter((lean) => lean.pick === pick.index));
  return pick.options.map((_, option) =>
    leans.filter((lean) => lean.option === option).reduce((sum, lean) => sum.add(lean.by), new Fraction(0)),
  );
}

/** The options in all lists, by the best place any gives, then by lean total; equal in both share a place. */
function together(pick: Pick, lists: readonly Places[], totals: readonly Fraction[]): Places {
  const placeIn = (list: Places, option: number): number => list.findIndex((place) => place.includes(option));
  const shared = pick.options.map((_, option) => option).filter((option) => lists.every((list) => placeIn(list, option) >= 0));
  const best = (option: number): number => Math.min(...lists.map((list) => placeIn(list, option)));
  const ranks = [...new Set(shared.map(best))].sort((a, b) => a - b);
  return ranks.flatMap((rank) =>
    byTotal(
      shared.filter((option) => best(option) === rank),
      totals,
    ),
  );
}

function byTotal(options: readonly number[], totals: readonly Fraction[]): Places {
  const places: number[][] = [];
  for (const option of [...options].sort((a, b) => totals[b]!.compare(totals[a]!) || a - b)) {
    const last = places.at(-1);
    if (last !== undefined && totals[last[0]!]!.equals(totals[option]!)) last.push(option);
    else places.push([option]);
  }
  return places;
}

function shift(list: Places, by: number, size: number): readonly Place[] {
  const brought = new Set<number>();
  const places: Place[] = [];
  for (const place of list) {
    const entries = new Map<number, number[]>();
    for (const from of place) {
      const option = Math.min(Math.max(from + by, 0), size - 1);
      if (brought.has(option)) continue;
      entries.set(option, [...(entries.get(option) ?? []), from]);
    }
    for (const option of entries.keys()) brought.add(option);
    places.push([...entries].map(([option, from]) => ({ option, from })).sort((a, b) => a.option - b.option));
  }
  return places.filter((place) => place.length > 0);
}

function strike(list: readonly Place[], nevers: readonly number[]): readonly Place[] {
  return list.map((place) => place.filter(({ option }) => !nevers.includes(option))).filter((place) => place.length > 0);
}

function copied(sameAs: NonNullable<Pick["sameAs"]>, point: Point): Places | undefined {
  const option = sameAs.spans.findIndex((span) => inSpan(span, point[sameAs.axis]!));
  return option < 0 ? undefined : [[option]];
}

// The three passes -------------------------------------------------------------------------------------------------------

function thin(model: Model, pick: Pick, goes: readonly Pattern[]): readonly Pattern[] {
  // "more local (drop those with a more local one left)"
  const local = goes.filter((pattern) => !goes.some((other) => model.moreLocal(other.book, pattern.book)));
  // "narrower (drop those with one left whose `when` is strictly narrower, judged from the two `when`s alone …)"
  const narrow = local.filter((pattern) => !local.some((other) => narrower(model, other, pattern)));
  // "trust (keep the best: the ranks, sorted, of the listed conditions that can change whether the `when` holds; compared position
  // by position, smaller first, missing last …)"
  const ranks = narrow.map((pattern) => ranksOf(model, pattern, pick));
  return narrow.filter((_, i) => !ranks.some((other) => compareRanks(other, ranks[i]!) < 0));
}

function compareRanks(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < Math.max(a.length, b.length); i++) {
    const difference = (a[i] ?? Infinity) - (b[i] ?? Infinity);
    if (a[i] !== b[i]) return difference;
  }
  return 0;
}

const memory = new WeakMap<Model, Map<string, unknown>>();

function remembered<Value>(model: Model, key: string, work: () => Value): Value {
  let known = memory.get(model);
  if (known === undefined) memory.set(model, (known = new Map()));
  if (!known.has(key)) known.set(key, work());
  return known.get(key) as Value;
}

/** "over every combination of the values they mention, possible or not, a tested pick standing for any of its options": is `a`'s `when` strictly narrower than `b`'s? */
function narrower(model: Model, a: Pattern, b: Pattern): boolean {
  return remembered(model, `narrower ${a.index} ${b.index}`, () => {
    let strictly = false;
    for (const combination of combinations(model, [a.when, b.when])) {
      const inA = holdsFor(a.when, combination);
      const inB = holdsFor(b.when, combination);
      if (inA && !inB) return false;
      if (inB && !inA) strictly = true;
    }
    return strictly;
  });
}

/** The ranks, in the pick's trust list, of the listed conditions and judgements that can change whether the pattern's `when` holds. */
function ranksOf(model: Model, pattern: Pattern, pick: Pick): readonly number[] {
  return remembered(model, `ranks ${pattern.index} ${pick.index}`, () =>
    pick.trust.flatMap((subject, rank) => (canChange(model, subject, pattern.when) ? [rank] : [])),
  );
}

/** Are there two combinations that differ in the subject alone, of which one makes the test hold and the other fail? */
function canChange(model: Model, subject: Subject, when: Test | undefined): boolean {
  const axes = subject.kind === "condition" ? model.conditions[subject.index]!.axes : [];
  const seen = new Map<string, boolean>();
  for (const combination of combinations(model, [when])) {
    const others = JSON.stringify([
      combination.point.map((position, axis) => (axes.includes(axis) ? null : position)),
      combination.outcomes.map(({ places }, pick) => (subject.kind === "pick" && pick === subject.index ? null : places)),
    ]);
    const truth = holdsFor(when, combination);
    if ((seen.get(others) ?? truth) !== truth) return true;
    seen.set(others, truth);
  }
  return false;
}

interface Combination {
  readonly point: Point;
  readonly outcomes: readonly Outcome[];
}

function holdsFor(when: Test | undefined, { point, outcomes }: Combination): boolean {
  return when === undefined || evaluate(when, point, outcomes).truth === "holds";
}

/** Every combination of the values of the conditions and picks that the tests mention; what they do not mention stays at its first value. "With `at least one` the empty set is no value." */
function* combinations(model: Model, tests: readonly (Test | undefined)[]): Generator<Combination> {
  const conditions = new Set<number>();
  const picks = new Set<number>();
  for (const test of tests) if (test !== undefined) mentions(model, test, conditions, picks);
  const axes = [...conditions].flatMap((condition) => model.conditions[condition]!.axes);
  const domain = model.domain.filter((test) => {
    const constrained = new Set<number>();
    mentions(model, test, constrained, new Set());
    return [...constrained].some((condition) => conditions.has(condition));
  });
  const point = model.axes.map(() => 0);
  const outcomes: Outcome[] = model.picks.map(() => ({ status: "decided", places: [[0]] }));
  function* overPicks(rest: readonly number[]): Generator<Combination> {
    const [pick, ...others] = rest;
    if (pick === undefined) return yield { point: [...point], outcomes: [...outcomes] };
    for (let option = 0; option < model.picks[pick]!.options.length; option++) {
      outcomes[pick] = { status: "decided", places: [[option]] };
      yield* overPicks(others);
    }
    outcomes[pick] = { status: "decided", places: [[0]] };
  }
  function* overAxes(rest: readonly number[]): Generator<Combination> {
    const [axis, ...others] = rest;
    if (axis === undefined) {
      if (domain.every((test) => evaluate(test, point, outcomes).truth === "holds")) yield* overPicks([...picks]);
      return;
    }
    for (let position = 0; position < model.axes[axis]!.size; position++) {
      point[axis] = position;
      yield* overAxes(others);
    }
    point[axis] = 0;
  }
  yield* overAxes(axes);
}

function mentions(model: Model, test: Test, conditions: Set<number>, picks: Set<number>): void {
  if (test.kind === "and" || test.kind === "or") for (const part of test.parts) mentions(model, part, conditions, picks);
  else if (test.kind === "not") mentions(model, test.part, conditions, picks);
  else if (test.kind === "axis") conditions.add(model.axes[test.axis]!.condition);
  else if (test.kind === "pick") picks.add(test.pick);
}

/** Whether anything at all is said on a pick, wherever that may hold. */
export function isSpokenOn({ patterns }: Model, { index, fallBack, sameAs, sayNothing }: Pick): boolean {
  return (
    Boolean(fallBack || sameAs || sayNothing.some(({ everything }) => !everything)) ||
    patterns.some(({ goes, leans, nevers, moves }) => [...goes, ...leans, ...nevers, ...moves].some(({ pick }) => pick === index))
  );
}

/** "A point is closed where a `say nothing on everything` holds". */
export function isClosed(model: Model, point: Point, answers: readonly Answer[]): boolean {
  const outcomes = answers.map(({ outcome }) => outcome);
  return model.closed.some(({ when }) => evaluate(when, point, outcomes).truth === "holds");
}

/** "… but for picks on which a more local `go with` stands there": then it has a list, or those that stand disagree. */
export function isOpenTo(model: Model, { index, judgement }: Pick, point: Point, answers: readonly Answer[]): boolean {
  const { places, status } = answers[index]!.outcome;
  return !isClosed(model, point, answers) || (!judgement && (places.length > 0 || status === "conflict"));
}
