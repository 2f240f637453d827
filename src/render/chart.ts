/**
 * What a chart on the wall shows of a table: cells in words, as plain data that text and Markdown only have to draw.
 *
 *     two facets, each a scale, measure, day, time or pick:      anything else: a list of rows
 *
 *         Water clarity │ up to 10 mph │ 11 mph and more             Water clarity   │ Cover  │ Blade style
 *         clear         │ clear        │ stained                     dirty or muddy  │ any    │ colorado, then indiana
 *         stained       │ stained      │ dirty                       clear           │ grass  │ willow
 */
import { findPossible, type Answers } from "../analysis/answers.js";
import { budget } from "../analysis/budget.js";
import type { Box } from "../analysis/diagrams/diagram.js";
import { FAILS } from "../analysis/diagrams/formula.js";
import type { Outcome } from "../analysis/outcome.js";
import { tableWords } from "../messages/table.js";
import type { Model, Test } from "../model/model.js";
import { full, intersect, isEmpty, same, subtract, within, type Span } from "../model/span.js";
import { compiling, type Compiled, type CompileOptions, type Row, type Table } from "../table/compile.js";
import { testedBy } from "../table/tested.js";
import { trimmed } from "../table/trim.js";
import { facetsOf, sizeOf, type Facet } from "./facet.js";
import { gather } from "./gather.js";
import { sourceWords } from "./sources.js";
import { chartedFor } from "../answer/closed.js";
import { boxesWhere } from "../answer/truth.js";
import { picksIn } from "../model/atoms.js";
import { legendWords, pickLabel, type Legend } from "./words.js";
import { optionTexts } from "../model/texts.js";

/** Everything on the wall: a chart for each table, what their words mean, what to mind. */
export interface Sheet {
  /** "Bladed baits, Hollin Reservoir. Hollin Landing, 2027 spring, good from 2027-03-01 to 2027-06-15" */
  readonly headline: string;
  /** What closes everything, and where: told once, before all charts. */
  readonly closed: readonly string[];
  readonly charts: readonly Chart[];
  /** What the names of bands and groups in the cells mean, a sentence for each condition. */
  readonly legend: readonly string[];
  /** Cautions, each with where it applies. */
  readonly cautions: readonly string[];
}
export interface Chart {
  readonly title: string;
  /** Where nothing is said on its picks, and why: above it. */
  readonly silences: readonly string[];
  /** Over the columns after the first: what they are of; none in a list of rows. */
  readonly across?: string;
  readonly head: readonly string[];
  readonly lines: readonly ChartLine[];
}
interface ChartLine {
  readonly cells: readonly string[];
  /** Titles of patterns; none in a grid. */
  readonly because: readonly string[];
}

/**
 * One table per pick, in which other picks may have columns, or why there is none. `picks`: all that are no judgements unless said
 * otherwise, and then also the judgements that have columns, after those that need them. In short pieces of work, most of which
 * bring no table to its end.
 */
export function* tablesByPick(
  answers: Answers,
  picks?: readonly number[],
  options: Omit<CompileOptions, "picks" | "chained"> = {},
): Generator<readonly [pick: number, made: Compiled] | void> {
  const { model } = answers;
  const wanted = new Set(picks ?? model.picks.filter(({ judgement }) => !judgement).map(({ index }) => index));
  // A set goes on to what is added meanwhile.
  for (const pick of wanted) {
    const made: Compiled = yield* compiling(chartedFor(answers, pick), { ...options, picks: [pick], chained: true });
    yield [pick, made];
    if (!picks && "table" in made) for (const { pick: tested } of made.table.tested) if (model.picks[tested]!.judgement) wanted.add(tested);
  }
}

/** The tables of a sheet, those asked for in their order, else in book order; a problem, in a sentence, where one of them has none. */
export function chartTables(
  answers: Answers,
  picks?: readonly number[],
  options: Omit<CompileOptions, "picks" | "chained"> = {},
): { readonly tables: readonly Table[] } | { readonly problem: string } {
  const tables = new Map<number, Table>();
  for (const one of tablesByPick(answers, picks, options)) {
    if (!one) continue;
    const [pick, made] = one;
    if ("problem" in made) return made;
    tables.set(pick, made.table);
  }
  // In book order each pick stands after those it tests.
  return { tables: picks ? [...tables.values()] : [...tables].sort(([a], [b]) => a - b).map(([, table]) => table) };
}

/** `answers`: those the tables were made from. */
export function sheetOf(answers: Answers, tables: readonly Table[]): Sheet {
  const legend: Legend = new Set();
  const charts = tables.map((table) => ({
    ...(gridChart(answers, table, legend) ?? listChart(table, legend)),
    silences: silenceWords(answers, table.picks),
  }));
  return {
    headline: headline(answers.model),
    closed: closedWords(answers),
    charts,
    legend: legendWords(answers.model, legend),
    cautions: cautionWords(answers),
  };
}

/** What closes everything, each with where; in words of the reader. */
export function closedWords(answers: Answers): readonly string[] {
  return answers.model.closed.map(({ because, when }) => tableWords.closed(because, placesWords(answers, when)));
}

/** The same of what is said of these picks by name. */
export function silenceWords(answers: Answers, picks: readonly number[]): readonly string[] {
  const lines = picks
    .flatMap((pick) => answers.model.picks[pick]!.sayNothing)
    .filter(({ everything }) => !everything)
    .map(({ because, when }) => tableWords.silence(because, placesWords(answers, when)));
  return [...new Set(lines)];
}

function placesWords(answers: Answers, test: Test): string | undefined {
  return whereWords(answers, test)?.join(tableWords.orElse);
}

/** An outcome of a pick in a few words. */
export function outcomeText(model: Model, pick: number, { status, places }: Outcome): string {
  return tableWords.outcome(status, optionTexts(model.picks[pick]!, places));
}

/** Lines of rows: a cell for each facet that some row names, then one for each pick. */
function listChart(table: Table, legend: Legend): Omit<Chart, "silences"> {
  const { model, picks } = table;
  const lines = gather(table, legend).map(({ cells, rows }): ChartLine => ({
    cells: [...cells, ...picks.map((_, i) => outcomeWords(table, rows, i))],
    because: [...new Set(rows.flatMap(({ because }) => because))].sort((a, b) => a - b).map((pattern) => model.patterns[pattern]!.title),
  }));
  return {
    title: titleOf(table),
    head: [...facetsOf(table).map(({ label }) => label), ...picks.map((pick) => model.picks[pick]!.label)],
    lines,
  };
}

function cautionWords(answers: Answers): readonly string[] {
  return answers.model.cautions.map(({ title, when, say: text, see }) =>
    [tableWords.caution(title, when && placesWords(answers, when), text), sourceWords(see)].filter(Boolean).join(" "),
  );
}

/** More places than this nobody reads to the end. */
const MOST_PLACES = 3;

/** Where a test may hold, in as few words as conditions or the picks it tests allow; undefined: anywhere, or not decided. */
function whereWords(answers: Answers, test: Test): readonly string[] | undefined {
  const { model } = answers;
  const tested = picksIn(test).flatMap((pick) => testedBy(answers, pick) ?? []);
  const facets = facetsOf({ model, tested, conditions: model.conditions.map(({ index }) => index) });
  const over = (chained: boolean): readonly string[] | undefined =>
    boxesWhere(answers, test, (mask) => mask !== FAILS, chained)?.map((box) =>
      facets
        .filter(({ axes }) => axes.some((axis) => box.has(axis)))
        .map(({ label, words }) => tableWords.conditionIs(label, words(box)))
        .join("; "),
    );
  const alone = over(false);
  const places = tested.length === 0 || (alone && alone.length <= MOST_PLACES) ? alone : over(true);
  return places?.includes("") ? undefined : places;
}

function headline(model: Model): string {
  const { title, shop, water, edition, goodFrom, goodTo } = model.books.at(-1)!;
  const rest = [shop, water, edition, tableWords.goodFor(goodFrom, goodTo)].filter((part) => part);
  return rest.length === 0 ? title : `${title}. ${rest.join(", ")}`;
}

function titleOf({ model, picks }: Table): string {
  return picks
    .map((pick) => model.picks[pick]!)
    .map(pickLabel)
    .join(", ");
}

/** Of rows that have one answer. */
function outcomeWords({ model, picks }: Table, rows: readonly Row[], at: number): string {
  const outcome = rows[0]!.outcomes[at]!;
  return outcome.status === "no advice"
    ? tableWords.noAdvice(rows.flatMap(({ silence }) => silence))
    : outcomeText(model, picks[at]!, outcome);
}

/** A grid wider than this is harder to read than a list. */
const MOST_ACROSS = 5;

/** The longer side down; only where each facet is one thing, not a set. */
function gridChart(answers: Answers, table: Table, legend: Legend): Omit<Chart, "silences"> | undefined {
  const { picks, rows } = table;
  const facets = facetsOf(table);
  if (picks.length !== 1 || facets.length !== 2 || facets.some(({ isSet }) => isSet)) return undefined;
  const sides = facets.map((facet) => ({ facet, spans: openParts(answers, table, facet) }));
  // The shorter side across; of equals the first condition down.
  const [down, across] = sides[0]!.spans.length >= sides[1]!.spans.length ? [sides[0]!, sides[1]!] : [sides[1]!, sides[0]!];
  if (across.spans.length > MOST_ACROSS || down.spans.length < 2) return undefined;
  const left = (one: Span, other: Span): Left =>
    openIn(
      answers,
      table,
      new Map([
        [down.facet.axes[0]!, one],
        [across.facet.axes[0]!, other],
      ]),
    );
  const name = ({ axes, words }: Facet, span: Span): string => words(new Map([[axes[0]!, span]]), legend);
  const cell = (one: Span, other: Span): string => {
    const row = rows.find(({ box }) =>
      [
        [down, one],
        [across, other],
      ].every(([side, span]) => {
        const limit = box.get((side as typeof down).facet.axes[0]!);
        return !limit || within(span as Span, limit);
      }),
    );
    return row && left(one, other) !== "none" ? outcomeWords(table, [row], 0) : tableWords.cannotBe;
  };
  // A list of rows can leave out single values at which all is closed, a grid cannot.
  if (down.spans.some((one) => across.spans.some((other) => left(one, other) === "some"))) return undefined;
  return {
    title: titleOf(table),
    across: across.facet.label,
    head: [down.facet.label, ...across.spans.map((span) => name(across.facet, span))],
    lines: down.spans.map((span) => ({ cells: [name(down.facet, span), ...across.spans.map((other) => cell(span, other))], because: [] })),
  };
}

/** A side of a grid, in parts that no row tells apart, without the values at which all is closed. */
function openParts(answers: Answers, table: Table, facet: Facet): readonly Span[] {
  const axis = facet.axes[0]!;
  const charted = chartedFor(answers, table.picks[0]!);
  return partsOf(table.rows, axis, sizeOf(table, facet))
    .map((span): Box => new Map([[axis, span]]))
    .filter((box) => openIn(answers, table, box) !== "none")
    .map((box) => trimmed(charted, box, budget(GRID_STEPS)).get(axis)!)
    .sort(facet.compare);
}
const GRID_STEPS = 100_000;

/** Of the values that a part of a grid names, those at which something is open, where all is closed at the others. */
type Left = "all" | "some" | "none";

function openIn(answers: Answers, { model, picks }: Table, box: Box): Left {
  const charted = chartedFor(answers, picks[0]!);
  if (!charted.shut) return "all";
  const spend = budget(GRID_STEPS);
  if (!findPossible(charted, box, spend) && findPossible({ ...charted, possible: charted.shut }, box, spend)) return "none";
  const open = trimmed(charted, box, spend);
  return [...box].every(([variable, span]) => variable >= model.axes.length || same(span, open.get(variable)!)) ? "all" : "some";
}

/** The positions of an axis, parted so that no row tells two of one part apart. */
function partsOf(rows: readonly Row[], axis: number, size: number): readonly Span[] {
  let parts: readonly Span[] = [full(size)];
  for (const { box } of rows) {
    const span = box.get(axis);
    if (span) parts = parts.flatMap((part) => [intersect(part, span), subtract(part, span)].filter((some) => !isEmpty(some)));
  }
  return parts;
}
