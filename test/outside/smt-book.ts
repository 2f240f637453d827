/**
 * A whole book as SMT-LIB 2: "What it means at one point" as one formula over all points at once.
 *
 *     conditions (smt-ground.ts) ──▶ tests (smt-tests.ts) ──▶ picks, one after another (smt-pick.ts) ──▶ questions about any of it
 *
 * Tests, limits, bands and groups are read from the trees; who says what on which pick, and which book is more local, from the
 * model; *narrower* and trust from the solver itself (smt-relations.ts). Nothing is taken from the analysis.
 */
import type { Fraction } from "fraction.js";
import type { Model, Pattern, Pick } from "../../src/model/model.js";
import type * as tree from "../../src/syntax/tree.js";
import type { Ground } from "./smt-ground.js";
import { sayOf, speaks } from "./smt-pick.js";
import type { Relations } from "./smt-relations.js";
import { and, not, or, real, type Term } from "./smt-terms.js";
import { always, defineTruth, readerOf, scriptOf, truthOf, whenOf, type Said, type Script, type Truth } from "./smt-tests.js";
import type { Values } from "./z3.js";

export interface BookFormulas {
  readonly declarations: string;
  readonly said: readonly Said[];
  whenHolds(pattern: Pattern): Term;
  holds(test: tree.Test): Term;
  /** No continuous measure is at a value that anything mentions. */
  readonly offLimits: Term;
  isOffLimits(values: Values): boolean;
  /** Some pick answers otherwise without the pattern; with the definitions this takes. */
  without(pattern: Pattern): { readonly definitions: string; readonly differs: Term };
}

export function formulasOf(model: Model, ground: Ground, relations: Relations): BookFormulas {
  const conditions = [...ground.conditions.values()];
  const script = scriptOf("");
  const said: Said[] = [];
  const whens = whensOf(model, ground, said, script);
  for (const pick of model.picks)
    said.push(sayOf({ model, ground, relations, pick, script, seen: said, patterns: model.patterns, whenOf: whens }));
  const possible = ground.impossible.map((test) => `(assert ${truthOf(test, readerOf(model, ground, [])).fails})`);
  const singles = conditions
    .filter(({ continuous }) => continuous)
    .flatMap((condition) => condition.mentioned.map((value) => [condition.variables()[0]!, value] as const));
  return {
    declarations: [...conditions.map((condition) => condition.declared()), ...possible, ...script.lines].join("\n"),
    said,
    whenHolds: (pattern) => whens(pattern).holds,
    holds: (test) => truthOf(test, readerOf(model, ground, said)).holds,
    offLimits: and(...singles.map(([variable, value]) => not(`(= ${variable} ${real(value)})`))),
    isOffLimits: (values) => singles.every(([variable, value]) => !value.equals(values.get(variable) as Fraction)),
    without(pattern) {
      const more = scriptOf(`x${pattern.index}`);
      const patterns = model.patterns.filter((other) => other !== pattern);
      const after: Said[] = [];
      const changed = new Set<number>();
      const whenOf = whensOf(model, ground, after, more);
      for (const pick of model.picks) {
        const reached = speaks(pattern, pick) || pick.tests.some((other) => changed.has(other));
        if (reached) changed.add(pick.index);
        after.push(reached ? sayOf({ model, ground, relations, pick, script: more, seen: after, patterns, whenOf }) : said[pick.index]!);
      }
      return {
        definitions: more.lines.join("\n"),
        differs: or(...[...changed].map((pick) => differ(model.picks[pick]!, said[pick]!, after[pick]!))),
      };
    },
  };
}

/** Each pattern's `when`, defined where it is first asked for: by then the picks it tests are. */
function whensOf(model: Model, ground: Ground, seen: readonly Said[], script: Script): (pattern: Pattern) => Truth {
  const known = new Map<Pattern, Truth>();
  return (pattern) => {
    let truth = known.get(pattern);
    if (truth === undefined) {
      const when = whenOf(model, pattern);
      known.set(
        pattern,
        (truth = when === undefined ? always : defineTruth(script, `when${pattern.index}`, truthOf(when, readerOf(model, ground, seen)))),
      );
    }
    return truth;
  };
}

function differ({ options }: Pick, a: Said, b: Said): Term {
  const pairs = options.flatMap((_, one) => options.map((_, other) => [one, other] as const).filter(([, other]) => one < other));
  return or(
    `(distinct ${a.status} ${b.status})`,
    ...options.map((_, option) => `(distinct ${a.listed(option)} ${b.listed(option)})`),
    ...pairs.map(([one, other]) =>
      and(
        a.listed(one),
        a.listed(other),
        or(
          ...["<", ">"].map((than) => `(distinct (${than} ${a.place(one)} ${a.place(other)}) (${than} ${b.place(one)} ${b.place(other)}))`),
        ),
      ),
    ),
  );
}
