/**
 * What may come next in a half-written statement, read off the grammar itself.
 *
 *   go with blade colorado ▮          then · or                  in places, in goWith, in patternClause, in pattern
 *                                     go with · when · because … in patternClause, in pattern
 *                                     and the statement may end here
 *
 * The parser's rules are walked as a recursive transition network (Woods 1970): a set of places in the grammar, each with the rules it is
 * in, is moved over one token after another. Nothing is decided early, so a statement of any shape is followed; the gates of the
 * parser are not asked, so now and then a place is kept that the parser would leave. Where a token fits nowhere, the walk goes on at the
 * clause it begins, else without it: what is broken before does not silence what comes after.
 */
import {
  Alternation,
  NonTerminal,
  Option,
  Repetition,
  RepetitionMandatory,
  Terminal,
  tokenMatcher,
  type Alternative,
  type IProduction,
  type IToken,
  type TokenType,
} from "chevrotain";
import { statementRules } from "../../../grammar/parser.js";
import * as T from "../../../grammar/tokens.js";
import { makeTools } from "../../syntax/parse.js";

/** A token that may come next. */
export interface Due {
  readonly token: TokenType;
  /** The rules it would stand in, innermost first. */
  readonly within: readonly Within[];
}
export interface Within {
  readonly rule: string;
  /** Which token of the statement the rule begins with; as many as there are, if it begins here. */
  readonly start: number;
}

export interface DueNext {
  readonly dues: readonly Due[];
  /** The statement is whole: another may begin here. */
  readonly mayEnd: boolean;
  /** The last token fits nowhere. */
  readonly lost: boolean;
}

/** After the tokens of one statement, from its first word on. */
export function dueAfter(tokens: readonly IToken[]): DueNext {
  const rule = tokens[0] && statementRules.get(tokens[0].tokenType);
  if (rule === undefined) return { dues: [], mayEnd: false, lost: tokens.length > 0 };
  const body = rules()[rule]!.definition;
  const end: Rest = { kind: "leave", rule, start: 0, next: undefined };
  const clauses = body.findLast((part): part is Repetition => part instanceof Repetition);
  let places = open({ kind: "go on", parts: body, at: 0, next: end }, 0);
  let lost = false;
  tokens.forEach((token, index) => {
    let moved = over(places.dues, token, index + 1);
    // A clause begins, though the one before it is not done.
    if (moved === undefined && clauses && startsClause(token))
      moved = over(open({ kind: "go on", parts: [clauses], at: 0, next: end }, index).dues, token, index + 1);
    lost = moved === undefined;
    places = moved ?? places;
  });
  return {
    dues: places.dues.slice(0, MOST_PLACES).map(({ token, rest }) => ({ token, within: [...rulesOf(rest)] })),
    mayEnd: places.mayEnd,
    lost,
  };
}

/** What is left to read: the rest of a list of parts, and then what follows the rule it stands in. */
type Rest =
  | { readonly kind: "go on"; readonly parts: readonly IProduction[]; readonly at: number; readonly next: Rest | undefined }
  | { readonly kind: "leave"; readonly rule: string; readonly start: number; readonly next: Rest | undefined };

/** A token that may come, what would be left after it. */
interface Place {
  readonly token: TokenType;
  readonly rest: Rest | undefined;
}
interface Places {
  readonly dues: readonly Place[];
  readonly mayEnd: boolean;
}

/** More than any sentence needs: a bound for rubbish. */
const MOST_PLACES = 256;

function over(places: readonly Place[], token: IToken, next: number): Places | undefined {
  const met = places.filter((place) => tokenMatcher(token, place.token));
  if (met.length === 0) return undefined;
  const opened = met.slice(0, MOST_PLACES).map(({ rest }) => open(rest, next));
  return { dues: opened.flatMap(({ dues }) => dues), mayEnd: opened.some(({ mayEnd }) => mayEnd) };
}

/** The tokens that may come first in what is left; `index`: which token of the statement that would be. */
function open(rest: Rest | undefined, index: number): Places {
  const dues: Place[] = [];
  let mayEnd = false;
  const walk = (left: Rest | undefined): void => {
    if (left === undefined) mayEnd = true;
    else if (left.kind === "leave") walk(left.next);
    else if (left.at === left.parts.length) walk(left.next);
    else {
      const part = left.parts[left.at]!;
      const after: Rest = { ...left, at: left.at + 1 };
      if (part instanceof Terminal) dues.push({ token: part.terminalType, rest: after });
      else if (part instanceof NonTerminal) {
        const leave: Rest = { kind: "leave", rule: part.nonTerminalName, start: index, next: after };
        walk({ kind: "go on", parts: part.referencedRule.definition, at: 0, next: leave });
      } else if (part instanceof Alternation)
        for (const way of part.definition as Alternative[]) walk({ kind: "go on", parts: way.definition, at: 0, next: after });
      else if (part instanceof RepetitionMandatory) {
        const again: Rest = { kind: "go on", parts: [new Repetition({ definition: part.definition })], at: 0, next: after };
        walk({ kind: "go on", parts: part.definition, at: 0, next: again });
      } else if (mayBeLeftOut(part)) {
        // A part that repeats comes round again.
        walk({ kind: "go on", parts: part.definition, at: 0, next: part instanceof Repetition ? left : after });
        walk(after);
      }
    }
  };
  walk(rest);
  return { dues, mayEnd };
}

function mayBeLeftOut(part: IProduction): part is Option | Repetition {
  return part instanceof Option || part instanceof Repetition;
}

function* rulesOf(rest: Rest | undefined): Generator<Within> {
  for (let left = rest; left; left = left.next) if (left.kind === "leave") yield { rule: left.rule, start: left.start };
}

function startsClause(token: IToken): boolean {
  return tokenMatcher(token, T.ClauseStart) || [T.Shop, T.Water, T.Edition].includes(token.tokenType);
}

function rules() {
  return makeTools().parser.getGAstProductions();
}
