/**
 * The replies that a question about a condition offers, in one order everywhere: levels and members as the book lists them, bands as it
 * declares them, and that a set has none of its members last.
 *
 *     cover: any of grass, docks      ──▶   grass, docks, none             water-temp: a number      ──▶   cold [0,16], warm [17,62]
 */
import { emptySet } from "../model/empty-set.js";
import type { Condition, Model } from "../model/model.js";
import type { Span } from "../model/span.js";

export interface Reply {
  /** As it is given back. Of a set: one member, of which several may hold together, or that there is none. */
  readonly value: string;
  /** Of a band: its positions. */
  readonly span?: Span;
}

export function repliesTo({ bands }: Pick<Model, "bands">, { domain, index }: Condition): readonly Reply[] {
  if (domain.kind === "scale") return domain.levels.map((value) => ({ value }));
  if (domain.kind === "set") return [...domain.members, ...(domain.atLeastOne ? [] : [emptySet])].map((value) => ({ value }));
  return bands.filter(({ condition }) => condition === index).map(({ name, span }) => ({ value: name, span }));
}
