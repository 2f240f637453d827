/**
 * What a fix must not do on the side. It may take something out where its title says so, and nowhere else:
 *
 *     when clarity is muddy             → when clarity is muddy and not (clarity is muddy)      applies nowhere any more
 *     when clarity is claer, a slip     → the level `clear` taken out, since nobody asks for it     the slip could not be mended
 */
import { withinBudget } from "../../analysis/budget.js";
import { prepared } from "../../analysis/point.js";
import type { Edit, Finding } from "../../diagnostics.js";
import type { Model, Test } from "../../model/model.js";
import type { View } from "../view.js";
import { textIn } from "./edits.js";
import { meaningOf } from "./meaning.js";

/** A pattern, promise or caution that could apply somewhere applies nowhere, or a pattern is gone without the title saying so. */
export function silences(before: Model, after: Model, title: string): boolean {
  if (meaningOf(before) === meaningOf(after)) return false;
  const left = new Set(after.patterns.map((pattern) => pattern.title));
  return (
    before.patterns.some((pattern) => !left.has(pattern.title) && !title.includes(pattern.title)) ||
    idles(before, before.patterns, after, after.patterns) ||
    idles(before, before.promises, after, after.promises) ||
    idles(before, before.cautions, after, after.cautions)
  );
}

interface Conditional {
  readonly title: string;
  readonly when?: Test;
}

function idles(before: Model, old: readonly Conditional[], after: Model, now: readonly Conditional[]): boolean {
  return now.some(({ title, when }) => {
    const was = old.find((one) => one.title === title);
    return was !== undefined && !canApply(after, when) && canApply(before, was.when);
  });
}

/** True also where that takes too long to say. */
function canApply(model: Model, when: Test | undefined): boolean {
  if (!when) return true;
  const { range } = when;
  const possible = model.impossible.map((one): Test => ({ kind: "not", part: one.when, range }));
  return withinBudget(() => prepared(model).whens.canHold({ kind: "and", parts: [when, ...possible], range })) !== false;
}

/** Another error of reading would be mended with a name that goes, or points at what goes. */
export function undermines(view: View, finding: Finding, edits: readonly Edit[]): boolean {
  const gone = edits.filter(({ path, text }) => path === view.path && text === "");
  const names = new Set(gone.flatMap((edit) => declaredIn(view, edit)));
  return view.findings.some(
    ({ severity, code, range, related = [], fixes = [] }) =>
      severity === "error" &&
      (code !== finding.code || range.start !== finding.range.start) &&
      !gone.some((edit) => edit.range.start <= range.start && range.end <= edit.range.end) &&
      (related.some((place) => place.path === view.path && gone.some((edit) => overlap(edit.range, place.range))) ||
        fixes.some((fix) => fix.edits.some(({ text }) => names.has(unquoted(text))))),
  );
}

const declaring: ReadonlySet<string> = new Set(["condition", "pick", "judgement", "situation", "band", "group", "add"]);

function declaredIn(view: View, { range }: Edit): readonly string[] {
  return view.parsed.tree.statements
    .filter((statement) => overlap(statement.range, range))
    .flatMap((statement) => {
      if (statement.kind === "pattern") return statement.title && overlap(statement.title.range, range) ? [statement.title.value] : [];
      if (!declaring.has(statement.kind)) return [];
      const [start, end] = [Math.max(range.start, statement.range.start), Math.min(range.end, statement.range.end)];
      return (
        textIn(view, { start, end })
          .match(/"[^"]*"|[\p{L}\p{M}\p{N}]+(?:-[\p{L}\p{M}\p{N}]+)*/gu)
          ?.map(unquoted) ?? []
      );
    });
}

function unquoted(text: string): string {
  return text.replace(/^"(.*)"$/, "$1");
}

function overlap(a: Edit["range"], b: Edit["range"]): boolean {
  return a.start < b.end && b.start < a.end;
}
