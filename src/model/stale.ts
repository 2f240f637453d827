/**
 * What has gone by: measured against one given day, never against a clock.
 *
 *     checked 2026-01-10, on 2027-04-15: 460 days ago, stale        until 2027-04-15, on 2027-04-15: speaks for the last time
 */
import * as say from "../messages/model.js";
import { daysBetween, readDate, type CalendarDate } from "./calendar.js";
import { readDateText, type PatternDraft } from "./patterns.js";
import { report, replacing, type Desk } from "./scope.js";

/** How long a check is good for, in days. */
const goodFor = 365;

/** Has a pattern spoken for the last time before the day? Without a day nothing has. */
export function isOver({ until }: PatternDraft, on: CalendarDate | undefined): boolean {
  const last = until === undefined ? undefined : readDate(until);
  return on !== undefined && last !== undefined && daysBetween(last, on) > 0;
}

export function reportStalePatterns(drafts: readonly PatternDraft[], on: CalendarDate): void {
  for (const draft of drafts) {
    const { desk, node, title, checked, until } = draft;
    if (isOver(draft, on)) report(desk, node.until!.range, say.untilGoneBy(title, until!), { patterns: [title] });
    else if (checked !== undefined && daysBetween(readDate(checked)!, on) > goodFor) {
      report(desk, node.checked!.range, say.checkedLongAgo(title, checked, daysBetween(readDate(checked)!, on)), { patterns: [title] });
    }
  }
}

/** The `good from … to …` of a book, as far as it is sound; reports what is not, and one gone by. */
export function readGoodDates(desk: Desk, on: CalendarDate | undefined): { readonly goodFrom?: string; readonly goodTo?: string } {
  const header = desk.tree.statements.find((statement) => statement.kind === "book");
  const [goodFrom, goodTo] = [readDateText(desk, header?.goodFrom), readDateText(desk, header?.goodTo)];
  const [from, to] = [goodFrom && readDate(goodFrom), goodTo && readDate(goodTo)];
  if (from && to && daysBetween(from, to) < 0) {
    const whole = { start: header!.goodFrom!.range.start, end: header!.goodTo!.range.end };
    report(desk, whole, say.goodBackwards(goodFrom!, goodTo!), {
      fixes: [replacing(desk, whole, `${goodTo} to ${goodFrom}`, `Write good from ${goodTo} to ${goodFrom}`)],
    });
  } else if (on && to && daysBetween(to, on) > 0)
    report(desk, header!.goodTo!.range, say.goodGoneBy(header!.title?.value ?? desk.path, goodTo!));
  return { ...(goodFrom && { goodFrom }), ...(goodTo && { goodTo }) };
}
