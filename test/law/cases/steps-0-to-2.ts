/** Not applicable, silence and no advice, unsettled tests and waiting. */
import { common, conditions, troubled, type Case } from "./case.js";

/** family is a plain copy of the clarity: jig in clear water, spinnerbait else. */
const family = `
pattern "F1" go with family jig when clarity is clear
pattern "F2" go with family spinnerbait when clarity is stained or dirtier
`;

/** A toss-up between spinnerbait and jig in clear water. */
const tossUp = `
pattern "U1" go with family spinnerbait, then jig when clarity is clear
pattern "U2" go with family jig, then spinnerbait when clarity is clear
`;

export const cases: readonly Case[] = [
  {
    says: "0. Where its `only when` fails: not applicable",
    book:
      conditions +
      `pick family: spinnerbait, jig\npick blade: willow, indiana\n  only when family is spinnerbait\n${family}fall back on blade willow`,
    at: [
      [{ clarity: "clear" }, { blade: "not applicable" }],
      [{ clarity: "muddy" }, { blade: "fallback: willow" }],
    ],
  },
  {
    says: "0. tests on it fail, and their negations hold (`is not A` is always `not (is A)`)",
    book:
      conditions +
      `pick family: spinnerbait, jig
pick blade: willow, indiana
  only when family is spinnerbait
pick weight: light, heavy
pick line: thin, thick
pick rod: short, long
pick reel: slow, fast
${family}fall back on blade indiana
pattern "1" go with weight light when blade is willow
pattern "2" go with weight heavy when blade is not willow
pattern "3" go with line thick when blade is neither willow nor indiana
pattern "4" go with rod long when not (blade is willow or indiana)
pattern "5" go with reel fast when blade is willow or indiana`,
    at: [
      [
        { clarity: "clear" },
        { blade: "not applicable", weight: "decided: heavy", line: "decided: thick", rod: "decided: long", reel: "gap" },
      ],
      [{ clarity: "dirty" }, { blade: "fallback: indiana", weight: "decided: heavy", line: "gap", rod: "gap", reel: "decided: fast" }],
    ],
  },
  {
    says: "0. An unsettled `only when` … makes the pick wait, as a pattern's `when` does. (With no advice behind it: no advice.)",
    book:
      conditions +
      `pick family: spinnerbait, jig, worm\npick blade: willow, indiana\n  only when family is spinnerbait\n${troubled}fall back on blade willow`,
    at: [
      [{ clarity: "clear" }, { family: "gap", blade: "waiting" }],
      [{ clarity: "stained" }, { family: "conflict", blade: "waiting" }],
      [{ clarity: "dirty" }, { family: "no advice", blade: "no advice" }],
      [{ clarity: "muddy" }, { family: "decided: spinnerbait", blade: "fallback: willow" }],
    ],
  },
  {
    says: "0. An unsettled … `say nothing` makes the pick wait, as a pattern's `when` does.",
    book: common + troubled + `say nothing on blade when family is spinnerbait\nfall back on blade willow`,
    at: [
      [{ clarity: "clear" }, { blade: "waiting" }],
      [{ clarity: "stained" }, { blade: "waiting" }],
      [{ clarity: "dirty" }, { blade: "no advice" }],
      [{ clarity: "muddy" }, { blade: "no advice" }],
    ],
  },
  {
    says: "0. before 2: where `only when` fails the pick is not applicable, though patterns of it are unsettled.",
    book:
      conditions +
      `pick family: spinnerbait, jig, worm\npick blade: willow, indiana\n  only when sky is dark\n${troubled}pattern "B" go with blade willow when family is jig`,
    at: [
      [{ clarity: "clear", sky: "bright" }, { blade: "not applicable" }],
      [{ clarity: "clear", sky: "dark" }, { blade: "waiting" }],
    ],
  },
  {
    says: "0. A gap in one part does not matter where another part of the `only when` fails (`and` is three-valued).",
    book:
      conditions +
      `pick family: spinnerbait, jig, worm\npick blade: willow, indiana\n  only when family is spinnerbait and sky is dark\n${troubled}fall back on blade willow`,
    at: [
      [{ clarity: "clear", sky: "bright" }, { blade: "not applicable" }],
      [{ clarity: "clear", sky: "dark" }, { blade: "waiting" }],
    ],
  },
  {
    says: "1. Where a `say nothing` of the pick holds, every `go with`, `lean` and `fall back` of the pick from the same … book is silent. … no advice.",
    book:
      common +
      `
pattern "G" go with blade willow when sky is dark
pattern "L" lean to blade indiana
fall back on blade colorado
say nothing on blade when clarity is muddy`,
    at: [
      [{ clarity: "muddy" }, { blade: "no advice" }],
      [{ clarity: "clear", sky: "dark" }, { blade: "decided: willow" }],
      [{ clarity: "clear", sky: "bright" }, { blade: "decided: indiana" }],
    ],
  },
  {
    says: "1. … of the pick: another pick is not silenced.",
    book: common + `pattern "G" go with blade willow\n  go with weight w2\nsay nothing on blade when clarity is muddy`,
    at: [[{ clarity: "muddy" }, { blade: "no advice", weight: "decided: w2" }]],
  },
  {
    says: "1. (a `never` or `move` does not [give a list]): no advice, even where nevers rule out every option.",
    book:
      common +
      `
pattern "N" never weight w1, w2, w3, w4 when sky is dark
pattern "M" move weight up 1
say nothing on weight when clarity is muddy`,
    at: [
      [{ clarity: "muddy" }, { weight: "no advice" }],
      [{ clarity: "clear", sky: "dark" }, { weight: "conflict" }],
      [{ clarity: "clear", sky: "bright" }, { weight: "gap" }],
    ],
  },
  {
    says: "1. a less local book: the book that builds on another is the more local; its own patterns speak on, the base's do not.",
    book: {
      "base.lore":
        common +
        `pattern "Base" go with blade willow\nfall back on blade indiana\nsay nothing on blade when clarity is muddy\nsay nothing on weight when clarity is muddy\nfall back on weight w1`,
      "book.lore": `builds on "base.lore"\npattern "Local" go with blade colorado when sky is dark`,
    },
    at: [
      [
        { clarity: "muddy", sky: "dark" },
        { blade: "decided: colorado", weight: "no advice" },
      ],
      [{ clarity: "muddy", sky: "bright" }, { blade: "no advice" }],
      [{ clarity: "clear", sky: "bright" }, { blade: "decided: willow" }],
    ],
  },
  {
    says: "1. … from the same or a less local book: a local `say nothing` silences the base's patterns and fall back.",
    book: {
      "base.lore": common + `pattern "Base" go with blade willow when sky is dark\nfall back on blade indiana`,
      "book.lore": `builds on "base.lore"\nsay nothing on blade when clarity is muddy`,
    },
    at: [
      [{ clarity: "muddy" }, { blade: "no advice" }],
      [{ clarity: "dirty", sky: "bright" }, { blade: "fallback: indiana" }],
    ],
  },
  {
    says: "siblings are not ordered: a sibling's `say nothing` does not silence.",
    book: {
      "base.lore": common,
      "north.lore": `builds on "base.lore"\npattern "North" go with blade willow`,
      "south.lore": `builds on "base.lore"\nsay nothing on blade when clarity is muddy\npattern "South" lean to weight w1\nsay nothing on weight when clarity is muddy`,
      "book.lore": `builds on "north.lore"\nbuilds on "south.lore"`,
    },
    at: [[{ clarity: "muddy" }, { blade: "decided: willow", weight: "no advice" }]],
  },
  {
    says: "1. a list that nevers then empty has spoken: conflict (step 9, from 5), not no advice.",
    book: {
      "base.lore": common + `pattern "Base" never blade colorado\nsay nothing on blade when clarity is muddy`,
      "book.lore": `builds on "base.lore"\npattern "Local" go with blade colorado`,
    },
    at: [[{ clarity: "muddy" }, { blade: "conflict" }]],
  },
  {
    says: "1. a list that nevers then empty has spoken: a lean's list emptied goes on to a silent fall back: gap, or conflict where every option is ruled out.",
    book: {
      "base.lore":
        common +
        `
pattern "N1" never blade colorado
pattern "N2" never blade willow, indiana when sky is dark
fall back on blade willow
say nothing on blade when clarity is muddy`,
      "book.lore": `builds on "base.lore"\npattern "Local" lean to blade colorado`,
    },
    at: [
      [{ clarity: "muddy", sky: "bright" }, { blade: "gap" }],
      [{ clarity: "muddy", sky: "dark" }, { blade: "conflict" }],
      [{ clarity: "clear", sky: "bright" }, { blade: "fallback: willow" }],
    ],
  },
  {
    says: "1. If nothing else then gives a list: local leans without a positive total give none.",
    book: {
      "base.lore": common + `fall back on blade willow\nsay nothing on blade when clarity is muddy`,
      "book.lore": `builds on "base.lore"\npattern "Off" lean off blade colorado\npattern "To and off" lean to blade willow when sky is dark\npattern "Off again" lean off blade willow when sky is dark`,
    },
    at: [[{ clarity: "muddy" }, { blade: "no advice" }]],
  },
  {
    says: "1. and 5. Two local lists without a common option under a base's `say nothing`: both have spoken, and the list is empty: conflict.",
    book: {
      "base.lore": common + `say nothing on blade when clarity is muddy`,
      "book.lore": `builds on "base.lore"\npattern "A" go with blade willow\npattern "B" go with blade colorado`,
    },
    at: [[{ clarity: "muddy" }, { blade: "conflict" }]],
  },
  {
    says: "1. every `go with` … is silent; a `never` of the same pattern is not: it still strikes.",
    book: {
      "base.lore": common + `pattern "Base"\n  go with blade willow\n  never blade indiana\nsay nothing on blade when clarity is muddy`,
      "book.lore": `builds on "base.lore"\npattern "Local" go with blade indiana, then colorado`,
    },
    at: [[{ clarity: "muddy" }, { blade: "decided: colorado" }]],
  },
  {
    says: "1. every `go with`, `lean` and `fall back` … is silent: a base's `move` is not, and shifts the more local list.",
    book: {
      "base.lore": common + `pattern "Base" move weight up 1\nfall back on weight w4\nsay nothing on weight when clarity is muddy`,
      "book.lore": `builds on "base.lore"\npattern "Local" go with weight w1`,
    },
    at: [[{ clarity: "muddy" }, { weight: "decided: w2" }]],
  },
  {
    says: "3. Applicable patterns: not silent. A silent pattern's `beats` does not apply; a pattern that also says never is not silent, and its `beats` does.",
    book: {
      "base.lore":
        common +
        `
pattern "Silent" go with blade willow beats "Local"
pattern "Not silent"
  go with weight w1
  never weight w4
  beats "Local"
say nothing on blade when clarity is muddy
say nothing on weight when clarity is muddy`,
      "book.lore": `builds on "base.lore"\npattern "Local"\n  go with blade colorado\n  go with weight w3`,
    },
    at: [
      [{ clarity: "muddy" }, { blade: "decided: colorado", weight: "no advice" }],
      [{ clarity: "clear" }, { blade: "decided: willow", weight: "decided: w1" }],
    ],
  },
  {
    says: "2. A test on a pick with several options at the front holds if it holds for each, fails if it fails for each, else it is unsettled",
    book:
      common +
      tossUp +
      `
pattern "1" go with blade willow when family is spinnerbait or jig
pattern "2" go with weight w1 when family is worm or frog
pattern "3" go with weight w2 when family is not frog
pick line: thin, thick
fall back on line thin
pattern "4" go with line thick when family is jig`,
    at: [
      [{ clarity: "clear" }, { family: "toss-up: spinnerbait or jig", blade: "decided: willow", weight: "decided: w2", line: "waiting" }],
    ],
  },
  {
    says: "2. … several options at the front: those of a decided `either of these` and of a fallback too; options further down the list do not count.",
    book:
      common +
      `
pattern "1" go with family spinnerbait or jig, then frog when clarity is clear
fall back on family jig or worm, then frog
pattern "2" go with blade willow when family is jig
pattern "3" go with weight w1 when family is not frog`,
    at: [
      [{ clarity: "clear" }, { family: "decided: spinnerbait or jig, then frog", blade: "waiting", weight: "decided: w1" }],
      [{ clarity: "muddy" }, { family: "fallback: jig or worm, then frog", blade: "waiting", weight: "decided: w1" }],
    ],
  },
  {
    says: "2. on a gap, conflict, waiting or no-advice pick it is unsettled. A pick is waiting … (no advice, where all the picks whose unsettled tests leave it unsettled have no advice)",
    book:
      common +
      troubled +
      `
pattern "1" go with blade willow when family is frog
pattern "2" go with weight w1 when blade is colorado
fall back on blade indiana
fall back on weight w4`,
    at: [
      [{ clarity: "clear" }, { family: "gap", blade: "waiting", weight: "waiting" }],
      [{ clarity: "stained" }, { family: "conflict", blade: "waiting", weight: "waiting" }],
      [{ clarity: "dirty" }, { family: "no advice", blade: "no advice", weight: "no advice" }],
      [{ clarity: "muddy" }, { family: "decided: spinnerbait", blade: "fallback: indiana", weight: "fallback: w4" }],
    ],
  },
  {
    says: "2. `not` is three-valued: the negation of an unsettled test is unsettled.",
    book:
      common +
      troubled +
      `pattern "1" go with blade willow when family is not spinnerbait\npattern "2" go with weight w1 when not (family is spinnerbait)`,
    at: [
      [{ clarity: "clear" }, { blade: "waiting", weight: "waiting" }],
      [{ clarity: "dirty" }, { blade: "no advice", weight: "no advice" }],
      [{ clarity: "muddy" }, { blade: "gap", weight: "gap" }],
    ],
  },
  {
    says: "2. `and`, `or` … are three-valued: a failing part settles an `and`, a holding part an `or`.",
    book:
      common +
      troubled +
      `
pattern "1" go with blade willow when family is jig and sky is dark
pattern "2" go with weight w1 when family is jig or sky is dark`,
    at: [
      [
        { clarity: "clear", sky: "bright" },
        { blade: "gap", weight: "waiting" },
      ],
      [
        { clarity: "clear", sky: "dark" },
        { blade: "waiting", weight: "decided: w1" },
      ],
    ],
  },
  {
    says: "2. Each part is settled by itself: `family is jig or family is not jig` on a gap pick is unsettled or unsettled.",
    book: common + troubled + `pattern "1" go with blade willow when family is jig or family is not jig`,
    at: [
      [{ clarity: "clear" }, { blade: "waiting" }],
      [{ clarity: "muddy" }, { blade: "decided: willow" }],
    ],
  },
  {
    says: "2. A pick is waiting exactly where a pattern of it … is unsettled, whatever else would answer, and whatever the pattern says (lean, never, move).",
    book:
      common +
      troubled +
      `
pick line: in order thin, mid, thick
fall back on blade willow
fall back on weight w1
fall back on line mid
pattern "1" lean to blade colorado when family is jig
pattern "2" never weight w4 when family is jig
pattern "3" move line up 1 when family is jig`,
    at: [
      [{ clarity: "clear" }, { blade: "waiting", weight: "waiting", line: "waiting" }],
      [{ clarity: "muddy" }, { blade: "fallback: willow", weight: "fallback: w1", line: "fallback: mid" }],
    ],
  },
  {
    says: "2. a pattern of it that is neither silent …: a silent pattern's unsettled `when` makes nothing wait; one that also says never is not silent.",
    book: {
      "base.lore":
        common +
        troubled +
        `
pattern "1" go with blade willow when family is jig
pattern "2"
  go with weight w1
  never weight w2
  when family is jig
say nothing on blade when sky is dark
say nothing on weight when sky is dark`,
      "book.lore": `builds on "base.lore"\npattern "3" go with blade colorado\npattern "4" go with weight w3`,
    },
    at: [
      [
        { clarity: "clear", sky: "dark" },
        { blade: "decided: colorado", weight: "waiting" },
      ],
      [
        { clarity: "clear", sky: "bright" },
        { blade: "waiting", weight: "waiting" },
      ],
    ],
  },
  {
    says: "2. … nor silenced by an applicable `beats`: silenced, it makes nothing wait; a `beats` whose pattern does not hold silences nothing.",
    book:
      common +
      troubled +
      `
pattern "1" go with blade willow when family is jig
pattern "2" go with blade colorado when sky is dark
  beats "1"`,
    at: [
      [{ clarity: "clear", sky: "dark" }, { blade: "decided: colorado" }],
      [{ clarity: "clear", sky: "bright" }, { blade: "waiting" }],
    ],
  },
  {
    says: "2. an applicable `beats`: the `beats` of an unsettled pattern is not applicable, so the unsettled pattern makes the pick wait.",
    book:
      common +
      troubled +
      `
pattern "1" go with blade willow when family is jig beats "2"
pattern "2" go with blade colorado`,
    at: [
      [{ clarity: "clear" }, { blade: "waiting" }],
      [{ clarity: "muddy" }, { blade: "decided: colorado" }],
    ],
  },
  {
    says: "2. Waiting goes before a circle, a circle before no advice.",
    book:
      common +
      troubled +
      `
pattern "1" go with blade willow when sky is dark beats "2"
pattern "2" go with blade colorado when sky is dark beats "1"
pattern "3" go with blade indiana when family is jig
fall back on blade indiana`,
    at: [
      [
        { clarity: "clear", sky: "dark" },
        { family: "gap", blade: "waiting" },
      ],
      [
        { clarity: "dirty", sky: "dark" },
        { family: "no advice", blade: "conflict" },
      ],
      [{ clarity: "dirty", sky: "bright" }, { blade: "no advice" }],
      [{ clarity: "muddy", sky: "dark" }, { blade: "conflict" }],
      [{ clarity: "muddy", sky: "bright" }, { blade: "fallback: indiana" }],
    ],
  },
  {
    says: "2. a circle before no advice: also before the no advice of step 1 (nevers are not silent, so their circle applies).",
    book:
      common +
      `
pattern "1" never blade willow beats "2"
pattern "2" never blade colorado beats "1"
pattern "3" go with blade indiana
say nothing on blade when clarity is muddy`,
    at: [[{ clarity: "muddy" }, { blade: "conflict" }]],
  },
  {
    says: "2. all the picks whose unsettled tests leave it unsettled: one gap among them, and it waits; a failing part leaves nothing unsettled.",
    book:
      common +
      `
pick line: thin, thick
pick rod: short, long
say nothing on family when clarity is dirty
fall back on family jig
say nothing on blade when sky is dark
pattern "B" go with blade willow when clarity is dirty and cover has grass
pattern "1" go with weight w1 when family is jig and blade is willow
pattern "2" go with line thick when family is jig or (blade is willow and cover is empty)
pattern "3" go with rod long when family is jig
pattern "4" go with rod short when blade is willow`,
    at: [
      // family no advice, blade no advice: both culprits have no advice.
      [
        { clarity: "dirty", sky: "dark", cover: "none" },
        { family: "no advice", blade: "no advice", weight: "no advice", line: "no advice", rod: "no advice" },
      ],
      // family no advice, blade gap.
      [
        { clarity: "dirty", sky: "bright", cover: "none" },
        { family: "no advice", blade: "gap", weight: "waiting", line: "waiting", rod: "waiting" },
      ],
      // The blade's gap stands beside a part that fails (cover is empty), so in "2" the family alone leaves it unsettled.
      [
        { clarity: "dirty", sky: "bright", cover: "logs" },
        { family: "no advice", blade: "gap", weight: "waiting", line: "no advice", rod: "waiting" },
      ],
      // The blade is settled: what is left unsettled has no advice.
      [
        { clarity: "dirty", sky: "bright", cover: "grass" },
        { family: "no advice", blade: "decided: willow", weight: "no advice", line: "no advice", rod: "no advice" },
      ],
    ],
  },
  {
    says: "2. One pattern unsettled by a gap and another by no advice: waiting, for the first alone makes the pick wait.",
    book:
      common +
      troubled +
      `
pick line: thin, thick
say nothing on line when clarity is clear
fall back on line thin
pattern "1" go with blade willow when family is jig
pattern "2" go with blade colorado when line is thick`,
    at: [
      [{ clarity: "clear" }, { family: "gap", line: "no advice", blade: "waiting" }],
      [{ clarity: "dirty" }, { family: "no advice", line: "fallback: thin", blade: "no advice" }],
    ],
  },
];
