/**
 * Whole sentences to start from, in the syntax of snippets that editors share (LSP 3.17, "Snippet Syntax"): `${1:name}` is the first
 * place to fill in, `$0` the last. Every one of them, filled in as it stands, reads without a finding of its syntax.
 */

export interface Snippet {
  /** What is typed to get it: the first word of the sentence. */
  readonly prefix: string;
  readonly title: string;
  readonly about: string;
  readonly body: readonly string[];
}

export const snippets: readonly Snippet[] = [
  {
    prefix: "book",
    title: "A new book",
    about: "The title of a book, whose it is and for when.",
    body: ['book "${1:Baits for Alder Pond}"', '  shop "${2:Your shop}"', '  edition "${3:2027}"', "", "$0"],
  },
  {
    prefix: "builds on",
    title: "Build on another book",
    about: "Takes in all that another book says. This book is the more local of the two.",
    body: ['builds on "${1:common/conditions.lore}"', "$0"],
  },
  {
    prefix: "condition",
    title: "A condition in steps",
    about: "Something a customer can tell you, in words that have an order.",
    body: [
      'condition ${1:clarity} "${2:Water clarity}": in order ${3:clear, stained, muddy}',
      "  rising is ${4:dirtier}, falling is ${5:clearer}",
      '  ask "${6:How far down can you see a white lure?}"',
      "$0",
    ],
  },
  {
    prefix: "condition",
    title: "A condition of which several can hold",
    about: "Something of which several, or none, can be there at once.",
    body: ['condition ${1:cover} "${2:Cover}": any of ${3:grass, docks}', '  ask "${4:What will you be casting into?}"', "$0"],
  },
  {
    prefix: "condition",
    title: "A condition that is measured",
    about: "A number with a unit, from a lowest to a highest value.",
    body: [
      'condition ${1:wind} "${2:Wind}": ${3:0} to ${4:40 mph}, to the nearest ${5:1 mph}',
      "  rising is ${6:stronger}, falling is ${7:calmer}",
      '  ask "${8:How hard is it blowing?}"',
      "$0",
    ],
  },
  {
    prefix: "condition",
    title: "The date as a condition",
    about: "The day of the year; it is filled in from the date of the trip.",
    body: ['condition ${1:day} "${2:Date}": days of the year', "  filled from the date", "$0"],
  },
  {
    prefix: "band",
    title: "Name stretches of a measure",
    about: "Each stretch reaches up to its limit; the last takes the rest.",
    body: ["band ${1:water-temp}: ${2:cold} below ${3:50 °F}, ${4:cool} below ${5:70 °F}, ${6:warm}", "$0"],
  },
  {
    prefix: "group",
    title: "Name several levels together",
    about: "One word for several levels or members of a condition.",
    body: ["group ${1:cover}: ${2:soft} is ${3:grass, pads}", "$0"],
  },
  {
    prefix: "situation",
    title: "Name a situation",
    about: "One word for a test that several patterns share.",
    body: ["situation ${1:low-light}: ${2:sky is dark}", "$0"],
  },
  {
    prefix: "impossible",
    title: "Say what never occurs",
    about: "Conditions that never come together are left out of every check.",
    body: ["impossible when ${1:day is winter and water-temp is warm}", '  because "${2:Never logged here.}"', "$0"],
  },
  {
    prefix: "pick",
    title: "Something to recommend",
    about: "What you recommend, with its options.",
    body: ['pick ${1:color} "${2:Jig color}": ${3:natural, bright, dark}', "$0"],
  },
  {
    prefix: "judgement",
    title: "Something to judge on the way",
    about: "Worked out like a pick, and only tested by other patterns.",
    body: ['judgement ${1:seen} "${2:Clarity as the fish see it}": same as ${3:clarity}', "$0"],
  },
  {
    prefix: "pattern",
    title: "A rule of thumb",
    about: "What to go with, and when.",
    body: [
      'pattern "${1:Mud wants a dark bait}"',
      "  go with ${2:color} ${3:dark}",
      "  when ${4:clarity is muddy}",
      '  because "${5:A dark shape is the easiest to make out.}"',
      "$0",
    ],
  },
  {
    prefix: "pattern",
    title: "A rule of thumb that only leans",
    about: "Weighed with others where no pattern says outright what to go with.",
    body: ['pattern "${1:A high sun wants flash}"', "  lean to ${2:blade} ${3:leaf} by ${4:2}", "  when ${5:sky is bright}", "$0"],
  },
  {
    prefix: "pattern",
    title: "An exception",
    about: "A rule of thumb that goes before another one wherever both speak.",
    body: [
      'pattern "${1:A dock throws shade}"',
      "  go with ${2:color} ${3:dark}",
      "  when ${4:cover has docks}",
      '  beats "${5:Clear water wants a natural bait}"',
      "$0",
    ],
  },
  {
    prefix: "trust",
    title: "Which condition settles a disagreement",
    about: "Where two patterns disagree, the one that goes by an earlier condition wins.",
    body: ["trust ${1:clarity} first, then ${2:sky}", "$0"],
  },
  {
    prefix: "fall back on",
    title: "What to say when nothing else speaks",
    about: "The answer where no pattern gives one.",
    body: ["fall back on ${1:color} ${2:bright}", "$0"],
  },
  {
    prefix: "say nothing on",
    title: "Where this book gives no advice",
    about: "A closed season, for example.",
    body: ["say nothing on ${1:color} when ${2:day from feb 1 to feb 20}", '  because "${3:Closed by the county.}"', "$0"],
  },
  {
    prefix: "say nothing on everything",
    title: "Where nobody is to fish",
    about: "Closed water, unsafe ice: no pick of any book has an answer there.",
    body: [
      "say nothing on everything when ${1:ice is thinner than 4 in}",
      '  because "${2:Stay off. Four inches of clear ice carry one person.}"',
      "$0",
    ],
  },
  {
    prefix: "caution",
    title: "A caution",
    about: "Shown beside an answer where it matters.",
    body: [
      'caution "${1:Cold water}" when ${2:water-temp is 60 °F or colder}',
      '  say "${3:Wear a life jacket and dress for the water, not the air.}"',
      "$0",
    ],
  },
  {
    prefix: "promise",
    title: "What must stay true",
    about: "Checked everywhere, whoever changes the book after you.",
    body: ['promise "${1:No natural baits in mud}": ${2:color} must not be ${3:natural} when ${4:clarity is muddy}', "$0"],
  },
];

/**
 * The same as a snippet file of an editor, to be chosen by title. They have no prefix: while typing, the language server offers them
 * already, with the book's own names.
 */
export function snippetFile(): Readonly<Record<string, unknown>> {
  return Object.fromEntries(snippets.map(({ title, about, body }) => [title, { description: about, body }]));
}
