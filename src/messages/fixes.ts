/** The titles of quick fixes and refactorings, and the few words they write into books. Titles begin with what one does. */
import { listed } from "./words.js";

export const fixTitles = {
  // Settling what patterns do not agree on.
  beatAll: (winner: string, losers: readonly string[]): string => `Let “${winner}” beat ${losers.map((loser) => `“${loser}”`).join(", ")}`,
  narrow: (title: string, other: string): string => `Keep “${title}” out of where “${other}” speaks`,
  narrowBy: (title: string, where: string): string => `Keep “${title}” out of where ${where}`,
  trust: (condition: string, pick: string, winner: string, isFirst: boolean): string =>
    `Trust ${condition}${isFirst ? "" : " too"} for ${pick}, so that “${winner}” wins`,
  breakCircle: (title: string, other: string): string => `Let “${title}” no longer beat “${other}”`,
  first: (option: string, titles: readonly string[]): string =>
    `Put ${option} first in ${titles.map((title) => `“${title}”`).join(" and ")}`,
  leanMore: (title: string, option: string, by: string): string => `Let “${title}” lean to ${option} by ${by}`,
  either: (options: readonly string[]): string => `Say that ${options.join(" or ")} will do`,
  eitherTitle: (options: readonly string[]): string => `Here ${options.join(" or ")} will do`,

  // Keeping a promise.
  exception: (pick: string, options: readonly string[], where: string): string =>
    `Add a pattern that goes with ${pick} ${options.join(" or ")}${place(where)}`,
  never: (pick: string, options: readonly string[], where: string): string =>
    `Add a pattern that never says ${pick} ${options.join(" or ")}${place(where)}`,
  silence: (pick: string, where: string): string => `Say nothing on ${pick}${place(where)}`,
  allow: (promise: string, options: readonly string[]): string => `Change the promise “${promise}” to allow ${options.join(" and ")}`,
  exempt: (promise: string, where: string): string => `Change the promise “${promise}” to leave out where ${where}`,

  // Filling and closing.
  fill: (pick: string, option: string): string => `Add a pattern that goes with ${pick} ${option} here`,
  fillTitle: (pick: string): string => `Fills the gap in ${pick}`,
  close: (before: string, after: string, title: string): string => `Write \`${after}\` for \`${before}\` in “${title}”`,

  // Taking out.
  takeOut: (what: string): string => `Take ${what} out`,
  takeOptionOut: (option: string, pick: string): string => `Take ${option} out of the options of ${pick}`,
  promised: (title: string): string => `the promise “${title}”`,
  pattern: (title: string): string => `“${title}”`,
  part: (text: string): string => `\`${text}\``,
  bandsOf: (condition: string): string => `the bands of ${condition}`,

  // Declaring, and what was forgotten.
  declareSituation: (name: string, meaning: string): string => `Declare ${name}, a situation: for now, ${meaning}`,
  declareScale: (name: string, levels: readonly string[]): string => `Declare ${name}, a condition that is ${listed(levels, "or")}`,
  declareSet: (name: string, members: readonly string[]): string => `Declare ${name}, a condition that has any of ${members.join(", ")}`,
  declareMeasure: (name: string, span: string): string => `Declare ${name}, a condition from ${span}`,
  declarePick: (name: string, options: readonly string[]): string => `Declare ${name}, a pick of ${listed(options, "or")}`,
  oneMore: (name: string, subject: string): string => `Add ${name} to ${subject}, as its last`,
  comma: (words: readonly string[]): string => `Write a comma before ${listed(words)}`,

  buildOn: (path: string): string => `Build on ${path}`,

  // Names and dates.
  retitle: (title: string): string => `Call this one “${title}”`,
  rename: (name: string): string => `Call this one ${name}`,
  checkedOn: (date: string): string => `I have checked it: write checked ${date}`,

  // Saying the same otherwise.
  convert: (text: string): string => `Write ${text}`,
  withParentheses: "Write it with parentheses",
  withComma: "Write it with a comma",
  withoutParentheses: "Take the parentheses out",
  situation: (name: string, times: number): string =>
    times === 2 ? `Name this test ${name}, in both places` : `Name this test ${name}, in all ${times} places`,
  band: (name: string, condition: string): string => `Make it a band of ${condition}, ${name}`,
  useBand: (name: string): string => `Write the band, ${name}`,
  promise: (pick: string, options: readonly string[]): string => `Promise that ${pick} stays ${options.join(" or ")} here`,
  /** Titles stand in straight quotes in a book and can hold none. */
  promiseTitle: (pick: string, title: string): string => `${title}: ${pick}`,
};

function place(where: string): string {
  return where === "always" ? "" : ` where ${where}`;
}

/** Words of a text as one name: `wind is above 10 mph` is `wind-above-10-mph`; beyond a few words they name nothing any more. */
export function formOfName(text: string): string {
  const words =
    text
      .toLowerCase()
      .replace(/(^|[^\p{L}\p{N}])-(?=\d)/gu, "$1minus ")
      .match(/[\p{L}\p{N}]+/gu) ?? [];
  const telling = words.filter((word) => word !== "is" && word !== "has");
  const name = telling.join("-");
  if (name.length > 40) return "these-conditions";
  return /^\p{L}/u.test(name) ? name : `from-${name}`;
}
