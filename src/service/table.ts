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
import type { Model } from "../model/model.js";
import { outcomeText, sheetOf, tablesByPick } from "../render/chart.js";
import { facetsOf } from "../render/facet.js";
import { gather } from "../render/gather.js";
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
}
interface PickTable {
  readonly pick: string;
  readonly label: string;
  /** Labels of tested picks and conditions, one for each cell of a row. */
  readonly head: readonly string[];
  readonly rows: readonly PickRow[];
  /** Why there is none, in a sentence. */
  readonly problem?: string;
}
interface PickRow {
  readonly cells: readonly string[];
  readonly answer: string;
  readonly status: Status;
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
  const tables = new Map<number, Compiled>();
  for (const made of tablesByPick(answers, wanted, { steps })) {
    if (made) tables.set(...made);
    yield;
  }
  const charts: PickTable[] = [];
  for (const [index, made] of [...tables].sort(([a], [b]) => a - b)) {
    charts.push(pickTable(model, index, made, legend));
    yield;
  }
  const { headline, cautions } = sheetOf(answers, []);
  const all = model.picks.filter(({ judgement }) => !judgement).map(({ name, label }) => ({ name, label }));
  return { headline, picks: all, charts, legend: legendWords(model, legend), cautions };
}

function pickTable(model: Model, index: number, made: Compiled, legend: Legend): PickTable {
  const { name: pick } = model.picks[index]!;
  const label = pickLabel(model.picks[index]!);
  if ("problem" in made) return { pick, label, head: [], rows: [], problem: made.problem };
  const rows = gather(made.table, legend).map(({ cells, rows }): PickRow => {
    const outcome = rows[0]!.outcomes[0]!;
    return {
      cells,
      answer: outcomeText(model, index, outcome),
      status: outcome.status,
      because: titledPlaces(
        model,
        rows.flatMap(({ because }) => because),
      ),
    };
  });
  return { pick, label, head: facetsOf(made.table).map(({ label }) => label), rows };
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
