/** Opens a small book to start from, the same as `waterlore new` writes; where it is kept is settled when it is saved. */
import { window, workspace } from "vscode";
import { starter } from "../../messages/cli.js";
import { language } from "./names.js";

export async function newBook(): Promise<void> {
  await window.showTextDocument(await workspace.openTextDocument({ language, content: starter }));
}
