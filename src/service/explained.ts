/**
 * Why a book answers as it does for what a customer has said: as sentences, as Markdown, and with the places of the patterns they name.
 *
 *     { clarity: "muddy" } ──read──▶ given ──answer──▶ answer ──explain──▶ text, Markdown, places of patterns
 */
import type { Answers } from "../analysis/answers.js";
import { answeringGiven } from "../answer/answer.js";
import { explainingAnswer } from "../answer/explain-answer.js";
import { readGiven } from "../answer/given.js";
import type { Model } from "../model/model.js";
import { answerExplainedMarkdown, answerExplainedText } from "../render/explain-text.js";
import { titledPlaces, type TitledPlace } from "./table.js";

export interface Explained {
  /** Lines of at most `width` columns. */
  readonly text: string;
  readonly markdown: string;
  /** The patterns that speak on what is settled, in book order. */
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
 * `given`: values by the names or labels of conditions. A problem, in sentences, where one of them is wrong. In short pieces of work;
 * `answersOf` is only called where something is not given.
 */
export function* explainingGiven(
  model: Model,
  answersOf: () => Generator<void, Answers>,
  given: Readonly<Record<string, string>>,
  { day, dayFrom, steps, width = 100 }: ExplainOptions = {},
): Generator<void, Explained | { readonly problem: string }> {
  const read = readGiven(model, Object.entries(given), day, dayFrom);
  if ("problems" in read) return { problem: read.problems.map(({ problem }) => problem).join("\n") };
  const answers = read.given.unknown.length > 0 ? yield* answersOf() : undefined;
  const answered = yield* answeringGiven(model, read.given, () => answers!, { steps });
  if ("problem" in answered) return answered;
  const explained = yield* explainingAnswer(model, answered);
  const titles = new Set(explained.settled.flatMap(({ patterns }) => patterns.map(({ pattern }) => pattern)));
  return {
    text: answerExplainedText(model, explained, { width }),
    markdown: answerExplainedMarkdown(model, explained),
    because: titledPlaces(
      model,
      model.patterns.filter(({ title }) => titles.has(title)).map(({ index }) => index),
    ),
  };
}
