/** Results that are kept: the same report, and never an old one. */
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, utimesSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { openCache } from "../../src/faces/node/cache.js";
import type { CheckedBook } from "../../src/faces/check/check-book.js";
import { folder, run, sound, twoRules } from "../cli/run.js";

const base = 'book "Base"\ncondition sky: bright, dark\n';
const local =
  'book "Local"\nbuilds on "base.lore"\npick blade: round, leaf\npattern "Dark"\n  go with blade round\n  when sky is dark\nfall back on blade leaf\n';
const kept = (cwd: string, where = "kept"): string[] => (existsSync(join(cwd, where)) ? readdirSync(join(cwd, where)) : []);

describe("check --cache-dir", () => {
  test("gives the same bytes with a cache, from it and without, in every form", () => {
    const cwd = folder({
      "two.lore": twoRules,
      "a.lore": local,
      "base.lore": base,
      "broken.lore": twoRules.replace("dark\nfall", "drak\nfall"),
    });
    for (const form of ["text", "json", "sarif", "junit", "github"]) {
      const words = ["check", ".", "--format", form, "--coverage"];
      const without = run(cwd, [...words, "--no-cache"]);
      expect(run(cwd, [...words, "--cache-dir", "kept"])).toEqual(without);
      expect(run(cwd, [...words, "--cache-dir", "kept"])).toEqual(without);
    }
    expect(kept(cwd)).toHaveLength(4);
    expect(kept(cwd).every((name) => /^[0-9a-f]{32}\.json$/.test(name))).toBe(true);
  });

  test("what is kept is used, and only while program, texts, day and steps are the same", () => {
    const cwd = folder({ "a.lore": local, "base.lore": base });
    const cache = openCache(join(cwd, "kept"));
    const source = { path: "a.lore", text: local };
    const texts: Record<string, string> = { "base.lore": base };
    const read = (path: string) => (path in texts ? { text: texts[path]! } : { problem: "there is no such file" });
    const how = { on: "2027-04-15" };
    const book: CheckedBook = {
      path: "a.lore",
      title: "Kept",
      findings: [],
      coverage: [],
      undecided: [],
      read: ["base.lore", "a.lore"],
      order: [],
      whole: true,
    };
    const record = cache.record(source, read, how);
    record.read("base.lore");
    record.read("gone.lore");
    record.keep(book);
    expect(cache.find(source, read, how)).toEqual(book);
    expect(cache.find({ ...source, text: `${local} ` }, read, how)).toBeUndefined();
    expect(cache.find(source, read, { on: "2027-04-16" })).toBeUndefined();
    expect(cache.find(source, read, { ...how, steps: 10 })).toBeUndefined();
    texts["base.lore"] = `${base}-- More.\n`;
    expect(cache.find(source, read, how)).toBeUndefined();
    texts["base.lore"] = base;
    expect(cache.find(source, read, how)).toEqual(book);
    texts["gone.lore"] = "here it is";
    expect(cache.find(source, read, how)).toBeUndefined();
  });

  test("a book that changes without its time changing is checked anew, and so is one that builds on it", () => {
    const cwd = folder({ "a.lore": local, "base.lore": base });
    const { atime, mtime } = statSync(join(cwd, "base.lore"));
    const words = ["check", "a.lore", "--cache-dir", "kept"];
    expect(run(cwd, words).exit).toBe(0);
    writeFileSync(join(cwd, "base.lore"), base.replace("dark", "drak"));
    utimesSync(join(cwd, "base.lore"), atime, mtime);
    expect(run(cwd, words).out).toContain("[name]");
  });

  test.each([
    ["cut short", (text: string) => text.slice(0, text.length / 2)],
    ["empty", () => ""],
    ["something else", () => "\u0000\u0001 no JSON"],
    ["changed by hand", (text: string) => text.replace('"findings":[{', '"findings":[{"code":"gap"},{')],
    ["of another shape with a checksum of its own", () => `${"0".repeat(64)}\n{"key":1}`],
  ])("a file that is %s is not used, and is mended", (_, spoiled) => {
    const cwd = folder({ "two.lore": twoRules });
    const words = ["check", "two.lore", "--format", "json", "--cache-dir", "kept"];
    const first = run(cwd, words);
    const file = join(cwd, "kept", kept(cwd)[0]!);
    const before = readFileSync(file, "utf8");
    expect(spoiled(before)).not.toBe(before);
    writeFileSync(file, spoiled(before));
    expect(run(cwd, words)).toEqual(first);
    expect(readFileSync(file, "utf8")).toBe(before);
  });

  test("a folder that cannot be written costs nothing but time", () => {
    const cwd = folder({ "two.lore": twoRules, taken: "a file" });
    expect(run(cwd, ["check", "two.lore", "--cache-dir", "taken"])).toMatchObject({ exit: 1, err: "" });
    expect(readFileSync(join(cwd, "taken"), "utf8")).toBe("a file");
  });
});

describe("without --cache-dir", () => {
  test("results are kept beside the packages of the project, from any folder in it; where there are none, nothing is", () => {
    const cwd = folder({ "rules/sound.lore": sound });
    run(cwd, ["check", "rules"]);
    expect(readdirSync(cwd)).toEqual(["rules"]);
    mkdirSync(join(cwd, "node_modules"));
    run(join(cwd, "rules"), ["check", "."]);
    expect(kept(cwd, "node_modules/.cache/waterlore")).toHaveLength(1);
  });

  test("--no-cache keeps nothing", () => {
    const cwd = folder({ "sound.lore": sound, "node_modules/readme.txt": "" });
    run(cwd, ["check", "sound.lore", "--no-cache"]);
    expect(readdirSync(join(cwd, "node_modules"))).toEqual(["readme.txt"]);
  });
});
