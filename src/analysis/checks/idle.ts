/**
 * Patterns, and parts of a `when`, that change no answer: without them the status and list of every pick is the same at every
 * possible point.
 *
 * Accepted:
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump" go with blade colorado when clarity is muddy
 * fall back on blade willow
 * ```
 * Rejected (`does-nothing`):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump" go with blade colorado when clarity is muddy
 * pattern "Clear water, a second time" go with blade willow when clarity is clear
 * pattern "Clear water wants flash" go with blade willow when clarity is clear
 * ```
 * Rejected (`changes-nothing`):
 * ```lore
 * condition clarity: in order clear, stained, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump" go with blade colorado when clarity is muddy and clarity is not clear
 * fall back on blade willow
 * ```
 *
 * Of twins, patterns that say the same under the same `when`, only the later is reported.
 */
import { severities, type Finding, type Severity } from "../../diagnostics.js";
import { analysisWords } from "../../messages/analysis.js";
import type { Model, Pattern, Test } from "../../model/model.js";
import { findPossible, type Answers, type Askable } from "../answers.js";
import { withinBudget, type Budget } from "../budget.js";
import { decide, findBox, whether, type Question } from "../diagrams/decide.js";
import { boxes, forest } from "../diagrams/diagram.js";
import { HOLDS, type Formula } from "../diagrams/formula.js";
import { hullOf, subset } from "../neighbours.js";
import { constantsOf, pickFormulas, pickQuestion } from "../pick-question.js";
import { speaksOn, type PickRules, type Rule } from "../rules.js";
import { silencedBook, verdict, type Yield } from "../verdict.js";
import { askablePicks, finding, fresh, recalled, unsettledPicks, type Check, type Context } from "./context.js";
import { differs } from "./variants.js";

export function* idle(context: Context): ReturnType<Check> {
  const { model } = context;
  const { steps, purse } = context.limits;
  const court: Court = {
    context,
    roles: rolesIn(context),
    left: TOTAL * steps,
    leftForWhy: steps,
    leave: (purse?.left ?? 0) * LEAVE,
    open: [],
  };
  const idlePatterns = new Set<Pattern>();
  const busy = new Set<Pattern>();
  // Where a pick that is asked waits for a broken pattern to be mended, nobody can say yet what does nothing.
  const unsettled = unsettledPicks(context);
  const told = model.patterns.filter(
    (pattern) =>
      rolesOf(court, pattern).every(({ askable: { rules } }) => !rules.pick.tests.some((tested) => unsettled.has(tested))) &&
      spokenOf(model, pattern).every(({ index }) => context.answers.askable[index]),
  );
  for (const pattern of told) {
    yield;
    const does = judge(court, pattern, "does nothing", analysisWords.questions.doesNothing(pattern.title), (spend) =>
      rolesOf(court, pattern).some(({ askable, rule }) =>
        differs(context.answers, askable, { rule, when: "out", alsoWhereBothHold: false }, spend),
      ),
    );
    if (does === false) idlePatterns.add(pattern);
    if (does === true) busy.add(pattern);
  }
  const keys = twinKeys(context);
  let twins: ReadonlyMap<string, readonly Pattern[]> | undefined;
  for (const pattern of idlePatterns) {
    twins ??= grouped(told, keys);
    const twin = twins.get(keys(pattern))!.find((other) => other !== pattern);
    if (twin && twin.index > pattern.index) continue;
    yield finding(
      "does-nothing",
      pattern.namePlace,
      analysisWords.doesNothing(pattern.title, twin ? analysisWords.whyTwin(twin.title) : whyIdle(court, pattern)),
      {
        severity: severityIn(model, pattern, "does-nothing"),
        patterns: [pattern.title],
        related: twin ? [{ ...twin.namePlace, message: analysisWords.relatedPattern(twin.title) }] : [],
        fixes: namedByOthers(model, pattern)
          ? []
          : [{ title: analysisWords.fixRemove(pattern.title), edits: [{ ...wholeLines(model, pattern), text: "" }] }],
      },
    );
  }
  for (const pattern of busy) yield* idleParts(court, pattern);
  noteOpen(court);
}

/** All the questions of this check, and the steps left for them together, and for telling why. */
interface Court {
  readonly context: Context;
  readonly roles: ReadonlyMap<Pattern, readonly Role[]>;
  left: number;
  leftForWhy: number;
  /** What is left in the purse for what is worked out after this. */
  readonly leave: number;
  readonly open: { readonly pattern: Pattern; readonly what: string }[];
}

/** What a pattern is to a pick it speaks on, as far as the pick can be asked about. */
interface Role {
  readonly askable: Askable;
  readonly rule: Rule;
}

function rolesIn(context: Context): ReadonlyMap<Pattern, readonly Role[]> {
  const roles = new Map<Pattern, Role[]>();
  for (const askable of askablePicks(context))
    for (const rule of askable.rules.rules) {
      const before = roles.get(rule.pattern);
      if (before) before.push({ askable, rule });
      else roles.set(rule.pattern, [{ askable, rule }]);
    }
  return roles;
}

function rolesOf({ roles }: Court, pattern: Pattern): readonly Role[] {
  return roles.get(pattern) ?? [];
}

/** One question may take this part of the steps of a pick; all together, so many times them. */
const PART = 1 / 8;
const TOTAL = 4;
/** Of what is in the purse that part is left for the shares. */
const LEAVE = 1 / 2;

/** The answer of a question within its budget; undefined, and noted, where it ran out or others have used up all there was. */
function judge(court: Court, pattern: Pattern, key: string, what: string, ask: (spend: Budget) => boolean): boolean | undefined {
  const { purse } = court.context.limits;
  const judged =
    court.left > 0 && (!purse || purse.left > court.leave) ? recalledOf(court, pattern, key, () => metered(court.context, ask)) : undefined;
  court.left -= judged?.spent ?? 0;
  if (judged?.answer === undefined) court.open.push({ pattern, what });
  return judged?.answer;
}

interface Judged<T> {
  /** Undefined: its budget ran out. */
  readonly answer: T | undefined;
  readonly spent: number;
}

function metered<T>(context: Context, ask: (spend: Budget) => T): Judged<T> {
  let spent = 0;
  const mine = fresh(context, PART);
  const answer = withinBudget(() =>
    ask({
      spend(steps = 1, cost = steps) {
        spent += steps;
        mine.spend(steps, cost);
      },
    }),
  );
  return { answer, spent };
}

/** Recalled if no pick that the pattern speaks on has changed. */
function recalledOf<T>(court: Court, pattern: Pattern, key: string, work: () => T): T {
  const roles = rolesOf(court, pattern);
  return recalled(
    court.context,
    roles.map(({ askable }) => askable.rules.pick.index),
    `${key} ${roles.map(({ rule }) => rule.at).join(" ")}`,
    work,
  );
}

/** Questions beyond this many are told in one sentence. */
const FEW = 3;

function noteOpen({ context, open }: Court): void {
  if (open.length === 0) return;
  if (open.length <= FEW)
    for (const { pattern, what } of open)
      context.undecided.push({ what: analysisWords.undecided.question(what), place: pattern.namePlace });
  else
    context.undecided.push({
      what: analysisWords.undecided.question(analysisWords.questions.manyIdle(new Set(open.map(({ pattern }) => pattern)).size)),
      place: open[0]!.pattern.namePlace,
    });
}

/** In a book that others build on, being overruled is no fault. */
function severityIn(model: Model, pattern: Pattern, code: "does-nothing" | "changes-nothing"): Severity {
  return pattern.book === model.books.length - 1 ? severities[code] : "note";
}

function spokenOf(model: Model, pattern: Pattern) {
  return model.picks.filter((pick) => speaksOn(pattern, pick.index));
}

function namedByOthers(model: Model, pattern: Pattern): boolean {
  return model.patterns.some((other) => other.beats.some((beaten) => beaten.pattern === pattern.index));
}

/** The statement with the line break after it, so that taking it out leaves no hole. */
function wholeLines(model: Model, pattern: Pattern) {
  const { path, range } = pattern.place;
  const text = model.books[pattern.book]!.text;
  const after = /^[ \t]*(\r\n|\n|\r)?/.exec(text.slice(range.end))![0].length;
  return { path, range: { start: range.start, end: range.end + after } };
}

/** Twins, which say the same under the same `when`, have the same key. */
function twinKeys({ answers, model }: Context): (pattern: Pattern) => string {
  const beatenBy = new Map<number, number[]>();
  for (const { index, beats } of model.patterns)
    for (const { pattern } of beats) beatenBy.set(pattern, [...(beatenBy.get(pattern) ?? []), index]);
  return ({ index, book, when, goes, leans, nevers, moves, beats }) =>
    JSON.stringify([
      answers.compile(when),
      book,
      goes,
      leans.map(({ pick, option, by }) => [pick, option, by.toFraction()]),
      nevers,
      moves,
      beats.map(({ pattern }) => pattern).sort((a, b) => a - b),
      beatenBy.get(index),
    ]);
}

function grouped<T>(list: readonly T[], keyOf: (item: T) => string): ReadonlyMap<string, readonly T[]> {
  const groups = new Map<string, T[]>();
  for (const item of list) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group) group.push(item);
    else groups.set(key, [item]);
  }
  return groups;
}

/** Why a pattern does nothing: it can never hold, its picks are not asked about where it does, it always yields, or what stands beside it already says so. */
function whyIdle(court: Court, pattern: Pattern): string {
  const { purse } = court.context.limits;
  const why =
    court.leftForWhy > 0 && (!purse || purse.left > court.leave)
      ? recalledOf(court, pattern, "why idle", () => metered(court.context, whyIdleAnew(court, pattern)))
      : undefined;
  court.leftForWhy -= why?.spent ?? 0;
  return why?.answer ?? analysisWords.whyOthers([]);
}

function whyIdleAnew(court: Court, pattern: Pattern): (spend: Budget) => string {
  const { context } = court;
  const { answers, model } = context;
  return (spend) => {
    if (!holdsSomewhere(answers, answers.compile(pattern.when), spend)) return analysisWords.whyNever;
    const yieldsTo = new Set<string>();
    const beside = new Set<string>();
    let always = true;
    let heard = false;
    for (const role of rolesOf(court, pattern)) {
      const rules = nearTo(role.askable, role.rule);
      const rule = rules.rules.find((one) => one.pattern === pattern)!;
      const at = pickFormulas(rules, answers.compile);
      const base = pickQuestion<string>(model, rules, at, {
        watched: new Set([rule.at]),
        leafOf(situation) {
          if (situation.whens.get(rule.at) !== HOLDS) return "";
          const yields: Yield[] = [];
          const result = verdict(rules, situation, silencedBook(rules, situation, model.moreLocal), (yielded) => yields.push(yielded));
          const mine = yields.find((yielded) => yielded.rule === rule.at);
          return JSON.stringify(mine ? { to: mine.to } : { beside: result.standing.filter((other) => other !== rule.at) });
        },
      });
      const node = decide<string>(
        answers.store,
        whereHolds(base, at.rule(rule.at), ""),
        forest<string>((key) => key, spend),
        spend,
      );
      const known = new Set([""]);
      for (const { box, leaf } of boxes(node, answers.variables, (leaf) => leaf !== "")) {
        spend.spend();
        if (known.has(leaf) || !findPossible(answers, box, spend)) continue;
        known.add(leaf);
        const { to, beside: others } = JSON.parse(leaf) as { to?: number; beside?: number[] };
        heard = true;
        if (to !== undefined) yieldsTo.add(rules.rules[to]!.pattern.title);
        else always = false;
        // What only leans or rules out is not said by a list that stands.
        if (rule.goes) for (const other of others ?? []) beside.add(rules.rules[other]!.pattern.title);
      }
    }
    if (!heard) return analysisWords.whyNotAsked(spokenOf(model, pattern).map(({ name }) => name));
    return always && yieldsTo.size > 0 ? analysisWords.whyYields([...yieldsTo]) : analysisWords.whyOthers([...beside]);
  };
}

/** A question that is only asked where one of its formulas holds. */
function whereHolds<L>(question: Question<L>, own: number, elsewhere: L): Question<L> {
  return {
    ...question,
    settle(state) {
      const { live, mask } = state;
      if ((mask(own) & HOLDS) === 0) return { leaf: elsewhere };
      return mask(own) === HOLDS ? question.settle(state) : { keep: live, ask: [own], signature: constantsOf(live, mask) };
    },
  };
}

/** The rules that a rule can meet, and itself. */
function nearTo({ rules, hull, index }: Askable, rule: Rule): PickRules {
  const near = new Set(index().meeting(hull(rule))).add(rule.at);
  return subset(
    rules,
    rules.rules.filter(({ at }) => near.has(at)),
  );
}

/** Whether a formula holds at any possible point. */
export function holdsSomewhere(answers: Answers, formula: Formula, spend: Budget): boolean {
  const place = hullOf(answers.store, formula);
  return (
    place !== "nowhere" &&
    findBox(
      answers.store,
      whether(formula),
      (holds) => holds === 1,
      spend,
      place,
      (box) => findPossible(answers, box, spend) !== undefined,
    ) !== undefined
  );
}

function* idleParts(court: Court, pattern: Pattern): Generator<Finding | undefined, void> {
  const { context } = court;
  const { model, answers } = context;
  if (!pattern.when) return;
  let count = 0;
  for (const { part, rest } of withoutEachPart(pattern.when)) {
    yield;
    const key = `part ${count++}`;
    const text = model.books[pattern.book]!.text.slice(part.range.start, part.range.end);
    const what = analysisWords.questions.changesNothing(text, pattern.title);
    const changes = judge(court, pattern, key, what, (spend) =>
      rolesOf(court, pattern).some(({ askable, rule }) =>
        [false, true].some((alsoWhereBothHold) => differs(answers, askable, { rule, when: rest, alsoWhereBothHold }, spend)),
      ),
    );
    if (changes !== false) continue;
    // Whether the rest of the `when` says it already, or others answer just so wherever the part makes a difference.
    const [own, other] = [answers.compile(pattern.when), answers.compile(rest)];
    const apart = (how: "wider" | "narrower", a: Formula, b: Formula): boolean | undefined =>
      judge(court, pattern, `${key} ${how}`, what, (spend) => holdsSomewhere(answers, answers.store.and([a, answers.store.not(b)]), spend));
    const without = apart("wider", other, own) !== false ? "wider" : apart("narrower", own, other) !== false ? "narrower" : "same";
    yield finding(
      "changes-nothing",
      { path: pattern.place.path, range: part.range },
      analysisWords.changesNothing(pattern.title, text, without),
      {
        severity: without === "same" ? severityIn(model, pattern, "changes-nothing") : "note",
        patterns: [pattern.title],
      },
    );
  }
}

/** Every operand of an `and` or `or`, at any depth, with the whole test as it is without it. */
export function* withoutEachPart(test: Test): Generator<{ readonly part: Test; readonly rest: Test }> {
  if (test.kind === "not") {
    for (const { part, rest } of withoutEachPart(test.part)) yield { part, rest: { ...test, part: rest } };
  } else if (test.kind === "and" || test.kind === "or") {
    if (isOneInTheText(test)) return;
    for (const [i, part] of test.parts.entries()) {
      const others = test.parts.filter((_, other) => other !== i);
      yield { part, rest: others.length === 1 ? others[0]! : { ...test, parts: others } };
      for (const inner of withoutEachPart(part))
        yield { part: inner.part, rest: { ...test, parts: test.parts.map((other, at) => (at === i ? inner.rest : other)) } };
    }
  }
}

/** A situation's name, or a test of several members: many parts, but written as one. */
function isOneInTheText({ parts, range }: Test & { readonly kind: "and" | "or" }): boolean {
  return parts.every((part) => part.range.start === range.start && part.range.end === range.end);
}
