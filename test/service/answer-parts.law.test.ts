/** A reply goes with the rest of what is known if, and only if, some possible point has it and agrees with that; every sentence stands in one part. */
import * as fc from "fast-check";
import { expect, test } from "vitest";
import { toTheEnd } from "../../src/analysis/budget.js";
import { answers } from "../../src/analysis/answers.js";
import { emptySet } from "../../src/model/empty-set.js";
import { exampleOf } from "../../src/model/points.js";
import { holds } from "../../src/model/span.js";
import { explainingGiven } from "../../src/service/explained.js";
import { books } from "../law/books.js";
import { goingThrough } from "../law/points.js";
import { read } from "../law/reading.js";

test("a reply goes with the rest where, and only where, some possible point has it", () => {
  let [fitting, not] = [0, 0];
  fc.assert(
    fc.property(books({ points: 1_500 }), fc.nat(), ({ texts, root }, which) => {
      const { model } = read(texts, root);
      const points = [...goingThrough(model)];
      if (points.length === 0) return;
      const told = model.conditions[which % model.conditions.length]!;
      const value = exampleOf(model, points[which % points.length]!)[told.name]!;
      const given = { [told.name]: typeof value === "string" ? value : value.join(", ") || emptySet };
      const explained = toTheEnd(explainingGiven(answers(model, { steps: 100_000 }), given));
      if ("problem" in explained) return;
      const known = points[which % points.length]!;
      for (const { condition, replies } of explained.parts.conditions) {
        const { axes, domain, index, name } = model.conditions.find((one) => one.name === condition)!;
        const rest = name === told.name ? points : points.filter((point) => told.axes.every((axis) => point[axis] === known[axis]));
        for (const { value: reply, fits } of replies) {
          const band = model.bands.find((one) => one.condition === index && one.name === reply);
          const has = rest.some((point) => {
            if (domain.kind === "scale") return domain.levels[point[axes[0]!]!] === reply;
            if (domain.kind !== "set") return holds(band!.span, point[axes[0]!]!);
            return reply === emptySet ? axes.every((axis) => point[axis] === 0) : point[axes[domain.members.indexOf(reply)]!] === 1;
          });
          expect([condition, reply, fits]).toEqual([condition, reply, has]);
          if (has) fitting++;
          else not++;
        }
      }
    }),
    { numRuns: 60 },
  );
  expect(fitting).toBeGreaterThan(100);
  expect(not).toBeGreaterThan(5);
});
