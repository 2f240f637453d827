/** Every sentence of tables, answers and explanations: wording only, given as plain text. */
import { listed, quoted, sayList } from "./words.js";

export type Texts = readonly (readonly string[])[];

/** A share for a person at the counter: "3 in 4", "about 37 %". */
function chance(share: { readonly n: bigint; readonly d: bigint; valueOf(): number }): string {
  if (share.n === 0n) return "only at single values";
  if (share.d <= 12n) return `${share.n} in ${share.d}`;
  const percent = share.valueOf() * 100;
  return percent < 1 ? "less than 1 %" : percent > 99 ? "more than 99 %" : `about ${percent.toFixed(0)} %`;
}

const plainStatus: Readonly<Record<string, string>> = {
  "no advice": "no advice given",
  "not applicable": "does not apply",
  gap: "nothing recommended",
  conflict: "in conflict",
  waiting: "open, waits for another pick",
};

/** An outcome in a few words: "colorado, then indiana", "3/8 oz or 1/2 oz (toss-up)", "does not apply". */
function outcome(status: string, list: Texts): string {
  if (list.length === 0) return plainStatus[status] ?? status;
  const note = status === "toss-up" ? " (toss-up)" : status === "fallback" ? " (fall back)" : "";
  const [front, ...rest] = list;
  return rest.length === 0 ? `${sayList(list)}${note}` : `${front!.join(" or ")}${note}, then ${sayList(rest)}`;
}

export const say = {
  // Tables
  undecided: (pick: string): string => `The answers for ${pick} need more steps than the budget allows, so there is no table of them.`,
  nothingPossible: "No combination of conditions is possible in this book, so there is nothing to put in a table.",
  tooManyRows: (most: number, picks: readonly string[]): string => picks.length > 1
    ? `One table for ${listed(picks)} together would have more than ${most} rows. Ask for fewer picks at a time, for example \`--pick ${picks[0]!}\`.`
    : `The table for ${listed(picks)} would have more than ${most} rows. Ask for more with a higher limit, or for the answer at one point instead.`,
  outcome,
  any: "any",
  noMembers: "none",
  withMembers: (members: readonly string[]): string => members.join(" and "),
  withoutMembers: (members: readonly string[]): string => `no ${listed(members, "or")}`,
  exactly: (value: string): string => value,
  below: (value: string): string => `below ${value}`,
  atMost: (value: string): string => `up to ${value}`,
  above: (value: string): string => `above ${value}`,
  atLeast: (value: string): string => `${value} and more`,
  between: (from: string, to: string): string => `${from} to ${to}`,
  both: (low: string, high: string): string => `${low}, ${high}`,
  only: (members: readonly string[]): string => `only ${listed(members)}`,
  conditionIs: (label: string, words: string): string => `${label} ${words}`,
  orElse: ", or ",
  cannotBe: "cannot be",
  either: (parts: readonly string[]): string => listed(parts, "or"),
  named: (name: string, stretch: string): string => `${name} (${stretch})`,
  because: "Because",
  goodFor: (from: string | undefined, to: string | undefined): string =>
    from && to ? `good from ${from} to ${to}` : from ? `good from ${from}` : to ? `good to ${to}` : "",
  mind: "Mind:",
  mindHeading: "Mind",
  caution: (title: string, when: string | undefined, text: string): string => `${title}${when === undefined ? "" : ` (${when})`}: ${text}`,
  may: (text: string): string => `${text} (may apply here)`,
  see: (sources: readonly string[]): string => `See ${listed(sources)}.`,

  // What a customer gives
  givenTwice: (condition: string): string => `${condition} was given twice; give it once.`,
  pickAsCondition: (name: string): string => `${name} is something the book recommends, not something to tell it.`,
  unknownCondition: (name: string, close: string | undefined, known: readonly string[]): string =>
    `There is no condition ${name}.${close === undefined ? "" : ` Did you mean ${close}?`} The book asks about ${listed(known)}.`,
  impossible: (because: string | undefined): string => `The book says that this does not occur${because === undefined ? "." : `: ${because.replace(/\.$/, "")}.`}`,
  impossibleTogether: (becauses: readonly string[]): string => `Nothing that the book holds possible fits all of this${becauses.length === 0 ? "." : `: ${becauses.map((because) => because.replace(/\.$/, "")).join("; ")}.`}`,
  emptySet: (condition: string): string => `${condition} always has at least one member; none can not occur.`,
  askLevel: (label: string, levels: readonly string[]): string => `${label}: ${listed(levels, "or")}?`,
  askMembers: (label: string, members: readonly string[]): string => `${label}: which of ${listed(members, "or")}, if any?`,
  askNumber: (label: string, unit: string | undefined): string => `${label}: how ${unit === undefined ? "much" : `many ${unit}`}?`,
  askDay: (label: string): string => `${label}: which day?`,
  askTime: (label: string): string => `${label}: at what time of day?`,
  judged: (label: string): string => `${label} (judged)`,

  // Answers in words
  given: (known: string, unknown: readonly string[]): string => `${known === "" ? "Nothing is known yet" : `Known: ${known}`}.${unknown.length === 0 ? "" : ` Not known: ${listed(unknown)}.`}`,
  depends: "it depends",
  notDecided: "not decided: the answers need more steps than the budget allows",
  safe: (list: Texts): string => `${sayList(list)} fits either way`,
  nothingSafe: "nothing fits every case",
  possible: (what: string, share: Parameters<typeof chance>[0]): string => `${what} (${chance(share)})`,
  morePossible: (count: number): string => `and ${count} more`,
  reason: (pattern: string | undefined, text: string | undefined): string =>
    pattern === undefined ? (text ?? "") : text === undefined ? `“${pattern}”` : `“${pattern}”: ${text}`,
  becauseLine: (reason: string): string => `because ${reason}`,
  ask: (question: string): string => `To settle most, ask: ${question}`,
  refused: (problem: string): string => `No answer. ${problem}`,
  quoted,
};
