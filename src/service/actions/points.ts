/** From examples back to points, and the words for what is new in a book. */
import { optionAsWritten } from "../../analysis/where.js";
import type { Point } from "../../analysis/outcome.js";
import { findPossible, pointIn } from "../../analysis/answers.js";
import { budget, withinBudget } from "../../analysis/budget.js";
import type { Box } from "../../analysis/diagrams/diagram.js";
import type { Example } from "../../diagnostics.js";
import { firstUnused } from "../../messages/words.js";
import type { Pick } from "../../model/model.js";
import { readValue } from "../../model/points.js";
import type { View } from "../view.js";

/** A possible point that agrees with an example; undefined without an analysis, or where none is found in time. */
export function pointOf({ model, analysis }: View, example: Example): Point | undefined {
  if (!analysis) return undefined;
  const { answers } = analysis;
  const box = new Map<number, readonly number[]>();
  for (const [name, value] of Object.entries(example)) {
    const condition = model.conditions.find((one) => one.name === name);
    const reading = condition && readValue(condition, model.axes, typeof value === "string" ? value : value.join(";") || "none");
    if (!reading || "problem" in reading) return undefined;
    for (const { axis, position } of reading.positions) box.set(axis, [position, position]);
  }
  const found: Box | undefined = withinBudget(() => findPossible(answers, box, budget(FEW_STEPS)));
  return found && pointIn(answers, found);
}
const FEW_STEPS = 20_000;

/** An option as the language writes it. */
export function optionWords(pick: Pick, option: number): string {
  return optionAsWritten(pick, option);
}

/** A title no pattern has. */
export function unusedTitle({ model, parsed }: View, wanted: string): string {
  const taken = [...model.patterns, ...model.promises, ...model.cautions].map(({ title }) => title);
  for (const statement of parsed.tree.statements) if ("title" in statement && statement.title) taken.push(statement.title.value);
  return firstUnused(wanted, new Set(taken));
}

export function whenClause(where: string): string {
  return where === "always" ? "" : `\n  when ${where}`;
}
