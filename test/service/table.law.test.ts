/** Rows are narrowed by what may be so in them: a value fits a row if, and only if, some point of the row has it. */
import * as fc from "fast-check";
import { expect, test } from "vitest";
import { answers } from "../../src/analysis/answers.js";
import type { Point } from "../../src/analysis/outcome.js";
import { emptySet } from "../../src/model/empty-set.js";
import type { Model } from "../../src/model/model.js";
import { holds } from "../../src/model/span.js";
import { facetsOf } from "../../src/render/facet.js";
import { fits, limitsOf } from "../../src/render/limits.js";
import { compile } from "../../src/table/compile.js";
import { books } from "../law/books.js";
import { goingThrough } from "../law/points.js";
import { read } from "../law/reading.js";

test("a value fits a row where, and only where, some of its points has that value", () => {
  let [fitting, not] = [0, 0];
  fc.assert(
    fc.property(books({ points: 2_000 }), ({ texts, root }) => {
      const { model } = read(texts, root);
      const known = answers(model, { steps: 100_000 });
      for (const { index, judgement } of model.picks) {
        const made = judgement ? undefined : compile(known, { picks: [index] });
        if (made === undefined || !("table" in made)) continue;
        // Every combination of positions: what is impossible belongs to some row or other.
        const points = [...goingThrough({ ...model, impossible: [], domain: [] })];
        for (const { name } of facetsOf(made.table)) {
          for (const limit of limitsOf(made.table, name))
            for (const row of made.table.rows) {
              const here = points.filter((point) => [...row.box].every(([axis, span]) => holds(span, point[axis]!)));
              const has = here.some((point) => hasValue(model, name, limit.text, point));
              expect(fits(row, limit)).toBe(has);
              if (has) fitting++;
              else not++;
            }
        }
      }
    }),
    { numRuns: 40 },
  );
  expect(Math.min(fitting, not)).toBeGreaterThan(50);
});

/** Whether a point has a value of a condition: a level, a member or that there is none, a band. */
function hasValue({ conditions, bands }: Model, name: string, value: string, point: Point): boolean {
  const { axes, domain, index } = conditions.find((one) => one.name === name)!;
  if (domain.kind === "scale") return domain.levels[point[axes[0]!]!] === value;
  if (domain.kind === "set")
    return value === emptySet ? axes.every((axis) => point[axis] === 0) : point[axes[domain.members.indexOf(value)]!] === 1;
  return holds(bands.find((one) => one.condition === index && one.name === value)!.span, point[axes[0]!]!);
}
