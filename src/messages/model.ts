/**
 * Every sentence of the resolver: wording only, given as plain text. Here: books, names, what stands twice, circles and dates; tests
 * and their subjects are in `model-tests.ts`, numbers and units in `model-values.ts`.
 */
import { article, write, type Kind, type Said } from "./model-said.js";
import { listed } from "./words.js";

export type { Said } from "./model-said.js";
export * from "./model-tests.js";
export * from "./model-values.js";

// Beside a finding --------------------------------------------------------------------------------------------------------

export const declaredHere = (name: string): string => `“${name}” is declared here.`;
export const firstHere = (what: string): string => `The first “${what}” stands here.`;
export const bandsHere = (condition: string): string => `${condition} has its bands from here on.`;
export const oneOfTwo = (what: string): string => `One \`${what}\` stands here.`;
export const testsHere = (from: string, to: string): string => `Here ${from} depends on ${to}.`;
export const beatenHere = (title: string): string => `“${title}” is named here after \`beats\`.`;

// Books -------------------------------------------------------------------------------------------------------------------

export const unreadableBook = (path: string, problem: string): Said => ({
  code: "file",
  title: `The book ${path} cannot be read`,
  message: `This book builds on ${path}, but ${problem}. Whatever is declared there is missing here, so names that nobody knows are not reported.`,
  help: "Check the path: it is found from the folder of this book, with forward slashes between the folders.",
});
export const tooDeep = (deepest: number): string => `it would be the end of a chain of more than ${deepest} books`;
export const bookTooLong = (longest: number): string =>
  `it has more than ${longest.toLocaleString("en-US")} characters, more than a book is made for`;
export const booksInCircle = (paths: readonly string[]): Said => ({
  code: "circle",
  title: "Books build on each other in a circle",
  message: `Following \`builds on\` leads back to where it began: ${paths.join(" → ")}. So none of them could be read before the others, and none is the more local one.`,
  help: "Take one `builds on` out of the circle; what both books need goes into a third that both build on.",
});
export const buildsOnTwice = (path: string): Said => ({
  code: "duplicate",
  title: "A book is named twice",
  message: `This book already builds on ${path}. A book reached twice is read once, so the second line changes nothing.`,
  help: "Take one of the two lines out.",
});
export const sideBySide = (what: string, one: string, other: string): Said => ({
  code: "duplicate",
  title: `Two books side by side both have a \`${what}\``,
  message: `Both ${one} and ${other} have a \`${what}\`, and neither of the two builds on the other, so nothing says which of them counts here.`,
  help: `Write a \`${what}\` in this book: the most local one counts.`,
});
export const secondOfAKind = (what: string): Said => ({
  code: "duplicate",
  title: `A second \`${what}\``,
  message: `This book has a \`${what}\` already. Only one can count, and the first one does.`,
  help: "Take one of the two out, or make one statement of both.",
});
export const leaveOutOwn = (title: string): Said => ({
  code: "kind",
  title: "Only what is taken in can be left out",
  message: `“${title}” is a pattern of this book itself; \`leave out\` drops patterns of the books that this one builds on.`,
  help: "Take the pattern itself out of the book.",
});
export const leftOutButBeaten = (title: string, by: string): Said => ({
  code: "name",
  title: "A pattern that is left out is still named",
  message: `“${by}” says that it beats “${title}”. With “${title}” left out, that sentence has lost its object.`,
  help: `Leave out “${by}” as well, or write a pattern “${title}” of your own.`,
});
export const addToOwn = (pick: string, own: boolean): Said => ({
  code: "kind",
  title: "Only what is taken in can be added to",
  message: own
    ? `${pick} is declared in this very book, so its options can all stand in one list.`
    : `${pick} is declared in a book that this one does not build on, and \`add\` reaches only those that it does.`,
  help: own ? `Write the option into the list of ${pick}.` : `Build on the book that declares ${pick}.`,
});

// Names -------------------------------------------------------------------------------------------------------------------

export const unknownName = (name: string, close: string | undefined): Said => ({
  code: "name",
  title: `Nobody has declared ${name}`,
  message: `\`${name}\` is no condition, pick, judgement or situation of this book or of one it builds on, so this sentence is about nothing.`,
  help: write(close, "Correct the name, or declare it."),
});
export const unknownTitle = (title: string, close: string | undefined): Said => ({
  code: "name",
  title: "No pattern has this title",
  message: `There is no pattern “${title}” here. Titles must agree to the letter.`,
  help: close === undefined ? "Copy the title of the pattern that is meant." : `Did you mean “${close}”?`,
});
export const unknownValue = (
  subject: string,
  noun: "values" | "options",
  values: string,
  parts: readonly string[],
  name: string,
  close: string | undefined,
  owner: string | undefined,
): Said => ({
  code: "name",
  title: `${subject} cannot be ${name}`,
  message: `The ${noun} of ${subject} are ${values}${parts.length > 0 ? `, and it has names for parts of them: ${listed(parts)}` : ""}. \`${name}\` is none of these${owner === undefined ? "" : `; it belongs to ${owner}`}.`,
  help: write(
    close,
    owner === undefined ? `Use a value of ${subject}, or add \`${name}\` where ${subject} is declared.` : `Test ${owner} for it instead.`,
  ),
});
export const valueAlone = (name: string, owner: string, whole: string): Said => ({
  code: "kind",
  title: `${name} alone is no test`,
  message: `\`${name}\` belongs to ${owner}. Only a situation can stand alone; of a condition or a pick one has to say what it is.`,
  help: `Write \`${whole}\`.`,
});
export const subjectAlone = (name: string, kind: Kind): Said => ({
  code: "kind",
  title: `${name} alone is no test`,
  message: `\`${name}\` is ${article(kind)}, and this does not say what it must be.`,
  help: `Say what is asked of it, as in \`${name} is …\` or \`${name} has …\`.`,
});
export const situationAsSubject = (name: string): Said => ({
  code: "kind",
  title: `${name} is a situation`,
  message: `A situation is a whole test with a name: it holds or it does not, so nothing more can be said of it.`,
  help: `Write just \`${name}\`, or \`not ${name}\`.`,
});
export const situationAsValue = (subject: string, name: string): Said => ({
  code: "kind",
  title: `${name} is a situation, not a value`,
  message: `\`${name}\` is a whole test with a name, so ${subject} cannot be it.`,
  help: `Write just \`${name}\`; after a value it may follow as \`or ${name}\`.`,
});
export const conditionWanted = (name: string, kind: Kind): Said => ({
  code: "kind",
  title: `${name} is no condition`,
  message: `Bands and groups name parts of a condition, and \`${name}\` is ${article(kind)}.`,
  help: "Name a condition here.",
});
export const pickWanted = (name: string): Said => ({
  code: "kind",
  title: `${name} is a condition`,
  message: `\`${name}\` is something to be observed, so nothing can be recommended, ruled out or promised for it.`,
  help: "Name a pick or a judgement here.",
});
export const optionWithoutPick = (option: string, pick: string, alone: boolean): Said => ({
  code: "name",
  title: `${option} is an option of ${pick}`,
  message: `The name of a pick is due here, and \`${option}\` is one of the options of ${pick}.`,
  help: alone ? `Write \`${pick} ${option}\`.` : `Name the pick here: \`${pick}\`.`,
});
export const trustInPick = (name: string): Said => ({
  code: "kind",
  title: `${name} is a pick`,
  message: `\`trust\` says which observation settles a disagreement: it lists conditions and judgements. \`${name}\` is recommended, not observed.`,
  help: "Take it out of the list.",
});

// Twice -------------------------------------------------------------------------------------------------------------------

export const nameTaken = (name: string, kind: Kind, other: Kind): Said => ({
  code: "duplicate",
  title: `The name ${name} is taken`,
  message: `There is ${article(other)} \`${name}\` already. All the books that belong together share their names, so this ${kind} would be mistaken for it.`,
  help: "Give one of the two another name.",
});
export const pickCalledEverything = (kind: Kind): Said => ({
  code: "kind",
  title: `A ${kind} cannot be called everything`,
  message: `\`say nothing on everything\` names every pick, so this ${kind} would be mistaken for all of them.`,
  help: "Give it another name.",
});
export const everythingAndMore: Said = {
  code: "kind",
  title: "Everything stands alone",
  message: "`everything` names every pick already, those that are added later as well.",
  help: "Write `everything` alone, or name the picks without it.",
};
export const valueTaken = (subject: string, name: string): Said => ({
  code: "duplicate",
  title: `${subject} has a ${name} already`,
  message: `\`${subject} is ${name}\` could mean two things: the name stands for a value, a comparing word or another part of ${subject} as well.`,
  help: "Choose another name here.",
});
export const titleTaken = (kind: "pattern" | "caution" | "promise", title: string): Said => ({
  code: "duplicate",
  title: `A second ${kind} with this title`,
  message: `There is ${article(kind)} “${title}” already. A title is a name: with two of them nobody can tell which one is meant.`,
  help:
    kind === "pattern"
      ? "Change one of the titles; to replace a pattern of a book that this one builds on, `leave out` the old one."
      : "Change one of the titles.",
});
export const listedTwice = (what: string): Said => ({
  code: "duplicate",
  title: `${what} is listed twice`,
  message: `\`${what}\` stands in this list already; the second time adds nothing.`,
  help: "Take one of the two out, or write the one that was meant.",
});
export const optionTaken = (pick: string, option: string): Said => ({
  code: "duplicate",
  title: `${pick} has ${option} already`,
  message: `The same option stands among those of ${pick} already, perhaps in another unit or another way of writing the number.`,
  help: "Take one of the two out.",
});
export const secondBands = (condition: string): Said => ({
  code: "duplicate",
  title: `${condition} has bands already`,
  message: `Bands divide all of ${condition} among them, so that none overlap and nothing is left over. A second set of bands would overlap the first.`,
  help: "Make one list of both, or name the stretch with a `situation`.",
});
export const situationLikeValue = (name: string, subject: string): Said => ({
  code: "duplicate",
  title: "A situation has the name of a value",
  message: `\`${name}\` also is something that ${subject} can be called. In \`${subject} is … or ${name}\` nobody could tell which one is meant.`,
  help: "Give the situation another name.",
});
export const saidTwice = (action: string, pick: string): Said => ({
  code: "duplicate",
  title: `Two \`${action} ${pick}\` in one pattern`,
  message: `One pattern gives one answer for ${pick}. From two it does not follow which comes first.`,
  help:
    action === "move"
      ? "Make one `move` of the two."
      : "Put all in one list: `or` for the same place, `, then` for the next; or make two patterns.",
});
export const leanedTwice = (what: string): Said => ({
  code: "duplicate",
  title: `Two leans on ${what} in one pattern`,
  message: `This pattern already leans on \`${what}\`. One lean with the sum of both says the same.`,
  help: "Make one lean of the two.",
});

// Situations, picks and patterns in a circle --------------------------------------------------------------------------------

export const situationsInCircle = (names: readonly string[]): Said => ({
  code: "circle",
  title: names.length === 2 ? "A situation refers to itself" : "Situations refer to each other in a circle",
  message: `To know whether one of them holds, one would have to know it already: ${names.join(" → ")}.`,
  help: "Write out the test of one of them.",
});
export const situationTooLarge = (name: string): Said => ({
  code: "syntax",
  title: `${name} stands for too much`,
  message: `With every situation in it written out, the test of \`${name}\` is longer or nested deeper than anyone could follow.`,
  help: "Let it refer to fewer situations.",
});
export const picksInCircle = (names: readonly string[]): Said => ({
  code: "circle",
  title: names.length === 2 ? "A pick tests itself" : "Picks test each other in a circle",
  message: `To find one of them, one would have to have found it already: ${names.join(" → ")}. The statements that test round the circle are left out.`,
  help: "Let one of them depend on conditions only, or on a `judgement` that both can test.",
});
export const beatsItself = (title: string): Said => ({
  code: "circle",
  title: "A pattern beats itself",
  message: `“${title}” would silence itself wherever it speaks.`,
  help: "Name the other pattern that is meant, or take the `beats` out.",
});

// What has gone by, and what nobody asks --------------------------------------------------------------------------------------

export const untilGoneBy = (title: string, until: string): Said => ({
  code: "stale",
  title: "This pattern no longer speaks",
  message: `“${title}” spoke until ${until}, and that has gone by. The book answers as if it were not there.`,
  help: "Take it out, or give it a later date if it still holds.",
});
export const checkedLongAgo = (title: string, checked: string, days: number): Said => ({
  code: "stale",
  title: "Not checked for over a year",
  message: `Someone last made sure of “${title}” on ${checked}, ${days} days ago.`,
  help: "Look it up again, and write the new date after `checked`.",
});
export const goodGoneBy = (title: string, to: string): Said => ({
  code: "stale",
  title: "This book is past its date",
  message: `“${title}” was good to ${to}, and that has gone by. It still answers.`,
  help: "Bring out a new edition, or give it a later date.",
});
export const goodBackwards = (from: string, to: string): Said => ({
  code: "range",
  title: "Good from the later day to the earlier",
  message: `${from} comes after ${to}, so there is no day on which the book is good.`,
  help: `Write \`good from ${to} to ${from}\`.`,
});
export const neverAsked = (kind: "condition" | "band" | "group" | "situation", name: string, of: string | undefined): Said => ({
  code: "never-asked",
  title: `Nothing asks about ${name}`,
  message: `No test of any statement speaks of the ${kind} \`${name}\`${of === undefined ? "" : ` of ${of}`}, so it makes no difference to any answer.`,
  help:
    kind === "condition"
      ? "Use it in a pattern, or take it out: it is one question less for the customer."
      : kind === "band"
        ? "Use it, or leave it: a band may be there only to keep its neighbors apart. Without it, one of them would reach further."
        : "Use it, or take it out.",
});
