/** Every sentence of tables, answers and explanations: wording only, given as plain text. */
import { listed } from "./words.js";

export const say = {
  undecided: (pick: string): string => `The answers for ${pick} need more steps than the budget allows, so there is no table of them.`,
  nothingPossible: "No combination of conditions is possible in this book, so there is nothing to put in a table.",
  tooManyRows: (most: number, picks: readonly string[]): string => picks.length > 1
    ? `One table for ${listed(picks)} together would have more than ${most} rows. Ask for fewer picks at a time, for example \`--pick ${picks[0]!}\`.`
    : `The table for ${listed(picks)} would have more than ${most} rows. Ask for more with a higher limit, or for the answer at one point instead.`,
};
