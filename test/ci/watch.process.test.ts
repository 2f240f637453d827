/** `check --watch`, as a process that runs on: every wait is for what it writes, and ends the test with what it wrote if it does not come. */
import { spawn, type ChildProcess } from "node:child_process";
import { mkdirSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, onTestFinished, test } from "vitest";
import { folder, program, run, sound, twoRules } from "../cli/run.js";

const LONGEST = 30_000;

interface Watching {
  readonly child: ChildProcess;
  /** Waits until something is written after all that was waited for before. */
  until(words: RegExp): Promise<string>;
  /** Everything on standard output so far. */
  out(): string;
  /** Waits for the end: the exit code, or the signal. */
  ended(): Promise<number | string | null>;
}

function watching(cwd: string, ...words: string[]): Watching {
  const child = spawn(process.execPath, [program, "check", "--watch", ...words], { cwd, stdio: ["ignore", "pipe", "pipe"] });
  onTestFinished(() => void child.kill("SIGKILL"));
  let out = "";
  let all = "";
  let seen = 0;
  const ended = new Promise<number | string | null>((done) => child.on("close", (code, signal) => done(code ?? signal)));
  const heard: (() => void)[] = [];
  const hear = (text: string): void => {
    all += text;
    for (const listen of heard.splice(0)) listen();
  };
  child.stdout.setEncoding("utf8").on("data", (text: string) => {
    out += text;
    hear(text);
  });
  child.stderr.setEncoding("utf8").on("data", hear);
  const until = async (wanted: RegExp): Promise<string> => {
    const late = Date.now() + LONGEST;
    for (;;) {
      const match = wanted.exec(all.slice(seen));
      if (match) {
        seen += match.index + match[0].length;
        return match[0];
      }
      if (Date.now() > late) throw new Error(`${wanted} did not come; after what was waited for: ${JSON.stringify(all.slice(seen))}`);
      await Promise.race([new Promise<void>((next) => heard.push(next)), new Promise((next) => setTimeout(next, 200))]);
    }
  };
  return { child, until, ended: () => ended, out: () => out };
}

describe("check --watch", () => {
  test("checks at once, and again when a book, a new one or one that it builds on changes; Ctrl-C ends it with 0", async () => {
    const cwd = folder({
      "rules/two.lore": twoRules,
      "base.lore": 'book "Base"\ncondition moon: new, full\n',
      "rules/local.lore":
        'book "Local"\nbuilds on "../base.lore"\npick knot: improved, palomar\npattern "Full"\n  go with knot palomar\n  when moon is full\nfall back on knot improved\n',
    });
    const watch = watching(cwd, "rules");
    await watch.until(/2 books checked: 1 error,/);
    await watch.until(/Watching 3 books\. Ctrl-C ends it\.\n/);

    writeFileSync(join(cwd, "rules/two.lore"), sound);
    await watch.until(/rules\/two\.lore changed\.\n[\s\S]*2 books checked: no errors,/);
    await watch.until(/Watching/);

    // As many editors write: a new file is moved into the place of the old one.
    writeFileSync(join(cwd, "base.lore~"), 'book "Base"\ncondition moon: new, half\n');
    renameSync(join(cwd, "base.lore~"), join(cwd, "base.lore"));
    await watch.until(/base\.lore changed\.\n[\s\S]*\[name\][\s\S]*2 books checked: 1 error,/);
    await watch.until(/Watching/);

    mkdirSync(join(cwd, "rules/new"));
    writeFileSync(join(cwd, "rules/new/third.lore"), sound);
    await watch.until(/third\.lore changed\.\n[\s\S]*3 books checked: 1 error,/);
    await watch.until(/Watching/);

    rmSync(join(cwd, "rules/local.lore"));
    await watch.until(/local\.lore changed\.\n[\s\S]*2 books checked: no errors,/);
    await watch.until(/Watching/);

    watch.child.kill("SIGINT");
    expect(await watch.ended()).toBe(0);
    // Nothing but reports, as they are without --watch, and nothing that clears a screen.
    const report = run(cwd, ["check", "rules"]).out;
    expect(watch.out().endsWith(report)).toBe(true);
    expect(watch.out()).not.toContain("\u001b");
  });

  test("other files are no reason to check again; settings and known findings are", async () => {
    const cwd = folder({ "two.lore": twoRules, "waterlore.json": '{ "books": ["."] }', "node_modules/x.lore": "" });
    const watch = watching(cwd);
    await watch.until(/1 book checked: 1 error,/);
    await watch.until(/Watching/);
    writeFileSync(join(cwd, "notes.txt"), "no book");
    writeFileSync(join(cwd, "node_modules/x.lore"), "no book");
    writeFileSync(join(cwd, "waterlore.json"), '{ "books": ["."], "severities": { "conflict": "note" } }');
    expect(await watch.until(/[^\n]+ changed\.\n/)).toBe("waterlore.json changed.\n");
    await watch.until(/1 book checked: no errors, no warnings and 1 note\./);
  });

  test("a change ends a check that is still running, and so does Ctrl-C", async () => {
    // Enough to keep it busy for some time: every pattern disagrees with others in a way of its own.
    const conditions = Array.from({ length: 14 }, (_, at) => `condition c${at}: 0 to 100 ft\n`).join("");
    const patterns = Array.from(
      { length: 120 },
      (_, at) =>
        `pattern "P${at}"\n  go with blade ${["round", "leaf", "teardrop"][at % 3]}\n  when c${at % 14} from ${at % 50} ft to ${50 + (at % 37)} ft and c${(at * 5 + 3) % 14} from ${at % 41} ft to ${60 + (at % 23)} ft\n`,
    ).join("");
    const slow = `book "Slow"\n${conditions}pick blade: round, leaf, teardrop\n${patterns}`.replace(
      /c(\d+)/g,
      (_, digits: string) => `c-${"abcdefghijklmn"[Number(digits)]}`,
    );
    const cwd = folder({ "slow.lore": slow });
    const watch = watching(cwd, "slow.lore", "--steps", "100000000");
    await new Promise((later) => setTimeout(later, 1500));
    expect(watch.out()).toBe("");
    writeFileSync(join(cwd, "slow.lore"), sound);
    await watch.until(/slow\.lore changed\.\n[\s\S]*1 book checked: no errors,/);
    await watch.until(/Watching/);
    writeFileSync(join(cwd, "slow.lore"), slow);
    await watch.until(/slow\.lore changed\.\n/);
    await new Promise((later) => setTimeout(later, 500));
    const told = watch.out();
    watch.child.kill("SIGINT");
    expect(await watch.ended()).toBe(0);
    expect(watch.out()).toBe(told);
  });

  test("a book that is not there yet is waited for", async () => {
    const cwd = folder();
    const watch = watching(cwd, "later.lore");
    await watch.until(/Cannot read later\.lore: there is no such file\.\n/);
    await watch.until(/Watching/);
    writeFileSync(join(cwd, "later.lore"), sound);
    expect(await watch.until(/later\.lore changed\.\n[\s\S]*1 book checked: no errors,/)).toContain("later.lore");
  });

  test.each([
    [["-"], /cannot watch a book from standard input/],
    [["two.lore", "--fix"], /--watch and --fix do not go together/],
    [["two.lore", "--baseline", "k.json", "--write-baseline"], /--watch and --write-baseline do not go together/],
    [["two.lore", "--on", "soon"], /is not a day/],
  ])("refused at once: %j", (words, message) => {
    const { exit, out, err } = run(folder({ "two.lore": twoRules }), ["check", "--watch", ...words]);
    expect({ exit, out }).toEqual({ exit: 2, out: "" });
    expect(err).toMatch(message);
  });
});
