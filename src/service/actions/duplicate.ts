/**
 * What stands there twice: the second goes, or gets a name of its own.
 *
 * Before (`duplicate`):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy
 * pattern "Mud wants thump"
 *   lean to blade willow
 *   when clarity is clear
 * fall back on blade willow
 * ```
 * After (Call this one “Mud wants thump (2)”):
 * ```lore
 * condition clarity: in order clear, muddy
 * pick blade: colorado, willow
 * pattern "Mud wants thump"
 *   go with blade colorado
 *   when clarity is muddy
 * pattern "Mud wants thump (2)"
 *   lean to blade willow
 *   when clarity is clear
 * fall back on blade willow
 * ```
 */
import type { Node, Statement, Test } from "../../syntax/tree.js";
import { fixTitles } from "../../messages/fixes.js";
import type { View } from "../view.js";
import type { Candidate, Mend } from "./candidate.js";
import { replace, takeFromList, takeOut, textIn } from "./edits.js";
import { unusedTitle } from "./points.js";
import { nodesIn, testsOf } from "./written-tests.js";

export const duplicate: Mend = {
  codes: ["duplicate"],
  *candidates(view, { range }) {
    const text = textIn(view, range);
    const statement = view.parsed.tree.statements.find((one) => one.range.start <= range.start && range.end <= one.range.end);
    if (!statement) return;
    const items = [...itemsOut(view, statement, range, text)];
    yield* items;
    if (items.length > 0) return;
    if ("title" in statement && statement.title?.range.start === range.start) {
      const title = unusedTitle(view, statement.title.value);
      yield { title: fixTitles.retitle(title), edits: [replace(view, statement.title.range, `"${title}"`)] };
      yield { title: fixTitles.takeOut(fixTitles.pattern(statement.title.value)), edits: [takeOut(view, statement)] };
    } else if ("name" in statement && statement.name?.range.start === range.start) {
      // What asks for the name may mean either of the two: only the one that is told is renamed.
      const name = unusedName(view, text);
      yield { title: fixTitles.rename(name), edits: [replace(view, range, name)] };
      yield { title: fixTitles.takeOut(text), edits: [takeOut(view, statement)] };
    } else yield { title: fixTitles.takeOut(fixTitles.part(firstLine(textIn(view, statement.range)))), edits: [takeOut(view, statement)] };
  },
};

/** The item that stands at the place, of whatever list of the statement holds it. */
function* itemsOut(view: View, statement: Statement, { start, end }: Node["range"], text: string): Generator<Candidate> {
  for (const list of listsOf(statement)) {
    const at = list.findIndex(({ range }) => range.start === start && range.end === end);
    if (at >= 0 && list.length > 1)
      yield { title: fixTitles.takeOut(fixTitles.part(text)), edits: [takeFromList(view, list, at)], preferred: true };
  }
}

function listsOf(statement: Statement): readonly (readonly Node[])[] {
  const lists: (readonly Node[])[] = [];
  if ("options" in statement) lists.push(statement.options);
  if ("members" in statement) lists.push(statement.members);
  if ("titles" in statement) lists.push(statement.titles);
  if ("order" in statement) lists.push(statement.order);
  if (statement.kind === "band") lists.push(statement.parts);
  if (statement.kind === "say nothing") lists.push(statement.picks);
  if (statement.kind === "fall back") lists.push(...statement.places);
  if (statement.kind === "condition" && statement.domain) {
    if (statement.domain.kind === "scale") lists.push(statement.domain.levels);
    if (statement.domain.kind === "set") lists.push(statement.domain.members);
  }
  if (statement.kind === "pattern") {
    lists.push(statement.beats, statement.actions);
    for (const action of statement.actions) {
      if (action.kind === "go with") lists.push(...action.places);
      else if (action.kind !== "move") lists.push(action.options);
    }
  }
  for (const test of testsOf(statement)) for (const node of nodesIn(test)) lists.push(...listsOfTest(node));
  return lists;
}

function listsOfTest(test: Test): readonly (readonly Node[])[] {
  if (test.kind !== "compare") return [];
  return test.relation?.kind === "is" ? [test.relation.values] : test.relation?.kind === "has" ? [test.relation.members] : [];
}

function unusedName({ model, parsed }: View, wanted: string): string {
  const taken = new Set(
    [...model.conditions, ...model.picks, ...model.situations, ...model.bands, ...model.groups].map(({ name }) => name),
  );
  for (const statement of parsed.tree.statements) if ("name" in statement && statement.name) taken.add(statement.name.text);
  for (let n = 2; ; n++) if (!taken.has(`${wanted}-${n}`)) return `${wanted}-${n}`;
}

function firstLine(text: string): string {
  const line = text.split(/\r?\n/)[0]!;
  return line.length > 60 ? `${line.slice(0, 57)}…` : line;
}
