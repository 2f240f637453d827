/** Words of the language where the grammar lets them come, without those that would be turned down for what they mean. */
import { tokenMatcher, type IToken } from "chevrotain";
import * as T from "../../../grammar/tokens.js";
import type { Offer, Place } from "./offer.js";
import { comparesByLimits, comparingWords, domainOf, isOrdered } from "./names.js";
import { subjectOf } from "./about.js";
import type { Due } from "./due.js";

/** By likelihood; those of one statement are not offered in another anyway. */
const likely: readonly string[] = [
  "go with",
  "lean to",
  "when",
  "because",
  "never",
  "move",
  "lean off",
  "beats",
  "see",
  "checked",
  "until",
  "say",
  "rising is",
  "falling is",
  "ask",
  "filled from the",
  "only when",
  "shop",
  "water",
  "edition",
  "good from",
];
const often = new Set(["go with", "lean to", "lean off", "never", "move"]);
/** Words that a comma customarily stands before. */
const afterComma = new Set(["then", "falling is", "at least one", "to the nearest"]);

/** Clauses, and the small words inside them. */
export function* clauseItems({ context, names, view }: Place, { token, within }: Due): Generator<Offer> {
  const word = T.wordOf.get(token);
  if (word === undefined) return;
  const { phrase } = word;
  const isClause = likely.includes(phrase);
  if (isClause && phrase !== "falling is" && !often.has(phrase) && context.tokens.some((one) => one.tokenType === token)) return;
  if (phrase === "not" && context.tokens.at(-1)?.tokenType === T.Not) return;
  if (phrase === "than" && !followsComparingWord(context.tokens, within, names)) return;
  if (phrase === "move" && ![...names.subjects.values()].some((one) => one.thing.kind !== "condition" && isOrdered(names, one))) return;
  const source = sources[phrase];
  if (source && !source.includes(kindOfCondition(context.tokens, names))) return;
  const comma = afterComma.has(phrase) && context.tokens.at(-1)?.tokenType !== T.Comma;
  // The new line says that a clause is wanted; else what goes on in this one.
  const clauses = context.indent !== undefined && context.indent > 0 ? 50 : 400;
  const rank = isClause ? clauses + likely.indexOf(phrase) : phrase === "not" ? 390 : 300;
  yield { label: phrase, kind: "keyword", text: comma ? `, ${phrase}` : phrase, rank, ...(comma && takingBlanks(context, view.text)) };
}

/** What the tool can fill in, for which kinds of conditions. */
const sources: Readonly<Record<string, readonly string[] | undefined>> = {
  date: ["days"],
  clock: ["times"],
  sun: ["measure", ""],
  moon: ["measure", "scale", ""],
};

function kindOfCondition(tokens: readonly IToken[], names: Place["names"]): string {
  const subject = names.subjects.get(tokens[1]?.image ?? "");
  const domain = subject && domainOf(names, subject);
  return typeof domain === "object" ? domain.kind : "";
}

export function followsComparingWord(tokens: readonly IToken[], within: Due["within"], names: Place["names"]): boolean {
  const subject = subjectOf(tokens, within, names);
  return subject !== undefined && comparingWords(names, subject).some(({ word }) => word === tokens.at(-1)?.image);
}

/** What may be said of a subject: of a set `has`, of an order `from`, and so on. */
export function* relationItems({ context, names }: Place, { token, within }: Due): Generator<Offer> {
  const phrase = T.wordOf.get(token)!.phrase;
  const name = (rank: number): Offer => ({ label: phrase, kind: "keyword", text: phrase, rank });
  // Outside tests: the `is` of a group, the `from` of a band.
  if (within[0]?.rule === "group") return yield name(200);
  if (within[0]?.rule === "bandPart") {
    const condition = names.subjects.get(context.tokens[1]?.image ?? "");
    const domain = condition && domainOf(names, condition);
    if (typeof domain !== "object" || domain.kind !== "measure") yield name(200);
    return;
  }
  const subject = subjectOf(context.tokens, within, names);
  if (subject === undefined) {
    if (!names.situations.has(subjectName(context.tokens, within) ?? "")) yield name(200 + order.indexOf(phrase));
    return;
  }
  const domain = domainOf(names, subject);
  const kind = typeof domain === "object" ? domain.kind : "options";
  const isSet = kind === "set";
  if (setOnly.has(phrase) !== isSet) return;
  if ((phrase === "from" || phrase === "is from") && !(isOrdered(names, subject) || kind === "days" || kind === "times")) return;
  if (limits.has(phrase) && !comparesByLimits(names, subject)) return;
  yield name(200 + order.indexOf(phrase));
}

const setOnly = new Set(["has", "has no", "has any of", "has all of", "only", "is empty", "is not empty"]);
const limits = new Set(["is at least", "is at most", "is above", "is below"]);
const order = [
  "is",
  "has",
  "has no",
  "from",
  "is at least",
  "is at most",
  "is above",
  "is below",
  "is not",
  "is neither",
  "has any of",
  "has all of",
  "only",
  "is empty",
  "is not empty",
  "is from",
];

function subjectName(tokens: readonly IToken[], within: Due["within"]): string | undefined {
  const term = within.find(({ rule }) => rule === "term");
  if (term === undefined) return undefined;
  return tokens.slice(term.start).find((token) => token.tokenType !== T.Not)?.image;
}

/** `and` and `or`: joined tests do not mix them, but for a comma before the last `or`. */
export function* joinItems({ context, view, names }: Place, { token, within }: Due): Generator<Offer> {
  const [inner] = within;
  // Between values or options, and before a comparing word.
  if (inner?.rule !== "join") return yield { label: "or", kind: "keyword", text: "or", rank: 290 };
  const test = within.find(({ rule }) => rule === "test");
  const joins = joinsIn(context.tokens.slice(test?.start ?? 0), names);
  const comma = context.tokens.at(-1)?.tokenType === T.Comma;
  if (token === T.And) {
    if (!joins.or && !joins.commaOr && !comma) yield { label: "and", kind: "keyword", text: "and", rank: 280 };
  } else if (!joins.and || (comma && !joins.commaOr)) yield { label: "or", kind: "keyword", text: "or", rank: 292 };
  else if (!joins.commaOr) yield { label: ", or", kind: "keyword", text: ", or", rank: 294, ...takingBlanks(context, view.text) };
}

/** How the tests of one level are joined so far. An `or` counts where a test of its own follows it. */
function joinsIn(
  tokens: readonly IToken[],
  names: Place["names"],
): { readonly and: boolean; readonly or: boolean; readonly commaOr: boolean } {
  let depth = 0;
  const found = { and: false, or: false, commaOr: false };
  tokens.forEach((token, i) => {
    if (token.tokenType === T.Open) depth++;
    if (token.tokenType === T.Close) depth--;
    if (depth !== 0) return;
    if (token.tokenType === T.And) found.and = true;
    if (token.tokenType !== T.Or) return;
    const [before, next, after] = [tokens[i - 1], tokens[i + 1], tokens[i + 2]];
    if (before?.tokenType === T.Comma) found.commaOr = true;
    else if (next && beginsTest(next, after, names)) found.or = true;
  });
  return found;
}

function beginsTest(token: IToken, after: IToken | undefined, names: Place["names"]): boolean {
  if (token.tokenType === T.Not || token.tokenType === T.Open || names.situations.has(token.image)) return true;
  return after !== undefined && tokenMatcher(after, T.RelationStart);
}

/** What begins with a comma stands right after the word before it. */
function takingBlanks({ indent, after, word }: Place["context"], text: string): { readonly from?: number } {
  return indent === undefined && /^[ \t]*$/.test(text.slice(after, word.start)) ? { from: after } : {};
}
