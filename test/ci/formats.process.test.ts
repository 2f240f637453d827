/** Reports for other programs: SARIF, JUnit XML and GitHub workflow commands, each held against what its readers publish. */
import { Ajv } from "ajv";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { SaxesParser } from "saxes";
import { describe, expect, test } from "vitest";
import { severities } from "../../src/diagnostics.js";
import { checkGithub } from "../../src/faces/check/github.js";
import { checkJunit } from "../../src/faces/check/junit.js";
import type { Report } from "../../src/faces/check/report.js";
import { lineMap } from "../../src/text.js";
import { applied } from "../check.js";
import { folder, run, sound, twoRules } from "../cli/run.js";
import { root } from "../root.js";

const hostile = 'Clear & <muddy> ]]> 100 % "::error::';
const files = {
  "two.lore": twoRules,
  "sound.lore": sound,
  "local/north 50%, #4.lore": `book "North"\nbuilds on "../two.lore"\npick knot: improved, palomar, uni\nfall back on knot improved\npattern "𝄞 ${hostile.replaceAll('"', "'")} \u0007"\n  go with knot palomar\n  when sky is drak and clarity is clear\n`,
};
const warns = sound.replace("round, leaf", "round, leaf, frog");

describe("SARIF", () => {
  // The schema of SARIF 2.1.0 (OASIS), as the package @microsoft/jest-sarif carries it. It is of JSON Schema draft 4, and uses nothing
  // that later drafts read otherwise; one of its patterns has a bracket that only stands without the flag `u`.
  const {
    $schema: _,
    id: __,
    ...schema
  } = JSON.parse(readFileSync(createRequire(import.meta.url).resolve("@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json"), "utf8"));
  const reference = /^[\w\-.~:/?#[\]@!$&'()*+,;=%]*$/;
  const fits = new Ajv({
    strict: false,
    allErrors: true,
    unicodeRegExp: false,
    formats: {
      uri: (text: string) => reference.test(text) && URL.canParse(text),
      "uri-reference": (text: string) => reference.test(text) && URL.canParse(text, "https://example.com/a/"),
      "date-time": (text: string) => !Number.isNaN(Date.parse(text)),
    },
  }).compile(schema);
  const sarifOf = (cwd: string, ...words: string[]) => {
    const log = JSON.parse(run(cwd, ["check", ".", "--format", "sarif", ...words]).out);
    expect(fits(log), JSON.stringify(fits.errors?.slice(0, 5))).toBe(true);
    return log.runs[0];
  };

  test("the schema itself tells right from wrong", () => {
    expect(
      fits({ version: "2.1.0", runs: [{ tool: { driver: { name: "x" } }, results: [{ message: { text: "x" }, level: "fatal" }] }] }),
    ).toBe(false);
    expect(
      fits({
        version: "2.1.0",
        runs: [
          {
            tool: { driver: { name: "x" } },
            results: [{ message: { text: "x" }, locations: [{ physicalLocation: { artifactLocation: { uri: "a b" } } }] }],
          },
        ],
      }),
    ).toBe(false);
  });

  test("findings, with their kinds, places, related places and fixes", () => {
    const cwd = folder(files);
    const { tool, results, columnKind, invocations } = sarifOf(cwd);
    const { findings } = JSON.parse(run(cwd, ["check", ".", "--format", "json"]).out);
    expect(columnKind).toBe("utf16CodeUnits");
    expect(invocations[0].executionSuccessful).toBe(true);
    expect(results.map(({ ruleId }: { ruleId: string }) => ruleId)).toEqual(findings.map(({ code }: { code: string }) => code));
    for (const [at, result] of results.entries()) {
      const { code, severity, range, message, help, path, related, fixes } = findings[at];
      const [{ physicalLocation }] = result.locations;
      expect(tool.driver.rules[result.ruleIndex].id).toBe(code);
      expect(result.level).toBe(severity);
      expect(physicalLocation.region).toEqual({
        startLine: range.start.line,
        startColumn: range.start.column,
        endLine: range.end.line,
        endColumn: range.end.column,
      });
      expect(decodeURIComponent(physicalLocation.artifactLocation.uri)).toBe(path);
      expect(result.message.text).toContain(message);
      expect(result.message.text).toContain(help);
      expect(result.relatedLocations.map(({ message: { text } }: { message: { text: string } }) => text)).toEqual(
        related.map(({ message: text }: { message: string }) => text),
      );
      expect(result.fixes.map(({ description: { text } }: { description: { text: string } }) => text)).toEqual(
        fixes.map(({ title }: { title: string }) => title),
      );
    }
  });

  test("a fix that is carried out as the standard says makes the finding go away", () => {
    const [conflict] = sarifOf(folder({ "two.lore": twoRules })).results;
    const [{ artifactLocation, replacements }] = conflict.fixes[0].artifactChanges;
    const { offset } = lineMap(twoRules);
    const edits = replacements.map(
      ({
        deletedRegion: { startLine, startColumn, endLine, endColumn },
        insertedContent,
      }: {
        deletedRegion: Record<string, number>;
        insertedContent: { text: string };
      }) => ({
        path: artifactLocation.uri,
        text: insertedContent.text,
        range: { start: offset({ line: startLine!, column: startColumn! }), end: offset({ line: endLine!, column: endColumn! }) },
      }),
    );
    const mended = applied({ "two.lore": twoRules }, edits)["two.lore"]!;
    expect(mended).not.toBe(twoRules);
    expect(run(folder({ "two.lore": mended }), ["check", "two.lore"]).exit).toBe(0);
  });

  test("every kind of finding has its page, in plain text and in Markdown, without links into the package", () => {
    const { rules } = sarifOf(folder({ "sound.lore": sound })).tool.driver;
    expect(rules.map(({ id }: { id: string }) => id)).toEqual(Object.keys(severities));
    for (const { id, shortDescription, help, defaultConfiguration } of rules) {
      expect(readFileSync(join(root, "src/hints", `${id}.md`), "utf8")).toContain(`# ${shortDescription.text}\n`);
      expect(help.markdown).toContain("## How to settle it");
      expect(help.markdown).not.toMatch(/\]\(/);
      expect(help.text).not.toMatch(/```/);
      expect(defaultConfiguration.level).toBe(severities[id as keyof typeof severities]);
    }
  });

  test("fingerprints outlive moved lines, and are never the same for two findings", () => {
    const prints = (two: string): string[] =>
      sarifOf(folder({ ...files, "two.lore": two })).results.map(
        ({ partialFingerprints }: { partialFingerprints: Record<string, string> }) => partialFingerprints["findingKey/v1"]!,
      );
    const before = prints(twoRules);
    expect(prints(`\n-- Moved.\n${twoRules.replace("  when sky", "\n    when sky")}`)).toEqual(before);
    expect(new Set(before).size).toBe(before.length);
    const twice = `${twoRules}pattern "One"\n  go with blade rond\npattern "Two"\n  go with blade rond\n`;
    expect(new Set(prints(twice)).size).toBe(before.length + 2);
  });

  test("known findings are there, unchanged and suppressed, and new ones are new", () => {
    const cwd = folder({ "two.lore": twoRules });
    run(cwd, ["check", ".", "--baseline", "known.json", "--write-baseline"]);
    expect(sarifOf(cwd).results[0]).not.toHaveProperty("baselineState");
    expect(sarifOf(cwd, "--baseline", "known.json").results[0]).toMatchObject({
      baselineState: "unchanged",
      suppressions: [{ kind: "external" }],
    });
    const more = folder({
      "two.lore": twoRules.replace("fall back on blade round\n", ""),
      "known.json": readFileSync(join(cwd, "known.json")),
    });
    expect(
      sarifOf(more, "--baseline", "known.json").results.map(({ ruleId, baselineState }: Record<string, string>) => [ruleId, baselineState]),
    ).toEqual([
      ["gap", "new"],
      ["conflict", "unchanged"],
    ]);
  });

  test("a book that cannot be read makes the run no success", () => {
    const { exit, out } = run(folder(), ["check", "gone.lore", "--format", "sarif"]);
    expect(exit).toBe(2);
    const log = JSON.parse(out);
    expect(fits(log)).toBe(true);
    expect(log.runs[0].invocations).toEqual([
      {
        executionSuccessful: false,
        toolExecutionNotifications: [{ level: "error", message: { text: "Cannot read gone.lore: there is no such file." } }],
      },
    ]);
  });
});

interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly inside: Element[];
  text: string;
}

/** A document as a tree, by a parser that refuses all that is not well-formed XML 1.0. */
function xml(document: string): Element {
  const top: Element = { name: "", attributes: {}, inside: [], text: "" };
  const open = [top];
  const parser = new SaxesParser();
  parser.on("error", (error) => {
    throw error;
  });
  parser.on("opentag", ({ name, attributes }) => {
    const element: Element = { name, attributes, inside: [], text: "" };
    open.at(-1)!.inside.push(element);
    open.push(element);
  });
  parser.on("text", (text) => void (open.at(-1)!.text += text));
  parser.on("closetag", () => void open.pop());
  parser.write(document).close();
  return top.inside[0]!;
}

describe("JUnit XML", () => {
  // Elements, what may stand in them, and attributes (those that are required first), from junit-10.xsd of Jenkins' xunit-plugin.
  const known: Readonly<
    Record<string, { readonly inside: readonly string[]; readonly required: readonly string[]; readonly others: readonly string[] }>
  > = {
    testsuites: { inside: ["testsuite"], required: [], others: ["name", "time", "tests", "failures", "errors"] },
    testsuite: {
      inside: ["testsuite", "properties", "testcase", "system-out", "system-err"],
      required: ["name", "tests", "failures", "errors"],
      others: ["group", "time", "skipped", "timestamp", "hostname", "id", "package", "file", "log", "url"],
    },
    testcase: {
      inside: ["skipped", "error", "failure", "system-out", "system-err"],
      required: ["name"],
      others: ["time", "classname", "group"],
    },
    failure: { inside: [], required: [], others: ["type", "message"] },
    error: { inside: [], required: [], others: ["type", "message"] },
    skipped: { inside: [], required: [], others: ["type", "message"] },
    "system-out": { inside: [], required: [], others: [] },
  };
  const valid = ({ name, attributes, inside }: Element): void => {
    const rule = known[name]!;
    expect(rule, name).toBeDefined();
    for (const attribute of rule.required) expect(attributes, name).toHaveProperty(attribute);
    for (const attribute of Object.keys(attributes)) expect([...rule.required, ...rule.others], name).toContain(attribute);
    for (const element of inside) {
      expect(rule.inside, name).toContain(element.name);
      valid(element);
    }
  };
  const suitesOf = (document: string): Element => {
    const suites = xml(document);
    valid(suites);
    for (const suite of suites.inside) {
      const count = (kind: string): string => String(suite.inside.filter(({ inside }) => inside.some(({ name }) => name === kind)).length);
      expect(suite.attributes).toMatchObject({
        tests: String(suite.inside.length),
        failures: count("failure"),
        errors: count("error"),
        skipped: count("skipped"),
      });
    }
    const sum = (name: string): string => String(suites.inside.reduce((total, { attributes }) => total + Number(attributes[name]), 0));
    expect(suites.attributes).toMatchObject({ tests: sum("tests"), failures: sum("failures"), errors: sum("errors") });
    return suites;
  };
  const failed = (suites: Element): readonly (readonly [string, string, string])[] =>
    suites.inside.flatMap((suite) =>
      suite.inside.flatMap((one) =>
        one.inside
          .filter(({ name }) => name !== "system-out")
          .map((outcome) => [suite.attributes["name"]!, one.attributes["name"]!, outcome.name] as const),
      ),
    );

  test("a suite for each book, a case for each kind of finding", () => {
    const { exit, out } = run(folder(files), ["check", ".", "--format", "junit"]);
    expect(exit).toBe(1);
    const suites = suitesOf(out);
    expect(suites.inside.map(({ attributes }) => attributes["name"])).toEqual(Object.keys(files).sort());
    for (const { inside } of suites.inside) expect(inside.map(({ attributes }) => attributes["name"])).toEqual(Object.keys(severities));
    expect(failed(suites)).toEqual([
      ["local/north 50%, #4.lore", "name", "failure"],
      ["two.lore", "conflict", "failure"],
    ]);
    const failure = suites.inside.at(-1)!.inside.find(({ attributes }) => attributes["name"] === "conflict")!.inside[0]!;
    expect(failure.attributes).toEqual({ type: "conflict", message: "Two patterns disagree" });
    expect(failure.text).toMatch(/^error: two\.lore:8:9: Two patterns disagree\nWhere clarity is clear and sky is dark, /);
  });

  test("what does not count is told and fails nothing; --severity says what counts; what is known is skipped", () => {
    const cwd = folder({ "frog.lore": warns });
    const beside = suitesOf(run(cwd, ["check", ".", "--format", "junit"]).out);
    expect(failed(beside)).toEqual([]);
    expect(beside.inside[0]!.inside.find(({ attributes }) => attributes["name"] === "never-recommended")!.inside[0]!.text).toMatch(
      /^warning: frog\.lore:4:/,
    );
    expect(failed(suitesOf(run(cwd, ["check", ".", "--format", "junit", "--severity", "warning"]).out))).toEqual([
      ["frog.lore", "never-recommended", "failure"],
    ]);
    run(cwd, ["check", ".", "--baseline", "known.json", "--write-baseline"]);
    expect(
      failed(suitesOf(run(cwd, ["check", ".", "--format", "junit", "--severity", "warning", "--baseline", "known.json"]).out)),
    ).toEqual([["frog.lore", "never-recommended", "skipped"]]);
  });

  test("a book that cannot be read is an error", () => {
    const { exit, out } = run(folder({ "sound.lore": sound }), ["check", ".", "gone & lost.lore", "--format", "junit"]);
    expect(exit).toBe(2);
    expect(failed(suitesOf(out))).toEqual([["gone & lost.lore", "a book that can be read", "error"]]);
  });

  test("whatever stands in a book, the document is sound", () => {
    const text = suitesOf(checkJunit(reportOf(`${hostile}\u0000\u001b\ufffe\ud800 𝄞 \r\n\t'`))).inside[0]!.inside.find(
      ({ attributes }) => attributes["name"] === "gap",
    )!.inside[0]!;
    expect(text.attributes["message"]).toBe(`${hostile}\ufffd\ufffd\ufffd\ufffd 𝄞 \r\n\t'`);
    // XML 1.0, § 2.11: a reader makes CR LF in a text one LF.
    expect(text.text).toContain(`${hostile}\ufffd\ufffd\ufffd\ufffd 𝄞 \n\t'`);
  });
});

describe("GitHub workflow commands", () => {
  test("one command for each finding, and the sum for whoever reads the log", () => {
    const { exit, out } = run(folder({ "two.lore": twoRules, "frog.lore": warns }), ["check", ".", "--format", "github"], {
      env: { GITHUB_WORKSPACE: "" },
    });
    expect(exit).toBe(1);
    const [frog, two, sum, end] = out.split("\n");
    expect(frog).toMatch(
      /^::warning file=frog\.lore,line=4,endLine=4,col=34,endColumn=37,title=frog is never recommended \[never-recommended\]::Under no possible conditions does frog /,
    );
    expect(two).toMatch(
      /^::error file=two\.lore,line=8,endLine=8,col=9,endColumn=40,title=Two patterns disagree \[conflict\]::Where clarity is clear and sky is dark, in 25 %25 of all conditions, .*%0ASee also: two\.lore:5:9 .*%0ANext: Say which one wins /,
    );
    expect(sum).toBe("2 books checked: 1 error, 1 warning and no notes.");
    expect(end).toBe("");
  });

  // The escapes of GitHub's toolkit (packages/core/src/command.ts): % CR LF in all, : and , in properties too.
  test("whatever stands in a book, it cannot end its command or begin another", () => {
    const [line, sum, ...rest] = checkGithub(reportOf(`a, b: 100 %\r\n::error::x`), undefined).split("\n");
    expect(line).toContain(",title=a%2C b%3A 100 %25%0D%0A%3A%3Aerror%3A%3Ax [gap]::a, b: 100 %25%0D%0A::error::x");
    expect(sum).toBe("1 book checked: 1 error, no warnings and no notes.");
    expect(rest).toEqual([""]);
  });

  test("files are named from the top of the checkout; over several lines there are no columns", () => {
    const cwd = folder({ "rules/two.lore": twoRules });
    expect(run(join(cwd, "rules"), ["check", "two.lore", "--format", "github"], { env: { GITHUB_WORKSPACE: cwd } }).out).toMatch(
      /^::error file=rules\/two\.lore,/,
    );
    expect(checkGithub(reportOf("title", { start: 0, end: 8 }), undefined)).toMatch(/^::error file=a\.lore,line=1,endLine=2,title=/);
  });

  test("a book that cannot be read is an error of that file", () => {
    expect(run(folder(), ["check", "gone.lore", "--format", "github"], { env: { GITHUB_WORKSPACE: "" } })).toMatchObject({
      exit: 2,
      out: "::error file=gone.lore::Cannot read gone.lore: there is no such file.\n0 books checked: no errors, no warnings and no notes.\n".replace(
        "0 books",
        "No books",
      ),
    });
  });
});

/** A report of one gap about which all is said in the same words. */
function reportOf(words: string, range = { start: 0, end: 4 }): Report {
  const text = "book\n more";
  return {
    books: [{ path: "a.lore", title: words, whole: true, order: [] }],
    findings: [{ code: "gap", severity: "error", title: words, message: words, help: words, path: "a.lore", range, root: "a.lore" }],
    coverage: [],
    undecided: [],
    known: [],
    baseline: false,
    unreadable: [],
    lowest: "error",
    texts: new Map([["a.lore", { text, lines: lineMap(text) }]]),
  };
}
