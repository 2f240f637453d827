/** Every sentence about a shop's stock and its log of days. */
import { listed, sayExample, sayPercent, sayShare, type Share } from "./words.js";
import type { Example } from "../diagnostics.js";

const mean = (close: string | undefined): string => (close === undefined ? "" : ` Did you mean ${close}?`);
const clip = (text: string): string => (text.length > 60 ? `${text.slice(0, 59)}…` : text);

/** A number of trips, in digits a person can take in. */
const amount = (trips: number): string =>
  trips === 0 ? "0" : trips < 0.05 ? "< 0.1" : trips >= 100 ? trips.toFixed(0) : trips.toFixed(1).replace(/\.0$/, "");

/** What is wrong with the columns and rows of a log. */
export const logWords = {
  unknownColumn: (heading: string, known: readonly string[], close: string | undefined, isPick: boolean): string =>
    `${heading === "" ? "A column has no name in the first row." : isPick ? `“${clip(heading)}” is something the book recommends, not something that can be observed.` : `There is no condition “${clip(heading)}” in the book.${mean(close)}`} A log has the columns ${listed(known)}. Take the column out, or name it after what it holds.`,
  anAmount: "a number of trips, such as 3",
  noDays: (path: string): string => `${path} has no day that can be weighed.`,
};

/** What is wrong with the columns and rows of a stock list, and the report on it. */
export const stockWords = {
  unknownColumn: (heading: string, picks: readonly string[], close: string | undefined): string =>
    `${heading === "" ? "A column has no name in the first row." : `There is nothing called “${clip(heading)}” that the book recommends.${mean(close)}`} A stock list has the columns item and in stock, if you like price and shelf, and any of ${listed(picks)}. Take the column out, or name it after the pick that it holds.`,
  judgementColumn: (name: string): string =>
    `${name} is a judgement, which the book only thinks with; it is nothing that can lie on a shelf. Take the column out.`,
  missingColumn: (name: string): string =>
    `There is no column “${name}” in the first row. It ${name === "item" ? "holds the name of each item" : "says how many there are, as a number, or yes or no"}.`,
  columnTwice: (name: string): string => `There are two columns “${name}”. Leave one of them.`,
  noPickColumn:
    "No column is named after anything that the book recommends, so nothing tells which item fits where. Add a column for a pick, such as one that says which family a bait is of.",
  noName: "An item needs a name.",
  sameName: (name: string, row: number): string => `“${clip(name)}” stands in row ${row} already. Give each item a name of its own.`,
  notInStock: (given: string): string =>
    `${given === "" ? "Nothing is given" : `“${clip(given)}” cannot be read`}. It takes how many there are, such as 4, or yes or no.`,
  unknownOption: (pick: string, given: string, options: readonly string[], close: string | undefined): string =>
    `${pick} has no option “${clip(given)}”.${mean(close)} It takes ${listed(options, "or")}, several joined by semicolons. Leave it empty if the item does for all of them, or write - if nobody buys it for that.`,
  tooManyCells: "There are more cells than the first row has names.",
  tooLong: (most: number): string => `There are more than ${most} characters. Shorten it.`,
  emptyFile: (path: string): string => `${path} is empty. Its first row holds the names of columns.`,
  inFile: (path: string, problem: string): string => `${path}: ${problem}`,
  rowsLeftOut: (path: string, rows: readonly number[]): string =>
    `${path}: ${rows.length === 1 ? "Row" : "Rows"} ${listed(rows.map(String))} ${rows.length === 1 ? "is" : "are"} left out; the rest counts.`,

  headline: (book: string): string => `Stock for ${book}`,
  counts: (items: number, available: number): string => `${items} ${items === 1 ? "item" : "items"}, ${available} of them in stock.`,
  weighedBy: (days: number, trips: number | undefined): string =>
    `Weighed by ${days.toLocaleString("en-US")} logged ${days === 1 ? "day" : "days"}${trips === undefined ? "" : ` with ${amount(trips)} trips`}. A day on which something that matters is not known counts for each answer that it may have, by its share.`,
  notWeighed: "Weighed by conditions, each of which counts alike. A log of days, given with --days, says how often they really occur.",
  notInList: (picks: readonly string[]): string => `No item in the list names one, so not looked at: ${listed(picks)}.`,
  undecided: (picks: readonly string[]): string =>
    `Not decided for ${listed(picks)}: there are more answers than the budget allows. Ask again with a higher --steps, or with fewer columns.`,

  /** How often: by conditions, or by days as told, with bounds where some are open. */
  often: (
    share: Share,
    days: { readonly trips: Share; readonly sure: Share; readonly possible: Share; readonly byTrips: boolean } | undefined,
  ): string => {
    if (days === undefined) return sayShare(share);
    const open = days.sure.n * days.possible.d !== days.possible.n * days.sure.d;
    const [sure, possible] = [sayPercent(days.sure), sayPercent(days.possible)];
    return `on ${sayPercent(days.trips)} of the ${days.byTrips ? "trips" : "days"}${open && sure !== possible ? ` (${sure} to ${possible}, as not all is known)` : ""}`;
  },
  cell: sayPercent,
  amount,

  nobody: "Nobody can buy this here",
  nobodyAbout: "Recommended, and nothing in stock fits, not even as a later choice.",
  laterOnly: "Only a later choice is in stock",
  mustHave: "Must be in stock, however seldom",
  mustHaveAbout: "Nothing else in the list is an answer there.",
  options: "Options with nothing in stock",
  never: "Never recommended under any condition",
  notOnThese: "Recommended, but on none of these days",
  silent: "Not looked at: these name no option of any pick",
  sellsAs: (lot: readonly string[]): string => `What each answer sells as: ${listed(lot)}`,
  demand: "Days on which each item is a first choice, by month",
  demandTrips: "Trips on which each item is a first choice, by month",
  demandAbout: "Where several items are the first choice, each counts in full: it is one more reason to have it, not one more sale.",
  coverage: "How often each pick is what",
  undated: "no month",
  all: "all",

  answerMissing: (answer: string, often: string, missing: readonly string[], partly: boolean): string =>
    `${answer}: ${often}${partly ? `; nothing for ${listed(missing)}` : ""}.`,
  answerLater: (answer: string, often: string, items: string): string => `${answer}: ${often}. Sells as ${items}.`,
  where: (where: string, example: Example): string => `Where ${where}; for example ${sayExample(example)}.`,
  only: (item: string, often: string, out: boolean): string => `${item}: ${often}.${out ? " It is out of stock." : ""}`,
  option: (option: string, front: string | undefined, listedOften: string, out: boolean): string =>
    `${option}: ${front === undefined ? `only as a later choice, ${listedOften}` : `first choice ${front}`}.${out ? " All items of it are out of stock." : " No item has it."}`,
  itemLine: (item: string, out: boolean): string => (out ? `${item} (out of stock)` : item),
  more: (count: number): string => `and ${count} more.`,
  place: (place: number): string => ["first choice", "second choice", "third choice"][place] ?? `choice ${place + 1}`,
  byPlace: (groups: readonly { readonly place: string; readonly items: readonly string[] }[]): string =>
    groups.map(({ place, items }) => `${place} ${listed(items, "or")}`).join("; "),
  moreAnswers: (shown: number, all: number): string => `The ${shown} most frequent of ${all} answers.`,
  nothing: "nothing",
  missingFor: (picks: readonly string[]): string => `nothing for ${listed(picks)}`,
  head: { often: "How often", sellsAs: "Sells as", item: "Item", pick: "Pick" },
  months: ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"],
};
