/**
 * Everything a set of books declares, in an order that lets each kind use the ones before it:
 *
 *     conditions ──▶ bands and groups ──▶ picks and judgements ──▶ added options ──▶ situations
 */
import * as say from "../messages/model.js";
import type * as tree from "../syntax/tree.js";
import type { Shelf } from "./books.js";
import { declareBands, declareCondition, declareGroup, type ConditionDraft } from "./conditions.js";
import { declares } from "./naming.js";
import { addOptions, declarePick, type PickDraft } from "./picks.js";
import { placeOf, report, valueNames, type Reading, type Scope } from "./scope.js";

export interface Declared {
  readonly conditions: readonly ConditionDraft[];
  readonly picks: readonly PickDraft[];
}

export function declareAll(scope: Scope, shelf: Shelf): Declared {
  const conditions: ConditionDraft[] = [];
  const picks: PickDraft[] = [];
  for (const { reading, node } of statementsOf(scope, "condition")) {
    const draft = declareCondition(reading, node, conditions.length);
    if (draft !== undefined) conditions.push(draft);
  }
  for (const { reading, node } of statementsOf(scope, "band", "group")) {
    if (node.kind === "band") declareBands(reading, node);
    else declareGroup(reading, node);
  }
  for (const { reading, node } of statementsOf(scope, "pick", "judgement")) {
    const draft = declarePick(reading, node, picks.length);
    if (draft !== undefined) picks.push(draft);
  }
  for (const { reading, node } of statementsOf(scope, "add"))
    addOptions(reading, node, (book) => shelf.moreLocal(reading.book, book), picks);
  for (const { reading, node } of statementsOf(scope, "situation")) declareSituation(reading, node);
  return { conditions, picks };
}

type Kind = tree.Statement["kind"];
type Matching<S, K> = S extends { readonly kind: infer Own } ? ([Extract<K, Own>] extends [never] ? never : S) : never;
export type StatementOf<K extends Kind> = Matching<tree.Statement, K>;

/** The statements of some kinds, book by book in reading order. */
export function* statementsOf<K extends Kind>(
  scope: Scope,
  ...kinds: readonly K[]
): Generator<{ readonly reading: Reading; readonly node: StatementOf<K> }> {
  const wanted: readonly Kind[] = kinds;
  const isWanted = (node: tree.Statement): node is tree.Statement & StatementOf<K> => wanted.includes(node.kind);
  for (const reading of scope.readings) for (const node of reading.tree.statements) if (isWanted(node)) yield { reading, node };
}

function declareSituation(reading: Reading, node: tree.Situation): void {
  const { scope } = reading;
  if (node.name === undefined) return;
  const name = node.name.text;
  const [subject, other] = [scope.subjects.get(name), scope.situations.get(name)];
  const taken = subject?.place ?? other?.namePlace;
  if (taken !== undefined) {
    return report(reading, node.name.range, say.nameTaken(name, "situation", subject?.kind ?? "situation"), {
      related: [{ ...taken, message: say.declaredHere(name) }],
    });
  }
  const owner = [...scope.subjects.values()].find((one) => [...valueNames(one), one.words?.rising, one.words?.falling].includes(name));
  if (owner !== undefined)
    report(reading, node.name.range, say.situationLikeValue(name, owner.name), {
      related: [{ ...owner.place, message: say.declaredHere(owner.name) }],
    });
  declares(reading, node.name, { kind: "situation", name });
  scope.situations.set(name, {
    name,
    book: reading.book,
    place: placeOf(reading, node.range),
    namePlace: placeOf(reading, node.name.range),
    tree: node,
  });
}
