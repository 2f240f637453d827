/**
 * Rows of a chart that say the same and differ in one set only, as one line where that can be said in one breath.
 *
 *     grass and wood                   tandem
 *     grass and docks, no wood         tandem     ──▶   soft and hard    tandem
 *     pads and wood, no grass          tandem
 *     only pads and docks              tandem
 *
 * The table itself has rows that ask for or forbid single members, so that they are disjoint; "some of these" takes several of them.
 */
import type { Box } from "../analysis/diagrams/diagram.js";
import { outcomeKey } from "../analysis/answers.js";
import type { Row, Table } from "../table/compile.js";
import { facetsOf, type Facet } from "./facet.js";
import type { Legend } from "./words.js";

/** A line: for each facet of the table its cell, and the rows it stands for, which have one answer. */
export interface Gathered {
  readonly cells: readonly string[];
  readonly rows: readonly Row[];
}

export function gather(table: Table, legend: Legend): readonly Gathered[] {
  const facets = facetsOf(table);
  let lines: readonly Line[] = table.rows.map((row) => ({ rows: [row], limits: facets.map((facet) => [partOf(row.box, facet)]) }));
  facets.forEach((facet, column) => {
    if (facet.isSet) lines = together(lines, column, (boxes) => facet.union(boxes) !== undefined);
  });
  return lines.map(({ rows, limits }) => ({
    rows,
    cells: facets.map((facet, column) => {
      const boxes = limits[column]!;
      return boxes.length === 1 ? facet.words(boxes[0]!, legend) : facet.union(boxes, legend)!;
    }),
  }));
}

interface Line {
  readonly rows: readonly Row[];
  /** Per facet disjoint boxes over its axes. */
  readonly limits: readonly (readonly Box[])[];
}

/** Lines alike but for one column become one where `sayable`; it stands where the first of them stood. */
function together(lines: readonly Line[], column: number, sayable: (boxes: readonly Box[]) => boolean): readonly Line[] {
  const alike = new Map<string, Line[]>();
  for (const line of lines) {
    const key = [...line.limits.map((boxes, i) => (i === column ? "" : keyOf(boxes))), ...line.rows[0]!.outcomes.map(outcomeKey)].join("|");
    alike.set(key, [...(alike.get(key) ?? []), line]);
  }
  const place = new Map(lines.map(({ rows }, at) => [rows[0]!, at]));
  return [...alike.values()]
    .flatMap((group) => {
      const boxes = group.flatMap(({ limits }) => limits[column]!);
      if (group.length === 1 || !sayable(boxes)) return group;
      return [{ rows: group.flatMap(({ rows }) => rows), limits: group[0]!.limits.map((limit, i) => (i === column ? boxes : limit)) }];
    })
    .sort((a, b) => place.get(a.rows[0]!)! - place.get(b.rows[0]!)!);
}

function partOf(box: Box, { axes }: Facet): Box {
  return new Map([...box].filter(([axis]) => axes.includes(axis)));
}

function keyOf(boxes: readonly Box[]): string {
  return boxes
    .map((box) =>
      [...box]
        .sort(([a], [b]) => a - b)
        .map(([axis, span]) => `${axis}:${span.join(",")}`)
        .join(";"),
    )
    .sort()
    .join("/");
}
