/** Whatever a book says, a model comes out that keeps its word, and findings that can be shown. */
import { readFileSync } from "node:fs";
import fc from "fast-check";
import { expect, test } from "vitest";
import { severities } from "../../src/diagnostics.js";
import type { Model, Test } from "../../src/model/model.js";
import { resolve } from "../../src/model/resolve.js";
import { parse } from "../../src/syntax/parse.js";

const files = (path: string): string => readFileSync(new URL(`../books/${path}`, import.meta.url), "utf8");
const root = "hollin.lore";
const base = "common/conditions.lore";
const words = (text: string): string[] => text.match(/"[^"]*"|--.*|\s+|[^\s"]+/g) ?? [];
const texts = { [root]: words(files(root)), [base]: words(files(base)) };

/** What a hand may do to a text: take a word out, say it twice, swap two, put in another one from the book. */
const slip = fc.record({
  path: fc.constantFrom(root, root, root, base),
  kind: fc.constantFrom("take", "double", "swap", "put"),
  at: fc.nat(10_000),
  other: fc.nat(10_000),
});

test("every slip leaves a sound model", { timeout: 60_000 }, () => {
  fc.assert(
    fc.property(fc.array(slip, { minLength: 1, maxLength: 6 }), (slips) => {
      const books = { [root]: [...texts[root]], [base]: [...texts[base]] };
      for (const { path, kind, at, other } of slips) {
        const list = books[path];
        const [i, j] = [at % list.length, other % list.length];
        if (kind === "take") list.splice(i, 1);
        else if (kind === "double") list.splice(i, 0, list[i]!, " ");
        else if (kind === "swap") [list[i], list[j]] = [list[j]!, list[i]!];
        else list[i] = list[j]!;
      }
      const joined = Object.fromEntries(Object.entries(books).map(([path, list]) => [path, list.join("")]));
      const { model, findings } = resolve(
        parse(joined[root]!, root),
        (path) => (path in joined ? { text: joined[path]! } : { problem: "there is no such file" }),
        { on: "2027-04-15" },
      );
      expectSound(model);
      for (const { code, severity, path, range, title, message, help, fixes } of findings) {
        const length = joined[path]!.length;
        expect(severity).toBe(severities[code]);
        expect(range.start >= 0 && range.start <= range.end && range.end <= length, `${code} ${title}`).toBe(true);
        expect(title).not.toMatch(/[.]$/);
        expect(`${message} ${help}`).not.toMatch(/undefined|\[object|NaN/);
        expect(
          [message, help].every((sentence) => /[.?”)`]$/.test(sentence)),
          `${message} | ${help}`,
        ).toBe(true);
        for (const { edits } of fixes ?? [])
          for (const edit of edits) expect(edit.range.end).toBeLessThanOrEqual(joined[edit.path]!.length);
      }
    }),
    { numRuns: 150 },
  );
});

/** What model.ts promises. */
function expectSound(model: Model): void {
  expect(model.books.at(-1)!.path).toBe(root);
  for (const list of [
    model.conditions,
    model.axes,
    model.bands,
    model.groups,
    model.situations,
    model.picks,
    model.patterns,
    model.impossible,
    model.cautions,
    model.promises,
  ]) {
    expect(list.map(({ index }) => index)).toEqual([...list.keys()]);
  }
  for (const { axes, index } of model.conditions) for (const axis of axes) expect(model.axes[axis]!.condition).toBe(index);
  for (const { size, weights, limits, precision } of model.axes) {
    expect(size).toBeGreaterThan(0);
    if (weights) expect([weights.length, limits!.length * 2 - 1, precision!.length * 2 - 1]).toEqual([size, size, size]);
    limits?.forEach((limit, i) => expect(i === 0 || limit.gt(limits[i - 1]!)).toBe(true));
  }
  for (const { condition, span } of model.bands) expectWithin(span, model.axes[model.conditions[condition]!.axes[0]!]!.size);
  for (const { test } of model.situations) expectTest(model, test, model.picks.length);
  for (const { when } of [...model.cautions, ...model.promises]) expectTest(model, when, model.picks.length);
  for (const { when } of model.impossible) expectTest(model, when, 0);
  for (const pick of model.picks) {
    for (const when of [pick.onlyWhen, ...pick.sayNothing.map((silence) => silence.when)]) expectTest(model, when, pick.index);
    for (const tested of pick.tests) expect(tested).toBeLessThan(pick.index);
    for (const option of pick.fallBack?.places.flat() ?? []) expect(option).toBeLessThan(pick.options.length);
    if (pick.sameAs) expect(pick.sameAs.spans).toHaveLength(pick.options.length);
    expect(pick.trust.every(({ kind, index }) => index < (kind === "condition" ? model.conditions : model.picks).length)).toBe(true);
  }
  for (const { when, goes, leans, nevers, moves, beats } of model.patterns) {
    const speaks = [...goes, ...leans, ...nevers, ...moves].map(({ pick }) => pick);
    expect(speaks.length).toBeGreaterThan(0);
    expectTest(model, when, Math.min(...speaks));
    const options = [
      ...goes.flatMap(({ pick, places }) => places.flat().map((option) => [pick, option])),
      ...leans.map(({ pick, option }) => [pick, option]),
      ...nevers.flatMap(({ pick, options }) => options.map((option) => [pick, option])),
    ];
    for (const [pick, option] of options) expect(option).toBeLessThan(model.picks[pick!]!.options.length);
    for (const { pick } of moves) expect(model.picks[pick]!.ordered).toBe(true);
    for (const { pattern } of beats) expect(pattern).toBeLessThan(model.patterns.length);
  }
  for (const { picks, when } of model.held) {
    expect(picks.length).toBeGreaterThan(0);
    expectTest(model, when, Math.min(...picks));
  }
}

/** Spans on their axes, and picks only before the one that tests them. */
function expectTest(model: Model, test: Test | undefined, before: number): void {
  if (test === undefined) return;
  if (test.kind === "and" || test.kind === "or") {
    expect(test.parts.length).toBeGreaterThan(0);
    test.parts.forEach((part) => expectTest(model, part, before));
  } else if (test.kind === "not") expectTest(model, test.part, before);
  else if (test.kind === "axis") expectWithin(test.span, model.axes[test.axis]!.size);
  else if (test.kind === "pick") {
    expect(test.pick).toBeLessThan(before);
    expectWithin(test.span, model.picks[test.pick]!.options.length);
  }
}

function expectWithin(span: readonly number[], size: number): void {
  expect(span.length % 2).toBe(0);
  span.forEach((bound, i) => expect(bound >= (i === 0 ? 0 : span[i - 1]!) && bound < size).toBe(true));
}
