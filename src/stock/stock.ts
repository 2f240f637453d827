/**
 * What a shop can sell of what its book recommends.
 *
 *     stock:  Mud Thumper  blade round, setup single   4          picks that stand together on some item are sold together: one lot
 *             Leaf, No. 4  blade leaf                  out
 *     lot:    blade and setup
 *     answers of the lot, with the items that fit         ──▶   "round, then leaf; single"    1st choice  Mud Thumper
 *                                                               "leaf; tandem"                nothing for blade, setup
 *
 * An item fits an answer if, for each pick that it names, one of its options is on the answer's list; its place is the worst of these.
 * An answer asks for every pick of the lot that has a list. It sells as its first choice if for each of these some item in stock fits in
 * the first place and is bought for that pick; as a later choice if some do so further down; else nobody can buy it here.
 * An item is the only answer where no other item in the whole list, in stock or not, fits and is bought for some pick that is asked for.
 */
import type Fraction from "fraction.js";
import type { Answers } from "../analysis/answers.js";
import { budget, withinBudget, type Budget } from "../analysis/budget.js";
import type { Status } from "../analysis/outcome.js";
import { flagged, flags, regionOf } from "../analysis/diagrams/region.js";
import { sayWhere } from "../analysis/where.js";
import type { Example } from "../diagnostics.js";
import type { Model } from "../model/model.js";
import { coverageBy, noLog, often, weighing, type Leaf, type Log, type Often, type Tallies, type Weighing } from "./log.js";
import type { Stock } from "./rows.js";

export interface StockReport {
  readonly model: Model;
  readonly stock: Stock;
  readonly log?: Log;
  readonly lots: readonly Lot[];
  /** One for each item of the stock, in the same order. */
  readonly items: readonly ItemReport[];
  /** Of every pick and judgement; undefined: the budget did not do. */
  readonly coverage: readonly { readonly pick: number; readonly statuses: Readonly<Record<Status, Frequency>> | undefined }[];
  /** Lots for which the budget did not do: nothing is said of their items. */
  readonly undecided: readonly (readonly number[])[];
}

/** How often something is so. */
export interface Frequency {
  /** Exact share of all possible conditions. */
  readonly share: Fraction;
  /** Of the trips of the log, where one is given. */
  readonly days?: Often;
}
/** Where something is so. */
export interface Located {
  /** A test of the language, or as close to one as words come. */
  readonly where: string;
  readonly example: Example;
}

/** Picks that are sold together, and all that the book answers to them. */
export interface Lot {
  readonly picks: readonly number[];
  /** Most frequent first: by days where there is a log. They part all possible conditions between them. */
  readonly answers: readonly LotAnswer[];
  readonly options: readonly LotOption[];
}

export interface LotAnswer extends Frequency {
  /** One outcome per pick of the lot. */
  readonly outcomes: Leaf;
  readonly sells: Sells;
  /** Items of the stock, by index, that fit, and the place in which they do: 0 is the first choice. By place. */
  readonly items: readonly { readonly item: number; readonly place: number }[];
  /** Picks for which nothing in stock fits. */
  readonly missing: readonly number[];
  /** Where it does not sell as its first choice, for the most frequent ones. */
  readonly located?: Located;
}
type Sells = "first choice" | "later choice" | "nothing" | "not asked for";

/** An option that some answer has. */
export interface LotOption {
  readonly pick: number;
  readonly option: number;
  /** How often it is in front. */
  readonly front: Frequency;
  /** How often it is on the list. */
  readonly listed: Frequency;
  readonly items: readonly number[];
  readonly available: boolean;
}

export interface ItemReport {
  /** It names no option, so nothing tells where it fits. */
  readonly silent: boolean;
  /** Undefined where it is silent, or its lot is undecided. */
  readonly found?: {
    /** False: no condition ever recommends it, not even a single value. */
    readonly ever: boolean;
    readonly first: Frequency;
    readonly listed: Frequency;
    readonly only?: Frequency & { readonly located?: Located };
    /** Trips on which it is a first choice, by month from 1 to 12. */
    readonly months: ReadonlyMap<number, Often>;
  };
}

export interface StockOptions {
  readonly log?: Log;
  /** Splits and nodes allowed per question; 400,000 if not said. */
  readonly steps?: number;
  readonly interrupted?: () => boolean;
}

const STEPS = 400_000;
/** Answers beyond this many are not looked for on the map. */
const MOST_LOCATED = 40;
/** Stretches of one region beyond this many are counted, not written out. */
const MOST_STRETCHES = 2;

export function stockReport(answers: Answers, stock: Stock, { log, steps, interrupted }: StockOptions = {}): StockReport {
  const { model } = answers;
  const fresh = (): Budget => budget(steps ?? STEPS, interrupted);
  const lots: Lot[] = [];
  const items: ItemReport[] = stock.items.map(({ options }) => ({ silent: options.size === 0 }));
  const undecided: (readonly number[])[] = [];
  for (const picks of soldTogether(stock)) {
    const made = picks.every((pick) => answers.picks[pick]) ? withinBudget(() => lotOf(answers, stock, picks, log, fresh)) : undefined;
    if (!made) {
      undecided.push(picks);
      continue;
    }
    lots.push(made.lot);
    for (const [item, found] of made.items) items[item] = { silent: false, found };
  }
  const [plain, byDays] = [coverageBy(answers, noLog, fresh), log && coverageBy(answers, log, fresh)];
  const coverage = plain.map(({ pick, statuses }, i) => {
    const days = byDays?.[i]?.statuses;
    return {
      pick,
      statuses:
        statuses && (log === undefined || days)
          ? (Object.fromEntries(
              Object.entries(statuses).map(([status, { trips }]) => [
                status,
                { share: trips, ...(days && { days: days[status as Status] }) },
              ]),
            ) as Record<Status, Frequency>)
          : undefined,
    };
  });
  return { model, stock, ...(log && { log }), lots, items, coverage, undecided };
}

/** Groups of picks, in book order, such that no item names picks of two of them. */
function soldTogether({ picks, items }: Stock): readonly (readonly number[])[] {
  const lotOfPick = new Map(picks.map((pick) => [pick, pick]));
  for (const { options } of items) {
    const joined = new Set([...options.keys()].map((pick) => lotOfPick.get(pick)!));
    const least = Math.min(...joined);
    for (const [pick, lot] of lotOfPick) if (joined.has(lot)) lotOfPick.set(pick, least);
  }
  return [...new Set(lotOfPick.values())].map((lot) => picks.filter((pick) => lotOfPick.get(pick) === lot));
}

/** An item beside an answer: the pick's options on it, and its place, if it fits. */
type Fit = LotAnswer["items"][number];

function lotOf(
  answers: Answers,
  stock: Stock,
  picks: readonly number[],
  log: Log | undefined,
  fresh: () => Budget,
): { readonly lot: Lot; readonly items: ReadonlyMap<number, NonNullable<ItemReport["found"]>> } {
  const { model } = answers;
  const weighed = weighing(answers, picks, fresh);
  const plain = weighed.tally(noLog);
  const byDays = log && weighed.tally(log);
  const frequency = frequencyIn(plain, byDays);
  const mine = stock.items.flatMap(({ options }, index) => (options.size > 0 && picks.includes([...options.keys()][0]!) ? [index] : []));
  const fits = new Map([...plain.all.spread.keys()].map((leaf) => [leaf, fitting(stock, mine, picks, leaf)]));
  const fitOf = (leaf: Leaf, item: number): Fit | undefined => fits.get(leaf)!.find((fit) => fit.item === item);

  const said = [...fits].map(([leaf, items]) => ({
    leaf,
    outcomes: leaf,
    ...sold(stock, picks, leaf, items),
    items,
    ...frequency((one) => one === leaf),
  }));
  said.sort((a, b) => (a.days && b.days ? b.days.trips.compare(a.days.trips) : 0) || b.share.compare(a.share));
  let located = 0;
  const listed = said.map(({ leaf, ...answer }): LotAnswer => {
    const wanted = answer.sells === "nothing" || answer.sells === "later choice";
    const found = wanted && located++ < MOST_LOCATED ? locate(answers, weighed, (one) => one === leaf, fresh) : undefined;
    return { ...answer, ...(found && { located: found }) };
  });

  const items = new Map(
    mine.map((index) => {
      const isFirst = (leaf: Leaf): boolean => fitOf(leaf, index)?.place === 0;
      const isOnly = (leaf: Leaf): boolean => onlyAnswer(stock, picks, leaf, fits.get(leaf)!, index);
      const months = new Map([...(byDays?.months ?? [])].map(([month, tally]) => [month, often(tally, isFirst)]));
      const where = [...fits.keys()].some(isOnly) ? locate(answers, weighed, isOnly, fresh) : undefined;
      return [
        index,
        {
          ever: [...fits.keys()].some((leaf) => fitOf(leaf, index)),
          first: frequency(isFirst),
          listed: frequency((leaf) => fitOf(leaf, index) !== undefined),
          months,
          ...([...fits.keys()].some(isOnly) && { only: { ...frequency(isOnly), ...(where && { located: where }) } }),
        },
      ] as const;
    }),
  );
  return { lot: { picks, answers: listed, options: optionsOf(model, stock, picks, [...fits.keys()], frequency) }, items };
}

function frequencyIn(plain: Tallies<Leaf>, byDays: Tallies<Leaf> | undefined): (wanted: (leaf: Leaf) => boolean) => Frequency {
  return (wanted) => ({ share: often(plain.all, wanted).trips, ...(byDays && { days: often(byDays.all, wanted) }) });
}

/** Items that fit an answer, the best first. */
function fitting({ items }: Stock, mine: readonly number[], picks: readonly number[], leaf: Leaf): readonly Fit[] {
  return mine
    .flatMap((item): Fit[] => {
      const places = [...items[item]!.options].map(([pick, options]) =>
        leaf[picks.indexOf(pick)]!.places.findIndex((place) => place.some((option) => options.includes(option))),
      );
      return places.includes(-1) ? [] : [{ item, place: Math.max(...places) }];
    })
    .sort((a, b) => a.place - b.place || a.item - b.item);
}

function askedFor(picks: readonly number[], leaf: Leaf): readonly number[] {
  return picks.filter((_, i) => leaf[i]!.places.length > 0);
}

function sold({ items }: Stock, picks: readonly number[], leaf: Leaf, fits: readonly Fit[]): Pick<LotAnswer, "sells" | "missing"> {
  const asked = askedFor(picks, leaf);
  const best = asked.map((pick) => fits.find(({ item }) => items[item]!.available && !items[item]!.notFor.has(pick))?.place);
  const missing = asked.filter((_, i) => best[i] === undefined);
  const sells =
    asked.length === 0
      ? "not asked for"
      : missing.length > 0
        ? "nothing"
        : best.every((place) => place === 0)
          ? "first choice"
          : "later choice";
  return { sells, missing };
}

function onlyAnswer({ items }: Stock, picks: readonly number[], leaf: Leaf, fits: readonly Fit[], index: number): boolean {
  return askedFor(picks, leaf).some((pick) => {
    const bought = fits.filter(({ item }) => !items[item]!.notFor.has(pick));
    return bought.length === 1 && bought[0]!.item === index;
  });
}

function optionsOf(
  model: Model,
  { items }: Stock,
  picks: readonly number[],
  leaves: readonly Leaf[],
  frequency: ReturnType<typeof frequencyIn>,
): readonly LotOption[] {
  return picks.flatMap((pick, i) =>
    model.picks[pick]!.options.flatMap((_, option): LotOption[] => {
      const listed = (leaf: Leaf): boolean => leaf[i]!.places.some((place) => place.includes(option));
      if (!leaves.some(listed)) return [];
      const mine = items.flatMap(({ options }, index) => (options.get(pick)?.includes(option) ? [index] : []));
      return [
        {
          pick,
          option,
          front: frequency((leaf) => leaf[i]!.places[0]?.includes(option) ?? false),
          listed: frequency(listed),
          items: mine,
          available: mine.some((index) => items[index]!.available),
        },
      ];
    }),
  );
}

/** Undefined: the budget did not do. */
function locate(answers: Answers, { joint }: Weighing, wanted: (leaf: Leaf) => boolean, fresh: () => Budget): Located | undefined {
  const region = withinBudget(() => {
    const spend = fresh();
    const target = flags(spend);
    return regionOf(
      answers,
      flagged(joint.node, target, (leaf) => leaf !== undefined && wanted(leaf)),
      target,
      spend,
    );
  });
  return region && { where: sayWhere(answers, region.boxes, MOST_STRETCHES, region.whole).text, example: region.example };
}
