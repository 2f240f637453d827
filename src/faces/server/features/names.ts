/** Names: where one is declared, where else it stands, and how it is changed everywhere. */
import { LSPErrorCodes, ResponseError, type Connection, type LocationLink, type TextEdit, type WorkspaceEdit } from "vscode-languageserver";
import * as say from "../../../messages/rename.js";
import { definitionAt } from "../../../service/names/definition.js";
import { highlightsAt } from "../../../service/names/highlight.js";
import { renamedInList } from "../../../service/names/lists.js";
import { namesOf } from "../../../service/names/names.js";
import { referencesAt, viewsKnowing } from "../../../service/names/references.js";
import { nameInLists, prepareRename, rename, type Refused } from "../../../service/names/rename.js";
import { workspaceSymbols } from "../../../service/symbols.js";
import type { View } from "../../../service/view.js";
import { lineMap } from "../../../text.js";
import { linesAt, locationOf, offsetAt, textEdit, workspaceEdit } from "../convert.js";
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
      if ("refused" in edits) return refusal(edits);
      const edit = workspaceEdit(edits, placesAcross([view, ...others], session.uriOf));
      if (edit === undefined || edits.length === 0) return edit ?? null;
      const inLists = await listEdits(session, view, others, offsetAt(lines, position), newName);
      return inLists.length === 0 ? edit : askedFirst(session, edit, inLists);
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

interface ListEdits {
  readonly uri: string;
  readonly edits: readonly TextEdit[];
}

/** What to change in stock lists and logs; what cannot be changed there, or not without asking, is said. */
async function listEdits(
  session: Session,
  view: View,
  others: readonly View[],
  offset: number,
  newName: string,
): Promise<readonly ListEdits[]> {
  const thing = namesOf(view).at(offset)?.thing;
  const name = thing && nameInLists(thing, newName);
  if (thing === undefined || name === undefined) return [];
  const models = viewsKnowing(view, thing, others).map(({ model }) => model);
  const found: (ListEdits & { readonly path: string })[] = [];
  const unfit: string[] = [];
  for (const { uri, path, text } of await session.lists()) {
    const ways = models.map((model) => renamedInList(text, model, thing, name));
    const edits = ways.find((way) => way !== undefined && way.length > 0);
    if (edits !== undefined) {
      const lines = lineMap(text);
      found.push({ uri, path, edits: edits.map((one) => textEdit(lines, one)) });
    } else if (ways.includes(undefined)) unfit.push(path);
  }
  if (unfit.length > 0) session.tell(say.listsUnfit(name, unfit));
  if (found.length === 0 || session.asksFirst()) return found;
  session.tell(say.listsLeft(found.map(({ path }) => path)));
  return [];
}

const LISTS = "lists";

function askedFirst({ version }: Session, { changes = {} }: WorkspaceEdit, lists: readonly ListEdits[]): WorkspaceEdit {
  return {
    documentChanges: [
      ...Object.entries(changes).map(([uri, edits]) => ({ textDocument: { uri, version: version(uri) ?? null }, edits })),
      ...lists.map(({ uri, edits }) => ({
        textDocument: { uri, version: null },
        edits: edits.map((edit) => ({ ...edit, annotationId: LISTS })),
      })),
    ],
    changeAnnotations: { [LISTS]: { label: say.inLists, description: say.inListsWhy, needsConfirmation: true } },
  };
}

function refusal({ refused }: Refused): ResponseError {
  return new ResponseError<void>(LSPErrorCodes.RequestFailed, refused);
}
