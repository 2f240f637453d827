/** Files as they are found on real disks: circles, links, other spellings of a path, closed folders, no ends, no text. */
import { spawn, spawnSync } from "node:child_process";
import { chmodSync, mkdirSync, readdirSync, readFileSync, statSync, symlinkSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { describe, expect, test } from "vitest";
import { folder, program, run, sound } from "../cli/run.js";
import { expectSentences } from "./sentences.js";

const commands = (book: string): readonly (readonly string[])[] => [
  ["check", book],
  ["check", book, "--format", "json"],
  ["table", book],
  ["answer", book],
  ["why", book],
  ["format", book],
];

function findingsOf(cwd: string, book: string): readonly (readonly [code: string, path: string, line: number])[] {
  const { out, err } = run(cwd, ["check", book, "--format", "json"]);
  expectSentences(err);
  return JSON.parse(out).findings.map(({ code, path, range }: { code: string; path: string; range: { start: { line: number } } }) => [
    code,
    path,
    range.start.line,
  ]);
}

describe("books in a circle", () => {
  const local = (path: string): string => sound.replace("\n", `\nbuilds on "${path}"\n`);

  test.each([
    ["itself", "a.lore"],
    ["itself, from its own folder", "./a.lore"],
    ["itself, the long way round", "../HERE/a.lore"],
    ["itself, from the top", "TOP/a.lore"],
    ["itself, by a link", "link.lore"],
    ["itself, by a link to its folder", "here/a.lore"],
  ])("a book that builds on %s is read once, and says so", (_, path) => {
    const cwd = folder();
    writeFileSync(join(cwd, "a.lore"), local(path.replace("HERE", basename(cwd)).replace("TOP", cwd)));
    symlinkSync("a.lore", join(cwd, "link.lore"));
    symlinkSync(".", join(cwd, "here"));
    expect(findingsOf(cwd, "a.lore")).toEqual([["circle", "a.lore", 2]]);
    expect(run(cwd, ["answer", "a.lore", "clarity=clear", "cover=none"])).toMatchObject({ exit: 1, out: expect.stringContaining("leaf") });
  });

  test("two books, three books, and one that looks on", () => {
    const cwd = folder({
      "a.lore": local("b.lore"),
      "b.lore": 'book "B"\nbuilds on "c.lore"\n',
      "c.lore": 'book "C"\nbuilds on "a.lore"\n',
      "d.lore": 'book "D"\nbuilds on "a.lore"\n',
    });
    expect(findingsOf(cwd, "a.lore")).toEqual([["circle", "c.lore", 2]]);
    expect(findingsOf(cwd, "b.lore")).toEqual([["circle", "a.lore", 2]]);
    expect(findingsOf(cwd, "d.lore")).toEqual([["circle", "c.lore", 2]]);
  });

  test("a book reached by two spellings of its path is read once", () => {
    const cwd = folder({ "base.lore": sound, "b.lore": 'book "B"\nbuilds on "base.lore"\n' });
    writeFileSync(join(cwd, "a.lore"), `book "A"\nbuilds on "b.lore"\nbuilds on "../${basename(cwd)}/base.lore"\n`);
    expect(findingsOf(cwd, "a.lore")).toEqual([]);
    writeFileSync(join(cwd, "a.lore"), `book "A"\nbuilds on "base.lore"\nbuilds on "${cwd}/base.lore"\n`);
    expect(findingsOf(cwd, "a.lore")).toEqual([["duplicate", "a.lore", 3]]);
  });

  test("a tower of a hundred books is told where it gets too high", () => {
    const names = Array.from({ length: 100 }, (_, i) => `b${i}.lore`);
    const cwd = folder(Object.fromEntries(names.map((name, i) => [name, `book "${i}"\n${i < 99 ? `builds on "b${i + 1}.lore"\n` : ""}`])));
    expect(findingsOf(cwd, "b0.lore").map(([code]) => code)).toEqual(["file"]);
  });
});

describe("what builds on something that is no book", () => {
  test("each has its finding and its reason, at its place, and no name is held against the book", () => {
    const paths = [
      "gone.lore",
      "",
      "  ",
      ".",
      "..",
      "/",
      "x.lore",
      "round.lore",
      "a.lore/b.lore",
      "http://a.test/b.lore",
      `${"n".repeat(300)}.lore`,
      "\u200b",
      "b\u0007.lore",
      "null.lore",
      "big.lore",
      "picture.lore",
    ];
    const cwd = folder({
      "a.lore": `book "A"\n${paths.map((path) => `builds on "${path}"`).join("\n")}\npick blade: round, leaf\npattern "P"\n  go with blade leaf\n  when clarity is muddy\n`,
      "null.lore": "\0",
      "big.lore": " ".repeat(7_000_000),
      "picture.lore": Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0xff]),
    });
    mkdirSync(join(cwd, "x.lore"));
    symlinkSync("round.lore", join(cwd, "round.lore"));
    const found = findingsOf(cwd, "a.lore");
    expect(found.map(([, path]) => path)).toEqual(found.map(() => "a.lore"));
    // A path of which nothing shows is a slip of writing, all others are files that cannot be had.
    expect(found.map(([code, , line]) => [paths[line - 2], code])).toEqual(
      paths.map((path) => [path, /^[ \u200b]*$/.test(path) ? "syntax" : "file"]),
    );
    const { out, err, exit } = run(cwd, ["check", "a.lore"]);
    expect(exit).toBe(1);
    expect(out).not.toMatch(/[\u0007]/);
    expectSentences(out + err);
    for (const reason of [
      "there is no such file",
      "it is a folder",
      "its links lead round in a circle",
      "part of its path is not a folder",
      "its name is too long",
      "it is not a text file",
      "it is too large",
      "it is not saved as UTF-8",
    ])
      expect(out.replace(/\n */g, " ")).toContain(reason);
  });
});

describe("what is asked for", () => {
  test("a folder called x.lore is looked into, not read", () => {
    const cwd = folder({ "books/x.lore/inner.lore": sound, "books/y.lore": sound });
    expect(JSON.parse(run(cwd, ["check", "books", "--format", "json"]).out).books.map(({ path }: { path: string }) => path)).toEqual([
      "books/x.lore/inner.lore",
      "books/y.lore",
    ]);
    for (const command of ["table", "answer", "why"])
      expect(run(cwd, [command, "books/x.lore"])).toEqual({ exit: 2, out: "", err: "Cannot read books/x.lore: it is a folder.\n" });
  });

  test.each([
    ["no text", Uint8Array.from([1, 2, 0, 3])],
    ["bytes that are no UTF-8", Uint8Array.from([0x62, 0xff, 0xfe])],
    ["half a surrogate", Uint8Array.from([0xed, 0xa0, 0x80])],
    ["an overlong byte", Uint8Array.from([0xc0, 0xaf])],
    ["more than a book can have", " ".repeat(6_000_001)],
  ])("%s: every command says so and leaves it alone", (_, content) => {
    const cwd = folder({ "x.lore": content });
    for (const words of commands("x.lore")) {
      const { exit, out, err } = run(cwd, words);
      expect([exit, out]).toEqual([2, ""]);
      expect(err).toMatch(/^Cannot read x\.lore: [^\n]+\.\n/);
    }
    expect(readFileSync(join(cwd, "x.lore")).equals(Buffer.from(content as string))).toBe(true);
  });

  test("circles of links, and folders that link to themselves, end", () => {
    const cwd = folder({ "a/sound.lore": sound });
    symlinkSync("two.lore", join(cwd, "one.lore"));
    symlinkSync("one.lore", join(cwd, "two.lore"));
    symlinkSync("..", join(cwd, "a/up"));
    symlinkSync(".", join(cwd, "a/me"));
    for (const words of commands("one.lore"))
      expect(run(cwd, words)).toMatchObject({
        exit: 2,
        err: expect.stringContaining("Cannot read one.lore: its links lead round in a circle."),
      });
    // Through `up` the folder above is part of it, with its links that lead nowhere.
    for (const command of ["check", "format"]) {
      const { exit, err } = run(cwd, [command, "a"]);
      expect(exit).toBe(2);
      expect(err).toMatch(
        /^Cannot read \S*one\.lore: its links lead round in a circle\.\nCannot read \S*two\.lore: its links lead round in a circle\.\n/,
      );
    }
    expect(run(cwd, ["check", "a/me/me/me/sound.lore"]).exit).toBe(0);
  });

  // Root may look anywhere, so root runs this as nobody: possible where anybody may read the checkout.
  const someone = process.getuid?.() === 0 ? { uid: 65534, gid: 65534 } : {};
  const possible =
    process.platform !== "win32" && spawnSync(process.execPath, [program, "--version"], { cwd: "/", ...someone }).status === 0;
  test.skipIf(!possible)(
    "a folder that may not be looked into is said, never passed over (skipped where nobody cannot read the checkout)",
    () => {
      const cwd = folder({ "rules/a.lore": sound, "rules/closed/b.lore": sound });
      for (const name of ["", "rules"]) chmodSync(join(cwd, name), 0o755);
      chmodSync(join(cwd, "rules/closed"), 0);
      const nobody = (words: readonly string[]) =>
        spawnSync(process.execPath, [program, ...words], { cwd, encoding: "utf8", input: "", ...someone });
      for (const path of ["rules", "rules/**/*.lore"]) {
        const { status, stdout, stderr } = nobody(["check", path]);
        expect(stderr).toBe("Cannot read rules/closed: you have no permission.\n");
        expect(stdout).toContain("1 book checked");
        expect(status).toBe(2);
      }
      expect(nobody(["check", "rules/closed"])).toMatchObject({ status: 2, stderr: "Cannot read rules/closed: you have no permission.\n" });
      expect(nobody(["check", "rules/closed/b.lore"])).toMatchObject({
        status: 2,
        stderr: "Cannot read rules/closed/b.lore: you have no permission.\n",
      });
      chmodSync(join(cwd, "rules/closed"), 0o755);
    },
  );

  test.skipIf(process.platform === "win32")("input without an end is refused, in bounded memory", async () => {
    for (const words of [
      ["check", "-"],
      ["format", "-"],
      ["answer", "-", "clarity=clear"],
    ]) {
      const child = spawn(process.execPath, ["--max-old-space-size=200", program, ...words], { stdio: ["pipe", "pipe", "pipe"] });
      child.stdin.on("error", () => undefined);
      const chunk = Buffer.alloc(1 << 16, "a ");
      const pour = (): void => void (child.stdin.writable && child.stdin.write(chunk, (error) => error ?? setImmediate(pour)));
      pour();
      let err = "";
      child.stderr.on("data", (part) => (err += String(part)));
      const exit = await new Promise((done) => child.on("close", done));
      child.stdin.destroy();
      expect([exit, err]).toEqual([2, "Cannot read standard input: it is too large.\n"]);
    }
  });

  test("devices, names in no language, names that drive the terminal", () => {
    const cwd = folder({ "\u001b[2Jname.lore": sound, "水 книга.lore": sound, "-x.lore": sound });
    for (const path of ["/dev/null", "/dev/zero", "/dev/tty"]) expect(run(cwd, ["check", path]).exit).toBe(2);
    const all = run(cwd, ["check", "."]);
    expect(all.exit).toBe(0);
    const wrong = run(cwd, ["check", "\u001b[2Jgone.lore"]);
    expect(wrong.err).toBe("Cannot read \ufffd[2Jgone.lore: there is no such file.\n");
    expect(run(cwd, ["no\u001b[2Jsuch"]).err).not.toContain("\u001b");
    expect(run(cwd, ["format", "--check", "."]).out).not.toContain("\u001b");
    expect(run(cwd, ["check", "--", "-x.lore"]).exit).toBe(0);
    expect(readdirSync(cwd).length).toBe(3);
  });

  test("formatting keeps a file's rights, and its owner where it may", () => {
    const cwd = folder({ "x.lore": sound.replace("go with", "go   with") });
    chmodSync(join(cwd, "x.lore"), 0o640);
    const before = statSync(join(cwd, "x.lore"));
    expect(run(cwd, ["format", "x.lore"]).exit).toBe(0);
    const after = statSync(join(cwd, "x.lore"));
    expect([after.mode, after.uid, after.gid]).toEqual([before.mode, before.uid, before.gid]);
  });
});
