/** Fixes that would do harm are not offered; what is offered instead. */
import { expect, test } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import { toTheEnd } from "../../src/analysis/budget.js";
import { gatheringActions } from "../../src/service/actions/actions.js";
import { withAnalysis } from "../../src/service/view.js";
import { open } from "./marks.js";

const head = `condition clarity: in order clear, stained, muddy
condition cover: any of grass, docks
pick blade: colorado, willow, indiana
`;

/** The titles offered for the findings of a kind. */
function offered(code: string, book: string): readonly string[] {
  const { view } = open(head + book);
  const analysed = withAnalysis(view, analyse(view.model));
  const findings = [...analysed.findings, ...analysed.analysis!.findings].filter((one) => one.code === code);
  expect(findings).not.toEqual([]);
  return findings.flatMap((finding) =>
    toTheEnd(gatheringActions(analysed, finding.range, [finding], { only: ["quickfix"] })).map(({ title }) => title),
  );
}

test("a pattern is not kept out of the only place where it applies", () => {
  const broken = `pattern "Mud" go with blade willow when clarity is muddy
fall back on blade colorado
promise "No willow": blade must not be willow when clarity is muddy
`;
  expect(offered("promise", broken)).toEqual([
    "Add a pattern that never says blade willow where clarity is muddy",
    "Take the promise “No willow” out",
  ]);
  const both = `pattern "Mud" go with blade willow when clarity is muddy
pattern "Thump" go with blade colorado when clarity is muddy
fall back on blade colorado
`;
  expect(offered("conflict", both)).toEqual(["Let “Mud” beat “Thump”", "Let “Thump” beat “Mud”"]);
});

test("a broken promise is kept by who says it already, by an exception, or it is changed", () => {
  const broken = `pattern "Mud" go with blade willow when clarity is muddy or cover has grass
  beats "Docks"
pattern "Docks" go with blade colorado when cover has docks
fall back on blade colorado
promise "Thump at docks": blade must be colorado when cover has docks
`;
  const where = "where (clarity is clear or stained and cover has all of grass, docks) or (clarity is muddy and cover has docks)";
  expect(offered("promise", broken)).toEqual([
    `Add a pattern that goes with blade colorado ${where}`,
    "Change the promise “Thump at docks” to allow willow",
    `Change the promise “Thump at docks” to leave out ${where}`,
    "Take the promise “Thump at docks” out",
    `Keep “Mud” out of ${where}`,
  ]);
});

test("what a slip of the pen would be mended with is not taken out as idle", () => {
  const book = (subject: string): string => `condition current: slow, strong
pattern "Mud" go with blade willow when clarity is muddy and ${subject}
fall back on blade willow
`;
  expect(offered("never-asked", book("cover has grass"))).toEqual(["Take current out"]);
  expect(offered("name", book("curent is strong and cover has grass"))[0]).toBe("Write current");
  expect(offered("never-asked", book("curent is strong and cover has grass"))).toEqual([]);
});

test("one change that mends two findings is offered once", () => {
  const { view } = open(`${head}pick speed: slow, fast
pattern "Mud" go with blade willow
  go with speed slow
  when clarity is muddy
pattern "Thump" go with blade colorado
  go with speed fast
  when clarity is muddy or stained
fall back on blade colorado
fall back on speed slow
`);
  const analysed = withAnalysis(view, analyse(view.model));
  const whole = { start: 0, end: view.text.length };
  const titles = toTheEnd(gatheringActions(analysed, whole, analysed.analysis!.findings, { only: ["quickfix"] })).map(({ title }) => title);
  expect(new Set(titles).size).toBe(titles.length);
});
