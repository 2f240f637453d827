/** Every sentence of comparing two books: wording only, given as plain text. */
import type { Example } from "../diagnostics.js";
import { tableWords } from "./table.js";
import { listed, quoted, sayExample, sayShare, type Share, type Texts } from "./words.js";

/** The name of an older condition where the newer book has one of that name and of another kind. */
export const asItWas = (name: string): string => `${name} (as it was)`;

const capital = (text: string): string => text.replace(/^./u, (first) => first.toUpperCase());

/** "in 4.2 % of all conditions (1/24)": a fraction is said where it can be read at a glance. */
function share(of: Share): string {
  const whole = of.n === 0n || of.n === of.d;
  return whole || String(of.d).length > 9 ? sayShare(of) : `${sayShare(of)} (${of.n}/${of.d})`;
}

const became = { added: "is new", removed: "is gone", changed: "says something else" } as const;
type Change = keyof typeof became;

const statementWords: Readonly<Record<string, (pick: string) => string>> = {
  options: (pick) => `the options of ${pick}`,
  "only when": (pick) => `the “only when” of ${pick}`,
  "say nothing": (pick) => `where nothing is said on ${pick}`,
  "same as": (pick) => `what ${pick} is the same as`,
  "fall back": (pick) => `the fall back of ${pick}`,
  trust: (pick) => `what is trusted first for ${pick}`,
  books: () => "how the books build on one another",
};

/** What was edited. Patterns are named by their titles, all else by name. */
const editWords: Readonly<Record<ToldPart, (of: string) => string>> = {
  action: (title) => `the advice of “${title}”`,
  when: (title) => `the “when” of “${title}”`,
  beats: (title) => `what “${title}” beats`,
  bands: (condition) => `the bands of ${condition}`,
  members: (group) => `the group ${group}`,
  test: (situation) => `the situation ${situation}`,
  "only when": (pick) => `the “only when” of ${pick}`,
  "same as": (pick) => `what ${pick} is the same as`,
  "fall back": (pick) => `the fall back of ${pick}`,
  "say nothing": (pick) => `where nothing is said on ${pick}`,
  trust: (pick) => (pick === "" ? "what is trusted first" : `what is trusted first for ${pick}`),
  impossible: () => "what is impossible",
};
/** What of a statement can be edited. */
export type ToldPart =
  | "action"
  | "when"
  | "beats"
  | "bands"
  | "members"
  | "test"
  | "only when"
  | "same as"
  | "fall back"
  | "say nothing"
  | "trust"
  | "impossible";

const wordWords: Readonly<Record<string, string>> = {
  title: "the title",
  shop: "the shop",
  water: "the water",
  edition: "the edition",
  good: "the dates it is good for",
  label: "the label of",
  question: "the question for",
  reason: "the reason of",
  source: "the source of",
  checked: "the day of the last check of",
  until: "the last day of",
};

export const compareWords = {
  headline: (old: string, now: string): string => `${old} → ${now}`,
  edition: (path: string, edition: string | undefined): string => (edition === undefined ? path : `${path} (${edition})`),
  same: "No recommendation changes.",
  different: (picks: readonly string[], other: readonly string[]): string =>
    capital(
      [
        ...(picks.length > 0 ? [`recommendations change for ${listed(picks)}`] : ["no recommendation changes where both books apply"]),
        ...other,
      ]
        .join("; ")
        .concat("."),
    ),
  groundDiffers: "other conditions are possible",
  picksDiffer: "what is recommended at all is not the same",
  undecidedToo: "not everything could be decided",
  summary: (all: number, different: number): string =>
    `${all} books compared: ${different === 0 ? "no recommendation changes" : different === 1 ? "one is not the same" : `${different} are not the same`}.`,
  onlyOld: (path: string): string => `${path} is gone.`,
  onlyNew: (path: string): string => `${path} is new.`,

  edits: "What was edited",
  edit: (part: ToldPart, of: string): string => capital(editWords[part](of)),
  was: (texts: readonly string[]): string => `Was: ${texts.length > 0 ? texts.join("; ") : "nothing"}`,
  now: (texts: readonly string[]): string => `Now: ${texts.length > 0 ? texts.join("; ") : "nothing"}`,
  /** A pattern that is new or gone, as it is written. */
  wholePattern: (
    title: string,
    change: "added" | "removed",
    { action, when, beats }: Readonly<Record<"action" | "when" | "beats", readonly string[]>>,
  ): string =>
    `“${title}” ${became[change]}: ${[action.join("; "), ...when.map((test) => `when ${test}`), ...(beats.length > 0 ? [`beats ${beats.join(", ")}`] : [])].join(" ")}`,
  sameOption: "What is recommended stays the same; only where it comes from changes.",

  judgement: (label: string): string => `${label} (a judgement: tested by patterns, not recommended)`,
  pick: (label: string, of: Share): string => `${label}: another answer ${share(of)}`,
  became: (before: string, after: string, of: Share): string => `Before: ${before}. Now: ${after}. ${capital(share(of))}.`,
  outcome: (status: string, list: Texts): string => tableWords.outcome(status, list),
  /** Where two outcomes read alike and only their status tells them apart. */
  outcomeAs: (status: string, list: Texts): string => `${tableWords.outcome(status, list)} (${status})`,
  where: (where: string): string => (where === "always" ? "Everywhere." : `Where ${where}.`),
  example: (example: Example): string => `For example: ${sayExample(example)}.`,
  from: (before: readonly string[], after: readonly string[]): string =>
    `Before ${before.length > 0 ? `from ${quoted(before)}` : "from no pattern"}, now ${after.length > 0 ? `from ${quoted(after)}` : "from no pattern"}.`,
  stillFrom: (titles: readonly string[]): string => `Before and now from ${quoted(titles)}.`,
  causes: (
    patterns: Readonly<Record<Change, readonly string[]>>,
    statements: readonly { readonly pick: string; readonly statement: string }[],
  ): string =>
    capital(
      `${listed([
        ...(["added", "removed", "changed"] as const).flatMap((change) =>
          patterns[change].length === 0 ? [] : [`${quoted(patterns[change])} ${plural(became[change], patterns[change].length)}`],
        ),
        ...statements.map(({ pick, statement }) => `${statementWords[statement]!(pick)} changed`),
      ])}.`,
    ),

  possible: "What is possible",
  ground: (only: "before" | "after", of: Share): string =>
    only === "after"
      ? `Possible now, and not before: ${share(of).replace("all conditions", "all that is possible now")}`
      : `Possible before, and not any more: ${share(of).replace("all conditions", "all that was possible")}`,
  structure: "What is asked, and what is recommended",
  condition: (name: string, change: Change): string =>
    `The condition ${name} ${change === "added" ? "is new; every value of it was compared" : "is gone; every value it had was compared"}.`,
  otherKind: (name: string): string =>
    `The condition ${name} is of another kind now. Nothing says which of its values is which of the old ones, so each was compared with each.`,
  values: (name: string, added: readonly string[], removed: readonly string[]): string => {
    const parts = [
      ...(added.length > 0 ? [`has ${listed(added)} now`] : []),
      ...(removed.length > 0 ? [`has ${listed(removed)} no more`] : []),
    ];
    return `${capital(name)} ${listed(parts)}.${added.length > 0 && removed.length > 0 ? " If that is only another name, the recommendations may be the same: a comparison goes by names." : ""}`;
  },
  measure: (name: string, from: string, to: string): string => `${capital(name)} was ${from}, and is ${to} now.`,
  newPick: (name: string): string => `The pick ${name} is new.`,
  gonePick: (name: string): string => `The pick ${name} is gone.`,
  newJudgement: (name: string): string => `The judgement ${name} is new.`,
  goneJudgement: (name: string): string => `The judgement ${name} is gone.`,

  idle: "Patterns that are not the same, and change no recommendation",
  pattern: (title: string, change: Change): string => `“${title}” ${became[change]}.`,
  words: "In words only",
  word: (what: string, change: Change, of: string | undefined, statement: string | undefined): string => {
    if (what === "caution" || what === "promise") return `The ${what} “${of ?? ""}” ${became[change]}.`;
    const about =
      of === undefined
        ? statement === "impossible"
          ? " what is impossible"
          : ""
        : statement === "pattern"
          ? ` “${of}”`
          : statement === undefined
            ? ` ${of}`
            : ` ${statement === "fall back" ? "the fall back" : "the silence"} on ${of}`;
    return capital(`${wordWords[what]!}${about} ${change === "changed" ? "changed" : became[change]}.`);
  },
  undecided: "Not decided",
  notDecided: (pick: string): string =>
    pick === "possible"
      ? "What is possible in one book and not in the other needs more steps than the budget allows."
      : `The answers for ${pick} need more steps than the budget allows. Give more with --steps.`,

  // The feed
  feedTitle: (title: string): string => `Editions of ${title}`,
  firstEdition: "The first edition.",
};

/** Why two books could not be compared: whole sentences. */
export const compareRefusals = {
  broken: (path: string, errors: number): string =>
    `${path} cannot be compared: ${errors === 1 ? "one sentence" : `${errors} sentences`} of it could not be understood. To see why: waterlore check ${path.replace(/^.*?:/, "")}`,
  oneFolder: (file: string, folder: string): string => `${file} is a book and ${folder} is a folder. Give two books or two folders.`,
  noGit: "Git is not installed here, so an earlier revision cannot be read. Give two books or two folders instead.",
  noRepository: "This folder is not in a git repository, so there is no earlier revision to read.",
  noRevision: (revision: string): string => `Git knows no revision “${revision}”. To see the latest ones: git log --oneline`,
  noSuchAt: (revision: string, path: string): string => `There is no ${path} in revision ${revision}.`,
  noBooksAt: (revision: string, path: string): string => `There is no .lore file in ${path} in revision ${revision}.`,
};

function plural(words: string, count: number): string {
  return count === 1 ? words : words.replace(/^is /u, "are ").replace(/^says /u, "say ");
}
