/** What a place in a half-written statement is about: which condition or pick, and what has been named there already. */
import type { IToken } from "chevrotain";
import * as T from "../../../grammar/tokens.js";
import type { NamedSubject } from "../names/name-table.js";
import type { BookNames } from "./names.js";
import type { Within } from "./due.js";

/** The condition, pick or judgement that the innermost test is about. */
export function subjectOf(tokens: readonly IToken[], within: readonly Within[], names: BookNames): NamedSubject | undefined {
  const term = within.find(({ rule }) => rule === "term");
  const name = term && tokens.slice(term.start).find((token) => token.tokenType !== T.Not);
  return named(names, name);
}

export function named(names: BookNames, token: IToken | undefined): NamedSubject | undefined {
  return token && names.subjects.get(token.image);
}

/** What a number or a day is a value of: the condition that bands are being named for, or the subject of a test. */
export function measured(tokens: readonly IToken[], within: readonly Within[], names: BookNames): NamedSubject | undefined {
  return within.some(({ rule }) => rule === "bandPart") ? named(names, tokens[1]) : subjectOf(tokens, within, names);
}

/** The pick that an action, a fall back or a promise is about; undefined where options are being declared. */
export function pickOf(tokens: readonly IToken[], within: readonly Within[], names: BookNames): NamedSubject | undefined {
  for (const { rule, start } of within) {
    if (["goWith", "lean", "never", "move", "fallBack", "addOption"].includes(rule)) return named(names, tokens[start + 1]);
    if (rule === "promise") return named(names, tokens[tokens.findIndex(({ tokenType }) => tokenType === T.Colon) + 1]);
  }
  return undefined;
}

/** The names in the list that is being written. */
export function listed(tokens: readonly IToken[], within: readonly Within[], rule: string): ReadonlySet<string> {
  const list = within.find((one) => one.rule === rule);
  return new Set(list ? tokens.slice(list.start).map(({ image }) => image) : []);
}

/** The picks that the pattern or `say nothing` being written speaks of. */
export function spokenPicks(tokens: readonly IToken[]): readonly string[] {
  const actions = [T.GoWith, T.LeanTo, T.LeanOff, T.Never, T.Move, T.SayNothingOn];
  return tokens.flatMap((token, i) => (actions.includes(token.tokenType) && tokens[i + 1] ? [tokens[i + 1]!.image] : []));
}
