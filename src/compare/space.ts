/**
 * Two models on one space: conditions matched by name, their values by what they are, so that both answer at the same points.
 *
 *     old  clarity  clear, stained, murky        depth  0 ─── 10 ──── 40 ft
 *     new  clarity  clear, stained, dirty        depth  0 ───── 12 ── 40 ft
 *     both clarity  clear, stained, murky, dirty depth  0 ─── 10 12 ─ 40 ft     cut at every limit of either
 *
 * A level or stretch that a model does not have is no value of it: its points are impossible there. A condition, or a member of a set,
 * that only one model has is there for both, and the other takes no notice of it: it is compared for every value. A measure read in
 * other steps is compared by the reading, each model taking it to its own nearest step. Where nothing says which value of the one is
 * which of the other (a scale that became a measure), the two are two conditions.
 */
import type { Fraction } from "fraction.js";
import { asItWas } from "../messages/compare.js";
import { axesOf } from "../model/axes.js";
import { indexOfLimit } from "../model/limits.js";
import type { Axis, Condition, Domain, Model, SayNothing, Test } from "../model/model.js";
import { convert, convertDifference, printQuantity, type Unit } from "../model/quantities.js";
import { complement, full, positions, same, spanOf, union, type Span } from "../model/span.js";

export interface Space {
  /** Both have the same conditions and axes. What they say, and at which of the points, is as it was. */
  readonly before: Model;
  readonly after: Model;
  readonly conditions: readonly ConditionChange[];
}

export interface ConditionChange {
  readonly name: string;
  readonly change: "added" | "removed" | "changed";
  /** Of a scale or set: levels or members that only one side has. */
  readonly added?: readonly string[];
  readonly removed?: readonly string[];
  /** Of a measure: its values before and now, "33 °F to 95 °F, to the nearest 1 °F". */
  readonly from?: string;
  readonly to?: string;
  /** Another kind of condition than before: every value of the one is compared with every value of the other. */
  readonly otherKind?: true;
}

export function onOneSpace(before: Model, after: Model): Space {
  const conditions: Condition[] = [];
  const axes: Axis[] = [];
  const changes: ConditionChange[] = [];
  const [mapsBefore, mapsAfter]: [Mapping, Mapping] = [mapping(), mapping()];
  const add = (condition: Condition, made: Joined, name = condition.name): void => {
    const own = made.axes(conditions.length, axes.length);
    for (const [maps, model, from, spans] of [
      [mapsBefore, before, made.before, made.spansBefore],
      [mapsAfter, after, made.after, made.spansAfter],
    ] as const) {
      if (!from) continue;
      maps.conditions.set(from.index, conditions.length);
      from.axes.forEach((axis, i) => maps.axes.set(axis, spans(model.axes[axis]!, own, i)));
      if (from.domain.kind === "scale") maps.levels.set(from.index, made.levels(from.domain.levels));
    }
    conditions.push({ ...condition, index: conditions.length, name, domain: made.domain, axes: own.map(({ index }) => index) });
    axes.push(...own);
  };
  const matched = new Set<Condition>();
  for (const now of after.conditions) {
    const was = before.conditions.find(({ name }) => name === now.name);
    if (was && isOneKind(was.domain, now.domain)) {
      matched.add(was);
      add(now, joined(before, after, was, now));
      const change = changeOf(was, now);
      if (change) changes.push(change);
    } else {
      add(now, alone(after, undefined, now));
      changes.push(was ? { name: now.name, change: "changed", otherKind: true } : { name: now.name, change: "added" });
    }
  }
  for (const was of before.conditions) {
    if (matched.has(was)) continue;
    const renamed = after.conditions.some(({ name }) => name === was.name);
    add(was, alone(before, was, undefined), renamed ? asItWas(was.name) : was.name);
    if (!renamed) changes.push({ name: was.name, change: "removed" });
  }
  const moved = [moveTo(before, mapsBefore, conditions, axes), moveTo(after, mapsAfter, conditions, axes)] as const;
  return { before: moved[0], after: withWords(moved[1], moved[0]), conditions: changes };
}

/** How one model's axes lie on the common ones. */
interface Placed {
  readonly axis: number;
  readonly span: (span: Span) => Span;
  /** What of the common axis this model has. */
  readonly there: Span;
  readonly size: number;
}
interface Mapping {
  readonly conditions: Map<number, number>;
  readonly axes: Map<number, Placed>;
  readonly levels: Map<number, readonly number[]>;
}
function mapping(): Mapping {
  return { conditions: new Map(), axes: new Map(), levels: new Map() };
}

/** One condition of the common space, and where each model's positions lie on it. */
interface Joined {
  readonly domain: Domain;
  readonly before?: Condition;
  readonly after?: Condition;
  axes(condition: number, start: number): readonly Axis[];
  spansBefore(from: Axis, own: readonly Axis[], at: number): Placed;
  spansAfter(from: Axis, own: readonly Axis[], at: number): Placed;
  /** Positions of a scale's levels. */
  levels(names: readonly string[]): readonly number[];
}

const noLevels = (): readonly number[] => [];

function alone(model: Model, before: Condition | undefined, after: Condition | undefined): Joined {
  const { domain, axes } = (before ?? after)!;
  const itself = (from: Axis, own: readonly Axis[], at: number): Placed => ({
    axis: own[at]!.index,
    span: (span) => span,
    there: full(from.size),
    size: from.size,
  });
  return {
    domain,
    before,
    after,
    spansBefore: itself,
    spansAfter: itself,
    axes: (condition, start) => axes.map((axis, i) => ({ ...model.axes[axis]!, index: start + i, condition })),
    levels: (names) => names.map((_, level) => level),
  };
}

function joined(before: Model, after: Model, was: Condition, now: Condition): Joined {
  const [a, b] = [was.domain, now.domain];
  if (a.kind === "scale" && b.kind === "scale") {
    const levels = merged(b.levels, a.levels);
    const levelsOf = (names: readonly string[]): readonly number[] => names.map((name) => levels.indexOf(name));
    const spans =
      (names: readonly string[]) =>
      (_: Axis, own: readonly Axis[]): Placed =>
        placed(own[0]!, (span) => spanOf([...positions(span)].map((level) => levelsOf(names)[level]!)), names.length);
    return {
      domain: { ...b, levels },
      before: was,
      after: now,
      levels: levelsOf,
      axes: (condition, index) => [{ index, condition, size: levels.length, cyclic: false }],
      spansBefore: spans(a.levels),
      spansAfter: spans(b.levels),
    };
  }
  if (a.kind === "set" && b.kind === "set") {
    const members = merged(b.members, a.members);
    const spans =
      (names: readonly string[]) =>
      (_: Axis, own: readonly Axis[], at: number): Placed =>
        placed(own[members.indexOf(names[at]!)]!, (span) => span, 2);
    return {
      domain: { ...b, members, atLeastOne: a.atLeastOne && b.atLeastOne },
      before: was,
      after: now,
      levels: noLevels,
      axes: (condition, start) => members.map((_, member) => ({ index: start + member, condition, member, size: 2, cyclic: false })),
      spansBefore: spans(a.members),
      spansAfter: spans(b.members),
    };
  }
  if (a.kind === "measure" && b.kind === "measure") return joinedMeasure(before, after, was, now, a, b);
  return alone(before, was, now);
}

type Measure = Domain & { readonly kind: "measure" };

function joinedMeasure(before: Model, after: Model, was: Condition, now: Condition, a: Measure, b: Measure): Joined {
  const toNow = inUnit(a.unit, b.unit);
  const [low, high] = [least(toNow(a.low), b.low), least(toNow(a.high), b.high, -1)];
  const stepOfA = a.step && (a.unit && b.unit ? convertDifference(a.step, a.unit, b.unit) : a.step);
  if (stepOfA && b.step && stepOfA.equals(b.step) && toNow(a.low).sub(b.low).div(b.step).d === 1n) {
    const { step } = b;
    const stepsTo = (value: Fraction): number => Number(value.sub(low).div(step).n);
    const spans =
      (first: Fraction) =>
      (from: Axis, own: readonly Axis[]): Placed =>
        placed(own[0]!, (span) => span.map((at) => at + stepsTo(first)), from.size);
    return {
      domain: { ...b, low, high },
      before: was,
      after: now,
      levels: noLevels,
      axes: (condition, index) => [{ index, condition, size: stepsTo(high) + 1, cyclic: false }],
      spansBefore: spans(toNow(a.low)),
      spansAfter: spans(b.low),
    };
  }
  const [edgesA, edgesB] = [edgesOf(before.axes[was.axes[0]!]!, a, toNow), edgesOf(after.axes[now.axes[0]!]!, b, (value) => value)];
  const spans =
    (edges: Edges) =>
    (from: Axis, own: readonly Axis[]): Placed => {
      const at = ({ value, open }: Edge, side: 1 | -1): number => 2 * indexOfLimit(own[0]!.limits!, value) + (open ? side : 0);
      return placed(
        own[0]!,
        (span) => span.map((position, i) => (i % 2 === 0 ? at(edges[position]!.from, 1) : at(edges[position]!.to, -1))),
        from.size,
      );
    };
  const domain: Measure = { kind: "measure", low, high, ...(b.unit && { unit: b.unit }) };
  return {
    domain,
    before: was,
    after: now,
    levels: noLevels,
    axes: (condition, start) =>
      axesOf(
        condition,
        domain,
        start,
        [...edgesA, ...edgesB].flatMap(({ from, to }) => [from, to]).map(({ value }) => ({ value, precision: value.mul(0) })),
      ),
    spansBefore: spans(edgesA),
    spansAfter: spans(edgesB),
  };
}

/** Where each position of an axis begins and ends, as values read before any rounding to a step. */
type Edges = readonly { readonly from: Edge; readonly to: Edge }[];
interface Edge {
  readonly value: Fraction;
  readonly open: boolean;
}

function edgesOf(axis: Axis, { low, high, step }: Measure, convertTo: (value: Fraction) => Fraction): Edges {
  return Array.from({ length: axis.size }, (_, position) => {
    const edge = (value: Fraction, open: boolean): Edge => ({ value: convertTo(value), open });
    if (step === undefined) {
      const open = position % 2 === 1;
      return { from: edge(axis.limits![position >> 1]!, open), to: edge(axis.limits![(position + 1) >> 1]!, open) };
    }
    // Halfway goes to the upper step.
    const middle = (at: number): Fraction => low.add(step.mul(at)).sub(step.div(2));
    const last = position === axis.size - 1;
    return { from: edge(position === 0 ? low : middle(position), false), to: last ? edge(high, false) : edge(middle(position + 1), true) };
  });
}

function placed({ index, size }: Axis, span: (span: Span) => Span, of: number): Placed {
  return { axis: index, span, there: span(full(of)), size };
}

function inUnit(from: Unit | undefined, to: Unit | undefined): (value: Fraction) => Fraction {
  return (value) => (from && to ? convert(value, from, to) : value);
}

function least(a: Fraction, b: Fraction, sign = 1): Fraction {
  return a.compare(b) * sign <= 0 ? a : b;
}

function isOneKind(a: Domain, b: Domain): boolean {
  return a.kind === "measure" && b.kind === "measure" ? a.unit?.kind === b.unit?.kind : a.kind === b.kind;
}

/** The first list with what only the second has, each after the one it stood after. */
function merged(list: readonly string[], others: readonly string[]): readonly string[] {
  const result = [...list];
  others.forEach((name, i) => {
    if (!result.includes(name)) result.splice(result.indexOf(others[i - 1] ?? "") + 1, 0, name);
  });
  return result;
}

function changeOf({ domain: a }: Condition, { domain: b, name }: Condition): ConditionChange | undefined {
  const words = [wordsIn(a), wordsIn(b)] as const;
  if (words[0].length + words[1].length > 0) {
    const added = words[1].filter((word) => !words[0].includes(word));
    const removed = words[0].filter((word) => !words[1].includes(word));
    return added.length + removed.length === 0
      ? undefined
      : { name, change: "changed", ...(added.length > 0 && { added }), ...(removed.length > 0 && { removed }) };
  }
  const [from, to] = [measured(a), measured(b)];
  return from === to ? undefined : { name, change: "changed", from, to };
}

function wordsIn(domain: Domain): readonly string[] {
  return domain.kind === "scale" ? domain.levels : domain.kind === "set" ? domain.members : [];
}

/** As the language says it. */
function measured(domain: Domain): string {
  if (domain.kind !== "measure") return domain.kind;
  const { low, high, step, unit } = domain;
  return `${printQuantity(low, unit)} to ${printQuantity(high, unit)}${step ? `, to the nearest ${printQuantity(step, unit)}` : ""}`;
}

/** The same model, its tests over the axes of the common space. */
function moveTo(model: Model, maps: Mapping, conditions: readonly Condition[], axes: readonly Axis[]): Model {
  const nowhere = { start: 0, end: 0 };
  const test = (was: Test): Test => {
    if (was.kind === "and" || was.kind === "or") return { ...was, parts: was.parts.map(test) };
    if (was.kind === "not") return { ...was, part: test(was.part) };
    if (was.kind !== "axis") return was;
    const { axis, span } = maps.axes.get(was.axis)!;
    return { ...was, axis, span: span(was.span) };
  };
  const when = (was: { readonly when?: Test }): { readonly when?: Test } => (was.when ? { when: test(was.when) } : {});
  const silence = (was: SayNothing): SayNothing => ({ ...was, when: test(was.when) });
  const missing = [...maps.axes.values()].filter(({ axis, there }) => !same(there, full(axes[axis]!.size)));
  return {
    ...model,
    conditions,
    axes,
    bands: model.bands.map((band) => ({
      ...band,
      condition: maps.conditions.get(band.condition)!,
      span: maps.axes.get(model.conditions[band.condition]!.axes[0]!)!.span(band.span),
    })),
    groups: model.groups.map((group) => ({
      ...group,
      condition: maps.conditions.get(group.condition)!,
      members: group.members.map((member) => memberAt(model, maps, axes, group.condition, member)),
    })),
    situations: model.situations.map((situation) => ({ ...situation, test: test(situation.test) })),
    picks: model.picks.map((pick) => ({
      ...pick,
      ...(pick.onlyWhen && { onlyWhen: test(pick.onlyWhen) }),
      ...(pick.sameAs && { sameAs: copied(pick.sameAs, maps, axes) }),
      sayNothing: pick.sayNothing.map(silence),
      trust: pick.trust.map((subject) =>
        subject.kind === "condition" ? { ...subject, index: maps.conditions.get(subject.index)! } : subject,
      ),
    })),
    patterns: model.patterns.map((pattern) => ({ ...pattern, ...when(pattern) })),
    impossible: model.impossible.map((statement) => ({ ...statement, when: test(statement.when) })),
    closed: model.closed.map(silence),
    domain: [...model.domain.map(test), ...missing.map(({ axis, there }): Test => ({ kind: "axis", axis, span: there, range: nowhere }))],
    cautions: model.cautions.map((caution) => ({ ...caution, ...when(caution) })),
    promises: model.promises.map((promise) => ({ ...promise, ...when(promise) })),
    held: model.held.map((held) => ({ ...held, ...when(held) })),
  };
}

function memberAt(model: Model, maps: Mapping, axes: readonly Axis[], condition: number, member: number): number {
  const { domain, axes: own } = model.conditions[condition]!;
  return domain.kind === "set" ? axes[maps.axes.get(own[member]!)!.axis]!.member! : maps.levels.get(condition)![member]!;
}

/** Where the copied condition has no such value, no point is possible, and the first option may stand as well as any. */
function copied(
  { condition, axis, spans }: NonNullable<Model["picks"][number]["sameAs"]>,
  maps: Mapping,
  axes: readonly Axis[],
): NonNullable<Model["picks"][number]["sameAs"]> {
  const { axis: to, span, there } = maps.axes.get(axis)!;
  const rest = complement(there, axes[to]!.size);
  return {
    condition: maps.conditions.get(condition)!,
    axis: to,
    spans: spans.map((part, i) => (i === 0 ? union(span(part), rest) : span(part))),
  };
}

/** For wording: the newer model's bands and groups, and those of conditions that only the older one has. */
function withWords(after: Model, before: Model): Model {
  const own = new Set([...after.bands, ...after.groups].map(({ condition }) => condition));
  const known = new Set(after.conditions.map(({ name }, index) => (own.has(index) ? name : "")));
  const missing = <T extends { readonly condition: number }>(list: readonly T[]): readonly T[] =>
    list.filter(({ condition }) => !known.has(before.conditions[condition]!.name));
  return { ...after, bands: [...after.bands, ...missing(before.bands)], groups: [...after.groups, ...missing(before.groups)] };
}
