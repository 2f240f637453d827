/**
 * Tests: a flat run of terms and joints into `and` and `or`.
 *
 *   a and b, or c   →   or(and(a, b), c)      the comma before the very last `or` separates
 *   a and b or c    →   or(and(a, b), c)      and a finding, for it can be heard two ways
 *
 * The `or` inside `is a or b` never gets here: the grammar has kept it with its values.
 */
import type { CstNode } from "chevrotain";
import * as T from "../../grammar/tokens.js";
import type { Range } from "../text.js";
import { has, kid, kids, name, named, rangeOf, tokenRange, tokens, value } from "./concrete.js";
import { mixingFinding, type Joint } from "./mixing.js";
import type { Report } from "./report.js";
import type { Name, Relation, Test, Value } from "./tree.js";

interface Join {
  readonly joint: Joint;
  readonly comma: boolean;
}

export function buildTest(node: CstNode, report: Report): Test | undefined {
  const joins = kids(node, "join").map((join): Join => ({ joint: has(join, T.Or) ? "or" : "and", comma: has(join, T.Comma) }));
  const terms: Test[] = [];
  const between: Join[] = [];
  for (const [i, term] of kids(node, "term").entries()) {
    const built = buildTerm(term, report);
    if (built === undefined) continue;
    if (terms.length > 0) between.push(joins[i - 1] ?? { joint: "and", comma: false });
    terms.push(built);
  }
  return combine(terms, between, report, true);
}

/** `comma`: whether a comma before the last `or` may still separate. */
function combine(terms: readonly Test[], joins: readonly Join[], report: Report, comma: boolean): Test | undefined {
  if (terms.length < 2) return terms[0];
  const joints = new Set(joins.map(({ joint }) => joint));
  if (joints.size === 1) return joined(joins[0]!.joint, terms);
  const last = joins.findLastIndex(({ joint }) => joint === "or");
  if (comma && joins[last]!.comma) {
    const sides = [
      combine(terms.slice(0, last + 1), joins.slice(0, last), report, false),
      combine(terms.slice(last + 1), joins.slice(last + 1), report, false),
    ];
    return joined(
      "or",
      sides.flatMap((side) => (side?.kind === "or" ? side.parts : (side ?? []))),
    );
  }
  report.take(
    mixingFinding(
      report,
      terms.map(({ range }) => range),
      joins.map(({ joint }) => joint),
    ),
  );
  const alternatives: Test[] = [];
  let start = 0;
  for (let i = 0; i <= joins.length; i++) {
    if (joins[i]?.joint === "and") continue;
    const run = terms.slice(start, i + 1);
    alternatives.push(run.length === 1 ? run[0]! : joined("and", run));
    start = i + 1;
  }
  return joined("or", alternatives);
}

function joined(kind: Joint, parts: readonly Test[]): Test {
  return { kind, parts, range: { start: parts[0]!.range.start, end: parts.at(-1)!.range.end } };
}

function buildTerm(node: CstNode, report: Report): Test | undefined {
  const range = rangeOf(node);
  if (range === undefined) return undefined;
  const open = tokens(node, T.Open)[0];
  const subject = name(kid(node, "subject"));
  const nots = tokens(node, T.Not);
  const inner: Range = { start: open?.startOffset ?? subject?.range.start ?? range.end, end: range.end };
  let test: Test | undefined;
  if (open) test = { kind: "parentheses", part: kids(node, "test").map((one) => buildTest(one, report))[0], range: inner };
  else if (subject) test = buildCompare(subject, kid(node, "relation"), inner);
  for (const not of nots.reverse()) test = { kind: "not", part: test, range: { start: tokenRange(not).start, end: range.end } };
  return test;
}

function buildCompare(subject: Name, node: CstNode | undefined, range: Range): Test {
  if (node === undefined) return { kind: "situation", name: subject, range };
  return { kind: "compare", subject, relation: buildRelation(node), range };
}

function buildRelation(node: CstNode): Relation | undefined {
  const range = rangeOf(node);
  if (range === undefined) return undefined;
  const is = kid(node, "is");
  if (is) {
    const than = kid(is, "comparingWord");
    if (than) {
      const word = name(than);
      return word && { kind: "than", word, value: value(kid(is, "value")), range };
    }
    return { kind: "is", form: "is", values: valuesOf(kid(is, "values")), range };
  }
  const isNot = kid(node, "isNot");
  if (isNot) return { kind: "is", form: "is not", values: valuesOf(kid(isNot, "values")), range };
  const isNeither = kid(node, "isNeither");
  if (isNeither) return { kind: "is", form: "is neither", values: valuesOf(isNeither), range };
  const limit = kid(node, "isLimit");
  if (limit) {
    const word = has(limit, T.IsAtLeast) ? "at least" : has(limit, T.IsAtMost) ? "at most" : has(limit, T.IsAbove) ? "above" : "below";
    return { kind: "limit", limit: word, value: value(kid(limit, "value")), range };
  }
  const between = kid(node, "between");
  if (between) {
    const [from, to] = kids(between, "value").map(value);
    return { kind: "between", from, to, range };
  }
  const member = kid(node, "has");
  if (member) {
    const form = has(member, T.HasAnyOf)
      ? "has any of"
      : has(member, T.HasAllOf)
        ? "has all of"
        : has(member, T.HasNo)
          ? "has no"
          : has(member, T.Only)
            ? "only"
            : "has";
    return { kind: "has", form, members: [...kids(member, "member"), ...kids(kid(member, "members"), "member")].flatMap(named), range };
  }
  return has(node, T.IsEmpty) ? { kind: "is empty", range } : has(node, T.IsNotEmpty) ? { kind: "is not empty", range } : undefined;
}

function valuesOf(node: CstNode | undefined): Value[] {
  return kids(node, "value").flatMap((one) => value(one) ?? []);
}
