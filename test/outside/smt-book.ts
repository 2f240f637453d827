/**
 * A whole book as SMT-LIB 2: "What it means at one point", step by step, as one formula over all points at once.
 *
 *     conditions (smt-ground.ts) ──▶ whens, four-valued ──▶ standing ──▶ passes ──▶ list ──▶ status     one definition each, pick by pick
 *
 * Tests, limits, bands and groups are read from the trees; who says what on which pick, and which book is more local, from the
 * model. *Narrower* and trust are judged by the solver itself before the book is written down (`relationsOf`).
 */
import { Fraction } from "fraction.js";
import type { Model, Pattern, Pick, Places } from "../../src/model/model.js";
import { statuses, type Status } from "../../src/analysis/outcome.js";
import type * as tree from "../../src/syntax/tree.js";
import { and, implies, int, ite, no, not, or, real, sum, yes, type Term } from "./smt-terms.js";
import { isWithin, quantityIn, single, wanted, type Ground, type Ladder } from "./smt-ground.js";
import type { Question, Solver } from "./z3.js";

/** A test's value: it holds, it fails, it waits, or (none of these) all that leaves it unsettled has no advice. */
interface Truth {
  readonly holds: Term;
  readonly fails: Term;
  readonly waits: Term;
}

/** What others can see of a pick: names of the definitions. */
export interface Said {
  status(status: Status): Term;
  /** Whether an option stands in the list, and its place there: smaller is earlier, equal is shared. */
  listed(option: number): Term;
  place(option: number): Term;
  /** Whether a pattern's `go with` is left standing after all passes and is asked at all. */
  stands(pattern: Pattern): Term;
  readonly names: readonly string[];
}

export interface BookFormulas {
  readonly declarations: string;
  readonly said: readonly Said[];
  /** Names of all variables of the conditions. */
  readonly variables: readonly string[];
  whenHolds(pattern: Pattern): Term;
  holds(test: tree.Test): Term;
  /** No continuous measure is at a value that anything mentions. */
  readonly offLimits: Term;
  /** Some pick answers otherwise without the pattern; with the definitions this takes. */
  without(pattern: Pattern): { readonly definitions: string; readonly differs: Term };
}

/** Judged from the `when`s alone. */
export interface Relations {
  narrower(a: Pattern, b: Pattern): boolean;
  ranks(pattern: Pattern, pick: Pick): readonly number[];
}

const lists: readonly Status[] = ["decided", "toss-up", "fallback"];

// Judged beforehand ----------------------------------------------------------------------------------------------------------

/** "over every combination of the values they mention, possible or not, a tested pick standing for any of its options" */
export async function relationsOf(model: Model, ground: Ground, solver: Solver): Promise<Relations> {
  const declared = (copy: string): string => [
    ...[...ground.conditions.values()].map((condition) => condition.declared(copy)),
    ...model.picks.map(({ index, options }) => `(declare-const q${index}${copy} Int)\n(assert (and (>= q${index}${copy} 0) (< q${index}${copy} ${options.length})))`),
  ].join("\n");
  const anyOption = (copy: (pick: number) => string): Reader["pick"] => (pick, options) => {
    const holds = or(...options.map((option) => `(= q${pick}${copy(pick)} ${option})`));
    return { holds, fails: not(holds), waits: no };
  };
  const plain = (when: tree.Test | undefined): Term => (when === undefined ? yes : truthOf(when, { model, ground, pick: anyOption(() => "") }).holds);
  const going = model.patterns.filter(({ goes }) => goes.length > 0);
  const whens = new Map(going.map((pattern) => [pattern, whenOf(model, pattern)]));
  const rivals = going.flatMap((a) => going.filter((b) => a !== b && a.goes.some(({ pick }) => b.goes.some((go) => go.pick === pick))).map((b) => [a, b] as const));
  const reaching: readonly Question[] = rivals.map(([a, b]) => ({ that: and(plain(whens.get(a)), not(plain(whens.get(b)))) }));

  const subjects = model.picks.flatMap((pick) => pick.trust.map((subject) => `${subject.kind} ${subject.index}`));
  const changes = going.flatMap((pattern) => [...new Set(subjects)].map((subject) => [pattern, subject] as const));
  const changing: readonly Question[] = changes.map(([pattern, subject]) => {
    const [kind, index] = [subject.split(" ")[0]!, Number(subject.split(" ")[1])];
    const when = whens.get(pattern);
    if (when === undefined) return { that: no };
    const other = truthOf(when, {
      model, ground,
      pick: anyOption((pick) => (kind === "pick" && pick === index ? "b" : "")),
      copyOf: (condition) => (kind === "condition" && condition === model.conditions[index]!.name ? "b" : ""),
    });
    return { that: and(plain(when), other.fails) };
  });

  const replies = await solver.ask(`${declared("")}\n${declared("b")}`, [...reaching, ...changing]);
  const beyond = new Map(rivals.map(([a, b], i) => [`${a.index} ${b.index}`, replies[i] !== "cannot hold"]));
  const changeable = new Map(changes.map(([pattern, subject], i) => [`${pattern.index} ${subject}`, replies[rivals.length + i] !== "cannot hold"]));
  return {
    narrower: (a, b) => !beyond.get(`${a.index} ${b.index}`)! && beyond.get(`${b.index} ${a.index}`)!,
    ranks: (pattern, pick) => pick.trust.flatMap((subject, rank) => (changeable.get(`${pattern.index} ${subject.kind} ${subject.index}`) ? [rank] : [])),
  };
}

// Tests ----------------------------------------------------------------------------------------------------------------------

interface Reader {
  readonly model: Model;
  readonly ground: Ground;
  /** A test that some options of a pick pass. */
  pick(pick: number, options: readonly number[]): Truth;
  /** Which copy of a condition's variables to speak of. */
  copyOf?(condition: string): string;
}

function truthOf(test: tree.Test, reader: Reader): Truth {
  const { model, ground } = reader;
  switch (test.kind) {
    case "parentheses":
      return truthOf(test.part!, reader);
    case "situation":
      return truthOf(ground.situation(test.name.text), reader);
    case "not": {
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
      const pick = model.picks.find((one) => one.name === name);
      if (pick !== undefined) return reader.pick(pick.index, optionsIn(pick, test.relation!, ground));
      const holds = ground.conditions.get(name)!.says(test.relation!, reader.copyOf?.(name));
      return { holds, fails: not(holds), waits: no };
    }
  }
}

function optionsIn(pick: Pick, relation: tree.Relation, ground: Ground): readonly number[] {
  const declared = ground.statements.find((one): one is tree.Pick => (one.kind === "pick" || one.kind === "judgement") && one.name!.text === pick.name)!;
  const copied = declared.sameAs === undefined ? undefined : ground.conditions.get(declared.sameAs.text)!.ladder!;
  const unit = declared.options.find((option): option is tree.Quantity => option.kind === "quantity")?.unit?.text;
  const ladder: Ladder = {
    goesRound: false,
    directionOf: (word) => (word === declared.comparing?.rising?.text ? "up" : word === declared.comparing?.falling?.text ? "down" : copied?.directionOf(word) ?? (unit === "oz" ? ({ heavier: "up", lighter: "down" } as const)[word] : undefined)),
    stretchesOf(value) {
      const at = pick.options.findIndex(({ text, size }) => (value.kind === "quantity" ? size !== undefined && size.equals(quantityIn(value, unit).mul(unit === undefined ? 1 : new Fraction("28.349523125"))) : text === (value.kind === "text" ? value.value : value.kind === "name" ? value.text : "")));
      if (at < 0) throw new Error(`no option of ${pick.name}: ${JSON.stringify(value)}`);
      return [single(new Fraction(at))];
    },
  };
  const asked = wanted(relation, ladder);
  return pick.options.flatMap((_, option) => (isWithin(new Fraction(option), asked) ? [option] : []));
}

function whenOf(model: Model, pattern: Pattern): tree.Test | undefined {
  const written = model.books[pattern.book]!.tree.statements.find((one): one is tree.Pattern => one.kind === "pattern" && one.title!.value === pattern.title)!;
  return written.when;
}

// The book -------------------------------------------------------------------------------------------------------------------

export function formulasOf(model: Model, ground: Ground, relations: Relations): BookFormulas {
  const lines: string[] = [];
  const whens = new Map<Pattern, Truth>();
  const said: Said[] = [];
  const conditions = [...ground.conditions.values()];
  lines.push(...conditions.map((condition) => condition.declared()));

  const reader = (seen: readonly Said[]): Reader => ({ model, ground, pick: (pick, options) => truthOfPick(model.picks[pick]!, seen[pick]!, options) });
  const defined = (name: string, { holds, fails, waits }: Truth, into: string[]): Truth => ({
    holds: define(into, `${name}h`, "Bool", holds), fails: define(into, `${name}f`, "Bool", fails), waits: define(into, `${name}w`, "Bool", waits),
  });
  const always: Truth = { holds: yes, fails: no, waits: no };
  const whenIn = (seen: readonly Said[], prefix: string, known: Map<Pattern, Truth>, into: string[]) => (pattern: Pattern): Truth => {
    let truth = known.get(pattern);
    if (truth === undefined) {
      const when = whenOf(model, pattern);
      known.set(pattern, (truth = when === undefined ? always : defined(`${prefix}w${pattern.index}`, truthOf(when, reader(seen)), into)));
    }
    return truth;
  };
  const truthIn = (seen: readonly Said[], name: string, into: string[]) => (test: tree.Test | undefined): Truth => (test === undefined ? always : defined(name, truthOf(test, reader(seen)), into));

  for (const test of ground.impossible) lines.push(`(assert ${truthOf(test, reader([])).fails})`);
  for (const pick of model.picks) said.push(sayOf({ model, ground, relations, pick, prefix: "", lines, whenOf: whenIn(said, "", whens, lines), truth: truthIn(said, `g${pick.index}_${lines.length}`, lines), patterns: model.patterns }));

  const offLimits = and(...conditions.filter(({ continuous }) => continuous).flatMap(({ variables, mentioned, ends }) => [...mentioned, ...ends].map((value) => not(`(= ${variables()[0]!} ${real(value)})`))));
  return {
    declarations: lines.join("\n"), said, offLimits,
    variables: conditions.flatMap((condition) => condition.variables()),
    whenHolds: (pattern) => whens.get(pattern)!.holds,
    holds: (test) => truthOf(test, reader(said)).holds,
    without(pattern) {
      const more: string[] = [];
      const prefix = `x${pattern.index}`;
      const known = new Map<Pattern, Truth>();
      const after: Said[] = [];
      const changed = new Set<number>();
      for (const pick of model.picks) {
        const touched = [...pattern.goes, ...pattern.leans, ...pattern.nevers, ...pattern.moves].some((part) => part.pick === pick.index);
        if (!touched && !pick.tests.some((other) => changed.has(other))) {
          after.push(said[pick.index]!);
          continue;
        }
        changed.add(pick.index);
        const patterns = model.patterns.filter((other) => other !== pattern);
        after.push(sayOf({ model, ground, relations, pick, prefix, lines: more, whenOf: whenIn(after, prefix, known, more), truth: truthIn(after, `${prefix}g${pick.index}_${more.length}`, more), patterns }));
      }
      return { definitions: more.join("\n"), differs: or(...[...changed].map((pick) => differ(model.picks[pick]!, said[pick]!, after[pick]!))) };
    },
  };
}

function differ({ options }: Pick, a: Said, b: Said): Term {
  const pairs = options.flatMap((_, one) => options.map((_, other) => [one, other] as const).filter(([, other]) => one < other));
  return or(
    ...statuses.map((status) => `(distinct ${a.status(status)} ${b.status(status)})`),
    ...options.map((_, option) => `(distinct ${a.listed(option)} ${b.listed(option)})`),
    ...pairs.map(([one, other]) => and(a.listed(one), a.listed(other), or(...["<", ">"].map((than) => `(distinct (${than} ${a.place(one)} ${a.place(other)}) (${than} ${b.place(one)} ${b.place(other)}))`)))),
  );
}

/** "A test on a pick with several options at the front holds if it holds for each, fails if it fails for each, else it is unsettled" */
function truthOfPick(pick: Pick, said: Said, passing: readonly number[]): Truth {
  const first = (option: number): Term => and(said.listed(option), ...pick.options.map((_, other) => implies(said.listed(other), `(<= ${said.place(option)} ${said.place(other)})`)));
  const hasList = or(...lists.map((status) => said.status(status)));
  const none = (options: readonly number[]): Term => and(...options.map((option) => not(first(option))));
  const failing = pick.options.map((_, option) => option).filter((option) => !passing.includes(option));
  const holds = and(hasList, none(failing));
  const fails = or(said.status("not applicable"), and(hasList, none(passing)));
  return { holds, fails, waits: and(not(holds), not(fails), not(said.status("no advice"))) };
}

// One pick -------------------------------------------------------------------------------------------------------------------

interface PickTask {
  readonly model: Model;
  readonly ground: Ground;
  readonly relations: Relations;
  readonly pick: Pick;
  readonly prefix: string;
  readonly lines: string[];
  readonly patterns: readonly Pattern[];
  whenOf(pattern: Pattern): Truth;
  truth(test: tree.Test | undefined): Truth;
}

/** A list before or after moves and nevers: per option whether it is in, and its place. */
interface List {
  readonly in: readonly Term[];
  readonly place: readonly Term[];
}

function sayOf({ model, ground, relations, pick, prefix, lines, patterns, whenOf, truth }: PickTask): Said {
  const name = `${prefix}p${pick.index}`;
  const let_ = (what: string, term: Term, sort = "Bool"): Term => define(lines, `${name}_${what}`, sort, term);
  const each = <Value>(make: (option: number) => Value): Value[] => pick.options.map((_, option) => make(option));
  const speaking = patterns.filter((pattern) => [pattern.goes, pattern.leans, pattern.nevers, pattern.moves].some((parts) => says(parts, pick)));
  const per = (what: string, make: (pattern: Pattern) => Term): ((pattern: Pattern) => Term) => {
    const made = new Map(speaking.map((pattern) => [pattern, let_(`${what}${pattern.index}`, make(pattern))]));
    return (pattern) => made.get(pattern)!;
  };
  const declared = ground.statements.find((one): one is tree.Pick => (one.kind === "pick" || one.kind === "judgement") && one.name!.text === pick.name)!;

  // Steps 0 and 1.
  const onlyWhen = truth(declared.onlyWhen);
  const sayings = model.books.flatMap((book, index) => book.tree.statements.flatMap((one, at) => (one.kind === "say nothing" && one.pick!.text === pick.name ? [{ book: index, at, test: one.when }] : [])));
  const silences = sayings.map(({ book, test }, i) => ({ book, truth: i === 0 && declared.onlyWhen === undefined ? truth(test) : truthOfMore(i, test) }));
  function truthOfMore(i: number, test: tree.Test | undefined): Truth {
    const before = lines.length;
    const made = truth(test);
    // Several tests of one pick share a stem: keep their names apart.
    for (let line = before; line < lines.length; line++) lines[line] = lines[line]!.replace(/define-fun (\S+)/, (_, own: string) => `define-fun ${own}_${i}`);
    const renamed = (term: Term): Term => (/^[a-z]\S*g\d+_\d+[hfw]$|^g\d+_\d+[hfw]$/.test(term) ? `${term}_${i}` : term);
    return { holds: renamed(made.holds), fails: renamed(made.fails), waits: renamed(made.waits) };
  }
  const silencing = or(...silences.map((silence) => silence.truth.holds));
  const silenced = (book: number): Term => or(...silences.filter((silence) => silence.book === book || model.moreLocal(silence.book, book)).map((silence) => silence.truth.holds));
  void silencing; void silenced; void onlyWhen; void per; void each; void sum; void int; void ite;
  throw new Error("unfinished");
}

function says(parts: readonly { readonly pick: number }[], pick: Pick): boolean {
  return parts.some((part) => part.pick === pick.index);
}

function define(lines: string[], name: string, sort: string, term: Term): Term {
  if (term === yes || term === no) return term;
  lines.push(`(define-fun ${name} () ${sort} ${term})`);
  return name;
}

export type { List, Places };
