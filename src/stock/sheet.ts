/**
 * A stock report for people: what needs doing first, what is as it should be last. As plain text of a given width, or as Markdown.
 *
 *     Nobody can buy this here            sentences
 *     Must be in stock, however seldom    sentences
 *     What each answer sells as           a table per lot
 *     Days on which …, by month           a table
 */
import Fraction from "fraction.js";
import { statuses } from "../analysis/outcome.js";
import { stockWords } from "../messages/stock.js";
import { outcomeText } from "../render/chart.js";
import { inColumns, wrapped } from "../render/columns.js";
import { escaped, tableOf } from "../render/markdown.js";
import type { Frequency, Located, Lot, LotAnswer, LotOption, StockReport } from "./stock.js";

interface Section {
  readonly title: string;
  readonly about?: string;
  /** A sentence, and under it where that is so. */
  readonly points?: readonly { readonly text: string; readonly where?: string }[];
  readonly table?: { readonly head: readonly string[]; readonly rows: readonly (readonly string[])[] };
}
interface Sheet {
  readonly headline: string;
  readonly notes: readonly string[];
  readonly sections: readonly Section[];
}

/** Of a list longer than this the rest is counted. The data have all. */
const MOST = 12;
const MOST_ROWS = 25;
const WIDTH = 80;

/** Ends in a line break. */
export function stockText(report: StockReport, { width = WIDTH }: { readonly width?: number } = {}): string {
  const { headline, notes, sections } = sheetOf(report);
  const lines = [
    ...wrapped(headline, width),
    ...notes.flatMap((note) => wrapped(note, width)),
    ...sections.flatMap(({ title, about, points = [], table }) => [
      "",
      ...wrapped(title, width),
      ...(about === undefined ? [] : wrapped(about, width)),
      ...points.flatMap(({ text, where }) => [
        ...wrapped(`- ${text}`, width, 2),
        ...(where === undefined ? [] : wrapped(where, width - 2).map((line) => `  ${line}`)),
      ]),
      ...(table
        ? [
            "",
            ...inColumns(
              table.head,
              table.rows.map((cells) => ({ cells })),
              width,
            ),
          ]
        : []),
    ]),
  ];
  return `${lines.join("\n")}\n`;
}

/** Ends in a line break. */
export function stockMarkdown(report: StockReport): string {
  const { headline, notes, sections } = sheetOf(report);
  const parts = [
    `# ${escaped(headline)}`,
    ...notes.map(escaped),
    ...sections.flatMap(({ title, about, points = [], table }) => [
      `## ${escaped(title)}`,
      ...(about === undefined ? [] : [escaped(about)]),
      ...(points.length === 0
        ? []
        : [points.map(({ text, where }) => `- ${escaped(text)}${where === undefined ? "" : ` ${escaped(where)}`}`).join("\n")]),
      ...(table ? [tableOf(table.head, table.rows)] : []),
    ]),
  ];
  return `${parts.join("\n\n")}\n`;
}

function sheetOf(report: StockReport): Sheet {
  const { model, stock, log, lots, undecided } = report;
  const { title, edition } = model.books.at(-1)!;
  const open = model.picks.filter(({ index, judgement }) => !judgement && !stock.picks.includes(index));
  const trips = log?.byTrips ? totalTrips(report) : undefined;
  return {
    headline: stockWords.headline(edition === undefined ? title : `${title}, ${edition}`),
    notes: [
      stockWords.counts(stock.items.length, stock.items.filter(({ available }) => available).length),
      log ? stockWords.weighedBy(log.days.length, trips?.valueOf()) : stockWords.notWeighed,
      ...(open.length > 0 ? [stockWords.notInList(open.map(({ name }) => name))] : []),
      ...undecided.map((picks) => stockWords.undecided(picks.map((pick) => model.picks[pick]!.name))),
    ],
    sections: [
      ...answersOf(report, "nothing", { title: stockWords.nobody, about: stockWords.nobodyAbout }, ({ lot, answer }) =>
        stockWords.answerMissing(
          answerWords(report, lot, answer),
          often(report, answer),
          names(report, answer.missing),
          answer.outcomes.filter(({ places }) => places.length > 0).length > answer.missing.length,
        ),
      ),
      ...mustHave(report),
      ...emptyOptions(report),
      ...answersOf(report, "later choice", { title: stockWords.laterOnly }, ({ lot, answer }) =>
        stockWords.answerLater(answerWords(report, lot, answer), often(report, answer), itemsWords(report, answer)),
      ),
      ...idleItems(report),
      ...lots.flatMap((lot) => sellsAs(report, lot)),
      ...demand(report),
      coverage(report),
    ],
  };
}

function answersOf(
  report: StockReport,
  sells: LotAnswer["sells"],
  heading: Pick<Section, "title" | "about">,
  words: (one: { readonly lot: Lot; readonly answer: LotAnswer }) => string,
): readonly Section[] {
  const found = report.lots.flatMap((lot) => lot.answers.flatMap((answer) => (answer.sells === sells ? [{ lot, answer }] : [])));
  found.sort((a, b) => weight(report, b.answer).compare(weight(report, a.answer)));
  return found.length === 0 ? [] : [{ ...heading, points: firstOf(found.map((one) => point(words(one), one.answer.located))) }];
}

function mustHave(report: StockReport): readonly Section[] {
  const { stock, items } = report;
  const found = items.flatMap(({ found }, i) => (found?.only ? [{ item: stock.items[i]!, only: found.only }] : []));
  found.sort((a, b) => Number(a.item.available) - Number(b.item.available) || weight(report, b.only).compare(weight(report, a.only)));
  if (found.length === 0) return [];
  return [
    {
      title: stockWords.mustHave,
      about: stockWords.mustHaveAbout,
      points: found.map(({ item, only }) => point(stockWords.only(item.name, often(report, only), !item.available), only.located)),
    },
  ];
}

function emptyOptions(report: StockReport): readonly Section[] {
  const { model, lots } = report;
  // Of a pick that is sold alone, an answer that nobody can buy has said so already.
  const found = lots.flatMap(({ picks, options }) =>
    options.filter(({ available, front }) => !available && (picks.length > 1 || weight(report, front).n === 0n)),
  );
  const words = ({ pick, option, front, listed, items }: LotOption): string =>
    stockWords.option(
      `${model.picks[pick]!.label} ${model.picks[pick]!.options[option]!.text}`,
      weight(report, front).n === 0n ? undefined : often(report, front),
      often(report, listed),
      items.length > 0,
    );
  return found.length === 0 ? [] : [{ title: stockWords.options, points: firstOf(found.map((option) => point(words(option), undefined))) }];
}

function idleItems({ stock, items, log }: StockReport): readonly Section[] {
  const section = (title: string, wanted: (at: number) => boolean): readonly Section[] => {
    const found = stock.items.filter((_, at) => wanted(at));
    return found.length === 0
      ? []
      : [{ title, points: found.map(({ name, available }) => point(stockWords.itemLine(name, !available), undefined)) }];
  };
  return [
    ...section(stockWords.never, (at) => items[at]!.found?.ever === false),
    ...(log
      ? section(stockWords.notOnThese, (at) => items[at]!.found?.ever === true && items[at]!.found.listed.days?.possible.n === 0n)
      : []),
    ...section(stockWords.silent, (at) => items[at]!.silent),
  ];
}

function sellsAs(report: StockReport, lot: Lot): readonly Section[] {
  const { model } = report;
  const asked = lot.answers.filter(({ sells, share, days }) => sells !== "not asked for" && (days ? days.possible.n > 0n : share.n >= 0n));
  const shown = asked.slice(0, MOST_ROWS);
  const sold = (answer: LotAnswer): string => {
    const items = itemsWords(report, answer);
    if (answer.sells !== "nothing") return items;
    if (items === "" || lot.picks.length === 1) return stockWords.nothing;
    return `${items}; ${stockWords.missingFor(names(report, answer.missing))}`;
  };
  const labels = lot.picks.map((pick) => model.picks[pick]!.label);
  return [
    {
      title: stockWords.sellsAs(labels),
      table: {
        head: [...labels, stockWords.head.often, stockWords.head.sellsAs],
        rows: shown.map((answer) => [
          ...lot.picks.map((pick, i) => outcomeText(model, pick, answer.outcomes[i]!)),
          stockWords.cell(weight(report, answer)),
          sold(answer),
        ]),
      },
      ...(asked.length > shown.length && { about: stockWords.moreAnswers(shown.length, asked.length) }),
    },
  ];
}

function demand({ stock, items, log }: StockReport): readonly Section[] {
  if (!log) return [];
  const months = Array.from({ length: 12 }, (_, i) => i + 1).filter((month) => log.days.some((day) => day.month === month));
  const undated = log.days.some(({ month }) => month === undefined);
  const rows = stock.items.flatMap(({ name }, at) => {
    const { found } = items[at]!;
    const all = found?.first.days?.trips;
    if (!found || !all || all.n === 0n) return [];
    const byMonth = months.map((month) => found.months.get(month)!.trips);
    const rest = byMonth.reduce((left, trips) => left.sub(trips), all);
    return [{ all, cells: [name, ...byMonth.map(amount), ...(undated ? [amount(rest)] : []), amount(all)] }];
  });
  rows.sort((a, b) => b.all.compare(a.all));
  const head = [
    stockWords.head.item,
    ...months.map((month) => stockWords.months[month - 1]!),
    ...(undated ? [stockWords.undated] : []),
    stockWords.all,
  ];
  return rows.length === 0
    ? []
    : [
        {
          title: log.byTrips ? stockWords.demandTrips : stockWords.demand,
          about: stockWords.demandAbout,
          table: { head, rows: rows.map(({ cells }) => cells) },
        },
      ];
}

function coverage(report: StockReport): Section {
  const found = report.coverage.flatMap(({ pick, statuses: mine }) => (mine ? [{ pick: report.model.picks[pick]!, mine }] : []));
  const columns = statuses.filter((status) => found.some(({ mine }) => (mine[status].days?.possible ?? mine[status].share).n > 0n));
  return {
    title: stockWords.coverage,
    table: {
      head: [stockWords.head.pick, ...columns],
      rows: found.map(({ pick, mine }) => [
        pick.name,
        ...columns.map((status) => (weight(report, mine[status]).n === 0n ? "-" : stockWords.cell(weight(report, mine[status])))),
      ]),
    },
  };
}

function point(text: string, located: Located | undefined): NonNullable<Section["points"]>[number] {
  return located ? { text, where: stockWords.where(located.where, located.example) } : { text };
}

function firstOf(points: readonly NonNullable<Section["points"]>[number][]): readonly NonNullable<Section["points"]>[number][] {
  return points.length > MOST ? [...points.slice(0, MOST), { text: stockWords.more(points.length - MOST) }] : points;
}

function answerWords({ model }: StockReport, { picks }: Lot, { outcomes }: LotAnswer): string {
  return picks
    .flatMap((pick, i) =>
      outcomes[i]!.status === "not applicable" ? [] : [`${model.picks[pick]!.label} ${outcomeText(model, pick, outcomes[i]!)}`],
    )
    .join("; ");
}

/** The items that an answer sells as, the first choice first; those that are out say so. */
function itemsWords({ stock }: StockReport, { items }: LotAnswer): string {
  const places = [...new Set(items.map(({ place }) => place))];
  return stockWords.byPlace(
    places.map((place) => ({
      place: stockWords.place(place),
      items: items
        .filter((one) => one.place === place)
        .map(({ item }) => stockWords.itemLine(stock.items[item]!.name, !stock.items[item]!.available)),
    })),
  );
}

function names({ model }: StockReport, picks: readonly number[]): readonly string[] {
  return picks.map((pick) => model.picks[pick]!.label.toLowerCase());
}

function totalTrips({ log }: StockReport): Fraction {
  return log!.days.reduce((sum, { trips }) => sum.add(trips), new Fraction(0));
}

/** The share that counts: of the log's trips, or else of the conditions. */
function weight(report: StockReport, { share, days }: Frequency): Fraction {
  return days ? days.trips.div(totalTrips(report)) : share;
}

function often(report: StockReport, { share, days }: Frequency): string {
  const total = days && totalTrips(report);
  return stockWords.often(
    share,
    days &&
      total && {
        trips: days.trips.div(total),
        sure: days.sure.div(total),
        possible: days.possible.div(total),
        byTrips: report.log!.byTrips,
      },
  );
}

function amount(trips: Fraction): string {
  return stockWords.amount(trips.valueOf());
}
