/**
 * `waterlore why`: which rules spoke at a point, and which of them were overruled by what.
 *
 * An explanation needs a point. Where something is not given, what is settled all the same is explained at one point that agrees
 * with what is given, and says so; of the rest it is said what is possible, and asked what would settle it.
 */
import type { Answered } from "../../../answer/answer.js";
import { explain } from "../../../answer/explain.js";
import { exactValues, saidValues } from "../../../answer/given.js";
import { notes } from "../../../messages/cli.js";
import { say } from "../../../messages/table.js";
import { sayExample } from "../../../messages/words.js";
import { explanationText } from "../../../render/explain-text.js";
import { answerText } from "../../../render/text.js";
import { CannotRun, type ExitCode } from "../../node/exit.js";
import { print } from "../../node/streams.js";
import { harmless, terminalOf, wrap } from "../../node/terminal.js";
import { openModel, type BookOptions } from "../book.js";
import { answerOrStop, entriesOf, givenOrStop } from "../given.js";

export async function why(path: string, values: readonly string[], options: BookOptions): Promise<ExitCode> {
  const book = await openModel(path, options);
  const { model } = book;
  const given = givenOrStop(book, entriesOf(values));
  const answered = answerOrStop(book, given);
  const exact = exactValues(model, given);
  const explained = explain(model, answered.example, exact);
  if ("problem" in explained) throw new CannotRun(explained.problem);
  const { width } = terminalOf(process.stdout);
  const open = answered.picks.filter(({ outcome }) => outcome === undefined);
  const settled = explained.picks.filter((_, pick) => answered.picks[pick]!.outcome !== undefined);
  const parts: string[] = [];
  if (settled.length > 0) {
    const taken = Object.entries(explained.point).filter(([name]) => !Object.hasOwn(exact, name));
    if (taken.length > 0)
      parts.push(
        `${wrap(
          notes.taken(
            sayExample(Object.fromEntries(taken)),
            taken.some(([name]) => Object.hasOwn(given.values, name)),
          ),
          width,
        )}\n`,
      );
    // What was taken has just been said.
    parts.push(explanationText({ ...explained, point: saidValues(model, given), picks: settled }, { width }));
  } else if (open.length > 0) parts.push(`${wrap(notes.nothingToExplain, width)}\n`);
  if (open.length > 0) parts.push(answerText(model, { ...answered, picks: open, cautions: [] }, { width }));
  if (answered.cautions.length > 0)
    parts.push(`${[say.mind, ...answered.cautions.map((warning) => cautionLine(warning, width))].join("\n")}\n`);
  print(harmless(parts.join("\n")));
  return book.exit;
}

function cautionLine({ caution, sure }: Answered["cautions"][number], width: number): string {
  const text = say.caution(sure ? caution.title : say.may(caution.title), undefined, caution.say);
  return wrap(caution.see.length > 0 ? `${text} ${say.see(caution.see)}` : text, width, "  ", "- ");
}
