/** Every sentence of the analysis: wording only, given as plain text. */
import type { Example } from "../diagnostics.js";
import { listed, quoted, sayExample, sayList, sayShare, type Share, type Texts } from "./words.js";

export interface Saying {
  readonly title: string;
  readonly message: string;
  readonly help: string;
}

/** Where it is so, how much that is, and one example. */
export interface Whereabouts {
  readonly where: string;
  readonly example: Example;
  readonly share: Share;
}

const place = ({ where, share }: Whereabouts): string => (where === "always" ? "Everywhere" : `Where ${where}, ${sayShare(share)}`);
const forExample = ({ example }: Whereabouts): string => `For example: ${sayExample(example)}.`;

export interface Spoken {
  readonly title: string;
  /** What it says on the pick, in words. */
  readonly says: string;
}

export const analysisWords = {
  disagree: (pick: string, patterns: readonly Spoken[], at: Whereabouts): Saying => ({
    title: patterns.length === 2 ? "Two patterns disagree" : `${patterns.length} patterns disagree`,
    message: `${place(at)}, ${listed(patterns.map(({ title, says }) => `“${title}” says ${says}`))}, and nothing settles which of them wins, so there is no ${pick}. ${forExample(at)}`,
    help: "Say which one wins with `beats`, make one `when` narrower, or trust one of their conditions first.",
  }),
  struck: (pick: string, patterns: readonly Spoken[], at: Whereabouts): Saying => ({
    title: "What one pattern recommends another rules out",
    message: `${place(at)}, ${listed(patterns.map(({ title, says }) => `“${title}” says ${says}`))}, which leaves no ${pick}. ${forExample(at)}`,
    help: "Say which one wins with `beats`, add a second choice with `, then`, or make one `when` narrower.",
  }),
  nothingLeft: (pick: string, patterns: readonly string[], at: Whereabouts): Saying => ({
    title: "Everything is ruled out",
    message: `${place(at)}, ${quoted(patterns)} rule${patterns.length === 1 ? "s" : ""} out every ${pick} there is. ${forExample(at)}`,
    help: "Make one of them narrower, or `say nothing on` the pick there if that is meant.",
  }),
  circle: (pick: string, patterns: readonly string[], at: Whereabouts): Saying => ({
    title: "Patterns beat each other in a circle",
    message: `${place(at)}, ${quoted(patterns)} ${patterns.length === 2 ? "both" : "all"} speak, and each is beaten by ${patterns.length === 2 ? "the other" : "another of them"}, so no ${pick} wins. ${forExample(at)}`,
    help: "Take one `beats` out of the circle.",
  }),
  gap: (pick: string, at: Whereabouts): Saying => ({
    title: `No ${pick} is recommended`,
    message: `${place(at)}, no pattern gives a ${pick}. ${forExample(at)}`,
    help: `Add a pattern for it, or a \`fall back on ${pick}\`; where silence is meant, \`say nothing on ${pick} when …\`.`,
  }),
  hairline: (pick: string, kind: "gap" | "conflict", at: Whereabouts): Saying => ({
    title: `A hairline ${kind}`,
    message: `${place(at)}, ${kind === "gap" ? `no ${pick} is recommended` : `the ${pick} is in conflict`}, though it is settled just below and just above. ${forExample(at)}`,
    help: "Let one of the two limits take the value in (`or` with the comparing word, `at least`, `at most`), or read the measure in steps with `to the nearest`.",
  }),
  nothingPossible: (statements: number): Saying => ({
    title: "Nothing is possible",
    message: `${statements === 1 ? "This statement rules" : `${statements} statements together rule`} out every value that the conditions can have, so there is no day on which the book is asked, and nothing else in it was checked.`,
    help: "Make the `when` of one of them narrower: `impossible` is for what never occurs.",
  }),
  tossUp: (pick: string, options: readonly string[], patterns: readonly string[], at: Whereabouts): Saying => ({
    title: `A toss-up between ${listed(options)}`,
    message: `${place(at)}, ${listed(options)} come out level for ${pick}${patterns.length > 0 ? `, through ${quoted(patterns)}` : ""}. ${forExample(at)}`,
    help: "Add a lean that tells them apart, or write `A or B` in one pattern if either will do.",
  }),
  waiting: (pick: string, open: readonly { readonly pick: string; readonly options: readonly string[] }[], at: Whereabouts): Saying => ({
    title: `${pick} waits to hear which one it is`,
    message: `${place(at)}, ${open.map((other) => `${other.pick} may be ${listed(other.options, "or")}`).join(", and ")}, and the answer for ${pick} depends on which. ${forExample(at)}`,
    help: `Put one of them first with \`, then\`, or give ${pick} an answer that holds for each of them.`,
  }),
  doesNothing: (title: string, why: string): Saying => ({
    title: "This pattern does nothing",
    message: `Without “${title}” every answer of the book would be the same: ${why}.`,
    help: "Take it out, or change its `when` so that it speaks where nothing stronger does.",
  }),
  whyNever: "its `when` can never hold",
  whyNotAsked: (picks: readonly string[]): string =>
    `wherever its \`when\` holds, ${listed(picks, "or")} does not apply, is silent, or waits for another pick`,
  whyYields: (to: readonly string[]): string => `wherever it speaks it yields to ${quoted(to)}`,
  whyOthers: (others: readonly string[]): string =>
    others.length > 0 ? `${quoted(others)} already say${others.length === 1 ? "s" : ""} so` : "what it says changes nothing there",
  whyTwin: (twin: string): string => `“${twin}” says exactly the same`,
  /** `without`: where the pattern would speak if the part were left out. */
  changesNothing: (title: string, part: string, without: "same" | "wider" | "narrower"): Saying => ({
    title: "This part changes nothing",
    message:
      without === "same"
        ? `In “${title}” the rest of the \`when\` already says \`${part}\`, so it would speak in just the same places without it.`
        : without === "wider"
          ? `Without \`${part}\` “${title}” would speak in more places, but every answer would be the same: where it would join in, others win or say the same.`
          : `Without \`${part}\` “${title}” would speak in fewer places, but every answer would be the same: where it would fall silent, others say the same.`,
    help:
      without === "same"
        ? "Take the part out, or check whether something else was meant."
        : "Nothing is wrong; the pattern can be said in fewer words.",
  }),
  neverRecommended: (pick: string, option: string): Saying => ({
    title: `${option} is never recommended`,
    message: `Under no possible conditions does ${option} appear in an answer for ${pick}, not even as a second choice.`,
    help: `Add a pattern that goes with it, or take it out of the options of ${pick}.`,
  }),
  promise: (title: string, found: string, at: Whereabouts): Saying => ({
    title: "A promise is broken",
    message: `“${title}” does not hold. ${place(at)}, ${found}. ${forExample(at)}`,
    help: "Mend the patterns named here, or make the promise's `when` narrower.",
  }),
  promiseOfSilence: (title: string, pick: string, found: string, at: Whereabouts): Saying => ({
    ...analysisWords.promise(title, found, at),
    help: `Where nothing is to be recommended, write \`say nothing on ${pick} when …\`; else make the promise's \`when\` narrower.`,
  }),
  promiseOutcome: (pick: string, status: string, list: Texts): string =>
    list.length > 0 ? `${pick} is ${sayList(list)}${status === "decided" ? "" : ` (${status})`}` : `${pick} has no answer (${status})`,
  setClash: (set: string, winner: Spoken, loser: Spoken, at: Whereabouts): Saying => ({
    title: "Two members of one set pull apart, and trust settles it silently",
    message: `${place(at)}, “${winner.title}” says ${winner.says} and “${loser.title}” says ${loser.says}, each going by something else in ${set}; the first wins only because of the trust list. ${forExample(at)}`,
    help: "If that is meant, say so with `beats`; else add a pattern for the mix.",
  }),
  notClosed: (title: string, pick: string, at: Whereabouts): Saying => ({
    title: "It speaks where everything is closed",
    message: `${place(at)}, a less local book says nothing on everything, and “${title}” gives a ${pick} all the same. ${forExample(at)}`,
    help: "If nobody is to fish there, make its `when` narrower; if the local book knows better, leave it.",
  }),
  fixBeats: (a: string, b: string): string => `Let “${a}” beat “${b}”`,
  fixBeatsToGap: (a: string, b: string, pick: string): string =>
    `Let “${a}” beat “${b}”, which leaves no ${pick} where no other pattern gives one`,
  fixStub: (pick: string): string => `Add a pattern for this ${pick} gap`,
  fixFallBack: (pick: string, list: string): string => `Fall back on ${pick} ${list}`,
  fixRemove: (title: string): string => `Take “${title}” out`,
  relatedPick: (pick: string): string => `${pick} stands here`,
  relatedPattern: (title: string): string => `“${title}” stands here`,
  relatedImpossible: "This is ruled out too",
  relatedClosed: "Here nothing is said on everything",
  relatedSilence: (pick: string): string => `Here nothing is said on ${pick}`,
  budget: (what: string): Saying => ({
    title: "Not decided",
    message: what,
    help: "Everything else that is reported is certain. Allow more steps, or give these patterns fewer conditions to go by.",
  }),
  undecided: {
    pick: (pick: string): string =>
      `The answers for ${pick} need more steps than the budget allows; its shares, toss-ups and unused options are not decided.`,
    blocked: (pick: string, by: string): string => `The answers for ${pick} test ${by}, which is not decided.`,
    question: (what: string): string => `Not decided within the budget: ${what}.`,
  },
  questions: {
    doesNothing: (title: string): string => `whether “${title}” does anything`,
    manyIdle: (patterns: number): string => `whether ${patterns} patterns, or parts of them, change anything`,
    changesNothing: (part: string, title: string): string => `whether \`${part}\` in “${title}” changes anything`,
    promise: (title: string): string => `whether the promise “${title}” holds`,
    shares: (pick: string): string => `the shares of ${pick}`,
    region: (pick: string, code: string): string => `where exactly ${pick} has a ${code}`,
    morePairs: (pick: string, most: number): string =>
      `which patterns disagree about ${pick} beyond the first ${most.toLocaleString("en-US")} pairs`,
    neverRecommended: (pick: string): string => `which options of ${pick} are never recommended`,
    notClosed: (title: string): string => `whether “${title}” speaks where everything is closed`,
    setClash: (pick: string): string => `set clashes of ${pick}`,
  },
};
