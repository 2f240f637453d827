/**
 * Between the solver's values and the engine's: points and outcomes one way, limits and outcomes the other.
 *
 *     depth = 7/2, grass = true   ◀──▶   positions 3 and 1            places 0, 2, 2 of three options   ◀──▶   colorado, then indiana or willow
 */
import { Fraction } from "fraction.js";
import { statuses, type Outcome, type Point } from "../../src/analysis/outcome.js";
import type { Model, Pick } from "../../src/model/model.js";
import { canonical } from "../law/points.js";
import type { Ground } from "./smt-ground.js";
import { and, not, or, real, type Term } from "./smt-terms.js";
import type { Said } from "./smt-tests.js";
import type { Values } from "./z3.js";

/** The solver's point as positions on the model's axes. */
export function pointOf(model: Model, ground: Ground, values: Values): Point {
  const point: number[] = [];
  for (const condition of model.conditions) {
    const names = ground.conditions.get(condition.name)!.variables();
    condition.axes.forEach((axis, i) => {
      const value = values.get(names[i]!) ?? new Fraction(0);
      const { limits } = model.axes[axis]!;
      if (typeof value === "boolean") point[axis] = value ? 1 : 0;
      else if (limits === undefined) point[axis] = Number(value.n);
      else {
        const at = limits.findIndex((limit) => limit.compare(value) >= 0);
        point[axis] = limits[at]!.equals(value) ? 2 * at : 2 * at - 1;
      }
    });
  }
  return point;
}

/** What the formula says of a pick at the solver's point. */
export function outcomeIn(said: Said, pick: Pick, values: Values): Outcome {
  const places = new Map<string, number[]>();
  pick.options.forEach((_, option) => {
    if (values.get(said.listed(option)) !== true) return;
    const place = (values.get(said.place(option)) as Fraction).toFraction();
    places.set(place, [...(places.get(place) ?? []), option]);
  });
  const status = statuses[Number((values.get(said.status) as Fraction).n)]!;
  return canonical({ status, places: [...places].sort(([a], [b]) => Number(a) - Number(b)).map(([, options]) => options) });
}

/** A limit of a row as a term: positions on an axis, back to values. */
export function spanTerm(model: Model, ground: Ground, axis: number, span: readonly number[]): Term {
  const { condition, limits } = model.axes[axis]!;
  const { name, axes } = model.conditions[condition]!;
  const variable = ground.conditions.get(name)!.variables()[axes.indexOf(axis)]!;
  const isSet = ground.conditions.get(name)!.kind === "set";
  const parts: Term[] = [];
  for (let i = 0; i < span.length; i += 2) {
    const [from, to] = [span[i]!, span[i + 1]!];
    if (isSet) parts.push(...[from, to].map((position) => (position === 1 ? variable : not(variable))));
    else if (limits === undefined) parts.push(and(`(>= ${variable} ${from})`, `(<= ${variable} ${to})`));
    else
      parts.push(
        and(
          `(${from % 2 === 0 ? ">=" : ">"} ${variable} ${real(limits[from >> 1]!)})`,
          `(${to % 2 === 0 ? "<=" : "<"} ${variable} ${real(limits[(to + 1) >> 1]!)})`,
        ),
      );
  }
  return or(...parts);
}

/** The pick says just this. */
export function saidAs(said: Said, { options }: Pick, { status, places }: Outcome): Term {
  const listed = places.flat();
  const placeOf = (option: number): number => places.findIndex((place) => place.includes(option));
  return and(
    said.is(status),
    ...options.map((_, option) => (listed.includes(option) ? said.listed(option) : not(said.listed(option)))),
    ...listed.flatMap((one) =>
      listed
        .filter((other) => other > one)
        .map(
          (other) =>
            `(${placeOf(one) < placeOf(other) ? "<" : placeOf(one) > placeOf(other) ? ">" : "="} ${said.place(one)} ${said.place(other)})`,
        ),
    ),
  );
}
