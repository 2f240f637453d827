/** Lists, leans, fall backs, gaps, moves and nevers, and the status of what is left. */
import { common, conditions, type Case } from "./case.js";

export const cases: readonly Case[] = [
  {
    says: "5. the list = the options in all standing lists",
    book:
      common +
      `
trust clarity first
pattern "A" go with family spinnerbait or jig or worm
pattern "B" go with family jig, then worm, then frog`,
    // jig: places 0 and 0; worm: 0 and 1, best 0. "A" writes both in one place.
    at: [[{}, { family: "decided: jig or worm" }]],
  },
  {
    says: "5. Empty: conflict, though a fall back and a lean stand ready.",
    book:
      common +
      `
pattern "A" go with blade willow
pattern "B" go with blade colorado
pattern "C" go with blade willow, then colorado
pattern "L" lean to blade indiana
fall back on blade indiana`,
    at: [[{}, { blade: "conflict" }]],
  },
  {
    says: "5. by the best place any gives (`, then` is the next place, `or` shares one)",
    book:
      common +
      `
pattern "A" go with family spinnerbait, then jig, then worm, then frog
pattern "B" go with family worm or spinnerbait, then frog, then jig`,
    // spinnerbait 0 0, jig 1 2, worm 2 0, frog 3 1: places 0, 1, 0, 1. The front spinnerbait or worm: "B" writes it in one place.
    at: [[{}, { family: "decided: spinnerbait or worm, then jig or frog" }]],
  },
  {
    says: "5. then by lean total (two lists that disagree about the order; a lean settles it)",
    book:
      common +
      `
pattern "A" go with blade willow, then colorado
pattern "B" go with blade colorado, then willow
pattern "L" lean to blade colorado by 1/2 when sky is dark
pattern "Off" lean off blade colorado when clarity is muddy`,
    at: [
      [{ sky: "bright", clarity: "clear" }, { blade: "toss-up: willow or colorado" }],
      [{ sky: "dark", clarity: "clear" }, { blade: "decided: colorado, then willow" }],
      [{ sky: "bright", clarity: "muddy" }, { blade: "decided: willow, then colorado" }],
      [{ sky: "dark", clarity: "muddy" }, { blade: "decided: willow, then colorado" }],
    ],
  },
  {
    says: "5. then by lean total: also within one written place; equal totals share a place; a lean never lifts an option over a better place, nor brings one in.",
    book:
      common +
      `
pattern "A" go with family jig or worm or spinnerbait, then frog
pattern "L" lean to family worm, spinnerbait by 2
pattern "M" lean to family frog by 9
pattern "B" go with blade willow
pattern "N" lean to blade colorado by 9`,
    at: [[{}, { family: "decided: spinnerbait or worm, then jig, then frog", blade: "decided: willow" }]],
  },
  {
    says: "5. If no `go with` is left standing … go on: a stated `beats` by a pattern that only leans leaves the leans to answer.",
    book:
      common +
      `
pattern "G" go with blade willow
pattern "L" lean to blade colorado when sky is dark
  beats "G"`,
    at: [
      [{ sky: "dark" }, { blade: "decided: colorado" }],
      [{ sky: "bright" }, { blade: "decided: willow" }],
    ],
  },
  {
    says: "6. totals (`lean to … by N` adds, `lean off` subtracts …); the positive ones, highest first",
    book:
      common +
      `
pattern "1" lean to family jig by 3
pattern "2" lean off family jig by 1 when sky is dark
pattern "3" lean to family worm by 2.5
pattern "4" lean to family frog by 1/2
pattern "5" lean off family frog by 0.5`,
    at: [
      [{ sky: "bright" }, { family: "decided: jig, then worm" }],
      [{ sky: "dark" }, { family: "decided: worm, then jig" }],
    ],
  },
  {
    says: "6. … exact: three thirds are one; N = 1 if not said. 10. from 6 … toss-up if the front is tied",
    book:
      common +
      `
pattern "1" lean to blade willow by 1/3
pattern "2" lean to blade willow by 1/3
pattern "3" lean to blade willow by 1/3
pattern "4" lean to blade colorado
pattern "5" lean to blade indiana by 0.1
pattern "6" lean to blade indiana by 0.2
pattern "7" lean to blade indiana by 0.3 when sky is dark`,
    at: [[{}, { blade: "toss-up: willow or colorado, then indiana" }]],
  },
  {
    says: "6. exact: 0.1 + 0.2 ties with 0.3.",
    book:
      common +
      `
pattern "1" lean to blade willow by 0.1
pattern "2" lean to blade willow by 0.2
pattern "3" lean to blade colorado by 0.3`,
    at: [[{}, { blade: "toss-up: willow or colorado" }]],
  },
  {
    says: "6. at most three places (four totals make three places; options that tie share one)",
    book:
      common +
      `
pattern "1" lean to family jig by 4
pattern "2" lean to family worm by 3
pattern "3" lean to family frog by 2
pattern "4" lean to family spinnerbait by 1
pattern "5" lean to weight w1 by 4
pattern "6" lean to weight w2, w3 by 3
pattern "7" lean to weight w4 by 2`,
    at: [[{}, { family: "decided: jig, then worm, then frog", weight: "decided: w1, then w2 or w3, then w4" }]],
  },
  {
    says: "6. the positive ones: a total of zero or less is no advice of a lean; 7. Else `fall back on`: fallback.",
    book:
      common +
      `
pattern "1" lean to blade willow
pattern "2" lean off blade willow
pattern "3" lean off blade colorado
fall back on blade indiana or colorado, then willow`,
    at: [[{}, { blade: "fallback: indiana or colorado, then willow" }]],
  },
  {
    says: "6. A lean's `when` counts, and so does its being beaten.",
    book:
      common +
      `
pattern "1" lean to blade willow by 5
pattern "2" lean to blade colorado when sky is dark
  beats "1"`,
    at: [
      [{ sky: "bright" }, { blade: "decided: willow" }],
      [{ sky: "dark" }, { blade: "decided: colorado" }],
    ],
  },
  {
    says: "The most local `fall back` of a pick counts",
    book: {
      "base.lore": common + `fall back on blade willow\nfall back on weight w1`,
      "book.lore": `builds on "base.lore"\nfall back on blade colorado`,
    },
    at: [[{}, { blade: "fallback: colorado", weight: "fallback: w1" }]],
  },
  {
    says: "8. Else nothing: gap, or conflict (nothing is left) where standing nevers rule out every option.",
    book:
      common +
      `
pattern "1" never blade willow, indiana
pattern "2" never blade colorado when sky is dark
pattern "3" move weight up 1 when clarity is muddy
  beats "2"`,
    at: [
      [{ sky: "bright" }, { blade: "gap", weight: "gap", family: "gap" }],
      // "3" and "2" speak about no common pick, so "2" stands.
      [{ sky: "dark", clarity: "muddy" }, { blade: "conflict" }],
    ],
  },
  {
    says: "8. standing nevers: one silenced by a stated `beats` does not rule out.",
    book:
      common +
      `
pattern "1" never blade willow, indiana
pattern "2" never blade colorado
pattern "3" lean off blade willow when sky is dark
  beats "2"`,
    at: [
      [{ sky: "bright" }, { blade: "conflict" }],
      [{ sky: "dark" }, { blade: "gap" }],
    ],
  },
  {
    says: "9. Moves of the pick add up and shift every place of the list along the pick's order",
    book:
      common +
      `
pattern "G" go with weight w1, then w2
pattern "1" move weight up 1 when sky is dark
pattern "2" move weight up 1 when clarity is muddy
pattern "3" move weight down 2 when cover has logs`,
    at: [
      [{ sky: "dark", clarity: "clear", cover: "none" }, { weight: "decided: w2, then w3" }],
      [{ sky: "dark", clarity: "muddy", cover: "none" }, { weight: "decided: w3, then w4" }],
      [{ sky: "dark", clarity: "muddy", cover: "logs" }, { weight: "decided: w1, then w2" }],
    ],
  },
  {
    says: "9. add up: +3 and −2 are +1, whatever an end would have stopped in between.",
    book:
      common +
      `
pattern "G" go with weight w3
pattern "1" move weight up 3
pattern "2" move weight down 2`,
    at: [[{}, { weight: "decided: w4" }]],
  },
  {
    says: "9. stopping at its ends (an option brought twice keeps its best place)",
    book:
      common +
      `
pattern "Down" go with weight w3, then w2, then w1
pattern "1" move weight up 2 when sky is dark
pattern "2" move weight down 1 when sky is bright`,
    // Up two: w4, then w4, then w3. Down one: w2, then w1, then w1.
    at: [
      [{ sky: "dark" }, { weight: "decided: w4, then w3" }],
      [{ sky: "bright" }, { weight: "decided: w2, then w1" }],
    ],
  },
  {
    says: "9. every place of the list: a lean's list and a fall back too, after the three places are counted.",
    book:
      common +
      `
pattern "M" move weight up 1
pattern "1" lean to weight w1 by 4 when sky is dark
pattern "2" lean to weight w2 by 3 when sky is dark
pattern "3" lean to weight w4 by 2 when sky is dark
pattern "4" lean to weight w3 by 1 when sky is dark
fall back on weight w4 or w3, then w1`,
    // Three places w1, w2, w4; moved: w2, w3, w4. The fall back: w4 or w4, then w2.
    at: [
      [{ sky: "dark" }, { weight: "decided: w2, then w3, then w4" }],
      [{ sky: "bright" }, { weight: "fallback: w4, then w2" }],
    ],
  },
  {
    says: "9. Then the standing `never`s strike out options: after the moves.",
    book:
      common +
      `
pattern "G" go with weight w1, then w2
pattern "M" move weight up 1
pattern "N" never weight w2`,
    at: [[{}, { weight: "decided: w3" }]],
  },
  {
    says: "9. If that empties a list from 5: conflict (no going on to leans or fall back).",
    book:
      common +
      `
pattern "G" go with blade willow
pattern "N" never blade willow
pattern "L" lean to blade colorado
fall back on blade indiana`,
    at: [[{}, { blade: "conflict" }]],
  },
  {
    says: "9. from 6: go on to 7",
    book:
      common +
      `
pattern "L" lean to blade willow
pattern "N" never blade willow when sky is dark
fall back on blade indiana`,
    at: [
      [{ sky: "bright" }, { blade: "decided: willow" }],
      [{ sky: "dark" }, { blade: "fallback: indiana" }],
    ],
  },
  {
    says: "6. at most three places, then 9.: the fourth option does not step in for three that are struck out.",
    book:
      common +
      `
pattern "1" lean to family jig by 4
pattern "2" lean to family worm by 3
pattern "3" lean to family frog by 2
pattern "4" lean to family spinnerbait by 1
pattern "N" never family jig, worm, frog when sky is dark
pattern "O" never family jig, worm when sky is bright`,
    at: [
      [{ sky: "dark" }, { family: "gap" }],
      [{ sky: "bright" }, { family: "decided: frog" }],
    ],
  },
  {
    says: "9. from 7: conflict where every option is ruled out, else gap.",
    book:
      common +
      `
pattern "1" never blade willow
pattern "2" never blade indiana, colorado when sky is dark
fall back on blade willow`,
    at: [
      [{ sky: "bright" }, { blade: "gap" }],
      [{ sky: "dark" }, { blade: "conflict" }],
    ],
  },
  {
    says: "9. nevers (silenced only by a stated `beats`): a less local, wider never strikes a more local, narrower `go with`; a beaten one does not.",
    book: {
      "base.lore": common + `pattern "Base" never blade colorado`,
      "book.lore": `builds on "base.lore"
pattern "Local" go with blade colorado, then willow when clarity is muddy
pattern "Beater" lean to blade indiana when sky is dark
  beats "Base"`,
    },
    at: [
      [{ clarity: "muddy", sky: "bright" }, { blade: "decided: willow" }],
      [{ clarity: "muddy", sky: "dark" }, { blade: "decided: colorado, then willow" }],
    ],
  },
  {
    says: "10. several that one standing list writes in one place: 'either of these': decided",
    book:
      common +
      `
pattern "A" go with blade willow or colorado, then indiana
pattern "B" go with blade willow, then colorado when sky is dark`,
    // Dark: "B" is narrower and stands alone.
    at: [
      [{ sky: "bright" }, { blade: "decided: willow or colorado, then indiana" }],
      [{ sky: "dark" }, { blade: "decided: willow, then colorado" }],
    ],
  },
  {
    says: "10. one standing list writes in one place: it is enough that one of them does, in any of its places.",
    book:
      common +
      `
pattern "A" go with family frog, then jig or worm
pattern "B" go with family jig, then worm
pattern "C" go with family worm, then jig`,
    // jig: places 1, 0, 1; worm: 1, 1, 0; both best 0; frog is in "A" alone. "A" writes jig or worm in one place.
    at: [[{}, { family: "decided: jig or worm" }]],
  },
  {
    says: "10. a front shared otherwise is a toss-up",
    book:
      common +
      `
pattern "A" go with family jig, then worm, then frog
pattern "B" go with family worm, then jig, then frog`,
    at: [[{}, { family: "toss-up: jig or worm, then frog" }]],
  },
  {
    says: "10. judged on the final list: a never that takes one of two tied options leaves it decided; one that takes the front may leave a toss-up.",
    book:
      common +
      `
pattern "A" go with family spinnerbait, then jig, then worm
pattern "B" go with family spinnerbait, then worm, then jig
pattern "N" never family spinnerbait when sky is dark
pattern "O" never family jig when clarity is muddy`,
    at: [
      [{ sky: "bright", clarity: "clear" }, { family: "decided: spinnerbait, then jig or worm" }],
      [{ sky: "dark", clarity: "clear" }, { family: "toss-up: jig or worm" }],
      [{ sky: "dark", clarity: "muddy" }, { family: "decided: worm" }],
    ],
  },
  {
    says: "10. judged on the final list: two tied options that a move brings to one end are one option in front; an 'either of these' moved is still one.",
    book:
      common +
      `
pattern "A" go with weight w3, then w4 when clarity is muddy
pattern "B" go with weight w4, then w3 when clarity is muddy
pattern "C" go with weight w1 or w2 when clarity is clear
pattern "M" move weight up 1 when sky is dark`,
    at: [
      [{ clarity: "muddy", sky: "bright" }, { weight: "toss-up: w3 or w4" }],
      [{ clarity: "muddy", sky: "dark" }, { weight: "decided: w4" }],
      [{ clarity: "clear", sky: "dark" }, { weight: "decided: w2 or w3" }],
    ],
  },
  {
    says: "10. judged on the final list: a toss-up moved is a toss-up still.",
    book:
      common +
      `
pattern "A" go with weight w1, then w2
pattern "B" go with weight w2, then w1
pattern "M" move weight up 1`,
    at: [[{}, { weight: "toss-up: w2 or w3" }]],
  },
  {
    says: "10. from 6 …, or toss-up if the front is tied (on the final list as well)",
    book:
      common +
      `
pattern "L" lean to weight w3, w4
pattern "N" never weight w4 when sky is dark
pattern "M" move weight up 1 when clarity is muddy`,
    at: [
      [{ sky: "bright", clarity: "clear" }, { weight: "toss-up: w3 or w4" }],
      [{ sky: "dark", clarity: "clear" }, { weight: "decided: w3" }],
      [{ sky: "bright", clarity: "muddy" }, { weight: "decided: w4" }],
      // w4 twice, and never w4; there is no fall back.
      [{ sky: "dark", clarity: "muddy" }, { weight: "gap" }],
    ],
  },
  {
    says: "10. from 7 fallback (tied or not); none: gap.",
    book: conditions + `pick blade: willow, indiana\npick rod: short, long\nfall back on blade willow or indiana`,
    at: [[{}, { blade: "fallback: willow or indiana", rod: "gap" }]],
  },
];
