/** `waterlore check --days`: how often each pick is what, weighed by a log of days. */
import Fraction from "fraction.js";
import { STEPS } from "../../analysis/analyse.js";
import { answers } from "../../analysis/answers.js";
import { budget } from "../../analysis/budget.js";
import { statuses, type Status } from "../../analysis/outcome.js";
import { resolve } from "../../model/resolve.js";
import { coverageBy } from "../../stock/log.js";
import { parse } from "../../syntax/parse.js";
import { reader } from "../node/read.js";
import { openLog } from "../node/rows.js";
import { nameOf, type Source } from "../node/source.js";
import type { BookCoverage } from "./checked.js";

/** What weighed, as it is reported. */
export interface WeighedBy {
  readonly path: string;
  readonly days: number;
  /** Exact. */
  readonly trips: string;
}

export interface CoverageByDays {
  readonly coverage: readonly BookCoverage[];
  readonly log: WeighedBy;
  /** False where a row of the log was left out, and has been said. */
  readonly complete: boolean;
}

/** The same shares as a check gives, of the trips of the log instead of all conditions. */
export async function coverageByDays(
  { path, text }: Source,
  file: string,
  { on, steps = STEPS }: { readonly on: string; readonly steps?: number },
): Promise<CoverageByDays> {
  const { model } = resolve(parse(text, path), reader([path]), { on });
  const all = answers(model, { steps });
  const { value: log, complete } = await openLog(all, file, steps);
  const trips = log.days.reduce((sum, day) => sum.add(day.trips), new Fraction(0));
  const coverage = coverageBy(all, log, () => budget(steps)).flatMap(({ pick, statuses: found }): readonly BookCoverage[] => {
    const { name, judgement } = model.picks[pick]!;
    if (!found) return [];
    return [
      {
        book: path,
        pick: name,
        judgement,
        shares: Object.fromEntries(statuses.map((status) => [status, found[status].trips.div(trips).toFraction()])) as Record<
          Status,
          string
        >,
      },
    ];
  });
  return { coverage, log: { path: nameOf(file), days: log.days.length, trips: trips.toFraction() }, complete };
}
