/**
 * Limits of a row as data, condition by condition.
 *
 *     scale                    ["dirty", "muddy"]                            its levels, in the scale's order
 *     set                      { "has": ["grass"], "no": ["docks"] }         members that must, and must not, be there
 *     measure                  { "from": "33 °F", "below": "50 °F" }         one lower and one upper end, each in (`from`, `to`) or
 *                              { "above": "10 ft", "to": "40 ft" }           out (`above`, `below`)
 *     days, times of the day   { "from": "dec 1", "to": "mar 9" }            both ends in; may go round the year's or day's end
 *     several stretches        [ { "from": … }, { "from": … } ]
 *
 * A condition that is not named does not matter. A reading in steps is rounded to its nearest step before it is compared.
 */
import type { Box } from "../analysis/diagrams/diagram.js";
import type { Condition, Model } from "../model/model.js";
import { sayPosition } from "../model/points.js";
import { count, positions, type Span } from "../model/span.js";

export type When = Readonly<Record<string, Allowed>>;
/** A scale's levels, a set's members, or where a measure, day or time lies. */
type Allowed = readonly string[] | Members | Stretch | readonly Stretch[];
interface Members {
  readonly has?: readonly string[];
  readonly no?: readonly string[];
}
interface Stretch {
  readonly from?: string;
  readonly above?: string;
  readonly to?: string;
  readonly below?: string;
}

export function whenOf(model: Model, box: Box): When {
  const when: Record<string, Allowed> = {};
  for (const condition of model.conditions) {
    const allowed = allowedOn(model, condition, box);
    if (allowed) when[condition.name] = allowed;
  }
  return when;
}

function allowedOn(model: Model, condition: Condition, box: Box): Allowed | undefined {
  const { domain } = condition;
  if (domain.kind === "set") {
    const { has, no } = membersIn(model, condition, box);
    if (has.length === 0 && no.length === 0) return undefined;
    return { ...(has.length > 0 && { has }), ...(no.length > 0 && { no }) };
  }
  const axis = model.axes[condition.axes[0]!]!;
  const span = box.get(axis.index);
  if (!span || count(span) === axis.size) return undefined;
  if (domain.kind === "scale") return [...positions(span)].map((level) => domain.levels[level]!);
  const stretches = runsOn(span, axis).map(([from, to]) => stretchOf(model, condition, from, to));
  return stretches.length === 1 ? stretches[0]! : stretches;
}

/** Members by name that a box asks for, and that it forbids. */
export function membersIn(
  model: Model,
  { axes, domain }: Condition,
  box: Box,
): { readonly has: readonly string[]; readonly no: readonly string[] } {
  const which = (position: number): string[] =>
    axes.flatMap((axis) => {
      const span = box.get(axis);
      return span && count(span) === 1 && span[0] === position && domain.kind === "set" ? [domain.members[model.axes[axis]!.member!]!] : [];
    });
  return { has: which(1), no: which(0) };
}

/** Runs of a span; on a cycle the one over the end is one run. */
export function runsOn(
  span: Span,
  axis: { readonly cyclic: boolean; readonly size: number },
): readonly (readonly [from: number, to: number])[] {
  const runs: [number, number][] = [];
  for (let i = 0; i < span.length; i += 2) runs.push([span[i]!, span[i + 1]!]);
  const last = runs.at(-1);
  if (axis.cyclic && runs.length > 1 && runs[0]![0] === 0 && last![1] === axis.size - 1) {
    runs.pop();
    runs.splice(0, 1);
    runs.push([last![0], span[1]!]);
  }
  return runs;
}

function stretchOf(model: Model, condition: Condition, from: number, to: number): Stretch {
  const axis = model.axes[condition.axes[0]!]!;
  const value = (position: number): string => sayPosition(model, axis.index, position);
  if (axis.cyclic) return { from: value(from), to: value(to) };
  if (axis.limits)
    return {
      ...(from % 2 === 0 ? { from: value(from) } : { above: value(from - 1) }),
      ...(to % 2 === 0 ? { to: value(to) } : { below: value(to + 1) }),
    };
  return { from: value(from), ...(from === to || to === axis.size - 1 ? { to: value(to) } : { below: value(to + 1) }) };
}
