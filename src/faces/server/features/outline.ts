/** The shape of a book: its outline, what folds, what is selected together, what leads elsewhere, how it is colored. */
import { SemanticTokensBuilder, type Connection, type DocumentSymbol as Outline, type SelectionRange } from "vscode-languageserver";
import { foldsOf } from "../../../service/folding.js";
import { linksOf } from "../../../service/links.js";
import { selectionsAt } from "../../../service/selection.js";
import { semanticTokenModifiers, semanticTokenTypes, semanticTokens, type SemanticTokenType } from "../../../service/semantic-tokens.js";
import { documentSymbols, type DocumentSymbol } from "../../../service/symbols.js";
import type { View } from "../../../service/view.js";
import type { LineMap, Range } from "../../../text.js";
import { linesAt, offsetAt, rangeAt } from "../convert.js";
import { foldKinds, symbolKinds } from "../kinds.js";
import { binder, type Session } from "./session.js";

/** What needs no reading of a book to be told apart. */
const plain: ReadonlySet<SemanticTokenType> = new Set(["keyword", "comment", "string", "number"]);

export function bindOutline(connection: Connection, session: Session): void {
  const bound = binder(session);

  connection.onDocumentSymbol(
    bound("symbols", null, (_, { view, lines }) => documentSymbols(view).map((symbol) => outline(symbol, lines))),
  );
  connection.onFoldingRanges(
    bound("folding", null, (_, { view, lines }) =>
      foldsOf(view).map(({ range, kind }) => {
        const { start, end } = linesAt(lines, range);
        return { startLine: start.line, endLine: end.line, ...(foldKinds[kind] !== undefined && { kind: foldKinds[kind] }) };
      }),
    ),
  );
  connection.onSelectionRanges(
    bound("selection", null, ({ positions }, { view, lines }) =>
      positions.map(
        (position) => selectionRange(selectionsAt(view, offsetAt(lines, position)), lines) ?? { range: { start: position, end: position } },
      ),
    ),
  );
  connection.onDocumentLinks(
    bound("links", null, (_, { view, lines }) =>
      linksOf(view).map((link) => ({
        range: linesAt(lines, link.range),
        target: link.kind === "book" ? session.uriOf(link.path) : link.address,
      })),
    ),
  );
  const tokens = (view: View, lines: LineMap, within?: Range): { data: number[] } => {
    const builder = new SemanticTokensBuilder();
    for (const { range, type, modifiers } of semanticTokens(view, within)) {
      if (plain.has(type) && session.colorsWords()) continue;
      const { line, character } = linesAt(lines, range).start;
      const bits = modifiers.reduce((all, modifier) => all | (1 << semanticTokenModifiers.indexOf(modifier)), 0);
      builder.push(line, character, range.end - range.start, semanticTokenTypes.indexOf(type), bits);
    }
    return builder.build();
  };
  connection.languages.semanticTokens.on(bound("colors", { data: [] }, (_, { view, lines }) => tokens(view, lines)));
  connection.languages.semanticTokens.onRange(
    bound("colors", { data: [] }, ({ range }, { view, lines }) => tokens(view, lines, rangeAt(lines, range))),
  );
}

function outline({ kind, name, detail, range, nameRange, children }: DocumentSymbol, lines: LineMap): Outline {
  return {
    name,
    kind: symbolKinds[kind],
    range: linesAt(lines, range),
    selectionRange: linesAt(lines, nameRange),
    ...(detail !== undefined && { detail }),
    children: children.map((child) => outline(child, lines)),
  };
}

/** From the innermost outwards. */
function selectionRange(ranges: readonly Range[], lines: LineMap): SelectionRange | undefined {
  return [...ranges]
    .reverse()
    .reduce<SelectionRange | undefined>((parent, range) => ({ range: linesAt(lines, range), ...(parent && { parent }) }), undefined);
}
