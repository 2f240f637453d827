/**
 * The checker against a theorem prover. Random books go two ways, which share no code after the parser and the names' resolution:
 *
 *     book ──▶ analysis: positions, diagrams, boxes ──▶ findings, shares, answers, table
 *       └────▶ SMT-LIB 2: whole and REAL numbers ──Z3──▶ can some possible point have this status?   (smt-book.ts)
 *
 * For every question both must say the same, and at every point the solver names, the engine must answer what the formula says there.
 * Measures that are not read in steps are real numbers for the solver, so this also checks that cutting them at the limits written
 * loses nothing. `SOLVER_RUNS=2000` runs more books, `SOLVER_SEED=…` others.
 */
import { setImmediate } from "node:timers/promises";
import * as fc from "fast-check";
import type { Fraction } from "fraction.js";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { analyse, type Analysis } from "../../src/analysis/analyse.js";
import { lookup } from "../../src/analysis/diagrams/diagram.js";
import { statuses, type Outcome, type Status } from "../../src/analysis/outcome.js";
import { answersAt } from "../../src/analysis/point.js";
import type { Finding } from "../../src/diagnostics.js";
import type { Model, Pattern } from "../../src/model/model.js";
import { isSpokenOn } from "../law/oracle.js";
import { parse } from "../../src/syntax/parse.js";
import type * as tree from "../../src/syntax/tree.js";
import { compile } from "../../src/table/compile.js";
import { givenOf } from "../../src/answer/given.js";
import { answer } from "../../src/answer/answer.js";
import { books, type Sizes } from "../law/books.js";
import { outcomeInWords, pointInWords } from "../law/points.js";
import { read, type Texts } from "../law/reading.js";
import { outcomeIn, pointOf, saidAs, spanTerm } from "./smt-back.js";
import { formulasOf, type BookFormulas } from "./smt-book.js";
import { groundOf, type Ground } from "./smt-ground.js";
import { relationsOf } from "./smt-relations.js";
import { and, no, not, or, type Term } from "./smt-terms.js";
import { solver, type Question, type Reply, type Solver, type Values } from "./z3.js";

/** How many books of each kind. */
const runs = Number(process.env["SOLVER_RUNS"] ?? 100);
const seed = Number(process.env["SOLVER_SEED"] ?? 20270401);

/** How many patterns of each book are left out to see what changes. */
const MOST_LEFT_OUT = 3;

let z3: Solver;
beforeAll(async () => {
  z3 = await solver();
}, 60_000);
afterAll(() => z3.close());

/** What was compared, for the record. */
const counts = { books: 0, nothingPossible: 0, undecided: 0, questions: 0, points: 0, onLimits: 0, rows: 0, places: 0 };
const met: Record<string, { yes: number; no: number }> = {};
function count(what: string, holds: boolean): void {
  counts.questions++;
  (met[what] ??= { yes: 0, no: 0 })[holds ? "yes" : "no"]++;
}

interface Book {
  readonly model: Model;
  readonly ground: Ground;
  readonly formulas: BookFormulas;
  readonly analysis: Analysis;
  /** A possible point. */
  readonly somewhere: Values;
}

/** One question to both: what the solver is asked, and what to do with its reply. */
interface Comparison extends Question {
  compare(reply: Reply): void;
}

/** Random books of some sizes. */
function compareRandom(name: string, sizes: Sizes): void {
  test(name, { timeout: 600_000 }, () =>
    fc.assert(
      fc.asyncProperty(books({ points: 200_000, ...sizes }), async ({ texts, root }) => {
        compareAll(texts, root);
        // Whoever runs the tests wants to hear from them now and then.
        await setImmediate();
      }),
      { numRuns: runs, seed, endOnFailure: process.env["SOLVER_SHRINK"] === undefined },
    ),
  );
}

/** Every comparison of a book. */
function compareAll(texts: Texts, root: string): void {
  const { model } = read(texts, root);
  const analysis = analyse(model);
  counts.books++;
  if (analysis.undecided.length > 0) return void counts.undecided++;
  const ground = groundOf(model);
  const formulas = formulasOf(model, ground, relationsOf(model, ground, z3));
  const [anything] = z3.ask(formulas.declarations, [{ that: "true" }]);
  expect(analysis.answers.anythingPossible).toBe(anything !== "cannot hold");
  if (anything === undefined || anything === "cannot hold") return void counts.nothingPossible++;
  const book: Book = { model, ground, formulas, analysis, somewhere: anything };
  const comparisons = [ofStatuses, ofPairs, ofPromises, ofOptions, ofPatterns, ofTable, ofUnknown].flatMap((kind) => kind(book));
  const replies = z3.ask(formulas.declarations, comparisons);
  comparisons.forEach(({ compare }, i) => compare(replies[i]!));
}

function ofCode(analysis: Analysis, ...codes: string[]): readonly Finding[] {
  return analysis.findings.filter(({ code }) => codes.includes(code));
}

/** The engine and the diagrams answer at the solver's point what the formula says there. */
function agreeAt(book: Book, values: Values): readonly Outcome[] {
  const { model, ground, formulas, analysis } = book;
  const point = pointOf(model, ground, values);
  counts.points++;
  if (model.axes.some(({ index, limits }) => limits !== undefined && point[index]! % 2 === 0)) counts.onLimits++;
  const direct = answersAt(model, point);
  return model.picks.map((pick) => {
    const wanted = outcomeIn(formulas.said[pick.index]!, pick, values);
    const words = outcomeInWords(model, pick.index, wanted);
    const where = `${pick.name} at ${pointInWords(model, point)}`;
    expect(outcomeInWords(model, pick.index, direct[pick.index]!.outcome), `the engine: ${where}`).toBe(words);
    expect(
      outcomeInWords(
        model,
        pick.index,
        lookup(analysis.answers.picks[pick.index]!.whole, (axis) => point[axis]!),
      ),
      `the diagram: ${where}`,
    ).toBe(words);
    return wanted;
  });
}

describe("what the solver finds, the checker finds, and what the one finds nowhere, the other does not report", () => {
  compareRandom("small books in layers", {});
  compareRandom("picks that test picks", { picks: 6, patterns: 14 });
  compareRandom("many patterns on few picks", { conditions: 5, picks: 2, patterns: 24, layered: false });

  test.each([
    [
      "a `say nothing` cuts across what two patterns disagree about",
      `condition x: no, yes
condition y: no, yes
condition clarity: clear, muddy
pick blade: colorado, willow
pattern "A" go with blade colorado when x is no or (y is yes)
pattern "B" go with blade willow when clarity is muddy
say nothing on blade when x is no because "closed"`,
    ],
    [
      "two patterns disagree where a third leaves the pick waiting everywhere",
      `condition clarity: clear, muddy
pick family: spinnerbait, jig
pick blade: colorado, willow
pattern "A" go with blade colorado when clarity is clear
pattern "B" go with blade willow when clarity is clear
pattern "C" go with blade colorado when family is spinnerbait`,
    ],
    [
      "a gap that is a stretch between two limits, or something else",
      `condition depth: 0 to 40 ft
condition sky: bright, dark
condition wind: calm, windy
pick blade: colorado, willow
pattern "A" go with blade colorado when (depth is below 10 ft or depth is at least 20 ft) and (sky is dark or wind is windy)`,
    ],
  ])("and where the two once differed: %s", (_, text) => compareAll({ "book.lore": `book "Once"\n${text}\n` }, "book.lore"));

  test("and every kind of question had both answers", () => {
    console.log(
      `${JSON.stringify(counts)}\n${Object.entries(met)
        .map(([what, { yes, no }]) => `${what}: ${yes} yes, ${no} no`)
        .join("; ")}`,
    );
    expect(counts.undecided).toBeLessThan(counts.books / 20);
    for (const what of [
      ...statuses,
      "pair in conflict",
      "promise broken",
      "option recommended",
      "pattern can hold",
      "pattern does something",
      "option not safe",
    ])
      expect([what, met[what]!.yes > 0, met[what]!.no > 0]).toEqual([what, true, true]);
  });
});

// The comparisons ------------------------------------------------------------------------------------------------------------

/** Gap, conflict and toss-up findings; shares above nothing; the answers at the solver's points. */
function ofStatuses(book: Book): readonly Comparison[] {
  const { model, formulas, analysis } = book;
  const reported: Readonly<Partial<Record<Status, readonly string[]>>> = {
    gap: ["gap"],
    conflict: ["conflict", "circle"],
    "toss-up": ["toss-up"],
  };
  let anythingOffLimits = true;
  return [
    { that: formulas.offLimits, compare: (reply) => void (anythingOffLimits = reply !== "cannot hold") },
    ...model.picks.flatMap((pick) =>
      statuses.flatMap((status): readonly Comparison[] => {
        const said = formulas.said[pick.index]!;
        const shareOf = (): Fraction => analysis.coverage.find((one) => one.pick === pick.index)!.shares[status];
        const codes = reported[status];
        return [
          {
            that: said.is(status),
            holdsAt: (values) => outcomeIn(formulas.said[pick.index]!, pick, values).status === status,
            compare(reply) {
              count(status, reply !== "cannot hold");
              if (reply !== "cannot hold") expect(agreeAt(book, reply)[pick.index]!.status).toBe(status);
              else expect(shareOf().toFraction(), `${status} of ${pick.name}`).toBe("0");
              if (codes)
                expect(
                  ofCode(analysis, ...codes).some((finding) => finding.pick === pick.name),
                  `${status} of ${pick.name}`,
                ).toBe(reply !== "cannot hold");
            },
          },
          ...(status === "gap"
            ? ofWhere(
                book,
                ofCode(analysis, "gap").find((finding) => finding.pick === pick.name),
                said.is("gap"),
              )
            : []),
          // Away from all single values: only there is anything of a continuous measure's length.
          ...(formulas.offLimits === "true"
            ? []
            : [
                {
                  that: and(said.is(status), formulas.offLimits),
                  holdsAt: (values: Values) =>
                    outcomeIn(formulas.said[pick.index]!, pick, values).status === status && formulas.isOffLimits(values),
                  compare(reply: Reply) {
                    if (reply !== "cannot hold") agreeAt(book, reply);
                    if (anythingOffLimits) expect(shareOf().n > 0n, `share of ${status} of ${pick.name}`).toBe(reply !== "cannot hold");
                  },
                },
              ]),
        ];
      }),
    ),
  ];
}

/** What a finding says in words of where it is so, read back as a test, is where the solver has it. Only what is said of conditions alone is a test in every case. */
function ofWhere({ model, formulas }: Book, finding: Finding | undefined, there: Term): readonly Comparison[] {
  const where = finding?.where;
  if (
    finding === undefined ||
    where === undefined ||
    where.includes(" more such ") ||
    model.picks.some(({ name }) => ` ${where}`.includes(` ${name} `) || where.includes(`(${name} `))
  )
    return [];
  const { tree, findings } = parse(`situation just-there: ${where}\n`, "where.lore");
  const test = tree.statements.flatMap((one) => (one.kind === "situation" ? [one.test] : []))[0];
  if (where !== "always") expect([where, test !== undefined, findings]).toEqual([where, true, []]);
  return [
    {
      that: `(distinct ${where === "always" ? "true" : formulas.holds(test!)} ${there})`,
      compare(reply) {
        counts.places++;
        expect(reply === "cannot hold", `“${where}” is where ${finding.code} of ${finding.pick!} is: ${finding.message}`).toBe(true);
      },
    },
  ];
}

/** Two go withs that share no option, both left standing. */
function ofPairs(book: Book): readonly Comparison[] {
  const { model, formulas, analysis } = book;
  return model.picks.flatMap((pick) => {
    const listOf = (pattern: Pattern): readonly number[] => pattern.goes.find((go) => go.pick === pick.index)?.places.flat() ?? [];
    const going = model.patterns.filter((pattern) => listOf(pattern).length > 0);
    const pairs = going.flatMap((a, i) =>
      going
        .slice(i + 1)
        .filter((b) => !listOf(a).some((option) => listOf(b).includes(option)))
        .map((b) => [a, b] as const),
    );
    const findings = ofCode(analysis, "conflict").filter((finding) => finding.pick === pick.name);
    return pairs.flatMap(([a, b]): readonly Comparison[] => {
      const disagree = formulas.said[pick.index]!.disagree(a, b);
      const reported = findings.filter(({ patterns }) => patterns!.length === 2 && [a, b].every(({ title }) => patterns!.includes(title)));
      // One that also rules options out may be reported with the other for that.
      const forTheirLists = ![a, b].some(({ nevers }) => nevers.some((never) => never.pick === pick.index));
      return [
        {
          that: disagree,
          compare(reply) {
            count("pair in conflict", reply !== "cannot hold");
            if (reply !== "cannot hold") expect(agreeAt(book, reply)[pick.index]!.status).toBe("conflict");
            if (reply !== "cannot hold" || forTheirLists)
              expect(reported.length > 0, `${pick.name}: ${a.title}, ${b.title}`).toBe(reply !== "cannot hold");
          },
        },
        ...(forTheirLists ? ofWhere(book, reported[0], disagree) : []),
      ];
    });
  });
}

function ofPromises(book: Book): readonly Comparison[] {
  const { model, ground, formulas, analysis } = book;
  return model.promises.flatMap((promise): readonly Comparison[] => {
    const { when } = ground.statements.find((one): one is tree.Promise => one.kind === "promise" && one.title!.value === promise.title)!;
    const { options } = model.picks[promise.pick]!;
    const said = formulas.said[promise.pick]!;
    const inFront = (named: boolean): Term =>
      or(...options.map((_, option) => (promise.options.includes(option) === named ? said.front(option) : "false")));
    const answered = or(...options.map((_, option) => said.listed(option)));
    // No advice on purpose, in a book more local than the promise's, breaks nothing; nor where the pick has none because one it tests has.
    const onPurpose = (pick: number): Term =>
      and(
        formulas.said[pick]!.is("no advice"),
        or(
          ...formulas.said[pick]!.silences.filter(({ book }) => model.moreLocal(book, promise.book)).map(({ holds }) => holds),
          ...model.picks[pick]!.tests.map(onPurpose),
        ),
      );
    const missing = and(not(answered), not(onPurpose(promise.pick)));
    const broken = { be: or(missing, inFront(false)), "not be": inFront(true), "have an answer": missing, "have no answer": answered }[
      promise.must
    ];
    const wrong = and(when === undefined ? "true" : formulas.holds(when), broken);
    const reported = ofCode(analysis, "promise").find(({ message }) => message.startsWith(`“${promise.title}”`));
    return [
      {
        that: wrong,
        compare(reply) {
          count("promise broken", reply !== "cannot hold");
          if (reply !== "cannot hold") agreeAt(book, reply);
          expect(reported !== undefined, promise.title).toBe(reply !== "cannot hold");
        },
      },
      ...ofWhere(book, reported, wrong),
    ];
  });
}

function ofOptions(book: Book): readonly Comparison[] {
  const { model, formulas, analysis } = book;
  return model.picks
    .filter(({ judgement }) => !judgement)
    .flatMap((pick) =>
      pick.options.map(({ text }, option): Comparison => ({
        that: formulas.said[pick.index]!.listed(option),
        holdsAt: (values) => outcomeIn(formulas.said[pick.index]!, pick, values).places.some((place) => place.includes(option)),
        compare(reply) {
          count("option recommended", reply !== "cannot hold");
          if (reply !== "cannot hold") agreeAt(book, reply);
          expect(
            ofCode(analysis, "never-recommended").some(
              (finding) => finding.pick === pick.name && finding.title === `${text} is never recommended`,
            ),
            `${pick.name} ${text}`,
          ).toBe(reply === "cannot hold" && isSpokenOn(book.model, pick));
        },
      })),
    );
}

/** Patterns that can never hold, and patterns whose leaving changes no answer. */
function ofPatterns(book: Book): readonly Comparison[] {
  const { model, formulas, analysis } = book;
  const actions = ({ goes, leans, nevers, moves }: Pattern): string =>
    JSON.stringify([goes, leans.map(({ pick, option, by }) => [pick, option, by.toFraction()]), nevers, moves]);
  // Writing the book a second time costs; some patterns of each stand for all.
  const some = model.patterns.filter((_, i) => i % Math.ceil(model.patterns.length / MOST_LEFT_OUT) === 0);
  return some.flatMap((pattern): readonly Comparison[] => {
    const reported = ofCode(analysis, "does-nothing").find(({ patterns }) => patterns![0] === pattern.title);
    const { definitions, differs } = formulas.without(pattern);
    return [
      {
        that: formulas.whenHolds(pattern),
        compare(reply) {
          count("pattern can hold", reply !== "cannot hold");
          if (reply !== "cannot hold") agreeAt(book, reply);
          // One that never holds may still leave a pick waiting, where it is unsettled: then it does something.
          if (reported) expect(reported.message.includes("can never hold"), reported.message).toBe(reply === "cannot hold");
        },
      },
      {
        that: differs,
        definitions,
        compare(reply) {
          count("pattern does something", reply !== "cannot hold");
          if (reply !== "cannot hold") agreeAt(book, reply);
          // Of twins only the last is reported.
          const twinAfter = model.patterns.some((other) => other.index > pattern.index && actions(other) === actions(pattern));
          if (!twinAfter || reply !== "cannot hold") expect(reported !== undefined, pattern.title).toBe(reply === "cannot hold");
        },
      },
    ];
  });
}

/** Rows of the table: each says what holds all over it, none is missing, no two meet. */
function ofTable(book: Book): readonly Comparison[] {
  const { model, ground, formulas, analysis } = book;
  const compiled = compile(analysis.answers, { picks: model.picks.map(({ index }) => index) });
  if ("problem" in compiled) throw new Error(compiled.problem);
  const { rows } = compiled.table;
  counts.rows += rows.length;
  const boxes = rows.map(({ box }) => and(...[...box].map(([axis, span]) => spanTerm(model, ground, axis, span))));
  const saysOtherwise = rows.map(({ outcomes }) =>
    or(...model.picks.map((pick, at) => not(saidAs(formulas.said[pick.index]!, pick, outcomes[at]!)))),
  );
  const never = (what: string, that: Term): Comparison => ({
    that,
    compare: (reply) =>
      expect(reply === "cannot hold" ? "nowhere" : pointInWords(model, pointOf(model, ground, reply)), what).toBe("nowhere"),
  });
  return [
    never("a row says otherwise", or(...boxes.map((box, row) => and(box, saysOtherwise[row]!)))),
    never("a point in no row", not(or(...boxes))),
    never("a point in two rows", or(...boxes.flatMap((box, row) => boxes.slice(row + 1).map((other) => and(box, other))))),
  ];
}

/**
 * Every other condition known, the rest not: safe is what stands in the list at every point left that is not closed to the pick; possible
 * answers are those of some such point, and no others.
 */
function ofUnknown(book: Book): readonly Comparison[] {
  const { model, ground, formulas, analysis, somewhere } = book;
  const point = pointOf(model, ground, somewhere);
  const axes = model.conditions.filter(({ index }) => index % 2 === 0).flatMap((condition) => condition.axes);
  const box = new Map(axes.map((axis) => [axis, [point[axis]!, point[axis]!]] as const));
  const answered = answer(model, givenOf(model, box), () => analysis.answers);
  if ("problem" in answered) throw new Error(answered.problem);
  const told = and(...[...box].map(([axis, span]) => spanTerm(model, ground, axis, span)));
  const closed = or(
    ...model.books.flatMap(({ tree: { statements } }) =>
      statements.flatMap((one) => (one.kind === "say nothing" && one.everything !== undefined ? [formulas.holds(one.when!)] : [])),
    ),
  );
  return answered.picks.flatMap(({ pick: index, safe, possible, undecided, shut }): readonly Comparison[] => {
    if (undecided) return [];
    const pick = model.picks[index]!;
    const said = formulas.said[index]!;
    const heard = pick.judgement ? no : or(said.is("conflict"), ...pick.options.map((_, option) => said.listed(option)));
    const known = and(told, or(not(closed), heard));
    if (shut)
      return [
        {
          that: known,
          compare: (reply) => expect(reply, `${pick.name} is shut, with ${JSON.stringify(answered.given.values)}`).toBe("cannot hold"),
        },
      ];
    return [
      ...pick.options.map(({ text }, option): Comparison => ({
        that: and(known, not(said.listed(option))),
        compare(reply) {
          count("option not safe", reply !== "cannot hold");
          expect(safe.flat().includes(option), `${text} of ${pick.name} with ${JSON.stringify(answered.given.values)}`).toBe(
            reply === "cannot hold",
          );
        },
      })),
      ...possible.map(({ outcome }): Comparison => ({
        that: and(known, saidAs(said, pick, outcome)),
        compare: (reply) => expect(reply === "cannot hold", `${outcomeInWords(model, index, outcome)} of ${pick.name}`).toBe(false),
      })),
      {
        that: and(known, ...possible.map(({ outcome }) => not(saidAs(said, pick, outcome)))),
        compare: (reply) =>
          expect(
            reply === "cannot hold" ? "none" : outcomeInWords(model, index, outcomeIn(said, pick, reply)),
            `other answers for ${pick.name}`,
          ).toBe("none"),
      },
    ];
  });
}
