/**
 * A gap or conflict as thin as a hair: one of the two limits takes the value in, or leaves it to the other.
 *
 * Before (`hairline`):
 * ```lore
 * condition wind: 0 to 40 kn
 *   rising is stronger, falling is calmer
 * pick weight: 1/4 oz, 1/2 oz
 * pattern "Light"
 *   go with weight 1/4 oz
 *   when wind is calmer than 10 kn
 * pattern "Heavy"
 *   go with weight 1/2 oz
 *   when wind is stronger than 10 kn
 * ```
 * After (Write `wind is 10 kn or stronger` for `wind is stronger than 10 kn` in “Heavy”):
 * ```lore
 * condition wind: 0 to 40 kn
 *   rising is stronger, falling is calmer
 * pick weight: 1/4 oz, 1/2 oz
 * pattern "Light"
 *   go with weight 1/4 oz
 *   when wind is calmer than 10 kn
 * pattern "Heavy"
 *   go with weight 1/2 oz
 *   when wind is 10 kn or stronger
 * ```
 */
import { fixTitles } from "../../messages/fixes.js";
import type { Model, Pick } from "../../model/model.js";
import type { Pattern, Test, Value } from "../../syntax/tree.js";
import type { View } from "../view.js";
import type { Mend } from "./candidate.js";
import { replace, textIn } from "./edits.js";
import { nodesIn } from "./written-tests.js";

export const closeHairline: Mend = {
  codes: ["hairline"],
  enough: 6,
  *candidates(view, { pick: name, example = {} }) {
    const pick = view.model.picks.find((one) => one.name === name);
    if (!pick) return;
    const comparisons = speakingOn(view, pick).flatMap((pattern) =>
      (pattern.when ? [...nodesIn(pattern.when)] : []).flatMap((test) => {
        const limit = limitOf(view.model, test);
        return limit && example[limit.subject] !== undefined ? [{ pattern, test, limit }] : [];
      }),
    );
    // As it stands but for its end; then with the value of a neighbour, where two limits are a hair apart.
    for (const { pattern, test, limit } of comparisons)
      yield change(pattern, test, said(limit, !limit.inside, textIn(view, limit.value.range)));
    for (const { pattern, test, limit } of comparisons)
      for (const other of comparisons)
        if (
          other.limit.subject === limit.subject &&
          other.limit.rising !== limit.rising &&
          textIn(view, other.limit.value.range) !== textIn(view, limit.value.range)
        )
          yield change(pattern, test, said(limit, !other.limit.inside, textIn(view, other.limit.value.range)));
    function change(pattern: Pattern, test: Test, text: string) {
      return {
        title: fixTitles.close(textIn(view, test.range), text, pattern.title?.value ?? ""),
        edits: [replace(view, test.range, text)],
      };
    }
  },
};

/** The book's own patterns that can have a say on the pick. */
function speakingOn({ parsed, model }: View, pick: Pick): readonly Pattern[] {
  const names = new Set<string>();
  const add = ({ name, tests }: Pick): void => {
    if (names.has(name)) return;
    names.add(name);
    for (const tested of tests) add(model.picks[tested]!);
  };
  add(pick);
  return parsed.tree.statements.filter(
    (one): one is Pattern =>
      one.kind === "pattern" &&
      !parsed.broken.has(one) &&
      one.actions.some((action) => action.pick !== undefined && names.has(action.pick.text)),
  );
}

/** One end of a stretch: `wind is stronger than 10 kn` begins at 10 kn, which is not inside. */
interface Limit {
  readonly subject: string;
  readonly value: Value;
  /** It is where the stretch begins; else where it ends. */
  readonly rising: boolean;
  readonly inside: boolean;
  /** The comparing words, where the measure has any. */
  readonly words: { readonly rising: string; readonly falling: string } | undefined;
}

function limitOf({ conditions }: Model, test: Test): Limit | undefined {
  if (test.kind !== "compare" || !test.relation) return undefined;
  const {
    subject: { text: subject },
    relation,
  } = test;
  const condition = conditions.find(({ name }) => name === subject);
  if (condition?.domain.kind !== "measure" || condition.domain.step !== undefined) return undefined;
  const words =
    condition.rising !== undefined && condition.falling !== undefined
      ? { rising: condition.rising, falling: condition.falling }
      : undefined;
  const limit = (value: Value | undefined, rising: boolean, inside: boolean): Limit | undefined =>
    value?.kind === "quantity" ? { subject, value, rising, inside, words } : undefined;
  if (relation.kind === "limit")
    return limit(
      relation.value,
      relation.limit === "above" || relation.limit === "at least",
      relation.limit === "at least" || relation.limit === "at most",
    );
  if (relation.kind === "than") return limit(relation.value, relation.word.text === words?.rising, false);
  const [value, word, more] = relation.kind === "is" && relation.form === "is" ? relation.values : [];
  if (more || word?.kind !== "name" || (word.text !== words?.rising && word.text !== words?.falling)) return undefined;
  return limit(value, word.text === words.rising, true);
}

function said({ subject, rising, words }: Limit, inside: boolean, value: string): string {
  if (!words) return `${subject} is ${rising ? (inside ? "at least" : "above") : inside ? "at most" : "below"} ${value}`;
  const word = rising ? words.rising : words.falling;
  return inside ? `${subject} is ${value} or ${word}` : `${subject} is ${word} than ${value}`;
}
