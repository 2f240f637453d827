/** Books longer, deeper and fuller than anyone can read: an end in bounded time and memory, and what is wrong in a few findings. */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { folder, program } from "../cli/run.js";
import { expectSentences } from "./sentences.js";

const head =
  "condition clarity: in order clear, stained, muddy\n  rising is dirtier, falling is clearer\ncondition t: 0 to 90 °F, to the nearest 1 °F\ncondition cover: any of grass, docks\npick blade: round, leaf\n";
const end = "fall back on blade round\n";
const many = (count: number, one: (i: number) => string, between = ""): string =>
  Array.from({ length: count }, (_, i) => one(i)).join(between);
const mud = (test: string): string => `${head}pattern "Mud"\n  go with blade leaf\n  when ${test}\n${end}`;

/** Exit code of `check`; the code of an error that it has to name; how many characters its report may take. */
const books: readonly (readonly [what: string, text: string, exit: 0 | 1, code?: string, most?: number])[] = [
  ["100,000 lines of comments", `${"-- high water\n".repeat(100_000)}${head}${end}`, 0],
  ["100,000 empty lines", `${"\n".repeat(100_000)}${head}${end}`, 0],
  ["100,000 lines of words that start clauses", "when when\n".repeat(100_000), 1, "syntax"],
  ["100,000 lines of quotation marks", '"\n'.repeat(100_000), 1, "syntax", 40_000],
  ["20,000 lines that start a pattern", "pattern\n".repeat(20_000), 1, "syntax", 40_000],
  ["a line of a million words", "a ".repeat(999_999), 1, "syntax"],
  ["one word of two million letters", "x".repeat(1_999_999), 1, "syntax"],
  ["900,000 parentheses that open", mud("(".repeat(900_000)), 1, "syntax"],
  ["1,000 parentheses, and all close", mud(`${"(".repeat(1000)}clarity is muddy${")".repeat(1000)}`), 1, "syntax"],
  ["60 parentheses", mud(`${"(".repeat(60)}clarity is muddy${")".repeat(60)}`), 0],
  ["400,000 times not", mud(`${"not ".repeat(400_000)}clarity is muddy`), 1, "syntax"],
  ["a test of 60,000 parts", mud(many(60_000, () => "clarity is muddy", " and ")), 1, "syntax"],
  ["half a million commas", `${head}pick x: ${",a".repeat(500_000)}\n${end}`, 1, "syntax"],
  ["50,000 clauses in one pattern", `${head}pattern "A"\n${"  go with blade leaf\n".repeat(50_000)}${end}`, 1, "syntax", 120_000],
  ["20,000 options", `pick p: ${many(20_000, (i) => `o${i}`, ", ")}\nfall back on p o1\n`, 1, "syntax", 3_000_000],
  [
    "1,000 levels",
    `condition s: in order ${many(1000, (i) => `m${i}`, ", ")}\npick p: x, y\npattern "A"\n  go with p x\n  when s from m1 to m500\nfall back on p y\n`,
    0,
  ],
  [
    "1,000 members of a set",
    `condition s: any of ${many(1000, (i) => `m${i}`, ", ")}\npick p: x, y\npattern "A"\n  go with p x\n  when s has m1\nfall back on p y\n`,
    0,
  ],
  [
    "5,000 conditions",
    `${many(5000, (i) => `condition c${i}: a, b\n`)}pick p: x, y\npattern "A"\n  go with p x\n  when c7 is a\nfall back on p y\n`,
    0,
    undefined,
    3_000_000,
  ],
  ["3,000 judgements", `${head}${many(3000, (i) => `judgement j${i}: same as clarity\n`)}${end}`, 0, undefined, 300_000],
  [
    "500 picks, each resting on the one before",
    `condition c: a, b\npick p0: x, y\nfall back on p0 x\n${many(500, (i) => `pick p${i + 1}: x, y\npattern "${i}"\n  go with p${i + 1} y\n  when p${i} is x\nfall back on p${i + 1} x\n`)}`,
    0,
    undefined,
    500_000,
  ],
  [
    "a tower of 1,000 situations",
    `${head}situation s0: clarity is muddy\n${many(1000, (i) => `situation s${i + 1}: s${i} or t is ${i % 91} °F\n`)}pattern "A"\n  go with blade leaf\n  when s1000\n${end}`,
    1,
  ],
  [
    "a tower that doubles with every storey",
    `${head}situation s0: clarity is muddy\n${many(80, (i) => `situation s${i + 1}: (s${i} and t is above ${i + 1} °F) or (not s${i} and t is below ${i + 1} °F)\n`)}pattern "A"\n  go with blade leaf\n  when s80\n${end}`,
    1,
  ],
  ["10,000 promises", `${head}${end}${many(10_000, (i) => `promise "${i}": blade must be round when t is ${i % 91} °F\n`)}`, 0],
  ["5,000 cautions", `${head}${end}${many(5000, (i) => `caution "C${i}" when t is ${i % 91} °F\n  say "Mind ${i}."\n`)}`, 0],
  ["3,000 times impossible", `${head}${many(3000, (i) => `impossible when t is ${i % 91} °F and clarity is muddy\n`)}${end}`, 0],
  [
    "400 patterns, every other one against the next",
    `${head}${many(400, (i) => `pattern "P${i}"\n  go with blade ${i % 2 ? "leaf" : "round"}\n  when t is ${i % 91} °F and clarity is muddy\n`)}${end}`,
    1,
    "conflict",
    1_000_000,
  ],
  [
    "15,000 patterns, each of which beats the next, and one against the first",
    `condition t: 0 to 15000 ft, to the nearest 1 ft\npick blade: round, leaf\n${many(15_000, (i) => `pattern "P${i}"\n  go with blade leaf\n  when t is ${i} ft\n${i < 14_999 ? `  beats "P${i + 1}"\n` : ""}`)}pattern "Q"\n  go with blade round\n  when t is 0 ft\n${end}`,
    1,
    "conflict",
    3_000_000,
  ],
];

for (const [what, text, exit, code, most = 5_000] of books) {
  test(what, () => {
    const cwd = folder({ "x.lore": text });
    const { status, signal, stdout, stderr } = spawnSync(
      process.execPath,
      ["--max-old-space-size=600", program, "check", "x.lore", "--no-cache", "--on", "2027-04-15"],
      { cwd, input: "", encoding: "utf8", timeout: 60_000, maxBuffer: 1 << 26 },
    );
    expect({ status, signal, stderr }).toEqual({ status: exit, signal: null, stderr: "" });
    expectSentences(stdout);
    expect(stdout.length).toBeLessThan(most);
    expect(stdout).toMatch(exit === 0 ? /1 book checked: no errors/ : /1 book checked: [\d,]+ error/);
    if (code !== undefined) expect(stdout).toContain(`[${code}]`);
  });
}

test("ten million characters are refused before they are read, whatever they are, and stay", () => {
  const text = `${head}${"-- high water\n".repeat(715_000)}`;
  expect(text.length).toBeGreaterThan(10_000_000);
  const cwd = folder({ "x.lore": text });
  for (const words of [
    ["check", "x.lore"],
    ["format", "x.lore"],
    ["answer", "x.lore"],
    ["table", "x.lore"],
  ]) {
    const { status, stdout, stderr } = spawnSync(process.execPath, ["--max-old-space-size=100", program, ...words], {
      cwd,
      input: "",
      encoding: "utf8",
    });
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toMatch(/^Cannot read x\.lore: it is too large\.\n/);
  }
  expect(readFileSync(join(cwd, "x.lore"), "utf8")).toBe(text);
});

test("two million and some are a finding, not a book", () => {
  const cwd = folder({ "x.lore": "-- high water\n".repeat(150_000) });
  const { status, stdout, stderr } = spawnSync(process.execPath, [program, "check", "x.lore"], { cwd, input: "", encoding: "utf8" });
  expect([status, stderr]).toEqual([1, ""]);
  expect(stdout).toContain("This book is too long");
});
