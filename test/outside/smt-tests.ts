/**
 * Tests as SMT-LIB terms, four-valued: a test holds, fails, waits, or has nothing but missing advice to wait for.
 *
 *     blade is colorado and cover has grass   ──▶   holds: (and colorado-in-front grass)   fails: …   waits: …
 *
 * What is said of conditions is read in smt-ground.ts, what is said of picks from what `Said` has of them.
 */
import { Fraction } from "fraction.js";
import type { Status } from "../../src/analysis/outcome.js";
import type { Model, Pattern, Pick } from "../../src/model/model.js";
import type * as tree from "../../src/syntax/tree.js";
import { isWithin, quantityIn, single, wanted, type Ground, type Ladder } from "./smt-ground.js";
import { and, no, not, or, yes, type Term } from "./smt-terms.js";

/** A test's value: it holds, it fails, it waits, or (none of these) all that leaves it unsettled has no advice. */
export interface Truth {
  readonly holds: Term;
  readonly fails: Term;
  readonly waits: Term;
}

/** What a pick says, as terms. */
export interface Said {
  /** Its place among `statuses`. */
  readonly status: Term;
  is(status: Status): Term;
  /** Whether an option stands in the list, stands in front, and its place: a smaller one is earlier, an equal one shared. */
  listed(option: number): Term;
  front(option: number): Term;
  place(option: number): Term;
  /** Each `say nothing` on it: of which book, and where it holds. */
  readonly silences: readonly { readonly book: number; readonly holds: Term }[];
  /** Two go withs are both left after all passes. */
  disagree(a: Pattern, b: Pattern): Term;
}

/** What a test is read against. */
export interface Reader {
  readonly model: Model;
  readonly ground: Ground;
  /** A test that some options of a pick pass. */
  pick(pick: number, options: readonly number[]): Truth;
  /** Which copy of a condition's variables to speak of. */
  copyOf?(condition: string): string;
}

export function readerOf(model: Model, ground: Ground, seen: readonly Said[]): Reader {
  return { model, ground, pick: (pick, options) => truthOfPick(model.picks[pick]!, seen[pick]!, options) };
}

export function truthOf(test: tree.Test, reader: Reader): Truth {
  const { model, ground } = reader;
  switch (test.kind) {
    case "parentheses":
      return truthOf(test.part!, reader);
    case "situation":
      return truthOf(ground.situation(test.name.text)!, reader);
    case "not": {
      // `not depth is ledge or low-vision`: the `not` is of the first alone.
      const [part, ...alone] = partsOf(test.part!, ground);
      if (alone.length > 0) return truthOf({ kind: "or", range: test.range, parts: [{ ...test, part }, ...alone] }, reader);
      const { holds, fails, waits } = truthOf(test.part!, reader);
      return { holds: fails, fails: holds, waits };
    }
    case "and":
    case "or": {
      const parts = test.parts.map((part) => truthOf(part, reader));
      const [all, any] = test.kind === "and" ? (["holds", "fails"] as const) : (["fails", "holds"] as const);
      const [every, some] = [and(...parts.map((part) => part[all])), or(...parts.map((part) => part[any]))];
      const waits = and(not(some), or(...parts.map((part) => part.waits)));
      return test.kind === "and" ? { holds: every, fails: some, waits } : { holds: some, fails: every, waits };
    }
    case "compare": {
      const name = test.subject.text;
      const relation = test.relation!;
      const parts = partsOf(test, ground);
      if (parts.length > 1) return truthOf({ kind: "or", range: test.range, parts }, reader);
      const pick = model.picks.find((one) => one.name === name);
      if (pick !== undefined) {
        // "`is not A` is always `not (is A)`", also where the pick is not applicable.
        const { stretches, negated } = wanted(relation, ladderOf(pick, ground));
        const truth = reader.pick(
          pick.index,
          pick.options.flatMap((_, option) => (isWithin(new Fraction(option), { stretches, negated: false }) ? [option] : [])),
        );
        return negated ? { holds: truth.fails, fails: truth.holds, waits: truth.waits } : truth;
      }
      const holds = ground.conditions.get(name)!.says(relation, reader.copyOf?.(name));
      return { holds, fails: not(holds), waits: no };
    }
  }
}

/** `depth is ledge or low-vision`: a situation among the values stands by itself. */
function partsOf(test: tree.Test, ground: Ground): readonly tree.Test[] {
  if (test.kind !== "compare" || test.relation?.kind !== "is") return [test];
  const { values } = test.relation;
  const alone = values.filter((value): value is tree.NameValue => value.kind === "name" && ground.situation(value.text) !== undefined);
  if (alone.length === 0) return [test];
  const rest: tree.Test = {
    ...test,
    relation: { ...test.relation, values: values.filter((value) => !alone.some((one) => one === value)) },
  };
  return [rest, ...alone.map((name): tree.Test => ({ kind: "situation", name, range: name.range }))];
}

/** A pick's options in their order. */
function ladderOf(pick: Pick, ground: Ground): Ladder {
  const declared = declarationOf(pick, ground);
  const copied = declared.sameAs === undefined ? undefined : ground.conditions.get(declared.sameAs.text)!.ladder!;
  const unit = declared.options.find((option): option is tree.Quantity => option.kind === "quantity")?.unit?.text;
  return {
    goesRound: false,
    directionOf: (word) =>
      word === declared.comparing?.rising?.text
        ? "up"
        : word === declared.comparing?.falling?.text
          ? "down"
          : (copied?.directionOf(word) ?? (unit === "oz" ? ({ heavier: "up", lighter: "down" } as const)[word] : undefined)),
    stretchesOf(value) {
      const at = pick.options.findIndex(({ text, size }) =>
        value.kind === "quantity"
          ? size !== undefined && size.equals(quantityIn(value, unit).mul(unit === undefined ? 1 : new Fraction("28.349523125")))
          : text === (value.kind === "text" ? value.value : value.kind === "name" ? value.text : ""),
      );
      if (at < 0) throw new Error(`no option of ${pick.name}: ${JSON.stringify(value)}`);
      return [single(new Fraction(at))];
    },
  };
}

export function whenOf(model: Model, pattern: Pattern): tree.Test | undefined {
  const written = model.books[pattern.book]!.tree.statements.find(
    (one): one is tree.Pattern => one.kind === "pattern" && one.title!.value === pattern.title,
  )!;
  return written.when;
}

/** The statement that declares a pick or judgement. */
export function declarationOf(pick: Pick, { statements }: Ground): tree.Pick {
  return statements.find((one): one is tree.Pick => (one.kind === "pick" || one.kind === "judgement") && one.name!.text === pick.name)!;
}

/** "A test on a pick with several options at the front holds if it holds for each, fails if it fails for each, else it is unsettled; on a gap, conflict, waiting or no-advice pick it is unsettled"; where the pick is not applicable it fails. */
function truthOfPick(pick: Pick, said: Said, passing: readonly number[]): Truth {
  const options = pick.options.map((_, option) => option);
  const hasList = or(...options.map(said.listed));
  const noneOf = (some: readonly number[]): Term => and(...some.map((option) => not(said.front(option))));
  const holds = and(hasList, noneOf(options.filter((option) => !passing.includes(option))));
  const fails = or(said.is("not applicable"), and(hasList, noneOf(passing)));
  return { holds, fails, waits: and(not(holds), not(fails), not(said.is("no advice"))) };
}

// Definitions ----------------------------------------------------------------------------------------------------------

/** Definitions, each under a name of its own. */
export interface Script {
  readonly lines: readonly string[];
  define(name: string, term: Term, sort?: "Bool" | "Int" | "Real"): Term;
  /** The same as a value of its own, which the solver's points then have. */
  show(name: string, term: Term, sort?: "Bool" | "Int" | "Real"): Term;
}

export function scriptOf(prefix: string): Script {
  const lines: string[] = [];
  return {
    lines,
    define(name, term, sort = "Bool") {
      if (term === yes || term === no) return term;
      lines.push(`(define-fun ${prefix}${name} () ${sort} ${term})`);
      return `${prefix}${name}`;
    },
    show(name, term, sort = "Bool") {
      lines.push(`(declare-const ${prefix}${name} ${sort})\n(assert (= ${prefix}${name} ${term}))`);
      return `${prefix}${name}`;
    },
  };
}

export function defineTruth(script: Script, name: string, { holds, fails, waits }: Truth): Truth {
  return { holds: script.define(`${name}_h`, holds), fails: script.define(`${name}_f`, fails), waits: script.define(`${name}_w`, waits) };
}

export const always: Truth = { holds: yes, fails: no, waits: no };
