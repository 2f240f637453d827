/** What a report with many errors says to settle first: held against a walk along the tests of random books. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { checkNotes } from "../../src/messages/ci.js";
import { inOrder } from "../../src/faces/check/settle-first.js";
import type { RootedFinding } from "../../src/faces/check/checked.js";

const error = (pick: string | undefined, start: number): RootedFinding => ({
  ...{ code: "gap", severity: "error", path: "a.lore", root: "a.lore", range: { start, end: start } },
  ...{ title: "", message: "", help: "" },
  ...(pick !== undefined && { pick }),
});

/** Picks p0, p1 …, each testing some before it, and findings on them in any order of places. */
const report = fc.integer({ min: 1, max: 6 }).chain((count) =>
  fc.record({
    order: fc.tuple(
      ...Array.from({ length: count }, (_, at) =>
        fc
          .subarray(Array.from({ length: at }, (__, before) => `p${before}`))
          .map((tests) => ({ pick: `p${at}`, tests: tests as readonly string[] })),
      ),
    ),
    findings: fc
      .array(fc.option(fc.integer({ min: 0, max: count - 1 }), { nil: undefined }), { minLength: 6, maxLength: 14 })
      .map((picks) => picks.map((at, start) => error(at === undefined ? undefined : `p${at}`, start))),
  }),
);

describe("what to settle first", () => {
  test("nothing is lost, every pick stands after those it goes by, and whoever waits is named after what it waits for", () => {
    fc.assert(
      fc.property(report, ({ order, findings }) => {
        const { advice, findings: sorted } = inOrder({ findings, books: [{ path: "a.lore", title: "A", whole: true, order }] });
        expect(new Set(sorted)).toEqual(new Set(findings));
        expect(sorted).toHaveLength(findings.length);
        const goesBy = (pick: string, other: string): boolean =>
          order.find((one) => one.pick === pick)!.tests.some((tested) => tested === other || goesBy(tested, other));
        for (const [at, { pick, range }] of sorted.entries())
          for (const after of sorted.slice(at + 1)) {
            if (after.pick === undefined) expect(pick).toBeUndefined();
            else if (pick !== undefined) expect(goesBy(pick, after.pick)).toBe(false);
            if (after.pick === pick) expect(after.range.start).toBeGreaterThan(range.start);
          }
        const wrong = order.map(({ pick }) => pick).filter((pick) => findings.some((one) => one.pick === pick));
        const expected = wrong.flatMap((pick) => {
          const waiting = wrong.filter((other) => goesBy(other, pick));
          const first = wrong.every((other) => !goesBy(pick, other));
          return first && waiting.length > 0 ? [checkNotes.settleFirst(pick, waiting, undefined)] : [];
        });
        expect(advice).toEqual(expected);
      }),
    );
  });

  test("five errors stand by their places, and a warning is no error", () => {
    const order = [
      { pick: "mood", tests: [] },
      { pick: "lure", tests: ["mood"] },
    ];
    const books = [{ path: "a.lore", title: "A", whole: true, order }];
    const five = ["lure", "mood", "lure", "mood", "lure"].map(error);
    const sixth = { ...error("mood", 5), severity: "warning" } as const;
    expect(inOrder({ findings: [...five, sixth], books })).toEqual({ advice: [], findings: [...five, sixth] });
    expect(inOrder({ findings: [...five, error("mood", 5)], books }).advice).toEqual(["Settle mood first: lure waits for it."]);
    // What has errors of its own and waits for nobody, and whom nobody waits for, needs no word.
    const alone = Array.from({ length: 6 }, (_, at) => error("mood", at));
    expect(inOrder({ findings: alone, books }).advice).toEqual([]);
  });
});
