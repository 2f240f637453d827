/**
 * An editor as far as typing goes, the way VS Code does it, at its most eager: on Enter it takes the first suggestion that is shown.
 *
 *     letter ──▶ text, a quote with its closing one ──▶ server
 *                 ├─ a trigger character, or a word outside texts and comments: the server is asked
 *                 ├─ a list is shown: what no longer fits is dropped, and the server asked again if its list was not the whole one
 *     Enter  ──▶ is a list shown? ─yes▶ its first takes the place of what is typed
 *                                 ─no─▶ a new line
 *
 * Every answer is awaited, so what comes out depends on the server alone. What fits is judged more loosely than VS Code does (any letters
 * in their order), so a list that is gone here is gone there. Blanks at the beginning of a line are typed like letters.
 */
import { CompletionTriggerKind, type CompletionItem } from "vscode-languageserver/node";
import { languageConfiguration } from "../../grammar/textmate.js";
import { suggested, type Client } from "./client.js";

export interface Typed {
  readonly text: string;
  /** What Enter took instead of ending the line, with the line it stood on. */
  readonly taken: readonly string[];
  readonly asked: number;
}

interface Shown {
  readonly items: readonly CompletionItem[];
  readonly incomplete: boolean;
  readonly line: number;
  readonly wordStart: number;
}

const { wordPattern, autoClosingPairs } = languageConfiguration() as {
  readonly wordPattern: { readonly pattern: string; readonly flags: string };
  readonly autoClosingPairs: readonly { readonly open: string; readonly close: string }[];
};
const words = new RegExp(wordPattern.pattern, `${wordPattern.flags}g`);

/** Types a text into an open, empty book, letter by letter. */
export async function typeOut(client: Client, uri: string, text: string): Promise<Typed> {
  const triggers = new Set(client.server.capabilities.completionProvider!.triggerCharacters);
  const taken: string[] = [];
  let [before, after, version, asked] = ["", "", 1, 0];
  let shown: Shown | undefined;

  const put = (letters: string, closing = "", drop = 0): void => {
    const at = { line: lineAt(before), character: columnAt(before) };
    const start = { line: at.line, character: at.character - drop };
    client.change(uri, ++version, { range: { start, end: at }, text: letters + closing });
    [before, after] = [before.slice(0, before.length - drop) + letters, closing + after];
  };
  const ask = async (triggerKind: CompletionTriggerKind, triggerCharacter?: string): Promise<void> => {
    asked++;
    const { items, isIncomplete } = await suggested(client, {
      textDocument: { uri },
      position: { line: lineAt(before), character: columnAt(before) },
      context: { triggerKind, ...(triggerCharacter !== undefined && { triggerCharacter }) },
    });
    shown = items.length === 0 ? undefined : { items, incomplete: isIncomplete, line: lineAt(before), wordStart: wordBefore(before).start };
    sift();
  };
  const sift = (): void => {
    if (shown === undefined) return;
    const items = shown.items.filter((item) => fits(item, before));
    shown = items.length === 0 || shown.line !== lineAt(before) ? undefined : { ...shown, items };
  };

  for (const letter of text) {
    if (letter === "\n") {
      const [first] = shown?.items ?? [];
      if (first?.textEdit && "range" in first.textEdit) {
        const { range, newText } = first.textEdit;
        taken.push(`${before.slice(before.lastIndexOf("\n") + 1)}▮ ${newText}`);
        put(newText, "", columnAt(before) - range.start.character);
      } else put("\n");
      shown = undefined;
      continue;
    }
    const pair = autoClosingPairs.find(({ open }) => open === letter);
    if (after.startsWith(letter)) [before, after] = [before + letter, after.slice(1)];
    else put(letter, pair && !isText(before) && !/[\p{L}\p{N}]$/u.test(before) ? pair.close : "");
    sift();
    const word = wordBefore(before);
    const isWord = word.text !== "" && Number.isNaN(Number(word.text));
    if (triggers.has(letter)) await ask(CompletionTriggerKind.TriggerCharacter, letter);
    else if (shown === undefined) {
      if (isWord && !isText(before)) await ask(CompletionTriggerKind.Invoked);
    } else if (word.text !== "" && (shown.incomplete || (word.start > shown.wordStart && isWord)))
      await ask(shown.incomplete ? CompletionTriggerKind.TriggerForIncompleteCompletions : CompletionTriggerKind.Invoked);
  }
  return { text: before + after, taken, asked };
}

function lineAt(before: string): number {
  return before.split("\n").length - 1;
}

function columnAt(before: string): number {
  return before.length - before.lastIndexOf("\n") - 1;
}

function wordBefore(before: string): { readonly start: number; readonly text: string } {
  const line = before.slice(before.lastIndexOf("\n") + 1);
  const last = [...line.matchAll(words)].at(-1);
  return last && last.index + last[0].length === line.length ? { start: last.index, text: last[0] } : { start: line.length, text: "" };
}

/** Whether the cursor stands in a text or a comment, where no list comes up by itself. */
function isText(before: string): boolean {
  let open = false;
  for (const sign of before.slice(before.lastIndexOf("\n") + 1).match(/["“„”]|--/g) ?? []) {
    if (sign === "--" && !open) return true;
    if (sign !== "--") open = !open;
  }
  return open;
}

function fits({ textEdit, filterText, label }: CompletionItem, before: string): boolean {
  const line = before.slice(before.lastIndexOf("\n") + 1);
  const start = textEdit && "range" in textEdit ? textEdit.range.start.character : line.length;
  const typed = line.slice(start).trimStart().toLowerCase();
  let at = 0;
  for (const letter of (filterText ?? label).toLowerCase()) if (letter === typed[at]) at++;
  return at === typed.length;
}
