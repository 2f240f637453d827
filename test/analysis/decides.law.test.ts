/** What becomes of a pattern, against plain counting at every possible point of small random books. */
import * as fc from "fast-check";
import { Fraction } from "fraction.js";
import { describe, expect, test } from "vitest";
import { outcomeKey } from "../../src/analysis/answers.js";
import { budget } from "../../src/analysis/budget.js";
import { coverOf, decidesOf } from "../../src/analysis/decides.js";
import { FAILS, HOLDS } from "../../src/analysis/diagrams/formula.js";
import { answersAt, valueAt, type PickAnswer } from "../../src/analysis/point.js";
import { isSilent, silencedBook, verdict } from "../../src/analysis/verdict.js";
import type { Model, Pattern } from "../../src/model/model.js";
import { check } from "../check.js";
import { books } from "../law/books.js";
import { possiblePoints } from "../law/points.js";

/** What the pattern comes to at one point of one pick, in words: "decides", "yields to 3 by trust", … */
function fateAt(model: Model, { situation, yields, verdict: found, rules }: PickAnswer, pattern: Pattern): readonly string[] {
  const rule = rules.rules.find((one) => one.pattern === pattern)!;
  if (found.status === "not applicable" || situation.whens.get(rule.at) !== HOLDS) return [];
  const title = (at: number): number => rules.rules[at]!.pattern.index;
  const takesPart = found.status === "conflict" ? "clashes" : "decides";
  if (found.standing.includes(rule.at) || (found.cause.kind === "circle" && found.cause.rules.includes(rule.at))) return [takesPart];
  const silenced = silencedBook(rules, situation, model.moreLocal);
  const lost = yields.find((one) => one.rule === rule.at);
  if (lost?.by === "beats")
    return [
      "yields",
      ...rule.beatenBy
        .filter((at) => situation.whens.get(at) === HOLDS && !isSilent(rules.rules[at]!, silenced))
        .map((at) => `to ${title(at)} by beats`),
    ];
  const without = { ...situation, whens: new Map(situation.whens).set(rule.at, FAILS) };
  const does = rule.leans.length > 0 || rule.nevers.size > 0 || rule.move !== 0;
  if (does && outcomeKey(verdict(rules, without, silencedBook(rules, without, model.moreLocal))) !== outcomeKey(found)) return [takesPart];
  if (lost) return ["yields", ...found.standing.map((at) => `to ${title(at)} by ${lost.by}`)];
  if (silenced.rest(pattern.book)) return [];
  if (rule.leans.length > 0 && !rule.goes && found.standing.length > 0)
    return ["yields", ...found.standing.map((at) => `to ${title(at)} by lean`)];
  if (
    found.cause.kind === "list" &&
    found.cause.from === "lean" &&
    rule.leans.some(({ option, by }) => by.compare(0) > 0 && found.places.flat().includes(option))
  )
    return ["decides"];
  return [];
}

describe("decidesOf", () => {
  test("agrees with counting, point by point", () => {
    let [patterns, yielding] = [0, 0];
    fc.assert(
      fc.property(books({ points: 300, layered: true }), ({ texts, root }) => {
        const { model, analysis } = check(texts, { root });
        const points = [...possiblePoints(model)];
        const sum = points.reduce((total, { weight }) => total + weight, 0n);
        if (sum === 0n) return;
        const all = points.map(({ point, weight }) => ({ point, weight, answers: answersAt(model, point) }));
        for (const pattern of model.patterns) {
          const deciding = decidesOf(analysis.answers, pattern, budget(1_000_000));
          if (!deciding) continue;
          patterns++;
          let covered = 0n;
          for (const { point, weight, answers } of all)
            if (valueAt(pattern.when, point, (pick) => answers[pick]!.outcome) === HOLDS) covered += weight;
          expect(coverOf(analysis.answers, pattern.when, budget(1_000_000))!.toFraction()).toBe(new Fraction(covered, sum).toFraction());
          for (const { pick, decides, yields, clashes, to } of deciding) {
            const counts = new Map<string, bigint>();
            for (const { answers, weight } of all)
              for (const fate of new Set(fateAt(model, answers[pick]!, pattern))) counts.set(fate, (counts.get(fate) ?? 0n) + weight);
            const share = (key: string): string => new Fraction(counts.get(key) ?? 0n, sum).toFraction();
            expect([decides.toFraction(), yields.toFraction(), clashes.toFraction()]).toEqual([
              share("decides"),
              share("yields"),
              share("clashes"),
            ]);
            const counted = [...counts]
              .filter(([key]) => key.startsWith("to "))
              .map(([key]) => `${key}: ${share(key)}`)
              .filter((line) => !line.endsWith(": 0"))
              .sort();
            expect(
              to
                .filter(({ share }) => !share.equals(0))
                .map(({ pattern: other, by, share }) => `to ${other} by ${by}: ${share.toFraction()}`)
                .sort(),
            ).toEqual(counted);
            if (to.length > 0) yielding++;
          }
        }
      }),
      { numRuns: 40 },
    );
    console.log(`${patterns} patterns counted, ${yielding} of them yield somewhere`);
    expect(yielding).toBeGreaterThan(20);
  });

  test("where it decides and where it yields, in boxes", () => {
    const { model, analysis } = check(`
      condition clarity: in order clear, stained, dirty, muddy
        rising is dirtier, falling is clearer
      condition sky: in order bright, dark
      pick blade: round, leaf
      trust clarity first, then sky
      pattern "Mud" go with blade round when clarity is dirty or dirtier
      pattern "Dark" go with blade leaf when sky is dark
      fall back on blade leaf`);
    const [mud, dark] = model.patterns.map((pattern) => decidesOf(analysis.answers, pattern, budget(1000))![0]!);
    expect([mud!.decides, mud!.yields, dark!.decides, dark!.yields].map((share) => share.toFraction())).toEqual(["1/2", "0", "1/4", "1/4"]);
    expect(dark!.to).toEqual([{ pattern: 0, by: "trust", share: new Fraction(1, 4) }]);
    expect(dark!.boxes("yields", budget(1000))).toEqual([
      new Map([
        [1, [1, 1]],
        [0, [2, 3]],
      ]),
    ]);
    expect(dark!.boxes("decides", budget(1000))).toEqual([
      new Map([
        [1, [1, 1]],
        [0, [0, 1]],
      ]),
    ]);
  });

  test("says nothing where the steps run out", () => {
    const { model, analysis } = check(`
      condition a: in order x, y
      condition b: in order x, y
      pick blade: round, leaf
      pattern "A" go with blade round when a is x and b is y
      pattern "B" go with blade leaf when b is x`);
    expect(decidesOf(analysis.answers, model.patterns[0]!, budget(0))).toBeUndefined();
    expect(coverOf(analysis.answers, model.patterns[0]!.when, budget(0))).toBeUndefined();
  });
});
