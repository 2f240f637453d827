/** The names by which the extension, its manifest and the settings of its users call the same things. */
import { extensionWords } from "../../messages/vscode.js";

export const language = "lore";
/** As `PUBLISHER.NAME`, how other settings name this extension. */
export const extensionId = "waterlore.waterlore";

/** The kind of page that the table is. */
export const tableView = "waterlore.table";
/** The one that explains an answer. */
export const answerView = "waterlore.answer";

/** The kind of task that checks books, and what makes problems of its report; also whose problems they are. */
export const taskType = "waterlore";
export const problemMatcher = "waterlore";

/** Shows the page about a kind of finding; called by the code of a finding only. */
export const hintCommand = "waterlore.showHint";

/** Every command, once; `activate.ts` has one function for each. */
export const commands = {
  showTable: { id: "waterlore.showTable", title: extensionWords.commands.showTable, icon: "$(table)" },
  explain: { id: "waterlore.explain", title: extensionWords.commands.explain, icon: "$(comment-discussion)" },
  settleNext: { id: "waterlore.settleNext", title: extensionWords.commands.settleNext, icon: "$(arrow-right)" },
  lastCommit: { id: "waterlore.lastCommit", title: extensionWords.commands.lastCommit, icon: "$(git-commit)" },
  newBook: { id: "waterlore.newBook", title: extensionWords.commands.newBook, icon: "$(new-file)" },
  restart: { id: "waterlore.restart", title: extensionWords.commands.restart, icon: "$(debug-restart)" },
} as const;

export type CommandName = keyof typeof commands;
