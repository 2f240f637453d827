/** Every sentence that the command line itself can say: help, notes, and why a command could not run. */
import type { Severity } from "../diagnostics.js";
import { listed } from "./words.js";

const capital = (text: string): string => text.replace(/^./, (first) => first.toUpperCase());
const counted = (count: number, one: string, many = `${one}s`): string => `${count === 0 ? "no" : count} ${count === 1 ? one : many}`;

/** Why a file cannot be had, as the end of a sentence. */
export const fileProblems = {
  folder: "it is a folder",
  noFile: "it is neither a file nor a folder",
  noText: "it is not a text file",
  otherEncoding: "it is not saved as UTF-8, the usual form for text; save it again in that form",
  noBooks: "there is no .lore file in that folder",
  noMatch: "no file matches",
  tooLarge: "it is too large",
  changed: "somebody else has changed it in the meantime",
  noFolder: "there is no such folder to write it in",
  notThen: "it was not there in that revision",
  byCode: {
    ENOENT: "there is no such file",
    ENOTDIR: "part of its path is not a folder",
    EISDIR: "it is a folder",
    EACCES: "you have no permission",
    EPERM: "you have no permission",
    EROFS: "it is on a disk that cannot be written",
    EEXIST: "there is already a file of that name",
    ELOOP: "its links lead round in a circle",
    ENAMETOOLONG: "its name is too long",
    ENOSPC: "the disk is full",
    EDQUOT: "there is no room left for you on that disk",
    EFBIG: "it would become too large",
    EMFILE: "too many files are open",
    EAGAIN: "nothing can be read from it now",
  } as Readonly<Record<string, string>>,
  other: (code: string): string => (code === "" ? "it could not be opened" : `it could not be opened (${code})`),
};

/** Why a command could not run: whole sentences. */
export const commandRefusals = {
  cannotRead: (path: string, problem: string): string => `Cannot read ${path}: ${problem}.`,
  cannotWrite: (path: string, problem: string): string => `Cannot write ${path}: ${problem}.`,
  wrongDate: (text: string): string => `“${text}” is not a day. Write it as year, month and day: 2027-04-15.`,
  wrongSteps: (text: string): string => `“${text}” is not a number of steps. Write a whole number above 0, such as 1000000.`,
  wrongPick: (name: string, picks: readonly string[], close?: string): string =>
    picks.length === 0
      ? "The book recommends nothing, so it has no picks."
      : `The book has no pick “${name}”.${close === undefined ? "" : ` Did you mean ${close}?`} Its picks are ${listed(picks)}.`,
  noPicks: "The book recommends nothing, so there is no table of it.",
  noValue: (word: string): string => `“${word}” says no value. Write it as NAME=VALUE, such as clarity=muddy.`,
  noHeader: (path: string): string => `${path} is empty. Its first row holds names of conditions.`,
  noCsv: (path: string, why: string): string => `${path} cannot be read as rows of cells parted by commas, semicolons or tabs: ${why}.`,
  wrongColumn: (path: string, name: string, known: readonly string[], why: "pick" | "answer" | "twice" | "near", close?: string): string =>
    [
      name === ""
        ? `In ${path} a column has no name in the first row.`
        : {
            pick: `${path} has a column “${name}”, which is something the book recommends, not something to tell it.`,
            answer: `${path} has a column “${name}”, which is the name of a column of the answers.`,
            twice: `${path} has two columns “${name}”.`,
            near: `${path} has a column “${name}”. There is no condition ${name} in the book. Did you mean ${close}?`,
          }[why],
      `The book's conditions are ${listed(known)}. Take the column out, or name it after the condition that it holds.`,
    ].join(" "),
  tooManyCells: (row: number, cells: number, names: number): string =>
    `Row ${row} has ${cells} cells, but the first row names ${counted(names, "column")}.`,
  noLore: (path: string): string => `The name of a book ends in .lore: waterlore new ${path}.lore`,
  noHint: (word: string, words: readonly string[], close?: string): string =>
    `There is no page about “${word}”.${close === undefined ? "" : ` Did you mean ${close}?`} There are pages about ${listed(words)}.`,
  fixStdin: "--fix changes files, so it cannot mend a book from standard input. Give the book as a file.",
  daysOfOneBook: "--days goes with one book at a time: the columns of a log are the conditions of one book.",
  stdinTwice: "The book and the points cannot both come from standard input. Give one of them as a file.",
  valuesAndCsv: "Give the values either as NAME=VALUE or in a file with --csv, not both.",
  csvNeedsCsv: "--format csv goes with --csv: it repeats the rows of that file with an answer beside each.",
  fault: (message: string): string => `Waterlore stopped at a fault of its own, not of your book: ${message}`,
  commander: (message: string): string => capital(message.replace(/^error: /, "")),
};

/** Notes beside what was asked for. */
export const commandNotes = {
  bookHasErrors: (path: string, errors: number): string =>
    `Part of ${path} could not be read (${counted(errors, "error")}), so this is made from the rest of it. To see why: waterlore check ${path}`,
  stdin: "standard input",
  stdout: "standard output",
  cell: (row: number, column: string, problem: string): string => `Row ${row}, column ${column}: ${problem}`,
  row: (row: number, problem: string): string => `Row ${row}: ${problem}`,
  columnsBeside: (path: string, names: readonly string[]): string =>
    `${path}: ${listed(names.map((name) => `“${name}”`))} ${names.length === 1 ? "names no condition. It is" : "name no condition. They are"} passed on as ${names.length === 1 ? "it is" : "they are"}, beside the answers.`,
  rowHeading: (row: number): string => `Row ${row}`,
  rowsRefused: (rows: readonly number[]): string =>
    `${rows.length === 1 ? "Row" : "Rows"} ${listed(rows.map(String))} could not be answered. The reason stands in place of ${rows.length === 1 ? "the answer" : "each answer"}.`,
  created: (path: string): string => `Wrote ${path}. Next: waterlore check ${path}`,
  formatted: (path: string): string => `Formatted ${path}`,
  wouldFormat: (path: string): string => `${path}\n`,
  formatSummary: (changed: number, all: number): string =>
    capital(`${counted(all, "book")} looked at, ${changed === 0 ? "none" : changed} changed.`),
  formatCheckSummary: (changed: number, all: number): string =>
    capital(
      `${counted(all, "book")} looked at, ${changed === 0 ? "all in their usual shape" : `${changed} not in ${changed === 1 ? "its" : "their"} usual shape`}.`,
    ),
  fixed: (path: string, line: number, title: string): string => `${path}:${line}: ${title}`,
  fixedSummary: (count: number): string => `Made ${counted(count, "change")}. What is left:`,
};

/** The words around a finding in a report. */
export const terminalWords = {
  headline: (severity: Severity): string => severity,
  next: "Next:",
  fix: "Fix:",
  also: "See also:",
  hint: (code: string): string => `What a word in brackets means: waterlore hint ${code}`,
  summary: (books: number, counts: Readonly<Record<Severity, number>>, undecided: number): string =>
    [
      capital(
        `${counted(books, "book")} checked: ${listed([counted(counts.error, "error"), counted(counts.warning, "warning"), counted(counts.note, "note")])}.`,
      ),
      ...(undecided > 0 ? [`${undecided === 1 ? "1 thing was" : `${undecided} things were`} not decided.`] : []),
    ].join(" "),
  coverage: (book: string | undefined): string =>
    `How often each pick is what, among all conditions${book === undefined ? "" : `, in ${book}`}:`,
  coverageByDays: (days: number, path: string): string =>
    `How often each pick is what, on the ${days === 1 ? "1 day" : `${days.toLocaleString("en-US")} days`} of ${path}:`,
  judgement: (name: string): string => `${name} (judgement)`,
};

/** The help of each command. */
export const commandHelp = {
  program: {
    about:
      "Write down a tackle shop's rules of thumb one at a time; see exactly where they disagree or say nothing; answer at the counter, and print one table.",
    version: "print the version",
    help: "print this help",
    afterError: "To see how it is used: waterlore COMMAND --help",
    after: `
A book is a text file that ends in .lore. Start with one that checks clean:

  waterlore new mine.lore
  waterlore check mine.lore
  waterlore table mine.lore

Exit code: 0 all is well, 1 something was found, 2 the command could not run.`,
  },
  options: {
    on: "look at the books as of that day, such as 2027-04-15 (default: today)",
    onAnswer:
      "the day to answer for, such as 2027-04-15: fills conditions that are filled from the date, and the book is looked at as of that day (default: the book as of today, the date unknown)",
    steps: "how long to try before saying what is not decided",
    stdio: "talk to the editor over standard input and output",
    stdinPath: "where a book read from standard input would stand, so that what it builds on is found",
    severity: "the lowest kind of finding that makes the exit code 1 (default: error)",
    coverage: "say how often each pick is decided, even for several books",
    fix: "first mend what can be mended in only one way: slips of spelling, names and units",
    tableFormat: "text, json, markdown, csv, or sql: a view over a table of logged trips",
    pick: "only this pick; may be given several times",
    compareFormat: "text, markdown (for a review comment) or json",
    answerFormat: "text, json, or, with --csv, csv",
    csv: "answer every row of a file of points; - is standard input",
    checkDays: "weigh how often each pick is what by a log of days; for a single book",
    days: "weigh by a log of days: a file of rows, one observed day in each",
    stockFormat: "text, markdown, csv (a line for each item) or json",
    formatCheck: "change nothing; list the books that are not in their usual shape",
  },
  check: {
    about: "find what is wrong in books",
    paths: "books, folders of books, patterns such as 'rules/*.lore', or - for standard input (default: books in waterlore.json)",
    after: `
Each book is checked together with all that it builds on. What is found in a
book that several others build on is reported once. For a single book, the
report ends in how often each pick is decided.

Exit code: 0 nothing at or above --severity and no more warnings than
--warnings, 1 findings, 2 something could not be read.

  waterlore check rules
  waterlore check mine.lore --severity warning
  waterlore check rules --format json > findings.json`,
  },
  table: {
    about: "print the one table that says the same as all the rules",
    book: "a book, or - for standard input",
    after: `
The rows do not overlap and leave nothing out. A condition that a row does not
name does not matter there. Rows with a gap or a conflict say so.

As text and Markdown each pick has a chart. Where a chart is far shorter for it,
it has columns for other picks: look those up in their own charts first. The
other forms name conditions alone.

Exit code: 0, or 1 if part of the book could not be read and the table is made
from the rest. 2 if there is no table.

  waterlore table mine.lore
  waterlore table mine.lore --pick blade --format markdown
  waterlore table mine.lore --format sql > answers.sql`,
  },
  answer: {
    about: "say what to tie on, for the conditions that are known",
    values: "what is known, as NAME=VALUE",
    after: `
Write values as in the book. What is not named is unknown, and is never taken
for some usual value: the answer is then what is safe in every case, what else
is possible, and the one question that would settle most.

  waterlore answer mine.lore clarity=muddy cover=grass,docks
  waterlore answer mine.lore cover=none water-temp="61 °F" day="apr 15"
  waterlore answer mine.lore --csv trips.csv --format csv > answers.csv

A value may also be the name of a band or of a group of levels, or several
names, of which one holds: water-temp=cold sky=bright,hazy. A day given with
--on also answers every condition that is filled from the date, unless it is
given itself; without --on it is unknown like any other.

In the file the first row holds names or labels of conditions, and each other
row is one point. Cells are parted by commas, semicolons or tabs. An empty cell
is unknown, the members of a set are joined by ; and the empty set is none. With
--format csv the rows are answered as they come in, so a file may be of any
length.

Exit code: 0, or 1 if part of the book could not be read and the answer is made
from the rest. 2 if a value is not one of the condition's, or if what is given
never occurs together.`,
  },
  compare: {
    about: "say exactly where the recommendation of two books is not the same",
    old: "the book or folder as it was, or REVISION:PATH for what git has",
    new: "the book or folder as it is now, or REVISION:PATH",
    after: `
Of two folders, books of one path are compared with each other, each with all
that it builds on. Words, comments and order do not count; reasons, cautions and
promises that changed are listed all the same.

  waterlore compare spring.lore summer.lore
  waterlore compare HEAD:rules rules
  waterlore compare v1:rules/mine.lore rules/mine.lore --format markdown

Exit code: 0 nothing changes, 1 something does or is not decided, 2 it could not
be compared.`,
  },
  why: {
    about: "say which rules spoke, and which of them were overruled by what",
    after: `
  waterlore why mine.lore clarity=muddy cover=none wind="12 mph"

Where something that matters is not given, it asks for it and explains what can
be explained without. Values, --on and exit codes are those of answer.`,
  },
  stock: {
    about: "say what a shop can sell of what the book recommends, and what it needs",
    list: "the stock list: a CSV file, or - for standard input",
    after: `
The list has one item in each row, and the columns item, in stock (a number, or
yes or no), if you like price and shelf, and some named after picks of the book.
In these stand the options that the item is, several joined by ; an empty cell
means that it does for all of them. A dash means that it goes with all of them but
nobody buys it for that, such as a loose blade for the number of blades.

It says what nobody can buy here, what must be in stock however seldom it is
asked for, what no condition ever recommends, and what each answer sells as.

A log of days, given with --days, has a column for each condition that was
observed, named after it, and perhaps day and trips. An empty cell is not known.
Everything is then weighed by how often it really occurs, and the demand for
each item is told by month.

  waterlore stock mine.lore stock.csv
  waterlore stock mine.lore stock.csv --days log.csv --format csv > demand.csv

Exit code: 0, or 1 if part of the book could not be read. 2 if a row cannot be
taken; the others still count.`,
  },
  format: {
    about: "put books into their usual shape; nothing of what they mean changes",
    paths: "books, folders of books, patterns, or - to read standard input and write standard output",
    after: `
Comments stay with what they stand beside. A sentence that cannot be read is
left as it is.

Exit code: 0, or with --check 1 if a book is not in its usual shape. 2 if a book
could not be read or written; the others are still done.`,
  },
  new: {
    about: "write a small book to start from, one that checks clean",
    file: "the name of the new book; a file that is there already is left alone",
  },
  hint: {
    about: "print the page about a kind of finding: what it means and how to settle it",
    code: "the word in brackets beside a finding; without one, all of them are listed",
  },
  languageServer: {
    about: "help an editor while a book is written: findings, completion, quick fixes",
  },
};

/** The book that `new` writes. */
export const starter = `book "Jigs for Alder Pond"
  shop "Your shop"

-- What a customer can tell you.
condition clarity "Water clarity": in order clear, stained, muddy
  rising is dirtier, falling is clearer
  ask "How far down can you see a white lure?"
condition cover "Cover": any of grass, docks
  ask "What will you be casting into?"

-- What you recommend.
pick color "Jig color": natural, bright, dark

-- The rules of thumb, each as you would say it across the counter.
pattern "Mud wants a dark bait"
  go with color dark, then bright
  when clarity is muddy
  because "A dark shape is the easiest to make out."
pattern "Clear water wants a natural bait"
  go with color natural
  when clarity is clear

-- Under a dock in clear water both would speak. This says who wins.
pattern "A dock throws shade"
  go with color dark
  when cover has docks
  beats "Clear water wants a natural bait"

-- What to say when nothing else speaks.
fall back on color bright
`;
