/** Judgements, chains of picks, what a book takes in, and kinds of values. */
import { common, conditions, type Case } from "./case.js";

export const cases: readonly Case[] = [
  {
    says: "`same as CONDITION` starts as a copy of a scale …: the copy counts as the judgement's own fall back with status decided",
    book:
      conditions +
      `judgement seen: same as clarity
pick blade: willow, indiana
pattern "M" move seen up 1 when sky is dark
pattern "B" go with blade willow when seen is dirty or dirtier`,
    at: [
      [
        { clarity: "stained", sky: "bright" },
        { seen: "decided: stained", blade: "gap" },
      ],
      [
        { clarity: "stained", sky: "dark" },
        { seen: "decided: dirty", blade: "decided: willow" },
      ],
      [
        { clarity: "muddy", sky: "dark" },
        { seen: "decided: muddy", blade: "decided: willow" },
      ],
    ],
  },
  {
    says: "… or of a measure's bands",
    book: `condition water-temp: 33 to 95 °F, to the nearest 1 °F
band water-temp: cold below 50 °F, cool below 70 °F, warm
judgement feel: same as water-temp
pattern "N" never feel warm`,
    at: [
      [{ "water-temp": "49" }, { feel: "decided: cold" }],
      [{ "water-temp": "50" }, { feel: "decided: cool" }],
      // Step 9, from 7: struck out, other options remain.
      [{ "water-temp": "70" }, { feel: "gap" }],
    ],
  },
  {
    says: "… and a `go with`, lean or `fall back` of its own goes before it",
    book:
      conditions +
      `judgement seen: same as clarity
judgement felt: same as clarity
pattern "G" go with seen muddy when cover has grass
pattern "L" lean to seen clear when cover has logs
fall back on felt stained or dirty`,
    at: [
      [{ cover: "grass, logs" }, { seen: "decided: muddy", felt: "fallback: stained or dirty" }],
      [{ cover: "logs" }, { seen: "decided: clear" }],
      [{ cover: "none", clarity: "dirty" }, { seen: "decided: dirty" }],
    ],
  },
  {
    says: "the copy counts as the judgement's own fall back: a `say nothing` silences it, and a lean's list emptied goes on to it.",
    book:
      conditions +
      `judgement seen: same as clarity
pattern "L" lean to seen clear when cover has logs
pattern "N" never seen clear
say nothing on seen when sky is dark`,
    at: [
      [{ sky: "dark" }, { seen: "no advice" }],
      [{ sky: "bright", cover: "logs", clarity: "dirty" }, { seen: "decided: dirty" }],
      [{ sky: "bright", clarity: "clear" }, { seen: "gap" }],
    ],
  },
  {
    says: "A judgement is like a pick, only tested: gaps in it make what tests it wait.",
    book:
      common +
      `judgement mood: calm, keen
pattern "J" go with mood keen when sky is dark
pattern "B" go with blade willow when mood is keen`,
    at: [
      [{ sky: "dark" }, { mood: "decided: keen", blade: "decided: willow" }],
      [{ sky: "bright" }, { mood: "gap", blade: "waiting" }],
    ],
  },
  {
    says: "A pick or judgement is tested like a condition: with its comparing words, its order, its options.",
    book:
      conditions +
      `pick weight: 1/4 oz, 3/8 oz, 1/2 oz, 3/4 oz
pick a: y, n
pick b: y, n
pick c: y, n
pick d: y, n
pattern "1" go with weight 1/4 oz when clarity is clear
pattern "2" go with weight 3/8 oz when clarity is stained
pattern "3" go with weight 1/2 oz when clarity is dirty
pattern "4" go with weight 3/4 oz when clarity is muddy
pattern "A" go with a y when weight is heavier than 3/8 oz
pattern "B" go with b y when weight is 3/8 oz or lighter
pattern "C" go with c y when weight from 3/8 oz to 1/2 oz
pattern "D" go with d y when weight is at least 1/2 oz`,
    at: [
      [{ clarity: "clear" }, { a: "gap", b: "decided: y", c: "gap", d: "gap" }],
      [{ clarity: "stained" }, { a: "gap", b: "decided: y", c: "decided: y", d: "gap" }],
      [{ clarity: "dirty" }, { a: "decided: y", b: "gap", c: "decided: y", d: "decided: y" }],
      [{ clarity: "muddy" }, { a: "decided: y", b: "gap", c: "gap", d: "decided: y" }],
    ],
  },
  {
    says: "quantities are ordered by size: `or heavier`, moves and their ends follow it, however the options were written.",
    book:
      conditions +
      `pick weight: 3/4 oz, 1/4 oz, 1/2 oz
pattern "G" go with weight 1/4 oz, then 3/4 oz
pattern "M" move weight up 1 when sky is dark
pattern "N" never weight 1/2 oz or heavier when clarity is muddy`,
    at: [
      [{ sky: "bright", clarity: "clear" }, { weight: "decided: 1/4 oz, then 3/4 oz" }],
      [{ sky: "dark", clarity: "clear" }, { weight: "decided: 1/2 oz, then 3/4 oz" }],
      [{ sky: "bright", clarity: "muddy" }, { weight: "decided: 1/4 oz" }],
      [{ sky: "dark", clarity: "muddy" }, { weight: "conflict" }],
    ],
  },
  {
    says: "a pattern past its `until` no longer speaks (on the day itself it does), nor do its `beats`.",
    on: "2028-01-01",
    book:
      common +
      `
pattern "Old" go with blade willow until 2027-12-31 beats "Other"
pattern "Last day" go with weight w1 until 2028-01-01
pattern "Other" go with blade colorado`,
    at: [[{}, { blade: "decided: colorado", weight: "decided: w1" }]],
  },
  {
    says: '`leave out "title"` (drops a pattern) and `add blade painted` (one more option, last in an order)',
    book: {
      "base.lore":
        conditions +
        `pick size: in order small, big\npattern "Base" go with size small\npattern "Move" move size up 5\nfall back on size big`,
      "book.lore": `builds on "base.lore"\nleave out "Base"\nadd size huge`,
    },
    at: [[{}, { size: "fallback: huge" }]],
  },
  {
    says: "a book reached twice is read once: one lean of the common book is one lean.",
    book: {
      "base.lore": common + `pattern "L" lean to blade willow by 2`,
      "north.lore": `builds on "base.lore"\npattern "N" lean to blade colorado by 3`,
      "south.lore": `builds on "base.lore"`,
      "book.lore": `builds on "north.lore"\nbuilds on "south.lore"`,
    },
    at: [[{}, { blade: "decided: colorado, then willow" }]],
  },
  {
    says: "of a group, `has` and `has any of` mean any member, `has all of` every one, `has no` none; `only A, B` at least one of them and nothing else",
    book: `condition cover: any of grass, reeds, logs
group cover: soft is grass, reeds
pick a: y, n
pick b: y, n
pick c: y, n
pick d: y, n
pick e: y, n
pattern "A" go with a y when cover has soft
pattern "B" go with b y when cover has all of soft
pattern "C" go with c y when cover has no soft
pattern "D" go with d y when cover only grass, logs
pattern "E" go with e y when cover is empty`,
    at: [
      [{ cover: "none" }, { a: "gap", b: "gap", c: "decided: y", d: "gap", e: "decided: y" }],
      [{ cover: "grass" }, { a: "decided: y", b: "gap", c: "gap", d: "decided: y", e: "gap" }],
      [{ cover: "grass, reeds" }, { a: "decided: y", b: "decided: y", c: "gap", d: "gap", e: "gap" }],
      [{ cover: "logs" }, { a: "gap", b: "gap", c: "decided: y", d: "decided: y", e: "gap" }],
      [{ cover: "grass, logs" }, { a: "decided: y", b: "gap", c: "gap", d: "decided: y", e: "gap" }],
    ],
  },
  {
    says: "days go round: `from A to B` (both in, wraps on a cycle); bands of a day from each start to the next, round the year; feb 29 like any other day",
    book: `condition day: days of the year
band day: winter from dec 1, spring from mar 10, summer from jun 1
pick a: y, n
pick b: y, n
pick c: y, n
pattern "A" go with a y when day is winter
pattern "B" go with b y when day from nov 15 to feb 29
pattern "C" go with c y when day from apr 15 to may 20`,
    at: [
      [{ day: "nov 30" }, { a: "gap", b: "decided: y", c: "gap" }],
      [{ day: "dec 31" }, { a: "decided: y", b: "decided: y" }],
      [{ day: "jan 1" }, { a: "decided: y", b: "decided: y" }],
      [{ day: "feb 29" }, { a: "decided: y", b: "decided: y" }],
      [{ day: "mar 1" }, { a: "decided: y", b: "gap" }],
      [{ day: "mar 10" }, { a: "gap", b: "gap" }],
      [{ day: "nov 15" }, { b: "decided: y" }],
      [{ day: "apr 14" }, { c: "gap" }],
      [{ day: "apr 15" }, { c: "decided: y" }],
      [{ day: "may 20" }, { c: "decided: y" }],
      [{ day: "may 21" }, { c: "gap" }],
    ],
  },
  {
    says: "a situation names a test; `and` with a comma before the last `or` separates.",
    book:
      common +
      `
situation low-vision: clarity is dirty or dirtier, or sky is dark
pattern "A" go with blade colorado when low-vision
pattern "B" go with blade willow when not low-vision`,
    at: [
      [{ clarity: "muddy", sky: "bright" }, { blade: "decided: colorado" }],
      [{ clarity: "clear", sky: "dark" }, { blade: "decided: colorado" }],
      [{ clarity: "clear", sky: "bright" }, { blade: "decided: willow" }],
    ],
  },
  {
    says: "`everything` names every pick of all books that are read together; leans and fall backs of every book are silent, a more local `go with` is heard for its pick alone.",
    book: {
      "county.lore": `book "County"
condition ice: 0 to 30 in, to the nearest 1 in
  rising is thicker, falling is thinner
condition wind: in order calm, breezy
pick hook: plain, treble
judgement mood: shy, keen
say nothing on everything when ice is thinner than 4 in because "Stay off."
fall back on hook treble
fall back on mood keen`,
      "lake.lore": `book "Lake"
builds on "county.lore"
pattern "Lake" go with hook treble when wind is calm`,
      "book.lore": `book "Shop"
builds on "county.lore"
builds on "lake.lore"
pick lure: spoon, jig
pattern "Plain" go with hook plain lean to lure jig when wind is breezy
pattern "Jig" lean to lure jig when wind is calm
fall back on lure spoon`,
    },
    at: [
      [
        { ice: "3", wind: "calm" },
        { hook: "decided: treble", lure: "no advice", mood: "fallback: keen" },
      ],
      [
        { ice: "3", wind: "breezy" },
        { hook: "decided: plain", lure: "no advice", mood: "fallback: keen" },
      ],
      [
        { ice: "4", wind: "breezy" },
        { hook: "decided: plain", lure: "decided: jig" },
      ],
    ],
  },
  {
    says: "its own book's `go with`s, less local ones and those of books neither more nor less local are silent; a `never` still strikes out of a list that is heard.",
    book: {
      "base.lore": `book "Base"
condition sky: bright, dark
pick hook: plain, treble
pick line: mono, braid
pattern "Base" go with hook plain
pattern "No braid" never line braid`,
      "north.lore": `book "North"
builds on "base.lore"
say nothing on everything when sky is dark because "Closed."
pattern "North" go with hook plain`,
      "south.lore": `book "South"
builds on "base.lore"
pattern "South" go with hook treble, then plain`,
      "book.lore": `book "Shop"
builds on "north.lore"
builds on "south.lore"
pattern "Shop" go with line braid, then mono`,
    },
    at: [
      [{ sky: "dark" }, { hook: "no advice", line: "decided: mono" }],
      [{ sky: "bright" }, { line: "decided: mono" }],
    ],
  },
];
