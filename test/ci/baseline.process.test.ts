/** `check --baseline`: known findings do not count, new ones do, and what is gone is said. */
import { Ajv2020 } from "ajv/dist/2020.js";
import { readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { folder, run, sound, twoRules } from "../cli/run.js";
import { root } from "../root.js";

const write = ["--baseline", "known.json", "--write-baseline"];
const use = ["--baseline", "known.json"];
/** A book of which one pattern does nothing once another book builds on it and says otherwise. */
const base = twoRules
  .replace("A dark sky wants a round blade", "A bright sky wants a leaf")
  .replace("go with blade round\n  when sky is dark", "go with blade leaf\n  when sky is bright");
const north =
  'book "North"\nbuilds on "base.lore"\npattern "Clear water wants a round blade here"\n  go with blade round\n  when clarity is clear\n';

function known(cwd: string): { readonly format: string; readonly findings: readonly Record<string, unknown>[] } {
  return JSON.parse(readFileSync(join(cwd, "known.json"), "utf8"));
}

describe("what is known", () => {
  test("is written down, fits its schema, and no longer counts", () => {
    const cwd = folder({ "two.lore": twoRules });
    expect(run(cwd, ["check", "two.lore", ...write])).toMatchObject({ exit: 0, err: "Wrote known.json: 1 known finding.\n" });
    const schema: object = JSON.parse(readFileSync(join(root, "src/schema/baseline.json"), "utf8"));
    const fits = new Ajv2020({ strict: true }).compile(schema);
    expect(fits(known(cwd)), JSON.stringify(fits.errors)).toBe(true);
    expect(known(cwd).findings).toEqual([
      {
        path: "two.lore",
        code: "conflict",
        pick: "blade",
        patterns: ["A dark sky wants a round blade", "Clear water wants a leaf"],
        where: "clarity is clear and sky is dark",
      },
    ]);
    const { exit, out, err } = run(cwd, ["check", "two.lore", ...use]);
    expect({ exit, err }).toEqual({ exit: 0, err: "" });
    expect(out).not.toContain("[conflict]");
    expect(out.replaceAll("\n", " ")).toContain("1 book checked: no errors, no warnings and no notes. 1 known finding is not counted.");
    expect(JSON.parse(run(cwd, ["check", "two.lore", ...use, "--format", "json"]).out)).toMatchObject({ findings: [], known: 1 });
    expect(run(cwd, ["check", "two.lore"]).exit).toBe(1);
  });

  test("stays known when the book is moved about, put into shape, or grows elsewhere", () => {
    const cwd = folder({ "two.lore": twoRules });
    run(cwd, ["check", "two.lore", ...write]);
    const [head, ...patterns] = twoRules.split(/(?=pattern |fall back)/);
    for (const changed of [
      `\n\n-- Notes.\n${twoRules}`,
      twoRules.replaceAll("\n  ", " "),
      [head, ...patterns.reverse()].join("\n"),
      `${twoRules}condition moon: new, full\npick knot: improved, palomar\npattern "Full moon"\n  go with knot palomar\n  when moon is full\nfall back on knot improved\n`,
    ]) {
      writeFileSync(join(cwd, "two.lore"), changed);
      expect(run(cwd, ["check", "two.lore", ...use]), changed).toMatchObject({ exit: 0, err: "" });
    }
  });

  test("a new finding beside a known one counts, and so does one more of the same kind", () => {
    const cwd = folder({ "two.lore": twoRules });
    run(cwd, ["check", "two.lore", ...write]);
    writeFileSync(join(cwd, "two.lore"), twoRules.replace("fall back on blade round\n", ""));
    const { exit, out } = run(cwd, ["check", "two.lore", ...use]);
    expect(exit).toBe(1);
    expect(out).toContain("[gap]");
    expect(out).not.toContain("[conflict]");

    const slip = (times: number): string =>
      twoRules + Array.from({ length: times }, (_, at) => `pattern "P${at}"\n  go with blade rond\n  when sky is dark\n`).join("");
    writeFileSync(join(cwd, "two.lore"), slip(2));
    run(cwd, ["check", "two.lore", ...write]);
    expect(known(cwd).findings).toContainEqual({ path: "two.lore", code: "name", text: "rond", count: 2 });
    expect(run(cwd, ["check", "two.lore", ...use]).exit).toBe(0);
    writeFileSync(join(cwd, "two.lore"), slip(3));
    expect(run(cwd, ["check", "two.lore", ...use]).out.match(/\[name\]/g)).toHaveLength(1);
  });

  test("paths are seen from the file itself, wherever the command is given", () => {
    const cwd = folder({ "rules/two.lore": twoRules, "checks/readme.txt": "" });
    run(cwd, ["check", "rules", "--baseline", "checks/known.json", "--write-baseline"]);
    expect(JSON.parse(readFileSync(join(cwd, "checks/known.json"), "utf8")).findings[0].path).toBe("../rules/two.lore");
    expect(run(join(cwd, "rules"), ["check", "two.lore", "--baseline", "../checks/known.json"])).toMatchObject({ exit: 0, err: "" });
  });
});

describe("what is gone", () => {
  test("is a note, keeps the exit code, and is taken out when the file is written again", () => {
    const cwd = folder({ "two.lore": twoRules, "more.lore": twoRules });
    run(cwd, ["check", ".", ...write]);
    writeFileSync(join(cwd, "two.lore"), sound);
    const { exit, err } = run(cwd, ["check", ".", ...use]);
    expect(exit).toBe(0);
    expect(err).toBe(
      "1 entry of known.json no longer occurs. --write-baseline takes it out:\n  two.lore: conflict, blade, “A dark sky wants a round blade” and “Clear water wants a leaf”, where clarity is clear and sky is dark\n",
    );
    expect(run(cwd, ["check", ".", ...write]).err).toBe("Wrote known.json: 1 known finding, 1 taken out.\n");
    expect(known(cwd).findings.map(({ path }) => path)).toEqual(["more.lore"]);
    rmSync(join(cwd, "more.lore"));
    expect(run(cwd, ["check", ".", ...write]).err).toContain("1 taken out");
    expect(known(cwd).findings).toEqual([]);
  });

  test("is not claimed of a book that was not checked, or only in part", () => {
    const cwd = folder({ "two.lore": twoRules, "more.lore": twoRules });
    run(cwd, ["check", ".", ...write]);
    const before = readFileSync(join(cwd, "known.json"), "utf8");
    expect(run(cwd, ["check", "two.lore", ...use])).toMatchObject({ exit: 0, err: "" });
    // A pattern that cannot be read holds back what is found about its pick.
    writeFileSync(join(cwd, "two.lore"), twoRules.replace("when sky is dark", "when sky is drak"));
    expect(run(cwd, ["check", "two.lore", ...use]).err).toBe("");
    expect(run(cwd, ["check", "more.lore", ...write]).err).toBe("Wrote known.json: 2 known findings.\n");
    expect(readFileSync(join(cwd, "known.json"), "utf8")).toBe(before);
  });

  test("in a book that others build on, what only shows with one of them is not claimed gone without it", () => {
    const cwd = folder({ "base.lore": base, "north.lore": north });
    run(cwd, ["check", ".", ...write]);
    expect(known(cwd).findings).toEqual([
      { path: "base.lore", code: "does-nothing", patterns: ["Clear water wants a leaf"], book: "north.lore" },
    ]);
    expect(run(cwd, ["check", "base.lore", ...use])).toMatchObject({ exit: 0, err: "" });
    writeFileSync(join(cwd, "north.lore"), north.replace("clarity is clear", "clarity is muddy"));
    expect(run(cwd, ["check", "base.lore", ...use]).err).toBe("");
    expect(run(cwd, ["check", ".", ...use]).err).toContain("1 entry of known.json no longer occurs.");
  });
});

describe("the file", () => {
  test("has the same bytes for the same findings, in whatever order the books are given, and is not written again for nothing", () => {
    const cwd = folder({ "a.lore": twoRules, "b.lore": twoRules.replace("fall back", "-- fall back") });
    run(cwd, ["check", "b.lore", "a.lore", ...write]);
    const first = readFileSync(join(cwd, "known.json"), "utf8");
    const { mtimeMs } = statSync(join(cwd, "known.json"));
    expect(run(cwd, ["check", ".", ...write]).exit).toBe(0);
    expect(readFileSync(join(cwd, "known.json"), "utf8")).toBe(first);
    expect(statSync(join(cwd, "known.json")).mtimeMs).toBe(mtimeMs);
  });

  test.each([
    ["that is not there", undefined, /^There is no known\.json yet\./],
    ["that is no JSON", "known", /^known\.json is not a file of known findings\. .*--write-baseline\n$/],
    ["of another shape", "{}", /^known\.json is not a file of known findings\./],
  ])("%s ends the command", (_, text, message) => {
    const cwd = folder({ "two.lore": twoRules, ...(text === undefined ? {} : { "known.json": text }) });
    const { exit, out, err } = run(cwd, ["check", "two.lore", ...use]);
    expect({ exit, out }).toEqual({ exit: 2, out: "" });
    expect(err).toMatch(message);
  });

  test("--write-baseline has to know where to, and says where it cannot", () => {
    const cwd = folder({ "two.lore": twoRules });
    expect(run(cwd, ["check", "two.lore", "--write-baseline"])).toMatchObject({
      exit: 2,
      out: "",
      err: expect.stringContaining("--baseline FILE"),
    });
    expect(run(cwd, ["check", "two.lore", "--baseline", "no/known.json", "--write-baseline"])).toMatchObject({
      exit: 2,
      err: "Cannot write no/known.json: there is no such folder to write it in.\n",
    });
  });

  test("that is named and not there yet is told of with what writes it, whoever named it", () => {
    const cwd = folder({ "two.lore": twoRules, "waterlore.json": '{ "books": ["two.lore"], "baseline": "known.json" }' });
    const err = expect.stringMatching(/^There is no known\.json yet\..* --baseline known\.json --write-baseline\n$/) as string;
    expect(run(cwd, ["check"])).toMatchObject({ exit: 2, err });
    expect(run(cwd, ["check", "two.lore", "--baseline", "known.json"])).toMatchObject({ exit: 2, err });
    expect(run(cwd, ["check", "two.lore", "--baseline", "known.json", "--write-baseline"]).exit).toBe(0);
    expect(run(cwd, ["check"]).exit).toBe(0);
  });
});
