/**
 * Laws of quick fixes and refactorings, over random small books and over the shipped ones with damage done to them:
 *
 *   a quick fix      applied, its finding is gone, and no error of reading is there that was not there before; every pattern still applies
 *                    somewhere, unless the title says that it goes
 *   a refactoring    keeps every answer at every point
 *   either           keeps the comments, and the usual layout of a book that was in it
 *
 * What is gone and what is new is judged here by a full check of the changed books, not by what the actions themselves look at.
 * `LAW_RUNS=2000` runs more books, `LAW_SEED=…` tries others.
 */
import { readFileSync } from "node:fs";
import * as fc from "fast-check";
import { afterAll, describe, expect, test } from "vitest";
import { toTheEnd } from "../../src/analysis/budget.js";
import { analyse } from "../../src/analysis/analyse.js";
import { outcomeKey } from "../../src/analysis/answers.js";
import { answersAt } from "../../src/analysis/point.js";
import type { Finding } from "../../src/diagnostics.js";
import type { Read } from "../../src/model/books.js";
import type { Model, Test } from "../../src/model/model.js";
import { gatheringActions, mends, rewrites, type Action, type ActionOptions } from "../../src/service/actions/actions.js";
import { applied } from "../../src/service/actions/edits.js";
import { nodesIn, testsOf } from "../../src/service/actions/written-tests.js";
import { openView, withAnalysis, type View } from "../../src/service/view.js";
import { pathBeside } from "../../src/paths.js";
import { format } from "../../src/syntax/print.js";
import type { Range } from "../../src/text.js";
import { damaged, wordDamages } from "../hard/damage.js";
import { books } from "../law/books.js";
import { evaluate } from "../law/oracle.js";
import { goingThrough } from "../law/points.js";
import { plainBooks, slips } from "./plain-books.js";

const runs = Number(process.env["LAW_RUNS"] ?? 60);
const actionsAt = (...from: Parameters<typeof gatheringActions>): readonly Action[] => toTheEnd(gatheringActions(...from));
const day = "2027-04-15";

type Texts = Readonly<Record<string, string>>;

function viewOf(texts: Texts, root: string): View {
  const read: Read = (path) => (texts[path] === undefined ? { problem: "is not among the texts" } : { text: texts[path] });
  const view = openView(root, texts[root]!, read, { on: day });
  return withAnalysis(view, analyse(view.model));
}

function findingsOf(view: View): readonly Finding[] {
  return [...view.findings, ...view.analysis!.findings];
}

function after(texts: Texts, { edits }: Action): Texts {
  return Object.fromEntries(applied(new Map(Object.entries(texts)), edits));
}

// The laws ----------------------------------------------------------------------------------------------------------------

const exercised = new Map<string, number>();
function note(action: Action): void {
  const key = action.finding ? `${action.from} (${action.finding.code})` : action.from;
  exercised.set(key, (exercised.get(key) ?? 0) + 1);
}

/** The other books, there to be built on. */
function beside(texts: Texts, { path }: View): Pick<ActionOptions, "paths" | "read"> {
  const others = Object.keys(texts).filter((other) => other !== path);
  return {
    paths: others.map((other) => pathBeside(path, other)),
    read: (wanted) => (texts[wanted] === undefined ? { problem: "is not among the texts" } : { text: texts[wanted] }),
  };
}

/** Offers all fixes for a finding, and holds each to the law. */
function mendsWell(texts: Texts, view: View, finding: Finding): readonly Action[] {
  const actions = actionsAt(view, finding.range, [finding], { only: ["quickfix"], ...beside(texts, view) });
  for (const action of actions) {
    note(action);
    const changed = after(texts, action);
    const mended = viewOf(changed, view.path);
    const left = findingsOf(mended);
    const about = `${action.from}: ${action.title}\n${view.text}\n---- becomes\n${changed[view.path]}`;
    expect(left.filter((one) => isStill(one, mended, finding, view)).length, about).toBeLessThan(
      Math.max(1, findingsOf(view).filter((one) => isStill(one, view, finding, view)).length),
    );
    expect(errorCounts(mended, view), about).toEqual([]);
    expect(silenced(view.model, mended.model, action.title), about).toEqual([]);
    keepsShape(view, mended, about, action);
  }
  expect(new Set(actions.map(({ title }) => title)).size, view.text).toBe(actions.length);
  return actions;
}

/** Patterns that apply at some point before and at none after, or are gone though the title does not name them; told point by point. */
function silenced(before: Model, after: Model, title: string): readonly string[] {
  return before.patterns
    .filter((pattern) => {
      const now = after.patterns.find((one) => one.title === pattern.title);
      if (now === undefined) return !title.includes(pattern.title);
      if (bare(now.when) === bare(pattern.when) && before.axes.every(({ size }, axis) => size === after.axes[axis]?.size)) return false;
      return appliesSomewhere(after, now.when) === false && appliesSomewhere(before, pattern.when) === true;
    })
    .map((pattern) => pattern.title);
}

function bare(when: Test | undefined): string | undefined {
  return JSON.stringify(when, (key, value: unknown) => (key === "range" ? undefined : value));
}

/** Points that are looked at before it is left open. */
const MOST_POINTS = 4000;
/** The same where every pick has to be answered at each of them. */
const FEW_POINTS = 200;

function appliesSomewhere(model: Model, when: Test | undefined): boolean | undefined {
  if (!when) return true;
  const testsPicks = JSON.stringify(when).includes('"kind":"pick"');
  let left = testsPicks ? FEW_POINTS : MOST_POINTS;
  for (const point of goingThrough(model)) {
    const outcomes = testsPicks ? answersAt(model, point).map(({ outcome }) => outcome) : [];
    if (evaluate(when, point, outcomes).truth === "holds") return true;
    if (left-- === 0) return undefined;
  }
  return false;
}

/** Offers all refactorings at a selection, and holds each to the law. */
function keepsAnswers(texts: Texts, view: View, selection: Range, points: number): void {
  for (const action of actionsAt(view, selection, [], { only: ["refactor"] })) {
    note(action);
    const changed = after(texts, action);
    const other = viewOf(changed, view.path);
    const about = `${action.from}: ${action.title}\n${view.text}\n---- becomes\n${changed[view.path]}`;
    expect(errorCounts(other, view), about).toEqual([]);
    expect(findingsOf(other).filter(({ code, severity }) => code === "promise" && severity === "error").length, about).toBeLessThanOrEqual(
      findingsOf(view).filter(({ code, severity }) => code === "promise" && severity === "error").length,
    );
    expect(
      other.model.axes.map(({ size, limits }) => [size, limits?.map(String)]),
      about,
    ).toEqual(view.model.axes.map(({ size, limits }) => [size, limits?.map(String)]));
    let left = points;
    for (const point of goingThrough(view.model)) {
      if (left-- === 0) break;
      expect(
        answersAt(other.model, point).map(({ outcome }) => outcomeKey(outcome)),
        about,
      ).toEqual(answersAt(view.model, point).map(({ outcome }) => outcomeKey(outcome)));
    }
    keepsShape(view, other, about, action);
  }
}

/** The same trouble: of the same code, pick and patterns; of a promise, the same promise; of a hairline, at the same value; of reading, in the same words. */
function isStill(one: Finding, now: View, finding: Finding, before: View): boolean {
  if (one.code !== finding.code || one.pick !== finding.pick) return false;
  if (one.code === "promise") return textAt(now, one) === textAt(before, finding);
  if (one.code === "hairline")
    return before.model.conditions.every(
      ({ name, axes }) => before.model.axes[axes[0]!]!.limits === undefined || one.example![name] === finding.example![name],
    );
  return (
    String(one.patterns) === String(finding.patterns) &&
    (finding.example !== undefined || (one.path === finding.path && one.message === finding.message))
  );
}

function textAt({ model }: View, { path, range }: Finding): string | undefined {
  return model.books.find((book) => book.path === path)?.text.slice(range.start, range.end);
}

/** Codes of reading of which there are more errors than before. */
function errorCounts(now: View, before: View): readonly string[] {
  const count = (view: View, code: string): number => view.findings.filter((one) => one.severity === "error" && one.code === code).length;
  return [...new Set(now.findings.map(({ code }) => code))].filter((code) => count(now, code) > count(before, code));
}

function keepsShape(before: View, now: View, about: string, { from }: Action): void {
  if (format(before.text) === before.text) expect(format(now.text), about).toBe(now.text);
  if (from === "remove-pattern" || from === "duplicate") return;
  const comments = (view: View): readonly string[] => view.parsed.tree.comments.map(({ text }) => text).sort();
  expect(comments(now), about).toEqual(comments(before));
}

// Books -------------------------------------------------------------------------------------------------------------------

describe("random books", () => {
  const sample = fc.sample(books({ points: 150, patterns: 8, picks: 3, conditions: 3 }), { numRuns: runs });

  test("quick fixes mend", { timeout: 600_000 }, () => {
    for (const [i, { texts, root }] of sample.entries()) {
      const shaped: Texts = i % 2 === 0 ? { ...texts, [root]: format(texts[root]!) } : texts;
      const view = viewOf(shaped, root);
      for (const finding of findingsOf(view).slice(0, 8)) if (finding.path === root) mendsWell(shaped, view, finding);
    }
  });

  test("refactorings keep every answer", { timeout: 600_000 }, () => {
    for (const [i, { texts, root }] of sample.slice(0, Math.ceil(runs / 3)).entries()) {
      const shaped: Texts = i % 2 === 0 ? { ...texts, [root]: format(texts[root]!) } : texts;
      const view = viewOf(shaped, root);
      for (const statement of view.parsed.tree.statements) {
        const places = [
          statement.range.start + 1,
          ...testsOf(statement)
            .flatMap((one) => [...nodesIn(one)])
            .flatMap(({ range }) => [range.start, range.end]),
        ];
        for (const at of [...new Set(places)].slice(0, 4)) keepsAnswers(shaped, view, { start: at, end: at }, 60);
      }
    }
  });
});

describe("plain books", () => {
  const sample = fc.sample(plainBooks, { numRuns: 2 * runs });

  test("quick fixes mend", { timeout: 600_000 }, () => {
    for (const [i, text] of sample.entries()) {
      const texts = { "book.lore": i % 2 === 0 ? format(text) : text };
      const view = viewOf(texts, "book.lore");
      for (const finding of findingsOf(view)
        .filter(({ code }) => code !== "never-asked")
        .slice(0, 6))
        mendsWell(texts, view, finding);
    }
  });

  test.each(Object.entries(slips))("%s", { timeout: 600_000 }, (_, slip) => {
    let made = 0;
    for (const [i, text] of sample.entries()) {
      if (made === Math.ceil(runs / 8)) break;
      const before = viewOf({ "book.lore": text }, "book.lore");
      const texts = { "book.lore": slip(text, i) };
      if (texts["book.lore"] === text) continue;
      made++;
      const view = viewOf(texts, "book.lore");
      const known = new Set(before.findings.map(({ message }) => message));
      const found = view.findings.filter(({ message, severity }) => severity === "error" && !known.has(message));
      expect(found, text).not.toEqual([]);
      for (const finding of found) expect(mendsWell(texts, view, finding).length, `${finding.code}: ${finding.message}`).toBeGreaterThan(0);
    }
    expect(made).toBeGreaterThan(2);
  });

  test("refactorings keep every answer", { timeout: 600_000 }, () => {
    for (const [i, text] of sample.slice(0, Math.ceil(runs / 5)).entries()) {
      const texts = { "book.lore": i % 2 === 0 ? format(text) : text };
      const view = viewOf(texts, "book.lore");
      for (const statement of view.parsed.tree.statements)
        for (const { range } of testsOf(statement).flatMap((one) => [...nodesIn(one)])) keepsAnswers(texts, view, range, 60);
    }
  });
});

describe("the books of the hint pages", () => {
  const folder = new URL("../../src/hints/", import.meta.url);
  const mendable = [
    "changes-nothing",
    "conflict",
    "does-nothing",
    "duplicate",
    "gap",
    "hairline",
    "mixing",
    "name",
    "never-asked",
    "never-recommended",
    "promise",
    "set-clash",
    "stale",
    "toss-up",
    "waiting",
  ];

  test.each(mendable)("%s", (code) => {
    const book = /```lore\n([\s\S]*?)```/.exec(readFileSync(new URL(`${code}.md`, folder), "utf8"))![1]!;
    const texts = { "book.lore": /^book /m.test(book) ? book : `book "Example"\n${book}` };
    const view = viewOf(texts, "book.lore");
    const found = findingsOf(view).filter((one) => one.code === code);
    expect(found).not.toEqual([]);
    expect(found.flatMap((finding) => mendsWell(texts, view, finding))).not.toEqual([]);
  });
});

describe("books in pieces", () => {
  test("are no harm, and what is offered mends", { timeout: 600_000 }, () => {
    fc.assert(
      fc.property(plainBooks, wordDamages(4), fc.nat(997), (text, damage, at) => {
        const texts = { "book.lore": damaged(text, damage) };
        const view = viewOf(texts, "book.lore");
        const start = at % (view.text.length + 1);
        actionsAt(view, { start, end: Math.min(view.text.length, start + 5) }, [], { only: ["refactor"] });
        for (const finding of findingsOf(view).slice(0, 3))
          for (const action of actionsAt(view, finding.range, [finding], { only: ["quickfix"] })) {
            const mended = viewOf(after(texts, action), "book.lore");
            expect(findingsOf(mended).filter((one) => isStill(one, mended, finding, view)).length, action.title).toBeLessThan(
              Math.max(1, findingsOf(view).filter((one) => isStill(one, view, finding, view)).length),
            );
          }
      }),
      { numRuns: runs },
    );
  });
});

describe("the shipped books, damaged", () => {
  const paths = [
    "rules/common/conditions.lore",
    "rules/common/cautions.lore",
    "rules/blades.lore",
    "rules/hollin-cove.lore",
    "rules/inshore.lore",
    "rules/river.lore",
  ];
  const shipped: Texts = Object.fromEntries(paths.map((path) => [path, readFileSync(new URL(`../../${path}`, import.meta.url), "utf8")]));

  test.each(damages())("$name", { timeout: 600_000 }, ({ root, codes, damage }) => {
    const text = damage(shipped[root]!);
    expect(text).not.toBe(shipped[root]);
    const texts = { ...shipped, [root]: text };
    const view = viewOf(texts, root);
    const found = findingsOf(view).filter(({ path, code }) => path === root && codes.includes(code));
    expect(found, "what the damage does").not.toEqual([]);
    // Whatever was broken can be mended from where it is told.
    for (const finding of found.slice(0, 4))
      expect(mendsWell(texts, view, finding).length, `${finding.code}: ${finding.message}`).toBeGreaterThan(0);
  });

  test("refactorings keep every answer", { timeout: 600_000 }, () => {
    const root = "rules/blades.lore";
    const view = viewOf(shipped, root);
    const patterns = view.parsed.tree.statements.filter(({ kind }) => kind === "pattern" || kind === "situation");
    for (const statement of patterns.filter((_, i) => i % 4 === 0))
      for (const { range } of testsOf(statement)
        .flatMap((one) => [...nodesIn(one)])
        .slice(0, 3))
        keepsAnswers(shipped, view, { start: range.end, end: range.end }, 200);
  });
});

interface Damage {
  readonly name: string;
  readonly root: string;
  readonly codes: readonly string[];
  readonly damage: (text: string) => string;
}

function damages(): readonly Damage[] {
  const blades = "rules/blades.lore";
  const river = "rules/river.lore";
  const inshore = "rules/inshore.lore";
  const withoutFallBacks = (text: string): string => text.replace(/^fall back on .*(?:\n {2}.*)*\n/gm, "");
  const patternsIn = (text: string): readonly string[] => text.match(/^pattern .*(?:\n {2}.*)*/gm) ?? [];
  return [
    {
      name: "a slip in a name",
      root: blades,
      codes: ["name"],
      damage: (text) => text.replace("when water-temp is cold", "when water-tmep is cold"),
    },
    {
      name: "a slip in a level",
      root: blades,
      codes: ["name"],
      damage: (text) => text.replace("when seen is stained", "when seen is stainde"),
    },
    {
      name: "a slip in a title after beats",
      root: blades,
      codes: ["name"],
      damage: (text) => text.replace('beats "Clear water wants flash"', 'beats "Clear watr wants flash"'),
    },
    { name: "no unit", root: blades, codes: ["unit"], damage: (text) => text.replace("10 mph", "10") },
    {
      name: "and with or",
      root: blades,
      codes: ["mixing"],
      damage: (text) =>
        text.replace(
          "when clarity is muddy and cover has soft and cover has no hard",
          "when clarity is muddy and cover has soft or cover has hard",
        ),
    },
    { name: "a pattern twice", root: blades, codes: ["duplicate"], damage: (text) => `${text}\n${patternsIn(text)[2]!}\n` },
    {
      name: "a twin",
      root: blades,
      codes: ["does-nothing"],
      damage: (text) => `${text}\n${patternsIn(text)[1]!.replace(/"/, '"Again: ')}\n`,
    },
    {
      name: "a twin that is beaten",
      root: blades,
      codes: ["does-nothing"],
      damage: (text) =>
        `${text}\npattern "Never hold" lean to blade leaf when sky is bright and sky is broken\n`.replace(
          'beats "Clear water wants flash"',
          'beats "Clear water wants flash", "Never hold"',
        ),
    },
    {
      name: "a part too many",
      root: blades,
      codes: ["changes-nothing"],
      damage: (text) => text.replace("when seen is stained", "when seen is stained and seen is not muddy"),
    },
    { name: "no fall backs", root: blades, codes: ["gap"], damage: withoutFallBacks },
    { name: "no fall backs, and a hairline", root: river, codes: ["hairline"], damage: withoutFallBacks },
    { name: "no fall backs at the shore", root: inshore, codes: ["gap"], damage: withoutFallBacks },
    {
      name: "no fall back on a pick that others test",
      root: river,
      codes: ["gap"],
      damage: (text) => text.replace(/^fall back on color.*(?:\n {2}.*)*\n/m, ""),
    },
    {
      name: "a rival pattern",
      root: blades,
      codes: ["conflict"],
      damage: (text) => `${text}\npattern "Sundays" go with blade leaf when seen is stained or dirty\n`,
    },
    { name: "no trust", root: river, codes: ["conflict", "toss-up"], damage: (text) => text.replace(/^trust (?!for).*\n/m, "") },
    { name: "no trust at the shore", root: inshore, codes: ["conflict"], damage: (text) => text.replace(/^trust (?!for).*\n/m, "") },
    {
      name: "nothing beats anything",
      root: river,
      codes: ["conflict"],
      damage: (text) => text.replace(/^ +beats .*(?:\n {4}.*)*\n/gm, ""),
    },
    {
      name: "a circle",
      root: blades,
      codes: ["circle"],
      damage: (text) =>
        text.replace('pattern "Clear water wants flash"\n', 'pattern "Clear water wants flash"\n  beats "Low light wants thump"\n'),
    },
    {
      name: "a situation nobody asks for",
      root: blades,
      codes: ["never-asked"],
      damage: (text) => text.replace(/^builds on .*\n/m, (line) => `${line}situation idle-hour: wind is calmer than 3 mph\n`),
    },
    {
      name: "a condition nobody asks for",
      root: blades,
      codes: ["never-asked"],
      damage: (text) =>
        text.replace(
          /^builds on .*\n/m,
          (line) => `${line}condition mood-of-the-day: good, bad\ngroup mood-of-the-day: any is good, bad\n`,
        ),
    },
    {
      name: "bands nobody asks for",
      root: blades,
      codes: ["never-asked"],
      damage: (text) => text.replace(/^builds on .*\n/m, (line) => `${line}band wind: still below 5 mph, breezy\n`),
    },
    {
      name: "a base book in another folder",
      root: blades,
      codes: ["file"],
      damage: (text) => text.replace("common/conditions.lore", "conditions.lore"),
    },
    {
      name: "a slip in the path of a base book",
      root: inshore,
      codes: ["file"],
      damage: (text) => text.replace(/common\/(cond|caut)i/, "comon/$1"),
    },
    {
      name: "the path of a base book as another system writes it",
      root: river,
      codes: ["file"],
      damage: (text) => text.replace("common/", "common\\"),
    },
    {
      name: "checked long ago",
      root: blades,
      codes: ["stale"],
      damage: (text) => text.replace("when seen is stained\n", "when seen is stained\n  checked 2025-02-01\n"),
    },
    {
      name: "until long ago",
      root: blades,
      codes: ["stale"],
      damage: (text) => text.replace("when seen is stained\n", "when seen is stained\n  until 2026-02-01\n"),
    },
    {
      name: "a limit left out on both sides",
      root: blades,
      codes: ["hairline"],
      damage: (text) =>
        text
          .replace(/^fall back on speed.*\n/m, "")
          .replace("go with speed slow\n  when water-temp is cold", "go with speed slow\n  when sun is lower than 30 deg")
          .replace("go with speed fast\n  when water-temp is warm", "go with speed fast\n  when sun is higher than 30 deg"),
    },
    {
      name: "leans that weigh the same",
      root: blades,
      codes: ["toss-up"],
      damage: (text) =>
        `${text}\npick snap: small, large\npattern "Small" lean to snap small when wind is calmer than 5 mph\npattern "Large" lean to snap large when sky is bright\nfall back on snap small\n`,
    },
  ];
}

afterAll(() => {
  const lines = [...exercised].sort(([a], [b]) => a.localeCompare(b)).map(([key, count]) => `${String(count).padStart(5)}  ${key}`);
  console.log(`Actions exercised:\n${lines.join("\n")}`);
});

test("every kind was exercised", () => {
  const totals = new Map<string, number>();
  for (const [key, count] of exercised) totals.set(key.split(" ")[0]!, (totals.get(key.split(" ")[0]!) ?? 0) + count);
  for (const kind of [...Object.keys(mends), ...Object.keys(rewrites)]) expect(totals.get(kind) ?? 0, kind).toBeGreaterThanOrEqual(3);
});
