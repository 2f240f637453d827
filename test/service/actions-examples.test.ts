/** Every kind of action opens with a book before and after it; here they are run. */
import { readFileSync, readdirSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { toTheEnd } from "../../src/analysis/budget.js";
import { analyse } from "../../src/analysis/analyse.js";
import { gatheringActions, mends, rewrites } from "../../src/service/actions/actions.js";
import { applied } from "../../src/service/actions/edits.js";
import { openView, withAnalysis } from "../../src/service/view.js";

const folder = new URL("../../src/service/actions/", import.meta.url);
const examples = readdirSync(folder).flatMap((file) => {
  const header = /\/\*\*[\s\S]*?\*\//.exec(readFileSync(new URL(file, folder), "utf8"))![0].replace(/^ \* ?/gm, "");
  const found =
    /Before \((?:`([a-z-]+)`(?:, on (\S+))?|the selection in ‹ ›)\)[^\n]*:\n```lore\n([\s\S]*?)```\nAfter \(([^\n]*)\):\n```lore\n([\s\S]*?)```/.exec(
      header,
    );
  return found
    ? [{ name: file.replace(/\.ts$/, ""), code: found[1], on: found[2], before: found[3]!, title: found[4]!, after: found[5]! }]
    : [];
});

const head = 'book "Example"\n';
/** A book beside each of them, which none has heard of. */
const beside = {
  paths: ["common/conditions.lore"],
  read: () => ({ text: 'book "Conditions"\ncondition clarity: in order clear, muddy\n' }),
};

describe("the book before and after each action", () => {
  test.each(examples)("$name", ({ name, code, on, before, title, after }) => {
    const marked = head + before;
    const start = code === undefined ? marked.indexOf("‹") : 0;
    const end = code === undefined ? marked.indexOf("›") - 1 : marked.length;
    const text = marked.replace(/[‹›]/g, "");
    const opened = openView("book.lore", text, () => ({ problem: "is not there" }), { ...(on !== undefined && { on }) });
    const view = withAnalysis(opened, analyse(opened.model));
    const findings = [...view.findings, ...view.analysis!.findings].filter((finding) => finding.code === code);
    if (code !== undefined) expect(findings).not.toEqual([]);
    const actions = toTheEnd(gatheringActions(view, { start, end }, findings, beside)).filter(({ from }) => from === name);
    expect(actions.map((action) => action.title)).toContain(title);
    const { edits } = actions.find((action) => action.title === title)!;
    expect(applied(new Map([["book.lore", text]]), edits).get("book.lore")).toBe(head + after);
  });

  test("no kind of action goes without", () => {
    expect(examples.map(({ name }) => name).sort()).toEqual([...Object.keys(mends), ...Object.keys(rewrites)].sort());
  });
});

test("what is interrupted keeps what it has found", () => {
  const text = `${head}condition sky: clear, dark
condition wind: calm, strong
pick blade: round, leaf
pattern "a" go with blade round when sky is clear
pattern "b" go with blade leaf when wind is calm
fall back on blade round
`;
  // What is tried on one view is not tried again.
  const gathered = (pieces: number) => {
    const opened = openView("book.lore", text, () => ({ problem: "is not there" }));
    const view = withAnalysis(opened, analyse(opened.model));
    let left = pieces;
    const work = gatheringActions(view, { start: 0, end: text.length }, view.analysis!.findings, { interrupted: () => left <= 0 });
    for (;;) {
      const piece = work.next();
      if (piece.done) return piece.value.map(({ title }) => title);
      left--;
    }
  };
  const all = gathered(Infinity);
  const lengths = new Set<number>();
  for (let pieces = 0; !lengths.has(all.length); pieces++) {
    const some = gathered(pieces);
    expect(some).toEqual(all.slice(0, some.length));
    lengths.add(some.length);
  }
  // From nothing to all, one after the other.
  expect([...lengths]).toEqual([...all.keys(), all.length]);
  expect(all.length).toBeGreaterThan(2);
});
