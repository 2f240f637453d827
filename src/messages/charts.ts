/** Words of the picture, the table, the wall chart and the counter card of a published page. */
import { listed, type Share } from "./words.js";

export const chartWords = {
  // Picture
  picture: "Picture",
  pictureIntro: "Choose two things about the water. Every square shows what to tie on there; tap one to see why.",
  pick: "What to choose",
  down: "Down the side",
  across: "Across the top",
  by: "One picture for each",
  noThird: "just one picture",
  held: (values: string): string => `Everywhere in the picture: ${values}.`,
  nothingHeld: "Nothing else is known, so a square that goes by something else says that it depends.",
  pictureOf: (pick: string, down: string, across: string): string => `${pick} by ${lower(down)} and ${lower(across)}`,
  frame: (label: string, words: string): string => `${label}: ${words}`,
  cell: (place: string, outcome: string): string => `${place}: ${outcome}`,
  dependsOn: (parts: readonly string[]): string => `it depends: ${listed(parts, "or")}`,
  dependsSecond: (front: string): string => `${front}; what comes second depends`,
  cannotBe: "cannot be",
  undecided: "not decided",
  legend: "What the signs mean",
  legendDepends: "It depends on something that is not known; all that is possible stands in the square, likeliest first.",
  legendCannot: "The book says this cannot be.",
  legendNone: "Nothing recommended here",
  partOnly: (label: string): string => `${label}: one kind at a time, since there are too many mixtures to draw.`,
  coarse: (label: string): string => `${label}: by its bands, since it has too many limits to draw.`,
  asTable: "The same as a list in words",
  picked: (place: string): string => `You chose ${place}.`,
  needTwo: "A picture needs two conditions, and this book has fewer.",

  // Table
  table: "Table",
  tableIntro:
    "Everything this book recommends. Every row holds by itself; what it leaves out does not matter there. Where a column is another recommendation, look that one up first.",
  search: "Find words",
  anyValue: "any",
  showing: (shown: number, all: number): string => (shown === all ? `${all} ${all === 1 ? "row" : "rows"}` : `${shown} of ${all} rows`),
  nothingFits: "No row fits all of this.",
  clear: "Show all rows",
  because: "Decided by",
  noPattern: "When nothing else decides",
  linkTo: (row: number): string => `Link to row ${row}`,

  // Wall chart and counter card
  wall: "Wall chart",
  wallIntro:
    "One page, in Letter or A4, across. What you have told so far holds on it, and the two sides are those that settle most unless you choose others. “Mostly” and “often” count every case that can be alike.",
  card: "Counter card",
  cardIntro: "One page, in Letter or A4, upright: this water, this week.",
  print: "Print",
  chosenFor: "the two that settle most",
  often: ({ n, d }: Share): string => (n * 10n >= d * 9n ? "nearly always" : n * 3n >= d * 2n ? "mostly" : "often"),
  itDepends: "it depends",
  orElse: (options: string): string => `else ${options}`,
  then: (options: string): string => `then ${options}`,
  holds: (values: string): string => `This chart is for: ${values}.`,
  goesByMore: (labels: readonly string[]): string =>
    `Where it says “mostly”, “often” or “it depends”, look at ${listed(labels.map(lower))} too, or scan the code.`,
  lookOut: "Look out for",
  firstChoices: ["First choice", "Second choice", "Third choice"] as const,
  week: (from: string, to: string): string => `Week of ${from} to ${to}`,
  nothingKnown: "Any water, any weather",
  askUs: (more: number): string => `${more} more ${more === 1 ? "case" : "cases"}: ask us, or scan the code.`,
  asNamed: (label: string, reply: string): string => `${label}: ${reply}`,
  likeliest: "most often; it depends on more, so ask us",
  notNeeded: "may not be needed",
  notNeededDepends: "it depends on more, so ask us",
  mayApply: "(may apply)",
  eitherOf: (fronts: readonly string[], more: boolean): string => `${listed(fronts, "or")}${more ? " and others" : ""}`,
  scan: "Scan for your own answer, and for why.",
  localRules: "Local rules come first. Seasons, sizes, hooks and baits differ from water to water; read this year's rules before you fish.",
  edition: (edition: string): string => `Edition ${edition}`,
  goodFor: (from: string | undefined, to: string | undefined): string =>
    from && to ? `good from ${from} to ${to}` : from ? `good from ${from}` : to ? `good to ${to}` : "",
  draft: "Draft, not for customers",
};

function lower(label: string): string {
  // A name in capitals stays as it is.
  return /^\p{Lu}\p{Ll}/u.test(label) ? label[0]!.toLowerCase() + label.slice(1) : label;
}
