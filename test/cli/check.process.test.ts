/** `waterlore check`, `hint` and `new`, run as a user runs them. */
import { spawnSync } from "node:child_process";
import { chmodSync, existsSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { severities } from "../../src/diagnostics.js";
import { folder, program, run, sound, twoRules } from "./run.js";
import { root } from "../root.js";

describe("check", () => {
  test("a finding as a person reads it: what, where, the line, the next step, the fixes, the sum", () => {
    const cwd = folder({ "two.lore": twoRules });
    const { exit, out, err } = run(cwd, ["check", "two.lore"]);
    expect(exit).toBe(1);
    expect(err).toBe("");
    expect(out).toContain("error: Two patterns disagree [conflict]\n  two.lore:");
    expect(out).toMatch(/^ {2}8 \| pattern "A dark sky wants a round blade"\n {4}\| {9}\^{32}$/m);
    expect(out).toMatch(/^ {2}See also: two\.lore:5:9 “Clear water wants a leaf” stands here$/m);
    expect(out).toMatch(/^ {2}Fix: Let “Clear water wants a leaf” beat “A dark sky wants a round blade”$/m);
    expect(out).toContain("1 book checked: 1 error, no warnings and no notes.\nWhat a word in brackets means: waterlore hint conflict\n");
    // Of four combinations one is in conflict; one of the other three is left to the fall back.
    expect(out).toMatch(/decided +fallback +conflict\n +blade +50 % +25 % +25 %\n/);
    for (const line of out.split("\n")) expect(line.length).toBeLessThanOrEqual(80);
  });

  test("nothing found is said plainly, with exit code 0", () => {
    const { exit, out } = run(folder({ "sound.lore": sound }), ["check", "sound.lore"]);
    expect(out).toContain("1 book checked: no errors, no warnings and no notes.\n");
    expect(out).not.toContain("brackets");
    expect(exit).toBe(0);
  });

  test("with many errors it says what to settle first, and stands in that order; JSON keeps the places", () => {
    const picks = ["weight", "lure", "mood"].map((pick) => `pick ${pick}: a, b, c\n`).join("");
    const sayOf = (pick: string, when: string): string =>
      ["a", "b", "c"].map((option) => `pattern "${pick} ${option}"\n  go with ${pick} ${option}\n  when ${when}\n`).join("");
    const book = `condition sky: in order bright, dark\n${picks}${sayOf("weight", "lure is a and sky is dark")}${sayOf("lure", "mood is a and sky is dark")}${sayOf("mood", "sky is dark")}`;
    const cwd = folder({ "many.lore": book });
    const { out } = run(cwd, ["check", "many.lore"]);
    const json = JSON.parse(run(cwd, ["check", "many.lore", "--format", "json"]).out) as {
      findings: readonly { pick?: string; severity: string }[];
    };
    const errors = json.findings.filter(({ severity }) => severity === "error").map(({ pick }) => pick);
    const shown = [...out.matchAll(/^error: No (\w+) is recommended/gm)].map(([, pick]) => pick);
    expect(out.split("\n")[0]).toBe("Settle mood first: lure and weight wait for it.");
    expect(shown).toEqual(["mood", "lure", "weight"]);
    expect(errors[0]).toBe("weight");
    expect(errors.length).toBeGreaterThan(5);
  });

  test("--severity sets what counts, and what counts as an error does not change with it", () => {
    const frog = sound.replace("round, leaf", "round, leaf, frog");
    const cwd = folder({ "frog.lore": frog });
    expect(run(cwd, ["check", "frog.lore"]).exit).toBe(0);
    expect(run(cwd, ["check", "frog.lore", "--severity", "warning"]).exit).toBe(1);
    expect(run(cwd, ["check", "frog.lore", "--severity", "note"]).exit).toBe(1);
  });

  test("folders, patterns and names give each book once, in order, and the same bytes every time", () => {
    const cwd = folder({
      "b/two.lore": twoRules,
      "a/sound.lore": sound,
      "a/deep/er/sound.lore": sound,
      "a/notes.txt": "no book",
      "a/node_modules/x.lore": "no book",
    });
    const first = run(cwd, ["check", "b", "a", "./a/sound.lore", "a/**/*.lore", "--format", "json"]);
    const again = run(cwd, ["check", "a/**/*.lore", join(cwd, "a"), "b/two.lore", "--format", "json"]);
    expect(JSON.parse(first.out).books).toEqual([
      { path: "a/deep/er/sound.lore", title: "Sound" },
      { path: "a/sound.lore", title: "Sound" },
      { path: "b/two.lore", title: "Two rules" },
    ]);
    expect(again.out).toBe(first.out);
  });

  test("what is found in a base book shared by several is reported once, and a base book is checked on its own too", () => {
    const local = (title: string): string => `book "${title}"\nbuilds on "base.lore"\npick knot: improved\nfall back on knot improved\n`;
    const cwd = folder({ "base.lore": twoRules, "north.lore": local("North"), "south.lore": local("South") });
    const { findings, books, coverage } = JSON.parse(run(cwd, ["check", ".", "--format", "json"]).out);
    expect(books.map(({ path }: { path: string }) => path)).toEqual(["base.lore", "north.lore", "south.lore"]);
    expect(findings.map(({ code, path }: { code: string; path: string }) => [code, path])).toEqual([["conflict", "base.lore"]]);
    expect(coverage.map(({ book, pick }: { book: string; pick: string }) => `${book} ${pick}`).sort()).toEqual([
      "base.lore blade",
      "north.lore blade",
      "north.lore knot",
      "south.lore blade",
      "south.lore knot",
    ]);
  });

  test("a book of conditions alone is fine", () => {
    expect(run(folder({ "c.lore": 'book "Conditions"\ncondition sky: bright, dark\n' }), ["check", "c.lore"]).exit).toBe(0);
  });

  test("standard input, and where it would stand", () => {
    const cwd = folder({ "common/base.lore": 'book "Base"\ncondition sky: bright, dark\n' });
    const book =
      'book "Local"\nbuilds on "base.lore"\npick blade: round, leaf\npattern "Dark"\n  go with blade round\n  when sky is dark\nfall back on blade leaf\n';
    expect(run(cwd, ["check", "-", "--stdin-path", "common/mine.lore"], { stdin: book })).toMatchObject({ exit: 0, err: "" });
    const lost = run(cwd, ["check", "-", "--format", "json"], { stdin: book });
    expect(lost.exit).toBe(1);
    expect(JSON.parse(lost.out).findings[0]).toMatchObject({ code: "file", path: "stdin.lore" });
  });

  test("lines and columns count from 1, columns in UTF-16 units, marks in cells", () => {
    const cwd = folder({
      "wide.lore":
        'book "Wide"\n-- 𝄞\ncondition 水 "水": 清, 濁\n\tpick blade: round, leaf pattern "𝄞 水" go with blade laef when 水 is 清\nfall back on blade round\n',
    });
    const { findings } = JSON.parse(run(cwd, ["check", "wide.lore", "--format", "json"]).out);
    const [finding] = findings.filter(({ code }: { code: string }) => code === "name");
    const line = '\tpick blade: round, leaf pattern "𝄞 水" go with blade laef when 水 is 清';
    expect(finding.range).toEqual({
      start: { line: 4, column: line.indexOf("laef") + 1 },
      end: { line: 4, column: line.indexOf("laef") + 5 },
    });
    const [, shown, marks] = /^ {2}4 \| (.*)\n {4}\| (.*)$/m.exec(run(cwd, ["check", "wide.lore"]).out)!;
    // The tab is four cells, 水 is two in one UTF-16 unit, 𝄞 is one in two.
    expect(shown).toContain('    pick blade: round, leaf pattern "𝄞 水" go with blade laef');
    expect(marks).toBe(`${" ".repeat(4 + 'pick blade: round, leaf pattern "'.length + 1 + 1 + 2 + '" go with blade '.length)}^^^^`);
  });

  test("colors only where they are wanted", () => {
    const cwd = folder({ "two.lore": twoRules });
    expect(run(cwd, ["check", "two.lore"]).out).not.toContain("\u001b");
    expect(run(cwd, ["check", "two.lore"], { env: { FORCE_COLOR: "1" } }).out).toContain("\u001b[31m");
    expect(run(cwd, ["check", "two.lore"], { env: { FORCE_COLOR: "1", NO_COLOR: "1" } }).out).not.toContain("\u001b");
  });

  test("a title cannot drive the terminal", () => {
    const { out } = run(folder({ "t.lore": twoRules.replaceAll("Clear water", "\u001b[2JClear\u202e water") }), ["check", "t.lore"]);
    expect(out).toContain("Clear");
    expect(out).not.toMatch(/[\u001b\u202e]/);
  });

  test("--on is the day that dates are held against", () => {
    const cwd = folder({
      "s.lore": sound.replace("when cover has docks\n", 'when cover has docks\n  see "an invented notice" checked 2027-02-01\n'),
    });
    expect(run(cwd, ["check", "s.lore", "--on", "2028-02-01", "--severity", "warning"]).exit).toBe(0);
    const late = run(cwd, ["check", "s.lore", "--on", "2028-02-02", "--severity", "warning"]);
    expect(late.exit).toBe(1);
    expect(late.out).toContain("[stale]");
  });

  test("a budget that runs out is said, and counts as a warning", () => {
    const cwd = folder({ "two.lore": twoRules.replace("fall back", "-- fall back") });
    const { out } = run(cwd, ["check", "two.lore", "--steps", "1"]);
    expect(out).toMatch(/^warning: .+ \[budget\]$/m);
    expect(out).toMatch(/\d+ things? (was|were) not decided\.\n/);
    expect(run(cwd, ["check", "two.lore", "--steps", "1", "--severity", "warning"]).exit).toBe(1);
    expect(JSON.parse(run(cwd, ["check", "two.lore", "--steps", "1", "--format", "json"]).out).undecided[0]).toMatchObject({
      book: "two.lore",
    });
  });
});

describe("check --fix", () => {
  test("mends misspelt words where there is one way to, says so, and leaves what disagrees alone", () => {
    const cwd = folder({ "two.lore": twoRules.replace("when sky is dark", "whne sky is dark") });
    const { exit, out, err } = run(cwd, ["check", "two.lore", "--fix"]);
    expect(readFileSync(join(cwd, "two.lore"), "utf8")).toBe(twoRules);
    expect(err).toMatch(/^two\.lore:10: .*when/);
    expect(err).toContain("Made 1 change.");
    expect(exit).toBe(1);
    expect(out).toContain("[conflict]");
    expect(out).not.toContain("[syntax]");
  });

  test("leaves a misspelt value to its writer, and says what it would write", () => {
    const misspelt = twoRules.replace("when sky is dark", "when sky is drak");
    const cwd = folder({ "two.lore": misspelt });
    const { exit, out } = run(cwd, ["check", "two.lore", "--fix"]);
    expect(readFileSync(join(cwd, "two.lore"), "utf8")).toBe(misspelt);
    expect({ exit, out }).toEqual({ exit: 1, out: expect.stringContaining("Did you mean `dark`?") as string });
  });

  test("not from standard input", () => {
    expect(run(folder(), ["check", "-", "--fix"], { stdin: sound })).toMatchObject({ exit: 2, out: "" });
  });
});

describe("what cannot be read", () => {
  const oneSentence = /^[^\n]+\.\n$/;

  test.each([
    ["no such file", ["check", "nope.lore"], /nope\.lore: there is no such file/],
    ["a folder without books", ["check", "empty"], /empty: there is no \.lore file/],
    ["a pattern that matches nothing", ["check", "*.lorry"], /no file matches/],
    ["a file that is no text", ["check", "picture.lore"], /not a text file/],
    ["UTF-16", ["check", "utf16.lore"], /UTF-8/],
    ["Latin-1", ["check", "latin.lore"], /UTF-8/],
    ["a circle of links", ["check", "round.lore"], /round in a circle/],
    ["a day that is none", ["check", "empty", "--on", "2027-02-29"], /2027-02-29/],
    ["steps that are none", ["check", "empty", "--steps", "0"], /number of steps/],
  ])("%s", (_, words, message) => {
    const cwd = folder({
      "empty/readme.txt": "nothing",
      "picture.lore": Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0, 0, 1]),
      "utf16.lore": Buffer.from('\ufeffbook "x"', "utf16le"),
      "latin.lore": Buffer.from('book "Fr\u00fchling"', "latin1"),
    });
    symlinkSync("round.lore", join(cwd, "round.lore"));
    const { exit, out, err } = run(cwd, words);
    expect(exit).toBe(2);
    expect(out).toBe("");
    expect(err).toMatch(message);
    expect(err).toMatch(oneSentence);
  });

  test("the other books are still checked", () => {
    const { exit, out, err } = run(folder({ "two.lore": twoRules }), ["check", "two.lore", "nope.lore"]);
    expect(exit).toBe(2);
    expect(err).toContain("nope.lore");
    expect(out).toContain("[conflict]");
  });

  test("a book that is not there to build on is a finding, with its place", () => {
    const { exit, out } = run(folder({ "a.lore": `book "A"\nbuilds on "gone.lore"\n` }), ["check", "a.lore"]);
    expect(exit).toBe(1);
    expect(out).toContain("[file]\n  a.lore:2:11\n");
  });

  test("a folder that links to itself ends", () => {
    const cwd = folder({ "a/sound.lore": sound });
    symlinkSync("..", join(cwd, "a/up"));
    const { exit, out } = run(cwd, ["check", "a", "--format", "json"]);
    expect(exit).toBe(0);
    expect(JSON.parse(out).books.length).toBeGreaterThanOrEqual(1);
  });

  test.each([[["nonsense"]], [["check"]], [["check", "x.lore", "--format", "xml"]], [["check", "x.lore", "--bogus"]], [[]]])(
    "bad words: %j",
    (words) => {
      const { exit, out, err } = run(folder(), words);
      expect(exit).toBe(2);
      expect(out).toBe("");
      expect(err).not.toBe("");
      expect(err).not.toMatch(/\n +at /);
    },
  );

  test("half a book, noise and nothing at all are findings, never a crash", () => {
    const cwd = folder({ "half.lore": twoRules.slice(0, 200), "noise.lore": '}{ §§§ when when "', "nothing.lore": "" });
    const { exit, err } = run(cwd, ["check", "."]);
    expect(exit).toBe(1);
    expect(err).toBe("");
  });
});

describe("the program", () => {
  test("a reader that stops reading is no fault", () => {
    const cwd = folder({ "noise.lore": "when when when\n".repeat(4000) });
    const { stdout, stderr } = spawnSync("sh", ["-c", `"${process.execPath}" "${program}" check noise.lore --format json | head -1`], {
      cwd,
      encoding: "utf8",
    });
    expect(stdout).toBe("{\n");
    expect(stderr).toBe("");
  });

  test.skipIf(!existsSync("/dev/full"))("output that cannot be written is said", () => {
    const cwd = folder({ "two.lore": twoRules });
    const { status, stderr } = spawnSync("sh", ["-c", `"${process.execPath}" "${program}" check two.lore > /dev/full`], {
      cwd,
      encoding: "utf8",
    });
    expect(status).toBe(2);
    expect(stderr).toBe("Cannot write standard output: the disk is full.\n");
  });

  test("--version is the package's, --help names every command", () => {
    const cwd = folder();
    expect(run(cwd, ["--version"]).out).toBe(`${JSON.parse(readFileSync(join(root, "package.json"), "utf8")).version}\n`);
    const { exit, out } = run(cwd, ["--help"]);
    expect(exit).toBe(0);
    for (const command of ["check", "table", "answer", "why", "format", "new", "hint"])
      expect(out).toMatch(new RegExp(`^  ${command} `, "m"));
    for (const line of out.split("\n")) expect(line.length).toBeLessThanOrEqual(80);
  });
});

describe("hint", () => {
  test("prints the page about a code, and lists all of them", () => {
    const cwd = folder();
    expect(run(cwd, ["hint", "conflict"]).out).toBe(readFileSync(join(root, "src/hints/conflict.md"), "utf8"));
    expect(
      run(cwd, ["hint"])
        .out.trim()
        .split("\n")
        .map((line) => line.split(" ")[0]),
    ).toEqual(Object.keys(severities).sort());
    expect(run(cwd, ["hint", "conflit"])).toMatchObject({ exit: 2, out: "", err: expect.stringContaining("Did you mean conflict?") });
  });
});

describe("new", () => {
  test("writes a book that checks clean, down to the notes, and never over another", () => {
    const cwd = folder();
    expect(run(cwd, ["new", "mine.lore"])).toMatchObject({ exit: 0, out: "" });
    const written = readFileSync(join(cwd, "mine.lore"), "utf8");
    expect(written.trimEnd().split("\n").length).toBeLessThanOrEqual(36);
    expect(run(cwd, ["check", "mine.lore", "--severity", "note"]).exit).toBe(0);
    writeFileSync(join(cwd, "mine.lore"), "mine\n");
    expect(run(cwd, ["new", "mine.lore"])).toMatchObject({
      exit: 2,
      out: "",
      err: "Cannot write mine.lore: there is already a file of that name.\n",
    });
    expect(readFileSync(join(cwd, "mine.lore"), "utf8")).toBe("mine\n");
  });

  test("a name that is no book's, a folder that is not there", () => {
    const cwd = folder();
    chmodSync(cwd, 0o755);
    expect(run(cwd, ["new", "mine"])).toMatchObject({ exit: 2, err: expect.stringContaining("waterlore new mine.lore") });
    expect(run(cwd, ["new", "no/mine.lore"])).toMatchObject({ exit: 2, err: expect.stringContaining("no such folder") });
  });
});

describe("whole outputs, byte for byte", () => {
  test.each([
    ["check", ["check", "two.lore"]],
    ["check-json", ["check", "two.lore", "--format", "json"]],
    ["table", ["table", "two.lore"]],
    ["answer", ["answer", "two.lore", "clarity=clear"]],
    ["why", ["why", "two.lore", "clarity=clear", "sky=bright"]],
  ])("%s", async (name, words) => {
    await expect(run(folder({ "two.lore": twoRules }), words).out).toMatchFileSnapshot(`golden/two-rules.${name}.txt`);
  });
});
