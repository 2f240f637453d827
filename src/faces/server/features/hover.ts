/** What is said beside the text: on pointing at it, above a pattern or a promise, behind a title. */
import { InlayHintKind, MarkupKind, type CodeLens, type Command, type Connection } from "vscode-languageserver";
import { serverWords } from "../../../messages/server.js";
import { hover } from "../../../service/hover/hover.js";
import { inlayHints } from "../../../service/inlay-hints.js";
import { lensText, lenses, type Leads } from "../../../service/lenses.js";
import type { View } from "../../../service/view.js";
import { linesAt, locationOf, offsetAt, placesIn, positionAt, rangeAt } from "../convert.js";
import { clientCommands } from "../requests.js";
import { binder, guarded, type Session } from "./session.js";

export function bindHover(connection: Connection, session: Session): void {
  const bound = binder(session);

  connection.onHover(
    bound("hover", null, ({ position }, { view, lines }) => {
      const found = hover(view, offsetAt(lines, position));
      return found === undefined
        ? null
        : {
            range: linesAt(lines, found.range),
            contents: { kind: session.markdown() ? MarkupKind.Markdown : MarkupKind.PlainText, value: found.markdown },
          };
    }),
  );
  // What only the analysis knows waits for it.
  connection.onCodeLens(
    bound("lenses", null, async ({ textDocument: { uri } }) => {
      const view = session.lenses() ? await session.whole(uri) : undefined;
      return view === undefined
        ? []
        : lenses(view)
            .filter(({ kind }) => kind !== "rival" || session.knows(clientCommands.go))
            .map((lens) => ({
              range: linesAt(view.lines, lens.range),
              data: {
                uri,
                at: lens.range.start,
                kind: lens.kind,
                ...(lens.other !== undefined && { other: lens.other }),
              } satisfies LensData,
            }));
    }),
  );
  // Only what is in sight is worked out.
  connection.onCodeLensResolve((lens) =>
    guarded<CodeLens>(session, "lenses", lens, async () => {
      const { uri, at, kind, other } = lens.data as LensData;
      const view = session.view(uri);
      const same = view && lenses(view).find((one) => one.range.start === at && one.kind === kind && one.other === other);
      const said = view && same && lensText(view, same);
      const later = said === undefined && view !== undefined && same?.kind === "pattern" && session.want(view, same.index);
      const title = said?.text ?? (later ? serverWords.working : serverWords.tooMuch);
      return { ...lens, command: { title, command: "", ...(view && said?.leads && leading(session, view, said.leads, uri)) } };
    }),
  );
  connection.languages.inlayHint.on(
    bound("hints", null, async ({ textDocument, range }) => {
      const view = session.inlayHints() ? await session.whole(textDocument.uri) : undefined;
      return view === undefined
        ? []
        : inlayHints(view, rangeAt(view.lines, range)).map(({ offset, text }) => ({
            position: positionAt(view.lines, offset),
            label: text,
            kind: InlayHintKind.Type,
            paddingLeft: true,
          }));
    }),
  );
}

interface LensData {
  readonly uri: string;
  readonly at: number;
  readonly kind: string;
  readonly other?: number;
}

/** What a click does; nothing where the client does not know how. */
function leading(session: Session, view: View, leads: Leads, uri: string): Pick<Command, "command" | "arguments"> | undefined {
  const does = (command: string, ...rest: readonly unknown[]) => (session.knows(command) ? { command, arguments: [...rest] } : undefined);
  switch (leads.to) {
    case "rows":
      return does(clientCommands.rows, uri, leads.pick, leads.title);
    case "day": {
      const values = Object.entries(leads.example).map(([name, value]) => [
        name,
        typeof value === "string" ? value : value.join(", ") || "none",
      ]);
      return does(clientCommands.day, uri, Object.fromEntries(values));
    }
    case "pattern": {
      const [place] = locationOf(view.model.patterns[leads.pattern]!.namePlace, placesIn(view, session.uriOf));
      return place && does(clientCommands.go, place.uri, place.range);
    }
  }
}
