/**
 * The extension, desktop or web alike: starts the server, and registers one function for each command.
 *
 *     extension.ts ────(a process of Node)──┐
 *     extension-web.ts ──────(a worker)─────┴──▶ activateWith ──▶ client ◀──LSP──▶ server
 *                                                     ├──▶ table beside the book, explain an answer, new book
 *                                                     └──◀ waterlore/read, waterlore/files: what a worker cannot read itself
 */
import { commands, FileSystemError, Uri, window, workspace, type Diagnostic, type ExtensionContext, type TextDocument } from "vscode";
import type { Range } from "vscode-languageserver";
import type { BaseLanguageClient, LanguageClientOptions } from "vscode-languageclient";
import { fileProblems } from "../../messages/cli.js";
import { extensionWords } from "../../messages/vscode.js";
import { decode, largestBook } from "../files/decode.js";
import { clientCommands, FILES, READ, type FileAnswer, type FileParams, type FilesParams } from "../server/requests.js";
import { answersBeside } from "./answer-view.js";
import { explainAnswer } from "./explain.js";
import { commands as names, hintCommand, language, problemMatcher, type CommandName } from "./names.js";
import { newBook } from "./new-book.js";
import { goTo, renameAt } from "./go.js";
import { promisesAsTests } from "./promises.js";
import { showStanding } from "./standing.js";
import { tablesBeside } from "./table-view.js";
import { followWriters } from "./writing.js";

export type MakeClient = (id: string, name: string, options: LanguageClientOptions) => BaseLanguageClient;

/** What takes a computer with programs on it. */
export interface Programs {
  compare(book: TextDocument): Promise<void>;
}

export async function activateWith(context: ExtensionContext, make: MakeClient, programs?: Programs): Promise<void> {
  const client = make("waterlore", extensionWords.name, {
    documentSelector: [{ language }],
    diagnosticCollectionName: problemMatcher,
    initializationOptions: { commands: Object.values(clientCommands), writing: true, storage: storageOf(context) },
    middleware: { handleDiagnostics: (uri, findings, next) => next(uri, findings.map(withHint)) },
  });
  const showTable = tablesBeside(context, client);
  const showAnswer = answersBeside(context, client);
  const run: Readonly<Record<CommandName, (at?: Uri) => unknown>> = {
    showTable: () => withBook(({ uri }) => showTable(uri)),
    explain: () => withBook((book) => explainAnswer(client, book, showAnswer)),
    settleNext: showStanding(context, client, followWriters(context, client)),
    lastCommit: () => withBook((book) => programs?.compare(book) ?? window.showWarningMessage(extensionWords.lastCommit.noPrograms)),
    newBook,
    restart: () => client.stop().then(() => client.start()),
  };
  for (const name of Object.keys(run) as CommandName[]) context.subscriptions.push(commands.registerCommand(names[name].id, run[name]));
  const told = {
    rename: renameAt,
    rows: (uri: string, pick: string, title: string) => showTable(Uri.parse(uri), { pick, title }),
    day: (uri: string, given: Readonly<Record<string, string>>) => showAnswer(Uri.parse(uri), given),
    go: (uri: string, range: Range) => goTo({ uri, range }),
  } satisfies Record<keyof typeof clientCommands, unknown>;
  for (const [name, work] of Object.entries(told))
    context.subscriptions.push(commands.registerCommand(clientCommands[name as keyof typeof told], work));
  context.subscriptions.push(commands.registerCommand(hintCommand, (code: string) => showHint(context.extensionUri, code)));
  context.subscriptions.push(client, client.onRequest<FileAnswer, Error>(READ, readFile), client.onRequest(FILES, listFiles));
  await client.start();
  promisesAsTests(context, client);
}

/** Where the server may keep what came out for books that are not open. */
function storageOf({ storageUri }: ExtensionContext): string | undefined {
  return storageUri?.scheme === "file" ? storageUri.fsPath : undefined;
}

/** The book that is being edited, or else one that can be seen. */
function withBook(work: (book: TextDocument) => unknown): unknown {
  const editors = [...(window.activeTextEditor ? [window.activeTextEditor] : []), ...window.visibleTextEditors];
  const book = editors.find(({ document }) => document.languageId === language)?.document;
  return book === undefined ? window.showInformationMessage(extensionWords.ask.noBook) : work(book);
}

/** The code of a finding leads to the page about its kind; the same with a server that knows no files. */
function withHint(finding: Diagnostic): Diagnostic {
  const code = typeof finding.code === "object" ? finding.code.value : finding.code;
  if (code !== undefined)
    finding.code = { value: code, target: Uri.parse(`command:${hintCommand}?${encodeURIComponent(JSON.stringify([code]))}`) };
  return finding;
}

function showHint(extension: Uri, code: string): unknown {
  return commands.executeCommand("markdown.showPreview", Uri.joinPath(extension, "src/hints", `${code}.md`));
}

/** Refused as the server in Node refuses what it reads itself, in the same words. */
async function readFile({ uri }: FileParams): Promise<FileAnswer> {
  try {
    const bytes = await workspace.fs.readFile(Uri.parse(uri));
    return decode(bytes.length > largestBook ? undefined : bytes);
  } catch (error) {
    const code = error instanceof FileSystemError ? error.code : "";
    return { problem: fileProblems.byCode[codes[code] ?? "ENOENT"]! };
  }
}
const codes: Readonly<Record<string, string>> = { FileIsADirectory: "EISDIR", FileNotADirectory: "ENOTDIR", NoPermissions: "EACCES" };

/** As `findBooks` looks through a folder: hidden ones are left out. */
async function listFiles(params?: FilesParams): Promise<readonly string[]> {
  return (await workspace.findFiles(`**/*.${params?.ending ?? language}`, "{**/node_modules/**,**/.*/**,**/.*}")).map((uri) =>
    uri.toString(),
  );
}
