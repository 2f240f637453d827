/** What a first-time writer says instead: one finding each, and a fix that leads to no other error and changes no number. */
import { describe, expect, test } from "vitest";
import { expectMarked, readMarks } from "../marks.js";
import { inWords, resolved } from "./books.js";

const declared = `
condition light: in order bright, dim, dark
  rising is darker, falling is brighter
condition water-temp: 33 to 95 °F, to the nearest 1 °F
  rising is warmer, falling is colder
condition rating: 0 to 10
condition cover: any of weed, eels
condition day: days of the year
pick lure: crab, jig, plug
pick head: 1/4 oz, 3/8 oz
pick line: "8/0", "9/0"
situation all: light is dim and water-temp is 50 °F and rating is 1 and cover has weed and day is may 1
pattern "any day" lean to lure crab when all
`;

const sets: readonly (readonly [string, string])[] = [
  [
    "numbers are never guessed",
    `
pattern "a" go with head 4 oz
                         ^^^^ name: Write \`3/8 oz\`, or add the option
pattern "b" go with lure crab when water-temp is 60.5 °F
                                                 ^^^^^^^ range: Write \`60 °F\` or \`61 °F\`
pattern "c" go with line "7/0"
                         ^^^^^ name: did you mean \`8/0\`?
condition stage: 0 to 10 ft, to the nearest 3 ft
                      ^^^^^ range: End the range at \`9 ft\` or \`12 ft\`
`,
  ],
  [
    "short words are asked about, not mended",
    `
pattern "a" go with lure jug
                         ^^^ name: did you mean \`jig\`?
`,
  ],
  [
    "texts without quotation marks, with words of the language in them",
    `
pattern Trust the mud
        ^^^^^^^^^^^^^ syntax: the quotation marks are missing
  go with lure crab
  because a pick by the book
          ^^^^^^^^^^^^^^^^^^ syntax: the quotation marks are missing
pattern When it blows
        ^^^^^^^^^^^^^ syntax: the quotation marks are missing
  go with lure jig
promise Fall back on this: lure must be crab when light is dim
        ^^^^^^^^^^^^^^^^^ syntax: the quotation marks are missing
`,
  ],
  [
    "is not, before a comparison",
    `
pattern "a" go with lure crab when water-temp is not between 50 and 60 °F and light is dim
                                   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ syntax: Write \`not water-temp from 50 to 60 °F\`
pattern "b" go with lure crab when day is not from may 1 to jun 1
                                   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ syntax: Write \`not day from may 1 to jun 1\`
pattern "c" go with lure crab when rating isn't at least 5
                                   ^^^^^^^^^^^^^^^^^^^^^^^ syntax: Write \`not rating is at least 5\`
`,
  ],
  [
    "texts without quotation marks",
    `
pattern Warm fish chase
        ^^^^^^^^^^^^^^^ syntax: the quotation marks are missing
  go with lure crab
  because they don't eat. Really!
          ^^^^^^^^^^^^^^^^^^^^^^^ syntax: the quotation marks are missing
pattern Cold go with lure jig
        ^^^^ syntax: the quotation marks are missing
promise No crabs: lure must not be crab when light is dim
        ^^^^^^^^ syntax: the quotation marks are missing
`,
  ],
  [
    "sets",
    `
pattern "a" go with lure crab when cover has weed, eels
                                         ^^^^^^^^^^^^^^ syntax: Write \`has any of weed, eels\` or \`has all of weed, eels\`
pattern "b" go with lure crab when cover is none
                                        ^^^^^^^^ kind: Write \`cover is empty\`
pattern "c" go with lure crab when cover has none
                                        ^^^^^^^^^ kind: Write \`cover is empty\`
pattern "d" go with lure crab when cover is not none
                                        ^^^^^^^^^^^^ kind: Write \`cover is not empty\`
`,
  ],
  [
    "between",
    `
pattern "a" go with lure crab when water-temp is between 50 °F and 60 °F
                                              ^^^^^^^^^^^^^^^^^^^^^^^^^^ syntax: Write \`from 50 °F to 60 °F\`
pattern "b" go with lure crab when light is dim and water-temp between 50 and 60 °F and cover has weed
                                                               ^^^^^^^^^^^^^^^^^^^^ syntax: Write \`from 50 to 60 °F\`
`,
  ],
  [
    "degrees",
    `
pattern "a" go with lure crab when water-temp is colder than 60 degrees
                                                                ^^^^^^^ unit: Write \`°F\`, if that is meant
pattern "b" go with lure crab when water-temp is colder than 60°
                                                               ^ unit: Write \`°F\`, if that is meant
`,
  ],
  [
    "days",
    `
pattern "a" go with lure crab until april 30
                                    ^^^^^^^^ syntax: A full date is needed
pattern "b" go with lure crab when day from apr to may
                                            ^^^ kind: \`day from apr 1 to apr 30\`
                                                   ^^^ kind: \`day from may 1 to may 31\`
pattern "c" go with lure crab when day is april
                                          ^^^^^ kind: A \`band\` can
pattern "d" go with lure crab when day is 4/1
                                          ^^^ kind: Write \`apr 1\` or \`jan 4\`
pattern "e" go with lure crab when day is 4/15
                                          ^^^^ kind: Write \`apr 15\`
book "x" good from march 1 to 2027-06-15
                   ^^^^^^^ syntax: A full date is needed
`,
  ],
  [
    "an option without its pick",
    `
pattern "a" go with crab
                    ^^^^ name: Write \`lure crab\`
pattern "b"
  go with crab, then plug
          ^^^^ name: Write \`lure crab\`
  never jig
        ^^^ name: Write \`lure jig\`
  when light is dim
pattern "c" move plug up
                 ^^^^ name: Name the pick here: \`lure\`
fall back on crab because "x"
             ^^^^ name: Write \`lure crab\`
`,
  ],
  [
    "other words for a clause",
    `
pattern "a" lean lure crab
            ^^^^ syntax: Write \`lean to\` or \`lean off\`
pattern "b"
  go with lure crab
  not lure plug
  ^^^ syntax: Write \`never\`
pattern "c" use lure crab
            ^^^ syntax: Write \`go with\`
pattern "d"
  pick lure crab
  ^^^^ syntax: Write \`go with\`
  when light is dim
pattern "e" choose lure crab, then jig
            ^^^^^^ syntax: Write \`go with\`
fallback on lure crab
^^^^^^^^^^^ syntax: Write \`fall back on\`
pattern "f" go with lure crab when not all and not light is dim
`,
  ],
  [
    "words that were forgotten",
    `
pattern "a"
  go lure crab
  ^^ syntax: Write \`go with\`
  when light is dim
pattern "b"
  head 1/4 oz, then 3/8 oz
  ^^^^^^^^^^^ syntax: Write \`go with\` before it
  when light is dim
pattern "c"
  lure crab
  ^^^^^^^^^ syntax: Write \`go with\` before it
  cover has weed and light is dim
  ^^^^^^^^^ syntax: Write \`when\` before it
  because "x"
promise "no": lure must not be jig
  light is dark
  ^^^^^^^^ syntax: Write \`when\` before it
caution "d"
  light is dark
  ^^^^^^^^ syntax: Write \`when\` before it
  say "x"
`,
  ],
  [
    "over and under",
    `
pattern "a" go with lure crab when water-temp is over 60 °F
                                             ^^^^^^^^^^^^^^ syntax: Write \`water-temp is warmer than 60 °F\`
pattern "b" go with lure crab when rating is under 5
                                          ^^^^^^^^ syntax: Write \`is below\`
`,
  ],
  [
    "dashes between two values",
    `
condition depth: 0-40 ft
                 ^^^^^^^ syntax: Write \`0 to 40 ft\`
condition wind: from 0 to 30 mph
                ^^^^ syntax: A range stands without \`from\`
pattern "a" go with lure crab when rating is 4-8
                                          ^^^^^^ syntax: Write \`from 4 to 8\`
pattern "b" go with lure crab when water-temp from 50 °F – 60 °F
                                                   ^^^^^^^^^^^^^ syntax: Write \`50 °F to 60 °F\`
pattern "c" go with lure crab when day is from apr 1 - may 1 and light is dim
                                               ^^^^^^^^^^^^^ syntax: Write \`apr 1 to may 1\`
`,
  ],
  [
    "lists of a set, with their last comma said",
    `
pattern "a" go with lure crab when cover has weed, eels and weed
                                         ^^^^^^^^^^^^^^^^^^^^^^^ syntax: Write \`has any of weed, eels, weed\` or
pattern "b" go with lure crab when cover has weed, eels or weed
                                         ^^^^^^^^^^^^^^^^^^^^^^ syntax: Any of these, or all of them?
`,
  ],
  [
    "signs instead of words",
    `
pick bottom: mud; sand; rock
                ^ syntax: Write \`,\`
                      ^ syntax: Write \`,\`
pattern "a" go with lure crab when light is dim & cover has weed
                                                ^ syntax: Write \`and\`
pattern "b" go with lure crab when light is dim; cover has weed
                                               ^ syntax: Both of these, or one of them?
pattern "c" go with lure crab when light is dim, cover has weed
                                               ^ syntax: Both of these, or one of them?
pattern "d" go with rig deep_sea_crab
                        ^^^^^^^^^^^^^ name: Write \`deep-sea-crab\`
pick rig: deep-sea-crab, worm
condition length: 0 to 8 ft
pattern "e" go with lure crab when length is above 2' and light is dim
                                                    ^ unit: Write \`ft\`
pattern "f" go with lure crab when length is below 30" because "x"
                                                     ^ unit: Write \`in\`
`,
  ],
  [
    "comments of elsewhere",
    `
# pick lure: nothing, of all this
^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ syntax: A comment starts with two hyphens
pattern "a" go with lure crab
  // when light is dim
  ^^^^^^^^^^^^^^^^^^^^ syntax: A comment starts with two hyphens
`,
  ],
  [
    "but, except and neither",
    `
pattern "a" go with lure crab when light is dim but not cover has weed
                                                ^^^ syntax: Write \`and\`
pattern "b" go with lure crab when light is dim but cover has weed
                                                ^^^ syntax: Write \`and\`
pattern "c" go with lure crab when light is dim except when cover has weed
                                                ^^^^^^^^^^^ syntax: Write \`and not …\`
pattern "d" go with lure crab except light is dim
                              ^^^^^^ syntax: Write \`when not …\`
pattern "e" go with lure crab when light is neither dim or dark
                                                        ^^ syntax: Write \`nor\`
pattern "f" go with lure crab when neither light is dim nor cover has weed
                                   ^^^^^^^ syntax: Write \`not (… or …)\`
pattern "g" go with lure crab when light isn’t dim
                                         ^^^^^ syntax: Write \`is not\`
`,
  ],
  [
    "otherwise",
    `
pattern "a" go with lure crab when light is dim
otherwise lure jig
^^^^^^^^^ syntax: Write \`fall back on\`
`,
  ],
  [
    "a quotation mark inside a title",
    `
pattern "The "big" one" go with lure crab
              ^^^ syntax: A quotation mark inside a text
`,
  ],
  [
    "a value without its pick",
    `
fall back on 1/4 oz
             ^^^^^^ syntax: I expected the name of a pick
`,
  ],
  [
    "names of two words",
    `
pick bait: topwater, deep-jig
pattern "a"
  go with bait top water, then deep jig
               ^^^^^^^^^ name: Did you mean \`topwater\`?
                               ^^^^^^^^ name: Did you mean \`deep-jig\`?
  when water temp is 50 °F and not water temp is 60 °F
       ^^^^^^^^^^ name: Did you mean \`water-temp\`?
                                   ^^^^^^^^^^ name: Did you mean \`water-temp\`?
`,
  ],
  [
    "unless",
    `
pattern "a" go with lure crab unless light is dim or dark
                              ^^^^^^ syntax: Write \`when not (…)\`
pattern "b"
  go with lure crab
  when light is dim or rating is 3
  unless light is dark or cover is empty
  ^^^^^^ syntax: Write \`and not (…)\`
pattern "c" go with lure crab when light is dim unless rating is 3 because "x"
                                                ^^^^^^ syntax: Write \`and not …\`
situation bright-day: light is bright unless all
                                      ^^^^^^ syntax: Write \`and not …\`
`,
  ],
  [
    "signs",
    `
pattern "a" go with lure crab when water-temp < 60 °F
                                             ^^^^^^^^ syntax: Write \`water-temp is colder than 60 °F\`
pattern "b" go with lure crab when water-temp is >= 60 °F
                                             ^^^^^^^^^^^^ syntax: Write \`water-temp is 60 °F or warmer\`
pattern "c" go with lure crab when rating >= 6 and light = dim
                                          ^^ syntax: Write \`is at least\`
                                                         ^ syntax: Write \`is\`
pattern "d" go with lure crab when cover = weed
                                        ^^^^^^^ kind: cover is a set
pattern "e" go with lure crab when day < apr 15
                                      ^^^^^^^^^ kind: Write \`day from jan 1 to apr 14\`
`,
  ],
];

describe("one finding each", () => {
  test.each(sets)("%s", (_, text) => {
    expectMarked(declared + text, (book) => resolved(book).findings);
  });
});

describe("a fix leads to no other error", () => {
  test.each(sets)("%s", (_, text) => {
    const book = readMarks(declared + text).text;
    const before = resolved(book).findings.map(inWords);
    for (const finding of resolved(book).findings) {
      for (const { edits } of finding.fixes ?? []) {
        const after = [...edits]
          .sort((a, b) => b.range.start - a.range.start)
          .reduce((sum, { range, text: put }) => sum.slice(0, range.start) + put + sum.slice(range.end), book);
        const expected = before.filter((_, i) => i !== before.indexOf(inWords(finding)));
        expect(
          resolved(after)
            .findings.filter(({ severity }) => severity === "error")
            .map(inWords)
            .filter((said) => !expected.includes(said)),
          after,
        ).toEqual([]);
      }
    }
  });
});

test("what was forgotten is not guessed where it may be something else", () => {
  expectMarked(
    declared +
      `
pattern "a"
  never lure crab
  head 1/4 oz
  ^^^^ syntax: does not fit
pattern "b"
  go with lure crab
  light dim
  ^^^^^ syntax: does not fit
pattern "c" go with lure crab
  when light is dim
  cover has weed
  ^^^^^ syntax: Two tests are joined
pattern "d" go wth lure crab
            ^^^^^^ syntax: did you mean \`go with\`
`,
    (book) => resolved(book).findings,
  );
});

test("a band that nobody asks about may keep its neighbors apart", () => {
  expectMarked(
    `
condition water-temp: 33 to 95 °F
band water-temp: cold below 50 °F, cool below 70 °F, warm
                                   ^^^^ never-asked: keep its neighbors apart
pick lure: crab, jig
pattern "a" go with lure crab when water-temp is cold or warm
`,
    (book) => resolved(book).findings,
  );
});

test("examples are in words of the book at hand", () => {
  expectMarked(
    `
condition light: in order bright, dim, dark
pick head "Head": 1/4 oz, 3/8 oz
pattern "a" go with
            ^^^^^^^ syntax: for example: \`go with head 1/4 oz, then 3/8 oz\`
pattern "b" when light is dim
^^^^^^^^^^^ syntax: for example: \`go with head 1/4 oz\`
pattern "c" go with head 1/4 oz when
                                ^^^^ syntax: for example: \`light is bright\`
`,
    (book) => resolved(book).findings,
  );
});
