/** Cautions that go by a pick: where that pick is not settled, the caution may apply, and is shown. */
import { expect, test } from "vitest";
import { answers } from "../../src/analysis/answers.js";
import { readGiven } from "../../src/answer/given.js";
import { compile } from "../../src/table/compile.js";
import { tableJson } from "../../src/render/json.js";
import { answer } from "../../src/answer/answer.js";
import { read } from "../law/reading.js";

const { model, faults } = read(
  {
    "book.lore": `book "Weights, Tern Pond"
condition clarity: in order clear, stained, muddy
  rising is dirtier, falling is clearer
condition wind: 0 to 40 mph, to the nearest 1 mph
pick head: lead, tungsten, steel
pattern "Clear water" go with head steel when clarity is clear
pattern "Stained water" go with head lead when clarity is stained
caution "Lead" when head is lead
  say "Small lead weights kill the birds that swallow them. Check the local law."
caution "Always" say "Wear glasses."
`,
  },
  "book.lore",
);

function shown(...given: readonly (readonly [string, string])[]): readonly (readonly [string, boolean])[] {
  const reading = readGiven(model, given);
  if ("problems" in reading) throw new Error(reading.problems[0]!.problem);
  const answered = answer(model, reading.given, () => answers(model, { steps: 10_000 }));
  if ("problem" in answered) throw new Error(answered.problem);
  return answered.cautions.map(({ caution, sure }) => [caution.title, sure]);
}

test("with everything known", () => {
  expect(faults).toEqual([]);
  expect(shown(["clarity", "clear"], ["wind", "3"])).toEqual([["Always", true]]);
  expect(shown(["clarity", "stained"], ["wind", "3"])).toEqual([
    ["Lead", true],
    ["Always", true],
  ]);
  // A gap: the pick is not settled, so nobody can say that there is no lead in it.
  expect(shown(["clarity", "muddy"], ["wind", "3"])).toEqual([
    ["Lead", false],
    ["Always", true],
  ]);
});

test("with something unknown", () => {
  expect(shown(["clarity", "stained"])).toEqual([
    ["Lead", true],
    ["Always", true],
  ]);
  expect(shown(["clarity", "clear"])).toEqual([["Always", true]]);
  expect(shown(["clarity", "muddy"])).toEqual([
    ["Lead", false],
    ["Always", true],
  ]);
  expect(shown(["wind", "3"])).toEqual([
    ["Lead", false],
    ["Always", true],
  ]);
});

test("in the table's JSON form", () => {
  const found = answers(model, { steps: 10_000 });
  const compiled = compile(found);
  if ("problem" in compiled) throw new Error(compiled.problem);
  expect(tableJson(found, compiled.table).cautions.map(({ caution, when, may }) => ({ caution, when, may }))).toEqual([
    { caution: "Lead", when: [{ clarity: ["stained", "muddy"] }], may: [{ clarity: ["muddy"] }] },
    { caution: "Always", when: [{}], may: undefined },
  ]);
});
