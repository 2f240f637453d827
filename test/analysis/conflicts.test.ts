/** Pairs of patterns that disagree, where something else of the pick has a say in whether that leaves it without an answer. */
import { describe, expect, test } from "vitest";
import { check } from "../check.js";

const words = `book "Pairs"
condition x: no, yes
condition y: no, yes
condition clarity: clear, muddy
`;

function found(text: string, code: string): readonly (readonly [where: string | undefined, patterns: readonly string[] | undefined])[] {
  return check(words + text)
    .findings.filter((one) => one.code === code)
    .map(({ where, patterns }) => [where, patterns]);
}

describe("two patterns that disagree", () => {
  const pair = `pick blade: colorado, willow
pattern "A" go with blade colorado when x is no or y is yes
pattern "B" go with blade willow when clarity is muddy
`;

  test("conflict wherever both stand", () => {
    expect(found(pair, "conflict")).toEqual([
      ["(x is no and clarity is muddy) or (x is yes and y is yes and clarity is muddy)", ["A", "B"]],
    ]);
  });

  test("conflict where a `say nothing` leaves them standing, and nowhere else", () => {
    expect(found(`${pair}say nothing on blade when x is no because "Closed."`, "conflict")).toEqual([
      ["x is yes and y is yes and clarity is muddy", ["A", "B"]],
    ]);
    expect(found(`${pair}say nothing on blade when x is yes because "Closed."`, "conflict")).toEqual([
      ["x is no and clarity is muddy", ["A", "B"]],
    ]);
  });

  test("do not conflict where a third leaves the pick waiting: everywhere, or for some conditions", () => {
    const third = (family: string): string => `pick family: spinnerbait, jig
${family}
pick blade: colorado, willow
pattern "A" go with blade colorado when clarity is clear
pattern "B" go with blade willow when clarity is clear
pattern "C" go with blade colorado when family is spinnerbait
`;
    expect(found(third(""), "conflict")).toEqual([]);
    expect(found(third('say nothing on family because "Not ours."'), "conflict")).toEqual([]);
    expect(found(third('pattern "F" go with family jig when x is yes'), "conflict")).toEqual([
      ["clarity is clear and family is jig", ["A", "B"]],
    ]);
  });
});

describe("two patterns on different members of one set, settled by trust", () => {
  test("clash where a `say nothing` leaves them standing, and nowhere else", () => {
    const text = `condition cover: any of grass, docks
pick blade: colorado, willow
trust y first, then cover
pattern "A" go with blade colorado when cover has no grass or y is yes
pattern "B" go with blade willow when cover has docks
`;
    expect(found(text, "set-clash")).toEqual([["(y is yes and cover has docks) or (y is no and cover only docks)", ["A", "B"]]]);
    expect(found(`${text}say nothing on blade when cover has no grass because "Closed."`, "set-clash")).toEqual([
      ["y is yes and cover has all of grass, docks", ["A", "B"]],
    ]);
  });
});
