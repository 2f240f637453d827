/** Where something went when a text was changed in one place, as editors move their marks along. */
import type { Range } from "../../text.js";

/** The change is what lies between the longest common beginning and the longest common end. Undefined for what touches it. */
export function moved(before: string, now: string): (range: Range) => Range | undefined {
  const least = Math.min(before.length, now.length);
  let start = 0;
  while (start < least && before.charCodeAt(start) === now.charCodeAt(start)) start++;
  let end = 0;
  while (end < least - start && before.charCodeAt(before.length - 1 - end) === now.charCodeAt(now.length - 1 - end)) end++;
  const by = now.length - before.length;
  return (range) => {
    if (range.end < start) return range;
    return range.start > before.length - end ? { start: range.start + by, end: range.end + by } : undefined;
  };
}
