/** What the resolver says of numbers, units, days and ranges. */
import { article, write, type Said } from "./model-said.js";
import { listed } from "./words.js";

const either = (texts: readonly string[]): string =>
  listed(
    texts.map((text) => `\`${text}\``),
    "or",
  );

const plainKind = (kind: string): string => ({ mass: "weight", percent: "percentage", duration: "time span" })[kind] ?? kind;

// Numbers and units ---------------------------------------------------------------------------------------------------------

export const missingUnit = (subject: string, unit: string, whole: string): Said => ({
  code: "unit",
  title: "A unit is missing",
  message: `${subject} is given in ${unit} or another unit of the same kind; a number alone could be read in any of them.`,
  help: `Write \`${whole}\`, if that is meant.`,
});
export const unitOnPlainNumber = (subject: string, quantity: string): Said => ({
  code: "unit",
  title: `${subject} is a plain number`,
  message: `\`${quantity}\` has a unit, and the values of ${subject} have none.`,
  help: `Leave the unit out, or declare ${subject} with one.`,
});
export const unknownUnit = (name: string, close: string | undefined, known: readonly string[]): Said => ({
  code: "unit",
  title: `${name} is no unit`,
  message: `The units are ${listed(known)}.`,
  help: write(close, "Write one of these."),
});
export const degreesOfWhat = (written: string, units: readonly string[], own: string): Said => ({
  code: "unit",
  title: "Degrees of which scale?",
  message: `\`${written}\` alone does not say whether ${either(units)} is meant.`,
  help: `Write \`${own}\`, if that is meant.`,
});
export const monthAlone = (subject: string, month: string, { first, last }: { readonly first: string; readonly last: string }): Said => ({
  code: "kind",
  title: "A day needs its number",
  message: `\`${month}\` is a whole month, and ${subject} is tested day by day.`,
  help: `Write days such as \`${first}\`; the whole month is \`${subject} from ${first} to ${last}\`. A \`band\` can give a part of the year a name.`,
});
export const dayWithSlash = (day: string, readings: readonly string[]): Said => ({
  code: "kind",
  title: "A day is written with its month in letters",
  message: `\`${day}\` is a number here, a fraction${readings.length > 1 ? ", and as a day it could be read two ways" : ""}.`,
  help: `Write ${either(readings)}.`,
});
export const otherKindOfUnit = (subject: string, kind: string, wanted: readonly string[], unit: string, unitKind: string): Said => ({
  code: "unit",
  title: `${unit} does not measure ${subject}`,
  message: `${subject} is ${article(plainKind(kind))}, and ${unit} is a unit of ${plainKind(unitKind)}: one cannot be turned into the other.`,
  help: `Write it in ${either(wanted)}.`,
});
export const mixedOptions = (pick: string, option: string, unit: string | undefined): Said => ({
  code: "unit",
  title: "Options in different kinds of units",
  message: `\`${option}\` cannot be set in order of size with the other options of ${pick}, which are ${unit === undefined ? "plain numbers" : `in ${unit}`}.`,
  help: unit === undefined ? "Write all of them without a unit." : `Write all of them in ${unit} or another unit of the same kind.`,
});
export const noSuchNumber = (number: string): Said => ({
  code: "range",
  title: `${number} is no number`,
  message: "A number is a decimal like `4.5` or a fraction like `3/8` or `1 1/2`, and nothing can be divided by zero.",
  help: "Correct the number.",
});
export const noSuchDay = (day: string, month: { readonly name: string; readonly length: number } | undefined): Said => ({
  code: "range",
  title: "There is no such day",
  message:
    month === undefined
      ? `\`${day}\` is no day of the year.`
      : `\`${day}\` does not occur: ${month.name} has ${month.length} days at most.`,
  help: "Correct the day.",
});
export const noSuchDate = (date: string): Said => ({
  code: "range",
  title: "There is no such date",
  message: `The calendar has no ${date}. A date is written year, month, day: \`2027-04-15\`.`,
  help: "Correct the date.",
});
export const noSuchTime = (time: string): Said => ({
  code: "range",
  title: "There is no such time",
  message: `\`${time}\` is no time of the day: they run from 00:00 to 23:59.`,
  help: "Correct the time.",
});
export const outsideRange = (subject: string, range: string, value: string): Said => ({
  code: "range",
  title: `${value} is out of range`,
  message: `${subject} runs over ${range}. ${value} lies outside of that, so what is said here could never be so.`,
  help: `Correct the value, or widen the range of ${subject}.`,
});
export const betweenSteps = (subject: string, value: string, near: readonly string[]): Said => ({
  code: "range",
  title: `${subject} is never ${value}`,
  message: `${value} lies between two values that ${subject} can take${near.length > 0 ? `: ${listed(near)}` : ""}. So this test could never hold.`,
  help: near.length > 0 ? `Write ${either(near)}.` : "Write a value that it can take.",
});
export const noSuchOption = (pick: string, options: string, value: string, near: readonly string[]): Said => ({
  code: "name",
  title: `${pick} has no option ${value}`,
  message: `The options of ${pick} are ${options}.`,
  help: near.length > 0 ? `Write ${either(near)}, or add the option.` : `Write one of these, or add \`${value}\` to them.`,
});
export const emptyRange = (subject: string, low: string, high: string): Said => ({
  code: "range",
  title: "A range must rise",
  message: `${subject} would run from ${low} to ${high}, and nothing lies in between.`,
  help: "Write the lower end first.",
});
export const stepNotPositive = (step: string): Said => ({
  code: "range",
  title: "A step must be more than nothing",
  message: `In steps of ${step} a reading would never get anywhere.`,
  help: "Write a step above zero, or leave `to the nearest` out.",
});
export const highNoStep = (subject: string, high: string, low: string, step: string, ends: readonly string[]): Said => ({
  code: "range",
  title: `The steps of ${subject} miss its upper end`,
  message: `Counted from ${low} in steps of ${step}, ${high} is never reached: the nearest ${ends.length === 1 ? "step is" : "steps are"} ${listed(ends)}.`,
  help: `End the range at ${either(ends)}.`,
});
export const tooManySteps = (subject: string, count: string): Said => ({
  code: "range",
  title: `${subject} has too many steps`,
  message: `That makes ${count} values, more than anyone can read off.`,
  help: "Use a larger step, or leave `to the nearest` out: then every value counts.",
});
export const bandOutside = (condition: string, range: string, band: string, limit: string): Said => ({
  code: "range",
  title: `The limit of ${band} is out of range`,
  message: `${condition} runs over ${range}. With a limit at ${limit}, ${band} or the bands after it would be empty.`,
  help: "Correct the limit.",
});
export const bandNotRising = (condition: string, band: string, before: string, limit: string): Said => ({
  code: "range",
  title: "The bands must rise",
  message: `${band} begins where ${before} ends, and up to ${limit} there is no value of ${condition} left for it.`,
  help: "Put the bands in rising order of their limits.",
});
export const bandsOutOfRound = (condition: string, band: string, before: string): Said => ({
  code: "range",
  title: "The bands must follow each other round",
  message: `Going round ${condition} from the first band on, ${band} does not start after ${before}.`,
  help: "Put the bands in the order in which they come round, each with a start of its own.",
});
export const notBySize = (pick: string, rising: string): Said => ({
  code: "range",
  title: "Quantities are ordered by size",
  message: `\`in order\` says that the options of ${pick} stand in order, and by size that is ${rising}. So \`up\` would go the other way than the list.`,
  help: `Write ${rising}.`,
});
export const memberNone = (condition: string): Said => ({
  code: "name",
  title: "A member cannot be called none",
  message: `\`none\` is how a customer's answer says that ${condition} is empty.`,
  help: "Give the member another name.",
});
export const leanNotPositive = (by: string): Said => ({
  code: "range",
  title: "A lean must be more than nothing",
  message: `A lean by ${by} does not pull towards anything.`,
  help: "Write a number above zero; to push away, write `lean off`.",
});
export const moveNotWhole = (by: string): Said => ({
  code: "range",
  title: "A move goes by whole steps",
  message: `An answer can be moved by one option or by several, not by ${by}.`,
  help: "Write a whole number above zero; `down` goes the other way.",
});
