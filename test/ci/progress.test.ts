/** The line on a terminal that says what is being checked, once it takes long. */
import { describe, expect, test } from "vitest";
import { progressOn } from "../../src/faces/node/progress.js";

function screen(
  isTTY: boolean,
  columns = 80,
): { readonly isTTY: boolean; readonly columns: number; readonly written: string[]; write(text: string): void } {
  const written: string[] = [];
  return { isTTY, columns, written, write: (text) => void written.push(text) };
}

describe("progress", () => {
  test("says nothing of short work", () => {
    const shown = screen(true);
    let time = 0;
    const progress = progressOn(shown, {}, () => time)!;
    progress.book(1, 2, "a.lore");
    time = 500;
    progress.tick();
    progress.done();
    expect(shown.written).toEqual([]);
  });

  test("of long work, one line that is written over now and then and goes away", () => {
    const shown = screen(true);
    let time = 0;
    const progress = progressOn(shown, {}, () => time)!;
    progress.book(1, 2, "a.lore");
    for (time = 0; time < 3000; time += 10) progress.tick();
    time += 250;
    progress.book(2, 2, "b\u001b[2J.lore");
    expect(shown.written[0]).toBe("\rChecking a.lore (1 of 2)\u001b[K");
    expect(shown.written).toContain("\rChecking a.lore (1 of 2), 2 s\u001b[K");
    expect(shown.written.at(-1)).toBe("\rChecking b\ufffd[2J.lore (2 of 2)\u001b[K");
    expect(shown.written.length).toBeLessThan(12);
    progress.done();
    progress.done();
    expect(shown.written.slice(-2)).toEqual([expect.stringContaining("(2 of 2)"), "\r\u001b[K"]);
  });

  test("never goes over the edge, where it could not be written over", () => {
    const line = (columns: number): readonly string[] => {
      const shown = screen(true, columns);
      let time = 0;
      const progress = progressOn(shown, {}, () => time)!;
      time = 1000;
      progress.book(1, 1, "水/very/long/path.lore");
      return shown.written;
    };
    expect(line(20)).toEqual(["\rChecking 水/very/lo\u001b[K"]);
    // A terminal that does not know its width says 0.
    expect(line(0)).toEqual(["\rChecking 水/very/long/path.lore\u001b[K"]);
  });

  test("is only for a terminal that can go back in a line", () => {
    expect(progressOn(screen(false), {})).toBeUndefined();
    expect(progressOn(screen(true), { TERM: "dumb" })).toBeUndefined();
  });
});
