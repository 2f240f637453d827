/**
 * Why a book answers as it does for what a customer has said: as sentences, as Markdown, and with the places of the patterns they name.
 *
 *     { clarity: "muddy" } ──answer──▶ settled picks ──explain──▶ which patterns speak, which yield and to what, what would change it
 *                               └────▶ the others: what is possible, and what to ask next
 *
 * An explanation needs a point: where something is not given, what is settled all the same is explained at one point that agrees with
 * what is given, and it says so.
 */
import type { Answers } from "../analysis/answers.js";
import { notes } from "../messages/cli.js";
import { say } from "../messages/table.js";
import { sayExample } from "../messages/words.js";
import type { Model } from "../model/model.js";
import { wrapped } from "../render/columns.js";
import { explain, type PickExplained } from "../answer/explain.js";
import { explainedIn, explanationText } from "../render/explain-text.js";
import { exactValues, readGiven, saidValues } from "../answer/given.js";
import { answer, type Answered } from "../answer/answer.js";
import { questionOf } from "../render/json.js";
import { answerText, pickText } from "../render/text.js";
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

/** `given`: values by the names or labels of conditions. A problem, in sentences, where one of them is wrong. */
export function explainGiven(
  model: Model,
  answersOf: () => Answers,
  given: Readonly<Record<string, string>>,
  { day, dayFrom, steps, width = 100 }: ExplainOptions = {},
): Explained | { readonly problem: string } {
  const read = readGiven(model, Object.entries(given), day, dayFrom);
  if ("problems" in read) return { problem: read.problems.map(({ problem }) => problem).join("\n") };
  const answered = answer(model, read.given, answersOf, { steps });
  if ("problem" in answered) return answered;
  const exact = exactValues(model, read.given);
  const explained = explain(model, answered.example, exact);
  if ("problem" in explained) return explained;

  const settled = explained.picks.filter((_, pick) => answered.picks[pick]!.outcome !== undefined);
  const judged = ({ pick }: Answered["picks"][number]): boolean => model.picks[pick]!.judgement;
  const open = answered.picks.filter(({ outcome }) => outcome === undefined).sort((a, b) => Number(judged(a)) - Number(judged(b)));
  const taken = Object.entries(explained.point).filter(([name]) => !Object.hasOwn(exact, name));
  const opening =
    settled.length === 0
      ? [notes.nothingToExplain]
      : taken.length === 0
        ? []
        : [
            notes.taken(
              sayExample(Object.fromEntries(taken)),
              taken.some(([name]) => Object.hasOwn(read.given.values, name)),
            ),
          ];
  const point = saidValues(model, read.given);
  const possible = open.length === 0 ? "" : answerText(model, { ...answered, picks: open, cautions: [] }, { width });
  const cautions = answered.cautions.map(cautionLine);
  const text = [
    ...opening.map((sentence) => `${wrapped(sentence, width).join("\n")}\n`),
    ...(settled.length === 0 ? [] : [explanationText({ ...explained, point, picks: settled }, { width })]),
    ...(possible === "" ? [] : [possible]),
    ...(cautions.length === 0 ? [] : [`${[say.mind, ...cautions.flatMap((line) => wrapped(`- ${line}`, width, 2))].join("\n")}\n`]),
  ];
  const unknown = answered.open.filter((index) => !read.given.partly.includes(index));
  const markdown = [
    escaped(
      say.given(
        Object.keys(point).length === 0 ? "" : sayExample(point),
        unknown.map((index) => model.conditions[index]!.name),
      ),
    ),
    ...opening.map(escaped),
    ...settled.flatMap((pick) => [
      `### ${escaped(headline(pick))}`,
      explainedIn(pick)
        .map((sentence) => `- ${escaped(sentence)}`)
        .join("\n"),
    ]),
    ...open.flatMap((one) => {
      const { label } = model.picks[one.pick]!;
      const [first, ...rest] = pickText(model, one);
      return [
        `### ${escaped(`${judged(one) ? say.judged(label) : label}: ${first!}`)}`,
        rest.map((line) => `- ${escaped(line)}`).join("\n"),
      ];
    }),
    ...(open.length === 0 || answered.ask === undefined ? [] : [escaped(say.ask(questionOf(model.conditions[answered.ask]!)))]),
    ...(cautions.length === 0 ? [] : [`### ${say.mindHeading}`, cautions.map((line) => `- ${escaped(line)}`).join("\n")]),
  ];
  const titles = new Set(settled.flatMap(({ patterns }) => patterns.map(({ pattern }) => pattern)));
  return {
    text: text.join("\n"),
    markdown: `${markdown.join("\n\n")}\n`,
    because: titledPlaces(
      model,
      model.patterns.filter(({ title }) => titles.has(title)).map(({ index }) => index),
    ),
  };
}

function headline(pick: PickExplained): string {
  return say.explain.headline(pick.judgement ? say.judged(pick.label) : pick.label, say.outcome(pick.status, pick.answer));
}

function cautionLine({ caution, sure }: Answered["cautions"][number]): string {
  const text = say.caution(sure ? caution.title : say.may(caution.title), undefined, caution.say);
  return caution.see.length > 0 ? `${text} ${say.see(caution.see)}` : text;
}

/** Signs that Markdown or HTML would take for something else. */
function escaped(text: string): string {
  return text.replace(/[\\`*_{}[\]<>|#]/g, (sign) => `\\${sign}`).replace(/\s*\n\s*/g, " ");
}
