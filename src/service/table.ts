/**
 * The recommendation table of a book beside its text: for each pick its rows in words, and where the patterns stand that decided.
 *
 *     clarity           cover    answer
 *     dirty or muddy    any      colorado, then indiana     ──▶ “Mud wants thump”, line 52
 *
 * Each pick has its own small table, in which picks it tests may have columns, always as a list of rows: a row can then lead to its patterns.
 */
import type { Answers } from "../analysis/answers.js";
import type { Status } from "../analysis/outcome.js";
import type { Place } from "../diagnostics.js";
import { tableWords } from "../messages/table.js";
import type { Model } from "../model/model.js";
import { outcomeText, sheetOf, silenceWords, tablesByPick } from "../render/chart.js";
import { facetsOf } from "../render/facet.js";
import { gather } from "../render/gather.js";
import { fits, limitsOf } from "../render/limits.js";
import { legendWords, pickLabel, type Legend } from "../render/words.js";
import type { Compiled } from "../table/compile.js";
import { insideQuotes } from "../text.js";

export interface BookTable {
  /** "Bladed baits, Hollin Reservoir. Hollin Landing, 2027 spring" */
  readonly headline: string;
  /** Every pick that there could be a table of, whether asked for or not. */
  readonly picks: readonly { readonly name: string; readonly label: string }[];
  readonly charts: readonly PickTable[];
  /** What the names of bands and groups in the cells mean, a sentence each. */
  readonly legend: readonly string[];
  readonly cautions: readonly string[];
  /** What closes everything, and where. */
  readonly closed: readonly string[];
}
interface PickTable {
  readonly pick: string;
  readonly label: string;
  /** Labels of tested picks and conditions, one for each cell of a row. */
  readonly head: readonly string[];
  /** What each of them is called in the book, and the values by which rows can be narrowed. */
  readonly columns: readonly { readonly name: string; readonly values: readonly string[] }[];
  /** Of the pick, in book order. */
  readonly options: readonly string[];
  readonly rows: readonly PickRow[];
  /** Where nothing is said on it, and why. */
  readonly silences: readonly string[];
  /** Why there is none, in a sentence. */
  readonly problem?: string;
}
interface PickRow {
  readonly cells: readonly string[];
  /** For each cell, indexes of the values of its column that may be so in this row; null: any of them. */
  readonly fits: readonly (readonly number[] | null)[];
  readonly answer: string;
  readonly status: Status;
  /** Indexes of the options that it recommends, in whatever place. */
  readonly options: readonly number[];
  readonly because: readonly TitledPlace[];
}
/** A pattern: its title, and where that stands. */
export interface TitledPlace extends Place {
  readonly title: string;
}

export interface TableOptions {
  /** Names of picks; all that are no judgements, if not said. */
  readonly picks?: readonly string[];
  readonly steps?: number;
}

/** In short pieces of work. */
export function* makingTable(answers: Answers, { picks, steps }: TableOptions = {}): Generator<void, BookTable> {
  const { model } = answers;
  const legend: Legend = new Set();
  const wanted = picks && model.picks.filter(({ name }) => picks.includes(name)).map(({ index }) => index);
  const kept = keptOf(answers, steps);
  const tables = new Map<number, Compiled>(wanted?.flatMap((index) => (kept.has(index) ? [[index, kept.get(index)!]] : [])));
  for (const made of tablesByPick(
    answers,
    wanted?.filter((index) => !kept.has(index)),
    { steps },
  )) {
    if (made) {
      tables.set(...made);
      kept.set(...made);
    }
    yield;
  }
  const charts: PickTable[] = [];
  for (const [index, made] of [...tables].sort(([a], [b]) => a - b)) {
    charts.push(yield* pickTable(answers, index, made, legend));
  }
  const { headline, closed, cautions } = sheetOf(answers, []);
  const all = model.picks.filter(({ judgement }) => !judgement).map(({ name, label }) => ({ name, label }));
  return { headline, picks: all, charts, legend: legendWords(model, legend), cautions, closed };
}

/** Of the answers of one text: the cursor goes back and forth between picks. */
const made = new WeakMap<Answers, Map<number | undefined, Map<number, Compiled>>>();

function keptOf(answers: Answers, steps: number | undefined): Map<number, Compiled> {
  const all = made.get(answers) ?? new Map<number | undefined, Map<number, Compiled>>();
  made.set(answers, all);
  const kept = all.get(steps) ?? new Map<number, Compiled>();
  all.set(steps, kept);
  return kept;
}

function* pickTable(answers: Answers, index: number, made: Compiled, legend: Legend): Generator<void, PickTable> {
  const { model } = answers;
  const { name: pick, options: all } = model.picks[index]!;
  const options = all.map(({ text }) => text);
  const about = { pick, label: pickLabel(model.picks[index]!), options, silences: silenceWords(answers, [index]) };
  if ("problem" in made) return { ...about, head: [], columns: [], rows: [], problem: made.problem };
  const facets = facetsOf(made.table);
  const limits = facets.map(({ name }) => limitsOf(made.table, name));
  const rows: PickRow[] = [];
  for (const { cells, rows: alike } of gather(made.table, legend)) {
    const outcome = alike[0]!.outcomes[0]!;
    rows.push({
      cells,
      fits: limits.map((values) => {
        const found = values.flatMap((limit, at) => (alike.some((row) => fits(row, limit)) ? [at] : []));
        return found.length === values.length ? null : found;
      }),
      answer:
        outcome.status === "no advice" ? tableWords.noAdvice(alike.flatMap(({ silence }) => silence)) : outcomeText(model, index, outcome),
      status: outcome.status,
      options: outcome.places.flat(),
      because: titledPlaces(
        model,
        alike.flatMap(({ because }) => because),
      ),
    });
    yield;
  }
  return {
    ...about,
    head: facets.map(({ label }) => label),
    columns: facets.map(({ name }, at) => ({ name, values: limits[at]!.map(({ text }) => text) })),
    rows,
  };
}

/** Each pattern once, in book order. */
export function titledPlaces(model: Model, patterns: Iterable<number>): readonly TitledPlace[] {
  return [...new Set(patterns)]
    .sort((a, b) => a - b)
    .map((index) => {
      const { title, namePlace, book } = model.patterns[index]!;
      return { title, path: namePlace.path, range: insideQuotes(model.books[book]!.text, namePlace.range) };
    });
}
