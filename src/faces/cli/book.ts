/** One book opened for `table`, `answer` and `why`: what can be read of it, with a note where that is not all. */
import { STEPS } from "../../analysis/analyse.js";
import { answers, type Answers } from "../../analysis/answers.js";
import { commandNotes } from "../../messages/cli.js";
import type { Model } from "../../model/model.js";
import { resolve } from "../../model/resolve.js";
import { parse } from "../../syntax/parse.js";
import { CannotRun, type ExitCode } from "../node/exit.js";
import { reader } from "../node/read.js";
import { settingsOf, type SettingOptions, type Settings } from "../node/settings.js";
import { openBook, type StdinOption } from "../node/source.js";
import { note } from "../node/streams.js";

export interface BookOptions extends StdinOption, SettingOptions {}

export interface OpenModel extends Settings {
  readonly model: Model;
  /** Worked out when first asked for. */
  readonly answersOf: () => Answers;
  /** 1 if part of the book could not be read. */
  readonly exit: ExitCode;
}

export async function openModel(path: string, options: BookOptions): Promise<OpenModel> {
  const settings = await settingsOf(options);
  const { on, steps } = settings;
  const opened = openBook(path, options);
  if ("problem" in opened) throw new CannotRun(opened.problem);
  const { model, findings } = resolve(parse(opened.text, opened.path), reader([opened.path]), { on });
  const errors = findings.filter(({ severity }) => severity === "error").length;
  if (errors > 0) note(commandNotes.bookHasErrors(opened.path, errors));
  let known: Answers | undefined;
  return {
    ...settings,
    model,
    answersOf: () => (known ??= answers(model, { steps: steps ?? STEPS })),
    exit: errors > 0 ? 1 : 0,
  };
}
