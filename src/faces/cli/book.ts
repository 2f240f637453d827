/** One book opened for `table`, `answer` and `why`: what can be read of it, with a note where that is not all. */
import { answers, type Answers } from "../../analysis/answers.js";
import { STEPS } from "../../analysis/analyse.js";
import { notes } from "../../messages/cli.js";
import type { Model } from "../../model/model.js";
import { resolve } from "../../model/resolve.js";
import { parse } from "../../syntax/parse.js";
import { configOf } from "../node/config.js";
import { CannotRun, dayOf, note, openBook, stepsOf, type ExitCode, type StdinOption } from "./command.js";
import { reader, tidyPath } from "../node/files.js";

export interface BookOptions extends StdinOption {
  readonly on?: string;
  readonly steps?: string;
  readonly config?: string;
}

export interface OpenBook {
  readonly model: Model;
  /** Worked out when first asked for. */
  readonly answersOf: () => Answers;
  readonly steps?: number;
  /** The day of `--on`, or else of the settings, and which of the two; a day that nobody has given is not known. */
  readonly day?: string;
  readonly dayFrom?: string;
  /** 1 if part of the book could not be read. */
  readonly exit: ExitCode;
}

export async function openModel(path: string, options: BookOptions): Promise<OpenBook> {
  const config = await configOf(options.config);
  const day = options.on ?? config?.day;
  const on = dayOf(day);
  const steps = stepsOf(options.steps) ?? config?.steps;
  const opened = openBook(path, options);
  if ("problem" in opened) throw new CannotRun(opened.problem);
  const { model, findings } = resolve(parse(opened.text, opened.path), reader([opened.path]), { on });
  const errors = findings.filter(({ severity }) => severity === "error").length;
  if (errors > 0) note(notes.bookHasErrors(opened.path, errors));
  let known: Answers | undefined;
  return {
    model,
    answersOf: () => (known ??= answers(model, { steps: steps ?? STEPS })),
    steps,
    day,
    dayFrom: options.on === undefined ? config && tidyPath(config.file) : undefined,
    exit: errors > 0 ? 1 : 0,
  };
}
