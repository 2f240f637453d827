/** What the editor is told in completion, hover, lenses and hints. Plain text throughout: hover makes Markdown of it. */
import { listed, quoted, sayExample, sayPercent, type Share } from "./words.js";
import type { Example } from "../diagnostics.js";

const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

const ranked: Readonly<Record<string, string>> = {
  beats: "which beats it",
  "more local": "which is more local",
  narrower: "which is narrower",
  trust: "which is trusted more",
  lean: "which recommends outright, where this only leans",
};

const plainStatus: Readonly<Record<string, string>> = {
  "toss-up": "a toss-up",
  fallback: "fallback",
  "no advice": "no advice",
  "not applicable": "does not apply",
  gap: "a gap",
  conflict: "a conflict",
  waiting: "waiting",
};

/** How many statements test something. */
export interface Testers {
  readonly patterns: number;
  readonly picks: number;
  readonly others: number;
}

function testing({ patterns, picks, others }: Testers): readonly string[] {
  const parts = [
    [patterns, "pattern"],
    [picks, "pick"],
    [others, "other statement"],
  ] as const;
  return parts.filter(([n]) => n > 0).map(([n, word]) => counted(n, word));
}

export const serviceWords = {
  // Completion
  levelOf: (subject: string): string => `level of ${subject}`,
  memberOf: (subject: string): string => `member of ${subject}`,
  bandOf: (subject: string): string => `band of ${subject}`,
  groupOf: (subject: string, members: readonly string[]): string => `${listed(members, "or")} (${subject})`,
  optionOf: (pick: string): string => `option of ${pick}`,
  comparing: (subject: string, rising: boolean): string => `${rising ? "higher" : "lower"} in the order of ${subject}`,
  valueOf: (subject: string): string => `value of ${subject}`,
  unit: (kind: string): string => ({ mass: "unit of weight", percent: "percentage" })[kind] ?? `unit of ${kind}`,
  subject: (kind: "condition" | "pick" | "judgement", label: string | undefined, values: string): string =>
    [label ?? { condition: "", pick: "recommended", judgement: "judged on the way" }[kind], values]
      .filter((part) => part !== "")
      .join(": "),
  range: (low: string, high: string): string => `${low} to ${high}`,
  days: "days of the year",
  times: "times of the day",
  base: "a book beside this one",

  // Hover: conditions and what they are made of
  scale: (levels: readonly string[], ordered: boolean): string => `One of ${listed(levels, "or")}${ordered ? ", in this order" : ""}.`,
  set: (members: readonly string[], atLeastOne: boolean): string =>
    `Any of ${listed(members, "and")} at once${atLeastOne ? ", at least one" : ", or none"}.`,
  measure: (low: string, high: string, step: string | undefined): string =>
    `${low} to ${high}${step === undefined ? "" : `, to the nearest ${step}`}.`,
  everyDay: "A day of the year.",
  everyTime: "A time of the day.",
  compared: (rising: string, falling: string): string => `Going up the order it gets ${rising}, going down ${falling}.`,
  asks: (question: string): string => `Asks: “${question}”`,
  filledFrom: (source: string): string => `Filled from the ${source}.`,
  bands: (bands: readonly (readonly [name: string, stretch: string])[]): string =>
    `Bands: ${bands.map(([name, stretch]) => `${name} (${stretch})`).join(", ")}.`,
  groups: (groups: readonly (readonly [name: string, members: readonly string[]])[]): string =>
    `Groups: ${groups.map(([name, members]) => `${name} (${listed(members)})`).join(", ")}.`,
  /** `inDoubt`: some statement has an error, so nobody knows what it tests. */
  testedBy: (testers: Testers, inDoubt: boolean): string => {
    const there = testing(testers);
    return there.length === 0 ? (inDoubt ? "Nothing that can be read tests it." : "Nothing tests it.") : `Tested by ${listed(there)}.`;
  },
  toldApartBy: (testers: Testers): string => {
    const there = testing(testers);
    return there.length === 0 ? "Nothing tells it from its neighbors." : `Told from its neighbors by ${listed(there)}.`;
  },
  level: (place: number, of: number, subject: string, ordered: boolean): string =>
    ordered ? `Number ${place} of ${of} in the order of ${subject}:` : `A level of ${subject}:`,
  member: (subject: string): string => `One of the things of ${subject}.`,
  band: (subject: string, stretch: string): string => `A band of ${subject}: ${stretch}.`,
  group: (subject: string, members: readonly string[]): string => `A group of ${subject}: ${listed(members, "or")}.`,
  inGroups: (groups: readonly string[]): string => `Part of ${listed(groups)}.`,
  word: (subject: string, rising: boolean): string => `Goes ${rising ? "up" : "down"} the order of ${subject}.`,
  situation: (share: Share | undefined): string =>
    `A situation: wherever this holds${share === undefined ? "" : `, which is under ${sayPercent(share)} of all conditions`}.`,

  // Hover: picks and options
  options: (options: readonly string[], ordered: boolean): string => `Options${ordered ? ", in order" : ""}: ${listed(options, "or")}.`,
  judgement: "Judged on the way, recommended to nobody.",
  sameAs: (condition: string): string => `Starts as a copy of ${condition}.`,
  onlyWhen: "It applies only when",
  trusted: (names: readonly string[]): string => `Trusts ${names.map((name, i) => (i === 0 ? `${name} first` : name)).join(", then ")}.`,
  fallsBack: (list: string): string => `Falls back on ${list}.`,
  spokenOfBy: (patterns: number): string =>
    patterns === 0 ? "No pattern speaks of it." : `${counted(patterns, "pattern")} ${patterns === 1 ? "speaks" : "speak"} of it.`,
  coverage: (shares: readonly (readonly [status: string, share: Share])[]): string =>
    `Of all conditions: ${shares.map(([status, share]) => `${status === "decided" ? "decided" : (plainStatus[status] ?? status)} ${sayPercent(share)}`).join(", ")}.`,
  recommended: (front: Share, later: Share): string => {
    if (front.n === 0n && later.n === 0n) return "Under no conditions is it recommended.";
    if (later.n === 0n) return `It is the first choice under ${sayPercent(front)} of all conditions.`;
    if (front.n === 0n) return `It is a later choice under ${sayPercent(later)} of all conditions.`;
    return `It is the first choice under ${sayPercent(front)} of all conditions and a later choice under ${sayPercent(later)}.`;
  },
  firstWhere: "First choice where",
  moreSuch: (n: number): string => `and ${n} more such ${n === 1 ? "stretch" : "stretches"}`,
  recommendedBy: (titles: readonly string[], more: number): string =>
    `Recommended outright by ${more > 0 ? `${titles.map((title) => `“${title}”`).join(", ")} and ${counted(more, "more pattern")}` : quoted(titles)}.`,

  // Hover: patterns, cautions, promises
  speaksUnder: (share: Share): string =>
    share.n === share.d ? "It speaks under all conditions." : `It speaks under ${sayPercent(share)} of all conditions.`,
  decides: (pick: string | undefined, decides: Share, yields: Share, clashes: Share): string => {
    const parts = [
      ...(decides.n > 0n ? [`decides in ${sayPercent(decides)}`] : []),
      ...(yields.n > 0n ? [`yields in ${sayPercent(yields)}`] : []),
      ...(clashes.n > 0n ? [`is in conflict in ${sayPercent(clashes)}`] : []),
    ];
    return `${pick === undefined ? "It" : `On ${pick} it`} ${parts.length === 0 ? "changes nothing" : listed(parts)}.`;
  },
  yieldsTo: (title: string, by: string, share: Share): string => `to “${title}” in ${sayPercent(share)}, ${ranked[by] ?? by}`,
  yieldsToMore: (n: number): string => `and to ${counted(n, "more")}`,
  decidesWhere: "It decides where",
  yieldsWhere: "It yields where",
  pending: "How much it decides is not worked out yet.",
  silent: {
    leftOut: "It does not speak: a book that builds on its own leaves it out.",
    over: (date: string): string => `It does not speak any more: it was good until ${date}.`,
    unread: "It does not speak yet: something in it cannot be read.",
  },
  reason: (because: string): string => `“${because}”`,
  caution: (where: Share | undefined): string =>
    `A caution, shown beside answers${where === undefined ? "" : ` under ${sayPercent(where)} of all conditions`}.`,
  promise: {
    holds: "The promise holds everywhere.",
    open: "Whether it holds is not decided within the budget.",
    pending: "Whether it holds is not worked out yet.",
  },
  fails: (example: Example, share: string): string => `The promise is broken (share ${share}). For example: ${sayExample(example)}.`,
  bookSays: (patterns: number, picks: number, conditions: number): string =>
    `${counted(patterns, "pattern")} on ${counted(picks, "pick")}, by ${counted(conditions, "condition")}.`,

  // Hover: quantities and words
  converted: (written: string, exact: readonly string[], rounded: readonly string[]): string =>
    `${written} is ${listed([...exact, ...rounded.map((one, i) => (i === 0 ? `about ${one}` : one))], "or")}.`,
  convertedStep: (written: string, others: readonly string[]): string => `A step of ${written} is a step of ${listed(others, "or")}.`,

  // Lenses and hints
  hint: (decides: Share): string => `decides ${sayPercent(decides)}`,
  lensHolds: "holds",
  lensFails: (example: Example): string => `fails: ${sayExample(example)}`,
  lensOpen: "not decided",
  lensAgainst: (other: string): string => `against “${other}”`,
  lens: (
    parts: readonly { readonly pick: string | undefined; readonly decides: Share; readonly yields: Share; readonly clashes: Share }[],
  ): string =>
    parts
      .map(
        ({ pick, decides, yields, clashes }) =>
          (pick === undefined ? "" : `${pick}: `) +
          [
            ...(decides.n > 0n || (yields.n === 0n && clashes.n === 0n) ? [`decides ${sayPercent(decides)}`] : []),
            ...(yields.n > 0n ? [`yields in ${sayPercent(yields)}`] : []),
            ...(clashes.n > 0n ? [`in conflict in ${sayPercent(clashes)}`] : []),
          ].join(", "),
      )
      .join("; "),
};
