/** Every sentence of tables, answers and explanations: wording only, given as plain text. */
import { listed, quoted, sayList, sayPercent, type Share, type Texts } from "./words.js";

function rows(numbers: readonly number[]): string {
  return `${numbers.length === 1 ? "row" : "rows"} ${listed(numbers.map(String))}`;
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
  const note = status === "toss-up" ? " (toss-up)" : status === "fallback" ? " (when nothing else decides)" : "";
  const [front, ...rest] = list;
  return rest.length === 0 ? `${sayList(list)}${note}` : `${front!.join(" or ")}${note}, then ${sayList(rest)}`;
}

export const tableWords = {
  // Tables
  undecided: (pick: string): string => `The answers for ${pick} need more steps than the budget allows, so there is no table of them.`,
  nothingPossible: "No combination of conditions is possible in this book, so there is nothing to put in a table.",
  tooManyRows: (most: number, picks: readonly string[]): string =>
    picks.length > 1
      ? `One table for ${listed(picks)} together would have more than ${most} rows. Ask for fewer picks at a time, for example \`--pick ${picks[0]!}\`.`
      : `The table for ${listed(picks)} would have more than ${most} rows, too many to read. Ask for the answer at one point instead.`,
  outcome,
  any: "any",
  noMembers: "none",
  /** Beside others, a part that is itself a choice stands in parentheses: "mullet and (eels or weed)". */
  withMembers: (parts: readonly { readonly words: string; readonly choice: boolean }[]): string =>
    listed(parts.map(({ words, choice }) => (choice && parts.length > 1 ? `(${words})` : words))),
  withoutMembers: (members: readonly string[]): string => `no ${listed(members, "or")}`,
  exactly: (value: string): string => value,
  below: (value: string): string => `below ${value}`,
  atMost: (value: string): string => `up to ${value}`,
  above: (value: string): string => `above ${value}`,
  atLeast: (value: string): string => `${value} and more`,
  between: (from: string, to: string): string => `${from} to ${to}`,
  both: (low: string, high: string): string => `${low}, ${high}`,
  phrases: (parts: readonly string[]): string => parts.join("; or "),
  only: (members: readonly string[]): string => `only ${listed(members)}`,
  conditionIs: (label: string, words: string): string => `${label} ${words}`,
  orElse: ", or ",
  cannotBe: "cannot be",
  /** Parts that have a comma of their own are set off from one another by more than that. */
  either: (parts: readonly string[]): string => (parts.some((part) => part.includes(", ")) ? parts.join("; or ") : listed(parts, "or")),
  /** What a pick may come to where that is not one option. */
  front: (front: readonly string[] | string): string =>
    typeof front !== "string" ? `${listed(front, "or")} alike` : front === "unsettled" ? "no answer" : (plainStatus[front] ?? front),
  except: (level: string): string => `not ${level}`,
  means: (name: string, what: string): string => `${name} is ${what}`,
  legend: (label: string, meanings: readonly string[]): string => `${label}: ${meanings.join("; ")}.`,
  because: "Because",
  byAcross: (down: string, across: string): string => `${down} by ${across.toLowerCase()}`,
  goodFor: (from: string | undefined, to: string | undefined): string =>
    from && to ? `good from ${from} to ${to}` : from ? `good from ${from}` : to ? `good to ${to}` : "",
  /** What closes everything, on top of all that is printed: its reason, and where. */
  closed: (because: string | undefined, where: string | undefined): string =>
    because === undefined ? `Closed: ${where ?? "always"}.` : where === undefined ? because : `${where}: ${because}`,
  /** The same where not enough is known; `when`: as the book writes it. */
  mayBeClosed: (because: string | undefined, when: string): string =>
    because === undefined ? `Closed if ${when}.` : `If ${when}: ${because}`,
  /** Above the chart of one pick on which nothing is said. */
  silence: (because: string | undefined, where: string | undefined): string =>
    because === undefined ? `No advice: ${where ?? "always"}.` : where === undefined ? because : `${where}: ${because}`,
  mind: "Mind:",
  mindHeading: "Mind",
  caution: (title: string, when: string | undefined, text: string): string => `${title}${when === undefined ? "" : ` (${when})`}: ${text}`,
  may: (text: string): string => `${text} (may apply here)`,
  /** Rows that a caution belongs to, for certain and perhaps. */
  inRows: (sure: readonly number[], perhaps: readonly number[]): string =>
    [...(sure.length > 0 ? [rows(sure)] : []), ...(perhaps.length > 0 ? [`may apply to ${rows(perhaps)}`] : [])].join("; "),
  see: (sources: readonly string[]): string => `See ${listed(sources)}.`,

  // What a customer gives
  dayFrom: (day: string, where: string): string => `${day} (from ${where})`,
  givenTwice: (condition: string): string => `${condition} was given twice; give it once.`,
  pickAsCondition: (name: string): string => `${name} is something the book recommends, not something to tell it.`,
  unknownCondition: (name: string, close: string | undefined, known: readonly string[]): string =>
    `There is no condition ${name}.${close === undefined ? "" : ` Did you mean ${close}?`} The book asks about ${listed(known)}.`,
  impossible: (because: string | undefined): string =>
    `The book says that this does not occur${because === undefined ? "." : `: ${because.replace(/\.$/, "")}.`}`,
  impossibleTogether: (becauses: readonly string[]): string =>
    `Nothing that the book holds possible fits all of this${becauses.length === 0 ? "." : `: ${becauses.map((because) => because.replace(/\.$/, "")).join("; ")}.`}`,
  emptySet: (condition: string): string => `${condition} always has at least one member; none cannot occur.`,
  askLevel: (label: string, levels: readonly string[]): string => `${label}: ${listed(levels, "or")}?`,
  askMembers: (label: string, members: readonly string[]): string => `${label}: which of ${listed(members, "or")}, if any?`,
  askNumber: (label: string, unit: string | undefined): string => `${label}: how ${unit === undefined ? "much" : `many ${unit}`}?`,
  askDay: (label: string): string => `${label}: which day?`,
  askTime: (label: string): string => `${label}: at what time of day?`,
  judged: (label: string): string => `${label} (judged)`,

  // Answers in words
  given: (known: string, unknown: readonly string[]): string =>
    `${known === "" ? "Nothing is known yet" : `Known: ${known}`}.${unknown.length === 0 ? "" : ` Not known: ${listed(unknown)}.`}`,
  depends: "it depends",
  notDecided: "not decided: the answers need more steps than the budget allows",
  safe: (list: Texts): string => `${sayList(list)} fits either way`,
  nothingSafe: "nothing fits every case",
  possible: (what: string, share: Share): string => `${what} (${share.n === 0n ? "only at single values" : sayPercent(share)})`,
  morePossible: (count: number): string => `and ${count} more`,
  noAdvice: (because: readonly string[]): string =>
    because.length === 0 ? plainStatus["no advice"]! : `${plainStatus["no advice"]!}: ${[...new Set(because)].join(" ")}`,
  reason: (pattern: string | undefined, text: string | undefined): string =>
    pattern === undefined ? (text ?? "") : text === undefined ? `because “${pattern}”` : `because “${pattern}”: ${text}`,
  ask: (question: string): string => `To settle most, ask: ${question}`,

  // Why
  explain: {
    taken: (values: string, roughly: boolean): string =>
      `Not given${roughly ? ", or not exactly" : ""}, and for this explanation taken as it might be: ${values}.`,
    closed: (when: string): string => `The book says nothing on anything when ${when}, which is so here.`,
    nothingSettled: "Too little is known to explain anything yet: no pick has a settled answer. This is what is possible:",
    at: (point: string): string => `Here: ${point}.`,
    headline: (label: string, outcome: string): string => `${label}: ${outcome}.`,
    goes: (list: Texts): string => `says ${sayList(list)}`,
    leans: (option: string, by: string): string =>
      by.startsWith("-") ? `leans off ${option} by ${by.slice(1)}` : `leans to ${option} by ${by}`,
    nevers: (options: readonly string[]): string => `rules out ${listed(options)}`,
    moves: (steps: number): string => `moves it ${Math.abs(steps)} ${steps > 0 ? "up" : "down"}`,
    pattern: (title: string, says: readonly string[], because: string | undefined, fate: string | undefined): string =>
      `“${title}” ${listed(says)}${fate === undefined ? "" : `; ${fate}`}.${because === undefined ? "" : ` ${because}`}`,
    stands: "it stands",
    silent: "it is not heard, since the book says nothing on this here",
    yields: ({
      to,
      by,
      own,
      other,
      book,
    }: {
      readonly to: string;
      readonly by: string;
      readonly own?: string;
      readonly other?: string;
      readonly book?: string;
    }): string => {
      switch (by) {
        case "beats":
          return `it is beaten by “${to}”, as the book states`;
        case "more local":
          return `it yields to “${to}”, which stands in the more local book “${book ?? ""}”`;
        case "narrower":
          return `it yields to “${to}”, which is narrower: it speaks only where this one does, and not everywhere there`;
        default:
          return other === undefined
            ? `it yields to “${to}”, which is trusted more`
            : `it yields to “${to}”, which goes by ${other}; ${own === undefined ? "this one goes by nothing the book trusts as much" : `${own}, which this one goes by, is trusted less`}`;
      }
    },
    notApplicable: (onlyWhen: string): string => `It is asked for only when ${onlyWhen.replace(/\s+/g, " ")}, which is not so here.`,
    noAdvice: (text: string | undefined): string => `The book says nothing on this here on purpose.${text === undefined ? "" : ` ${text}`}`,
    silentToo: (picks: readonly string[]): string => `It goes by ${listed(picks)}, on which the book gives no advice here.`,
    waits: (picks: readonly string[]): string =>
      `It waits for ${listed(picks)}, which ${picks.length === 1 ? "is" : "are"} not settled here.`,
    circle: (titles: readonly string[]): string => `${quoted(titles)} beat each other in a circle, so none of them wins.`,
    disagree: "Those that stand have no option in common that is left, and nothing settles which of them wins.",
    allRuledOut: "Everything that was recommended is ruled out.",
    gap: "Nothing that speaks here gives an answer, and there is nothing to fall back on.",
    copy: "It starts out as what is observed.",
    totals: (totals: readonly { readonly option: string; readonly total: string }[]): string =>
      `Nothing says outright what to use, so the leans are added up: ${listed(totals.map(({ option, total }) => `${option} ${total}`))}.`,
    fallBack: (text: string | undefined): string => `Nothing else decides, so it is this.${text === undefined ? "" : ` ${text}`}`,
    shifted: (steps: number): string =>
      `All told it is moved ${Math.abs(steps)} ${steps > 0 ? "up" : "down"} along the order, as far as that goes.`,
    tossUp: "Nothing tells those in front apart.",
    later: (option: string, place: number): string =>
      `${option} comes ${["second", "third", "fourth", "fifth"][place - 2] ?? `number ${place}`}.`,
    ruledOut: (option: string, by: readonly string[]): string => `Not ${option}: ${quoted(by)} rule${by.length === 1 ? "s" : ""} it out.`,
    movedAway: (option: string, by: readonly string[]): string =>
      `Not ${option}: ${quoted(by)} move${by.length === 1 ? "s" : ""} the answer away from it.`,
    notShared: (option: string, by: readonly string[]): string =>
      `Not ${option}: ${quoted(by)} ${by.length === 1 ? "does" : "do"} not name it.`,
    optionYields: (option: string, by: readonly string[]): string =>
      `Not ${option}: ${quoted(by)}, which recommend${by.length === 1 ? "s" : ""} it, yield${by.length === 1 ? "s" : ""}.`,
    optionSilent: (option: string, by: readonly string[]): string =>
      `Not ${option}: ${quoted(by)}, which recommend${by.length === 1 ? "s" : ""} it, ${by.length === 1 ? "is" : "are"} not heard here.`,
    onlyLeaned: (option: string, total: string): string =>
      `Not ${option}: it is only leaned to (by ${total}), and leans count where nothing says outright what to use.`,
    leanedLess: (option: string, total: string, front: string): string =>
      `Not ${option}: its leans add up to ${total}, those of the first choice to ${front}.`,
    nothingFor: (option: string): string => `Not ${option}: nothing speaks for it.`,
    change: (to: string, outcome: string): string => `With ${to} it would be: ${outcome}.`,
  },
};
