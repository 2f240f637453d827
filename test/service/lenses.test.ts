/** Code lenses and inlay hints. */
import { describe, expect, test } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import { inlayHints } from "../../src/service/inlay-hints.js";
import { lenses, lensText } from "../../src/service/lenses.js";
import { withAnalysis, type View } from "../../src/service/view.js";
import { open } from "./marks.js";

const base = `condition clarity: in order clear, stained, dirty, muddy
  rising is dirtier, falling is clearer
condition sky: in order bright, dark
pick blade: round, leaf
pick speed: slow, fast
trust clarity first, then sky
pattern "Mud wants thump"
  go with blade round
  when clarity is dirty or dirtier
promise "Of the base": blade must be round when clarity is muddy
`;
const book = `builds on "base.lore"
pattern "The dark wants flash"
  go with blade leaf
  go with speed fast
  when sky is dark
  beats "Mud wants thump"
pattern "A bit of both"
  lean to speed slow
  when clarity is clear
fall back on blade leaf
fall back on speed slow
promise "Never slow in the dark": speed must not be slow when sky is dark
promise "Always round in mud": blade must be round when clarity is muddy
`;
const { view } = open({ "base.lore": base, "book.lore": book });
const analysed = withAnalysis(view, analyse(view.model));
const shown = (of: View): readonly string[] =>
  lenses(of).map((lens) => `${of.text.slice(lens.range.start, lens.range.end)} ${lensText(of, lens)?.text}`);

describe("lenses", () => {
  test("what patterns decide, and whether promises hold: of this book, in reading order", () => {
    expect(shown(analysed)).toEqual([
      '"The dark wants flash" decides 50 %',
      '"A bit of both" decides 13 %, yields in 13 %',
      '"Never slow in the dark" holds',
      '"Always round in mud" fails: clarity muddy, sky dark',
    ]);
  });
  test("where a pattern fares differently on its picks, each is named", () => {
    const { view: other } = open(
      `${base}pattern "Dark" go with blade leaf\n  go with speed fast\n  when sky is dark\nfall back on blade leaf\n`,
    );
    // Of the dark half, the dirty half goes to the mud.
    expect(shown(withAnalysis(other, analyse(other.model)))).toContain('"Dark" blade: decides 25 %, yields in 25 %; speed: decides 50 %');
  });
  test("what each leads to", () => {
    expect(lenses(analysed).map((lens) => lensText(analysed, lens)!.leads)).toEqual([
      { to: "rows", pick: "blade", title: "The dark wants flash" },
      { to: "rows", pick: "speed", title: "A bit of both" },
      undefined,
      { to: "day", example: { clarity: "muddy", sky: "dark" } },
    ]);
  });
  test("of two that disagree, each leads to the other", () => {
    const { view: other } = open(`${base}pattern "Mud" go with blade leaf when clarity is dirty or dirtier\n`);
    const both = withAnalysis(other, analyse(other.model));
    const rivals = lenses(both).filter(({ kind }) => kind === "rival");
    expect(rivals.map((lens) => [lens.index, lensText(both, lens)])).toEqual([
      [0, { text: "against “Mud”", good: false, leads: { to: "pattern", pattern: 1 } }],
      [1, { text: "against “Mud wants thump”", good: false, leads: { to: "pattern", pattern: 0 } }],
    ]);
  });
  test("a pattern that decides nothing leads to the one it yields to", () => {
    const { view: other } = open(
      `${base}pattern "Never" go with blade leaf when clarity is muddy\npattern "Always" go with blade leaf when clarity is dirty or dirtier\n  beats "Never", "Mud wants thump"\n`,
    );
    const all = withAnalysis(other, analyse(other.model));
    expect(lenses(all).map((lens) => lensText(all, lens)!.leads)).toContainEqual({ to: "pattern", pattern: 2 });
  });
  test("whether all is well", () =>
    expect(lenses(analysed).map((lens) => lensText(analysed, lens)!.good)).toEqual([true, true, true, false]));
  test("a promise that the budget left open is not called kept", () => {
    const short = withAnalysis(view, analyse(view.model, { steps: 2 }));
    expect(
      lenses(short)
        .filter(({ kind }) => kind === "promise")
        .map((lens) => lensText(short, lens)!.text),
    ).toEqual(["not decided", "not decided"]);
  });
  test("none before there is an analysis, and none for what is broken", () => {
    expect(lenses(view)).toEqual([]);
    const { view: broken } = open('pick a: x\npattern "P"\n  go with\npromise "Q": a must\n');
    expect(lenses(withAnalysis(broken, analyse(broken.model)))).toEqual([]);
  });
  test("a book in which nothing is possible", () => {
    const { view: none } = open(
      'condition a: x, y\nimpossible when a is x or y\npick b: c\npattern "P" go with b c when a is x\npromise "Q": b must be c\n',
    );
    expect(shown(withAnalysis(none, analyse(none.model)))).toEqual(['"P" undefined', '"Q" not decided']);
  });
});

describe("inlay hints", () => {
  test("the share a pattern decides, after its title, in the range asked for", () => {
    const all = inlayHints(analysed, { start: 0, end: view.text.length });
    expect(all).toEqual([
      { offset: view.text.indexOf('flash"') + 6, text: "decides 50 %" },
      { offset: view.text.indexOf('both"') + 5, text: "decides 13 %" },
    ]);
    expect(inlayHints(analysed, { start: view.text.indexOf('pattern "A bit'), end: view.text.length })).toEqual(all.slice(1));
    expect(inlayHints(view, { start: 0, end: view.text.length })).toEqual([]);
  });
});
