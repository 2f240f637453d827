/** The JSON Schemas themselves: that they are schemas, take the shapes other programs rely on, and refuse what is not of that shape. */
import { Ajv2020 } from "ajv/dist/2020.js";
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";

const schema = (name: string) =>
  new Ajv2020({ strict: true, strictRequired: false, allErrors: true }).compile(
    JSON.parse(readFileSync(new URL(`../../src/schema/${name}.json`, import.meta.url), "utf8")) as object,
  );

const range = { start: { line: 12, column: 1 }, end: { line: 12, column: 20 } };
const shares = {
  decided: "11/12",
  "toss-up": "0",
  fallback: "1/24",
  "no advice": "0",
  "not applicable": "0",
  gap: "0",
  conflict: "1/24",
  waiting: "0",
};
const findings = {
  format: "waterlore-findings",
  version: 1,
  books: [{ path: "rules/x.lore", title: "Blades" }],
  findings: [
    {
      code: "conflict",
      severity: "error",
      message: "Two patterns disagree.",
      help: "Say which one wins.",
      path: "rules/x.lore",
      range,
      pick: "blade",
      patterns: ["Mud wants thump", "A long blade sheds weed"],
      where: "clarity is muddy and cover has grass",
      example: { clarity: "muddy", cover: ["grass"], "water-temp": "61 °F" },
      share: "1/24",
      related: [{ path: "rules/x.lore", range, message: "It stands here." }],
      fixes: [{ title: "Let one beat the other", edits: [{ path: "rules/x.lore", range, text: "beats" }] }],
    },
  ],
  coverage: [{ book: "rules/x.lore", pick: "blade", shares }],
  undecided: [],
};
const answers = {
  format: "waterlore-answers",
  version: 1,
  book: "rules/x.lore",
  answers: [
    {
      given: { clarity: "muddy" },
      unknown: ["cover"],
      picks: {
        blade: {
          status: "depends",
          answer: [],
          because: [{ pattern: "Mud wants thump", text: "It moves water." }],
          safe: [["colorado"]],
          possible: [
            { status: "decided", answer: [["colorado"], ["indiana"]], share: "3/4" },
            { status: "conflict", answer: [], share: "1/4" },
          ],
        },
      },
      cautions: [{ caution: "Cold water", text: "Wear a life jacket." }],
      ask: { condition: "cover", question: "What is in the water?" },
    },
  ],
};
const table = {
  format: "waterlore-table",
  version: 1,
  book: "rules/x.lore",
  title: "Blades",
  conditions: [{ name: "clarity", label: "Water clarity", kind: "scale", ordered: true, levels: ["clear", "muddy"] }],
  picks: [{ name: "blade", label: "Blade", options: ["colorado"], ordered: false }],
  rows: [
    {
      when: {
        clarity: ["dirty", "muddy"],
        "water-temp": { from: "33 °F", below: "50 °F" },
        cover: { has: ["grass"], no: ["docks"] },
        depth: [
          { above: "10 ft", to: "20 ft" },
          { from: "30 ft", to: "40 ft" },
        ],
      },
      picks: { blade: { status: "decided", answer: [["colorado"]] } },
      because: ["Mud wants thump"],
      example: { clarity: "muddy", cover: [] },
    },
  ],
  impossible: [],
  cautions: [],
};

const shapes: readonly (readonly [name: string, good: object, bad: readonly (readonly [what: string, change: object])[]])[] = [
  [
    "findings",
    findings,
    [
      ["a share that is no fraction", { coverage: [{ book: "x", pick: "blade", shares: { ...shares, gap: "0.25" } }] }],
      [
        "a place that counts from 0",
        { findings: [{ ...findings.findings[0], range: { start: { line: 0, column: 1 }, end: { line: 1, column: 1 } } }] },
      ],
      ["a severity nobody knows", { findings: [{ ...findings.findings[0], severity: "fatal" }] }],
      ["another format", { format: "waterlore-answers" }],
    ],
  ],
  [
    "answers",
    answers,
    [
      [
        "a pick without what is possible",
        { answers: [{ ...answers.answers[0], picks: { blade: { status: "depends", answer: [], because: [], safe: [] } } }] },
      ],
      [
        "an answer that is one flat list",
        { answers: [{ ...answers.answers[0], picks: { blade: { ...answers.answers[0]!.picks.blade, answer: ["colorado"] } } }] },
      ],
      ["another version", { version: 2 }],
    ],
  ],
  [
    "table",
    table,
    [
      ["a stretch with two lower ends", { rows: [{ ...table.rows[0], when: { depth: { from: "1 ft", above: "2 ft" } } }] }],
      ["a stretch without an upper end", { rows: [{ ...table.rows[0], when: { depth: { from: "1 ft" } } }] }],
      ["a scale without levels", { conditions: [{ name: "clarity", label: "Water clarity", kind: "scale", ordered: true }] }],
      ["no rows", { rows: [] }],
    ],
  ],
];

describe.each(shapes)("%s", (name, good, bad) => {
  const validate = schema(name);
  test("takes its shape", () => {
    expect(validate(good) ? [] : validate.errors).toEqual([]);
  });
  test.each(bad)("refuses %s", (_, change) => {
    expect(validate({ ...good, ...change })).toBe(false);
  });
});
