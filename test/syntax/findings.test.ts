/** What is said of books that can not be read, and that nothing else suffers from it. */
import { describe, expect, test } from "vitest";
import type { Finding, Fix } from "../../src/diagnostics.js";
import { parse } from "../../src/syntax/parse.js";
import { findingLimit } from "../../src/syntax/report.js";
import type { Pattern } from "../../src/syntax/tree.js";
import { expectMarked } from "../marks.js";

const find = (text: string): readonly Finding[] => parse(text, "x.lore").findings;
const check = (marked: string): void => expectMarked(marked, find);

describe("unfinished statements", () => {
  test("say what is missing, where, and what it looks like", () => {
    check(`
pattern "A"
  go with blade
          ^^^^^ syntax: I expected an option, but \`when\` already starts something new
  when clarity is dirty
pattern "B"
  go with
  ^^^^^^^ syntax: the name of a pick
  when
  ^^^^ syntax: After \`when\` I expected a test
  because
  ^^^^^^^ syntax: a text in quotation marks
  see "x" checked yesterday
                  ^^^^^^^^^ syntax: I expected a date, but found \`yesterday\`
pattern "C"
  lean to blade willow by
                       ^^ syntax: a number
  never weight 1/2 oz or
                      ^^ syntax: a comparing word
  move weight sideways
              ^^^^^^^^ syntax: \`up\` or \`down\`
pattern "D" go with blade colorado, then
                                    ^^^^ syntax: for example: \`go with blade colorado, then indiana\`
situation low: clarity is
                       ^^ syntax: a value
situation low: clarity is dirty or
                                ^^ syntax: a value
situation low: (clarity is dirty
                           ^^^^^ syntax: a closing parenthesis
trust clarity first, then
                     ^^^^ syntax: the name of a condition
pick
^^^^ syntax: a name
leave out
^^^^^^^^^ syntax: a title
add blade
    ^^^^^ syntax: an option
promise "y": blade must colorado
                   ^^^^ syntax: \`must be\`, \`must not be\`, \`must have an answer\` or \`must have no answer\`
condition x: 33 to °F
                   ^^ syntax: a number
condition y:
           ^ syntax: what it can be`);
  });

  test("say which small word is missing, and read on as if it stood there", () => {
    check(`
condition clarity "Water" in order clear, stained
                          ^^^^^^^^ syntax: a colon
band temp cold below 50 °F, warm
          ^^^^ syntax: a colon
group cover: soft grass, pads
                  ^^^^^ syntax: \`is\`
condition sky: bright, dark
  rising is dirtier
            ^^^^^^^ syntax: \`falling is\`
  ask "What is it like?"
pattern "E" go with blade colorado, indiana
                                    ^^^^^^^ syntax: \`then\`
situation s: water-temp is colder 60 °F
                                  ^^ syntax: \`than\``);
  });

  test("say what is not there at all", () => {
    check(`
pattern "Wind asks for weight"
^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ syntax: recommends nothing
  when wind is above 10 mph
say nothing on family
^^^^^^^^^^^^^^^^^^^^^ syntax: \`when\` is missing
say nothing on family, blade
^^^^^^^^^^^^^^^^^^^^^^^^^^^^ syntax: \`when\` is missing
say nothing on family, when a
                     ^ syntax: the name of a pick
say nothing on when a
^^^^^^^^^^^^^^ syntax: the name of a pick or \`everything\`
say nothing on everything
^^^^^^^^^^^^^^^^^^^^^^^^^ syntax: \`when\` is missing
say nothing on family blade when a
                      ^^^^^ syntax: Picks stand with commas between them
impossible because "x"
^^^^^^^^^^ syntax: when
pattern " " move b up
        ^^^ syntax: nothing between the quotation marks
caution "Cold water" when a
^^^^^^^^^^^^^^^^^^^^ syntax: say`);
  });
});

describe("what does not belong", () => {
  test("is marked where it stands", () => {
    check(`
foo
^^^ syntax: No statement starts here
condition cover: any of grass pads, reeds
                              ^^^^ syntax: a hyphen
condition cover: any of grass, pads
  because "x"
  ^^^^^^^ syntax: A \`condition\` has no \`because\`
situation x: clarity is dirty sky is dark
                              ^^^ syntax: joined with \`and\` or \`or\`
situation y: clarity is dirty, stained
                             ^ syntax: joined with \`or\`
situation z: clarity is dirty )
                              ^ syntax: did not expect \`)\`
pick blade: colorado, #4
                      ^ syntax: means nothing here`);
    check(`
see "x"
^^^ syntax: No statement starts here
book "a""b"
        ^^^ syntax: A quotation mark inside a text
pattern "p" move x up when a is b when c is d
                                  ^^^^^^^^^^^ duplicate: \`when\` is given twice
pattern "q" never blade willow, indiana or colorado
                                           ^^^^^^^^ syntax: comma list`);
  });

  test("`and` mixed with `or` shows both readings", () => {
    const text = "situation x: sky is dark and clarity is muddy\n  -- or so\n  or cover has grass";
    check(`${text.split("\n")[0]}
             ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^… mixing: \`(sky is dark and clarity is muddy) or cover has grass\`
${text.split("\n").slice(1).join("\n")}`);
    check(`${text.split("\n")[0]}
             ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^… mixing: \`sky is dark and (clarity is muddy or cover has grass)\`
${text.split("\n").slice(1).join("\n")}`);
    check(`
situation a: x and y, or z, or w
             ^^^^^^^^^^^^^ mixing: \`(x and y) or z\`
situation b: (x or y and z)
              ^^^^^^^^^^^^ mixing: \`(x or y) and z\`
situation c: x and y is a or b, or z`);
  });
});

describe("slips of the pen", () => {
  test("are read as what was meant", () => {
    check(`
Pattern "A"
^^^^^^^ syntax: written \`pattern\`
  Go With Blade colorado
  ^^^^^^^ syntax: \`go with\`
          ^^^^^ name: \`blade\`
  if day from april 15 to 20 May
  ^^ syntax: \`when\`
              ^^^^^^^^ syntax: \`apr 15\`
                          ^^^^^^ syntax: \`may 20\`
patern "B"
^^^^^^ syntax: \`pattern\`
  go wth blade colorado
  ^^^^^^ syntax: did you mean \`go with\`?
condition d: days of year
             ^^^^^^^^^^^^ syntax: did you mean \`days of the year\`?
judgment s: same as d
^^^^^^^^ syntax: \`judgement\`
fall back blade ½ oz
^^^^^^^^^ syntax: \`fall back on\`
                ^ syntax: \`1/2\`
pick "x
     ^^ syntax: a name
     ^^ syntax: closing quotation mark
caution “Cold water” say "x" see "y
        ^^^^^^^^^^^^ syntax: straight
                                 ^^ syntax: closing quotation mark
— a note
^^^^^^^^ syntax: two hyphens`);
  });

  test("numbers, days, dates and times that do not exist are not guessed", () => {
    check(`
pattern "p" move x up when a is feb 30 or 2027-02-29 or 24:00 or 1/0 or 04/05/2027 or 2028-02-29 or feb 29
                                ^^^^^^ range: no such day
                                          ^^^^^^^^^^ range: no such date
                                                        ^^^^^ range: no such time
                                                                 ^^^ range: no such number
                                                                        ^^^^^^^^^^ syntax: \`2027-04-05\` or \`2027-05-04\``);
  });

  test("words of the language used as names", () => {
    check(`
condition pattern: a, b
          ^^^^^^^ name: cannot be a name
pick sort: trust, book, see
           ^^^^^ name: cannot be a name
                  ^^^^ name: cannot be a name
                        ^^^ name: cannot be a name`);
  });

  test("each fix makes its finding go away", () => {
    const slips = [
      'Pattern "A" move b up',
      'pattern "A" move B up',
      'pattern "A" move b up when day from 15 april to may 20',
      "pick a: ½ oz, .5 oz, 1,200 g, −3 g",
      'caution “x” say "y"',
      'book "a',
      "judgment a: same as b",
      "situation x: a and b or c",
      "situation x: d is e, f",
      "situation x: d is colder 3",
      'pattern "p" go wth b c',
      'pattern "p" never a b, c or d',
      'pattern "p" move b up because "x" because "y"',
      "— note\npick a: b",
      "situation x: a is 5:30 pm",
      "situation x: t is 3 ° F",
      "condition d: times of day",
      "situation x: y is 2027/4/15",
      "situation x: y is 4/15/2027",
    ];
    for (const text of slips) {
      const findings = find(text);
      expect(findings.filter(({ fixes }) => fixes !== undefined).length, text).toBeGreaterThan(0);
      for (const { fixes, code, title } of findings)
        for (const fix of fixes ?? [])
          expect(
            find(applied(text, fix)).filter((one) => one.code === code && one.title === title),
            fix.title,
          ).toEqual([]);
    }
  });
});

describe("nothing else suffers", () => {
  const sound = 'pattern "S"\n  go with blade colorado\n  when clarity is dirty\n';
  test.each([
    "pattern",
    'pattern "x',
    'pattern "x" go with',
    "condition",
    "condition x: a,",
    "situation x: (((",
    "when",
    ")",
    "trust for",
    'promise "x": a must',
    "fall back on",
    "pick x: in order",
    "impossible when a is",
    "# ? !",
  ])("beside %j", (broken) => {
    const { tree, broken: set } = parse(`${sound}${broken}\n${sound}`, "x");
    const patterns = tree.statements.filter((one): one is Pattern => one.kind === "pattern" && one.title?.value === "S");
    expect(patterns.length).toBe(2);
    for (const pattern of patterns) expect([pattern.actions.length, pattern.when?.kind]).toEqual([1, "compare"]);
    expect(set.has(patterns[1]!)).toBe(false);
  });

  test("the sound clauses of a broken pattern reach the tree", () => {
    const { tree, findings } = parse(
      'pattern "p"\n  go with\n  lean to blade willow\n  when clarity is is\n  never blade\n  because "x"\n  until someday\n  beats "q"',
      "x",
    );
    const [pattern] = tree.statements as [Pattern];
    expect(findings.length).toBe(4);
    expect(pattern.actions.map(({ kind }) => kind)).toContain("lean to");
    expect([pattern.because?.value, pattern.beats[0]?.value]).toEqual(["x", "q"]);
  });

  test("ten mistakes are ten findings", () => {
    const mistakes = [
      "book",
      "builds on common",
      "condition x a, b",
      "band x: a below, b",
      "group x: y is",
      "situation : a",
      "impossible when",
      'pattern "p" go with x',
      "trust clarity,",
      'promise "p" x must be y',
    ];
    expect(find(mistakes.join("\n")).length).toBe(10);
  });
});

describe("what is no book at all", () => {
  test("an empty one has nothing to say", () => {
    for (const text of ["", "\uFEFF", " \r\n\t", "-- only a comment", "-- a\r-- b"]) {
      const { tree, findings } = parse(text, "x");
      expect([tree.statements.length, findings.length]).toEqual([0, 0]);
    }
  });

  test("rubbish has a bounded number of findings, and says how many more", () => {
    const rubbish = Array.from({ length: 50_000 }, (_, i) => String.fromCharCode((i * 7919) % 256)).join("");
    const findings = find(rubbish);
    expect(findings.length).toBe(findingLimit + 1);
    expect(findings.at(-1)!.message).toMatch(/^[\d,]+ more things in this book could not be read/);
    for (const { message, title } of findings) expect(/[\p{Cc}\p{Cs}]/u.test(message + title)).toBe(false);
  });

  test("deep nesting is a finding", () => {
    for (const deep of [
      `${"(".repeat(10_000)}a${")".repeat(10_000)}`,
      "(".repeat(10_000),
      `${"not ".repeat(10_000)}a`,
      `${"not (".repeat(5_000)}a`,
    ]) {
      const { tree, findings } = parse(`situation x: ${deep}\nsituation y: b`, "x");
      expect(findings.map(({ title }) => title)).toEqual(["This test is nested too deeply"]);
      expect(tree.statements.length).toBe(2);
    }
    expect(find(`situation x: ${"(".repeat(60)}a${")".repeat(60)}`)).toEqual([]);
  });

  test("a statement without end is a finding", () => {
    for (const long of [
      "when ".repeat(20_000),
      "name ".repeat(20_000),
      "go with blade x y ".repeat(5_000),
      "lean to b c because ".repeat(5_000),
    ]) {
      const titles = find(`pattern "x" ${long}\npattern "y" move z up`).map(({ title }) => title);
      expect(titles).toContain("This statement is too long");
    }
  });
});

function applied(text: string, fix: Fix): string {
  return [...fix.edits]
    .reverse()
    .sort((a, b) => b.range.start - a.range.start)
    .reduce((book, { range, text: put }) => book.slice(0, range.start) + put + book.slice(range.end), text);
}
