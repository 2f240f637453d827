/** The JSON forms of tables and answers; their schemas stand in `src/schema/`. */
import type { Answers } from "../analysis/answers.js";
import { FAILS, HOLDS } from "../analysis/diagrams/formula.js";
import type { Status } from "../analysis/outcome.js";
import type { Example } from "../diagnostics.js";
import { tableWords } from "../messages/table.js";
import type { BookFacts, Caution, Condition, Model, Pick, SayNothing, Test } from "../model/model.js";
import { exampleOf, sayPosition } from "../model/points.js";
import { silenceText } from "../model/reader.js";
import { printQuantity } from "../model/quantities.js";
import type { Reason } from "../answer/because.js";
import type { Row, Table } from "../table/compile.js";
import type { Answered, PickAnswered } from "../answer/answer.js";
import { boxesWhere } from "../answer/truth.js";
import { whenOf, type When } from "./when.js";
import type { Texts } from "../messages/words.js";
import { optionTexts } from "../model/texts.js";

export interface TableJson extends BookFacts {
  readonly format: "waterlore-table";
  readonly version: 1;
  /** The path of the book. */
  readonly book: string;
  /** Every condition of the book, in its order. */
  readonly conditions: readonly ConditionJson[];
  readonly picks: readonly PickJson[];
  /** Disjoint; together they cover every possible point. */
  readonly rows: readonly RowJson[];
  /** Points that cannot occur; they are refused, whichever row would hold them. */
  readonly impossible: readonly { readonly because?: string; readonly when: readonly When[] }[];
  /** What closes everything; its rows stand in the table all the same. None: nothing does. */
  readonly closed?: readonly ClosedJson[];
  readonly cautions: readonly CautionJson[];
}
type ConditionJson = { readonly name: string; readonly label: string; readonly ask?: string; readonly filledFrom?: string } & (
  | { readonly kind: "scale"; readonly ordered: boolean; readonly levels: readonly string[] }
  | { readonly kind: "set"; readonly members: readonly string[]; readonly atLeastOne: boolean }
  | { readonly kind: "measure"; readonly low: string; readonly high: string; readonly step?: string; readonly unit?: string }
  | { readonly kind: "days" | "times" }
);
interface PickJson {
  readonly name: string;
  readonly label: string;
  readonly options: readonly string[];
  readonly ordered: boolean;
  readonly judgement?: true;
}
interface RowJson {
  readonly when: When;
  readonly picks: Readonly<Record<string, { readonly status: Status; readonly answer: Texts }>>;
  /** Titles of patterns. */
  readonly because: readonly string[];
  /** Why nothing is said. */
  readonly silence?: readonly string[];
  /** One possible point of the row. */
  readonly example: Example;
}
interface ClosedJson {
  /** Its reason, or else where that is. */
  readonly text: string;
  readonly when: readonly When[];
  /** Of these, where it only may be closed, because what it tests has no clear answer there. */
  readonly may?: readonly When[];
}
interface CautionJson {
  readonly caution: string;
  readonly text: string;
  readonly see?: readonly string[];
  /** It is shown in any of these; `[{}]`: always. */
  readonly when: readonly When[];
  /** Of these, where it only may apply, because what it tests has no clear answer there. */
  readonly may?: readonly When[];
}
export interface AnswersJson {
  readonly format: "waterlore-answers";
  readonly version: 1;
  readonly book: string;
  readonly answers: readonly (AnswerJson | Refused)[];
}
/** What could not be answered, and why, in sentences. */
export interface Refused {
  readonly beside?: Readonly<Record<string, string>>;
  readonly given: Example;
  readonly problems: readonly string[];
}
export interface AnswerJson {
  /** What stood beside the point and names no condition, by column. */
  readonly beside?: Readonly<Record<string, string>>;
  readonly given: Example;
  readonly unknown: readonly string[];
  /** What closes everything for what is given, or may; none: nothing. `picks` are then told of where they are open. */
  readonly closed?: readonly { readonly text: string; readonly may?: true }[];
  /** Nothing that agrees with what is given is open. */
  readonly shut?: true;
  readonly picks: Readonly<Record<string, PickAnswerJson>>;
  readonly cautions: readonly { readonly caution: string; readonly text: string; readonly see?: readonly string[]; readonly may?: true }[];
  readonly ask?: { readonly condition: string; readonly question: string };
}
interface PickAnswerJson {
  readonly judgement?: true;
  readonly status: Status | "depends" | "undecided";
  readonly answer: Texts;
  readonly because: readonly { readonly pattern?: string; readonly text?: string }[];
  readonly safe: Texts;
  readonly possible: readonly { readonly status: Status; readonly answer: Texts; readonly share: string }[];
}

/** `answers`: those the table was made from. */
export function tableJson(answers: Answers, table: Table): TableJson {
  const { model } = answers;
  const book = model.books.at(-1)!;
  const { title, shop, water, edition, goodFrom, goodTo } = book;
  return {
    format: "waterlore-table",
    version: 1,
    book: book.path,
    title,
    ...given({ shop, water, edition, goodFrom, goodTo }),
    conditions: model.conditions.map((condition) => conditionJson(model, condition)),
    picks: table.picks.map((index) => pickJson(model.picks[index]!)),
    rows: table.rows.map((row) => rowJson(table, row)),
    impossible: model.impossible.flatMap(({ when, because }) => {
      const found = boxesWhere(answers, when, (mask) => mask === HOLDS);
      return found ? [{ ...given({ because }), when: found.map((box) => whenOf(model, box)) }] : [];
    }),
    ...(model.closed.length > 0 && { closed: model.closed.map((silence) => closedJson(answers, silence)) }),
    cautions: model.cautions.map((caution) => cautionJson(answers, caution)),
  };
}

/** `beside`: of each answer what else stood in its row. */
export function answersJson(
  model: Model,
  all: readonly (Answered | Refused)[],
  beside: readonly (readonly (readonly [string, string])[])[] = [],
): AnswersJson {
  const book = model.books.at(-1)!.path;
  const besides = (i: number) => (beside[i]?.length ? { beside: Object.fromEntries(beside[i]) } : {});
  const answers = all.map((one, i) => ({ ...besides(i), ...("problems" in one ? one : answerJson(model, one)) }));
  return { format: "waterlore-answers", version: 1, book, answers };
}

export function answerJson(model: Model, { given: { values, unknown, partly }, closed, shut, picks, cautions, ask }: Answered): AnswerJson {
  return {
    given: values,
    unknown: unknown.filter((index) => !partly.includes(index)).map((index) => model.conditions[index]!.name),
    ...(closed.length > 0 && {
      closed: closed.map(({ silence, sure }) => ({ text: closedReason(model, silence), ...(!sure && { may: true as const }) })),
    }),
    ...(shut && { shut }),
    picks: Object.fromEntries(picks.map((one) => [model.picks[one.pick]!.name, pickAnswerJson(model, one)])),
    cautions: cautions.map(({ caution, sure }) => ({
      caution: caution.title,
      text: caution.say,
      ...(caution.see.length > 0 && { see: caution.see }),
      ...(!sure && { may: true as const }),
    })),
    ...(ask !== undefined && { ask: { condition: model.conditions[ask]!.name, question: questionOf(model.conditions[ask]!) } }),
  };
}

/** The question as the book has it, else one from the label and what it takes. */
export function questionOf({ ask, label, domain }: Condition): string {
  if (ask !== undefined) return ask;
  switch (domain.kind) {
    case "scale":
      return tableWords.askLevel(label, domain.levels);
    case "set":
      return tableWords.askMembers(label, domain.members);
    case "measure":
      return tableWords.askNumber(label, (domain.saidIn ?? domain.unit)?.symbol);
    case "days":
      return tableWords.askDay(label);
    case "times":
      return tableWords.askTime(label);
  }
}

export function reasonJson(model: Model, { pattern, text }: Reason): { readonly pattern?: string; readonly text?: string } {
  return { ...(pattern !== undefined && { pattern: model.patterns[pattern]!.title }), ...(text !== undefined && { text }) };
}

function pickAnswerJson(model: Model, one: PickAnswered): PickAnswerJson {
  const pick = model.picks[one.pick]!;
  return {
    ...(pick.judgement && { judgement: true as const }),
    status: one.outcome?.status ?? (one.undecided ? "undecided" : "depends"),
    answer: optionTexts(pick, one.outcome?.places ?? []),
    because: one.because.map((reason) => reasonJson(model, reason)).filter((reason) => Object.keys(reason).length > 0),
    safe: optionTexts(pick, one.safe),
    possible: one.possible.map(({ outcome, share }) => ({
      status: outcome.status,
      answer: optionTexts(pick, outcome.places),
      share: share.toFraction(),
    })),
  };
}

function conditionJson(model: Model, { name, label, domain, axes, ask, filledFrom }: Condition): ConditionJson {
  const base = { name, label, ...given({ ask, filledFrom }) };
  switch (domain.kind) {
    case "scale":
      return { ...base, kind: "scale", ordered: domain.ordered, levels: domain.levels };
    case "set":
      return { ...base, kind: "set", members: domain.members, atLeastOne: domain.atLeastOne };
    case "measure": {
      const end = (position: number): string => sayPosition(model, axes[0]!, position);
      return {
        ...base,
        kind: "measure",
        low: end(0),
        high: end(model.axes[axes[0]!]!.size - 1),
        ...given({ step: domain.step && printQuantity(domain.step, domain.unit), unit: domain.unit?.symbol }),
      };
    }
    default:
      return { ...base, kind: domain.kind };
  }
}

function pickJson({ name, label, options, ordered, judgement }: Pick): PickJson {
  return { name, label, options: options.map(({ text }) => text), ordered, ...(judgement && { judgement: true as const }) };
}

function rowJson({ model, picks }: Table, { box, outcomes, because, silence, example }: Row): RowJson {
  return {
    when: whenOf(model, box),
    picks: Object.fromEntries(
      picks.map((index, i) => {
        const pick = model.picks[index]!;
        return [pick.name, { status: outcomes[i]!.status, answer: optionTexts(pick, outcomes[i]!.places) }];
      }),
    ),
    // In a book with errors two patterns may have one title.
    because: [...new Set(because.map((pattern) => model.patterns[pattern]!.title))],
    ...(silence.length > 0 && { silence }),
    example: exampleOf(model, example),
  };
}

function closedJson(answers: Answers, silence: SayNothing): ClosedJson {
  return { text: closedReason(answers.model, silence), ...whereJson(answers, silence.when) };
}

/** Why everything is closed; without a reason, where. */
export function closedReason(model: Model, silence: SayNothing): string {
  return silence.because ?? tableWords.closed(undefined, silenceText(model, silence));
}

function cautionJson(answers: Answers, { title, say: text, see, when }: Caution): CautionJson {
  return { caution: title, text, ...(see.length > 0 && { see }), ...whereJson(answers, when) };
}

/** Where a test may hold, and of that where it is not sure to. */
function whereJson(answers: Answers, test: Test | undefined): { readonly when: readonly When[]; readonly may?: readonly When[] } {
  const whens = (wanted: (mask: number) => boolean): readonly When[] =>
    (boxesWhere(answers, test, wanted) ?? [new Map()]).map((box) => whenOf(answers.model, box));
  // Undecided within the budget: it may apply anywhere, since a warning too many is better than none.
  const may = whens((mask) => mask !== HOLDS && mask !== FAILS);
  return { when: whens((mask) => mask !== FAILS), ...(may.length > 0 && { may }) };
}

/** Only what is there. */
function given<T extends Readonly<Record<string, string | undefined>>>(entries: T): { [K in keyof T]?: string } {
  return Object.fromEntries(Object.entries(entries).filter(([, value]) => value !== undefined)) as { [K in keyof T]?: string };
}
