/** Where something went when a text was changed in one place, as editors move their marks along. */
import type { Range } from "../../text.js";

/** What lies between the longest common beginning and the longest common end: from `start`, up to `end` before and up to `to` now. */
export function changeBetween(before: string, now: string): { readonly start: number; readonly end: number; readonly to: number } {
  const least = Math.min(before.length, now.length);
  let start = 0;
  while (start < least && before.charCodeAt(start) === now.charCodeAt(start)) start++;
  let same = 0;
  while (same < least - start && before.charCodeAt(before.length - 1 - same) === now.charCodeAt(now.length - 1 - same)) same++;
  return { start, end: before.length - same, to: now.length - same };
}

/** What is partly changed keeps the rest of its text; undefined where all of it is gone. */
export function movedAlong(before: string, now: string): (range: Range) => Range | undefined {
  const { start, end, to } = changeBetween(before, now);
  return (range) => {
    if (range.end <= start) return range;
    if (range.start >= end) return { start: range.start + to - end, end: range.end + to - end };
    if (range.start >= start && range.end <= end) return undefined;
    return { start: Math.min(range.start, start), end: range.end > end ? range.end + to - end : start };
  };
}
