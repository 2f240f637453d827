/**
 * What is written about at a place of a book: which picks, and in which pattern.
 *
 *     pattern "Mud wants thump"
 *       go with bl‸ade round            ──▶   blade                the sentence that the place is in names its pick
 *       lean to speed slow
 *       when clarity is mu‸ddy          ──▶   blade, speed         any other place of a pattern: all that it speaks on
 *
 * A condition, a caution and the like are about no pick. Judgements have no table, and are left out.
 */
import type { Pattern, Statement } from "../syntax/tree.js";
import type { Range } from "../text.js";
import { namesOf } from "./names/names.js";
import type { View } from "./view.js";

export interface Subject {
  /** Names, in the order they are written; none: nothing there is about a pick. */
  readonly picks: readonly string[];
  /** Title of the pattern that the place is in. */
  readonly pattern?: string;
}

export function subjectAt(view: View, offset: number): Subject {
  const statement = statementAt(view, offset);
  if (statement === undefined) return { picks: [] };
  const tests = [testIn(statement, "when"), testIn(statement, "onlyWhen")].flatMap((range) => range ?? []);
  const picksIn = (range: Range, but: readonly Range[] = []): readonly string[] => {
    const named = namesOf(view).mentions.filter(
      ({ path, range: { start }, thing }) =>
        path === view.path && thing.kind === "pick" && isIn(range, start) && !but.some((one) => isIn(one, start)),
    );
    const names = new Set(named.map(({ thing }) => thing.name));
    return [...names].filter((name) => view.model.picks.some((pick) => pick.name === name && !pick.judgement));
  };
  const clause = statement.kind === "pattern" ? statement.actions.find(({ range }) => isIn(range, offset)) : undefined;
  const near = clause === undefined ? [] : picksIn(clause.range);
  const picks = near.length > 0 ? near : picksIn(statement.range, tests);
  const title = statement.kind === "pattern" ? titleOf(statement) : undefined;
  return { picks, ...(title !== undefined && { pattern: title }) };
}

/** The statement that a place is in, or right behind with no empty line between. */
function statementAt({ parsed, text }: View, offset: number): Statement | undefined {
  const found = parsed.tree.statements.findLast(({ range }) => range.start <= offset);
  return found && !/\n[ \t]*\r?\n/.test(text.slice(found.range.end, offset)) ? found : undefined;
}

function testIn(statement: Statement, name: "when" | "onlyWhen"): Range | undefined {
  return (statement as { readonly [test in typeof name]?: { readonly range: Range } })[name]?.range;
}

function titleOf({ title }: Pattern): string | undefined {
  return title?.value;
}

function isIn({ start, end }: Range, offset: number): boolean {
  return start <= offset && offset <= end;
}
