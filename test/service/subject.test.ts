/** What a place of a book is about, by example; that nothing half-written breaks it: `damaged.law.test.ts`. */
import { describe, expect, test } from "vitest";
import { subjectAt } from "../../src/service/subject.js";
import { open } from "./marks.js";

const ground = `condition clarity: clear, muddy
pick blade: round, leaf
pick speed: in order slow, fast
  only when blade is round
judgement seen: same as clarity
`;
const about = (marked: string) => {
  const { view, cursor } = open(marked.includes("condition clarity") ? marked : ground + marked);
  return subjectAt(view, cursor);
};

describe("in a pattern", () => {
  const pattern = { pattern: "Mud" };
  test.each([
    ["its pick", 'pattern "Mud"\n  go with bla‸de round\n  when clarity is muddy', ["blade"]],
    ["an option of its pick", 'pattern "Mud"\n  go with blade ro‸und\n  when clarity is muddy', ["blade"]],
    ["a condition", 'pattern "Mud"\n  go with blade round\n  when cla‸rity is muddy', ["blade"]],
    ["a pick that it only tests", 'pattern "Mud"\n  go with speed slow\n  when bla‸de is round', ["speed"]],
    ["its title, where it speaks on several picks", 'pattern "M‸ud"\n  go with blade round\n  lean to speed slow', ["blade", "speed"]],
    ["one of several picks", 'pattern "Mud"\n  go with blade round\n  lean to sp‸eed slow', ["speed"]],
    ["its end, on the line that is being written", 'pattern "Mud"\n  go with blade round\n  ‸', ["blade"]],
    ["a judgement, which has no table", 'pattern "Mud"\n  go with se‸en muddy', []],
    ["half of it", 'pattern "Mud"\n  go with blade ‸', ["blade"]],
  ])("%s", (_, marked, picks) => {
    expect(about(marked)).toEqual({ ...pattern, picks });
  });
});

test.each([
  ["the declaration of a pick", ground.replace("round, leaf", "round, le‸af"), ["blade"]],
  ["what a pick is asked for by", ground.replace("blade is round", "bla‸de is round"), ["speed"]],
  ["a fall back", "fall back on speed sl‸ow", ["speed"]],
  ["a silence", "say nothing on blade, spe‸ed when clarity is muddy", ["blade", "speed"]],
  ["a promise", 'promise "P": blade must be round when clarity is mu‸ddy', ["blade"]],
  ["a condition", ground.replace("clear, muddy", "clear, mu‸ddy"), []],
  ["an empty line behind a pattern", 'pattern "Mud"\n  go with blade round\n\n‸', []],
  ["an empty book", "‸", []],
])("%s", (_, marked, picks) => {
  expect(about(marked)).toEqual({ picks });
});
