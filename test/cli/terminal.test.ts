/** Words set into lines, and marks under a line: in cells, not in characters. */
import { describe, expect, test } from "vitest";
import { harmless, marked, terminalOf, untabbed, wrap } from "../../src/faces/node/terminal.js";
import { widthOf } from "../../src/render/columns.js";

test("tabs go to the next stop of four cells", () => {
  expect(untabbed("a\tb\t\tc")).toBe("a   b       c");
  // 水 is wide: two cells (Unicode Standard Annex 11).
  expect(untabbed("水\tb")).toBe("水  b");
});

describe("wrap", () => {
  test("lines hold as many words as fit, later ones set in", () => {
    expect(wrap("one two three four", 13, "  ", "> ")).toBe("> one two\n  three four");
  });
  test("a word that is too long stands alone", () => {
    expect(wrap("a incomprehensibilities b", 10)).toBe("a\nincomprehensibilities\nb");
  });
  test("wide words count twice", () => {
    expect(wrap("水水 水水", 8)).toBe("水水\n水水");
  });
});

describe("marked", () => {
  test("under the words, whatever stands before them", () => {
    expect(marked("\t水 is 清", 6, 7, 40)).toEqual({ line: "    水 is 清", marks: `${" ".repeat(4 + 2 + 4)}^^` });
  });
  test("a place with no length has one mark", () => {
    expect(marked("ab", 2, 2, 40)).toEqual({ line: "ab", marks: "  ^" });
  });
  test("a long line is cut to what is around the mark, on both sides", () => {
    const line = `${"x".repeat(100)}HERE${"y".repeat(100)}`;
    const cut = marked(line, 100, 104, 40);
    expect(cut.line).toMatch(/^…x+HEREy+…$/);
    expect(widthOf(cut.line)).toBe(40);
    expect(cut.line.slice(cut.marks.indexOf("^"), cut.marks.length)).toBe("HERE");
  });
  test("a mark longer than the window ends with it", () => {
    const cut = marked("z".repeat(200), 0, 200, 40);
    expect(widthOf(cut.line)).toBe(40);
    expect(cut.marks).toBe("^".repeat(40));
  });
});

test("harmless: no control characters, no turned reading direction; line ends and tabs stay", () => {
  expect(harmless("a\u001b[31mb\u0007\u202ec\u009b\n\t")).toBe("a\ufffd[31mb\ufffd\ufffdc\ufffd\n\t");
});

describe("a terminal", () => {
  const colored = (stream: Parameters<typeof terminalOf>[0], env: Record<string, string> = {}): boolean =>
    terminalOf(stream, env).colors.isColorSupported;
  test("is 80 wide if that is unknown, and never read as too wide or too narrow", () => {
    expect(terminalOf({}, {}).width).toBe(80);
    expect(terminalOf({ columns: 60 }, {}).width).toBe(60);
    expect(terminalOf({ columns: 300 }, {}).width).toBe(100);
    expect(terminalOf({ columns: 0 }, {}).width).toBe(40);
  });
  // https://no-color.org: "when present and not an empty string (regardless of its value)".
  test("has colors if it is one, unless the environment says otherwise", () => {
    expect(colored({ isTTY: true })).toBe(true);
    expect(colored({})).toBe(false);
    expect(colored({ isTTY: true }, { NO_COLOR: "0" })).toBe(false);
    expect(colored({ isTTY: true }, { NO_COLOR: "" })).toBe(true);
    expect(colored({ isTTY: true }, { TERM: "dumb" })).toBe(false);
    expect(colored({}, { FORCE_COLOR: "1" })).toBe(true);
    expect(colored({ isTTY: true }, { FORCE_COLOR: "0" })).toBe(false);
  });
});
