/** `NAME=VALUE …` on the command line: what is given, and what is answered then. */
import { answer, type Answered } from "../../answer/answer.js";
import { readGiven, type Given } from "../../answer/given.js";
import { commandRefusals } from "../../messages/cli.js";
import type { Entry } from "../node/csv.js";
import { CannotRun } from "../node/exit.js";
import type { OpenModel } from "./book.js";

export function entriesOf(words: readonly string[]): readonly Entry[] {
  return words.map((word) => {
    const at = word.indexOf("=");
    if (at < 1) throw new CannotRun(commandRefusals.noValue(word));
    return [word.slice(0, at), word.slice(at + 1)];
  });
}

/** What the words say, or the end of the command with every word that is wrong. */
export function givenOrStop({ model, day, dayFrom }: OpenModel, entries: readonly Entry[]): Given {
  const read = readGiven(model, entries, day, dayFrom);
  if ("problems" in read) throw new CannotRun(read.problems.map(({ problem }) => problem).join("\n"));
  return read.given;
}

export function answerOrStop({ model, answersOf, steps }: OpenModel, given: Given): Answered {
  const answered = answer(model, given, answersOf, { steps });
  if ("problem" in answered) throw new CannotRun(answered.problem);
  return answered;
}
