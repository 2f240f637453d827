/**
 * The table as portable SQL: a view over a table of logged trips that gives each pick's status and answer, NULL being unknown.
 *
 *     "trips"                                                              "answers"
 *     trip id  clarity  cover has grass  water-temp      ──view──▶         trip id  refused  blade status  blade answer
 *     1        muddy    1                61                                1        NULL     decided       colorado, then indiana
 *     2        NULL     0                61                                2        NULL     depends       NULL
 *
 * A set has one column per member, 1 or 0: of all forms the one that every engine compares, without searching in a text, and in which
 * one member may be known and another not. Levels are texts, measures numbers in the condition's unit, days `04-15` and times `05:30`
 * texts that sort as they follow each other (ISO 8601). Everything is standard SQL-92: CASE, AND, OR, IN, comparisons, quoted names.
 *
 * Unknown values need no more than SQL's own three truths. An outcome is written as the boxes of possible points that have it,
 *
 *     colorado:  clarity IN ('dirty', 'muddy') AND temp < 50   OR   clarity IN ('clear') AND "cover has grass" = 1
 *
 * and this is FALSE exactly if every box is ruled out by a known value, for a box limits each column once, and AND and OR of Kleene's
 * three truths (1938) distribute, so common limits may be drawn out. `CASE WHEN NOT (…) THEN 0 ELSE weight END`, added up over the outcomes
 * of a pick, says which are still possible: with n outcomes of weights n, n + 1, … 2n − 1, a sum below 2n names the one that is left.
 */
import type { Fraction } from "fraction.js";
import type { Answers } from "../analysis/answers.js";
import { budget, withinBudget, type Budget } from "../analysis/budget.js";
import { boxes, mapLeaves, type Box } from "../analysis/diagrams/diagram.js";
import { FAILS, HOLDS } from "../analysis/diagrams/formula.js";
import { mergedBoxes } from "../analysis/diagrams/region.js";
import { sqlWords } from "../messages/sql.js";
import { tableWords } from "../messages/table.js";
import { listed, sayList } from "../messages/words.js";
import { monthLength, printTime } from "../model/calendar.js";
import type { Axis, Model } from "../model/model.js";
import { printQuantity } from "../model/quantities.js";
import { complement, positions, spanKey, type Span } from "../model/span.js";
import { fewestRows } from "../table/fewest.js";
import { together, togetherKey, type Together } from "../answer/joint.js";
import { chartedFor, type OpenAnswers } from "../answer/closed.js";
import { boxesWhere, truthOf } from "../answer/truth.js";
import { closedText } from "./text.js";
import { optionTexts } from "../model/texts.js";

export interface SqlOptions {
  /** Indexes of picks; without it every pick that is no judgement. */
  readonly picks?: readonly number[];
  /** Names of the table that is read and of the view that is made; `trips` and `answers` if not said. */
  readonly table?: string;
  readonly view?: string;
  /** More boxes than this for one pick are a problem, not a view; 5,000 if not said. */
  readonly rows?: number;
  /** Splits and nodes allowed per pick; 400,000 if not said. */
  readonly steps?: number;
  readonly interrupted?: () => boolean;
}

/** A column of the table of trips, beside `trip id`. */
export interface TripColumn {
  readonly name: string;
  /** As in CREATE TABLE. */
  readonly type: string;
  readonly axis: number;
  /** What stands in it: the condition's label, and what it takes. */
  readonly about: string;
  readonly takes: string;
}

const ROWS = 5_000;
const STEPS = 400_000;
const TRIP = "trip id";
const REFUSED = "refused";

/** One CREATE VIEW statement, after comments that say how it is used; or in a sentence why there is none. Ends in a line break. */
export function tableSql(
  answers: Answers,
  { table = "trips", view = "answers", ...options }: SqlOptions = {},
): { readonly sql: string } | { readonly problem: string } {
  const { model } = answers;
  const picks = options.picks ?? model.picks.filter(({ judgement }) => !judgement).map(({ index }) => index);
  if (!answers.anythingPossible) return { problem: tableWords.nothingPossible };
  const fresh = (): Budget => budget(options.steps ?? STEPS, options.interrupted);
  const possible = withinBudget(() => possibleBoxes(answers, options.rows ?? ROWS, fresh()));
  if (!possible)
    return {
      problem: tableWords.tooManyRows(
        options.rows ?? ROWS,
        picks.map((pick) => model.picks[pick]!.name),
      ),
    };
  const reached: Reached[] = [];
  for (const pick of picks) {
    const { name, options: all } = model.picks[pick]!;
    const strange = all.find(({ text }) => foreign.test(text));
    if (strange) return { problem: sqlWords.sign(name, strange.text) };
    if (!answers.picks[pick]) return { problem: tableWords.undecided(name) };
    const open: OpenAnswers = chartedFor(answers, pick);
    const [outcomes, shut] = [open, ...(open.shut ? [{ ...answers, possible: open.shut }] : [])].map((some) =>
      withinBudget(() => outcomesOf(some, pick, options.rows ?? ROWS, fresh())),
    );
    if (!outcomes || (open.shut && !shut)) return { problem: tableWords.tooManyRows(options.rows ?? ROWS, [name]) };
    reached.push({ pick, outcomes, shut: shut ?? [] });
  }
  const columns = tripColumns(model);
  const closing = withinBudget(() => closingOf(answers, fresh())) ?? [];
  const sql = [
    ...comment([headline(model), "", ...sqlWords.about(table, view)]),
    ...comment([`CREATE TABLE ${quoted(table)} (`]),
    ...comment(
      [{ name: TRIP, type: "INTEGER", about: sqlWords.trip }, ...columns].flatMap(({ name, type, about }, i, all) => [
        `  ${quoted(name)} ${type}${i < all.length - 1 ? "," : ""}`,
        `    ${about}`,
      ]),
    ),
    ...comment([")"]),
    "",
    `CREATE VIEW ${quoted(view)} AS`,
    "SELECT",
    [quoted(TRIP), quoted(REFUSED), ...closing.map(closedColumn), ...reached.flatMap((one) => shown(model, one))]
      .map((column) => `  ${column}`)
      .join(",\n"),
    "FROM (",
    "SELECT",
    [quoted(TRIP), refusal(answers, possible), ...closing, ...reached.flatMap((one) => whichOf(model, one))]
      .map((column) => `  ${column}`)
      .join(",\n"),
    `FROM ${quoted(table)}`,
    `) ${quoted("reached")};`,
  ];
  return { sql: `${sql.join("\n")}\n` };
}

/** The columns that the view reads, in the order of the book's conditions. */
export function tripColumns(model: Model): readonly TripColumn[] {
  return model.conditions.flatMap((condition) =>
    condition.axes.map((axis): TripColumn => {
      const { domain, label } = condition;
      const name = nameOf(model, model.axes[axis]!);
      const column = (type: string, takes: string): TripColumn => ({ name, type, axis, takes, about: sqlWords.column(label, takes) });
      switch (domain.kind) {
        case "scale":
          return column(`VARCHAR(${Math.max(...domain.levels.map(({ length }) => length))})`, listed(domain.levels, "or"));
        case "set":
          return column("SMALLINT", sqlWords.member(domain.members[model.axes[axis]!.member!]!));
        case "days":
          return column("VARCHAR(5)", sqlWords.day);
        case "times":
          return column("VARCHAR(8)", sqlWords.time);
        case "measure":
          return column("NUMERIC(12, 4)", sqlWords.number(printQuantity(domain.low, domain.unit), printQuantity(domain.high, domain.unit)));
      }
    }),
  );
}

/** A pick and each of its outcomes, with the boxes that hold exactly its possible points. */
interface Reached {
  readonly pick: number;
  readonly outcomes: readonly { readonly outcome: NonNullable<Together>[number]; readonly boxes: readonly Box[] }[];
  /** The same of the points that are closed to it: told of where no other is left. */
  readonly shut: Reached["outcomes"];
}

function outcomesOf(answers: Answers, pick: number, most: number, spend: Budget): Reached["outcomes"] | undefined {
  const joint = together(answers, [pick], spend);
  // An answer of their own for impossible points: no box may take one in.
  const node = mapLeaves<Together, Together>(joint.node, joint.forest, (leaf) => leaf ?? []);
  const pieces = fewestRows({ ...joint, node }, most, spend);
  if (!pieces) return undefined;
  const byOutcome = new Map<string, { readonly outcome: NonNullable<Together>[number]; readonly boxes: Box[] }>();
  for (const {
    box,
    outcomes: [outcome],
  } of pieces) {
    if (!outcome) continue;
    const key = togetherKey([outcome]);
    const known = byOutcome.get(key);
    if (known) known.boxes.push(box);
    else byOutcome.set(key, { outcome, boxes: [box] });
  }
  return [...byOutcome.values()];
}

function possibleBoxes(answers: Answers, most: number, spend: Budget): readonly Box[] | undefined {
  const found: Box[] = [];
  for (const { box } of boxes(answers.possible.node, answers.variables, (flag) => flag === 1)) {
    spend.spend();
    found.push(box);
    if (found.length > most) return undefined;
  }
  return mergedBoxes(found, answers.variables);
}

/** The two columns of a pick that are seen. */
function shown(model: Model, { pick: index, outcomes, shut }: Reached): readonly string[] {
  const pick = model.picks[index]!;
  type Said = (outcome: Reached["outcomes"][number]["outcome"]) => string | undefined;
  const told = (of: Reached["outcomes"], which: string, ends: string, said: Said): string => {
    const cases = of.flatMap(({ outcome }, at) =>
      said(outcome) === undefined ? [] : [`    WHEN ${of.length + at} THEN ${literal(said(outcome)!)}`],
    );
    return cases.length === 0 ? "NULL" : [`CASE ${quoted(`${pick.name} ${which}`)}`, ...cases, `    ${ends}END`].join("\n");
  };
  const column = (what: string, ends: string, said: Said): string => {
    const closed = shut.length === 0 ? "" : `WHEN ${quoted(`${pick.name} outcome`)} = 0 THEN ${told(shut, "closed", ends, said)} `;
    return `CASE WHEN ${quoted(REFUSED)} IS NOT NULL THEN ${ends === "" ? "NULL" : literal("refused")} ${closed}ELSE ${told(outcomes, "outcome", ends, said)} END AS ${quoted(`${pick.name} ${what}`)}`;
  };
  const answerOf: Said = ({ places }) => sayList(optionTexts(pick, places)) || undefined;
  const answered = [outcomes, shut].map((of) => of.some(({ outcome }) => answerOf(outcome) !== undefined));
  return [
    column("status", `ELSE ${literal("depends")} `, ({ status }) => status),
    answered.includes(true) ? column("answer", "", answerOf) : `CAST(NULL AS VARCHAR(1)) AS ${quoted(`${pick.name} answer`)}`,
  ];
}

/** Numbers that say which outcomes are possible: of the points that are open to the pick, and of those that are not. */
function whichOf(model: Model, { pick, outcomes, shut }: Reached): readonly string[] {
  const column = (of: Reached["outcomes"], which: string): string => {
    const weights = of.map(({ boxes }, at) => {
      const formula = written(model, boxes);
      return formula === undefined ? String(of.length + at) : `CASE WHEN NOT (${formula}) THEN 0 ELSE ${of.length + at} END`;
    });
    return `${weights.join("\n    + ")} AS ${quoted(`${model.picks[pick]!.name} ${which}`)}`;
  };
  return [column(outcomes, "outcome"), ...(shut.length > 0 ? [column(shut, "closed")] : [])];
}

/** What closes everything for a trip, for certain or else perhaps; NULL if nothing does. None where the book closes nothing. */
function closingOf(answers: Answers, spend: Budget): readonly string[] {
  const { model, variables } = answers;
  if (model.closed.length === 0) return [];
  const found = model.closed.map((silence) => {
    const truth = truthOf(answers, silence.when, spend)!;
    const formula = (wanted: (mask: number) => boolean): string | undefined =>
      written(
        model,
        mergedBoxes(
          [...boxes(truth, variables, (mask) => mask !== undefined && wanted(mask))].map(({ box }) => box),
          variables,
        ),
      );
    return { silence, may: formula((mask) => mask !== FAILS), else: formula((mask) => mask !== HOLDS) };
  });
  const sure = found.flatMap(({ silence, else: open }) =>
    open === undefined ? [] : [`CASE WHEN NOT (${open}) THEN ${literal(closedText(model, { silence, sure: true }))} END`],
  );
  const perhaps = found.flatMap(({ silence, may }) =>
    may === NOTHING
      ? []
      : [
          `CASE WHEN ${may === undefined ? NOTHING : `NOT (${may})`} THEN NULL ELSE ${literal(closedText(model, { silence, sure: false }))} END`,
        ],
  );
  const all = [...sure, ...perhaps];
  return [`${all.length === 1 ? all[0]! : `COALESCE(${all.join(",\n    ")})`} AS ${quoted(CLOSED)}`];
}

function closedColumn(): string {
  return `CASE WHEN ${quoted(REFUSED)} IS NULL THEN ${quoted(CLOSED)} END AS ${quoted(CLOSED)}`;
}
const CLOSED = "closed";

/** Why a trip cannot be answered, in a sentence; NULL if it can be. */
function refusal(answers: Answers, possible: readonly Box[]): string {
  const { model } = answers;
  const cases = tripColumns(model).map(
    ({ name, axis, takes }) => `WHEN NOT (${validOn(model, model.axes[axis]!)}) THEN ${literal(sqlWords.notTaken(name, takes))}`,
  );
  const emptied = model.conditions.flatMap(({ name, axes, domain }) =>
    domain.kind === "set" && domain.atLeastOne
      ? [
          `WHEN ${axes.map((axis) => `${quoted(nameOf(model, model.axes[axis]!))} = 0`).join(" AND ")} THEN ${literal(tableWords.emptySet(name))}`,
        ]
      : [],
  );
  const stated = model.impossible.flatMap(({ when, because }) => {
    const found = boxesWhere(answers, when, (mask) => mask === HOLDS);
    const formula = found && written(model, found);
    return formula === undefined || formula === NOTHING ? [] : [`WHEN ${formula} THEN ${literal(tableWords.impossible(because))}`];
  });
  // Something possible must be left, whatever of it is unknown.
  const any = written(model, possible);
  const together = any === undefined ? [] : [`WHEN NOT (${any}) THEN ${literal(tableWords.impossibleTogether([]))}`];
  return `CASE\n    ${[...cases, ...emptied, ...stated, ...together].join("\n    ")}\n    END AS ${quoted(REFUSED)}`;
}

const NOTHING = "1 = 0";

/** Boxes as a formula in which common limits stand once; undefined: it always holds. */
function written(model: Model, all: readonly Box[]): string | undefined {
  if (all.length === 0) return NOTHING;
  if (all.some(({ size }) => size === 0)) return undefined;
  const uses = new Map<number, number>();
  for (const box of all) for (const axis of box.keys()) uses.set(axis, (uses.get(axis) ?? 0) + 1);
  const [axis] = [...uses].reduce((best, one) => (one[1] > best[1] ? one : best));
  const groups = new Map<string, { readonly span: Span; readonly boxes: Box[] }>();
  const rest: Box[] = [];
  for (const box of all) {
    const span = box.get(axis);
    if (!span) {
      rest.push(box);
      continue;
    }
    const key = spanKey(span);
    if (!groups.has(key)) groups.set(key, { span, boxes: [] });
    groups.get(key)!.boxes.push(new Map([...box].filter(([other]) => other !== axis)));
  }
  const parts = [...groups.values()].map(({ span, boxes: inner }) => {
    const below = written(model, inner);
    const limit = limitOn(model, model.axes[axis]!, span);
    return below === undefined ? limit : `${limit} AND ${inner.length > 1 ? `(${below})` : below}`;
  });
  return either([...parts, ...(rest.length > 0 ? [written(model, rest)!] : [])]);
}

/** Engines take only so deep a chain of ORs: a long one is written as a tree. */
const LONGEST_CHAIN = 32;

function either(parts: readonly string[]): string {
  if (parts.length <= LONGEST_CHAIN) return parts.join(" OR ");
  const size = Math.ceil(parts.length / LONGEST_CHAIN);
  return Array.from({ length: Math.ceil(parts.length / size) }, (_, i) => parts.slice(i * size, (i + 1) * size))
    .map((some) => (some.length === 1 ? some[0]! : `(${either(some)})`))
    .join(" OR ");
}

/** A limit on one column; never two of them joined by a bare OR. */
function limitOn(model: Model, axis: Axis, span: Span): string {
  const column = quoted(nameOf(model, axis));
  const { domain } = model.conditions[axis.condition]!;
  if (domain.kind === "set") return `${column} = ${span[0]}`;
  if (domain.kind === "scale") {
    const names = (some: Span): readonly string[] => [...positions(some)].map((level) => literal(domain.levels[level]!));
    const [inside, outside] = [names(span), names(complement(span, axis.size))];
    return inside.length <= outside.length ? oneOf(column, "=", "IN", inside) : oneOf(column, "<>", "NOT IN", outside);
  }
  const runs: string[] = [];
  for (let i = 0; i < span.length; i += 2) runs.push(between(model, axis, span[i]!, span[i + 1]!));
  return runs.length === 1 ? runs[0]! : `(${runs.join(" OR ")})`;
}

function oneOf(column: string, one: string, many: string, values: readonly string[]): string {
  return values.length === 1 ? `${column} ${one} ${values[0]}` : `${column} ${many} (${values.join(", ")})`;
}

/** Positions `from` to `to` of a measure, of days or times. */
function between(model: Model, axis: Axis, from: number, to: number): string {
  const column = quoted(nameOf(model, axis));
  const { domain } = model.conditions[axis.condition]!;
  const [lowest, highest] = [from === 0, to === axis.size - 1];
  const both = (low: string, high: string): string => [...(lowest ? [] : [low]), ...(highest ? [] : [high])].join(" AND ");
  if (domain.kind === "days")
    return from === to
      ? `${column} = ${literal(monthDay(from))}`
      : both(`${column} >= ${literal(monthDay(from))}`, `${column} <= ${literal(monthDay(to))}`);
  if (domain.kind === "times") return both(`${column} >= ${literal(printTime(from))}`, `${column} < ${literal(printTime(to + 1))}`);
  if (domain.kind !== "measure") return NOTHING;
  if (domain.step) {
    // A reading goes to the nearest step, halfway to the upper.
    const edge = (step: number): Fraction => domain.low.add(domain.step!.mul(2 * step - 1).div(2));
    return both(compared(column, ">=", edge(from)), compared(column, "<", edge(to + 1)));
  }
  const limit = (at: number): Fraction => axis.limits![at >> 1]!;
  if (from === to && from % 2 === 0) return compared(column, "=", limit(from));
  return both(compared(column, from % 2 === 0 ? ">=" : ">", limit(from)), compared(column, to % 2 === 0 ? "<=" : "<", limit(to + 1)));
}

/** A number that no decimal writes out is compared after multiplying by its denominator. */
function compared(column: string, how: string, value: Fraction): string {
  const decimal = decimalOf(value);
  return decimal === undefined ? `${column} * ${value.d} ${how} ${value.s * value.n}` : `${column} ${how} ${decimal}`;
}

/** Exactly, in digits; undefined if there would be no end to them. */
function decimalOf({ s, n, d }: Fraction): string | undefined {
  let places = 0;
  let scale = 1n;
  for (let rest = d; rest > 1n;) {
    const by = [10n, 5n, 2n].find((prime) => rest % prime === 0n);
    if (by === undefined) return undefined;
    rest /= by;
    places++;
    scale *= 10n;
  }
  const digits = String((n * scale) / d).padStart(places + 1, "0");
  return `${s < 0n ? "-" : ""}${places === 0 ? digits : `${digits.slice(0, -places)}.${digits.slice(-places)}`}`;
}

const monthLengths = Array.from({ length: 12 }, (_, month) => monthLength(month + 1)!.length);
const two = (number: number): string => String(number).padStart(2, "0");

function monthDay(day: number): string {
  let month = 0;
  while (day >= monthLengths[month]!) day -= monthLengths[month++]!;
  return `${two(month + 1)}-${two(day + 1)}`;
}

/** NULL where the value is not known, FALSE where it is none that the condition takes. */
function validOn(model: Model, axis: Axis): string {
  const column = quoted(nameOf(model, axis));
  const { domain } = model.conditions[axis.condition]!;
  switch (domain.kind) {
    case "scale":
      return `${column} IN (${domain.levels.map(literal).join(", ")})`;
    case "set":
      return `${column} IN (0, 1)`;
    case "measure":
      return `${compared(column, ">=", domain.low)} AND ${compared(column, "<=", domain.high)}`;
    case "days":
      return monthLengths.map((length, month) => `${column} BETWEEN '${two(month + 1)}-01' AND '${two(month + 1)}-${length}'`).join(" OR ");
    case "times":
      return `${column} BETWEEN '00:00' AND '23:59:59.999999'`;
  }
}

/** The column of an axis. Names have no blanks, so none of these can be another's. */
function nameOf(model: Model, { condition: index, member }: Axis): string {
  const { name, domain } = model.conditions[index]!;
  return domain.kind === "set" ? `${name} has ${domain.members[member!]!}` : name;
}

function headline({ books: all }: Model): string {
  const { title, edition } = all.at(-1)!;
  return edition === undefined ? title : `${title}, ${edition}`;
}

/** Signs that one engine or another reads as something else inside a text: escapes, line ends, what turns the reading direction. */
const foreign = /[\\\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/;

function quoted(name: string): string {
  return `"${name.replaceAll('"', '""')}"`;
}

/** A text; of a sentence for people, the signs that engines do not agree on are left out. */
function literal(text: string): string {
  return `'${text.replace(new RegExp(foreign, "g"), " ").replaceAll("'", "''")}'`;
}

/** Lines of comment, each of which ends where its line does. */
function comment(lines: readonly string[]): readonly string[] {
  return lines.map((line) => `-- ${line.replace(new RegExp(foreign, "g"), " ")}`.trimEnd());
}
