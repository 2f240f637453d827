/** `answer --csv --format csv` takes rows as they come and gives answers as they are taken: in order, at any length, in memory that does not grow with it. */
import { spawn } from "node:child_process";
import { once } from "node:events";
import { readFileSync } from "node:fs";
import { parse } from "csv-parse/sync";
import { describe, expect, test } from "vitest";
import type { Given } from "../../src/answer/given.js";
import { givenOf, readGiven } from "../../src/answer/given.js";
import { alikeKey } from "../../src/answer/alike.js";
import { answerLines } from "../../src/render/csv.js";
import { answer } from "../../src/answer/answer.js";
import { run as span } from "../../src/model/span.js";
import { dice } from "../bench/books.js";
import { folder, program, run, sound } from "../cli/run.js";
import { readPond } from "../table/pond.js";

const head = "clarity,cover\n";

/** Rows that differ, each telling which it is by what it holds. */
const rows = (count: number): string =>
  Array.from(
    { length: count },
    (_, i) => `${["clear", "muddy", ""][i % 3]},${["grass", "docks", "none", "grass;docks", ""][i % 5]}\n`,
  ).join("");

function start(cwd: string): { readonly child: ReturnType<typeof spawn>; readonly peak: () => number } {
  const child = spawn(process.execPath, [program, "answer", "sound.lore", "--csv", "-", "--format", "csv"], {
    cwd,
    stdio: ["pipe", "pipe", "pipe"],
  });
  return { child, peak: () => Number(/VmHWM:\s+(\d+)/.exec(readFileSync(`/proc/${child.pid}/status`, "utf8"))?.[1] ?? 0) / 1024 };
}

describe("rows as they come", () => {
  test("are answered in their order, as all together are", () => {
    const cwd = folder({ "sound.lore": sound, "points.csv": head + rows(800) });
    const { exit, out } = run(cwd, ["answer", "sound.lore", "--csv", "points.csv", "--format", "csv"]);
    expect(exit).toBe(0);
    const lines = parse<Record<string, string>>(out, { columns: true });
    expect(lines.map(({ clarity, cover }) => `${clarity},${cover}\n`).join("")).toBe(rows(800));
    const json = JSON.parse(run(cwd, ["answer", "sound.lore", "--csv", "points.csv", "--format", "json"]).out) as {
      readonly answers: { readonly picks: { readonly blade: { readonly status: string } } }[];
    };
    expect(lines.map((line) => line["blade status"])).toEqual(json.answers.map(({ picks }) => picks.blade.status));
  });

  test("are answered before the last one is there", async () => {
    const { child } = start(folder({ "sound.lore": sound }));
    child.stdin!.write(head + rows(30_000));
    const [first] = (await once(child.stdout!, "data")) as [Buffer];
    expect(first.toString("utf8")).toMatch(
      /^clarity,cover,blade,blade status,blade safe,closed,ask,cautions,error\nclear,grass,leaf,decided,leaf,,,,\n/,
    );
    child.stdin!.end();
    child.stdout!.resume();
    expect((await once(child, "close"))[0]).toBe(0);
  });

  test.runIf(process.platform === "linux")("wait while nobody takes the answers", { timeout: 240_000 }, async () => {
    const { child, peak } = start(folder({ "sound.lore": sound }));
    // Of the answers only what the pipes hold is made as long as none is read, so most of the rows are not taken either.
    const chunk = rows(100_000);
    child.stdin!.write(head);
    for (let i = 0; i < 5; i++) child.stdin!.write(chunk);
    await new Promise((later) => setTimeout(later, 3_000));
    const waiting = peak();
    expect(child.stdin!.writableLength).toBeGreaterThan(2 * chunk.length);
    child.stdin!.end();
    let lines = 0;
    child.stdout!.on("data", (bytes: Buffer) => {
      for (const byte of bytes) if (byte === 10) lines++;
    });
    let most = waiting;
    const watch = setInterval(() => (most = Math.max(most, peak())), 100);
    const closed = once(child, "close");
    await once(child.stdout!, "end");
    clearInterval(watch);
    expect((await closed)[0]).toBe(0);
    expect(lines).toBe(500_001);
    expect(most).toBeLessThan(400);
  });

  test("a reader that stops reading is no fault", async () => {
    const { child } = start(folder({ "sound.lore": sound }));
    child.stdin!.on("error", () => undefined);
    child.stdin!.write(head + rows(400_000));
    await once(child.stdout!, "data");
    child.stdout!.destroy();
    child.stdin!.end();
    let said = "";
    child.stderr!.on("data", (bytes: Buffer) => (said += bytes.toString("utf8")));
    expect((await once(child, "close"))[0]).toBe(0);
    expect(said).toBe("");
  });

  test("a fault far down comes after the answers before it, one in the beginning alone", () => {
    const cwd = folder({
      "sound.lore": sound,
      "far.csv": `${head}${rows(20_000)}"cle"ar,grass\n`,
      "near.csv": `${head}"cle"ar,grass\n`,
      "bytes.csv": Buffer.concat([Buffer.from(head + rows(20_000)), Buffer.from([0x63, 0xff, 0x0a])]),
      "zero.csv": Buffer.from(`${head}cl\0ear,\n`),
    });
    const said = (file: string) => run(cwd, ["answer", "sound.lore", "--csv", file, "--format", "csv"]);
    const far = said("far.csv");
    expect([far.exit, far.out.split("\n").length, far.err]).toEqual([2, 20_002, expect.stringMatching(/^far\.csv cannot be read .*\n$/)]);
    expect(said("near.csv")).toMatchObject({ exit: 2, out: "" });
    expect(said("bytes.csv")).toMatchObject({ exit: 2, err: expect.stringMatching(/^Cannot read bytes\.csv: it is not saved as UTF-8/) });
    expect(said("zero.csv")).toMatchObject({ exit: 2, out: "", err: "Cannot read zero.csv: it is not a text file.\n" });
    expect(said(".")).toMatchObject({ exit: 2, out: "", err: "Cannot read .: it is a folder.\n" });
  });
});

test("what has one key has one answer, but for what was given", () => {
  const { model, answers: found } = readPond();
  const keyOf = alikeKey(model);
  const lines = answerLines(model);
  const roll = dice(5);
  const said = new Map<string, { readonly tail: string; readonly given: string }>();
  let shared = 0;
  for (let i = 0; i < 4_000; i++) {
    const known = roll(5);
    const given: Given = givenOf(
      model,
      new Map(
        model.axes.flatMap(({ index, size, condition }) =>
          (condition + known) % 5 < 2 ? [] : [[index, span(...twice(roll(size)))] as const],
        ),
      ),
    );
    const one = answer(model, given, () => found);
    const tail = "problem" in one ? one.problem : lines.said(one);
    const key = keyOf(given.box);
    const before = said.get(key);
    const words = JSON.stringify(given.values);
    if (before && before.given !== words) shared++;
    if (before) expect(tail, `${words} and ${before.given}`).toBe(before.tail);
    said.set(key, { tail, given: words });
  }
  expect(shared).toBeGreaterThan(100);
  const read = (text: string): string => {
    const reading = readGiven(model, [["water-temp", text]]);
    if ("problems" in reading) throw new Error(text);
    return keyOf(reading.given.box);
  };
  expect(read("52")).toBe(read("55"));
  expect(read("49")).not.toBe(read("50"));
  // Two names of one stretch are known in part, each in its own way.
  expect(read("cold")).not.toBe(read("cold;cool"));
});

function twice(position: number): [number, number] {
  return [position, position];
}
