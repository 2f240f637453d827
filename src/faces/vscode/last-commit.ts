/** What the edits of a book since the last commit change in its answers, worked out beside the editor and shown as a page. */
import { execFile } from "node:child_process";
import { window, workspace, type ExtensionContext, type TextDocument } from "vscode";
import { extensionWords } from "../../messages/vscode.js";
import { markdownPages } from "./markdown-pages.js";
import { language } from "./names.js";

const say = extensionWords.lastCommit;
const LARGEST = 64 * 1024 * 1024;

export function compareWithLastCommit(context: ExtensionContext) {
  const program = context.asAbsolutePath("compare.js");
  const show = markdownPages(context);
  return async (book: TextDocument): Promise<void> => {
    const folder = workspace.getWorkspaceFolder(book.uri);
    if (folder === undefined) return void window.showWarningMessage(say.noFolder);
    const pathOf = ({ uri }: TextDocument): string => workspace.asRelativePath(uri, false);
    const beside = workspace.textDocuments.filter(
      (one) => one.languageId === language && workspace.getWorkspaceFolder(one.uri)?.uri.toString() === folder.uri.toString(),
    );
    const on = workspace.getConfiguration("waterlore").get<string>("day");
    const asked = { path: pathOf(book), open: Object.fromEntries(beside.map((one) => [pathOf(one), one.getText()])), ...(on && { on }) };
    const { markdown, problem } = await answerTo(program, folder.uri.fsPath, JSON.stringify(asked));
    if (markdown === undefined) void window.showWarningMessage(problem);
    else await show(say.pageOf(asked.path), markdown);
  };
}

function answerTo(
  program: string,
  cwd: string,
  asked: string,
): Promise<{ readonly markdown: string; readonly problem?: undefined } | { readonly markdown?: undefined; readonly problem: string }> {
  return new Promise((done) => {
    // The editor's own program is a Node as well, if it is told so.
    const env = { ...process.env, ELECTRON_RUN_AS_NODE: "1" };
    const child = execFile(process.execPath, [program], { cwd, env, maxBuffer: LARGEST }, (error, markdown, problem) =>
      done(error === null ? { markdown } : { problem: problem.trim() || error.message }),
    );
    child.stdin?.end(asked);
  });
}
