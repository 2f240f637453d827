/** What is said when a name cannot be changed, or not into the one that was asked for. */
import { listed } from "./words.js";

export const nothingToRename = (): string =>
  "There is no name here that could be changed. Put the cursor on a condition, a level, a band, a pick, an option or a title, where the book declares it or speaks of it.";

/** Over the changes that are asked for first. */
export const inLists = "Stock lists and logs";
export const inListsWhy =
  "Columns and cells that go by the name. Which list belongs to which book is written nowhere: look before you take them.";
export const listsLeft = (paths: readonly string[]): string =>
  `The name stands in ${listed(paths)} too, and was left there. Change it there by hand, if that list belongs to this book.`;
export const listsUnfit = (name: string, paths: readonly string[]): string =>
  `The name stands in ${listed(paths)} too, where ${name} cannot stand in its place as it is. Change it there by hand.`;

export const notAName = (written: string, likely: string | undefined): string =>
  `\`${written}\` is no name. A name is one word in small letters, or several joined by hyphens, like low-light, and none of the words the language itself is made of.${likely === undefined ? "" : ` Write ${likely}.`}`;

export const notAnOption = (written: string): string =>
  `\`${written}\` is no option. An option is a word like round, an amount like 3/8 oz, or anything in quote marks.`;

export const notATitle = (written: string): string =>
  written.trim() === ""
    ? "A title has to say something: it is how other patterns, and people, speak of it."
    : "A title stands between quote marks on one line, so it can hold neither. Single quote marks can stand in it.";

/** `problem`: title and message of the finding that would come of it. */
export const wouldBreak = (name: string, path: string, problem: string): string =>
  `With the name ${name}, ${path} could no longer be read as it is now. ${problem}`;

export const wouldMeanOther = (name: string, path: string): string =>
  `With the name ${name}, some words in ${path} would speak of another thing than they do now. Take a name that is not in use.`;

export const wouldChangePlace = (name: string, pick: string, before: string): string =>
  `The options of ${pick} stand in order of their size, and ${name} would not take the place of ${before} in it. Change the options themselves if that is what you want.`;
