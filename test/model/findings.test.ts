/** One set for each code of finding, marked under the text; and the law of fixes. */
import { describe, expect, test } from "vitest";
import type { Edit } from "../../src/diagnostics.js";
import { expectMarked, readMarks } from "../marks.js";
import { resolved } from "./books.js";

const sets: readonly (readonly [string, string])[] = [
  [
    "names",
    `
condition clarity: in order clear, stained, muddy
  rising is dirtier, falling is clearer
condition cover: any of grass, docks
band depth: shallow below 10 ft, deep
     ^^^^^ name: Nobody has declared depth
group clarty: murky is stained, muddy
      ^^^^^^ name: Nobody has declared clarty
group clarity: murky is stained, mudy
                                 ^^^^ name: clarity cannot be mudy
pick blade: round, leaf
pattern "A" go with blade rond when clarity is mudy
                          ^^^^ name: blade cannot be rond
                                               ^^^^ name: clarity cannot be mudy
pattern "B" go with blad round when clarity is mudy or clear
                    ^^^^ name: Nobody has declared blad
                                               ^^^^ name: clarity cannot be mudy
pattern "C" go with blade round when clarity is dirtierr than clear
                                                ^^^^^^^^ name: clarity is not compared by dirtierr
pattern "D" go with blade round when clarity is stained or dirtierr
                                                           ^^^^^^^^ name: clarity cannot be dirtierr
pattern "E" go with blade round when cover has gras beats "a"
                                               ^^^^ name: cover cannot be gras
                                                          ^^^ name: No pattern has this title
pattern "F" go with blade round when low-light
                                     ^^^^^^^^^ name: Nobody has declared low-light
pattern "G" go with blade round when murky
                                     ^^^^^ name: Nobody has declared murky
pattern "H" go with blade round when clarity is grass beats "Nobody"
                                                ^^^^^ name: clarity cannot be grass
                                                            ^^^^^^^^ name: No pattern has this title
trust clarity first, then sky
                          ^^^ name: Nobody has declared sky
fall back on blade leef
                   ^^^^ name: blade cannot be leef
leave out "A"
          ^^^ kind: Only what is taken in can be left out
promise "P": blade must not be painted
                               ^^^^^^^ name: blade cannot be painted
`,
  ],
  [
    "kinds",
    `
condition clarity: in order clear, stained, muddy
condition bottom: sand, mud
  rising is softer, falling is harder
  ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ kind: bottom has no order to compare by
condition cover: any of grass, docks
  rising is more, falling is less
  ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ kind: cover has no order to compare by
condition wind: 0 to 40 mph
condition day: days of the year
  filled from the sun
  ^^^^^^^^^^^^^^^^^^^ kind: The sun cannot fill day
condition season: in order early, late
          ^^^^^^ never-asked: Nothing asks about season
  rising is later, falling is later
                              ^^^^^ duplicate: One word for both ways
condition light: in order dim, bright
          ^^^^^ never-asked: Nothing asks about light
  rising is bright, falling is dimmer
            ^^^^^^ duplicate: bright is a value and a comparing word
band clarity: murky below muddy
     ^^^^^^^ kind: clarity has no numbers to divide
band day: winter below dec 1, spring from mar 1
                       ^^^^^ kind: winter has no start
band wind: calm from 0 mph, windy
                     ^^^^^ kind: The bands of a measure end at a limit
group wind: windy is calm
      ^^^^ kind: wind has no levels to group
situation chop: wind is above 10 mph
pick blade: round, leaf
pick family: worm, jig
judgement felt: same as cover
                        ^^^^^ kind: A set cannot be copied
judgement blown: same as wind
judgement again: same as blade
                         ^^^^^ kind: Only a condition can be copied
pattern "A" go with blade round when clarity is above stained
                                            ^^^^^^^^^^^^^^^^^ kind: clarity has no comparing words
pattern "B" go with blade round when bottom is above sand
                                           ^^^^^^^^^^^^^^ kind: bottom has no order
pattern "C" go with blade round when bottom from sand to mud
                                                 ^^^^^^^^^^^ kind: bottom has no order
pattern "D" go with blade round when cover is grass
                                          ^^^^^^^^^ kind: cover is a set
pattern "E" go with blade round when clarity has muddy
                                            ^^^^^^^^^^ kind: clarity is no set
pattern "R" go with blade round when clarity is not empty
                                            ^^^^^^^^^^^^^ kind: clarity is no set
pattern "S" go with blade round when cover is neither empty nor grass
                                          ^^^^^^^^^^^^^^^^^^^^^^^^^^^ kind: cover is not empty
pattern "F" go with blade round when clarity
                                     ^^^^^^^ kind: clarity alone is no test
pattern "G" go with blade round when chop is muddy
                                     ^^^^ kind: chop is a situation
pattern "H" go with blade round when clarity is chop
                                                ^^^^ kind: chop is a situation, not a value
pattern "I" go with blade round when wind is muddy
                                             ^^^^^ name: wind cannot be muddy
pattern "J" go with blade round when wind is apr 15
                                             ^^^^^^ kind: apr 15 is no value of wind
pattern "K" go with blade round when day is 2027-04-15
                                            ^^^^^^^^^^ kind: A day without its year is wanted
pattern "L" go with blade round when day is above apr 15
                                        ^^^^^^^^^^^^^^^^ kind: day goes round
pattern "M" move blade up 1
                 ^^^^^ kind: blade has no order to move along
pattern "N" go with clarity muddy
                    ^^^^^^^ kind: clarity is a condition
pattern "O" never blade leaf or longer
                                ^^^^^^ kind: blade has no order
pattern "P" go with blade round when clarity is 3 ft
                                                ^^^^ kind: 3 ft is no value of clarity
pattern "Q" go with blade round when blade has leaf
                                          ^^^^^^^^^ kind: blade is no set
trust clarity first, then blade
                          ^^^^^ kind: blade is a pick
impossible when family is jig
                ^^^^^^^^^^^^^ kind: What is impossible cannot depend on a pick
`,
  ],
  [
    "units",
    `
condition water-temp: 33 to 95 °F, to the nearest 1 °F
  rising is warmer, falling is colder
condition depth: 0 to 40 ft
  rising is deeper, falling is shallower
condition lure: 1/8 to 1 oz
condition rating: 0 to 10
condition murk: 0 to 50 NUT
                        ^^^ unit: NUT is no unit
condition stage: 0 to 10 ft, to the nearest 1 mph
                                              ^^^ unit: mph does not measure stage
pick weight: 1/4 oz, 3/8, 1/2 oz
                     ^^^ unit: A unit is missing
pick hook: 1/0, 2
           ^^^ range: There is no such number
pick line: 10 lb, 12 ft
                  ^^^^^ unit: Options in different kinds of units
pick size: 3, 3.5, 4
pattern "A" go with size 3 when water-temp is colder than 50
                                                          ^^ unit: A unit is missing
pattern "B" go with size 3 when water-temp is colder than 50 ft
                                                             ^^ unit: ft does not measure water-temp
pattern "C" go with size 3 when water-temp is colder than 50 °K
                                                             ^^ unit: °K is no unit
pattern "D" go with size 3 when depth is deeper than 10 feet
                                                        ^^^^ unit: feet is no unit
pattern "E" go with size 3 when depth is below 10 ft
                                     ^^^^^^^^^^^^^^^ kind: Say it with the words of depth
pattern "F" go with size 3 when depth is at least 10 ft
                                     ^^^^^^^^^^^^^^^^^^ kind: Say it with the words of depth
pattern "G" go with size 3 when rating is above 5 ft
                                                ^^^^ unit: rating is a plain number
pattern "H" go with size 3 oz
                         ^^^^ unit: size is a plain number
pattern "I" go with size 5
                         ^ name: size has no option 5
pattern "J" go with size 3.2
                         ^^^ name: size has no option 3.2
pattern "K" never size 4 or heavier
                            ^^^^^^^ name: size has no comparing words
pattern "L" go with size 3 when lure is heavier than 1/2 oz and lure is at least 3/8 oz
`,
  ],
  [
    "ranges",
    `
condition water-temp: 33 to 95 °F, to the nearest 1 °F
condition depth: 40 to 0 ft
                 ^^^^^^^^^^ range: A range must rise
condition stage: 0 to 40 ft, to the nearest 3 ft
                      ^^^^^ range: The steps of stage miss its upper end
condition flow: 0 to 40 cfs, to the nearest 0 cfs
                                            ^^^^^ range: A step must be more than nothing
condition wind: 0 to 40 mph, to the nearest 0.00001 mph
                                            ^^^^^^^^^^^ range: wind has too many steps
condition speed: 0 to 5 mph
          ^^^^^ never-asked: Nothing asks about speed
condition day: days of the year
condition clarity: in order clear, stained, muddy
band water-temp: cold below 20 °F, cool below 70 °F, warm
                            ^^^^^ range: The limit of cold is out of range
band speed: slow below 2 mph, medium below 1 mph, fast
                                           ^^^^^ range: The bands must rise
band day: winter from dec 1, summer from jun 1, spring from mar 1
                                                            ^^^^^ range: The bands must follow each other round
pick weight: in order 1/2 oz, 1/4 oz
                      ^^^^^^^^^^^^^^ range: Quantities are ordered by size
pick blade: round, leaf
pattern "A" go with blade round when water-temp is 60.5 °F
                                                   ^^^^^^^ range: water-temp is never 60.5 °F
pattern "B" go with blade round when water-temp is below 20 °F
                                                         ^^^^^ range: 20 °F is out of range
pattern "C" go with blade round when water-temp is 100 °F
                                                   ^^^^^^ range: 100 °F is out of range
pattern "D" go with blade round when water-temp from 100 °F to 120 °F
                                                     ^^^^^^ range: 100 °F is out of range
pattern "E" go with blade round when water-temp from 60.2 °F to 60.8 °F
                                                     ^^^^^^^ range: water-temp is never 60.2 °F
pattern "F" go with blade round when water-temp from 60 °F to 50 °F
                                                     ^^^^^^^^^^^^^^ range: From the higher to the lower
pattern "G" go with blade round when clarity from muddy to clear
                                                  ^^^^^^^^^^^^^^ range: From the higher to the lower
pattern "H" lean to blade round by 0
                                   ^ range: A lean must be more than nothing
pattern "I" move weight up 1.5
                           ^^^ range: A move goes by whole steps
pattern "J" never weight 1 oz or heavier
                         ^^^^ range: 1 oz is out of range
pattern "K" go with blade round when day is warm
                                            ^^^^ name: day cannot be warm
pattern "L" go with blade round when water-temp is above 95 °F
`,
  ],
  [
    "duplicates",
    `
condition sky: bright, bright, dark
                       ^^^^^^ duplicate: bright is listed twice
condition sky: in order low, high
          ^^^ duplicate: The name sky is taken
pick sky: a, b
     ^^^ duplicate: The name sky is taken
condition cover: any of grass, docks, grass, none
                                      ^^^^^ duplicate: grass is listed twice
                                             ^^^^ name: A member cannot be called none
condition water: any of grass, docks
band depth: a below 1 ft, b
condition depth: 0 to 40 ft
band depth: shallow below 10 ft, deep
^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ duplicate: depth has bands already
band depth: a below 5 ft, b
^^^^^^^^^^^^^^^^^^^^^^^^^^^ duplicate: depth has bands already
group water: soft is grass, grass
             ^^^^ never-asked: Nothing asks about soft
                            ^^^^^ duplicate: grass is listed twice
group water: soft is docks
             ^^^^ duplicate: water has a soft already
group water: grass is docks
             ^^^^^ duplicate: water has a grass already
situation dark: depth is deep
          ^^^^ duplicate: A situation has the name of a value
situation chop: depth is deep
situation chop: depth is shallow
          ^^^^ duplicate: The name chop is taken
situation water: depth is deep
          ^^^^^ duplicate: The name water is taken
pick blade: round, leaf, round
                         ^^^^^ duplicate: blade has round already
pick weight: 1/2 oz, 0.5 oz, 1/4 oz
                     ^^^^^^ duplicate: weight has 0.5 oz already
pattern "A" go with blade round, then round
                                      ^^^^^ duplicate: round is listed twice
pattern "A" go with blade leaf go with blade round
        ^^^ duplicate: A second pattern with this title
                               ^^^^^^^^^^^^^^^^^^^ duplicate: Two \`go with blade\` in one pattern
pattern "B" lean to blade leaf lean to blade leaf by 2
                               ^^^^^^^^^^^^^^^^^^^^^^^ duplicate: Two leans on blade leaf in one pattern
pattern "C" move weight up 1 move weight down 1 beats "A", "A"
                             ^^^^^^^^^^^^^^^^^^ duplicate: Two \`move weight\` in one pattern
                                                           ^^^ duplicate: "A" is listed twice
caution "D" say "x"
caution "D" say "y"
        ^^^ duplicate: A second caution with this title
trust sky first, then sky
                      ^^^ duplicate: sky is listed twice
trust depth first
^^^^^^^^^^^^^^^^^ duplicate: A second \`trust\`
trust for blade: sky first
trust for blade: depth first
^^^^^^^^^^^^^^^^^^^^^^^^^^^^ duplicate: A second \`trust for blade\`
fall back on blade leaf
fall back on blade round
^^^^^^^^^^^^^^^^^^^^^^^^ duplicate: A second \`fall back on blade\`
`,
  ],
  [
    "circles",
    `
condition wind: 0 to 40 mph
situation a: b
          ^ circle: Situations refer to each other in a circle
situation b: c and wind is above 10 mph
situation c: not a
situation self: not self
          ^^^^ circle: A situation refers to itself
pick x: on, off
pick y: on, off
pick z: on, off
pick w: on, off
  only when w is on
            ^^^^^^^ circle: A pick tests itself
pattern "A" go with x on when y is on
                              ^^^^^^^ circle: Picks test each other in a circle
pattern "B" go with y on when z is on
pattern "C" go with z on when x is on beats "C"
                                            ^^^ circle: A pattern beats itself
pattern "D" go with x on when a
`,
  ],
  [
    "and mixed with or, once a value turns out to be a situation",
    `
condition sky: bright, dark
condition wind: 0 to 40 mph
situation low: sky is dark
pick blade: round, leaf
pattern "A" go with blade round when wind is above 10 mph and sky is dark or low
                                     ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ mixing: \`and\` and \`or\` together can be heard two ways
pattern "B" go with blade round when wind is above 10 mph and (sky is dark or low)
pattern "C" go with blade round when wind is above 10 mph and wind is below 20 mph, or sky is dark or low
pattern "D" go with blade round when sky is dark or low and wind is above 10 mph
                                     ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ mixing: \`and\` and \`or\` together can be heard two ways
`,
  ],
  [
    "round the year and the clock",
    `
condition day: days of the year
  rising is later, falling is earlier
condition hour: times of the day
band day: winter from dec 1, summer from jun 1
band hour: night from 21:00, light from 06:00
pick blade: round, leaf
pattern "A" go with blade round when day is later than winter
                                                       ^^^^^^ kind: goes round
pattern "B" go with blade round when day is summer or later
pattern "C" go with blade round when day is at least apr 15
                                        ^^^^^^^^^^^^^^^^^^^ kind: say it with the words of day
pattern "D" go with blade round when hour is at most 06:00
                                         ^^^^^^^^^^^^^^^^^ kind: write \`hour from 00:00 to 06:00\`
pattern "E" go with blade round when hour is below night
                                         ^^^^^^^^^^^^^^^ kind: hour goes round
pattern "F" go with blade round when hour is later than 06:00
                                             ^^^^^ name: hour has no comparing words
pattern "G" go with blade round when hour is light or later
                                                      ^^^^^ name: hour cannot be later
`,
  ],
  [
    "never asked about",
    `
condition clarity: in order clear, stained, muddy
condition wind: 0 to 40 mph
          ^^^^ never-asked: no test of any statement speaks of the condition
band wind: calm below 10 mph, windy
condition water-temp: 33 to 95 °F, to the nearest 1 °F
band water-temp: cold below 50 °F, cool below 70 °F, warm
                                   ^^^^ never-asked: of the band \`cool\` of water-temp
                                                     ^^^^ never-asked: nothing asks about warm
condition cover: any of grass, docks
group cover: soft is grass
             ^^^^ never-asked: of the group \`soft\` of cover
condition depth: 0 to 40 ft
condition sky: bright, dark
situation dim: sky is dark
          ^^^ never-asked: of the situation
condition seen-before: no, yes
judgement told: same as seen-before
pick blade: round, leaf
pattern "A" go with blade round when water-temp is cold and cover has docks
impossible when clarity is muddy and water-temp is cold
pattern "B" go with blade leaf when depth is shallow
                                             ^^^^^^^ name: depth cannot be shallow
trust wind first
`,
  ],
  [
    "mixing that the parser has found is not found again",
    `
condition sky: bright, dark
condition wind: 0 to 40 mph
situation low: sky is dark
pick blade: round, leaf
pattern "A" go with blade round when wind is above 30 mph or wind is above 10 mph and sky is dark or low
                                     ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ mixing: two ways
`,
  ],
];

describe("findings", () => {
  test.each(sets)("%s", (_, text) => {
    expectMarked(text, (book) => resolved(book).findings);
  });
});

describe("a fix, applied as a whole, makes its finding go away", () => {
  test.each(sets)("%s", (_, text) => {
    const book = readMarks(text).text;
    for (const finding of resolved(book).findings) {
      for (const { title, edits } of finding.fixes ?? []) {
        const after = applied(book, edits);
        const shift = edits
          .filter(({ range }) => range.start < finding.range.start)
          .reduce((sum, { text: put, range }) => sum + put.length - (range.end - range.start), 0);
        const left = resolved(after).findings.filter(
          ({ code, title: other, range }) =>
            code === finding.code && other === finding.title && range.start === finding.range.start + shift,
        );
        expect(left, `${title}\n${after}`).toEqual([]);
      }
    }
  });
});

function applied(text: string, edits: readonly Edit[]): string {
  return [...edits]
    .sort((a, b) => b.range.start - a.range.start)
    .reduce((sum, { range, text: put }) => sum.slice(0, range.start) + put + sum.slice(range.end), text);
}
