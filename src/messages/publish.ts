/** Words of a published page: its frame, the counter and the day plan. */
import { listed } from "./words.js";

export const pageWords = {
  counter: "Counter",
  plan: "Day plan",
  views: "Ways to look at this book",
  draft: "Draft. This book has mistakes in it and is not for customers.",
  shelf: "All books",
  data: "The same as data, for other programs",
  indexTitle: (shop: string | undefined): string => (shop === undefined ? "What to tie on" : `What to tie on: ${shop}`),
  since: (edition: string | undefined): string => `What changed since ${edition === undefined ? "the last edition" : `edition ${edition}`}`,
  someShop: "a tackle shop",
  indexIntro: "Choose a book. Each one tells what to tie on for the water in front of you, and why.",
  loading: "Reading the book…",
  noScript: "This page works out its answers in your browser, and needs scripts to be switched on. Nothing is sent anywhere.",
  edition: (edition: string): string => `Edition ${edition}`,
  dates: (from: string | undefined, to: string | undefined): string =>
    from && to ? `good from ${from} to ${to}` : from ? `good from ${from}` : to ? `good to ${to}` : "",
  outOfDate: (to: string): string => `This book was good until ${to}. Ask for a newer one.`,
  notYet: (from: string): string => `This book is good from ${from} on.`,
  published: (on: string): string => `Published ${on}.`,
  stays: "Nothing you tap leaves this page.",

  // Counter
  known: "What do you know?",
  knownIntro: "Tap what you know and leave out the rest.",
  unknown: "don't know",
  none: "none of these",
  filled: (from: string): string => `from ${from}`,
  filledFrom: { date: "the date", clock: "the time", sun: "the sun", moon: "the moon" },
  exact: (unit: string): string => `or exactly, in ${unit}`,
  exactNumber: "or exactly",
  startOver: "Start over",
  units: "Units",
  systems: { book: "as in the book", us: "°F, ft, oz, mph", metric: "°C, m, g, km/h", sea: "°F, ft, oz, knots" },
  whenWhere: "When and where",
  whenWhereIntro: "Fills in the date, the light and the height of the sun. Leave it empty if you like.",
  date: "Date",
  time: "Time",
  zone: "Hours from UTC",
  latitude: "Latitude, north +",
  longitude: "Longitude, east +",
  now: "Now",
  here: "Use where this device is",
  hereFailed: "The device did not tell where it is. Type the latitude and longitude.",
  sunNow: (height: string, rising: boolean, lit: string): string =>
    `The sun stands ${height}° ${rising ? "and climbs" : "and sinks"}; ${lit} % of the moon is lit.`,

  tieOn: "What to tie on",
  nothingKnown:
    "Nothing is known yet. Below is how it comes out over all conditions of this book, which is no forecast; each reply narrows it.",
  because: "Why",
  mind: "Mind",
  /** `more`: beside those that stand above. */
  mindAlso: (titles: readonly string[], more: boolean): string => `${more ? "Also mind" : "Mind"}: ${listed(titles.map(small))}`,
  toldSoFar: "What you have told",
  takeBack: (label: string, value: string): string => `Take back: ${label} ${value}`,
  /** Parts of the rig; `more`: beside others that are settled. */
  moreDepend: (count: number, more: boolean): string =>
    `${count} ${more ? "more " : ""}${count === 1 ? "part of the rig depends" : "parts of the rig depend"} on what you reply`,
  restOf: "Each part: why, how sure, what else",
  may: "This may apply:",
  localRules:
    "Local rules come first: seasons, sizes, hooks and baits differ from water to water and outrank every tip here. Read this year's rules for your water.",
  general: "Wear a life jacket. Leave the water at the first thunder. Watch your hooks, and whoever stands behind you.",
  thenTry: (options: string): string => `then ${options}`,
  safe: (options: string): string => `${options} fits whatever else`,
  depends: "it depends",
  mostly: (outcome: string): string => `mostly ${outcome}`,
  likeliest: "mostly",
  /** Before the reasons of an answer that is not certain. */
  whereItIs: (outcome: string): string => `Where it is ${outcome}, for example because:`,
  howSure: "How sure?",
  shares: "Of all conditions of this book that are still possible, which is no forecast:",
  dependsOn: (outcomes: readonly string[]): string => `it depends: ${outcomes.join("; ")}`,
  /** Of a pick that does not apply in most of what is possible. */
  notNeeded: "mostly not needed",
  orElse: (outcomes: readonly string[], more: boolean): string =>
    `Else ${more ? `${outcomes.join(", ")} and more` : listed(outcomes, "or")}.`,
  /** Where no choice is the first in most of what is possible. */
  oneOf: (outcomes: readonly string[], more: boolean): string => (more ? `${outcomes.join(", ")} and more.` : `${listed(outcomes, "or")}.`),
  tossUp: "a toss-up",
  fallBack: "when nothing else decides",
  undecided: "Not decided",
  otherwise: "What would it be otherwise?",
  ifIt: (label: string, value: string, outcome: string): string => `${label} ${value}: ${outcome}`,
  nothingElse: "No other reply to what you have told would change it.",
  tellFirst: "Tell something first; then this shows what another reply would change.",
  notNow: (labels: readonly string[]): string => `Does not apply here: ${listed(labels)}.`,
  ask: "Best question now",
  settled: "Nothing you could add would change this.",
  toAnswer: "See why",
  share: "Link to this answer",
  copy: "Copy the link",
  copied: "Copied.",
  copyByHand: "This browser lets no page copy here. The address is marked: copy it as you copy any text.",
  code: "Code for a phone",
  codeAlt: "QR code of the link to this answer",
  tooLong: "The link is too long for a code.",
  notPossible: "These cannot be together",

  // Day plan
  planIntro: "How the advice changes through a day with the light. What else you have told at the counter holds all day.",
  planNeeds: "Give a date and a place under “When and where” to see the light change.",
  planSame: "as before",
  planAllDay: "The advice stays the same all day.",
  sunAt: (from: string, to: string): string => (from === to ? `sun ${from}°` : `sun ${from}° to ${to}°`),
  light: { dawn: "dawn", day: "day", dusk: "dusk", night: "night" },
};

export const publishRefusals = {
  errors: (books: readonly string[]): string =>
    `Not published: ${listed(books)} ${books.length === 1 ? "has" : "have"} errors. Run \`waterlore check\` to see them, or publish with --draft, which says so on every page.`,
  noPage: "The page's script is missing from this installation. Run `npm run build` first.",
  nothing: "None of these books recommends anything, so there is nothing to publish.",
};
export const publishNotes = {
  wrote: (files: number, folder: string): string => `${files} files in ${folder}. Open ${folder}/index.html.`,
};
export const publishHelp = {
  about: "make a website of books: a page each, for the counter, a phone or the wall",
  books: "books to publish, or folders of books",
  to: "folder to write to; made if it is not there",
  draft: "publish books with errors too, marked as a draft on every page",
  since: "the last edition, as `compare` takes it: a book, a folder, or one in git such as HEAD:rules; the pages then say what changed",
  address: "where the site will stand, such as https://example.org/tackle; links and codes go there",
};

/** A title within a sentence. */
function small(title: string): string {
  return /^\p{Lu}\p{Ll}/u.test(title) ? title.charAt(0).toLowerCase() + title.slice(1) : title;
}
