/**
 * Limits of a row in the words of a chart, condition by condition.
 *
 *     scale     "dirty or muddy", "stained to muddy"        measure   "cold (below 50 °F)", "50 °F to 69 °F", "above 10 ft"
 *     set       "grass and docks, no logs", "none"          day       "spawn (apr 20 to may 31)", "dec 1 to mar 9"
 *
 * A band or group is named where it is exactly what is meant.
 */
import type { Box } from "../analysis/diagram.js";
import { say } from "../messages/table.js";
import type { Condition, Model } from "../model/model.js";
import { sayPosition } from "../model/points.js";
import { complement, count, positions, same, spanOf, within, type Span } from "../model/span.js";
import { membersIn, runsOn } from "./when.js";

/** What a row asks of a condition; "any" if nothing. */
export function cellWords(model: Model, condition: Condition, box: Box): string {
  if (condition.domain.kind === "set") return setWords(model, condition, box);
  const axis = model.axes[condition.axes[0]!]!;
  const span = box.get(axis.index);
  if (!span || count(span) === axis.size) return say.any;
  return condition.domain.kind === "scale" ? levelWords(model, condition, span) : stretchWords(model, condition, span);
}

/** A whole box: "Water clarity: dirty or muddy; Wind: above 10 mph"; undefined if it limits nothing. */
export function boxWords(model: Model, box: Box): string | undefined {
  const parts = model.conditions.filter(({ axes }) => axes.some((axis) => box.has(axis))).map((condition) => say.conditionIs(condition.label, cellWords(model, condition, box)));
  return parts.length === 0 ? undefined : parts.join("; ");
}

function levelWords(model: Model, condition: Condition, span: Span): string {
  if (condition.domain.kind !== "scale") return "";
  const { levels, ordered } = condition.domain;
  const names = (of: Span): string[] => [...positions(of)].map((level) => levels[level]!);
  const group = model.groups.find((one) => one.condition === condition.index && one.members.length > 1 && same(spanOf(one.members), span));
  if (group) return say.named(group.name, say.either(names(span)));
  if (ordered && span.length === 2 && count(span) > 2) return say.between(levels[span[0]!]!, levels[span[1]!]!);
  const others = names(complement(span, levels.length));
  return others.length === 1 && levels.length > 3 ? say.withoutMembers(others) : say.either(names(span));
}

function stretchWords(model: Model, condition: Condition, span: Span): string {
  const inside = model.bands.filter((band) => band.condition === condition.index && within(band.span, span));
  const covered = inside.reduce((sum, band) => sum + count(band.span), 0);
  if (inside.length > 0 && inside.length <= 3 && covered === count(span)) return say.either(inside.map((band) => say.named(band.name, runWords(model, condition, band.span))));
  return runWords(model, condition, span);
}

function runWords(model: Model, condition: Condition, span: Span): string {
  const axis = model.axes[condition.axes[0]!]!;
  const value = (position: number): string => sayPosition(model, axis.index, position);
  const top = axis.size - 1;
  // Of a continuous measure odd positions are open stretches; in steps either neighbour says the same, and the rounder number says it better.
  const below = (to: number): string => (axis.limits ? (to % 2 === 1 ? say.below(value(to + 1)) : say.atMost(value(to))) : rounder(value(to + 1), value(to)) ? say.below(value(to + 1)) : say.atMost(value(to)));
  const above = (from: number): string => (axis.limits ? (from % 2 === 1 ? say.above(value(from - 1)) : say.atLeast(value(from))) : rounder(value(from - 1), value(from)) ? say.above(value(from - 1)) : say.atLeast(value(from)));
  const closed = (position: number): boolean => axis.limits === undefined || position % 2 === 0;
  return say.either(runsOn(span, axis).map(([from, to]) => {
    if (from === to && closed(from)) return say.exactly(value(from));
    if (axis.cyclic) return say.between(value(from), value(to));
    if (from === 0) return to === top ? say.any : below(to);
    if (to === top) return above(from);
    return closed(from) && closed(to) ? say.between(value(from), value(to)) : say.both(above(from), below(to));
  }));
}

/** Whether the first number ends in a 0 or 5 that the second lacks. */
function rounder(a: string, b: string): boolean {
  const roundness = (text: string): number => {
    const digits = /^[^\d]*[\d.]+(?![\d./])/.exec(text)?.[0] ?? "";
    return digits.endsWith("0") ? 2 : digits.endsWith("5") ? 1 : 0;
  };
  return roundness(a) > roundness(b);
}

function setWords(model: Model, condition: Condition, box: Box): string {
  if (condition.domain.kind !== "set") return "";
  const { has, no } = membersIn(model, condition, box);
  const { members } = condition.domain;
  if (has.length === 0 && no.length === 0) return say.any;
  if (no.length === members.length) return say.noMembers;
  if (has.length > 0 && has.length + no.length === members.length) return say.only(has);
  const parts = [...(has.length > 0 ? [say.withMembers(has)] : []), ...(no.length > 0 ? [say.withoutMembers(grouped(model, condition, no))] : [])];
  return parts.join(", ");
}

/** Member names, whole groups by the group's name. */
function grouped(model: Model, condition: Condition, names: readonly string[]): readonly string[] {
  if (condition.domain.kind !== "set") return names;
  const { members } = condition.domain;
  const left = new Set(names);
  const said: string[] = [];
  for (const group of model.groups) {
    if (group.condition !== condition.index || group.members.length < 2 || !group.members.every((member) => left.has(members[member]!))) continue;
    said.push(group.name);
    for (const member of group.members) left.delete(members[member]!);
  }
  return [...said, ...left];
}
