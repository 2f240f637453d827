/** Every sentence of the language server that is no finding. */
export const serverWords = {
  name: "Waterlore",
  checking: (path: string): string => `Checking ${path}`,
  checkingFolder: "Checking the folder",
  books: (done: number, of: number): string => `${done} of ${of} books`,
  /** The end of a sentence about a file. */
  notYet: "it has not been looked at yet",
  /** In place of something that is still being worked out. */
  working: "…",
  tooMuch: "too much to work out",
  notOpen: "This book is not open in the editor. Open it, and ask again.",
  changed: "The book has changed while this was worked out. Ask again.",
  noTable: "There is no table yet: the book does not pick anything.",
  /** Where a day was set that answers for the date. */
  daySetting: "the settings",
  settings: (problem: string): string => `The settings for these books were not used. ${problem}`,
  fault: (what: string, problem: string): string => `Waterlore could not do this (${what}): ${problem}`,
};
