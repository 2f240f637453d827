/** The row of a table that a point lies in, found the plain way. */
import type { Outcome, Point } from "../../src/analysis/outcome.js";
import { holds } from "../../src/model/span.js";
import type { Row, Table } from "../../src/table/compile.js";

/** The one row a possible point lies in; undefined for a point that no row holds, which is then an impossible one. */
export function rowAt({ rows }: Table, point: Point): Row | undefined {
  return rows.find(({ box }) => [...box].every(([axis, span]) => holds(span, point[axis]!)));
}

/** What the table says of a pick at a point; undefined if the table is not about it, or the point is impossible. */
export function outcomeAt(table: Table, point: Point, pick: number): Outcome | undefined {
  const at = table.picks.indexOf(pick);
  return at < 0 ? undefined : rowAt(table, point)?.outcomes[at];
}
