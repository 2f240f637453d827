/** Every sentence about checking in the background: settings, known findings, watching, and reports for other programs. */
import type { Severity } from "../diagnostics.js";
import type { EditionKey } from "../same-finding.js";
import { listed, quoted } from "./words.js";

const counted = (count: number, one: string, many = `${one}s`): string => `${count === 0 ? "no" : count} ${count === 1 ? one : many}`;
const capital = (text: string): string => text.replace(/^./, (first) => first.toUpperCase());

/** The help of the options that `check` has for this. */
export const checkHelp = {
  format: "text for people; json, sarif, junit or github for other programs",
  config: "settings to go by (default: waterlore.json, here or in the nearest folder above)",
  baseline: "a file of known findings, which are not counted",
  writeBaseline: "write all that is found now into that file",
  warnings: "how many warnings may be left before the exit code is 1",
  watch: "stay, and check again whenever a book changes; Ctrl-C ends it",
  cacheDir: "where to keep results of books that have not changed (default: node_modules/.cache/waterlore)",
  noCache: "work everything out anew",
};

/** What each setting takes, as the end of a sentence that starts with its name. The schema says the same, in `src/schema/configuration.json`. */
export const settingsWords = {
  $schema: "is the place of the schema of this file, in quotes, for editors that look it up.",
  books: "is a list of books, folders of books, or patterns, each in quotes, to be checked when the command names none.",
  except: "is a list of books, folders or patterns, each in quotes, to be left out when folders and patterns are looked through.",
  severities: "says for kinds of findings how grave they are: error, warning, note, or off.",
  lowest: "is the lowest kind of finding that makes the exit code 1: error, warning or note.",
  warnings: "is the number of warnings that may be left: a whole number such as 0 or 20.",
  steps: "is how long to try before saying what is not decided: a whole number above 0, such as 1000000.",
  day: "is the day to look at the books as of and to answer for, in quotes: year, month and day, such as 2027-04-15.",
  baseline: "is the file of known findings, its path in quotes.",
};

/** Why a command could not run. */
export const checkRefusals = {
  noPaths: "Say which books to check: waterlore check rules. Or list them under books in waterlore.json.",
  noneLeft: "No book is left to check: all that was found is among `except`.",
  settings: (problems: readonly string[]): string => problems.join("\n"),
  notJson: (file: string, line: number, column: number): string =>
    `${file}:${line}:${column}: This cannot be read as JSON from here on. Look for a missing quote, a comma too few or too many, or a bracket that is not closed.`,
  twice: (file: string, line: number, column: number, name: string): string =>
    `${file}:${line}:${column}: “${name}” is written twice. Keep one of them.`,
  noObject: (file: string): string => `${file}: Settings stand between { and }, such as { "books": ["rules"] }.`,
  noSetting: (at: string, name: string, names: readonly string[], close?: string): string =>
    `${at}: There is no setting “${name}”.${close === undefined ? "" : ` Did you mean ${close}?`} The settings are ${listed(names)}.`,
  noCode: (at: string, name: string, names: readonly string[], close?: string): string =>
    `${at}: There is no kind of finding “${name}”.${close === undefined ? "" : ` Did you mean ${close}?`} The kinds are ${listed(names)}.`,
  notAllowed: (at: string, name: string, value: string, allowed: readonly string[]): string =>
    `${at}: ${name} cannot be ${value}. It can be ${listed(allowed, "or")}.`,
  wrongSetting: (at: string, name: keyof typeof settingsWords): string => `${at}: ${name} ${settingsWords[name]}`,
  missingBaseline: (file: string): string =>
    `There is no ${file} yet. To write down all that is found now as known: waterlore check BOOKS --baseline ${file} --write-baseline`,
  noBaseline: (file: string): string =>
    `${file} is not a file of known findings. Such a file is written by: waterlore check BOOKS --baseline ${file} --write-baseline`,
  whichBaseline: "--write-baseline needs to know where to: --baseline FILE, or baseline in waterlore.json.",
  wrongWarnings: (text: string): string => `“${text}” is not a number of warnings. Write a whole number, such as 0 or 20.`,
  cannotWatch: (problem: string): string => `Some files cannot be watched: ${problem}.`,
  watchStdin: "--watch looks at files, so it cannot watch a book from standard input. Give the book as a file.",
  watchOnce: (option: string): string => `--watch and ${option} do not go together: ${option} is for one run.`,
};

/** Notes beside a report. */
export const checkNotes = {
  tooManyWarnings: (found: number, allowed: number): string =>
    capital(
      `${counted(found, "warning")} found, and ${allowed === 0 ? "none is" : `only ${allowed} ${allowed === 1 ? "is" : "are"}`} allowed.`,
    ),
  settleFirst: (pick: string, waiting: readonly string[], book: string | undefined): string =>
    `${book === undefined ? "Settle" : `In ${book}, settle`} ${pick} first: ${listed(waiting)} ${waiting.length === 1 ? "waits" : "wait"} for it.`,
  known: (count: number): string => (count === 1 ? "1 known finding is not counted." : `${count} known findings are not counted.`),
  gone: (file: string, what: readonly string[]): string =>
    [
      `${what.length === 1 ? "1 entry of" : `${what.length} entries of`} ${file} no longer ${what.length === 1 ? "occurs" : "occur"}. --write-baseline takes ${what.length === 1 ? "it" : "them"} out:`,
      ...what.map((one) => `  ${one}`),
    ].join("\n"),
  entry: ({ path, code, pick, patterns, where, text }: EditionKey): string =>
    `${path}: ${[code, ...(pick === undefined ? [] : [pick]), ...(patterns === undefined ? [] : [quoted(patterns)]), ...(where === undefined ? [] : [`where ${where}`]), ...(text === undefined ? [] : [`at ${text}`])].join(", ")}`,
  wrote: (file: string, entries: number, takenOut: number): string =>
    `Wrote ${file}: ${counted(entries, "known finding")}${takenOut === 0 ? "" : `, ${takenOut} taken out`}.`,
  watching: (books: number): string => `Watching ${counted(books, "book")}. Ctrl-C ends it.`,
  changed: (path: string): string => `${path} changed.`,
  checking: (at: number, all: number, path: string, seconds: number): string =>
    `Checking ${all === 1 ? path : `${path} (${at} of ${all})`}${seconds < 2 ? "" : `, ${seconds} s`}`,
};

/** The words of reports for other programs. */
export const formatWords = {
  full: (message: string, help: string): string => (help === "" ? message : `${message}\n\n${help}`),
  also: (place: string, message: string): string => `See also: ${place} ${message}`,
  next: (help: string): string => `Next: ${help}`,
  place: (severity: Severity, place: string, title: string): string => `${severity}: ${place}: ${title}`,
  failures: (titles: readonly string[]): string => (titles.length === 1 ? titles[0]! : `${titles[0]!}, and ${titles.length - 1} more`),
  unreadable: "a book that can be read",
};
