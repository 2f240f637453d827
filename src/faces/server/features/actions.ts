/**
 * Fixes and refactorings, each finding's for itself.
 *
 *     findings under the cursor ──one by one, in pieces, each for so long──▶ actions ──▶ each change once
 */
import type { CodeAction, Connection, WorkspaceEdit } from "vscode-languageserver";
import type { Finding } from "../../../diagnostics.js";
import { gatheringActions, type Action, type ActionOptions } from "../../../service/actions/actions.js";
import { applied } from "../../../service/actions/edits.js";
import type { View } from "../../../service/view.js";
import { lineMap, type Range } from "../../../text.js";
import { diagnosticOf, placesIn, positionAt, rangeAt, workspaceEdit } from "../convert.js";
import { inPieces, type Manners } from "../pieces.js";
import { clientCommands } from "../requests.js";
import { after, binder, type Session } from "./session.js";

/** How long actions may wait for the analysis before those that need none come alone, and each finding's for being tried. Milliseconds. */
const PATIENCE = 1000;
const TRIAL = 1000;

export function bindActions(connection: Connection, session: Session): void {
  const bound = binder(session);

  connection.onCodeAction(
    bound("actions", null, async ({ textDocument: { uri }, range, context: { only } }, ready, token) => {
      const at = rangeAt(ready.lines, range);
      // What reading finds is mended without waiting for the rest.
      const isAtHand = ready.view.findings.some(
        (one) => one.path === ready.view.path && one.range.start <= at.end && one.range.end >= at.start,
      );
      const view = isAtHand ? ready.view : ((await Promise.race([session.whole(uri), after(PATIENCE)])) ?? session.view(uri));
      if (view?.text !== ready.view.text) return [];
      const actions = await actionsOf(
        view,
        at,
        { only, steps: session.steps(uri), ...(await booksBeside(session, uri, view.findings)) },
        { pause: session.pause, stopped: () => token.isCancellationRequested || session.view(uri)?.model !== view.model },
      );
      const places = placesIn(view, session.uriOf);
      return actions.flatMap((action): CodeAction[] => {
        const edit = workspaceEdit(action.edits, places);
        return edit === undefined
          ? []
          : [
              {
                ...codeAction(action, edit, action.finding ? diagnosticOf(action.finding, places, session.diagnostics(uri)) : []),
                ...(session.knows(clientCommands.rename) && renaming(view, action, uri)),
              },
            ];
      });
    }),
  );
}

/** What else there is to build on, where some book cannot be read. */
async function booksBeside(session: Session, uri: string, findings: readonly Finding[]): Promise<Pick<ActionOptions, "paths" | "read">> {
  if (!findings.some(({ code }) => code === "file")) return {};
  return { paths: await session.pathsFor(uri), read: session.read };
}

/** Finding by finding, each for so long; none once nobody wants them. */
async function actionsOf(view: View, range: Range, options: ActionOptions, manners: Manners): Promise<readonly Action[]> {
  const findings = [...view.findings, ...(view.analysis?.findings ?? [])].filter(
    (one) => one.path === view.path && one.range.start <= range.end && one.range.end >= range.start,
  );
  const asked = (kind: string): boolean =>
    options.only === undefined || options.only.some((one) => kind === one || kind.startsWith(`${one}.`) || one.startsWith(`${kind}.`));
  const rounds: (readonly [readonly Finding[], readonly string[]])[] = [
    ...(asked("quickfix") ? findings.map((finding) => [[finding], ["quickfix"]] as const) : []),
    ...(asked("refactor") ? [[[], options.only?.filter((one) => one.startsWith("refactor")) ?? ["refactor"]] as const] : []),
  ];
  const actions = new Map<string, Action>();
  for (const [some, only] of rounds) {
    await manners.pause();
    if (manners.stopped()) return [];
    const started = performance.now();
    const interrupted = (): boolean => performance.now() - started > TRIAL;
    const found = await inPieces(gatheringActions(view, range, some, { ...options, only, interrupted }), manners);
    if (found === undefined) return [];
    // One change may mend several findings: it is offered once.
    for (const one of found) actions.set(JSON.stringify(one.edits), actions.get(JSON.stringify(one.edits)) ?? one);
  }
  return [...actions.values()];
}

function codeAction({ title, kind, preferred }: Action, edit: WorkspaceEdit, diagnostics: CodeAction["diagnostics"] & object): CodeAction {
  return { title, kind, edit, ...(diagnostics.length > 0 && { diagnostics }), ...(preferred && { isPreferred: true }) };
}

/** A name that was made up is changed by the writer at once. */
function renaming(view: View, { title, edits, named }: Action, uri: string): Pick<CodeAction, "command"> {
  if (named === undefined) return {};
  const own = edits.filter(({ path }) => path === view.path);
  const after = lineMap(applied(new Map([[view.path, view.text]]), own).get(view.path)!);
  return { command: { title, command: clientCommands.rename, arguments: [uri, positionAt(after, named)] } };
}
