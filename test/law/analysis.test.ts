/**
 * Laws of the analysis, tried on random small books: what it finds is what the oracle finds by going through every possible point,
 * no more and no less.
 */
import * as fc from "fast-check";
import Fraction from "fraction.js";
import { describe, expect, test } from "vitest";
import { analyse, type Analysis } from "../../src/analysis/analyse.js";
import { withoutEachPart } from "../../src/analysis/checks/idle.js";
import { lookup } from "../../src/analysis/diagrams/diagram.js";
import type { Finding } from "../../src/diagnostics.js";
import type { Model, Pattern, Test } from "../../src/model/model.js";
import { exampleOf } from "../../src/model/points.js";
import { applied, check } from "../check.js";
import { books, thinBooks, type Books, type Sizes } from "./books.js";
import { plainBooks } from "./plain-books.js";
import { evaluate, isSpokenOn, oracle, type Answer } from "./oracle.js";
import { canonical, pointInWords, possiblePoints, sharesOf, type Weighed } from "./points.js";
import { read } from "./reading.js";

const runs = Number(process.env["LAW_RUNS"] ?? 100);
const seed = process.env["LAW_SEED"] === undefined ? undefined : Number(process.env["LAW_SEED"]);

interface Book {
  readonly texts: Books;
  readonly model: Model;
  readonly analysis: Analysis;
  readonly points: readonly (Weighed & { readonly answers: readonly Answer[] })[];
}

function law(
  name: string,
  holds: (book: Book) => void,
  { numRuns = runs, from, ...sizes }: Sizes & { readonly numRuns?: number; readonly from?: fc.Arbitrary<Books> } = {},
): void {
  test(name, { timeout: 240_000 }, () => {
    fc.assert(
      fc.property(from ?? books({ points: 300, ...sizes }), (texts) => {
        const { model, faults } = read(texts.texts, texts.root);
        expect(faults.map(({ message }) => message)).toEqual([]);
        const points = [...possiblePoints(model)].map((weighed) => ({ ...weighed, answers: oracle(model, weighed.point) }));
        if (points.length === 0) return;
        const analysis = analyse(model);
        expect(analysis.undecided).toEqual([]);
        holds({ texts, model, analysis, points });
      }),
      { numRuns, ...(seed === undefined ? {} : { seed }) },
    );
  });
}

function ofCode(analysis: Analysis, ...codes: string[]): readonly Finding[] {
  return analysis.findings.filter(({ code }) => codes.includes(code));
}

/** The possible points whose values are the example's, wherever the example gives one. */
function agreeing({ model, points }: Book, finding: Finding) {
  const named = model.conditions.filter(({ name }) => name in finding.example!).map(({ index }) => index);
  return points.filter(({ point }) => JSON.stringify(exampleOf(model, point, named)) === JSON.stringify(finding.example));
}

/** Outcomes of a changed model at the same points. */
function sameAnswers({ points }: Book, changed: Model): boolean {
  return points.every(({ point, answers }) => {
    const after = oracle(changed, point);
    return answers.every((answer, pick) => JSON.stringify(canonical(answer.outcome)) === JSON.stringify(canonical(after[pick]!.outcome)));
  });
}

function withPattern(model: Model, pattern: Pattern, when: Test): Model {
  return { ...model, patterns: model.patterns.map((other) => (other === pattern ? { ...pattern, when } : other)) };
}

describe("the diagrams", () => {
  law("say at every possible point what the oracle says", ({ model, analysis, points }) => {
    for (const { point, answers } of points)
      model.picks.forEach((pick) =>
        expect(canonical(lookup(analysis.answers.picks[pick.index]!.whole, (axis) => point[axis]!)), pointInWords(model, point)).toEqual(
          canonical(answers[pick.index]!.outcome),
        ),
      );
  });
  const exactShares = ({ model, analysis }: Book): void => {
    const shares = sharesOf(model);
    const words = (record: object): object =>
      Object.fromEntries(Object.entries(record).map(([status, share]) => [status, share.toFraction()]));
    expect(analysis.coverage.map(({ shares }) => words(shares))).toEqual(shares.map(words));
  };
  law("have the exact share of every status", exactShares);
  law("and so they have where only single values of a measure are possible", exactShares, { from: thinBooks({ points: 400 }) });
});

describe("findings are there exactly where brute force says so", () => {
  law("gap, conflict or circle, and toss-up, with their shares", (book) => {
    const { model, analysis, points } = book;
    const total = points.reduce((sum, { weight }) => sum + weight, 0n);
    for (const pick of model.picks) {
      const statusOf = (point: (typeof points)[number]): string => point.answers[pick.index]!.outcome.status;
      for (const [status, ...codes] of [
        ["gap", "gap"],
        ["conflict", "conflict", "circle"],
        ["toss-up", "toss-up"],
      ] as const) {
        const findings = ofCode(analysis, ...codes).filter((finding) => finding.pick === pick.name);
        const there = points.filter((point) => statusOf(point) === status);
        expect(findings.length > 0, `${status} of ${pick.name}`).toBe(there.length > 0);
        for (const finding of findings) {
          const agree = agreeing(book, finding);
          expect(agree.length).toBeGreaterThan(0);
          for (const point of agree)
            expect(statusOf(point), `${finding.code}: ${JSON.stringify(finding.example)} at ${pointInWords(model, point.point)}`).toBe(
              status,
            );
        }
        if (status === "gap" && findings.length > 0 && total > 0n) {
          const weight = there.reduce((sum, point) => sum + point.weight, 0n);
          const [n, d = "1"] = findings[0]!.share!.split("/");
          expect(BigInt(n!) * total).toBe(weight * BigInt(d));
        }
      }
    }
  });
  test("nothing-possible, and then nothing else", { timeout: 120_000 }, () => {
    let empty = 0;
    fc.assert(
      fc.property(fc.oneof(thinBooks({ points: 60 }), books({ points: 60 })), fc.nat(3), ({ root, texts }, more) => {
        // The values of a condition ruled out one by one, or all but one.
        const [, name, levels] = /^condition ([a-z-]+): (?:in order )?([a-z]+, [a-z, ]+)$/m.exec(Object.values(texts).join("\n")) ?? [];
        const out = levels?.split(", ").slice(more % 2) ?? [];
        const text = texts[root]! + out.map((level) => `impossible when ${name!} is ${level}\n`).join("");
        const { model } = read({ ...texts, [root]: text }, root);
        const found = analyse(model).findings;
        const points = possiblePoints(model);
        if (points.length === 0) empty++;
        expect(found.map(({ code }) => code).filter((code) => points.length === 0 || code === "nothing-possible")).toEqual(
          points.length === 0 ? ["nothing-possible"] : [],
        );
      }),
      { numRuns: runs, ...(seed === undefined ? {} : { seed }) },
    );
    expect(empty).toBeGreaterThan(5);
  });
  let waited = 0;
  law(
    "waiting, where it is on purpose: no pick that holds it up has a gap, a conflict or a toss-up, or waits",
    ({ model, analysis, points }) => {
      const found = new Map(ofCode(analysis, "waiting").map((finding) => [finding.pick, finding]));
      const total = points.reduce((sum, { weight }) => sum + weight, 0n);
      for (const pick of model.picks) {
        const there = points.filter(({ answers }) =>
          answers[pick.index]!.heldUpBy?.every((other) => ["decided", "fallback", "no advice"].includes(answers[other]!.outcome.status)),
        );
        if (there.length > 0) waited++;
        expect(found.has(pick.name), pick.name).toBe(there.length > 0);
        const weight = there.reduce((sum, point) => sum + point.weight, 0n);
        if (there.length > 0) expect(found.get(pick.name)!.share).toBe(new Fraction(weight, total).toFraction());
      }
    },
  );
  test("and often enough for that to count", () => expect(waited).toBeGreaterThan(5));
  let heard = 0;
  law("not-closed: a more local go with that stands where everything is closed", (book) => {
    const { model, analysis, points } = book;
    const found = ofCode(analysis, "not-closed");
    for (const silence of model.closed)
      for (const pattern of model.patterns)
        for (const { pick } of pattern.goes) {
          const { name, judgement } = model.picks[pick]!;
          const own = found.filter(
            (finding) =>
              finding.pick === name && finding.patterns![0] === pattern.title && finding.related![0]!.range === silence.place.range,
          );
          const stands = ({ point, answers }: Book["points"][number]): boolean => {
            const outcomes = answers.map(({ outcome }) => outcome);
            return (
              model.moreLocal(pattern.book, silence.book) &&
              !judgement &&
              evaluate(silence.when, point, outcomes).truth === "holds" &&
              outcomes[pick]!.places.length > 0 &&
              answers[pick]!.standing.includes(pattern.index)
            );
          };
          const there = points.filter(stands);
          if (there.length > 0) heard++;
          if (there.length > 0) expect(own.length, pattern.title).toBe(1);
          for (const finding of own)
            for (const { answers } of agreeing(book, finding)) expect(answers[pick]!.standing).toContain(pattern.index);
        }
  });
  test("go withs heard where all is closed, and often enough for that to count", () => expect(heard).toBeGreaterThan(3));
  law("never-recommended", ({ model, analysis, points }) => {
    const found = new Set(ofCode(analysis, "never-recommended").map(({ pick, title }) => `${pick}: ${title}`));
    for (const pick of model.picks.filter(({ judgement }) => !judgement))
      for (const [option, { text }] of pick.options.entries())
        expect(found.has(`${pick.name}: ${text} is never recommended`), `${pick.name} ${text}`).toBe(
          isSpokenOn(model, pick) &&
            !points.some(({ answers }) => answers[pick.index]!.outcome.places.some((place) => place.includes(option))),
        );
  });
  const doesNothing = (book: Book): void => {
    const { model, analysis } = book;
    const found = new Set(ofCode(analysis, "does-nothing").map(({ patterns }) => patterns![0]));
    const idle = model.patterns.filter((pattern) =>
      sameAnswers(book, withPattern(model, pattern, { kind: "never", range: { start: 0, end: 0 } })),
    );
    for (const title of found) expect(idle.map((pattern) => pattern.title)).toContain(title);
    const actions = ({ goes, leans, nevers, moves }: Pattern): string =>
      JSON.stringify([goes, leans.map(({ pick, option, by }) => [pick, option, by.toFraction()]), nevers, moves]);
    for (const pattern of idle)
      if (!idle.some((other) => other.index > pattern.index && actions(other) === actions(pattern)))
        expect([...found]).toContain(pattern.title);
  };
  const changesNothing = (book: Book): void => {
    const { model, analysis } = book;
    const idle = new Set(ofCode(analysis, "does-nothing").flatMap(({ patterns }) => patterns!));
    const found = ofCode(analysis, "changes-nothing");
    for (const pattern of model.patterns) {
      if (
        !pattern.when ||
        idle.has(pattern.title) ||
        ofCode(analysis, "does-nothing").some(({ message }) => message.includes(`“${pattern.title}”`))
      )
        continue;
      for (const { part, rest } of withoutEachPart(pattern.when)) {
        const reported = found.some(
          ({ path, range, patterns }) =>
            path === pattern.place.path &&
            patterns![0] === pattern.title &&
            range.start === part.range.start &&
            range.end === part.range.end,
        );
        expect(reported, `part ${part.range.start}–${part.range.end} of ${pattern.title}`).toBe(
          sameAnswers(book, withPattern(model, pattern, rest)),
        );
      }
    }
  };
  law("does-nothing (of twins only the last)", doesNothing);
  law("does-nothing, of plain patterns", doesNothing, { from: plainBooks() });
  law("changes-nothing", changesNothing, { numRuns: Math.ceil(runs / 2), points: 120 });
  law("changes-nothing, of plain patterns", changesNothing, { from: plainBooks() });
  const counts = { silentOnPurpose: 0, silentAtHome: 0 };
  law("promise", (book) => {
    const { model, analysis, points } = book;
    for (const promise of model.promises) {
      const broken = points.filter(({ point, answers }) => {
        const outcomes = answers.map(({ outcome }) => outcome);
        const holds = (test: Test): boolean => evaluate(test, point, outcomes).truth === "holds";
        // "…or on a pick that it tests": a book more local than the promise's says nothing here, on purpose.
        const silent = (pick: number, isLocal: (book: number) => boolean): boolean =>
          outcomes[pick]!.status === "no advice" &&
          (model.picks[pick]!.sayNothing.some(({ book, when }) => isLocal(book) && holds(when)) ||
            model.picks[pick]!.tests.some((tested) => silent(tested, isLocal)));
        if (promise.when && !holds(promise.when)) return false;
        const front = outcomes[promise.pick]!.places[0];
        if (promise.must === "have no answer") return front !== undefined;
        if (promise.must === "not be") return front !== undefined && front.some((option) => promise.options.includes(option));
        if (silent(promise.pick, (book) => model.moreLocal(book, promise.book))) {
          counts.silentOnPurpose++;
          return false;
        }
        if (silent(promise.pick, () => true)) counts.silentAtHome++;
        return front === undefined || (promise.must === "be" && front.some((option) => !promise.options.includes(option)));
      });
      const findings = ofCode(analysis, "promise").filter(({ message }) => message.startsWith(`“${promise.title}”`));
      expect(findings.length, promise.title).toBe(broken.length > 0 ? 1 : 0);
      for (const { severity } of findings) expect(severity).toBe(promise.ofBase ? "warning" : "error");
      for (const finding of findings) {
        const agree = agreeing(book, finding);
        expect(agree.length).toBeGreaterThan(0);
        for (const point of agree) expect(broken).toContain(point);
      }
    }
  });
  test("promises on silence, and often enough for that to count", () =>
    expect(Math.min(counts.silentOnPurpose, counts.silentAtHome)).toBeGreaterThan(10));
});

describe("what is said", () => {
  let said = 0;
  law("`where`, pasted after `when`, holds exactly where the gap is", (book) => {
    for (const gap of ofCode(book.analysis, "gap")) {
      if (
        gap.where === "always" ||
        / (does not apply|has no (answer|advice)|may be )/.test(gap.where!) ||
        gap.where!.includes(" more such ")
      )
        continue;
      said++;
      const pick = book.model.picks.find(({ name }) => name === gap.pick)!;
      const { model, faults } = read(
        { ...book.texts.texts, [book.texts.root]: `${book.texts.texts[book.texts.root]!}\nsituation just-there: ${gap.where!}\n` },
        book.texts.root,
      );
      expect(
        faults.map(({ message }) => message),
        gap.where,
      ).toEqual([]);
      const test = model.situations.find(({ name }) => name === "just-there")!.test;
      // The same limits are written, so the axes are cut alike.
      expect(model.axes.map(({ size }) => size)).toEqual(book.model.axes.map(({ size }) => size));
      for (const { point, answers } of book.points)
        expect(
          evaluate(
            test,
            point,
            answers.map(({ outcome }) => outcome),
          ).truth === "holds",
          `${gap.where!} at ${pointInWords(model, point)}`,
        ).toBe(answers[pick.index]!.outcome.status === "gap");
    }
  });
  test("and often enough for that to count", () => expect(said).toBeGreaterThan(10));
  const hairline = (book: Book): void => {
    const { model, analysis, points } = book;
    const key = (point: readonly number[]): string => point.join();
    const byPoint = new Map(points.map((point) => [key(point.point), point]));
    for (const pick of model.picks)
      for (const status of ["gap", "conflict"] as const) {
        const isThere = (point: readonly number[]): boolean | undefined => {
          const answers = byPoint.get(key(point))?.answers ?? oracle(model, point);
          return answers[pick.index]!.outcome.status === status;
        };
        const thin = points.some(
          ({ point, answers }) =>
            answers[pick.index]!.outcome.status === status &&
            model.axes.some((axis) => {
              if (!axis.limits || axis.limits.length < 3) return false;
              const at = (position: number): number[] => point.map((own, i) => (i === axis.index ? position : own));
              let [from, to] = [point[axis.index]!, point[axis.index]!];
              while (from > 0 && isThere(at(from - 1))) from--;
              while (to < axis.size - 1 && isThere(at(to + 1))) to++;
              if (from === to && from % 2 === 0) return true;
              if (from === 0 || to === axis.size - 1) return false;
              const [low, high] = [from >> 1, (to + 1) >> 1];
              const unit = [axis.precision![low]!, axis.precision![high]!].reduce((a, b) => (a.compare(b) > 0 ? a : b));
              return low < high && axis.limits[high]!.sub(axis.limits[low]!).compare(unit) <= 0;
            }),
        );
        const found = ofCode(analysis, "hairline").filter(
          (finding) => finding.pick === pick.name && finding.title === `A hairline ${status}`,
        );
        expect(found.length > 0, `${status} of ${pick.name}`).toBe(thin);
        for (const finding of found)
          for (const point of agreeing(book, finding)) expect(point.answers[pick.index]!.outcome.status).toBe(status);
      }
  };
  law("a hairline is a thin stretch of its gap or conflict, with settled ground on both sides", hairline);
  law("and so it is among plain patterns", hairline, { from: plainBooks() });
});

describe("a budget", () => {
  law("that runs out leaves things open, and never says anything that the whole analysis does not", ({ model, analysis }) => {
    const told = ({ code, pick, patterns, title, range }: Finding): string =>
      [code, pick, patterns, code === "does-nothing" ? "" : title, range.start].join("|");
    const known = new Set(analysis.findings.map(told));
    for (const steps of [1, 7, 50, 300, 2000]) {
      const some = analyse(model, { steps });
      const findings = some.findings.filter(({ code }) => code !== "budget");
      expect(
        findings.filter((finding) => !known.has(told(finding))).map(({ message }) => message),
        `${steps} steps`,
      ).toEqual([]);
      for (const { pick, shares } of some.coverage)
        expect(shares, `${steps} steps`).toEqual(analysis.coverage.find((whole) => whole.pick === pick)!.shares);
      if (some.undecided.length === 0) expect(findings.length, `${steps} steps`).toBe(analysis.findings.length);
      expect(some.findings.length - findings.length).toBe(some.undecided.length);
    }
  });
});

describe("what is offered works", () => {
  law(
    "every fix, applied, makes its finding go away",
    ({ texts, analysis }) => {
      for (const finding of analysis.findings)
        for (const fix of finding.fixes ?? []) {
          const after = check(applied(texts.texts, fix.edits), { root: texts.root });
          const same = after.findings.filter(
            (other) => other.code === finding.code && other.pick === finding.pick && String(other.patterns) === String(finding.patterns),
          );
          expect(
            same.map(({ message }) => message),
            `${fix.title} for ${finding.message}`,
          ).toEqual([]);
          expect(
            after.findings
              .filter(({ code }) => ["syntax", "name", "kind", "unit", "range", "duplicate", "mixing", "file"].includes(code))
              .map(({ message }) => message),
            fix.title,
          ).toEqual([]);
        }
    },
    { numRuns: Math.ceil(runs / 2), points: 120 },
  );
});
