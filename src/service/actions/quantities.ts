/** The quantities that a statement measures something against. */
import type { Quantity, Statement, Test, Value } from "../../syntax/tree.js";
import { nodesIn, testsOf } from "./written-tests.js";

export interface Asked {
  readonly quantity: Quantity;
  /** The condition or pick it is measured against. */
  readonly subject: string;
}

export function quantitiesOf(statement: Statement): readonly Asked[] {
  const said = statement.kind === "band" ? statement.parts.flatMap(({ below }) => asked(statement.condition?.text, below)) : [];
  return [
    ...said,
    ...testsOf(statement)
      .flatMap((test) => [...nodesIn(test)])
      .flatMap(ofTest),
  ];
}

function ofTest(test: Test): readonly Asked[] {
  if (test.kind !== "compare" || !test.relation) return [];
  const { relation, subject } = test;
  const values =
    relation.kind === "is"
      ? relation.values
      : relation.kind === "between"
        ? [relation.from, relation.to]
        : relation.kind === "than" || relation.kind === "limit"
          ? [relation.value]
          : [];
  return values.flatMap((value) => asked(subject.text, value));
}

function asked(subject: string | undefined, value: Value | undefined): readonly Asked[] {
  return subject !== undefined && value?.kind === "quantity" ? [{ quantity: value, subject }] : [];
}
