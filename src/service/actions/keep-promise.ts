/**
 * A promise is broken: what it promises is said there by a pattern that wins, or the promise itself is changed. A pattern that says it
 * already is let win first.
 *
 * Before (`promise`):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Flash wins"
 *   go with blade willow
 * fall back on blade colorado
 * promise "Never a willow in mud": blade must not be willow when clarity is muddy
 * ```
 * After (Add a pattern that never says blade willow where clarity is muddy):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Flash wins"
 *   go with blade willow
 * fall back on blade colorado
 * promise "Never a willow in mud": blade must not be willow when clarity is muddy
 *
 * pattern "Never a willow in mud (2)"
 *   never blade willow
 *   when clarity is muddy
 *   beats "Flash wins"
 * ```
 */
import { answersAt } from "../../analysis/point.js";
import { fixTitles } from "../../messages/fixes.js";
import type { Pick, Promise } from "../../model/model.js";
import type * as tree from "../../syntax/tree.js";
import type { View } from "../view.js";
import type { Candidate, Mend } from "./candidate.js";
import { addAtEnd, beating, insert, patternNamed, takeOut } from "./edits.js";
import { demanding } from "./narrow.js";
import { optionWords, pointOf, unusedTitle, whenClause } from "./points.js";

export const keepPromise: Mend = {
  codes: ["promise"],
  *candidates(view, { path, range, patterns = [], where, example }) {
    const promise = view.model.promises.find(({ namePlace }) => namePlace.path === path && namePlace.range.start === range.start);
    const node = view.parsed.tree.statements.find(
      (one): one is tree.Promise => one.kind === "promise" && one.range.start <= range.start && range.end <= one.range.end,
    );
    const pick = promise && view.model.picks[promise.pick];
    if (!promise || !pick || !node || where === undefined) return;
    yield* letWin(view, promise, patterns);
    yield* saidAnew(view, promise, pick, patterns, where);
    const point = example && pointOf(view, example);
    const front = point ? (answersAt(view.model, point)[promise.pick]!.outcome.places[0] ?? []) : [];
    const more = front.filter((option) => !promise.options.includes(option)).map((option) => optionWords(pick, option));
    const last = node.options.at(-1);
    if (promise.must === "be" && last && more.length > 0)
      yield {
        title: fixTitles.allow(promise.title, more),
        edits: [insert(view, last.range.end, more.map((option) => ` or ${option}`).join(""))],
      };
    if (where !== "always")
      yield { title: fixTitles.exempt(promise.title, where), edits: demanding(view, node.when, node.range.end, `not (${where})`, " ") };
    yield { title: fixTitles.takeOut(fixTitles.promised(promise.title)), edits: [takeOut(view, node)] };
  },
};

/** A pattern that says what is promised and loses to those that decide. */
function* letWin(view: View, { pick, must, options }: Promise, deciding: readonly string[]): Generator<Candidate> {
  if (deciding.length === 0 || must === "have no answer" || must === "have an answer") return;
  const says = (option: number): boolean => options.includes(option) === (must === "be");
  for (const { title, goes, leans } of view.model.patterns) {
    const said = [
      ...goes.filter((part) => part.pick === pick).flatMap(({ places }) => places[0] ?? []),
      ...leans.filter((part) => part.pick === pick && part.by.gt(0)).map(({ option }) => option),
    ];
    const pattern = deciding.includes(title) ? undefined : patternNamed(view, title);
    if (pattern && said.length > 0 && said.every(says)) yield* beating(view, pattern, deciding);
  }
}

/** An exception, a `never` or a `say nothing`, as far as the promise is broken. */
function* saidAnew(view: View, promise: Promise, pick: Pick, deciding: readonly string[], where: string): Generator<Candidate> {
  const words = promise.options.map((option) => optionWords(pick, option));
  const beats = deciding.length === 0 ? "" : `\n  beats ${deciding.map((title) => `"${title}"`).join(", ")}`;
  const pattern = (action: string): string => `pattern "${unusedTitle(view, promise.title)}"\n  ${action}${whenClause(where)}${beats}`;
  switch (promise.must) {
    case "be":
      return yield {
        title: fixTitles.exception(pick.name, words, where),
        edits: [addAtEnd(view, pattern(`go with ${pick.name} ${words.join(" or ")}`))],
      };
    case "not be":
      return yield {
        title: fixTitles.never(pick.name, words, where),
        edits: [addAtEnd(view, pattern(`never ${pick.name} ${words.join(", ")}`))],
      };
    case "have an answer":
      for (const option of pick.options.keys()) {
        const word = optionWords(pick, option);
        yield { title: fixTitles.exception(pick.name, [word], where), edits: [addAtEnd(view, pattern(`go with ${pick.name} ${word}`))] };
      }
      return;
    case "have no answer":
      yield {
        title: fixTitles.silence(pick.name, where),
        edits: [addAtEnd(view, `say nothing on ${pick.name}${where === "always" ? "" : ` when ${where}`}`)],
      };
  }
}
