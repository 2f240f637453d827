/** Formatting: small edits, whole and in part. */
import { describe, expect, test } from "vitest";
import { formatting, rangeFormatting, type TextEdit } from "../../src/service/formatting.js";
import { format } from "../../src/syntax/print.js";
import { parse } from "../../src/syntax/parse.js";
import { dice } from "../bench/books.js";
import { readMarks, shippedBooks } from "./marks.js";

const apply = (text: string, edits: readonly TextEdit[]): string =>
  [...edits].reverse().reduce((left, { range, text: put }) => left.slice(0, range.start) + put + left.slice(range.end), text);
const whole = (text: string): readonly TextEdit[] => formatting({ parsed: parse(text, "b.lore") });
const part = (text: string, range: { start: number; end: number }): readonly TextEdit[] =>
  rangeFormatting({ parsed: parse(text, "b.lore") }, range);
const shown = (text: string, edits: readonly TextEdit[]): readonly string[] =>
  edits.map(({ range, text: put }) => `${JSON.stringify(text.slice(range.start, range.end))} → ${JSON.stringify(put)}`);

/** A book with its blanks shaken, now and then with a word lost. */
function shaken(text: string, seed: number): string {
  const roll = dice(seed);
  return text
    .split(/(\s+)/)
    .map((word) => {
      if (/^\s+$/.test(word))
        return roll(8) === 0 ? (word.includes("\n") ? word.replace(/ +$/, " ".repeat(1 + roll(6))) : " ".repeat(1 + roll(3))) : word;
      return roll(400) === 0 ? "" : word;
    })
    .join("");
}

describe("the whole book", () => {
  test("a book in its usual shape needs no edit", () => {
    for (const text of Object.values(shippedBooks())) expect(whole(text)).toEqual([]);
  });
  test("only blanks change where only blanks are amiss", () => {
    const text = 'pick blade:   round,leaf\npattern "Mud"\n      go with blade round\n when clarity is   muddy\n';
    expect(shown(text, whole(text))).toEqual(['"   " → " "', '"" → " "', '"\\n      " → "\\n  "', '"\\n " → "\\n  "', '"   " → " "']);
  });
  test("a clause out of its place moves, and nothing else does", () => {
    const text = 'pattern "Mud"\n  when clarity is muddy\n  go with blade round\npattern "Clear"\n  go with blade leaf\n';
    const edits = whole(text);
    expect(apply(text, edits)).toBe(format(text));
    expect(edits.every(({ range }) => range.end <= text.indexOf('\npattern "Clear"'))).toBe(true);
  });
  test("a broken statement stays as it is, those beside it are formatted", () => {
    const text = 'pick   blade: round\npattern "Mud"\n      go with\npick   hook: a\n';
    expect(shown(text, whole(text))).toEqual(['"   " → " "', '"   " → " "']);
  });
  test("the edits are what `format` says, whatever was done to the book", () => {
    let small = 0;
    for (const [path, text] of Object.entries(shippedBooks()))
      for (let seed = 1; seed <= 4; seed++) {
        const bad = shaken(text, seed);
        const edits = whole(bad);
        expect([path, seed, apply(bad, edits)]).toEqual([path, seed, format(bad)]);
        expect(whole(format(bad))).toEqual([]);
        if (edits.length > 0 && Math.max(...edits.map(({ range }) => range.end - range.start)) < 400) small++;
      }
    expect(small).toBeGreaterThan(20);
  });
  test("line ends stay what they are", () => {
    const text = "pick blade:   round\r\n\r\npick hook:  a\r\n";
    expect(apply(text, whole(text))).toBe("pick blade: round\r\n\r\npick hook: a\r\n");
    expect(apply("pick  a: b\r\npick c: d\npick e: f\n", whole("pick  a: b\r\npick c: d\npick e: f\n"))).toBe(
      "pick a: b\npick c: d\npick e: f\n",
    );
    expect(whole("pick blade: round\r\n")).toEqual([]);
  });
  test("nothing and rubbish", () => {
    for (const text of ["", " ", "\n\n", "--", "rubbish ((", "\uFEFFpick  a: b\n", '"'])
      expect(apply(text, whole(text))).toBe(format(text));
  });
});

describe("a part", () => {
  test("touches its own statements only, whole ones", () => {
    const { text, ranges } = readMarks('pick   a: x\npattern "Mud"\n      ⟨go with⟩ a x\n  when   b is c\npick   d: y\n');
    expect(shown(text, part(text, ranges[0]!))).toEqual(['"\\n      " → "\\n  "', '"   " → " "']);
  });
  test("of blanks, those", () => {
    const { text, ranges } = readMarks("pick   a: x\n\n⟨\n\n⟩\npick   d: y\n");
    expect(shown(text, part(text, ranges[0]!))).toEqual(['"\\n\\n\\n\\n\\n" → "\\n\\n"']);
  });
  test("a comment that moves with its clause is neither lost nor doubled", () => {
    const { text, ranges } = readMarks('pattern "Mud"\n  when b is c\n  ⟨go with⟩ a x -- the thump\n\npick d: y\n');
    expect(apply(text, part(text, ranges[0]!)).match(/-- the thump/g)).toHaveLength(1);
  });
  test("keeps meaning and comments, wherever it is taken", () => {
    const roll = dice(4);
    for (const text of Object.values(shippedBooks())) {
      const bad = shaken(text, 9);
      for (let n = 0; n < 6; n++) {
        const start = roll(bad.length);
        const done = apply(bad, part(bad, { start, end: Math.min(bad.length, start + roll(600)) }));
        expect(format(done)).toBe(format(bad));
      }
    }
  });
});
