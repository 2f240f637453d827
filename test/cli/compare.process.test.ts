/** `waterlore compare`, run as a user runs it. That its regions are exactly right: `test/law/compare.test.ts`. */
import { Ajv2020 } from "ajv/dist/2020.js";
import { spawnSync } from "node:child_process";
import { mkdirSync, readFileSync, renameSync, writeFileSync } from "node:fs";
import { delimiter, join } from "node:path";
import { describe, expect, test } from "vitest";
import { folder, run, sound } from "./run.js";
import { root } from "../root.js";

const old = `book "Blades for Alder Pond"
  shop "Hollin Landing"
  edition "2026"
condition clarity "Water clarity": in order clear, stained, murky
  rising is dirtier, falling is clearer
condition cover "Cover": any of grass, docks
condition depth "Depth of the fish": 0 to 40 ft
  rising is deeper, falling is shallower
pick blade "Blade": round, leaf, long
pick weight "Head weight": in order 1/4 oz, 3/8 oz, 1/2 oz
pattern "Clear water wants a leaf"
  go with blade leaf
  when clarity is clear
  because "Flash is seen from afar."
pattern "Grass wants a long blade"
  go with blade long
  when cover has grass
  beats "Clear water wants a leaf"
pattern "Deep fish want weight"
  go with weight 1/2 oz
  when depth is 20 ft or deeper
fall back on blade round
fall back on weight 3/8 oz
caution "Cold water" when depth is 30 ft or deeper
  say "Wear a life jacket."
`;
const now = old
  .replace("2026", "2027")
  .replace("stained, murky", "stained, dirty")
  .replace("Flash is seen from afar.", "They hunt by eye.")
  .replace(`  beats "Clear water wants a leaf"\n`, "")
  .replace("20 ft or deeper", "15 ft or deeper")
  .replace("pick blade", "condition moon: new, full\npick blade")
  .replace("caution", `pattern "Docks in the shade"\n  lean to blade round\n  when cover has docks\ncaution`);
const words = old
  .replace("Flash is seen from afar.", "They hunt by eye.")
  .replace("Wear a life jacket.", "Wear your life jacket.")
  .replace("condition cover", "-- What is in the water.\ncondition cover");

function schemaErrors(json: string): unknown {
  const schema: object = JSON.parse(readFileSync(join(root, "src/schema/comparison.json"), "utf8"));
  const valid = new Ajv2020({ allErrors: true, strict: true, strictRequired: false }).compile(schema);
  return valid(JSON.parse(json)) ? [] : valid.errors;
}

describe("two books", () => {
  test.each(["text", "markdown", "json"])("as %s, the same bytes every time", async (format) => {
    const cwd = folder({ "old.lore": old, "new.lore": now });
    const first = run(cwd, ["compare", "old.lore", "new.lore", "--format", format]);
    expect(first).toMatchObject({ exit: 1, err: "" });
    await expect(first.out).toMatchFileSnapshot(`golden/compare.${format}.txt`);
    expect(run(cwd, ["compare", "./old.lore", "new.lore", "--format", format]).out).toBe(first.out);
    if (format === "json") expect(schemaErrors(first.out)).toEqual([]);
  });

  test("what was edited stands before what it changes", () => {
    const comparing = (edited: string): readonly string[] => {
      const { exit, out } = run(folder({ "old.lore": old, "new.lore": edited }), ["compare", "old.lore", "new.lore"]);
      expect(exit).toBe(1);
      expect(out.split("\n")[3]).toBe("What was edited");
      return out.split("\n\n").map((part) => part.replace(/\s+/g, " "));
    };
    const one = comparing(old.replace("20 ft or deeper", "15 ft -- or so\n  or deeper"));
    expect(one[1]).toBe(
      "What was edited - The “when” of “Deep fish want weight” Was: depth is 20 ft or deeper Now: depth is 15 ft or deeper",
    );
    // What stands alone is not said again at each change.
    expect(one.slice(2).join()).not.toContain("says something else");

    const several = comparing(
      `${old
        .replace("  go with blade leaf\n", "  go with blade leaf\n  lean to weight 1/4 oz by 2\n")
        .replace(`  beats "Clear water wants a leaf"\n`, "")
        .replace("fall back on blade round", "fall back on blade leaf or long")
        .replace(/pattern "Deep fish[^]*?deeper\n/, "")}pattern "Docks in the shade" lean to blade round when cover has docks\n`,
    );
    expect(several[1]).toBe(
      [
        "What was edited",
        "- The advice of “Clear water wants a leaf” Was: nothing Now: lean to weight 1/4 oz by 2",
        `- What “Grass wants a long blade” beats Was: "Clear water wants a leaf" Now: nothing`,
        "- “Docks in the shade” is new: lean to blade round when cover has docks",
        "- “Deep fish want weight” is gone: go with weight 1/2 oz when depth is 20 ft or deeper",
        "- The fall back of blade Was: round Now: leaf or long",
      ].join(" "),
    );
  });

  test("that differ in words alone", async () => {
    const cwd = folder({ "old.lore": old, "new.lore": words });
    const { exit, out } = run(cwd, ["compare", "old.lore", "new.lore"]);
    expect(exit).toBe(0);
    await expect(out).toMatchFileSnapshot("golden/compare.words.txt");
    expect(schemaErrors(run(cwd, ["compare", "old.lore", "new.lore", "--format", "json"]).out)).toEqual([]);
  });

  test("that say the same in another order and layout", () => {
    const [head, ...statements] = old.split(/\n(?=pattern|fall|caution)/);
    const cwd = folder({
      "old.lore": old,
      "new.lore": [head, ...statements.reverse().map((one) => one.replace(/\n\s+/g, " "))].join("\n\n"),
    });
    expect(run(cwd, ["compare", "old.lore", "new.lore"])).toEqual({
      exit: 0,
      out: "old.lore (2026) → new.lore (2026)\nNo recommendation changes.\n",
      err: "",
    });
  });

  test("what the budget leaves open is said, and is no “nothing changes”", () => {
    const cwd = folder({ "old.lore": old, "new.lore": old });
    const { exit, out } = run(cwd, ["compare", "old.lore", "new.lore", "--steps", "1", "--format", "json"]);
    expect(exit).toBe(1);
    expect(schemaErrors(out)).toEqual([]);
    expect(JSON.parse(out).books[0].undecided).not.toEqual([]);
  });

  test.each([
    ["no such book", ["old.lore", "mine.lore"], /Cannot read mine\.lore: there is no such file\./],
    ["a book with an error", ["old.lore", "broken.lore"], /broken\.lore cannot be compared: one sentence.*waterlore check broken\.lore/],
    ["a book and a folder", ["old.lore", "shelf"], /old\.lore is a book and shelf is a folder/],
    ["an empty folder", ["shelf", "empty"], /there is no \.lore file in that folder/],
    ["no repository", ["HEAD:old.lore", "old.lore"], /not in a git repository/],
  ])("%s: exit 2", (_, paths, message) => {
    const cwd = folder({
      "old.lore": old,
      "broken.lore": old.replace("when clarity is clear", "when clarity is purple"),
      "shelf/a.lore": sound,
      "empty/readme.txt": "",
    });
    const { exit, out, err } = run(cwd, ["compare", ...paths], { env: { GIT_CEILING_DIRECTORIES: join(cwd, "..") } });
    expect({ exit, out }).toEqual({ exit: 2, out: "" });
    expect(err).toMatch(message);
  });
});

test("two folders: books by their path", () => {
  const cwd = folder({
    "a/one.lore": old,
    "a/sub/two.lore": sound,
    "a/gone.lore": sound,
    "b/one.lore": now,
    "b/sub/two.lore": sound,
    "b/born.lore": sound,
  });
  const { exit, out } = run(cwd, ["compare", "a", "b", "--format", "json"]);
  expect(exit).toBe(1);
  expect(schemaErrors(out)).toEqual([]);
  expect(
    JSON.parse(out).books.map(
      ({ path, different, old: was, new: is }: { path: string; different: boolean; old?: object; new?: object }) => [
        path,
        different,
        was !== undefined,
        is !== undefined,
      ],
    ),
  ).toEqual([
    ["born.lore", true, false, true],
    ["gone.lore", true, true, false],
    ["one.lore", true, true, true],
    ["sub/two.lore", false, true, true],
  ]);
  expect(run(cwd, ["compare", "a", "b"]).out).toMatch(
    /^born\.lore\nborn\.lore is new\.\n\ngone\.lore\ngone\.lore is gone\.[^]*\n\n4 books compared: 3 are not the same\.\n$/,
  );
});

describe("a revision of git", () => {
  const git = (cwd: string, ...given: string[]): void => {
    const env = { ...process.env, GIT_CONFIG_GLOBAL: "/dev/null", GIT_CONFIG_NOSYSTEM: "1" };
    const { status, stderr } = spawnSync(
      "git",
      ["-c", "user.name=Somebody", "-c", "user.email=somebody@example.org", "-c", "commit.gpgsign=false", ...given],
      { cwd, env, encoding: "utf8" },
    );
    if (status !== 0) throw new Error(stderr);
  };
  const base = `book "Waters"\ncondition clarity: clear, muddy\n`;
  const local = (blade: string): string =>
    `book "Local"\nbuilds on "../common/waters.lore"\npick blade: round, leaf\npattern "Mud" go with blade ${blade} when clarity is muddy\nfall back on blade round\n`;
  const repository = (): string => {
    const cwd = folder({ "rules/pond ü.lore": local("round"), "common/waters.lore": base });
    git(cwd, "init", "-q");
    git(cwd, "add", ".");
    git(cwd, "commit", "-qm", "first");
    git(cwd, "tag", "v1");
    // What a book builds on comes from the revision too.
    writeFileSync(join(cwd, "rules/pond ü.lore"), local("leaf"));
    renameSync(join(cwd, "common/waters.lore"), join(cwd, "common/lakes.lore"));
    writeFileSync(join(cwd, "rules/pond ü.lore"), local("leaf").replace("waters", "lakes"));
    return cwd;
  };

  test("on one side", () => {
    const cwd = repository();
    const { exit, out, err } = run(cwd, ["compare", "v1:rules/pond ü.lore", "rules/pond ü.lore"]);
    expect({ exit, err }).toEqual({ exit: 1, err: "" });
    expect(out).toContain("v1:rules/pond ü.lore → rules/pond ü.lore");
    expect(out).toContain("Before: round. Now: leaf. In 50 % of all conditions (1/2).");
    expect(run(cwd, ["compare", "v1:rules/pond ü.lore", "HEAD:rules/pond ü.lore"])).toMatchObject({ exit: 0 });
    git(cwd, "commit", "-qam", "second");
    expect(run(cwd, ["compare", "HEAD~1:rules", "HEAD:rules"])).toMatchObject({ exit: 2 });
  });

  test("of a folder, and from a folder below", () => {
    const cwd = repository();
    const whole = JSON.parse(run(cwd, ["compare", "HEAD:.", ".", "--format", "json"]).out) as {
      readonly books: readonly { readonly path: string; readonly different: boolean }[];
    };
    expect(whole.books.map(({ path, different }) => [path, different])).toEqual([
      ["common/lakes.lore", true],
      ["common/waters.lore", true],
      ["rules/pond ü.lore", true],
    ]);
    mkdirSync(join(cwd, "rules/deep"));
    expect(run(join(cwd, "rules/deep"), ["compare", "HEAD:../pond ü.lore", "../pond ü.lore"])).toMatchObject({ exit: 1, err: "" });
    expect(run(join(cwd, "rules"), ["compare", "HEAD:pond ü.lore", "pond ü.lore"])).toMatchObject({ exit: 1, err: "" });
  });

  test.each([
    ["v9:rules", /Git knows no revision “v9”/],
    ["--all:rules", /unknown option|no revision/i],
    ["v1:rules/lake.lore", /There is no rules\/lake\.lore in revision v1\./],
  ])("%s: exit 2", (word, message) => {
    const { exit, out, err } = run(repository(), ["compare", word, "rules"]);
    expect({ exit, out }).toEqual({ exit: 2, out: "" });
    expect(err).toMatch(message);
  });

  test("without git", () => {
    const path = (process.env["PATH"] ?? "")
      .split(delimiter)
      .filter((part) => part === "")
      .join(delimiter);
    const { exit, err } = run(repository(), ["compare", "v1:rules", "rules"], { env: { PATH: path } });
    expect(exit).toBe(2);
    expect(err).toMatch(/Git is not installed here/);
  });
});
