/** A judgement that copies bands of which one is broken: where no band is, there is no answer, and nothing breaks. */
import { expect, test } from "vitest";
import { toTheEnd } from "../../src/analysis/budget.js";
import { answers } from "../../src/analysis/answers.js";
import { lookup } from "../../src/analysis/diagrams/diagram.js";
import { answersAt } from "../../src/analysis/point.js";
import { explaining } from "../../src/answer/explain.js";
import { check } from "../check.js";

test("a value in no band copies nothing, at the point as in the diagram", () => {
  const { model } = check(`book "Bands"
condition water-temp: 33 to 95 °F
band water-temp: cold below 50 °F, cool below 70 °F
judgement feel: same as water-temp
pick blade: round, leaf
pattern "A" go with blade round when feel is cold
fall back on blade leaf
`);
  const { picks } = answers(model, { steps: 10_000 });
  const statuses = Array.from({ length: model.axes[0]!.size }, (_, position) => {
    const [feel, blade] = answersAt(model, [position]).map(({ outcome }) => outcome);
    for (const [pick, outcome] of [feel!, blade!].entries()) expect(lookup(picks[pick]!.whole, () => position)).toEqual(outcome);
    expect(toTheEnd(explaining(model, [position]))).toHaveProperty("picks");
    return feel!.status;
  });
  expect(new Set(statuses)).toEqual(new Set(["decided", "gap"]));
});
