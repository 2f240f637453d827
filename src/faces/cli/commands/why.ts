/** `waterlore why`: which rules spoke at a point, and which of them were overruled by what; of what is open, what is possible. */
import { explainAnswer } from "../../../answer/explain-answer.js";
import { answerExplainedText } from "../../../render/explain-text.js";
import type { ExitCode } from "../../node/exit.js";
import { print } from "../../node/streams.js";
import { harmless, terminalOf } from "../../node/terminal.js";
import { openModel, type BookOptions } from "../book.js";
import { answerOrStop, entriesOf, givenOrStop } from "../given.js";

export async function whyCommand(path: string, values: readonly string[], options: BookOptions): Promise<ExitCode> {
  const book = await openModel(path, options);
  const { model } = book;
  const answered = answerOrStop(book, givenOrStop(book, entriesOf(values)));
  const { width } = terminalOf(process.stdout);
  print(harmless(answerExplainedText(model, explainAnswer(model, answered), { width })));
  return book.exit;
}
