/** Where something went when a text was changed in one place, as editors move their marks along. */
import type { Finding } from "../../diagnostics.js";
import type { Range } from "../../text.js";

/** Undefined for what touches the change. */
export type Moved = (range: Range) => Range | undefined;

/** The change is what lies between the longest common beginning and the longest common end. */
export function moved(before: string, now: string): Moved {
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

/** Are these the same findings, each where it went? */
export function sameButMoved(before: readonly Finding[], now: readonly Finding[], move: Moved): boolean {
  return (
    before.length === now.length &&
    before.every((finding, i) => {
      const { range, code, message, title } = now[i]!;
      const went = move(finding.range);
      return (
        went !== undefined &&
        went.start === range.start &&
        went.end === range.end &&
        code === finding.code &&
        message === finding.message &&
        title === finding.title
      );
    })
  );
}
