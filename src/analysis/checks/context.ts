/** What every check works with: the answers, a way to say where something is so, and the budget. */
import { severities, type Code, type Edit, type Finding, type Place, type Severity } from "../../diagnostics.js";
import { analysisWords, type Saying } from "../../messages/analysis.js";
import { sayList } from "../../messages/words.js";
import type { Model, Pick } from "../../model/model.js";
import { budget, withinBudget, type Budget } from "../budget.js";
import { pointIn, type Answers, type Askable, type Limits, type PickDiagrams } from "../answers.js";
import type { Node } from "../diagrams/diagram.js";
import { flags, regionOf, type Flags, type Region } from "../diagrams/region.js";
import type { Rule } from "../rules.js";
import { sayWhere, type Where } from "../where.js";
import { optionTexts } from "../../model/texts.js";

export interface Context {
  readonly answers: Answers;
  readonly model: Model;
  readonly limits: Limits;
  /** What a budget left open. */
  readonly undecided: Undecided[];
}

/** A question without an answer: in a sentence, and where it arose. */
export interface Undecided {
  readonly what: string;
  readonly place: Place;
}

export interface FoundRegion extends Region {
  readonly where: Where;
}

/** `part`: of the steps for a question. */
export function fresh(context: Context, part = 1): Budget {
  const { steps, interrupted, purse } = context.limits;
  return budget(steps * part, interrupted, purse);
}

/** A check: its findings as they come, with pauses in between. */
export type Check = (context: Context) => Generator<Finding | undefined, void>;

/** A question about where something is so. */
export interface Asked {
  /** All picks whose answers it depends on, that of the finding first. */
  readonly picks: readonly number[];
  /** What else it depends on, apart from these: tells it from other questions about the same picks. */
  readonly key: string;
  /** As a person would ask it, and where it arose. */
  readonly question: string;
  readonly place: Place;
}

/**
 * The region that a diagram of 0 and 1 over axes and tested picks describes; undefined where no possible point is in it.
 * Where the budget runs out, the question is noted as undecided.
 */
export function find(context: Context, asked: Asked, make: (target: Flags, spend: Budget) => Node<number>): FoundRegion | undefined {
  const { answers, undecided } = context;
  const answer = recalled(context, asked.picks, asked.key, () =>
    withinBudget(() => {
      const spend = fresh(context);
      const target = flags(spend);
      const region = regionOf(answers, make(target, spend), target, spend);
      return { region: region && located(context, region) };
    }),
  );
  if (!answer) undecided.push({ what: analysisWords.undecided.question(asked.question), place: asked.place });
  // The model may have axes now that it had not when this was worked out.
  return answer?.region && { ...answer.region, point: pointIn(answers, answer.region.box) };
}

/** The value of `work`, or what it was in an earlier analysis where none of the picks has changed. */
export function recalled<T>({ answers }: Context, picks: readonly number[], key: string, work: () => T): T {
  return answers.recall(`${picks.map((pick) => answers.prints.picks[pick]).join(" ")}|${key}`, work);
}

export function located({ answers }: Context, region: Region): FoundRegion {
  return { ...region, where: sayWhere(answers, region.boxes, undefined, region.whole) };
}

/** The picks about which questions can be asked, whether or not their diagrams fit the budget. */
export function askablePicks(context: Context): readonly Askable[] {
  return context.answers.askable.filter((pick) => pick !== undefined);
}

/** Picks with a broken pattern, and all that depend on them: what seems unused there may be in use once the pattern is mended. */
export function unsettledPicks({ model }: Context): ReadonlySet<number> {
  const unsettled = new Set(model.held.flatMap(({ picks }) => picks));
  // Each pick stands after those it tests.
  for (const pick of model.picks) if (pick.tests.some((tested) => unsettled.has(tested))) unsettled.add(pick.index);
  return unsettled;
}

/** The picks whose answers are known, with their diagrams. */
export function decidedPicks(context: Context): readonly PickDiagrams[] {
  return context.answers.picks.filter((pick) => pick !== undefined);
}

export function finding(code: Code, place: Place, saying: Saying, more: Partial<Finding> & { readonly severity?: Severity } = {}): Finding {
  return { code, severity: severities[code], path: place.path, range: place.range, ...saying, ...more };
}

/** The part of a finding that says where it is so. */
export function whereabouts({ where, example, share }: FoundRegion): Pick3 {
  return { where: where.text, example, share: share.toFraction() };
}
type Pick3 = Required<globalThis.Pick<Finding, "where" | "example" | "share">>;

/** What a rule says on its pick, in the book's words. */
export function saysOf(pick: Pick, rule: Rule): string {
  const texts = (options: Iterable<number>): string => [...options].map((option) => pick.options[option]!.text).join(", ");
  if (rule.goes) return sayList(optionTexts(pick, rule.goes));
  if (rule.nevers.size > 0) return `never ${texts(rule.nevers)}`;
  if (rule.leans.length > 0)
    return rule.leans.map(({ option, by }) => `${by.compare(0) > 0 ? "lean to" : "lean off"} ${pick.options[option]!.text}`).join(" and ");
  return rule.move > 0 ? `move up ${rule.move}` : `move down ${-rule.move}`;
}

/** Where an option is written; the pick's name if it stands nowhere by itself. */
export function optionPlace({ books }: Model, pick: Pick, option: number): Place {
  const { text } = pick.options[option]!;
  for (const book of books)
    for (const statement of book.tree.statements) {
      const declares =
        statement.kind === "pick" || statement.kind === "judgement"
          ? statement.name
          : statement.kind === "add"
            ? statement.pick
            : undefined;
      if (declares?.text !== pick.name || !("options" in statement)) continue;
      const value = statement.options.find(
        ({ range }) => book.text.slice(range.start, range.end).replace(/^"|"$/g, "").replace(/\s+/g, " ") === text,
      );
      if (value) return { path: book.path, range: value.range };
    }
  return pick.namePlace;
}

/** Text added at the end of the book that was asked for. */
export function atEndOfBook(model: Model, text: string): Edit {
  const book = model.books.at(-1)!;
  const end = book.text.length;
  const gap = book.text.endsWith("\n") ? "\n" : "\n\n";
  return { path: book.path, range: { start: end, end }, text: `${gap}${text}\n` };
}
