/**
 * What is declared and never asked about: conditions, bands, groups and situations that no test speaks of.
 *
 * Told only of the book that was asked for: what a base book holds ready for others is no fault of the one that builds on it. And a
 * book without patterns, its own or taken in, is such a base book itself. A name that stands in a statement with an error may well be
 * asked about once that is mended.
 */
import * as say from "../messages/model.js";
import type { ConditionDraft } from "./conditions.js";
import { report, textOf, type Reading, type Named, type Scope } from "./scope.js";

export function reportNeverAsked(scope: Scope, root: Reading, conditions: readonly ConditionDraft[]): void {
  const doubtful = wordsInBroken(scope, root);
  const isAsked = (thing: object, name: string) => scope.mentioned.has(thing) || doubtful.has(name);
  const tell = (
    kind: "condition" | "band" | "group" | "situation",
    { name, namePlace, book }: Pick<Named, "name" | "namePlace" | "book">,
    of?: string,
  ): void => {
    if (book === root.book) report(root, namePlace.range, say.neverAsked(kind, name, of));
  };
  for (const { subject, reading } of conditions) {
    const { name, bands, groups } = subject;
    const parts = [...bands.values(), ...groups.values()];
    if (!isAsked(subject, name) && !parts.some((part) => isAsked(part, part.name))) {
      tell("condition", { name, namePlace: subject.place, book: reading.book });
      if (reading.book === root.book) continue;
    }
    for (const band of bands.values()) if (!isAsked(band, band.name)) tell("band", band, name);
    for (const group of groups.values()) if (!isAsked(group, group.name)) tell("group", group, name);
  }
  for (const situation of scope.situations.values()) if (!isAsked(situation, situation.name)) tell("situation", situation);
}

/** The words of every statement of a book in which an error was found, but for those that declare names themselves. */
function wordsInBroken(scope: Scope, root: Reading): ReadonlySet<string> {
  const errors = [...root.findings, ...scope.findings].filter(({ severity, path }) => severity === "error" && path === root.path);
  const declaring: readonly string[] = ["condition", "band", "group"];
  const broken = root.tree.statements.filter(
    ({ kind, range }) =>
      !declaring.includes(kind) && errors.some((error) => error.range.start >= range.start && error.range.start <= range.end),
  );
  return new Set(broken.flatMap((statement) => textOf(root, statement).match(/\p{L}[\p{L}\p{M}\p{N}-]*/gu) ?? []));
}
