/** A stock report for other programs: the shape that `src/schema/stock-report.json` describes, and one line per item as CSV. */
import type Fraction from "fraction.js";
import { statuses } from "../analysis/outcome.js";
import type { Example } from "../diagnostics.js";
import type { Pick } from "../model/model.js";
import { csv } from "../render/csv.js";
import type { Often } from "./log.js";
import type { Frequency, ItemReport, Located, StockReport } from "./stock.js";
import { optionTexts } from "../model/texts.js";

export interface StockPaths {
  readonly stock: string;
  readonly log?: string;
}

/** Fractions are texts, exact: `"11/12"`. Trips and months only where there is a log. */
export function stockJson({ model, stock, log, lots, items, coverage, undecided }: StockReport, paths: StockPaths): object {
  const nameOf = (pick: number): string => model.picks[pick]!.name;
  return {
    format: "waterlore-stock",
    version: 1,
    book: model.books.at(-1)!.path,
    stock: paths.stock,
    ...(log && {
      log: {
        path: paths.log,
        days: log.days.length,
        trips: log.days.reduce<Fraction | undefined>((sum, { trips }) => sum?.add(trips) ?? trips, undefined)?.toFraction() ?? "0",
        byTrips: log.byTrips,
      },
    }),
    picks: stock.picks.map(nameOf),
    items: stock.items.map(({ name, row, options, notFor, inStock, available, price, shelf }, i) => ({
      item: name,
      row,
      inStock,
      available,
      price,
      shelf,
      options: Object.fromEntries(
        [...options].map(([pick, mine]) => [nameOf(pick), mine.map((option) => model.picks[pick]!.options[option]!.text)]),
      ),
      ...(notFor.size > 0 && { notFor: [...notFor].map(nameOf) }),
      ...itemJson(items[i]!),
    })),
    lots: lots.map(({ picks, answers, options }) => ({
      picks: picks.map(nameOf),
      answers: answers.map((answer) => ({
        picks: Object.fromEntries(
          picks.map((pick, i) => [
            nameOf(pick),
            { status: answer.outcomes[i]!.status, answer: optionTexts(model.picks[pick]!, answer.outcomes[i]!.places) },
          ]),
        ),
        ...frequencyJson(answer),
        sells: answer.sells,
        items: answer.items.map(({ item, place }) => ({
          item: stock.items[item]!.name,
          place: place + 1,
          available: stock.items[item]!.available,
        })),
        missing: answer.missing.map(nameOf),
        ...locatedJson(answer.located),
      })),
      options: options.map(({ pick, option, front, listed, items: mine, available }) => ({
        pick: nameOf(pick),
        option: model.picks[pick]!.options[option]!.text,
        first: frequencyJson(front),
        listed: frequencyJson(listed),
        items: mine.map((item) => stock.items[item]!.name),
        available,
      })),
    })),
    coverage: coverage.flatMap(({ pick, statuses: found }) =>
      found
        ? [
            {
              pick: nameOf(pick),
              ...(model.picks[pick]!.judgement && { judgement: true }),
              statuses: Object.fromEntries(statuses.map((status) => [status, frequencyJson(found[status])])),
            },
          ]
        : [],
    ),
    undecided: undecided.map((picks) => picks.map(nameOf)),
  };
}

/** One line per item: what it is, and how often it is the first choice, on the list, and the only answer; then the trips of each month. */
export function stockCsv({ model, stock, log, items }: StockReport): string {
  const picks = stock.picks.map((pick) => model.picks[pick]!);
  const months = log ? Array.from({ length: 12 }, (_, i) => i + 1) : [];
  const often = (name: string): readonly string[] => [
    `${name} share`,
    ...(log ? [`${name} trips`, `${name} trips for certain`, `${name} trips at most`] : []),
  ];
  const head = [
    "item",
    "in stock",
    ...picks.map(({ name }) => name),
    ...often("first choice"),
    ...often("listed"),
    ...often("only answer"),
    ...months.map((month) => `trips in month ${month}`),
  ];
  const lines = stock.items.map((item, i) => {
    const { found } = items[i]!;
    const cells = (frequency: Frequency | undefined): readonly string[] =>
      found === undefined
        ? often("").map(() => "")
        : [
            decimal(frequency?.share),
            ...(log ? [frequency?.days?.trips, frequency?.days?.sure, frequency?.days?.possible].map(decimal) : []),
          ];
    return [
      item.name,
      item.inStock,
      ...picks.map((pick) => (item.notFor.has(pick.index) ? "-" : optionsText(pick, item.options.get(pick.index)))),
      ...cells(found?.first),
      ...cells(found?.listed),
      ...cells(found?.only),
      ...months.map((month) => (found === undefined ? "" : decimal(found.months.get(month)?.trips))),
    ];
  });
  return csv([head, ...lines]);
}

function optionsText(pick: Pick, options: readonly number[] = []): string {
  return options.map((option) => pick.options[option]!.text).join(";");
}

/** Rounded to six places: a spreadsheet reads no fractions. */
function decimal(value: Fraction | undefined): string {
  return value === undefined ? "0" : String(value.round(6).valueOf());
}

function itemJson({ silent, found }: ItemReport): object {
  if (!found) return { silent };
  const { ever, first, listed, only, months } = found;
  return {
    silent,
    ever,
    first: frequencyJson(first),
    listed: frequencyJson(listed),
    ...(only && { only: { ...frequencyJson(only), ...locatedJson(only.located) } }),
    ...(first.days && { months: Object.fromEntries([...months].map(([month, often]) => [month, oftenJson(often)])) }),
  };
}

function frequencyJson({ share, days }: Frequency): object {
  return { share: share.toFraction(), ...(days && { days: oftenJson(days) }) };
}

function oftenJson({ trips, sure, possible }: Often): object {
  return { trips: trips.toFraction(), sure: sure.toFraction(), possible: possible.toFraction() };
}

function locatedJson(located: Located | undefined): { readonly where?: string; readonly example?: Example } {
  return located ? { where: located.where, example: located.example } : {};
}
