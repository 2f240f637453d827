/** How the tool speaks, whatever happens to it. */
import { expect } from "vitest";

/** Whatever is told, it is told in sentences: no stack trace, no fault of the tool's own, nothing of the machine inside. */
export function expectSentences(text: string): void {
  expect(text).not.toMatch(/\n\s+at |Error:|fault of its own|undefined|\[object|FATAL|heap/);
}
