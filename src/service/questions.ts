/**
 * What to ask a customer next, for an editor that asks one thing at a time.
 *
 *     given clarity muddy; sky not known   ──▶   cover: grass, pads, docks?      the one that settles most, then the others
 *                                                water-temp: cold, cool, warm, or a number?
 *
 * What has been answered, and what the customer does not know, is not asked again; what can change nothing is never asked. A reply is one
 * of the values offered or, where `typed` says so, anything in its form: what comes back goes into `given` as it is.
 */
import type { Answers } from "../analysis/answers.js";
import type { Condition, Model } from "../model/model.js";
import { accepted } from "../model/points.js";
import { readGiven } from "../answer/given.js";
import { questionOf } from "../render/json.js";
import { answeringGiven } from "../answer/answer.js";
import { repliesTo } from "../answer/replies.js";
import { cellWords } from "../render/words.js";

export interface Questions {
  /** Title of the book. */
  readonly title: string;
  /** The best first; none: nothing that could be asked changes any answer. */
  readonly questions: readonly Question[];
  /** A sentence where a value is not accepted, or the values never occur together. */
  readonly problem?: string;
}
export interface Question {
  readonly condition: string;
  readonly label: string;
  /** To be read aloud. */
  readonly question: string;
  readonly replies: readonly Reply[];
  /** Of a set: those of the replies of which several may hold together. */
  readonly members?: readonly string[];
  /** A value of its own may be typed instead: what is accepted, in words. */
  readonly typed?: string;
}
interface Reply {
  readonly value: string;
  /** What it stands for, where the word alone does not say: "below 50 °F". */
  readonly about?: string;
}

export interface QuestionOptions {
  /** Names of conditions of which the customer has said that it is not known. */
  readonly unknown?: readonly string[];
  readonly steps?: number;
}

/** In short pieces of work. */
export function* findingQuestions(
  answers: Answers,
  given: Readonly<Record<string, string>>,
  { unknown = [], steps }: QuestionOptions = {},
): Generator<void, Questions> {
  const { model } = answers;
  const { title } = model.books.at(-1)!;
  const read = readGiven(model, Object.entries(given));
  if ("problems" in read) return { title, questions: [], problem: read.problems.map(({ problem }) => problem).join(" ") };
  const done = new Set([...unknown, ...Object.keys(read.given.values)]);
  const toAsk = read.given.unknown.filter((index) => !done.has(model.conditions[index]!.name));
  const answered = yield* answeringGiven(model, { ...read.given, unknown: toAsk }, () => answers, { steps });
  if ("problem" in answered) return { title, questions: [], problem: answered.problem };
  const { ask, open } = answered;
  const order = [...(ask === undefined ? [] : [ask]), ...open.filter((index) => index !== ask)];
  return { title, questions: order.map((index) => asQuestion(model, model.conditions[index]!)) };
}

function asQuestion(model: Model, condition: Condition): Question {
  const { name, label, domain } = condition;
  return {
    condition: name,
    label,
    question: questionOf(condition),
    replies: repliesTo(model, condition).map(({ value, span }) => ({
      value,
      ...(span && { about: cellWords(model, condition, new Map([[condition.axes[0]!, span]])) }),
    })),
    ...(domain.kind === "set" && { members: domain.members }),
    ...(domain.kind !== "scale" && domain.kind !== "set" && { typed: accepted(condition) }),
  };
}
