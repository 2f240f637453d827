/**
 * Why a book answers as it does for what a customer has said: as sentences, as Markdown, in parts for a page, and with the places of the patterns they name.
 *
 *     { clarity: "muddy" } ──read──▶ given ──answer──▶ answer ──explain──▶ text, Markdown, places of patterns
 */
import type { Answers } from "../analysis/answers.js";
import { answeringGiven } from "../answer/answer.js";
import { explainingAnswer } from "../answer/explain-answer.js";
import { readGiven } from "../answer/given.js";
import { answerExplainedMarkdown, answerExplainedText } from "../render/explain-text.js";
import { namedIn, partingAnswer, type AnswerParts } from "./answer-parts.js";
import { titledPlaces, type TitledPlace } from "./table.js";

export interface Explained {
  /** Lines of at most `width` columns. */
  readonly text: string;
  readonly markdown: string;
  readonly parts: AnswerParts;
  /** The patterns that its sentences name, in book order. */
  readonly because: readonly TitledPlace[];
}

export interface ExplainOptions {
  /** Fills what is filled from the date: `2027-04-15`; `dayFrom`: what it is called where it was set. */
  readonly day?: string;
  readonly dayFrom?: string;
  readonly steps?: number;
  /** Columns of the text; 100 if not said. */
  readonly width?: number;
}

/**
 * `given`: values by the names or labels of conditions. A problem, in sentences, where one of them is wrong. In short pieces of work.
 */
export function* explainingGiven(
  answers: Answers,
  given: Readonly<Record<string, string>>,
  { day, dayFrom, steps, width = 100 }: ExplainOptions = {},
): Generator<void, Explained | { readonly problem: string }> {
  const { model } = answers;
  const read = readGiven(model, Object.entries(given), day, dayFrom);
  if ("problems" in read) return { problem: read.problems.map(({ problem }) => problem).join("\n") };
  const answered = yield* answeringGiven(model, read.given, () => answers, { steps });
  if ("problem" in answered) return answered;
  const explained = yield* explainingAnswer(model, answered);
  const parts = yield* partingAnswer(answers, explained);
  return {
    text: answerExplainedText(model, explained, { width }),
    markdown: answerExplainedMarkdown(model, explained),
    parts,
    because: titledPlaces(model, namedIn(model, parts)),
  };
}
