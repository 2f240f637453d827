/** What the resolver says of tests, and of statements that do not fit their subject. */
import { article, write, type Kind, type Said } from "./model-said.js";
import { listed } from "./words.js";

// Comparing ---------------------------------------------------------------------------------------------------------------

export const useComparingWords = (subject: string, limit: string, value: string, likely: string, other: string): Said => ({
  code: "kind",
  title: `Say it with the words of ${subject}`,
  message: `\`${subject} ${limit} ${value}\` can be heard two ways: as “${likely}” by its numbers or its order, and as “${other}” by its sound. That is what the comparing words of ${subject} are for.`,
  help: `Write \`${subject} ${likely}\` or \`${subject} ${other}\`, whichever is meant.`,
});
export const scaleNeedsWords = (subject: string, limit: string): Said => ({
  code: "kind",
  title: `${subject} has no comparing words`,
  message: `\`${limit}\` on a scale of words can be heard two ways, so a scale is only compared with words of its own, such as “dirtier” and “clearer” for the water.`,
  help: `Add \`rising is …, falling is …\` where ${subject} is declared, and compare with those.`,
});
export const noComparingWords = (subject: string, word: string, kind: Kind, use: "than" | "or", limits: boolean): Said => ({
  code: "name",
  title: `${subject} has no comparing words`,
  message: `\`${word}\` is meant to compare values of ${subject}, but where this ${kind} is declared it has no \`rising is …, falling is …\`.`,
  help: `${use === "or" && kind !== "condition" ? "List the options that are meant, or add" : limits ? "Write `is above`, `is below`, `is at least` or `is at most`; or add" : "Add"} \`rising is …, falling is …\` where ${subject} is declared.`,
});
export const unknownComparingWord = (subject: string, word: string, rising: string, falling: string, close: string | undefined): Said => ({
  code: "name",
  title: `${subject} is not compared by ${word}`,
  message: `The comparing words of ${subject} are \`${rising}\` for the way up and \`${falling}\` for the way down.`,
  help: write(close, `Write \`${rising}\` or \`${falling}\`.`),
});
export const wordWithoutValue = (subject: string, word: string): Said => ({
  code: "kind",
  title: `${word} than what?`,
  message: `\`${word}\` compares a value of ${subject} with another one, and here the other one is missing.`,
  help: `Write \`${subject} is ${word} than …\`, or \`${subject} is … or ${word}\`.`,
});
export const wordsWithoutOrder = (subject: string, kind: Kind, isSet: boolean): Said => ({
  code: "kind",
  title: `${subject} has no order to compare by`,
  message: isSet
    ? `${subject} is a set: several of its members may be there at once, so none is more than another.`
    : `The values of this ${kind} stand in no order, so there is no rising and no falling.`,
  help: isSet ? "Take the comparing words out." : "Write `in order` before the list, or take the comparing words out.",
});
export const sameWordTwice = (subject: string, word: string): Said => ({
  code: "duplicate",
  title: "One word for both ways",
  message: `If rising and falling are both \`${word}\`, then \`${subject} is ${word} than …\` says nothing.`,
  help: "Give one of the two another word.",
});
export const wordIsValue = (subject: string, word: string): Said => ({
  code: "duplicate",
  title: `${word} is a value and a comparing word`,
  message: `\`${subject} is … or ${word}\` could mean the value, or all on that side.`,
  help: "Choose another comparing word.",
});
export const noOrder = (subject: string, values: string, kind: Kind): Said => ({
  code: "kind",
  title: `${subject} has no order`,
  message: `${values} stand side by side, none above another, so nothing lies between two of them or beyond one.`,
  help:
    kind === "condition"
      ? `List the values that are meant, or write \`in order\` where ${subject} is declared.`
      : `List the options that are meant, or write \`in order\` where ${subject} is declared.`,
});
export const groupCompared = (subject: string, group: string, members: readonly string[]): Said => ({
  code: "kind",
  title: "A group cannot be compared",
  message: `\`${group}\` stands for ${listed(members)}, which need not lie side by side, so “beyond ${group}” has no meaning.`,
  help: `Compare with one value of ${subject}.`,
});
export const comparedRoundTheYear = (subject: string, value: string): Said => ({
  code: "kind",
  title: `${value} goes round`,
  message: `\`${value}\` runs over the turn from the last value of ${subject} to the first, so nothing is before it or after it.`,
  help: "Write `from … to …` with the first and the last that are meant.",
});
export const limitRoundTheYear = (subject: string, limit: string, value: string, fixed: string | undefined): Said => ({
  code: "kind",
  title: `${subject} goes round`,
  message: `After the last value of ${subject} comes the first again, so \`${limit} ${value}\` does not say where to stop.`,
  help: fixed === undefined ? "Write `from … to …`." : `Write \`${subject} ${fixed}\`, or with another end.`,
});
export const backwards = (subject: string, from: string, to: string): Said => ({
  code: "range",
  title: "From the higher to the lower",
  message: `In the order of ${subject}, ${from} comes after ${to}, so nothing lies from one to the other.`,
  help: `Write \`from ${to} to ${from}\`.`,
});

// Kinds of tests and values -------------------------------------------------------------------------------------------------

export const setTestOnOther = (subject: string, values: string): Said => ({
  code: "kind",
  title: `${subject} is no set`,
  message: `${subject} has one value at a time (${values}). \`has\`, \`only\` and \`is empty\` ask which of several things are there at once.`,
  help: `Write \`${subject} is …\`.`,
});
export const otherTestOnSet = (subject: string, members: string): Said => ({
  code: "kind",
  title: `${subject} is a set`,
  message: `Several of ${members} may be there at once, so ${subject} is none of them alone.`,
  help: `Write \`${subject} has …\`, \`${subject} only …\`, \`${subject} is empty\` or \`${subject} is not empty\`.`,
});
export const noneOnSet = (subject: string, words: string): Said => ({
  code: "kind",
  title: `${subject} is a set`,
  message: `Several things may be there at once, and none of them is called none. That nothing is there has words of its own.`,
  help: `Write \`${subject} ${words}\`.`,
});
export const signInWords = (subject: string, sign: string, words: string): Said => ({
  code: "syntax",
  title: `\`${sign}\` is said in words`,
  message: `A book is read aloud, so it has words where a sum has signs, and ${subject} is compared with words of its own.`,
  help: `Write \`${subject} ${words}\`.`,
});
export const otherKindOfValue = (subject: string, values: string, value: string): Said => ({
  code: "kind",
  title: `${value} is no value of ${subject}`,
  message: `The values of ${subject} are ${values}; \`${value}\` is another kind of thing.`,
  help: `Write a value of ${subject}.`,
});
export const dateForDay = (date: string, day: string | undefined): Said => ({
  code: "kind",
  title: "A day without its year is wanted",
  message: `\`${date}\` happens once; a condition on the days of the year holds in every year.`,
  help: day === undefined ? "Write a day like `apr 15`." : `Write \`${day}\`.`,
});
export const impossibleTestsPick = (pick: string): Said => ({
  code: "kind",
  title: "What is impossible cannot depend on a pick",
  message: `\`impossible\` says which conditions never meet at the water. ${pick} is what the book recommends, so it would change what it rests on.`,
  help: "Test conditions only; to rule out a recommendation, use `never` in a pattern.",
});
export const bandsOnWords = (condition: string): Said => ({
  code: "kind",
  title: `${condition} has no numbers to divide`,
  message: `Bands are stretches of a measure, of the days or of the times. The values of ${condition} are words already.`,
  help: `Write \`group ${condition}: … is …\` to name several of them together.`,
});
export const groupOfNumbers = (condition: string): Said => ({
  code: "kind",
  title: `${condition} has no levels to group`,
  message: `A group names several levels of a scale or members of a set. ${condition} runs through numbers.`,
  help: `Write \`band ${condition}: …\` to name a stretch of it.`,
});
export const bandFromOnMeasure = (condition: string, band: string): Said => ({
  code: "kind",
  title: "The bands of a measure end at a limit",
  message: `${condition} has a lowest value, so its bands stand in rising order, each with the limit that it stays below; \`from\` is for days and times, which go round.`,
  help: `Write \`${band} below …\`; the last band stands without a limit.`,
});
export const bandWithoutLimit = (condition: string, band: string): Said => ({
  code: "kind",
  title: `${band} has no limit`,
  message: `Only the last band of ${condition} stands without a limit and takes all the rest. Nothing says where ${band} ends.`,
  help: `Write \`${band} below …\`, or move it to the end of the list.`,
});
export const lastBandLimited = (condition: string, band: string, limit: string): Said => ({
  code: "kind",
  title: "The last band takes the rest",
  message: `With \`below ${limit}\`, ${condition} from ${limit} up would be in no band.`,
  help: `Write just \`${band}\`, or add a band after it.`,
});
export const bandWithoutStart = (condition: string, band: string): Said => ({
  code: "kind",
  title: `${band} has no start`,
  message: `${condition} goes round, so each of its bands runs from its start to the start of the next.`,
  help: `Write \`${band} from …\`.`,
});
export const filledFromOther = (condition: string, source: string): Said => {
  const wanted: Readonly<Record<string, string>> = {
    date: "`days of the year`",
    clock: "`times of the day`",
    sun: "a measure in `deg`, for the height of the sun",
    moon: "a measure in `%` for the lit part of the moon, one in `deg` for its height, or a scale of its shapes",
  };
  return {
    code: "kind",
    title: `The ${source} cannot fill ${condition}`,
    message: `A condition that is filled from the ${source} must be ${wanted[source] ?? "of another kind"}.`,
    help: `Change what ${condition} is, or take \`filled from the ${source}\` out and ask for it.`,
  };
};
export const copyOfPick = (name: string, kind: Kind): Said => ({
  code: "kind",
  title: "Only a condition can be copied",
  message: `\`same as\` starts a judgement from something observed, and \`${name}\` is ${article(kind)}.`,
  help: "Name a scale, or a measure that has bands.",
});
export const copyOfSet = (name: string): Said => ({
  code: "kind",
  title: "A set cannot be copied",
  message: `\`same as\` copies a scale level by level, or a measure band by band. ${name} is a set, and has several members at once.`,
  help: "Name a scale, or a measure that has bands.",
});
export const copyWithoutBands = (name: string): Said => ({
  code: "kind",
  title: `${name} has no bands to copy`,
  message: `\`same as\` copies a measure band by band, and nothing divides ${name} into bands.`,
  help: `Add \`band ${name}: …\`.`,
});
export const moveWithoutOrder = (pick: string): Said => ({
  code: "kind",
  title: `${pick} has no order to move along`,
  message: `\`move\` shifts an answer to the next option up or down, and the options of ${pick} stand in no order.`,
  help: `Write \`in order\` where ${pick} is declared, or use \`lean to\`.`,
});
export const notAnOption = (value: string): Said => ({
  code: "kind",
  title: `${value} cannot be an option`,
  message: "Options are words, numbers, quantities or quoted strings.",
  help: `Write it in quotes: \`"${value}"\`.`,
});
