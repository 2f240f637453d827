/**
 * How the book in front stands, in the status bar, and a way to what is to be settled next.
 *
 *     findings change, another book comes to the front ──(a pause)──▶ waterlore/standing ──▶ ○ 97 % answered, 3 to settle: Two patterns disagree
 *                                                                                            └─ a click: there, with its fixes
 *     somebody is writing: what is wrong at hand waits ──▶ ✎ writing
 */
import { commands, languages, MarkdownString, StatusBarAlignment, window, type ExtensionContext, type TextDocument } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { extensionWords } from "../../messages/vscode.js";
import { STANDING, type StandingAnswer, type StandingParams } from "../server/requests.js";
import { goTo } from "./go.js";
import { commands as names, language } from "./names.js";
import type { Writers } from "./writing.js";

const say = extensionWords.standing;
/** Milliseconds without a change before it is asked for. */
const PAUSE = 200;

/** Undefined where the book has changed meanwhile, is not open, or cannot be asked about. */
export async function standingOf(client: BaseLanguageClient, { uri }: TextDocument): Promise<StandingAnswer | undefined> {
  const params: StandingParams = { textDocument: { uri: uri.toString() } };
  const answer = await client.sendRequest<StandingAnswer>(STANDING, params).catch((): undefined => undefined);
  return answer?.problem === undefined ? answer : undefined;
}

/** Shows it from now on; returns what goes to what is to be settled next. */
export function showStanding(context: ExtensionContext, client: BaseLanguageClient, writers: Writers): () => Promise<void> {
  const item = window.createStatusBarItem("waterlore.standing", StatusBarAlignment.Left, 10);
  item.name = say.name;
  item.command = names.settleNext.id;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let front: TextDocument | undefined;
  const bookInFront = (): TextDocument | undefined => {
    const active = window.activeTextEditor?.document;
    // While a page has the focus, no text has it: the book beside it stays in front.
    const beside = window.visibleTextEditors.some(({ document }) => document === front) ? front : undefined;
    const document = active ?? beside;
    return (front = document?.languageId === language ? document : undefined);
  };
  const update = async (): Promise<void> => {
    const book = bookInFront();
    if (book === undefined) return item.hide();
    const answer = await standingOf(client, book);
    if (book !== bookInFront() || answer === undefined || (answer.version ?? book.version) !== book.version) return;
    if (writers.isWriting(book.uri)) return;
    const { answered, picks = [], open = 0, next } = answer;
    item.text = next ? say.open(answered, open, next.title) : say.clean(answered);
    item.tooltip = new MarkdownString(`${say.picks(picks)}${next ? `\n\n${say.settle}: ${next.title}` : ""}`);
    item.accessibilityInformation = { label: say.spoken(answered, open) };
    item.show();
  };
  const later = (): void => {
    const front = bookInFront();
    if (front && writers.isWriting(front.uri)) {
      item.text = say.writing;
      item.tooltip = undefined;
      item.accessibilityInformation = { label: say.writing.replace(/^\$\(\w+\) /, "") };
      item.show();
    }
    clearTimeout(timer);
    timer = setTimeout(() => void update(), PAUSE);
  };
  context.subscriptions.push(
    item,
    languages.onDidChangeDiagnostics(({ uris }) => {
      const book = bookInFront();
      if (book && uris.some((uri) => uri.toString() === book.uri.toString())) later();
    }),
    window.onDidChangeActiveTextEditor(later),
    writers.onDidChange(later),
    { dispose: () => clearTimeout(timer) },
  );
  later();
  return async () => {
    const book = bookInFront();
    const next = book && (await standingOf(client, book))?.next;
    if (next === undefined) return;
    await goTo({ uri: next.uri, range: { start: next.range.start, end: next.range.start } });
    await commands.executeCommand("editor.action.quickFix");
  };
}
