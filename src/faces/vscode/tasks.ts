/**
 * The task "check": the books of a folder as `waterlore check` checks them, by the checker that comes with the extension, so nothing else has
 * to be installed. Its report becomes problems by the matcher of the manifest; these take the place of those that the editor shows, and
 * the other way round, so that nothing stands there twice.
 */
import {
  ProcessExecution,
  Task,
  TaskGroup,
  tasks,
  workspace,
  type ExtensionContext,
  type TaskDefinition,
  type WorkspaceFolder,
} from "vscode";
import { extensionWords } from "../../messages/vscode.js";
import { problemMatcher, taskType } from "./names.js";

interface CheckDefinition extends TaskDefinition {
  /** Books, folders, patterns; if none, what `waterlore.json` names, or else the whole folder. */
  readonly paths?: readonly string[];
}

export function offerCheck(context: ExtensionContext): void {
  const checker = context.asAbsolutePath("check.js");
  const taskFor = (folder: WorkspaceFolder, definition: CheckDefinition): Task => {
    const execution = new ProcessExecution(process.execPath, [checker, ...(definition.paths ?? [])], {
      cwd: folder.uri.fsPath,
      // The editor's own program is a Node as well, if it is told so.
      env: { ELECTRON_RUN_AS_NODE: "1" },
    });
    const task = new Task(definition, folder, extensionWords.task.name, taskType, execution, `$${problemMatcher}`);
    task.detail = extensionWords.task.detail;
    task.group = TaskGroup.Build;
    return task;
  };
  context.subscriptions.push(
    tasks.registerTaskProvider(taskType, {
      provideTasks: () => (workspace.workspaceFolders ?? []).map((folder) => taskFor(folder, { type: taskType })),
      resolveTask: ({ definition, scope }) =>
        typeof scope === "object"
          ? taskFor(scope, definition)
          : (workspace.workspaceFolders ?? []).map((folder) => taskFor(folder, definition))[0],
    }),
  );
}
