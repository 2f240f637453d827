/**
 * A name that nobody has declared is declared: as a condition with the value it is tested for, a pick with the option that is recommended,
 * a situation; or it becomes one more value of what it is said of. What nobody can know (the other levels, how far a measure goes, what
 * the situation is) stands there plainly, to be written over.
 *
 * Before (`name`):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Wind wants thump"
 *   go with blade colorado
 *   when wind is strong
 * fall back on blade willow
 * ```
 * After (Declare wind, a condition that is strong or not-strong):
 * ```lore
 * condition clarity: in order clear, muddy
 * condition wind: strong, not-strong
 * pick blade: colorado, willow
 * pattern "Wind wants thump"
 *   go with blade colorado
 *   when wind is strong
 * fall back on blade willow
 * ```
 */
import type { Edit } from "../../diagnostics.js";
import { fixTitles } from "../../messages/fixes.js";
import { readNumber } from "../../model/quantities.js";
import type { Action, FallBack, Name, Statement, Test, Value } from "../../syntax/tree.js";
import type { Range } from "../../text.js";
import type { View } from "../view.js";
import type { Candidate, Mend } from "./candidate.js";
import { addBelow, insert, statementsAt, textIn } from "./edits.js";
import { addDeclaration } from "./new-names.js";
import { nodesIn, testsOf } from "./written-tests.js";

export const declare: Mend = {
  codes: ["name"],
  *candidates(view, { range }) {
    for (const statement of statementsAt(view, range)) {
      for (const test of testsOf(statement).flatMap((one) => [...nodesIn(one)])) yield* ofTest(view, test, range);
      const actions: readonly (Action | FallBack)[] =
        statement.kind === "pattern" ? statement.actions : statement.kind === "fall back" ? [statement] : [];
      for (const action of actions) yield* ofAction(view, action, range);
    }
  },
};

function* ofTest(view: View, test: Test, range: Range): Generator<Candidate> {
  if (test.kind === "situation" && isAt(test.name, range)) {
    const [condition] = view.model.conditions;
    const level = condition?.domain.kind === "scale" ? condition.domain.levels[0] : undefined;
    if (condition && level !== undefined) {
      const meaning = `${condition.name} is ${level}`;
      yield made(view, fixTitles.declareSituation(test.name.text, meaning), `situation ${test.name.text}: ${meaning}`);
    }
  }
  if (test.kind !== "compare" || !test.relation) return;
  const { subject, relation } = test;
  const values = valuesOf(test);
  if (isAt(subject, range)) {
    const names = [...new Set(values.flatMap((value) => (value.kind === "name" ? [value.text] : [])))];
    const [name] = names;
    const number = values.find((value) => value.kind === "quantity");
    if (relation.kind === "has" && relation.members.length > 0) {
      const members = relation.members.map(({ text }) => text);
      yield made(view, fixTitles.declareSet(subject.text, members), `condition ${subject.text}: any of ${members.join(", ")}`);
    } else if (number?.kind === "quantity") {
      const span = `0 to ${roundAbove(number.number)}${number.unit ? ` ${number.unit.text}` : ""}`;
      yield made(view, fixTitles.declareMeasure(subject.text, span), `condition ${subject.text}: ${span}`);
    } else if (name !== undefined) {
      const levels = names.length > 1 ? names : [name, `not-${name}`];
      // From one to another goes only what is in order.
      const order = relation.kind === "between" ? "in order " : "";
      yield made(view, fixTitles.declareScale(subject.text, levels), `condition ${subject.text}: ${order}${levels.join(", ")}`);
    }
    return;
  }
  // As the last of an order it could stand on the wrong side of the other end.
  if (relation.kind === "between") return;
  const parts = [...values, ...(relation.kind === "has" ? relation.members : [])];
  if (parts.some((part) => isAt(part, range))) yield* oneMore(view, subject.text, range);
}

function* ofAction(view: View, { kind, pick, ...said }: Action | FallBack, range: Range): Generator<Candidate> {
  if (!pick) return;
  const options: readonly Value[] = "places" in said ? said.places.flat() : "options" in said ? said.options : [];
  const words = [...new Set(options.map((option) => textIn(view, option.range)))];
  if (isAt(pick, range) && kind !== "move" && words.length > 0) {
    const all = words.length > 1 ? words : [...words, "other"];
    const last = view.parsed.tree.statements.findLast((one) => one.kind === "pick");
    const statement = `pick ${pick.text}: ${all.join(", ")}`;
    const edit = last ? addBelow(view, last, statement) : addDeclaration(view, statement);
    yield { title: fixTitles.declarePick(pick.text, all), edits: [edit] };
  }
  if (options.some((option) => isAt(option, range))) yield* oneMore(view, pick.text, range);
}

/** One more level, member or option where it is declared in this book; of a pick of a base book one is added. */
function* oneMore(view: View, subject: string, range: Range): Generator<Candidate> {
  const word = textIn(view, range);
  const { statements } = view.parsed.tree;
  const own = statements.find(
    (one) => (one.kind === "condition" || one.kind === "pick" || one.kind === "judgement") && one.name?.text === subject,
  );
  const last = own && listOf(own).at(-1);
  if (last) yield { title: fixTitles.oneMore(word, subject), edits: [insert(view, last.range.end, `, ${word}`)] };
  else if (!own && view.model.picks.some(({ name }) => name === subject))
    yield made(view, fixTitles.oneMore(word, subject), `add ${subject} ${word}`);
}

function listOf(statement: Statement): readonly { readonly range: Range }[] {
  if (statement.kind === "pick" || statement.kind === "judgement") return statement.options;
  if (statement.kind !== "condition") return [];
  return statement.domain?.kind === "scale" ? statement.domain.levels : statement.domain?.kind === "set" ? statement.domain.members : [];
}

function valuesOf({ relation }: Test & { readonly kind: "compare" }): readonly Value[] {
  switch (relation?.kind) {
    case "is":
      return relation.values;
    case "than":
    case "limit":
      return relation.value ? [relation.value] : [];
    case "between":
      return [relation.from, relation.to].filter((value) => value !== undefined);
    default:
      return [];
  }
}

/** A power of ten that leaves room above: 100 for 10 to 50. */
function roundAbove(number: string): number {
  const value = Math.abs(readNumber(number)?.value.valueOf() ?? 1);
  return 10 ** Math.max(1, Math.ceil(Math.log10(2 * Math.max(value, 1))));
}

function made(view: View, title: string, statement: string): { readonly title: string; readonly edits: readonly Edit[] } {
  return { title, edits: [addDeclaration(view, statement)] };
}

function isAt({ range: { start, end } }: Pick<Name, "range">, range: Range): boolean {
  return start === range.start && end === range.end;
}
