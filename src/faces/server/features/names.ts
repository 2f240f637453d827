/** Names: where one is declared, where else it stands, and how it is changed everywhere. */
import { LSPErrorCodes, ResponseError, type Connection, type LocationLink } from "vscode-languageserver";
import { definitionAt } from "../../../service/names/definition.js";
import { highlightsAt } from "../../../service/names/highlight.js";
import { referencesAt } from "../../../service/names/references.js";
import { prepareRename, rename, type Refused } from "../../../service/names/rename.js";
import { workspaceSymbols } from "../../../service/symbols.js";
import { linesAt, locationOf, offsetAt, workspaceEdit } from "../convert.js";
import { highlightKinds, symbolKinds } from "../kinds.js";
import { binder, guarded, placesAcross, type Session } from "./session.js";

export function bindNames(connection: Connection, session: Session): void {
  const bound = binder(session);

  connection.onDefinition(
    bound("definition", null, ({ position }, { view, lines, places }) => {
      const found = definitionAt(view, offsetAt(lines, position));
      return found === undefined
        ? null
        : found.to.flatMap(({ name, whole }): LocationLink[] => {
            const [target, selection] = [locationOf(whole, places)[0], locationOf(name, places)[0]];
            return target === undefined || selection === undefined
              ? []
              : [
                  {
                    originSelectionRange: linesAt(lines, found.from),
                    targetUri: target.uri,
                    targetRange: target.range,
                    targetSelectionRange: selection.range,
                  },
                ];
          });
    }),
  );
  connection.onReferences(
    bound("references", null, async ({ textDocument, position, context }, { view, lines }) => {
      const others = await session.others(textDocument.uri);
      const places = placesAcross([view, ...others], session.uriOf);
      return referencesAt(view, offsetAt(lines, position), { declarations: context.includeDeclaration, others }).flatMap((place) =>
        locationOf(place, places),
      );
    }),
  );
  connection.onDocumentHighlight(
    bound("highlight", null, ({ position }, { view, lines }) =>
      highlightsAt(view, offsetAt(lines, position)).map(({ range, kind }) => ({
        range: linesAt(lines, range),
        kind: highlightKinds[kind],
      })),
    ),
  );
  connection.onPrepareRename(
    bound("rename", null, ({ position }, { view, lines }) => {
      const found = prepareRename(view, offsetAt(lines, position));
      return "refused" in found ? refusal(found) : { range: linesAt(lines, found.range), placeholder: found.name };
    }),
  );
  connection.onRenameRequest(
    bound("rename", null, async ({ textDocument, position, newName }, { view, lines }) => {
      const others = await session.others(textDocument.uri);
      const edits = rename(view, offsetAt(lines, position), newName, { others });
      return "refused" in edits ? refusal(edits) : (workspaceEdit(edits, placesAcross([view, ...others], session.uriOf)) ?? null);
    }),
  );
  connection.onWorkspaceSymbol(async ({ query }) =>
    guarded(session, "symbols", [], async () => {
      const views = await session.others("");
      const places = placesAcross(views, session.uriOf);
      return workspaceSymbols(views, query).flatMap(({ thing, place }) =>
        locationOf(place, places).map((location) => ({
          name: thing.name,
          kind: symbolKinds[thing.kind],
          location,
          ...(thing.of !== undefined && { containerName: thing.of }),
        })),
      );
    }),
  );
}

function refusal({ refused }: Refused): ResponseError {
  return new ResponseError<void>(LSPErrorCodes.RequestFailed, refused);
}
