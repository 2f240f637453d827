/**
 * Values by which the rows of a table are narrowed: of each column those that a customer may name.
 *
 *     clarity: muddy   ──▶   every row under which muddy water may be, "dirty or muddy" and "any" as well
 */
import { tableWords } from "../messages/table.js";
import { full, intersect, isEmpty, run, spanOf, type Span } from "../model/span.js";
import type { Row, Table } from "../table/compile.js";

/** A value that rows are narrowed by: the axes it limits. */
export interface Limit {
  readonly text: string;
  readonly box: ReadonlyMap<number, Span>;
}

/** Of a column of a table, by its name; none of a measure without bands. */
export function limitsOf({ model, tested }: Table, name: string): readonly Limit[] {
  const asked = tested.find(({ pick }) => model.picks[pick]!.name === name);
  if (asked)
    return model.picks[asked.pick]!.options.flatMap(({ text }, option) => {
      const there = spanOf(asked.fronts.flatMap((front, at) => (typeof front !== "string" && front.includes(option) ? [at] : [])));
      return isEmpty(there) ? [] : [{ text, box: new Map([[asked.variable, there]]) }];
    });
  const { index, axes, domain } = model.conditions.find((condition) => condition.name === name)!;
  const axis = axes[0]!;
  switch (domain.kind) {
    case "scale":
      return domain.levels.map((text, level) => ({ text, box: new Map([[axis, run(level, level)]]) }));
    case "set":
      return [
        ...domain.members.map((text, member) => ({ text, box: new Map([[axes[member]!, run(1, 1)]]) })),
        ...(domain.atLeastOne ? [] : [{ text: tableWords.noMembers, box: new Map(axes.map((one) => [one, run(0, 0)] as const)) }]),
      ];
    default:
      return model.bands
        .filter(({ condition }) => condition === index)
        .map(({ name, span }) => ({ text: name, box: new Map([[axis, span]]) }));
  }
}

/** Some point of the row lies within the limit. */
export function fits({ box }: Row, limit: Limit): boolean {
  return [...limit.box].every(([axis, span]) => !isEmpty(intersect(box.get(axis) ?? full(Number.MAX_SAFE_INTEGER), span)));
}
