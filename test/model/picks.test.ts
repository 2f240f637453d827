/** Picks, judgements and what patterns say of them. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { orderPicks, type TestsPick } from "../../src/model/order.js";
import { resolved, sound } from "./books.js";

const conditions = `
condition clarity "Water clarity": in order clear, stained, muddy
  rising is dirtier, falling is clearer
condition bottom: sand, mud
condition water-temp: 33 to 95 °F, to the nearest 1 °F
band water-temp: cold below 50 °F, cool below 70 °F, warm
condition depth: 0 to 40 ft
band depth: shallow below 10 ft, deep
condition day: days of the year
band day: winter from dec 1, summer from jun 1
group clarity: murky is stained, muddy
`;

describe("options", () => {
  const optionsOf = (list: string) => {
    const [pick] = sound(`pick p: ${list}`).picks;
    return { texts: pick!.options.map(({ text }) => text), ordered: pick!.ordered, rising: pick!.rising };
  };
  test.each([
    ["round, leaf", ["round", "leaf"], false, undefined],
    ["in order slow, fast", ["slow", "fast"], true, undefined],
    ["1/2 oz, 1/8 oz, 10 g", ["1/8 oz", "10 g", "1/2 oz"], true, "heavier"],
    ["4.5, 3, 4", ["3", "4", "4.5"], true, undefined],
    ["7 ft, 6 1/2 ft, 80 in", ["6 1/2 ft", "80 in", "7 ft"], true, undefined],
    ['"size 4, red", plain', ["size 4, red", "plain"], false, undefined],
    ["in order none, 1/8 oz, 1/4 oz", ["none", "1/8 oz", "1/4 oz"], true, undefined],
  ])("%s", (list, texts, ordered, rising) => {
    expect(optionsOf(list)).toEqual({ texts, ordered, rising });
  });

  test("are found by their size in any unit and any way of writing it", () => {
    const { patterns } = sound(
      'pick weight: 1/4 oz, 1/2 oz\npick tag: "a b", c\npattern "A" go with weight 0.5 oz, then 0.25 oz\npattern "B" never weight 14.1747615625 g go with tag "a b" or c',
    );
    expect(patterns[0]!.goes[0]!.places).toEqual([[1], [0]]);
    expect(patterns[1]!.nevers[0]!.options).toEqual([1]);
    expect(patterns[1]!.goes[0]!.places).toEqual([[0, 1]]);
  });
});

describe("judgements that copy", () => {
  test("a scale, level for level, with its comparing words and groups", () => {
    const [seen] = sound(`${conditions}judgement seen: same as clarity\npattern "A" move seen up 1\npattern "B" go with seen muddy`).picks;
    expect([seen!.judgement, seen!.ordered, seen!.rising, seen!.falling]).toEqual([true, true, "dirtier", "clearer"]);
    expect(seen!.options.map(({ text }) => text)).toEqual(["clear", "stained", "muddy"]);
    expect(seen!.sameAs).toEqual({
      condition: 0,
      axis: 0,
      spans: [
        [0, 0],
        [1, 1],
        [2, 2],
      ],
    });
    const { patterns } = sound(
      `${conditions}judgement seen: same as clarity\npick p: a, b\npattern "A" go with p a when seen is murky or seen is muddy or dirtier`,
    );
    expect(patterns[0]!.when).toMatchObject({
      kind: "or",
      parts: [
        { kind: "pick", pick: 0, span: [1, 2] },
        { kind: "pick", span: [2, 2] },
      ],
    });
  });

  test.each([
    [
      "water-temp",
      ["cold", "cool", "warm"],
      [
        [0, 16],
        [17, 36],
        [37, 62],
      ],
    ],
    [
      "depth",
      ["shallow", "deep"],
      [
        [0, 1],
        [2, 4],
      ],
    ],
    [
      "day",
      ["winter", "summer"],
      [
        [0, 151, 335, 365],
        [152, 334],
      ],
    ],
  ])("the bands of %s, band for band", (name, options, spans) => {
    const [copy] = sound(`${conditions}judgement copy: same as ${name}`).picks;
    expect(copy!.options.map(({ text }) => text)).toEqual(options);
    expect(copy!.ordered).toBe(true);
    expect(copy!.sameAs!.spans).toEqual(spans);
  });

  test("a scale without order makes a judgement without order", () => {
    expect(sound(`${conditions}judgement copy: same as bottom`).picks[0]!.ordered).toBe(false);
  });
});

describe("tests of picks", () => {
  const picks = `${conditions}pick size: in order small, medium, large\npick weight: 1/4 oz, 3/8 oz, 1/2 oz\npick blade: round, leaf\npick last: a, b\n`;
  test.each([
    ["size is medium", 0, [1, 1]],
    ["size is at least medium", 0, [1, 2]],
    ["size from small to medium", 0, [0, 1]],
    ["weight is heavier than 1/4 oz", 1, [1, 2]],
    ["weight is 3/8 oz or lighter", 1, [0, 1]],
    ["weight is above 0.3 oz", 1, [1, 2]],
    ["weight is below 1 lb", 1, [0, 2]],
    ["weight from 10 g to 1/2 oz", 1, [1, 2]],
    ["blade is round or leaf", 2, [0, 1]],
  ])("%s", (when, pick, span) => {
    expect(sound(`${picks}pattern "A" go with last a when ${when}`).patterns[0]!.when).toMatchObject({ kind: "pick", pick, span });
  });

  test("is not is always not (is): over a pick that is no complement", () => {
    expect(sound(`${picks}pattern "A" go with last a when blade is not round`).patterns[0]!.when).toMatchObject({
      kind: "not",
      part: { kind: "pick", pick: 2, span: [0, 0] },
    });
    expect(sound(`${picks}pattern "A" go with last a when blade is neither round nor leaf`).patterns[0]!.when).toMatchObject({
      kind: "not",
      part: { kind: "pick", span: [0, 1] },
    });
  });
});

describe("what patterns say", () => {
  const picks = "pick weight: 1/4 oz, 3/8 oz, 1/2 oz, 3/4 oz\npick blade: round, leaf, teardrop\ncondition wind: 0 to 40 mph\n";
  const said = (text: string) => {
    const { goes, leans, nevers, moves } = sound(`${picks}pattern "A" ${text}`).patterns[0]!;
    return { goes, leans: leans.map(({ by, ...lean }) => ({ ...lean, by: by.toFraction() })), nevers, moves };
  };
  const nothing = { goes: [], leans: [], nevers: [], moves: [] };
  test.each([
    ["go with blade round or leaf, then teardrop", { goes: [{ pick: 1, places: [[0, 1], [2]] }] }],
    [
      "lean to blade leaf, teardrop by 2 1/2",
      {
        leans: [
          { pick: 1, option: 1, by: "5/2" },
          { pick: 1, option: 2, by: "5/2" },
        ],
      },
    ],
    ["lean off blade leaf", { leans: [{ pick: 1, option: 1, by: "-1" }] }],
    ["lean off blade leaf by 0.5", { leans: [{ pick: 1, option: 1, by: "-1/2" }] }],
    ["never weight 1/2 oz or heavier", { nevers: [{ pick: 0, options: [2, 3] }] }],
    ["never weight 0.4 oz or lighter", { nevers: [{ pick: 0, options: [0, 1] }] }],
    ["never blade leaf, round", { nevers: [{ pick: 1, options: [1, 0] }] }],
    ["move weight up 2", { moves: [{ pick: 0, by: 2 }] }],
    ["move weight down", { moves: [{ pick: 0, by: -1 }] }],
    ["move weight up 9", { moves: [{ pick: 0, by: 9 }] }],
    ["go with blade round never weight 3/4 oz", { goes: [{ pick: 1, places: [[0]] }], nevers: [{ pick: 0, options: [3] }] }],
  ])("%s", (text, expected) => {
    expect(said(text)).toEqual({ ...nothing, ...expected });
  });

  test("with reasons, sources and dates", () => {
    const { patterns } = sound(
      `${picks}pattern "A" go with blade round because "It is." see "a log", "a notice" checked 2027-02-01 until 2027-12-31`,
    );
    expect(patterns[0]).toMatchObject({ because: "It is.", see: ["a log", "a notice"], checked: "2027-02-01", until: "2027-12-31" });
  });
});

describe("the order of picks", () => {
  test("each after what it tests, in patterns, only when or say nothing; otherwise as written", () => {
    const { picks } = sound(`
condition wind: 0 to 40 mph
pick last: a, b
pick blade: round, leaf
  only when family is jig
pick other: a, b
pick family: jig, worm
pick hook: small, large
pattern "A" go with last a when hook is small
say nothing on hook when blade is leaf`);
    expect(picks.map(({ name, tests }) => [name, tests])).toEqual([
      ["family", []],
      ["blade", [0]],
      ["hook", [1]],
      ["last", [2]],
      ["other", []],
    ]);
  });

  test("several picks that fall silent together, each with a say nothing of its own", () => {
    const { picks } = sound(
      'condition sky: bright, dark\npick blade: a, b\npick hook: a, b\npick line: a, b\nsay nothing on hook, blade when sky is dark because "Closed."',
    );
    expect(picks.map(({ name, sayNothing }) => [name, sayNothing.map(({ because }) => because)])).toEqual([
      ["blade", ["Closed."]],
      ["hook", ["Closed."]],
      ["line", []],
    ]);
    const { model, findings } = resolved(
      "condition sky: bright, dark\npick blade: a, b\npick hook: a, b\nsay nothing on hook, blade, hook, bladd when sky is dark",
    );
    expect(findings.filter(({ severity }) => severity === "error").map(({ title }) => title)).toEqual([
      "hook is listed twice",
      "Nobody has declared bladd",
    ]);
    expect(model.picks.map(({ sayNothing }) => sayNothing.length)).toEqual([1, 1]);
    expect(model.held.map(({ picks }) => picks)).toEqual([[0]]);
  });

  test("a pick that its own silence tests is a circle, and only that silence is left out", () => {
    const { model, findings } = resolved("pick hook: a, b\npick blade: a, b\nsay nothing on hook, blade when hook is a");
    expect(findings.map(({ code }) => code)).toEqual(["circle"]);
    expect(model.picks.map(({ name, sayNothing }) => [name, sayNothing.length])).toEqual([
      ["hook", 0],
      ["blade", 1],
    ]);
  });

  test("everything names every pick and no judgement, of any book and wherever it is declared", () => {
    const { picks, closed } = sound(
      'condition sky: bright, dark\nsay nothing on everything when sky is dark because "Closed."\njudgement mood: shy, keen\npick blade: a, b\npick hook: a, b',
    );
    expect(picks.map(({ name, sayNothing }) => [name, sayNothing.map(({ everything }) => everything)])).toEqual([
      ["mood", []],
      ["blade", [true]],
      ["hook", [true]],
    ]);
    expect(closed.map(({ because }) => because)).toEqual(["Closed."]);
  });
  test("everything tests no pick, nor what goes by one: then it is left out altogether", () => {
    const declared = "condition sky: bright, dark\njudgement mood: shy, keen\npick hook: a, b\npick blade: a, b\n";
    for (const more of [
      "say nothing on everything when hook is a",
      'say nothing on everything when mood is shy\npattern "P" go with mood shy when hook is a',
    ]) {
      const { model, findings } = resolved(declared + more);
      expect(findings.filter(({ severity }) => severity === "error").map(({ code }) => code)).toEqual(["circle"]);
      expect(model.closed).toEqual([]);
      expect(model.picks.every(({ sayNothing }) => sayNothing.length === 0)).toBe(true);
      expect(model.held.map(({ picks }) => picks.length)).not.toEqual([]);
    }
    expect(sound(`${declared}say nothing on everything when mood is shy`).closed.length).toBe(1);
  });
  test("everything stands alone, and nothing else is called so", () => {
    const { findings } = resolved(`condition sky: bright, dark
condition everything: yes, no
pick hook: a, b
pick everything: a, b
judgement everything: a, b
say nothing on hook, everything when sky is dark
say nothing on everything, hook when sky is dark
say nothing on everythin when sky is dark`);
    const errors = findings.filter(({ severity }) => severity === "error");
    expect(errors.map(({ title, fixes }) => [title, fixes?.[0]?.title])).toEqual([
      ["A pick cannot be called everything", undefined],
      ["A judgement cannot be called everything", undefined],
      ["Everything stands alone", "Write everything alone"],
      ["Everything stands alone", "Write everything alone"],
      ["Nobody has declared everythin", "Write everything"],
    ]);
  });

  const graphs = fc
    .integer({ min: 1, max: 7 })
    .chain((count) =>
      fc.tuple(
        fc.constant(count),
        fc.array(fc.record({ from: fc.nat(count - 1), to: fc.nat(count - 1), statement: fc.nat(5) }), { maxLength: 12 }),
      ),
    );

  test("agrees with plain reachability on any graph", () => {
    fc.assert(
      fc.property(graphs, ([count, tests]) => {
        const reaches = closure(count, tests);
        const { order, circles, leftOut } = orderPicks(count, tests);
        expect(new Set(tests.filter(({ from, to }) => reaches(to, from)).map(({ statement }) => statement))).toEqual(leftOut);
        expect([...order].sort((a, b) => a - b)).toEqual([...Array(count).keys()]);
        const place = (pick: number) => order.indexOf(pick);
        for (const { from, to, statement } of tests) if (!leftOut.has(statement)) expect(place(to)).toBeLessThan(place(from));
        if (tests.length === 0) expect(order).toEqual([...order].sort((a, b) => a - b));
        for (const circle of circles) circle.forEach(({ from }, i) => expect(circle.at(i - 1)!.to).toBe(from));
        const inCircle = [...Array(count).keys()].filter((pick) => reaches(pick, pick));
        const shown = circles.map(([first]) => first!.from);
        expect(inCircle.every((pick) => shown.some((first) => reaches(first, pick) && reaches(pick, first)))).toBe(true);
        expect(circles).toHaveLength(
          new Set(inCircle.map((pick) => inCircle.find((other) => reaches(pick, other) && reaches(other, pick)))).size,
        );
      }),
      { numRuns: 300 },
    );
  });
});

test("long chains and doubling are refused or taken, never a crash", () => {
  const many = [...Array(400).keys()];
  const picks = many.map((i) => `pick p${i}: a, b\npattern "${i}" go with p${i} a${i < 399 ? ` when p${i + 1} is a` : ""}`).join("\n");
  expect(resolved(picks).model.picks[0]!.name).toBe("p399");
  const chain = `condition c: a, b\n${many.map((i) => `situation s${i}: ${i < 399 ? `s${i + 1}` : "c is a"}`).join("\n")}`;
  expect(new Set(resolved(chain).findings.map(({ code }) => code))).toEqual(new Set(["syntax"]));
  const doubling = `condition c: a, b\n${many
    .slice(0, 60)
    .map((i) => `situation s${i}: ${i < 59 ? `s${i + 1} and not s${i + 1}` : "c is a"}`)
    .join("\n")}`;
  expect(resolved(doubling).findings.map(({ title }) => title)).toEqual(["s50 stands for too much"]);
  const books = Object.fromEntries(many.map((i) => [`b${399 - i}.lore`, i > 0 ? `book "B" builds on "b${400 - i}.lore"` : 'book "B"']));
  expect(resolved(books).findings.map(({ code, path }) => [code, path])).toEqual([["file", "b64.lore"]]);
});

function closure(count: number, tests: readonly TestsPick<number>[]): (from: number, to: number) => boolean {
  const reach = Array.from({ length: count }, () => new Set<number>());
  for (let round = 0; round <= count; round++) {
    for (const { from, to } of tests) for (const far of [to, ...reach[to]!]) reach[from]!.add(far);
  }
  return (from, to) => reach[from]!.has(to);
}
