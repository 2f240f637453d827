/**
 * How long an editor is kept waiting while a book's tables are worked out beside it: the longest piece of that work, over the shipped
 * books, against all of it in one go.
 *
 * The work is the same every time, so of each piece the shortest of several runs counts: what the machine did beside it is no part of it.
 */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { answers } from "../../src/analysis/answers.js";
import { resolve } from "../../src/model/resolve.js";
import { makingTable } from "../../src/service/table.js";
import { parse } from "../../src/syntax/parse.js";

const rules = fileURLToPath(new URL("../../rules/", import.meta.url));

const RUNS = 5;

export function pieces(line: (label: string, ...values: string[]) => void): void {
  const ms = (time: number): string => `${time.toFixed(1)} ms`;
  line("", "all tables", "longest piece", "pieces");
  for (const path of ["blades.lore", "reservoir.lore", "hollin-cove.lore", "river.lore", "inshore.lore"]) {
    const runs = Array.from({ length: RUNS }, () => timesOf(path));
    const times = runs[0]!.map((_, at) => Math.min(...runs.map((run) => run[at]!)));
    line(path, ms(times.reduce((sum, time) => sum + time)), ms(Math.max(...times)), String(times.length));
  }
}

/** Milliseconds of each piece. */
function timesOf(path: string): readonly number[] {
  const read = (other: string) => ({ text: readFileSync(rules + other, "utf8") });
  const work = makingTable(answers(resolve(parse(read(path).text, path), read).model, { steps: 100_000 }));
  const times: number[] = [];
  for (let done = false; !done;) {
    const start = performance.now();
    done = work.next().done === true;
    times.push(performance.now() - start);
  }
  return times;
}
