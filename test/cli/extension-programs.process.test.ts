/** The programs that the VS Code extension brings along and runs beside the editor. */
import { execFileSync, spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { root } from "../root.js";

const base = `book "Base"\ncondition sky: in order bright, dark\npick bait: worm, jig\nfall back on bait jig\n`;
const own = `book "Pier"\nbuilds on "base.lore"\npattern "Sun wants worm"\n  go with bait worm\n  when sky is bright\n`;

let folder: string;
beforeEach(() => {
  folder = realpathSync(mkdtempSync(join(tmpdir(), "waterlore extension ")));
  mkdirSync(join(folder, "rules"));
  put("rules/base.lore", base);
  put("rules/pier.lore", own);
});
afterEach(() => rmSync(folder, { recursive: true }));

const put = (name: string, text: string): void => writeFileSync(join(folder, name), text);
const git = (...words: string[]): unknown =>
  execFileSync("git", ["-c", "user.name=Test", "-c", "user.email=test@example.org", ...words], { cwd: folder });
const commit = (): void => {
  git("init", "-q");
  git("add", ".");
  git("commit", "-q", "-m", "Before");
};
const run = (program: string, words: readonly string[], input = "", env: NodeJS.ProcessEnv = process.env) => {
  const tsx = join(root, "node_modules/tsx/dist/cli.mjs");
  return spawnSync(process.execPath, [tsx, join(root, "src/faces/cli", program), ...words], { cwd: folder, input, env, encoding: "utf8" });
};
const compared = (open: Readonly<Record<string, string>>, env?: NodeJS.ProcessEnv) =>
  run("compare-main.ts", [], JSON.stringify({ path: "rules/pier.lore", open, on: "2027-04-15" }), env);

describe("a book against the last commit", () => {
  test("nothing is told where nothing changes", () => {
    commit();
    const { stdout, status } = compared({});
    expect(stdout).toContain("**No recommendation changes.**");
    expect(status).toBe(0);
  });

  test("what is open counts as it stands there, the book and what it builds on", () => {
    commit();
    expect(compared({ "rules/pier.lore": own.replace("bait worm", "bait jig") }).stdout).toContain("**The advice of “Sun wants worm”**");
    expect(compared({ "rules/base.lore": base.replace("on bait jig", "on bait worm") }).stdout).toContain("**The fall back of bait**");
  });

  test.each([
    ["no repository", () => undefined, {}, /not in a git repository/],
    ["no commit yet", () => git("init", "-q"), {}, /knows no revision “HEAD”/],
    [
      "a new book",
      () => {
        rmSync(join(folder, "rules/pier.lore"));
        commit();
        put("rules/pier.lore", own);
      },
      {},
      /There is no rules\/pier\.lore in revision HEAD/,
    ],
    ["a book that cannot be understood", commit, { "rules/pier.lore": own.replace("bright", "brigt") }, /cannot be compared/],
  ])("%s: a clear line", (_, prepare, open, line) => {
    prepare();
    const { stdout, stderr, status } = compared(open);
    expect(stderr).toMatch(line);
    expect(stderr.trim().split("\n")).toHaveLength(1);
    expect([stdout, status]).toEqual(["", 2]);
  });

  test("no git: a clear line", () => {
    commit();
    const { stderr, status } = compared({}, { ...process.env, PATH: "" });
    expect(stderr).toMatch(/^Git is not installed here/);
    expect(status).toBe(2);
  });
});

describe("the check of a folder", () => {
  test("goes through all of it, or what waterlore.json names", () => {
    put("rules/broken.lore", own.replace("bright", "brigt"));
    const all = run("check-main.ts", []);
    expect(all.stdout).toMatch(/^error: .* \[name\]\n {2}rules\/broken\.lore:5:15$/m);
    expect(all.status).toBe(1);
    put("waterlore.json", `{ "books": ["rules/pier.lore"] }`);
    const named = run("check-main.ts", []);
    expect(named.stdout).toContain("book checked");
    expect(named.status).toBe(0);
    put("waterlore.json", "{");
    expect(run("check-main.ts", [])).toMatchObject({ stdout: "", status: 2 });
  });
});
