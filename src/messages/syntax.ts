/** Every sentence of reading a book: wording only, given as plain text. */
import type { Stranger } from "../lookalikes.js";
import { listed } from "./words.js";

export interface Saying {
  readonly title: string;
  readonly message: string;
  readonly help: string;
}

/** Names for examples: a pick with two of its options, a condition with two of its levels. */
export interface Sample {
  readonly pick: string;
  readonly option: string;
  readonly other: string;
  readonly condition: string;
  readonly level: string;
  readonly next: string;
}
export const usualSample: Sample = {
  pick: "blade",
  option: "colorado",
  other: "indiana",
  condition: "clarity",
  level: "dirty",
  next: "muddy",
};

/** What stands where something else was expected. */
export type FoundInstead =
  { readonly kind: "end" } | { readonly kind: "clause"; readonly word: string } | { readonly kind: "word"; readonly word: string };

export const syntaxWords = {
  missing: (after: string, expected: string, found: FoundInstead, example: string | undefined): Saying => ({
    title: sentence(`${withoutMarks(expected)} is missing`),
    message: `After \`${after}\` I expected ${expected}, but ${
      found.kind === "end"
        ? "the statement ends there"
        : found.kind === "clause"
          ? `\`${found.word}\` already starts something new`
          : `found \`${clip(found.word)}\``
    }.`,
    help: example === undefined ? "Write what is missing, or take the unfinished part out." : `For example: \`${example}\`.`,
  }),
  leftOver: (after: string, found: string, start: string): Saying => ({
    title: `\`${clip(found)}\` does not fit here`,
    message: `After \`${after}\` I did not expect \`${clip(found)}\`.`,
    help: continuations[start] ?? "Take it out, or start a new statement, such as `pattern`, before it.",
  }),
  commaInTest: (next: string, { condition, level, next: other }: Sample): Saying => ({
    title: "A comma does not join two values",
    message: `After the comma I expected \`and\` or \`or\`, but found \`${clip(next)}\`. The values of one test are joined with \`or\`.`,
    help: `For example: \`when ${condition} is ${level} or ${other}\`.`,
  }),
  noThan: (word: string, value: string): Saying => ({
    title: "`than` is missing",
    message: `Between \`${word}\` and \`${value}\` I expected \`than\`.`,
    help: "For example: `water-temp is colder than 60 °F`.",
  }),
  wrongClause: (clause: string, statement: string): Saying => ({
    title: `\`${clause}\` does not belong here`,
    message: `A \`${statement}\` has no \`${clause}\`.`,
    help: `${allowed[statement] ?? "It stands alone."} Take \`${clause}\` out, or write it in the statement that it belongs to.`,
  }),
  needs: (statement: string, clause: "when" | "say", { condition, level }: Sample): Saying => ({
    title: `\`${clause}\` is missing`,
    message: `${sentence(`\`${statement}\``)} says nothing without ${clause === "when" ? "its test: a `when`" : "its words: a `say`"}.`,
    help: `For example: \`${clause === "when" ? `when ${condition} is ${level}` : 'say "Wear a life jacket."'}\`.`,
  }),
  noAction: ({ pick, option }: Sample): Saying => ({
    title: "The pattern recommends nothing",
    message: "A pattern says what to do, with `go with`, `lean to`, `lean off`, `never` or `move`; this one does not.",
    help: `For example: \`go with ${pick} ${option}\`.`,
  }),
  blank: (statement: string): Saying => ({
    title: "There is nothing between the quotation marks",
    message: `What follows \`${statement}\` is how everyone will speak of it; here it is empty.`,
    help: 'For example: `pattern "Mud wants thump"`.',
  }),
  twice: (clause: string, statement: string): Saying => ({
    title: `\`${clause}\` is given twice`,
    message: `One \`${statement}\` has one \`${clause}\`. The first one counts; this second one is not read.`,
    help:
      clause === "when" || clause === "only when"
        ? "Join the two tests with `and` or `or`, or take one out."
        : ["see", "beats"].includes(clause)
          ? `Write both after one \`${clause}\`, with a comma between them.`
          : "Take one of them out.",
  }),
  takeOut: (): string => "Take it out",
  neverList: (second: string): Saying => ({
    title: "Options ruled out are a comma list",
    message: `After \`never\`, several options stand with commas between them. Only a single option takes a comparing word, as in \`1/2 oz or heavier\`, so \`or ${second}\` can be heard two ways here.`,
    help: "Write a comma in place of `or`, or give the comparing word a `never` of its own.",
  }),
  mixing: (first: string, second: string): Saying => ({
    title: "`and` and `or` together can be heard two ways",
    message: `This may mean \`${first}\`, or it may mean \`${second}\`.`,
    help: "Put parentheses around what belongs together.",
  }),
  meant: (reading: string): string => `Say \`${reading}\``,
  tooDeep: (limit: number): Saying => ({
    title: "This test is nested too deeply",
    message: `More than ${limit} parentheses stand inside one another here; nobody can read that aloud.`,
    help: "Name the inner parts with `situation`, and test those names.",
  }),
  bookTooLong: (longest: number): Saying => ({
    title: "This book is too long",
    message: `It has more than ${longest.toLocaleString("en-US")} characters, more than a book is made for, so nothing of it is read.`,
    help: "Split it into books that build on each other. If this file was never meant to be a book, take it out.",
  }),
  tooLong: (): Saying => ({
    title: "This statement is too long",
    message: "Nobody can read a statement of this length aloud, so I stop reading it here.",
    help: "Split it. If this file was never meant to be a book, take it out.",
  }),
  word: (written: string, meant: string): Saying => ({
    title: `This is written \`${meant}\``,
    message: `I take \`${clip(written)}\` for \`${meant}\`.`,
    help: `Write \`${meant}\`.`,
  }),
  oneOfWords: (written: string, phrases: readonly string[]): Saying => ({
    title: `This is written ${phrases.map((one) => `\`${one}\``).join(" or ")}`,
    message: `\`${written}\` alone does not say which way.`,
    help: `Write ${phrases.map((one) => `\`${one}\``).join(" or ")}.`,
  }),
  withNot: (word: string, reading: string): Saying => ({
    title: `\`${word}\` is written with \`not\``,
    message: `I take \`${word}\` for \`${reading}\`.`,
    help: `Write \`${reading}\`.`,
  }),
  between: (reading: string): Saying => ({
    title: "`between` is written `from … to …`",
    message: "From a value to another one, both are meant as well; `between` leaves that open.",
    help: `Write \`${reading}\`.`,
  }),
  dash: (reading: string): Saying => ({
    title: "From one value to another is written with `to`",
    message: "A dash is also a minus, and is not read aloud.",
    help: `Write \`${reading}\`.`,
  }),
  fromInRange: (): Saying => ({
    title: "A range stands without `from`",
    message: "Where a condition is declared, what it can be stands right after the colon.",
    help: "For example: `condition depth: 0 to 40 ft`. In a test it is `depth from 10 to 20 ft`.",
  }),
  unitMark: (written: string, unit: string): Saying => ({
    title: `\`${written}\` is written \`${unit}\``,
    message: `I take \`${written}\` after a number for \`${unit}\`.`,
    help: `Write \`${unit}\`.`,
  }),
  underscore: (written: string, meant: string): Saying => ({
    title: `This is written \`${meant}\``,
    message: `The parts of a name are joined with hyphens. I take \`${clip(written)}\` for \`${meant}\`.`,
    help: `Write \`${meant}\`.`,
  }),
  betweenTests: (written: string): Saying => ({
    title: "Both of these, or one of them?",
    message: `\`${written}\` joins no two tests: it has to be said whether both must hold or one is enough.`,
    help: "Write `and` or `or`.",
  }),
  notRelation: (reading: string): Saying => ({
    title: "This `not` goes before the whole test",
    message: "`is not` is followed by what something is not: a level, a value, an option. A comparison is denied by a `not` before it.",
    help: `Write \`${reading}\`.`,
  }),
  hasList: (members: string): Saying => ({
    title: "Any of these, or all of them?",
    message: "After `has` stands one thing. Of several it has to be said whether one of them is enough.",
    help: `Write \`has any of ${members}\` or \`has all of ${members}\`.`,
  }),
  noVerb: (written: string): Saying => ({
    title: "`go with` is missing",
    message: `\`${clip(written)}\` names a pick and its option, but not what to do with it. I take it for \`go with ${clip(written)}\`.`,
    help: "Write `go with` before it.",
  }),
  noWhen: (written: string): Saying => ({
    title: "`when` is missing",
    message: `With \`${clip(written)}\` a test begins, and no word says what it is for. I take it for the \`when\` of this statement.`,
    help: "Write `when` before it.",
  }),
  joinedName: (written: string, meant: string): Saying => ({
    title: `This is written \`${meant}\``,
    message: `A name is one word. I take \`${clip(written)}\` for \`${meant}\`, which this book declares.`,
    help: `Did you mean \`${meant}\`?`,
  }),
  unquoted: (written: string): Saying => ({
    title: "The quotation marks are missing",
    message: `I take \`${clip(written)}\` for the text that is due here.`,
    help: `Write \`"${clip(written)}"\`.`,
  }),
  quoteIt: (): string => "Put it in quotation marks",
  fullDate: (day: string): Saying => ({
    title: "A full date is needed",
    message: `\`${clip(day)}\` comes every year, and this is about one day of one year.`,
    help: "Write the year as well, first of all: `2027-04-30`.",
  }),
  capitals: (written: string, small: string): Saying => ({
    title: "Names are written in lower case",
    message: `\`${written}\` has capital letters. So that nobody has to remember which, names have none.`,
    help: `Write \`${small}\`, or put it in quotation marks if it is an option that must look just so.`,
  }),
  reserved: (word: string): Saying => ({
    title: `\`${word}\` cannot be a name`,
    message: `\`${word}\` is a word of the language: it starts a part of a book.`,
    help: `Take another name, such as \`the-${word}\`.`,
  }),
  didYouMean: (written: string, meant: string): Saying => ({
    title: `I do not know \`${written}\` here`,
    message: `Nothing called \`${written}\` can stand here.`,
    help: `Did you mean \`${meant}\`?`,
  }),
  lookalike: (meant: string, strangers: readonly Stranger[]): Saying => ({
    title: `This only looks like \`${clip(meant)}\``,
    message: `What stands here is not all what it looks like: ${listed(strangers.slice(0, 3).map(({ sign, kind }) => (kind === "hidden" ? `a sign that does not show (${codeOf(sign)})` : `a ${kind} \`${sign}\` (${codeOf(sign)})`)))}. I take the word for \`${clip(meant)}\`.`,
    help: `Write \`${clip(meant)}\` anew: copied words bring such signs along.`,
  }),
  longName: (longest: number): Saying => ({
    title: "This name is too long",
    message: `It has more than ${longest} letters; a name is said in one breath.`,
    help: "Take a shorter name, and put what else there is to say into a label in quotation marks.",
  }),
  longNumber: (longest: number): Saying => ({
    title: "This number is too long",
    message: `It has more than ${longest} digits and signs; nothing is measured or counted that exactly.`,
    help: "Write it shorter.",
  }),
  longText: (longest: number): Saying => ({
    title: "This text is too long",
    message: `It has more than ${longest.toLocaleString("en-US")} characters, which take about a minute to read aloud.`,
    help: "Say it shorter; what is good to know besides can stand in a comment, after `--`.",
  }),
  curly: (): Saying => ({
    title: "Curly quotation marks",
    message: 'A text stands between straight quotation marks, as in "Mud wants thump". Word processors like to bend them.',
    help: "Write straight quotation marks.",
  }),
  unclosed: (start: string): Saying => ({
    title: "The closing quotation mark is missing",
    message: `The text that begins with “${clip(start)}” does not end on its line, so I take the rest of the line for text.`,
    help: "Write a closing quotation mark where the text ends.",
  }),
  loneQuote: (): Saying => ({
    title: "A lone quotation mark",
    message: "Nothing stands between this quotation mark and the end of its line.",
    help: "If it ends a text, write the other one where the text begins; if it ends nothing, take it out.",
  }),
  unopened: (written: string): Saying => ({
    title: "The opening quotation mark is missing",
    message: `I take “${clip(written)}” for the text that is due here: a quotation mark ends it, and none begins it.`,
    help: `Write a quotation mark before \`${clip(written.split(/\s/)[0]!)}\`.`,
  }),
  openIt: (): string => "Write the opening quotation mark",
  brokenText: (): Saying => ({
    title: "This text goes on over several lines",
    message: "A text ends on the line on which it begins, however long that is. I take all up to the next quotation mark for text.",
    help: "Write it on one line.",
  }),
  onOneLine: (): string => "Write it on one line",
  quotesInside: (): Saying => ({
    title: "A quotation mark inside a text",
    message:
      "I take the rest of the line for the text that is due here. A straight quotation mark always ends a text; there is no way to write one inside.",
    help: "Put the text between quotation marks; inside it write 'single' or “curly” ones.",
  }),
  unclosedBefore: (start: string, next: string): Saying => ({
    title: "The closing quotation mark is missing",
    message: `The text that begins with “${clip(start)}” has no end. I take it to end before \`${clip(next)}\`.`,
    help: "Write a closing quotation mark where the text ends.",
  }),
  closeIt: (): string => "Write the closing quotation mark",
  quoteInText: (): Saying => ({
    title: "A quotation mark inside a text",
    message:
      "This text begins right where another one ends. A straight quotation mark always ends a text; there is no way to write one inside.",
    help: "Inside a text write 'single' or “curly” quotation marks.",
  }),
  noSuch: (written: string, kind: "number" | "day" | "date" | "time"): Saying => ({
    title: `There is no such ${kind}`,
    message: `\`${clip(written)}\` is no ${kind}: ${nowhere[kind]}.`,
    help: `For example: \`${literals[kind]}\`.`,
  }),
  twoDates: (written: string, readings: readonly string[]): Saying => ({
    title: "This date can be read two ways",
    message: `\`${written}\` may be ${readings.map((one) => `\`${one}\``).join(" or ")}.`,
    help: "Write the year first, then the month, then the day.",
  }),
  literal: (written: string, meant: string, kind: "number" | "day" | "date" | "time"): Saying => ({
    title: `This ${kind} is written \`${meant}\``,
    message: `I take \`${written}\` for \`${meant}\`.`,
    help: `Write \`${meant}\`.${written.includes(",") ? " A number has no commas; in a list, put a blank after each comma." : ""}`,
  }),
  foreignComment: (mark: string): Saying => ({
    title: "A comment starts with two hyphens",
    message: /[—―]/.test(mark)
      ? "A long dash stands here; word processors make one of two hyphens. I take the rest of the line for a comment."
      : `I take this line for a comment, as \`${mark}\` begins one elsewhere.`,
    help: "Write `--`.",
  }),
  unknown: (written: string): Saying => ({
    title: `\`${visible(written)}\` means nothing here`,
    message: `A book is made of words, numbers, texts in quotation marks, commas, colons and parentheses; \`${visible(written)}\` is none of them.`,
    help: "Take it out, or put what it belongs to in quotation marks.",
  }),
  noStatement: (written: string): Saying => ({
    title: "No statement starts here",
    message: `A book is a list of statements, and each begins with a word that says what it is. \`${clip(written)}\` is no such word.`,
    help: "Begin with `book`, `condition`, `pick`, `pattern` or another word that starts a statement; a comment begins with `--`.",
  }),
  more: (count: number): Saying => ({
    title: "And more",
    message: `${count.toLocaleString("en-US")} more ${count === 1 ? "thing" : "things"} in this book could not be read; ${count === 1 ? "it is" : "they are"} not shown.`,
    help: "Mend the first ones and check again. If this file was never meant to be a book, take it out.",
  }),
  writeInstead: (text: string): string => `Write \`${text}\``,
};

/** What a rule of the grammar is there for, as the object of "I expected …". */
export const roles: Readonly<Record<string, string | undefined>> = {
  title: "a title in quotation marks",
  titles: "a title in quotation marks",
  path: "the path of a book in quotation marks",
  text: "a text in quotation marks",
  label: "a label in quotation marks",
  newName: "a name",
  conditionName: "the name of a condition",
  pickName: "the name of a pick",
  pickNames: "the name of a pick",
  onWhat: "the name of a pick or `everything`",
  subject: "a test",
  term: "a test",
  test: "a test",
  level: "a level",
  levels: "a level",
  member: "a member of the set",
  members: "a member of the set",
  comparingWord: "a comparing word",
  optionValue: "an option",
  options: "an option",
  pick: "an option",
  value: "a value",
  values: "a value",
  limit: "a number",
  number: "a number",
  date: "a date",
  domain: "what it can be",
  duty: "`must be`, `must not be`, `must have an answer` or `must have no answer`",
  move: "`up` or `down`",
  filledFrom: "`date`, `clock`, `sun` or `moon`",
  is: "a value",
  isNeither: "`nor` and another value",
  join: "`and` or `or`",
};

export const punctuation: Readonly<Record<string, string | undefined>> = {
  Colon: "a colon (`:`)",
  Close: "a closing parenthesis (`)`)",
  Comma: "a comma",
};

/** What each rule looks like when it is whole. */
export const examples: Readonly<Record<string, string | ((book: Sample) => string) | undefined>> = {
  bookHeader: 'book "Bladed baits, Hollin Reservoir"',
  shop: 'shop "Hollin Landing"',
  water: 'water "Hollin Reservoir"',
  edition: 'edition "2027 spring"',
  goodFrom: "good from 2027-03-01 to 2027-06-15",
  buildsOn: 'builds on "common/conditions.lore"',
  leaveOut: 'leave out "Mud wants thump"',
  addOption: ({ pick }) => `add ${pick} painted`,
  domain: "clear, muddy` or `any of grass, docks` or `33 to 95 °F` or `days of the year",
  scale: "in order clear, stained, dirty, muddy",
  set: "any of grass, pads, reeds",
  measure: "33 to 95 °F, to the nearest 1 °F",
  condition: 'condition sky "Sky": in order bright, broken, overcast, dark',
  comparing: "rising is dirtier, falling is clearer",
  ask: 'ask "How far down can you see a white lure?"',
  filledFrom: "filled from the sun",
  band: "band water-temp: cold below 50 °F, cool below 70 °F, warm",
  group: "group cover: soft is grass, pads, reeds",
  situation: "situation low-vision: clarity is dirty or dirtier, or sky is dark",
  impossible: "impossible when day is winter and water-temp is 66 °F or warmer",
  pick: 'pick blade "Blade style": colorado, indiana, willow',
  onlyWhen: "only when family is spinnerbait",
  trust: "trust clarity first, then sky, then cover",
  pattern: 'pattern "Mud wants thump"',
  goWith: ({ pick, option, other }) => `go with ${pick} ${option}, then ${other}`,
  lean: ({ pick, other }) => `lean to ${pick} ${other} by 2`,
  never: "never weight 1/2 oz or heavier",
  move: "move weight up 1",
  when: ({ condition, level }) => `when ${condition} is ${level}`,
  because: 'because "A round, deeply cupped blade moves the most water."',
  see: 'see "a county notice" checked 2027-02-01',
  checked: "checked 2027-02-01",
  until: "until 2027-12-31",
  beats: 'beats "Mud wants thump"',
  fallBack: ({ pick, option }) => `fall back on ${pick} ${option}`,
  sayNothing: "say nothing on family, size when day from feb 1 to feb 20",
  caution: 'caution "Cold water" when water-temp is colder than 60 °F say "Wear a life jacket."',
  say: 'say "Wear a life jacket."',
  promise: ({ pick, option, condition, level }) => `promise "…": ${pick} must not be ${option} when ${condition} is ${level}`,
  term: ({ condition, level }) => `${condition} is ${level}`,
};

/** How what has begun with a word can go on. */
const continuations: Readonly<Record<string, string | undefined>> = {
  when: "Two tests are joined with `and` or `or`; values of one test with `or`.",
  "only when": "Two tests are joined with `and` or `or`; values of one test with `or`.",
  situation: "Two tests are joined with `and` or `or`; values of one test with `or`.",
  "go with": "A second choice follows `, then`; one that is just as good follows `or`.",
  "fall back on": "A second choice follows `, then`; one that is just as good follows `or`.",
  "lean to": "Options stand with commas between them; how much, after `by`.",
  "lean off": "Options stand with commas between them; how much, after `by`.",
  never: "Options stand with commas between them.",
  "say nothing on": "Picks stand with commas between them; `when` follows without one.",
  condition: "Levels stand with commas between them. A name of two words takes a hyphen: `very-clear`.",
  pick: "Options stand with commas between them. A name of two words takes a hyphen, or quotation marks.",
  judgement: "Options stand with commas between them. A name of two words takes a hyphen, or quotation marks.",
  trust: "The next condition follows `, then`.",
  "trust for": "The next condition follows `, then`.",
  see: "Sources stand with commas between them, each in quotation marks.",
  beats: "Titles stand with commas between them, each in quotation marks.",
};

/** What may stand in a statement. */
const allowed: Readonly<Record<string, string | undefined>> = {
  book: "It may have `shop`, `water`, `edition` and `good from`.",
  condition: "It may have `rising is`, `ask` and `filled from the`.",
  pick: "It may have `only when`, `rising is` and `ask`.",
  judgement: "It may have `only when`, `rising is` and `ask`.",
  impossible: "It has `when` and `because`.",
  "fall back on": "It may have `because`.",
  "say nothing on": "It has `when` and `because`.",
  caution: "It has `when`, `say` and `see`.",
  promise: "It may have one `when`.",
  pattern: "It has `go with`, `lean to`, `lean off`, `never`, `move`, `when`, `because`, `see`, `checked`, `until` and `beats`.",
};

const literals = { number: "3/8", day: "apr 15", date: "2027-04-15", time: "05:30" };
const nowhere = {
  number: "nothing can be divided by nought",
  day: "a month has 30 or 31 days, February 29",
  date: "it needs a year of four digits, a month and a day that exist",
  time: "a day runs from 00:00 to 23:59",
};

function sentence(text: string): string {
  return text[0]!.toUpperCase() + text.slice(1);
}

/** Headlines bear no explanation in parentheses. */
function withoutMarks(text: string): string {
  return text.replace(/ \(.*\)$/, "");
}

function clip(text: string): string {
  const plain = text.replace(/\s+/g, " ");
  return visible(plain.length > 40 ? `${plain.slice(0, 39)}…` : plain);
}

/** Control characters and halves of characters would not show, or worse. */
function visible(text: string): string {
  return [...text]
    .slice(0, 40)
    .join("")
    .replace(/[\p{C}\u2028\u2029]/gu, codeOf);
}

function codeOf(sign: string): string {
  return `U+${sign.codePointAt(0)!.toString(16).toUpperCase().padStart(4, "0")}`;
}
