/** What to ask next, one thing at a time: the best first, nothing twice, nothing that changes nothing. */
import { describe, expect, test } from "vitest";
import { toTheEnd } from "../../src/analysis/budget.js";
import { answers } from "../../src/analysis/answers.js";
import { resolve } from "../../src/model/resolve.js";
import { findingQuestions, type Questions } from "../../src/service/questions.js";
import { parse } from "../../src/syntax/parse.js";
import { makingTable, type BookTable, type TableOptions } from "../../src/service/table.js";

const book = `book "Alder Pond"
condition clarity "Water clarity": in order clear, stained, muddy
  rising is dirtier, falling is clearer
  ask "How far down can you see?"
condition cover "Cover": any of grass, docks
condition water-temp "Water temperature": 33 to 95 °F, to the nearest 1 °F
  rising is warmer, falling is colder
condition moon "Moon": new, full
band water-temp: cold below 50 °F, warm
pick color "Jig color": natural, bright, dark
judgement mood: slow, quick
pattern "Mud wants dark"
  go with color dark
  when clarity is muddy
pattern "Docks want dark"
  go with color dark
  when cover has docks
pattern "Cold water wants natural"
  lean to color natural
  when water-temp is cold
fall back on color bright
fall back on mood slow
`;
const known = answers(resolve(parse(book, "pond.lore"), () => ({ problem: "none" })).model, { steps: 100_000 });
const asked = (...from: Parameters<typeof findingQuestions> extends [unknown, ...infer Rest] ? Rest : never): Questions =>
  toTheEnd(findingQuestions(known, ...from));
const names = ({ questions }: Questions): readonly string[] => questions.map(({ condition }) => condition);

describe("what to ask", () => {
  test("is all that can change an answer, best question first, with what would be accepted", () => {
    const { title, questions, problem } = asked({});
    expect([title, problem]).toEqual(["Alder Pond", undefined]);
    // By hand: docks settle half of all there is, mud a third of it, cold water at most what these leave.
    expect(questions).toEqual([
      {
        condition: "cover",
        label: "Cover",
        question: "Cover: which of grass or docks, if any?",
        replies: [{ value: "grass" }, { value: "docks" }, { value: "none" }],
        members: ["grass", "docks"],
      },
      {
        condition: "clarity",
        label: "Water clarity",
        question: "How far down can you see?",
        replies: [{ value: "clear" }, { value: "stained" }, { value: "muddy" }],
      },
      {
        condition: "water-temp",
        label: "Water temperature",
        question: "Water temperature: how many °F?",
        replies: [
          { value: "cold", about: "below 50 °F" },
          { value: "warm", about: "50 °F and more" },
        ],
        typed: "a number from 33 °F to 95 °F (in °F or °C)",
      },
    ]);
  });

  test("is nothing that was answered, is not known, or no longer matters", () => {
    expect(names(asked({ cover: "none" }))).toEqual(["clarity", "water-temp"]);
    expect(names(asked({}, { unknown: ["cover"] }))).toEqual(["clarity", "water-temp"]);
    expect(names(asked({ "water-temp": "cold" }, { unknown: ["clarity", "cover"] }))).toEqual([]);
    expect(names(asked({ cover: "grass, docks" }))).toEqual([]);
    expect(names(asked({ clarity: "clear", cover: "none", "water-temp": "61" }))).toEqual([]);
  });

  test("every reply that is offered is taken, and what is none is refused in a sentence", () => {
    for (const { condition, replies } of asked({}).questions)
      for (const { value } of replies) expect(asked({ [condition]: value }).problem, value).toBeUndefined();
    expect(asked({ clarity: "claer" })).toMatchObject({ questions: [], problem: expect.stringContaining("clear") });
    expect(asked({ "water-temp": "200 °F" })).toMatchObject({ questions: [], problem: expect.stringContaining("95 °F") });
  });
});

describe("the table", () => {
  test("names all picks, and makes only what is asked for", () => {
    const picks = [{ name: "color", label: "Jig color" }];
    const table = (options?: TableOptions): BookTable => toTheEnd(makingTable(known, options));
    expect(table({ picks: [] })).toMatchObject({ picks, charts: [] });
    expect(table({ picks: ["color"] }).charts.map(({ pick }) => pick)).toEqual(["color"]);
    expect(table()).toMatchObject({ picks, charts: [{ pick: "color" }] });
  });
});
