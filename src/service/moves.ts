/**
 * What has to be written anew in a file that names others, when some of them, or it itself, are moved or renamed.
 *
 *     common/conditions.lore ──▶ shared/conditions.lore        ponds/mill.lore    builds on "../⟨common⟩/conditions.lore"
 *     ponds/ ──▶ waters/old/                                                      builds on "../⟨../shared⟩/conditions.lore"
 *
 * Paths are whole, from the top, with forward slashes; one that stands in a file is seen from its folder. What leads to the right place
 * as it is stays as it is.
 */
import { besides, pathBeside, tidyPath } from "../paths.js";
import { isBlank } from "../syntax/concrete.js";
import type { Tree } from "../syntax/tree.js";
import { insideQuotes, type Range } from "../text.js";

/** A file, or a folder with all that is in it. */
export interface Move {
  readonly from: string;
  readonly to: string;
}

/** A path that stands in a file. */
export interface Named {
  readonly range: Range;
  readonly path: string;
}

/** The paths of `builds on`, without their quotes. */
export function namedIn(text: string, { statements }: Pick<Tree, "statements">): readonly Named[] {
  return statements.flatMap((statement) =>
    statement.kind === "builds on" && statement.path !== undefined && !isBlank(statement.path.value)
      ? [{ range: insideQuotes(text, statement.path.range), path: statement.path.value }]
      : [],
  );
}

/** Where a path leads after the moves, which are made at once. */
export function movedPath(path: string, moves: readonly Move[]): string {
  const [move] = moves.filter(({ from }) => path === from || path.startsWith(`${from}/`)).sort((a, b) => b.from.length - a.from.length);
  return move === undefined ? path : move.to + path.slice(move.from.length);
}

/** What is to stand in place of the paths that would lead elsewhere. `own`: where they stand now. `isThere`: whether a path leads anywhere now. */
export function mendedPaths(
  own: string,
  named: readonly Named[],
  moves: readonly Move[],
  isThere: (path: string) => boolean,
): readonly Named[] {
  const ownThen = movedPath(own, moves);
  return named.flatMap((one) => {
    const now = besides(own, one.path);
    const then = movedPath(now, moves);
    if ((now === then && !isThere(now)) || tidyPath(besides(ownThen, one.path)) === then) return [];
    const path = one.path.startsWith("/") ? then : pathBeside(ownThen, then);
    // A book has no way to write a quotation mark inside a text.
    return path.includes('"') ? [] : [{ range: one.range, path }];
  });
}
