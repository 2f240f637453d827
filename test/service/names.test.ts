/** What names mean, and where they stand: by example, in broken books, and over the books that ship. */
import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { makeLexer, Name } from "../../grammar/tokens.js";
import { namesOf } from "../../src/service/names/names.js";
import { thingKey, type Thing } from "../../src/model/names.js";
import { books } from "../law/books.js";
import { inPlaces, open, readMarks, shippedBooks, type Texts } from "./marks.js";

/** Every place in which the thing at the cursor (just before the first `‸`) is named must be marked, and no other. */
function expectMentions(marked: string | Texts, thing: Thing): void {
  const { view, texts, cursor } = open(marked);
  const names = namesOf(view);
  expect(names.at(cursor)?.thing).toEqual(thing);
  const plain = typeof marked === "string" ? { "book.lore": marked } : marked;
  expect(inPlaces(texts, names.of(thing))).toEqual(
    Object.fromEntries(Object.entries(plain).map(([path, text]) => [path, text.replaceAll("‸", "")])),
  );
}

const ground = `
condition clarity: in order clear, stained, dirty
  rising is dirtier, falling is clearer
condition sky: clear, dark
pick blade: round, "long leaf"
`;

describe("a word means what it means of its subject", () => {
  test("a level, among another condition's of the same name", () => {
    expectMentions(
      `
condition clarity: in order ⟨clear⟩, stained
condition sky: clear, dark
group clarity: fair is ⟨clear⟩, stained
judgement seen: same as clarity
pick blade: round, clear
pattern "a" go with blade clear, then round
  when clarity is stained or ⟨‸clear⟩ and sky is clear and (seen is not ⟨clear⟩ or not seen is neither ⟨clear⟩ nor stained)
pattern "b" go with seen ⟨clear⟩ when blade is clear`,
      { kind: "level", name: "clear", of: "clarity" },
    );
  });

  test("a member", () => {
    expectMentions(
      `
condition cover: any of grass, ⟨reeds⟩, docks
group cover: soft is grass, ⟨reeds⟩
pick blade: round, reeds
pattern "a" go with blade reeds when cover has any of grass, ⟨reeds⟩ and cover has no docks and cover only grass, ⟨ree‸ds⟩`,
      { kind: "member", name: "reeds", of: "cover" },
    );
  });

  test("a group", () => {
    expectMentions(
      `
condition cover: any of grass, reeds, docks
group cover: ⟨soft⟩ is grass, reeds
pick blade: soft, hard
pattern "a" go with blade soft when cover has ⟨soft‸⟩`,
      { kind: "group", name: "soft", of: "cover" },
    );
  });

  test("a group, also of a judgement that copies its condition", () => {
    expectMentions(
      `
condition clarity: in order clear, stained, dirty
group clarity: ⟨fair⟩ is clear, stained
judgement seen: same as clarity
pick blade: round, leaf
pattern "a" go with blade round when clarity is ⟨fair⟩ and seen is ⟨fa‸ir⟩`,
      { kind: "group", name: "fair", of: "clarity" },
    );
  });

  test("a band, also of a judgement that copies it", () => {
    expectMentions(
      `
condition water-temp: 33 to 95 °F
band water-temp: ⟨cold⟩ below 50 °F, warm
condition feel: cold, warm
judgement warmth: same as water-temp
pick blade: round, leaf
pattern "a" go with blade round when water-temp is ⟨c‸old⟩ and warmth is ⟨cold⟩ and feel is cold
fall back on warmth ⟨cold⟩`,
      { kind: "band", name: "cold", of: "water-temp" },
    );
  });

  test("an option that is a quantity, in any unit and spelling", () => {
    expectMentions(
      `
pick weight: 1/4 oz, ⟨1/2 oz⟩
condition depth: 0 to 1/2 ft
pattern "a" go with weight ⟨0.5 oz⟩, then 1/4 oz
pattern "b" never weight ⟨‸1/2 oz⟩ or heavier when depth is 1/2 ft
promise "c": weight must be ⟨14.1747615625 g⟩`,
      { kind: "option", name: "1/2 oz", of: "weight" },
    );
  });

  test("a unit that stands once", () => {
    expectMentions(
      `
pick weight: 1/4 oz, ⟨3/8 oz⟩, 1/2 oz
pick blade: round, leaf
pattern "a" go with blade round when weight is from ⟨‸3/8⟩ to 1/2 oz`,
      { kind: "option", name: "3/8 oz", of: "weight" },
    );
  });

  test("a quoted option, and one that is only sometimes quoted", () => {
    expectMentions(
      `
pick blade: round, "⟨long leaf⟩"
pattern "long leaf" go with blade "⟨‸long leaf⟩" or "round"
fall back on blade "⟨long leaf⟩"`,
      { kind: "option", name: "long leaf", of: "blade" },
    );
    expectMentions(
      `
pick blade: ⟨round⟩, "long leaf"
pattern "round" go with blade "⟨‸round⟩"
fall back on blade ⟨round⟩`,
      { kind: "option", name: "round", of: "blade" },
    );
  });

  test("comparing words", () => {
    expectMentions(
      `
condition clarity: in order clear, dirty
  rising is ⟨dirtier⟩, falling is clearer
judgement seen: same as clarity
pick size: in order small, large
  rising is dirtier, falling is smaller
pattern "a" go with size small when clarity is clear or ⟨dir‸tier⟩ or seen is ⟨dirtier⟩ than clear
pattern "b" never size small or dirtier`,
      { kind: "comparing word", name: "dirtier", of: "clarity" },
    );
  });

  test("a situation among values, and alone", () => {
    expectMentions(
      `${ground}
situation ⟨low⟩: clarity is dirty
situation lower: ⟨low⟩ and sky is dark
pattern "a" go with blade round when sky is dark or ⟨lo‸w⟩ or not ⟨low⟩`,
      { kind: "situation", name: "low" },
    );
  });

  test("a condition, everywhere it may stand", () => {
    expectMentions(
      `
condition ⟨clarity⟩ "clarity": in order clear, dirty
group ⟨clarity⟩: fair is clear
condition depth: 0 to 9 ft
band depth: shallow below 3 ft, deep
judgement seen: same as ⟨clarity⟩
pick blade: round, clarity
  only when ⟨clarity⟩ is clear
trust ⟨clarity⟩ first, then depth
trust for blade: ⟨cl‸arity⟩ first
impossible when ⟨clarity⟩ is clear and depth is deep
say nothing on blade when ⟨clarity⟩ is dirty because "clarity"
caution "clarity" when ⟨clarity⟩ is dirty say "…"
promise "clarity": blade must be clarity when ⟨clarity⟩ is clear`,
      { kind: "condition", name: "clarity" },
    );
  });

  test("a pick, everywhere it may stand", () => {
    expectMentions(
      `
condition sky: clear, dark
pick ⟨blade⟩: round, leaf
judgement mood: calm, blade
  only when ⟨blade⟩ is round
trust for ⟨blade⟩: sky first
pattern "a"
  go with ⟨blade⟩ round
  lean to ⟨blade⟩ leaf
  never ⟨b‸lade⟩ leaf
pattern "b" go with mood blade when ⟨blade⟩ is leaf
fall back on ⟨blade⟩ leaf
say nothing on mood, ⟨blade⟩ when sky is dark
promise "p": ⟨blade⟩ must not be leaf`,
      { kind: "pick", name: "blade" },
    );
  });
});

describe("titles", () => {
  test("a pattern, where others name it", () => {
    expectMentions(
      {
        "base.lore": `${ground}
pattern "⟨Mud⟩" go with blade round when clarity is dirty
pattern "Sun" go with blade "long leaf" beats "⟨Mud⟩"
caution "Mud" when clarity is dirty say "…"`,
        "book.lore": `builds on "base.lore"
pattern "Ours" go with blade round beats "Sun", "⟨Mu‸d⟩"`,
      },
      { kind: "pattern", name: "Mud" },
    );
  });

  test("a pattern that is left out is another than the one in its stead", () => {
    const texts = {
      "base.lore": `${ground}
pattern "⟨Mud⟩" go with blade round when clarity is dirty`,
      "book.lore": `builds on "base.lore"
leave out "⟨M‸ud⟩"
pattern "Mud" go with blade "long leaf" when clarity is dirty
pattern "More" go with blade round beats "Mud"`,
    };
    expectMentions(texts, { kind: "pattern", name: "Mud", of: "base.lore" });
    const { view } = open(texts);
    expect(
      namesOf(view)
        .of({ kind: "pattern", name: "Mud" })
        .map(({ range }) => view.text.slice(range.start - 9, range.start)),
    ).toEqual([`pattern "`, ` beats "`].map((before) => expect.stringContaining(before.trim())));
  });

  test("books, cautions and promises", () => {
    expectMentions(`book "⟨A ‸book⟩"`, { kind: "book", name: "A book" });
    expectMentions(`${ground}caution "⟨A ‸book⟩" when clarity is dirty say "A book"`, { kind: "caution", name: "A book" });
    expectMentions(`${ground}promise "⟨A ‸book⟩": blade must be round`, { kind: "promise", name: "A book" });
  });
});

describe("options added in a more local book", () => {
  test("are the pick's", () => {
    expectMentions(
      {
        "base.lore": ground,
        "book.lore": `builds on "base.lore"
add blade ⟨painted⟩
fall back on blade ⟨paint‸ed⟩`,
      },
      { kind: "option", name: "painted", of: "blade" },
    );
  });
});

describe("half-written books", () => {
  test.each([
    `condition clarity: in order clear, dirty\npick blade: round\npattern "a" go with blade round when ⟨clarity‸⟩`,
    `condition clarity: in order clear, dirty\npick blade: round\npattern "a" go with blade round when ⟨cla‸rity⟩ is`,
    `condition clarity: in order clear, dirty\npattern "a" when ⟨clarity⟩ is ⟨dirty‸⟩ or`,
    `pick blade: round, leaf\npattern "a" go with ⟨blade⟩ ⟨rou‸nd⟩, then`,
    `condition clarity: in order clear, dirty\npick blade: round\npattern "unclosed go with blade round\npattern "b" when ⟨clarity⟩ is ⟨di‸rty⟩`,
    `pick blade: round, leaf\npattern "⟨a⟩ \npattern "b" go with blade round beats "⟨a‸⟩`,
  ])("%#", (marked) => {
    const { view, cursor, ranges } = open(marked);
    const names = namesOf(view);
    const at = names.at(cursor);
    expect(at).toBeDefined();
    const found = names.mentions.filter(({ range }) =>
      ranges.some((one) => one.range.start === range.start && one.range.end === range.end),
    );
    expect(found).toHaveLength(ranges.length);
    expect(found).toContain(at);
  });

  test("unknown words have no mention", () => {
    const { view } = open(
      `condition clarity: in order clear, dirty\npattern "a" go with blade round when clarity is mud and murk is dirty`,
    );
    expect(namesOf(view).mentions.map(({ range }) => view.text.slice(range.start, range.end))).toEqual([
      "clarity",
      "clear",
      "dirty",
      "a",
      "clarity",
    ]);
  });

  test("the second to take a name declares nothing of its own", () => {
    const { view } = open(`condition sky: clear, dark\npick sky: clear, round`);
    expect(namesOf(view).mentions.map(({ range, thing }) => `${thing.kind} ${view.text.slice(range.start, range.end)}`)).toEqual([
      "condition sky",
      "level clear",
      "level dark",
      "condition sky",
    ]);
  });
});

const shipped = shippedBooks();

describe("laws", () => {
  const check = (texts: Texts, root: string): void => {
    const names = namesOf(open(texts, { root }).view);
    const byKey = new Map<string, boolean>();
    for (const { path, range, thing, declares } of names.mentions) {
      const written = texts[path]!.slice(range.start, range.end);
      // A quantity may be written otherwise than where it is declared.
      if (thing.kind !== "option" || !/\d/.test(thing.name)) expect(written).toBe(thing.name);
      byKey.set(thingKey(thing), (byKey.get(thingKey(thing)) ?? false) || declares);
    }
    expect([...byKey].filter(([, declared]) => !declared)).toEqual([]);
    const { mentions } = names;
    for (const [i, { path, range }] of mentions.entries()) {
      const next = mentions[i + 1];
      if (next?.path === path) expect(next.range.start).toBeGreaterThan(range.end);
      if (path === root) for (const offset of [range.start, range.end]) expect(names.at(offset)).toBe(mentions[i]);
    }
  };

  test.each(Object.keys(shipped))("%s: each mention is written as its thing is called, and each thing is declared", (path) =>
    check(shipped, path),
  );

  test("so are those of random books", () => {
    fc.assert(
      fc.property(books(), ({ texts, root }) => check(texts, root)),
      { numRuns: 60 },
    );
  });

  const lexer = makeLexer({ validate: true });
  /** Words that are no word of the language, no unit and no mention. The comparing words of masses nobody declares. */
  const unnamed = (texts: Texts, root: string): string[] => {
    const { view } = open(texts, { root });
    const names = namesOf(view);
    const { tokens } = lexer.tokenize(view.text);
    return tokens
      .filter(
        (token, i) => token.tokenType === Name && names.at(token.startOffset) === undefined && tokens[i - 1]?.tokenType.name !== "Number",
      )
      .map(({ image }) => image)
      .filter((word) => word !== "heavier" && word !== "lighter");
  };

  test.each(Object.keys(shipped))("%s: no name goes without a mention", (path) => expect(unnamed(shipped, path)).toEqual([]));

  test("nor does one in random books", () => {
    fc.assert(
      fc.property(books(), ({ texts, root }) => {
        expect(unnamed(texts, root)).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });
});

test("marks are read and put back", () => {
  const marked = "⟨a⟨b⟩⟩ c‸ ⟨⟩d⟨e⟩⟨f⟩";
  const { text, cursors, ranges } = readMarks(marked);
  expect(text).toBe("ab c def");
  expect(cursors).toEqual([4]);
  expect(
    inPlaces(
      { a: text },
      ranges.map((range) => ({ path: "a", range })),
    ),
  ).toEqual({ a: marked.replace("‸", "") });
});
