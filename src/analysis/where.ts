/**
 * Regions as tests of the language: what a finding says in `where` can be pasted after `when`.
 *
 *     clarity ∈ [2,3], grass ∈ [1,1], docks ∈ [0,0]   ──▶   clarity is dirty or dirtier and cover has grass and cover has no docks
 *
 * Everything a box of axes can be has an exact test. A tested pick has one too where its fronts in the box are just those for which
 * some `is` or `is neither` holds; otherwise it is described in words, and `exact` says so.
 */
import type { Model, Condition, Pick } from "../model/model.js";
import { complement, count, first, holds, isEmpty, positions, same, spanOf, type Span } from "../model/span.js";
import { sayPosition } from "../model/points.js";
import { inGroups } from "../model/texts.js";
import type { Answers } from "./answers.js";
import type { Box } from "./diagrams/diagram.js";
import { FAILS, HOLDS } from "./diagrams/formula.js";
import { valueOfFront, type Front } from "./point.js";

export interface Where {
  readonly text: string;
  /** Whether the text is a test that holds exactly here. */
  readonly exact: boolean;
}

/** Boxes beyond this many are counted, not written out. */
const MOST_BOXES = 6;

/** `whole`: whether the boxes are all there is. */
export function sayWhere(answers: Answers, boxes: readonly Box[], most = MOST_BOXES, whole = true): Where {
  const said = boxes.slice(0, most).map((box) => sayBox(answers, box));
  const rest = boxes.length - said.length;
  return {
    text: boxes.some((box) => box.size === 0)
      ? "always"
      : eitherOf(said.map(({ tests }) => tests)) +
        (whole ? (rest > 0 ? ` (and ${rest} more such ${rest === 1 ? "stretch" : "stretches"})` : "") : " (and many more such stretches)"),
    exact: whole && rest === 0 && said.every(({ exact }) => exact),
  };
}

/** Tests joined by `and`, the lot by `or`: in parentheses where the two would be mixed. */
function eitherOf(lots: readonly (readonly string[])[]): string {
  return lots.map((tests) => (lots.length > 1 && tests.length > 1 ? `(${tests.join(" and ")})` : tests.join(" and "))).join(" or ");
}

function sayBox(answers: Answers, box: Box): { readonly tests: readonly string[]; readonly exact: boolean } {
  const { model } = answers;
  const tests: string[] = [];
  let exact = true;
  for (const condition of model.conditions) {
    if (condition.domain.kind === "set") tests.push(...saySet(model, condition, box));
    else {
      const span = box.get(condition.axes[0]!);
      if (span && count(span) < model.axes[condition.axes[0]!]!.size) tests.push(...sayCondition(model, condition, span));
    }
  }
  for (const pick of model.picks) {
    const span = box.get(answers.pickVariable(pick.index));
    const fronts = answers.picks[pick.index]?.fronts;
    if (!span || !fronts || count(span) === fronts.length) continue;
    const said = sayPick(pick, fronts, span);
    tests.push(said.text);
    exact &&= said.exact;
  }
  return { tests, exact };
}

/** Tests that together hold exactly where a condition's axis lies in a span; several stretches are joined by `or` in parentheses. */
function sayCondition(model: Model, condition: Condition, span: Span): readonly string[] {
  const named = namedStretch(model, condition, span);
  if (named) return [`${condition.name} ${named}`];
  if (condition.domain.kind === "scale")
    return [`${condition.name} ${sayLevels(condition, condition.domain.levels, condition.domain.ordered, span)}`];
  const axis = model.axes[condition.axes[0]!]!;
  const runs = axis.cyclic ? roundTheYear(span, axis.size) : runsOf(span);
  const stretches = runs.map(([from, to]) => sayRun(model, condition, from, to));
  return stretches.length === 1 ? stretches[0]! : [`(${eitherOf(stretches)})`];
}

/** Bands, or a run of bands, that make up the span exactly; of a scale, a group. */
function namedStretch(model: Model, condition: Condition, span: Span): string | undefined {
  const group = model.groups.find(
    (candidate) =>
      candidate.condition === condition.index &&
      condition.domain.kind === "scale" &&
      candidate.members.length > 1 &&
      same(spanOf(candidate.members), span),
  );
  if (group) return `is ${group.name}`;
  const inside = model.bands.filter(
    (band) => band.condition === condition.index && [...runsOf(band.span)].every(([from, to]) => covers(span, from, to)),
  );
  const covered = inside.reduce((sum, band) => sum + count(band.span), 0);
  if (inside.length > 0 && inside.length <= 3 && covered === count(span)) return `is ${inside.map((band) => band.name).join(" or ")}`;
  return undefined;
}

function covers(span: Span, from: number, to: number): boolean {
  for (let i = 0; i < span.length; i += 2) if (span[i]! <= from && to <= span[i + 1]!) return true;
  return false;
}

function sayLevels(
  words: { readonly rising?: string; readonly falling?: string },
  levels: readonly string[],
  ordered: boolean,
  span: Span,
): string {
  const size = levels.length;
  const names = (of: Span): string[] => [...positions(of)].map((level) => levels[level]!);
  const [from, to] = [first(span)!, span.at(-1)!];
  if (count(span) === 1) return `is ${levels[from]!}`;
  if (ordered && span.length === 2) {
    if (to === size - 1 && words.rising) return `is ${levels[from]!} or ${words.rising}`;
    if (from === 0 && words.falling) return `is ${levels[to]!} or ${words.falling}`;
    if (count(span) > 2) return `from ${levels[from]!} to ${levels[to]!}`;
  }
  const others = names(complement(span, size));
  if (others.length === 1 && count(span) > 2) return `is not ${others[0]!}`;
  if (others.length === 2 && count(span) > 3) return `is neither ${others[0]!} nor ${others[1]!}`;
  return `is ${names(span).join(" or ")}`;
}

function sayRun(model: Model, condition: Condition, from: number, to: number): readonly string[] {
  const axis = model.axes[condition.axes[0]!]!;
  const value = (position: number): string => sayPosition(model, axis.index, position);
  const { name, rising, falling } = condition;
  if (axis.cyclic) return [from === to ? `${name} is ${value(from)}` : `${name} from ${value(from)} to ${value(to)}`];
  const isOpen = (position: number): boolean => axis.limits !== undefined && position % 2 === 1;
  if (from === to && !isOpen(from)) return [`${name} is ${value(from)}`];
  // An open stretch starts just after the limit below it and ends just before the one above it.
  const atLeast =
    from === 0
      ? undefined
      : isOpen(from)
        ? rising
          ? `is ${rising} than ${value(from - 1)}`
          : `is above ${value(from - 1)}`
        : rising
          ? `is ${value(from)} or ${rising}`
          : `is at least ${value(from)}`;
  const atMost =
    to === axis.size - 1
      ? undefined
      : isOpen(to)
        ? falling
          ? `is ${falling} than ${value(to + 1)}`
          : `is below ${value(to + 1)}`
        : falling
          ? `is ${value(to)} or ${falling}`
          : `is at most ${value(to)}`;
  if (atLeast && atMost && !isOpen(from) && !isOpen(to)) return [`${name} from ${value(from)} to ${value(to)}`];
  return [atLeast, atMost].filter((part) => part !== undefined).map((part) => `${name} ${part}`);
}

function runsOf(span: Span): [number, number][] {
  const runs: [number, number][] = [];
  for (let i = 0; i < span.length; i += 2) runs.push([span[i]!, span[i + 1]!]);
  return runs;
}

/** Runs of a cycle: one that ends the year and one that starts it are one. */
function roundTheYear(span: Span, size: number): [number, number][] {
  const runs = runsOf(span);
  if (runs.length > 1 && runs[0]![0] === 0 && runs.at(-1)![1] === size - 1) {
    const [, to] = runs.shift()!;
    runs.at(-1)![1] = to;
  }
  return runs;
}

function saySet(model: Model, condition: Condition, box: Box): readonly string[] {
  if (condition.domain.kind !== "set") return [];
  const state = condition.axes.map((axis) => {
    const span = box.get(axis);
    return !span || count(span) === 2 ? undefined : span[0] === 1;
  });
  const { members } = condition.domain;
  const which = (wanted: boolean): number[] => state.flatMap((present, member) => (present === wanted ? [member] : []));
  const present = which(true);
  const absent = which(false);
  const { name } = condition;
  if (absent.length === members.length) return [`${name} is empty`];
  if (present.length === 1 && absent.length === members.length - 1) return [`${name} only ${members[present[0]!]!}`];
  const tests: string[] = [];
  if (present.length === 1) tests.push(`${name} has ${members[present[0]!]!}`);
  if (present.length > 1) tests.push(`${name} has all of ${groupedNames(model, condition, present).join(", ")}`);
  if (absent.length > 0) tests.push(`${name} has no ${groupedNames(model, condition, absent).join(", ")}`);
  return tests;
}

/** Members by name, whole groups by the group's. */
function groupedNames(model: Model, { index, domain }: Condition, some: readonly number[]): readonly string[] {
  if (domain.kind !== "set") return [];
  const { whole, left } = inGroups(model, index, some);
  return [...whole.map(({ name }) => name), ...left.map((member) => domain.members[member]!)];
}

function sayPick(pick: Pick, fronts: readonly Front[], span: Span): Where {
  const inSpan = (front: Front, at: number): boolean => (void front, holds(span, at));
  const options = (wanted: boolean): Span =>
    spanOf(fronts.flatMap((front, at) => (inSpan(front, at) === wanted && Array.isArray(front) ? (front as readonly number[]) : [])));
  // Exactly: the test has this value on every front in the span, and plainly the other one on every other front.
  const exactly = (test: Span, value: number): boolean =>
    !isEmpty(test) &&
    fronts.every((front, at) => {
      const here = valueOfFront(front, test);
      return holds(span, at) ? here === value : here !== value && (typeof front === "string" || here === HOLDS || here === FAILS);
    });
  const texts = pick.options.map((_, option) => optionAsWritten(pick, option));
  const mine = options(true);
  const others = options(false);
  if (exactly(mine, HOLDS)) return { text: `${pick.name} ${sayLevels(pick, texts, pick.ordered, mine)}`, exact: true };
  if (exactly(others, FAILS)) {
    const names = [...positions(others)].map((option) => texts[option]!);
    if (names.length === 1) return { text: `${pick.name} is not ${names[0]!}`, exact: true };
    if (names.length === 2) return { text: `${pick.name} is neither ${names[0]!} nor ${names[1]!}`, exact: true };
    return { text: `not (${pick.name} is ${names.join(" or ")})`, exact: true };
  }
  const there = fronts.filter((front, at) => inSpan(front, at));
  const single = there.flatMap((front) => (typeof front !== "string" && front.length === 1 ? [texts[front[0]!]!] : []));
  const rest = there.filter((front) => typeof front === "string" || front.length > 1).map((front) => sayFront(texts, front));
  // "is a or b" holds of "either of these" as well; two tests do not.
  if (rest.length === 0 && fronts.some((front, at) => !holds(span, at) && valueOfFront(front, mine) === HOLDS))
    return { text: `(${single.map((option) => `${pick.name} is ${option}`).join(" or ")})`, exact: false };
  return { text: `${pick.name} ${[...(single.length > 0 ? [`is ${single.join(" or ")}`] : []), ...rest].join(", or ")}`, exact: false };
}

/** An option as the language writes it. */
export function optionAsWritten(pick: Pick, option: number): string {
  const { text, size } = pick.options[option]!;
  return size !== undefined || /^[\p{Ll}\p{Lo}\p{N}][\p{Ll}\p{Lo}\p{M}\p{N}-]*$/u.test(text) ? text : `"${text}"`;
}

function sayFront(texts: readonly string[], front: Front): string {
  if (front === "unsettled") return "has no answer";
  if (front === "no advice") return "has no advice";
  if (front === "not applicable") return "does not apply";
  return `may be ${front.map((option) => texts[option]!).join(" or ")}`;
}
