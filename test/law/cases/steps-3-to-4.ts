/** Stated beats and circles, and the three passes: more local, narrower, trust. */
import { common, conditions, type Case } from "./case.js";

export const cases: readonly Case[] = [
  {
    says: "3. A stated `beats` silences the named pattern …, whatever it says there (go with, lean, never, move)",
    book:
      common +
      `
pattern "All"
  go with weight w2, then w3
  lean to weight w3 by 5
  never weight w4
  move weight up 1
pattern "Beater" lean to weight w1 when sky is dark
  beats "All"`,
    at: [
      [{ sky: "bright" }, { weight: "decided: w3" }],
      [{ sky: "dark" }, { weight: "decided: w1" }],
    ],
  },
  {
    says: "3. … on the picks both speak about: the beaten pattern keeps its voice on the others.",
    book:
      common +
      `
pattern "Beaten"
  go with blade willow
  go with weight w1
pattern "Beater" go with blade colorado beats "Beaten"`,
    at: [[{}, { blade: "decided: colorado", weight: "decided: w1" }]],
  },
  {
    says: "3. on the picks both speak about: a `beats` between patterns without a common pick silences nothing.",
    book:
      common +
      `
pattern "Beaten" go with blade willow
pattern "Beater" go with weight w1 beats "Beaten"`,
    at: [[{}, { blade: "decided: willow", weight: "decided: w1" }]],
  },
  {
    says: "3. on the picks both speak about, whatever it says: a `move` alone silences a `go with`.",
    book:
      common +
      `
pattern "Beaten" go with weight w4
pattern "Mover" move weight up 1 beats "Beaten"
fall back on weight w1`,
    at: [[{}, { weight: "fallback: w2" }]],
  },
  {
    says: "3. a silenced pattern still silences those it names",
    book:
      common +
      `
pattern "A" go with blade willow when sky is dark beats "B"
pattern "B" go with blade indiana beats "C"
pattern "C" go with blade colorado when sky is dark`,
    // Dark: "B" is silenced by "A" and still silences "C", which nothing else would settle against "A".
    at: [
      [{ sky: "dark" }, { blade: "decided: willow" }],
      [{ sky: "bright" }, { blade: "decided: indiana" }],
    ],
  },
  {
    says: "3. Only a stated circle can exist; where one applies: conflict. (Where one of its patterns does not hold, it does not apply.)",
    book:
      common +
      `
pattern "A" go with blade willow when sky is dark beats "B"
pattern "B" go with blade willow beats "A"
fall back on blade indiana`,
    at: [
      [{ sky: "dark" }, { blade: "conflict" }],
      [{ sky: "bright" }, { blade: "decided: willow" }],
    ],
  },
  {
    says: "3. circle: of three, and only on the picks that all of its `beats` speak about.",
    book:
      common +
      `
pattern "A"
  go with blade willow
  go with weight w1
  beats "B"
pattern "B"
  go with blade indiana
  go with weight w2
  beats "C"
pattern "C"
  go with weight w3
  when sky is dark
  beats "A"`,
    at: [
      // On the blade: A beats B, and C says nothing there. On the weight all three silence each other.
      [{ sky: "dark" }, { blade: "decided: willow", weight: "conflict" }],
      [{ sky: "bright" }, { blade: "decided: willow", weight: "decided: w1" }],
    ],
  },
  {
    says: "3. a circle applies even where another pattern silences its patterns, for a silenced pattern still silences those it names.",
    book:
      common +
      `
pattern "A" go with blade willow beats "B"
pattern "B" go with blade indiana beats "A"
pattern "Outside" go with blade colorado beats "A", "B"`,
    at: [[{}, { blade: "conflict" }]],
  },
  {
    says: "3. goes before 4: a stated `beats` of a base book silences a more local, narrower, more trusted pattern.",
    book: {
      "base.lore": common + `trust clarity first\npattern "Base" go with blade willow beats "Local"`,
      "book.lore": `builds on "base.lore"\npattern "Local" go with blade colorado when clarity is muddy`,
    },
    at: [[{ clarity: "muddy" }, { blade: "decided: willow" }]],
  },
  {
    says: "4. more local (drop those with a more local one left): before narrower and trust.",
    book: {
      "base.lore": common + `trust clarity first\npattern "Base" go with blade willow when clarity is muddy`,
      "book.lore": `builds on "base.lore"\npattern "Local" go with blade colorado`,
    },
    at: [[{ clarity: "muddy" }, { blade: "decided: colorado" }]],
  },
  {
    says: "more local: directly or not; where the local pattern does not apply the base's stands.",
    book: {
      "base.lore": common + `pattern "Base" go with blade willow`,
      "lake.lore": `builds on "base.lore"\npattern "Lake" go with blade indiana when clarity is muddy`,
      "book.lore": `builds on "lake.lore"\npattern "Cove" go with blade colorado when clarity is muddy and sky is dark`,
    },
    at: [
      [{ clarity: "muddy", sky: "dark" }, { blade: "decided: colorado" }],
      [{ clarity: "muddy", sky: "bright" }, { blade: "decided: indiana" }],
      [{ clarity: "clear" }, { blade: "decided: willow" }],
    ],
  },
  {
    says: "siblings are not ordered: two siblings that disagree conflict; the base below both is dropped.",
    book: {
      "base.lore": common + `pattern "Base" go with blade indiana`,
      "north.lore": `builds on "base.lore"\npattern "North" go with blade willow`,
      "south.lore": `builds on "base.lore"\npattern "South" go with blade colorado when sky is dark`,
      "book.lore": `builds on "north.lore"\nbuilds on "south.lore"\ntrust clarity first`,
    },
    at: [
      // South is narrower than North, and both are siblings: narrower settles it.
      [{ sky: "dark" }, { blade: "decided: colorado" }],
      [{ sky: "bright" }, { blade: "decided: willow" }],
    ],
  },
  {
    says: "siblings are not ordered: with equal `when`s and nothing else to settle it, conflict.",
    book: {
      "base.lore": common,
      "north.lore": `builds on "base.lore"\npattern "North" go with blade willow when sky is dark`,
      "south.lore": `builds on "base.lore"\npattern "South" go with blade colorado when sky is not bright`,
      "book.lore": `builds on "north.lore"\nbuilds on "south.lore"`,
    },
    at: [
      [{ sky: "dark" }, { blade: "conflict" }],
      [{ sky: "bright" }, { blade: "gap" }],
    ],
  },
  {
    says: "4. each looking only at those still left: a pattern dropped by more local does not drop by being narrower.",
    book: {
      "base.lore": common + `pattern "Base" go with blade willow when clarity is muddy and sky is dark`,
      "book.lore": `builds on "base.lore"\npattern "Local" go with blade colorado when clarity is muddy`,
    },
    at: [[{ clarity: "muddy", sky: "dark" }, { blade: "decided: colorado" }]],
  },
  {
    says: "4. each looking only at those still left: a beaten pattern does not drop by being narrower.",
    book:
      common +
      `
pattern "Narrow" go with blade willow when clarity is muddy and sky is dark
pattern "Wide" go with blade indiana when clarity is muddy
pattern "Beater" go with blade colorado when sky is dark beats "Narrow"`,
    at: [[{ clarity: "muddy", sky: "dark" }, { blade: "conflict" }]],
  },
  {
    says: "4. narrower (drop those with one left whose `when` is strictly narrower): before trust.",
    book:
      common +
      `
trust sky first
pattern "Wide" go with blade willow when sky is dark or clarity is muddy
pattern "Narrow" go with blade colorado when clarity is muddy`,
    at: [
      [{ clarity: "muddy" }, { blade: "decided: colorado" }],
      [{ clarity: "clear", sky: "dark" }, { blade: "decided: willow" }],
    ],
  },
  {
    says: "4. narrower: any `when` that excludes something is narrower than none.",
    book:
      common +
      `
pattern "Always" go with blade willow
pattern "Sometimes" go with blade colorado when cover has grass`,
    at: [
      [{ cover: "grass, logs" }, { blade: "decided: colorado" }],
      [{ cover: "logs" }, { blade: "decided: willow" }],
    ],
  },
  {
    says: "4. strictly narrower: equal `when`s, however written, drop nothing: conflict.",
    book:
      common +
      `
pattern "One way" go with blade willow when clarity is dirty or dirtier
pattern "Another" go with blade colorado when clarity is neither clear nor stained`,
    at: [
      [{ clarity: "dirty" }, { blade: "conflict" }],
      [{ clarity: "clear" }, { blade: "gap" }],
    ],
  },
  {
    says: "4. over every combination of the values they mention, possible or not: an `impossible` does not make two `when`s equal, nor one of them narrower.",
    book:
      common +
      `
impossible when clarity is muddy and sky is bright
pattern "Wide" go with blade willow when clarity is muddy
pattern "Narrow" go with blade colorado when clarity is muddy and sky is dark
pattern "X" go with weight w1 when sky is dark
pattern "Y" go with weight w2 when clarity is muddy`,
    at: [
      [{ clarity: "muddy" }, { blade: "decided: colorado", weight: "conflict" }],
      [{ clarity: "clear", sky: "dark" }, { weight: "decided: w1" }],
    ],
  },
  {
    says: "4. the values they mention, of a continuous measure too: above 10 ft is strictly narrower than at least 10 ft.",
    book: `condition depth: 0 to 40 ft
pick blade: willow, indiana, colorado
pattern "From" go with blade willow when depth is at least 10 ft
pattern "Above" go with blade colorado when depth is above 120 in`,
    at: [
      [{ depth: "10" }, { blade: "decided: willow" }],
      [{ depth: "11" }, { blade: "decided: colorado" }],
      [{ depth: "9" }, { blade: "gap" }],
    ],
  },
  {
    says: "4. a tested pick standing for any of its options: a test of every option is no narrower than none; one of some options is.",
    book:
      conditions +
      `pick family: spinnerbait, jig
pick blade: willow, indiana, colorado
pick weight: w1, w2
fall back on family jig
pattern "None" go with blade willow
pattern "All" go with blade colorado when family is spinnerbait or jig
pattern "Any" go with weight w1
pattern "Some" go with weight w2 when family is jig`,
    at: [[{}, { blade: "conflict", weight: "decided: w2" }]],
  },
  {
    says: "4. a tested pick standing for any of its options, whatever its own patterns could ever say (family is always jig here).",
    book:
      common +
      `
fall back on family jig
pattern "Wide" go with blade willow when clarity is muddy
pattern "Narrow" go with blade colorado when clarity is muddy and family is jig
pattern "Other" go with weight w1 when family is jig
pattern "Another" go with weight w2 when clarity is muddy`,
    at: [[{ clarity: "muddy" }, { blade: "decided: colorado", weight: "conflict" }]],
  },
  {
    says: "4. with `at least one` the empty set is no value: `has no perch` is then strictly narrower than `has shad`, and `has shad or has perch` no narrower than none.",
    book: `condition forage: any of shad, perch, at least one
condition weed: any of grass, reeds
condition sky: in order bright, dark
pick blade: willow, indiana
pick line: thin, thick
pick rod: short, long
pattern "1" go with blade willow when forage has shad
pattern "2" go with blade indiana when forage has no perch
pattern "3" go with line thin when weed has grass
pattern "4" go with line thick when weed has no reeds
pattern "5" go with rod short
pattern "6" go with rod long when forage has shad or forage has perch`,
    at: [
      [{ forage: "shad" }, { blade: "decided: indiana", rod: "conflict" }],
      [{ forage: "shad, perch" }, { blade: "decided: willow", rod: "conflict" }],
      [{ forage: "perch" }, { blade: "gap", rod: "conflict" }],
      [{ weed: "grass" }, { line: "conflict" }],
      [{ weed: "none" }, { line: "decided: thick" }],
    ],
  },
  {
    says: "4. trust (keep the best: the ranks, sorted, … compared position by position, smaller first)",
    book:
      common +
      `
trust clarity first, then sky
pattern "By sky" go with blade willow when sky is dark
pattern "By clarity" go with blade colorado when clarity is muddy
pattern "By cover" go with blade indiana when cover has grass`,
    at: [
      [{ sky: "dark", clarity: "muddy", cover: "grass" }, { blade: "decided: colorado" }],
      [{ sky: "dark", clarity: "clear", cover: "grass" }, { blade: "decided: willow" }],
      [{ sky: "bright", clarity: "clear", cover: "grass" }, { blade: "decided: indiana" }],
    ],
  },
  {
    says: "4. trust: the ranks, sorted, of the listed conditions …; compared position by position, smaller first, missing last",
    book: `condition a: x, y
condition b: x, y
condition c: x, y
condition d: x, y
pick blade: willow, indiana, colorado
pick weight: w1, w2
pick line: thin, thick
pick rod: short, long
trust a first, then b, then c
pattern "1" go with blade willow when a is x and d is x
pattern "1 2" go with blade colorado when a is x and b is x
pattern "1 3" go with weight w1 when a is x and c is x
pattern "2 1" go with weight w2 when b is x and a is x
pattern "None listed" go with line thin when d is x
pattern "3" go with line thick when c is x
pattern "1 alone" go with rod short when a is x
pattern "2 3" go with rod long when b is x and c is x`,
    at: [
      [
        { a: "x", b: "x", c: "x", d: "x" },
        { blade: "decided: colorado", weight: "decided: w2", line: "decided: thick", rod: "decided: short" },
      ],
    ],
  },
  {
    says: "4. trust: conditions that can change whether the `when` holds: a mention that changes nothing does not count.",
    book:
      common +
      `
trust clarity first, then sky
pattern "Idle mention" go with blade willow when (clarity is clear or clarity is not clear) and cover has grass
pattern "By sky" go with blade colorado when sky is dark`,
    at: [[{ cover: "grass", sky: "dark", clarity: "clear" }, { blade: "decided: colorado" }]],
  },
  {
    says: "`trust for PICK: …` gives one pick its own",
    book:
      common +
      `
trust clarity first, then sky
trust for weight: sky first, then clarity
pattern "By sky"
  go with blade willow
  go with weight w1
  when sky is dark
pattern "By clarity"
  go with blade colorado
  go with weight w2
  when clarity is muddy`,
    at: [
      [
        { sky: "dark", clarity: "muddy" },
        { blade: "decided: colorado", weight: "decided: w1" },
      ],
    ],
  },
  {
    says: "The most local `trust for` the pick, else the most local `trust`",
    book: {
      "base.lore":
        common +
        `
trust clarity first, then sky
trust for weight: clarity first, then sky
pattern "By sky"
  go with blade willow
  go with weight w1
  when sky is dark
pattern "By clarity"
  go with blade colorado
  go with weight w2
  when clarity is muddy`,
      "book.lore": `builds on "base.lore"\ntrust sky first, then clarity`,
    },
    at: [
      [
        { sky: "dark", clarity: "muddy" },
        { blade: "decided: willow", weight: "decided: w2" },
      ],
    ],
  },
  {
    says: "4. trust: the list holds conditions and judgements, a tested pick that is not listed is left out",
    book:
      common +
      `
judgement mood: calm, keen
fall back on mood keen
fall back on family jig
trust mood first, then sky
pattern "By sky" go with blade willow when sky is dark
pattern "By mood" go with blade colorado when mood is keen
pattern "By family" go with weight w1 when family is jig
pattern "By sky too" go with weight w2 when sky is dark`,
    at: [[{ sky: "dark" }, { mood: "fallback: keen", blade: "decided: colorado", weight: "decided: w2" }]],
  },
  {
    says: "4. trust: equally trusted patterns all stand; if their lists have nothing in common: conflict.",
    book:
      common +
      `
trust clarity first
pattern "Muddy" go with blade willow when clarity is dirty or dirtier
pattern "Stained" go with blade colorado when clarity is neither clear nor muddy`,
    at: [
      [{ clarity: "dirty" }, { blade: "conflict" }],
      [{ clarity: "muddy" }, { blade: "decided: willow" }],
    ],
  },
  {
    says: "4. Only `go with` is thinned: leans, nevers and moves of a pattern that is not beaten all count.",
    book: {
      "base.lore":
        common +
        `
pattern "Base"
  go with weight w4
  never weight w2
  move weight up 1
  lean to weight w3`,
      "book.lore": `builds on "base.lore"\npattern "Local" go with weight w1 or w2, then w3`,
    },
    // Local's list w1 or w2, then w3; up one: w2 or w3, then w4; never w2.
    at: [[{}, { weight: "decided: w3, then w4" }]],
  },
];
