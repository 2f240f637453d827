/**
 * The layout of one clause, or of a statement's head: rule by rule, in the order of the text.
 *
 * Lists are filled, tests break before `and` and `or`; commas the language lets one leave out are put in, and parentheses that
 * neither change nor ease the reading are taken out.
 */
import type { CstNode, IToken } from "chevrotain";
import { builders } from "prettier/doc";
import * as T from "../../grammar/tokens.js";
import { has, kid, kids, tokens } from "./concrete.js";
import { filled, glue, glueAll, joint, ordered, wrapped, word, writtenPart, type PrintPart, type Waiting } from "./print-parts.js";

const { align, group, indent, line } = builders;

export function printNode(node: CstNode, waiting: Waiting): PrintPart {
  switch (node.name) {
    case "test":
      return printTest(node, waiting);
    case "values":
    case "place":
    case "isNeither":
      return printAlternatives(node, waiting);
    case "levels":
    case "members":
    case "options":
    case "pickNames":
    case "titles":
    case "bandParts":
      return filled(listItems(ordered(node), waiting));
    case "places":
    case "trustOrder":
      return filled(printOrder(node, waiting));
    default:
      return printParts(ordered(node), waiting);
  }
}

/** Words with blanks between them; none before a comma or colon. */
export function printParts(children: readonly (CstNode | IToken)[], waiting: Waiting): PrintPart {
  let whole: PrintPart | undefined;
  for (const [i, child] of children.entries()) {
    const part = "image" in child ? word(child, waiting) : printNode(child, waiting);
    const isMark = "image" in child && (child.tokenType === T.Comma || child.tokenType === T.Colon);
    // A comma that may be left out is written: before `falling is`, `to the nearest`, `at least one`.
    const comma = "image" in child && commaBefore.has(child.tokenType) && !isToken(children[i - 1], T.Comma);
    // A comma that ends a head (`…: blade must be colorado, when …`) is not.
    if (isToken(child, T.Comma) && children[i + 1] === undefined) continue;
    const separator = isMark ? "" : comma || isToken(children[i - 1], T.Comma) ? group(line) : " ";
    whole = whole === undefined ? part : glue(comma ? glue(whole, "", { doc: "," }) : whole, separator, part);
  }
  return whole ?? { doc: "" };
}

const commaBefore = new Set([T.FallingIs, T.ToTheNearest, T.AtLeastOne]);

function isToken(child: CstNode | IToken | undefined, type: IToken["tokenType"]): boolean {
  return child !== undefined && "image" in child && child.tokenType === type;
}

/** `a, b, c`: each item with its comma. */
function listItems(children: readonly (CstNode | IToken)[], waiting: Waiting): PrintPart[] {
  const items: PrintPart[] = [];
  for (const child of children) {
    if ("image" in child) items.push(glue(items.pop() ?? { doc: "" }, "", word(child, waiting)));
    else items.push(printNode(child, waiting));
  }
  return items;
}

/** `a or b` in one place; each alternative may start a line. */
function printAlternatives(node: CstNode, waiting: Waiting): PrintPart {
  const lines: PrintPart[] = [];
  for (const [i, child, next] of withNext(ordered(node))) {
    const starts = i === 0 || isToken(child, T.Or) || isToken(child, T.Nor);
    const part = "image" in child ? joint(child, next, waiting) : printNode(child, waiting);
    if (starts) lines.push(part);
    else lines.push(glue(lines.pop()!, " ", part));
  }
  return wrapped(filled(lines), indent);
}

function withNext<A>(list: readonly A[]): (readonly [number, A, A | undefined])[] {
  return list.map((one, i) => [i, one, list[i + 1]] as const);
}

/** `a, then b, then c`, `clarity first, then sky`. */
function printOrder(node: CstNode, waiting: Waiting): PrintPart[] {
  const items: PrintPart[] = [];
  const withFirst = node.name === "trustOrder" && !has(node, T.First);
  for (const [, child, next] of withNext(ordered(node))) {
    if (isToken(child, T.Comma)) continue;
    const part =
      "image" in child ? (isToken(child, T.Then) ? joint(child, next, waiting) : word(child, waiting)) : printNode(child, waiting);
    const last = items.pop();
    if (last === undefined) items.push(withFirst ? glue(part, " ", { doc: "first" }) : part);
    else if (isToken(child, T.Then)) items.push(glue(last, "", { doc: "," }), part);
    else items.push(glue(last, " ", part));
  }
  return items;
}

// Tests ---------------------------------------------------------------------------------------------------------------------

function printTest(node: CstNode, waiting: Waiting): PrintPart {
  const lines: PrintPart[] = [];
  for (const { join, term } of flatTerms(node)) {
    if (join === undefined) {
      lines.push(printTerm(term, waiting));
      continue;
    }
    if (has(join, T.Comma)) lines.push(glue(lines.pop()!, "", word(tokens(join, T.Comma)[0]!, waiting)));
    const joining = joint((tokens(join, T.And)[0] ?? tokens(join, T.Or)[0])!, term, waiting);
    lines.push(glue(joining, " ", printTerm(term, waiting)));
  }
  return wrapped(glueAll(lines, line), group);
}

interface Joined {
  readonly join?: CstNode;
  readonly term: CstNode;
}

/** The terms of a test, with those of needless parentheses among them. */
function flatTerms(node: CstNode): Joined[] {
  const joins = kids(node, "join");
  const all = kids(node, "term");
  const plainAnd = joins.every(isPlainAnd);
  return all
    .flatMap((term, i) => {
      const join = joins[i - 1];
      const core = coreOf(term);
      const inner = kid(core, "test");
      if (inner === undefined || has(core, T.Not)) return [{ join, term: core }];
      const alone = all.length === 1;
      const sameAnd = plainAnd && kids(inner, "join").length > 0 && kids(inner, "join").every(isPlainAnd);
      if (!alone && !sameAnd) return [{ join, term: core }];
      return flatTerms(inner).map((one, j) => (j === 0 ? { join, term: one.term } : one));
    })
    .map((one, i, list) => ({ join: one.join, term: bare(one.term, [list[i]!.join, list[i + 1]?.join]) }));
}

/** Without parentheses around a single term, as long as they only stand around parentheses. */
function coreOf(term: CstNode): CstNode {
  const inner = kid(term, "test");
  if (inner === undefined || has(term, T.Not) || kids(inner, "term").length !== 1) return term;
  const only = kids(inner, "term")[0]!;
  return has(only, T.Open) && !has(only, T.Not) ? coreOf(only) : term;
}

/** The one term inside all its parentheses; with its `not`s if it has any there. */
function innermost(term: CstNode): CstNode {
  const terms = kids(kid(term, "test"), "term");
  if (terms.length !== 1) return term;
  return has(terms[0], T.Not) ? terms[0]! : innermost(terms[0]!);
}

/** A single term comes out of its parentheses unless an `or` beside it, or one of its own, could then be heard another way. */
function bare(term: CstNode, joins: readonly (CstNode | undefined)[]): CstNode {
  const inner = kid(term, "test");
  if (inner === undefined || has(term, T.Not) || kids(inner, "term").length !== 1) return term;
  if (joins.some((join) => join !== undefined && has(join, T.Or) && !has(join, T.Comma))) return term;
  const only = kids(inner, "term")[0]!;
  const relation = kid(only, "relation");
  const values = kid(kid(relation, "is") ?? kid(relation, "isNot"), "values");
  const inCompany = joins.some((join) => join !== undefined);
  return inCompany && kids(values, "value").length > 1 ? term : only;
}

function isPlainAnd(join: CstNode): boolean {
  return has(join, T.And) && !has(join, T.Comma);
}

function printTerm(node: CstNode, waiting: Waiting): PrintPart {
  const inner = kid(node, "test");
  const nots = tokens(node, T.Not).map((not) => word(not, waiting));
  if (inner === undefined)
    return glueAll([
      ...nots,
      ...ordered(node)
        .filter((child) => !isToken(child, T.Not))
        .map((child) => printNode(child as CstNode, waiting)),
    ]);
  const core = coreOf(node);
  // `not (low-vision)` reads as well without.
  const single = innermost(core);
  if (nots.length > 0 && kid(single, "subject") !== undefined && kid(single, "relation") === undefined && !has(single, T.Not))
    return glueAll([...nots, printTerm(single, waiting)]);
  const open = writtenPart("(", tokens(core, T.Open)[0]!, waiting);
  const body = printTest(kid(core, "test")!, waiting);
  const close = writtenPart(")", tokens(core, T.Close)[0]!, waiting);
  const inside = glue(glue(open, "", body), "", close);
  return glueAll([...nots, wrapped(inside, (doc) => align(1, doc))]);
}
