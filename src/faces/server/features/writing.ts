/** What helps while one writes: completion, and the usual shape. */
import { InsertTextFormat, type CompletionItem, type CompletionList, type CompletionParams, type Connection } from "vscode-languageserver";
import { completions } from "../../../service/completion/completion.js";
import type { Completion } from "../../../service/completion/offer.js";
import { formatting, rangeFormatting } from "../../../service/formatting.js";
import type { LineMap } from "../../../text.js";
import { offsetAt, rangeAt, textEdit } from "../convert.js";
import { completionKinds } from "../kinds.js";
import { after, binder, type Session } from "./session.js";

/** How long completion waits for the names of other books. Milliseconds. */
const COUNTING = 100;

export function bindWriting(connection: Connection, session: Session): void {
  const bound = binder(session);

  connection.onCompletion(
    bound<CompletionParams, CompletionList | CompletionItem[]>("completion", [], async ({ textDocument, position }, { view, lines }) => {
      const paths = (await Promise.race([session.pathsFor(textDocument.uri), after(COUNTING)])) ?? [];
      const items = completions(view, offsetAt(lines, position), { paths: () => paths }).map((one, i) =>
        completionItem(one, i, lines, session.snippets()),
      );
      // Asked again at the next letter: the last one of a word ends the list.
      return items.length === 0 ? [] : { isIncomplete: true, items };
    }),
  );
  connection.onDocumentFormatting(bound("format", null, (_, { view, lines }) => formatting(view).map((edit) => textEdit(lines, edit))));
  connection.onDocumentRangeFormatting(
    bound("format", null, ({ range }, { view, lines }) =>
      rangeFormatting(view, rangeAt(lines, range)).map((edit) => textEdit(lines, edit)),
    ),
  );
}

function completionItem(
  { label, kind, detail, text, snippet, range, filter }: Completion,
  rank: number,
  lines: LineMap,
  snippets: boolean,
): CompletionItem {
  const filled = snippets && snippet !== undefined;
  return {
    label,
    kind: completionKinds[kind],
    ...(detail !== undefined && { detail }),
    sortText: String(rank).padStart(5, "0"),
    filterText: filter,
    insertTextFormat: filled ? InsertTextFormat.Snippet : InsertTextFormat.PlainText,
    textEdit: textEdit(lines, { range, text: filled ? snippet : text }),
  };
}
