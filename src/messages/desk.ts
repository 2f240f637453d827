/** Words of the desk in a browser, and of the program that serves it. */
const plural = (count: number, one: string): string => `${count} ${one}${count === 1 ? "" : "s"}`;

export const deskWords = {
  title: "Waterlore desk",
  noScript: "The desk needs scripts to be switched on. Nothing is sent anywhere but to your own folder.",
  opening: "Opening the folder…",
  unreachable:
    "The program that serves this desk does not answer. Start “waterlore desk” again; what you have written is kept here meanwhile.",
  keepsNothing: "This browser keeps nothing that is not saved: save often.",
  shelf: "Books of this folder",
  middle: "The book in front",
  beside: "Beside the book",
  emptyFolder: "There is no book here yet. Give the first one a title.",
  newTitle: "Title of a new book",
  newBook: "New book",
  chooseBook: "Choose a book on the left, or give a new one a title.",
  noBook: "No book is in front.",
  noPageOfLists: "Customers see no lists, only books.",
  noPage: "What a customer sees could not be worked out just now.",
  noFile: "there is no such file",
  unsaved: "not saved",
  isSaved: "saved",
  twoVersions: "two versions",
  unreadable: "cannot be read",
  list: "a list",
  notChecked: "not checked yet",
  checking: "Being checked…",
  clean: "Nothing to settle",
  errors: (count: number): string => plural(count, "error"),
  warnings: (count: number): string => plural(count, "warning"),
  editorOf: (path: string): string => `Text of ${path}`,
  save: "Save",
  saved: (path: string): string => `${path} is saved.`,
  writing: "Writing: what is wrong in this statement waits until it is written.",
  otherTab: (path: string): string => `${path} is open in another tab, too. Write in one of them only.`,
  gone: (path: string): string => `Somebody has taken ${path} out of the folder. What you see is kept here only.`,
  changedBelow: (path: string): string =>
    `Somebody has changed ${path} in the folder since you began. Both versions are kept until you choose.`,
  keepMine: "Keep mine",
  takeTheirs: "Take the one in the folder",
  keepBoth: "Keep mine as a book of its own",
  panels: { customer: "What a customer sees", settle: "What to settle" },
  gravities: { error: "Error", warning: "Warning", note: "Note" },
  goToLine: (line: number): string => `Line ${line}`,
  whatHelps: "What would help?",
  lookingForFixes: "Trying what would help…",
  noFixes: "Nothing that surely helps could be found. Change the pattern, or ask whoever wrote it.",
  changesIn: (path: string): string => `What it changes in ${path}`,
  doIt: "Do this",
  newName: "New name",
  rename: "Change it everywhere",
  cannotRename: "That cannot be renamed here.",
};

/** Why the desk refuses something: whole sentences. */
export const deskRefusals = {
  host: "This desk answers only to the address that it printed when it was started.",
  origin: "Another page has asked for this, and the desk answers only to its own.",
  key: "This address has been used, or is of an earlier start. Go to the tab in which the desk is open, or start “waterlore desk” again.",
  address: "There is nothing at this address.",
  noVersion: "It was not said which version of the file this was made from.",
  outside: (path: string): string => `${path} is not for the desk: it shows books and lists inside its folder, and follows no links.`,
  missing: (path: string): string => `There is no ${path} in the folder.`,
  gone: (path: string): string => `${path} is in the folder no more.`,
  changed: (path: string): string => `${path} has been changed in the folder meanwhile.`,
  alreadyThere: (path: string): string => `There is a ${path} in the folder already.`,
  cannotRead: (path: string, problem: string): string => `${path} cannot be read: ${problem}.`,
  cannotWrite: (path: string, problem: string): string => `${path} cannot be written: ${problem}.`,
  noFolder: (path: string): string => `There is no folder ${path}. Make it, or name another one.`,
  notBuilt: "The page of the desk is not built. Run “npm run build” in the folder of Waterlore.",
  wrongPort: (text: string): string => `“${text}” is not a port. Write a whole number from 0 to 65535, 0 for any that is free.`,
  noPort: (port: number, problem: string): string => `Port ${port} cannot be used: ${problem}. Leave --port out for one that is free.`,
};

export const deskNotes = {
  open: (address: string, folder: string): string =>
    `The desk of ${folder} is open at\n\n  ${address}\n\nThe address opens once, in one browser of this computer. End the desk with Ctrl-C; books are saved in the folder.`,
};

export const deskHelp = {
  about: "open a folder of books in a browser: write, check, and see what a customer sees",
  folder: "the folder; this one, if not said",
  port: "where on this computer it answers; any that is free, if not said",
  noOpen: "only print the address",
};
