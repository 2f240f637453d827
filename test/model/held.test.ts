/** What cannot be read is told once, left out, and held against nobody else. */
import { describe, expect, test } from "vitest";
import type { Test } from "../../src/model/model.js";
import { resolved, type Texts } from "./books.js";

const declarations = `
condition clarity: in order clear, stained, muddy
condition sky: bright, dark
condition depth: 0 to 40 ft
pick family: jig, worm
pick blade: round, leaf
  only when family is jig
`;

/** A test as written, from the model. */
function inWords(test: Test | undefined): string {
  if (test === undefined) return "anywhere";
  switch (test.kind) {
    case "and":
    case "or":
      return `(${test.parts.map(inWords).join(` ${test.kind} `)})`;
    case "not":
      return `not ${inWords(test.part)}`;
    case "axis":
      return `axis ${test.axis} in ${test.span.join("-")}`;
    case "pick":
      return `pick ${test.pick} in ${test.span.join("-")}`;
    default:
      return test.kind;
  }
}

function held(text: string): string[] {
  return resolved(declarations + text).model.held.map(({ picks, when }) => `${picks.join()}: ${inWords(when)}`);
}

const codes = (text: string | Texts) =>
  resolved(text)
    .findings.filter(({ severity }) => severity === "error")
    .map(({ code }) => code);

describe("a broken pattern is held where it might have spoken", () => {
  test.each([
    ["its when is whole", "go with blade rond when sky is dark", ["1: axis 1 in 1-1"]],
    ["no when", "go with blade rond", ["1: anywhere"]],
    ["nothing of it can be read", "go with blade round when skie is dark", ["1: anywhere"]],
    ["one side of an and", "go with blade round when sky is dark and clarity is mudy", ["1: axis 1 in 1-1"]],
    ["one side of an or", "go with blade round when sky is dark or clarity is mudy", ["1: anywhere"]],
    ["inside a not", "go with blade round when not (sky is dark and clarity is mudy)", ["1: anywhere"]],
    ["inside a not, one side of an or", "go with blade round when not (sky is dark or clarity is mudy)", ["1: not axis 1 in 1-1"]],
    ["a limit that only it writes still cuts the axis", "go with blade rond when depth is below 10 ft", ["1: axis 2 in 0-1"]],
    ["on two picks, of which one is nearly known", "go with blade round go with famly jig when sky is dark", ["1,0: axis 1 in 1-1"]],
    ["it tests a pick that comes before its own", "go with blade rond when family is jig", ["1: pick 0 in 0-0"]],
    ["it tests a pick that comes after its own", "go with family jigg when blade is leaf and sky is dark", ["0: axis 1 in 1-1"]],
    ["the parser could not read it", "go with blade round when sky is dark and", ["1: anywhere"]],
    ["only its beats is broken", 'go with blade round when sky is dark beats "Nobody"', ["1: axis 1 in 1-1"]],
    ["it moves what has no order", "move blade up 1 when sky is dark", ["1: axis 1 in 1-1"]],
  ])("%s", (_, rest, expected) => {
    const text = `pattern "A" ${rest}\npattern "B" go with family worm when sky is bright`;
    expect(held(text)).toEqual(expected);
    expect(resolved(declarations + text).model.patterns.map(({ title }) => title)).toEqual(["B"]);
  });

  test("even without a title", () => {
    expect(held("pattern go with blade round when sky is dark")).toEqual(["1: anywhere"]);
  });

  test("one past its until does not speak and is not held", () => {
    const text = `${declarations}pattern "A" go with blade rond until 2027-01-01`;
    expect(resolved(text, "2027-06-01").model.held).toEqual([]);
    expect(resolved(text, "2026-06-01").model.held).toEqual([{ picks: [1] }]);
  });
});

describe("what else cannot be read", () => {
  test.each([
    ["a fall back", "fall back on blade rond", ["1: anywhere"]],
    ["one on a pick that is nearly known", "fall back on blad round", ["1: anywhere"]],
    ["a say nothing", "say nothing on blade when sky is dark and clarity is mudy", ["1: axis 1 in 1-1"]],
    ["an impossible, for every pick", "impossible when sky is dark and clarity is mudy", ["0,1: axis 1 in 1-1"]],
    ["an impossible of which nothing can be made out would hold back everything", "impossible when clarity is mudy", []],
    ["an only when", "pick hook: small, large\n  only when clarity is mudy", ["2: anywhere"]],
  ])("%s", (_, text, expected) => {
    expect(held(text)).toEqual(expected);
  });

  test("a caution or a promise is left out and holds back nothing", () => {
    const { model } = resolved(`${declarations}caution "A" when clarity is mudy say "x"\npromise "B": blade must not be rond`);
    expect([model.cautions, model.promises, model.held]).toEqual([[], [], []]);
  });

  test("what closes a circle of picks is left out and held", () => {
    const { model } = resolved(
      `${declarations}pattern "A" go with family jig when blade is leaf and sky is dark\npattern "B" go with family worm`,
    );
    expect(model.patterns.map(({ title }) => title)).toEqual(["B"]);
    expect(model.picks.map(({ name, onlyWhen, tests }) => [name, onlyWhen, tests])).toEqual([
      ["family", undefined, []],
      ["blade", undefined, []],
    ]);
    expect(model.held.map(({ picks, when }) => [picks, inWords(when)])).toEqual([
      [[0], "axis 1 in 1-1"],
      [[1], "anywhere"],
    ]);
  });
});

describe("one fault, one finding", () => {
  const uses = `
pick blade: round, leaf
pattern "A" go with blade round when depth is deeper than 10 ft
pattern "B" go with blade round when depth is shallow or depth is shallower than 3 ft
pattern "C" go with blade leaf when clarity is muddy
trust depth first, then clarity
fall back on blade leaf
promise "P": blade must have an answer when depth is deep`;
  test.each([
    [
      "a range that cannot be",
      "condition depth: 40 to 0 ft\nband depth: shallow below 10 ft, deep\ncondition clarity: clear, muddy",
      ["range"],
    ],
    [
      "a unit that does not exist",
      "condition depth: 0 to 40 fathoms\nband depth: shallow below 10 ft, deep\ncondition clarity: clear, muddy",
      ["unit"],
    ],
    [
      "a list that the parser could not read to its end",
      "condition depth: 0 to 40 ft\n  rising is deeper, falling is shallower\nband depth: shallow below 10 ft, deep\ncondition clarity: clear,, muddy",
      ["syntax"],
    ],
    [
      "a list that ends in a comma",
      "condition depth: 0 to 40 ft\n  rising is deeper, falling is shallower\nband depth: shallow below 10 ft, deep\ncondition clarity: in order clear, \n  rising is dirtier, falling is clearer",
      ["syntax"],
    ],
    [
      "a situation in a circle",
      'condition depth: 0 to 40 ft\n  rising is deeper, falling is shallower\nband depth: shallow below 10 ft, deep\ncondition clarity: clear, muddy\nsituation far: far\npattern "D" go with blade round when far',
      ["circle"],
    ],
  ])("%s", (_, broken, expected) => {
    expect(codes(broken + uses)).toEqual(expected);
  });

  test("options that cannot be read", () => {
    expect(
      codes(
        'pick weight: 1/4 oz, 3/8\npattern "A" go with weight 3/8 oz\npattern "B" move weight up 1\nfall back on weight 1/4 oz\npromise "P": weight must be 1/4 oz',
      ),
    ).toEqual(["unit"]);
    expect(
      codes('condition sky: bright, dark\npick blade: round, leaf\n  only when skie is dark\npattern "A" go with blade round'),
    ).toEqual(["name"]);
  });

  test("a second declaration with other values does not make its values unknown", () => {
    expect(
      codes(
        'condition sky: bright, dark\ncondition sky: low, high\npick blade: round, leaf\npattern "A" go with blade round when sky is low',
      ),
    ).toEqual(["duplicate"]);
  });
});
