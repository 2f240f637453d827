/** Runs that somebody stops, and readers that go away: a book is whole at every moment, and what was said until then is sound. */
import { spawn } from "node:child_process";
import { chmodSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { endlessBook } from "../bench/books.js";
import { folder, program, run, sound, twoRules } from "../cli/run.js";
import { expectSentences } from "./sentences.js";

interface Ended {
  readonly exit: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly out: string;
  readonly err: string;
}

/** Runs it, and stops it when `when` says so: after a time, or once it has said anything. */
function stopped(cwd: string, words: readonly string[], signal: NodeJS.Signals, when: number | "it speaks"): Promise<Ended> {
  const child = spawn(process.execPath, [program, ...words], { cwd, stdio: ["ignore", "pipe", "pipe"] });
  let [out, err] = ["", ""];
  const hear = (): void => void (when === "it speaks" && child.kill(signal));
  child.stdout.on("data", (part) => (out += String(part)));
  child.stderr.on("data", (part) => {
    err += String(part);
    hear();
  });
  if (when !== "it speaks") setTimeout(() => child.kill(signal), when);
  return new Promise((done) => child.on("close", (exit, by) => done({ exit, signal: by, out, err })));
}

// Long enough that writing one takes a while, and crooked enough that each has to be written.
const rules = (count: number): string =>
  Array.from(
    { length: count },
    (_, i) => `pattern "Rule ${i}"\n      go with blade leaf\n when clarity is clear and cover has no docks\n`,
  ).join("");
const long = sound + rules(1000);

describe.skipIf(process.platform === "win32")("format", () => {
  test("stopped at any moment, each book is as it was or as it is to be, and the next run goes on", async () => {
    const names = Array.from({ length: 10 }, (_, i) => `book-${String(i).padStart(2, "0")}.lore`);
    const cwd = folder(Object.fromEntries(names.map((name) => [name, long])));
    const before = long;
    const other = folder({ "x.lore": long });
    expect(run(other, ["format", "x.lore"]).exit).toBe(0);
    const after = readFileSync(join(other, "x.lore"), "utf8");
    expect(after).not.toBe(before);
    let stops = 0;
    for (const [signal, when] of [
      ["SIGINT", 100],
      ["SIGINT", "it speaks"],
      ["SIGTERM", 300],
      ["SIGKILL", "it speaks"],
    ] as const) {
      const ended = await stopped(cwd, ["format", "."], signal, when);
      if (ended.signal !== null) stops++;
      expectSentences(ended.err);
      for (const name of names) expect([before, after]).toContain(readFileSync(join(cwd, name), "utf8"));
    }
    expect(stops).toBeGreaterThan(1);
    // What was to become a book, and did not, is never taken for one.
    const rest = readdirSync(cwd).filter((name) => !names.includes(name));
    expect(rest.every((name) => /^\.book-\d\d\.lore\.[\w-]+\.tmp$/.test(name))).toBe(true);
    const last = run(cwd, ["format", "."]);
    expect(last.exit).toBe(0);
    expect(names.map((name) => readFileSync(join(cwd, name), "utf8") === after)).toEqual(names.map(() => true));
    expect(run(cwd, ["format", "--check", "."]).exit).toBe(0);
  });

  test("a book that somebody else writes meanwhile is not written over", async () => {
    const cwd = folder(Object.fromEntries(Array.from({ length: 8 }, (_, i) => [`book-${i}.lore`, long])));
    const child = spawn(process.execPath, [program, "format", "."], { cwd, stdio: ["ignore", "ignore", "pipe"] });
    let err = "";
    const mine = `${sound}-- written meanwhile\n`;
    const written: string[] = [];
    child.stderr.on("data", (part) => {
      err += String(part);
      if (written.length > 0) return;
      // The first is done, the others are still to come.
      for (let i = 1; i < 8; i++) {
        if (readFileSync(join(cwd, `book-${i}.lore`), "utf8") !== long) continue;
        writeFileSync(join(cwd, `book-${i}.lore`), mine);
        written.push(`book-${i}.lore`);
      }
    });
    const exit = await new Promise((done) => child.on("close", done));
    expect(written.length).toBeGreaterThan(0);
    for (const name of written) expect(readFileSync(join(cwd, name), "utf8")).toContain("-- written meanwhile");
    expectSentences(err);
    expect([0, 2]).toContain(exit);
  });
});

describe.skipIf(process.platform === "win32")("check", () => {
  test.each(["SIGINT", "SIGTERM"] as const)("%s ends it, without half a report", async (signal) => {
    const cwd = folder({ "hard.lore": endlessBook() });
    const ended = await stopped(cwd, ["check", "hard.lore", "--format", "json", "--no-cache", "--steps", "100000000"], signal, 1000);
    expect(ended).toMatchObject({ signal, out: "" });
    expectSentences(ended.err);
  });

  test("a cache that was being written to is no danger to the next run", async () => {
    const cwd = folder(
      Object.fromEntries(Array.from({ length: 20 }, (_, i) => [`book-${i}.lore`, twoRules.replace("Two rules", `Two rules ${i}`)])),
    );
    const words = ["check", ".", "--format", "json", "--cache-dir", join(cwd, "cache")];
    const whole = run(cwd, [...words, "--no-cache"]);
    for (const when of [250, 400, 600]) await stopped(cwd, words, "SIGKILL", when);
    expect(run(cwd, words)).toEqual(whole);
    // Half an entry, as a full disk or a pulled plug leaves it.
    const entries = readdirSync(join(cwd, "cache"), { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
    expect(entries.length).toBeGreaterThan(0);
    for (const [i, { parentPath, name }] of entries.entries()) {
      const path = join(parentPath, name);
      const bytes = readFileSync(path);
      chmodSync(path, 0o644);
      writeFileSync(path, i % 2 ? bytes.subarray(0, bytes.length / 2) : Buffer.alloc(bytes.length));
    }
    expect(run(cwd, words)).toEqual(whole);
  });
});

describe.skipIf(process.platform === "win32")("a reader that goes away", () => {
  const many =
    twoRules.replace("go with", "go   with") + Array.from({ length: 300 }, (_, i) => `pick knot${i}: improved, palomar\n`).join("");

  test.each([
    [1, ["check", "x.lore"]],
    [1, ["check", "x.lore", "--format", "json"]],
    [1, ["check", "x.lore", "--format", "sarif"]],
    [1, ["check", "x.lore", "--format", "junit"]],
    [1, ["check", "x.lore", "--format", "github"]],
    [0, ["table", "x.lore", "--pick", "blade", "--format", "csv"]],
    [0, ["answer", "x.lore"]],
    [0, ["hint", "conflict"]],
    [0, ["--help"]],
    [1, ["format", "--check", "x.lore"]],
  ] as const)("is no fault: %i stays the exit code of %s", async (code, words) => {
    const cwd = folder({ "x.lore": many });
    // Before the first byte: the pipe is closed while Node starts.
    const child = spawn(process.execPath, [program, ...words], { cwd, stdio: ["ignore", "pipe", "pipe"] });
    child.stdout.destroy();
    let err = "";
    child.stderr.on("data", (part) => (err += String(part)));
    const exit = await new Promise((done) => child.on("close", done));
    expectSentences(err);
    expect(err).not.toContain("Cannot write");
    expect(exit).toBe(code);
  });

  test("nobody listens to what goes wrong either", async () => {
    const cwd = folder({ "x.lore": many });
    const child = spawn(process.execPath, [program, "check", "gone.lore", "x.lore"], { cwd, stdio: ["ignore", "pipe", "pipe"] });
    child.stderr.destroy();
    let out = "";
    child.stdout.on("data", (part) => (out += String(part)));
    expect(await new Promise((done) => child.on("close", done))).toBe(2);
    expect(out).toContain("1 book checked");
  });
});
