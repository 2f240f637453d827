/**
 * An answer in parts, for a page on which what was told can be changed: what to tie on, what to mind, what is known, and why.
 *
 *     Blade shape: leaf, then teardrop           why: the patterns that stand          aside: what yields, other options, what would change it
 *     water clarity: muddy                       its other values, and which of them go with the rest of what is known
 */
import type { Answers } from "../analysis/answers.js";
import { findPossible } from "../analysis/answers.js";
import { budget, withinBudget } from "../analysis/budget.js";
import type { Box } from "../analysis/diagrams/diagram.js";
import type { AnswerExplained } from "../answer/explain-answer.js";
import type { Given } from "../answer/given.js";
import { repliesTo } from "../answer/replies.js";
import { tableWords } from "../messages/table.js";
import { emptySet } from "../model/empty-set.js";
import type { Condition, Model } from "../model/model.js";
import { accepted } from "../model/points.js";
import { run } from "../model/span.js";
import { asideOf, closingOf, openingOf, reasonsOf } from "../render/explain-text.js";
import { askText, pickText, warningText } from "../render/text.js";
import { cellWords, pickLabel } from "../render/words.js";
import { questionOf } from "../render/json.js";

export interface AnswerParts {
  /** Title of the book. */
  readonly title: string;
  /** What closes everything, or may, and why that is so here: it stands before all else. */
  readonly closed: readonly string[];
  /** What is recommended before what is only judged. */
  readonly picks: readonly PickPart[];
  readonly cautions: readonly string[];
  /** What had to be taken for the explanation, or that too little is known for one. */
  readonly taken: readonly string[];
  /** What to ask next, where an answer depends on it. */
  readonly ask?: string;
  readonly conditions: readonly ConditionPart[];
}
export interface PickPart {
  readonly label: string;
  /** "leaf, then teardrop"; of what depends on something unknown, that it does. */
  readonly answer: string;
  /** Of what depends on something unknown: what it is most often, and how often. */
  readonly likeliest?: string;
  /** A status, or "open". */
  readonly status: string;
  /** It is recommended, not only judged, and there is something to choose. */
  readonly applies: boolean;
  /** Sentences: where the answer comes from, or what is possible. */
  readonly why: readonly string[];
  /** What does not count here: what yields, the other options, what one change would change. */
  readonly aside: readonly string[];
}
export interface ConditionPart {
  readonly condition: string;
  readonly label: string;
  /** To be read aloud. */
  readonly question: string;
  /** Of a set the members, of which several may hold together, and that there is none. */
  readonly replies: readonly { readonly value: string; readonly about?: string; readonly fits: boolean }[];
  readonly several: boolean;
  /** A value of its own may be typed: what is accepted, in words. */
  readonly typed?: string;
  /** What it was taken to be, where it was filled and not told. */
  readonly filled?: string;
}

/** Steps for each reply that is tried: on the points that are possible alone. */
const STEPS = 2_000;

/** In short pieces of work. */
export function* partingAnswer(answers: Answers, explained: AnswerExplained): Generator<void, AnswerParts> {
  const { model } = answers;
  const { answered, settled, open } = explained;
  const conditions: ConditionPart[] = [];
  for (const condition of model.conditions) {
    conditions.push(conditionPart(answers, condition, answered.given));
    yield;
  }
  return {
    title: model.books.at(-1)!.title,
    closed: closingOf(model, explained),
    picks: [
      ...settled.map((pick): PickPart => ({
        label: pickLabel(pick),
        answer: tableWords.outcome(pick.status, pick.answer),
        status: pick.status,
        applies: !pick.judgement && pick.status !== "not applicable",
        why: reasonsOf(pick),
        aside: asideOf(pick),
      })),
      ...open.map((one): PickPart => {
        const [answer, ...why] = pickText(model, one);
        const [, likeliest] = why;
        const pick = model.picks[one.pick]!;
        return {
          label: pickLabel(pick),
          answer: answer!,
          status: "open",
          applies: !pick.judgement,
          why,
          aside: [],
          ...(likeliest !== undefined && { likeliest }),
        };
      }),
    ],
    cautions: answered.cautions.map(warningText),
    taken: openingOf(explained),
    ...(answered.ask !== undefined && open.length > 0 && { ask: askText(model, answered.ask) }),
    conditions,
  };
}

function conditionPart(answers: Answers, condition: Condition, { box, filled, values }: Given): ConditionPart {
  const { model } = answers;
  const { name, label, domain, axes } = condition;
  const others = new Map([...box].filter(([axis]) => !axes.includes(axis)));
  const fill = filled.includes(name) ? values[name] : undefined;
  return {
    condition: name,
    label,
    question: questionOf(condition),
    replies: repliesTo(model, condition).map(({ value, span }) => ({
      value,
      ...(span && { about: cellWords(model, condition, new Map([[axes[0]!, span]])) }),
      fits: goesWith(answers, new Map([...others, ...(span ? [[axes[0]!, span] as const] : limitsOf(condition, value))])),
    })),
    several: domain.kind === "set",
    ...(domain.kind !== "scale" && domain.kind !== "set" && { typed: accepted(condition) }),
    ...(typeof fill === "string" && { filled: fill }),
  };
}

/** Of a level, of a member alone whatever else there is, of none of them. */
function limitsOf({ domain, axes }: Condition, value: string): Box {
  if (domain.kind === "scale") {
    const level = domain.levels.indexOf(value);
    return new Map([[axes[0]!, run(level, level)]]);
  }
  if (domain.kind !== "set") return new Map();
  return value === emptySet && !domain.members.includes(value)
    ? new Map(axes.map((axis) => [axis, run(0, 0)] as const))
    : new Map([[axes[domain.members.indexOf(value)]!, run(1, 1)]]);
}

/** Whether it can be so; where that would take long, it is taken to be. */
function goesWith(answers: Answers, box: Box): boolean {
  const found = withinBudget(() => ({ point: findPossible(answers, box, budget(STEPS)) }));
  return found === undefined || found.point !== undefined;
}

/** The patterns that some sentences name, by index. */
export function namedIn({ patterns }: Model, { picks }: AnswerParts): readonly number[] {
  const said = picks.flatMap(({ why, aside }) => [...why, ...aside]).join("\n");
  return patterns.filter(({ title }) => said.includes(`“${title}”`)).map(({ index }) => index);
}
