/**
 * The opposite of a test, in the plainest words the language has for it.
 *
 *     cover has grass           cover has no grass
 *     clarity is dirtier than X clarity is X or clearer
 *     wind is at least 10 mph   wind is below 10 mph
 *     anything else             not (…)
 */
import type { Model } from "../../model/model.js";
import type { Test } from "../../syntax/tree.js";
import type { View } from "../view.js";
import { textIn } from "./edits.js";

function opposite(view: View, test: Test): string {
  return (
    (test.kind === "compare"
      ? oppositeCompare(view, test)
      : test.kind === "not" && test.part?.kind === "parentheses"
        ? undefined
        : plainly(view, test)) ?? `not ${inParentheses(view, test)}`
  );
}

/** Several tests that do not hold together: one of them is named by its opposite, more are put in parentheses. */
export function oppositeOfAll(view: View, tests: readonly Test[]): string {
  return tests.length === 1 ? opposite(view, tests[0]!) : `not (${tests.map((test) => joinable(view, test)).join(" and ")})`;
}

/** As a part of an `and`. */
function joinable(view: View, test: Test): string {
  const text = textIn(view, test.range);
  return test.kind === "or" || holdsSituation(view.model, test) ? `(${text})` : text;
}

/** The operands of an `and`; of anything else the test itself. */
export function partsOf(test: Test): readonly Test[] {
  if (test.kind === "and") return test.parts.flatMap(partsOf);
  return test.kind === "parentheses" && test.part?.kind === "and" ? partsOf(test.part) : [test];
}

function plainly(view: View, test: Test): string | undefined {
  if (test.kind === "situation") return `not ${textIn(view, test.range)}`;
  return test.kind === "not" && (test.part?.kind === "situation" || test.part?.kind === "compare")
    ? textIn(view, test.part.range)
    : undefined;
}

function inParentheses(view: View, test: Test): string {
  const text = textIn(view, test.range);
  return test.kind === "parentheses" ? text : `(${text})`;
}

/** `sky is dark or low-vision`, with a situation among its values, is heard as two tests. */
function holdsSituation({ situations }: Model, test: Test): boolean {
  return (
    test.kind === "compare" &&
    test.relation?.kind === "is" &&
    test.relation.values.some((value) => value.kind === "name" && situations.some(({ name }) => name === value.text))
  );
}

function oppositeCompare(view: View, test: Test & { readonly kind: "compare" }): string | undefined {
  const { subject, relation } = test;
  if (!relation || holdsSituation(view.model, test)) return undefined;
  const words = [...view.model.conditions, ...view.model.picks].find(({ name }) => name === subject.text);
  const other = (word: string): string | undefined =>
    word === words?.rising ? words.falling : word === words?.falling ? words.rising : undefined;
  const text = (node: Parameters<typeof textIn>[1]): string => textIn(view, node);
  switch (relation.kind) {
    case "is": {
      const [first, second, third] = relation.values;
      if (!first || third) return undefined;
      if (!second) return `${subject.text} ${relation.form === "is" ? "is not" : "is"} ${text(first.range)}`;
      const away = second.kind === "name" ? other(second.text) : undefined;
      if (away !== undefined) return relation.form === "is" ? `${subject.text} is ${away} than ${text(first.range)}` : undefined;
      if (relation.form === "is not") return undefined;
      return relation.form === "is"
        ? `${subject.text} is neither ${text(first.range)} nor ${text(second.range)}`
        : `${subject.text} is ${text(first.range)} or ${text(second.range)}`;
    }
    case "than": {
      const away = other(relation.word.text);
      return away && relation.value ? `${subject.text} is ${text(relation.value.range)} or ${away}` : undefined;
    }
    case "limit":
      return (
        relation.value &&
        `${subject.text} is ${{ "at least": "below", "at most": "above", above: "at most", below: "at least" }[relation.limit]} ${text(relation.value.range)}`
      );
    case "has": {
      const list = relation.members.map(({ text }) => text).join(", ");
      if (relation.form === "has" || relation.form === "has any of") return `${subject.text} has no ${list}`;
      if (relation.form === "has no") return `${subject.text} ${relation.members.length === 1 ? "has" : "has any of"} ${list}`;
      return undefined;
    }
    case "is empty":
      return `${subject.text} is not empty`;
    case "is not empty":
      return `${subject.text} is empty`;
    default:
      return undefined;
  }
}
