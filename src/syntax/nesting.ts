/** Guards the parser, and all that walks a tree after it, against statements longer or nested deeper than anyone can read. */
import { tokenMatcher, type IToken } from "chevrotain";
import * as T from "../../grammar/tokens.js";
import { syntaxWords } from "../messages/syntax.js";
import { tokenRange } from "./concrete.js";
import type { Report } from "./report.js";

const deepest = 64;
export const longest = 10_000;
/** The parser's recovery calls itself once for every clause. */
const mostClauses = 200;

/** The tokens of a statement without what lies beyond the limits; that is reported. */
export function withinReach(tokens: IToken[], report: Report): IToken[] {
  const kept = shallow(tokens, report);
  const reach = Math.min(longest, nthClause(kept, mostClauses));
  if (kept.length <= reach) return kept;
  report.add("syntax", tokenRange(kept[reach]!), syntaxWords.tooLong());
  return kept.slice(0, reach);
}

/** Without the clauses that open more than `deepest` parentheses and `not`s. */
function shallow(tokens: IToken[], report: Report): IToken[] {
  const kept: IToken[] = [];
  let clause = 0;
  let depth = 0;
  let nots = 0;
  const open: number[] = [];
  let skipping = false;
  for (const token of tokens) {
    if (tokenMatcher(token, T.ClauseStart)) {
      [clause, depth, nots, skipping] = [kept.length, 0, 0, false];
      open.length = 0;
    }
    if (skipping) continue;
    if (token.tokenType === T.Open) {
      open.push(nots + 1);
      depth += nots + 1;
      nots = 0;
    } else if (token.tokenType === T.Close) {
      depth -= open.pop() ?? 0;
      nots = 0;
    } else nots = token.tokenType === T.Not ? nots + 1 : 0;
    if (depth + nots > deepest) {
      report.add("syntax", tokenRange(token), syntaxWords.tooDeep(deepest));
      kept.length = Math.max(clause, 1);
      skipping = true;
    } else kept.push(token);
  }
  return kept;
}

function nthClause(tokens: readonly IToken[], n: number): number {
  let clauses = 0;
  for (const [i, token] of tokens.entries()) if (tokenMatcher(token, T.ClauseStart) && ++clauses > n) return i;
  return tokens.length;
}
