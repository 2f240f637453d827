/**
 * What has gone by: measured against one given day, never against a clock.
 *
 *     checked 2026-01-10, on 2027-04-15: 460 days ago, stale        until 2027-04-15, on 2027-04-15: speaks for the last time
 */
import * as say from "../messages/model.js";
import { daysBetween, readDate, type CalendarDate } from "./calendar.js";
import { readDateText, type PatternDraft } from "./patterns.js";
import { report, replacing, type Reading } from "./scope.js";

/** How long a check is good for, in days. */
const goodFor = 365;

/** Has a pattern spoken for the last time before the day? Without a day nothing has. */
export function isOver({ until }: PatternDraft, on: CalendarDate | undefined): boolean {
  const last = until === undefined ? undefined : readDate(until);
  return on !== undefined && last !== undefined && daysBetween(last, on) > 0;
}

export function reportStalePatterns(drafts: readonly PatternDraft[], on: CalendarDate): void {
  for (const draft of drafts) {
    const { reading, node, title, checked, until } = draft;
    if (isOver(draft, on)) report(reading, node.until!.range, say.untilGoneBy(title, until!), { patterns: [title] });
    else if (checked !== undefined && daysBetween(readDate(checked)!, on) > goodFor) {
      report(reading, node.checked!.range, say.checkedLongAgo(title, checked, daysBetween(readDate(checked)!, on)), { patterns: [title] });
    }
  }
}

/** The `good from … to …` of a book, as far as it is sound; reports what is not, and one gone by. */
export function readGoodDates(reading: Reading, on: CalendarDate | undefined): { readonly goodFrom?: string; readonly goodTo?: string } {
  const header = reading.tree.statements.find((statement) => statement.kind === "book");
  const [goodFrom, goodTo] = [readDateText(reading, header?.goodFrom), readDateText(reading, header?.goodTo)];
  const [from, to] = [goodFrom && readDate(goodFrom), goodTo && readDate(goodTo)];
  if (from && to && daysBetween(from, to) < 0) {
    const whole = { start: header!.goodFrom!.range.start, end: header!.goodTo!.range.end };
    report(reading, whole, say.goodBackwards(goodFrom!, goodTo!), {
      fixes: [replacing(reading, whole, `${goodTo} to ${goodFrom}`, `Write good from ${goodTo} to ${goodFrom}`)],
    });
  } else if (on && to && daysBetween(to, on) > 0)
    report(reading, header!.goodTo!.range, say.goodGoneBy(header!.title?.value ?? reading.path, goodTo!));
  return { ...(goodFrom && { goodFrom }), ...(goodTo && { goodTo }) };
}
