/**
 * A whole book as SMT-LIB 2: "What it means at one point", step by step, as one formula over all points at once.
 *
 *     conditions (smt-ground.ts) ──▶ whens, four-valued ──▶ standing ──▶ passes ──▶ list ──▶ status     one definition each, pick by pick
 *
 * Tests, limits, bands and groups are read from the trees; who says what on which pick, and which book is more local, from the
 * model. *Narrower* and trust are judged by the solver itself before the book is written down (`relationsOf`).
 */
import { Fraction } from "fraction.js";
import type { Model, Pattern, Pick } from "../../src/model/model.js";
import { statuses, type Status } from "../../src/analysis/outcome.js";
import type * as tree from "../../src/syntax/tree.js";
import { and, implies, int, ite, no, not, or, real, sum, yes, type Term } from "./smt-terms.js";
import { isWithin, quantityIn, single, wanted, type Ground, type Ladder } from "./smt-ground.js";
import type { Question, Solver, Values } from "./z3.js";

/** A test's value: it holds, it fails, it waits, or (none of these) all that leaves it unsettled has no advice. */
interface Truth {
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

/** Judged from the `when`s alone. */
export interface Relations {
  narrower(a: Pattern, b: Pattern): boolean;
  ranks(pattern: Pattern, pick: Pick): readonly number[];
}

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
  const going = model.patterns.filter(({ goes }) => goes.length > 0);
  const whens = new Map(going.map((pattern) => [pattern, whenOf(model, pattern)]));
  const termOf = (when: tree.Test | undefined, reader: Partial<Reader> = {}): Term => (when === undefined ? yes : truthOf(when, { model, ground, pick: anyOption(() => ""), ...reader }).holds);
  const shown = scriptOf("");
  const terms = new Map(going.map((pattern) => [pattern, shown.show(`when${pattern.index}`, termOf(whens.get(pattern)))]));
  const rivals = going.flatMap((a) => going.filter((b) => a !== b && a.goes.some(({ pick }) => b.goes.some((go) => go.pick === pick))).map((b) => [a, b] as const));
  const reaching = rivals.map(([a, b]): Question => ({
    that: and(terms.get(a)!, not(terms.get(b)!)),
    holdsAt: (values) => values.get(terms.get(a)!) === true && values.get(terms.get(b)!) === false,
  }));

  const subjects = [...new Map(model.picks.flatMap((pick) => pick.trust.map((subject) => [`${subject.kind} ${subject.index}`, subject] as const))).values()];
  const changes = going.flatMap((pattern) => subjects.map((subject) => [pattern, subject] as const));
  const changing = changes.map(([pattern, { kind, index }]): Question => {
    // The same `when`, spoken of another value of that one subject.
    const other = termOf(whens.get(pattern), {
      pick: anyOption((pick) => (kind === "pick" && pick === index ? "b" : "")),
      copyOf: (condition) => (kind === "condition" && condition === model.conditions[index]!.name ? "b" : ""),
    });
    return { that: other === termOf(whens.get(pattern)) ? no : and(terms.get(pattern)!, not(other)) };
  });

  const replies = await solver.ask([declared(""), declared("b"), ...shown.lines].join("\n"), [...reaching, ...changing]);
  const beyond = new Map(rivals.map(([a, b], i) => [`${a.index} ${b.index}`, replies[i] !== "cannot hold"]));
  const changeable = new Map(changes.map(([pattern, { kind, index }], i) => [`${pattern.index} ${kind} ${index}`, replies[rivals.length + i] !== "cannot hold"]));
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
        const truth = reader.pick(pick.index, pick.options.flatMap((_, option) => (isWithin(new Fraction(option), { stretches, negated: false }) ? [option] : [])));
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
  const rest: tree.Test = { ...test, relation: { ...test.relation, values: values.filter((value) => !alone.some((one) => one === value)) } };
  return [rest, ...alone.map((name): tree.Test => ({ kind: "situation", name, range: name.range }))];
}

/** A pick's options in their order. */
function ladderOf(pick: Pick, ground: Ground): Ladder {
  const declared = ground.statements.find((one): one is tree.Pick => (one.kind === "pick" || one.kind === "judgement") && one.name!.text === pick.name)!;
  const copied = declared.sameAs === undefined ? undefined : ground.conditions.get(declared.sameAs.text)!.ladder!;
  const unit = declared.options.find((option): option is tree.Quantity => option.kind === "quantity")?.unit?.text;
  return {
    goesRound: false,
    directionOf: (word) => (word === declared.comparing?.rising?.text ? "up" : word === declared.comparing?.falling?.text ? "down" : copied?.directionOf(word) ?? (unit === "oz" ? ({ heavier: "up", lighter: "down" } as const)[word] : undefined)),
    stretchesOf(value) {
      const at = pick.options.findIndex(({ text, size }) => (value.kind === "quantity" ? size !== undefined && size.equals(quantityIn(value, unit).mul(unit === undefined ? 1 : new Fraction("28.349523125"))) : text === (value.kind === "text" ? value.value : value.kind === "name" ? value.text : "")));
      if (at < 0) throw new Error(`no option of ${pick.name}: ${JSON.stringify(value)}`);
      return [single(new Fraction(at))];
    },
  };
}

function whenOf(model: Model, pattern: Pattern): tree.Test | undefined {
  const written = model.books[pattern.book]!.tree.statements.find((one): one is tree.Pattern => one.kind === "pattern" && one.title!.value === pattern.title)!;
  return written.when;
}

// The book -------------------------------------------------------------------------------------------------------------------

export function formulasOf(model: Model, ground: Ground, relations: Relations): BookFormulas {
  const conditions = [...ground.conditions.values()];
  const script = scriptOf("");
  const said: Said[] = [];
  const whens = whensOf(model, ground, said, script);
  for (const pick of model.picks) said.push(sayOf({ model, ground, relations, pick, script, seen: said, patterns: model.patterns, whenOf: whens }));
  const possible = ground.impossible.map((test) => `(assert ${truthOf(test, readerOf(model, ground, [])).fails})`);
  const singles = conditions.filter(({ continuous }) => continuous).flatMap((condition) => condition.mentioned.map((value) => [condition.variables()[0]!, value] as const));
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
      return { definitions: more.lines.join("\n"), differs: or(...[...changed].map((pick) => differ(model.picks[pick]!, said[pick]!, after[pick]!))) };
    },
  };
}

/** Definitions, each under a name of its own. */
interface Script {
  readonly lines: readonly string[];
  define(name: string, term: Term, sort?: "Bool" | "Int" | "Real"): Term;
  /** The same as a value of its own, which the solver's points then have. */
  show(name: string, term: Term, sort?: "Bool" | "Int" | "Real"): Term;
}

function scriptOf(prefix: string): Script {
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

function defineTruth(script: Script, name: string, { holds, fails, waits }: Truth): Truth {
  return { holds: script.define(`${name}_h`, holds), fails: script.define(`${name}_f`, fails), waits: script.define(`${name}_w`, waits) };
}

const always: Truth = { holds: yes, fails: no, waits: no };

function readerOf(model: Model, ground: Ground, seen: readonly Said[]): Reader {
  return { model, ground, pick: (pick, options) => truthOfPick(model.picks[pick]!, seen[pick]!, options) };
}

/** Each pattern's `when`, defined where it is first asked for: by then the picks it tests are. */
function whensOf(model: Model, ground: Ground, seen: readonly Said[], script: Script): (pattern: Pattern) => Truth {
  const known = new Map<Pattern, Truth>();
  return (pattern) => {
    let truth = known.get(pattern);
    if (truth === undefined) {
      const when = whenOf(model, pattern);
      known.set(pattern, (truth = when === undefined ? always : defineTruth(script, `when${pattern.index}`, truthOf(when, readerOf(model, ground, seen)))));
    }
    return truth;
  };
}

function differ({ options }: Pick, a: Said, b: Said): Term {
  const pairs = options.flatMap((_, one) => options.map((_, other) => [one, other] as const).filter(([, other]) => one < other));
  return or(
    `(distinct ${a.status} ${b.status})`,
    ...options.map((_, option) => `(distinct ${a.listed(option)} ${b.listed(option)})`),
    ...pairs.map(([one, other]) => and(a.listed(one), a.listed(other), or(...["<", ">"].map((than) => `(distinct (${than} ${a.place(one)} ${a.place(other)}) (${than} ${b.place(one)} ${b.place(other)}))`)))),
  );
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

// One pick -------------------------------------------------------------------------------------------------------------------

interface PickTask {
  readonly model: Model;
  readonly ground: Ground;
  readonly relations: Relations;
  readonly pick: Pick;
  readonly script: Script;
  /** The picks before it. */
  readonly seen: readonly Said[];
  readonly patterns: readonly Pattern[];
  whenOf(pattern: Pattern): Truth;
}

/** Which options stand in a list, and where. */
interface List {
  readonly has: readonly Term[];
  readonly place: readonly Term[];
}

function sayOf({ model, ground, relations, pick, script, seen, patterns, whenOf }: PickTask): Said {
  const named = (what: string, term: Term, sort?: "Bool" | "Int" | "Real"): Term => script.define(`p${pick.index}_${what}`, term, sort);
  const options = pick.options.map((_, option) => option);
  const speaking = patterns.filter((pattern) => speaks(pattern, pick));
  const per = (what: string, among: readonly Pattern[], make: (pattern: Pattern) => Term): ((pattern: Pattern) => Term) => {
    const made = new Map(among.map((pattern) => [pattern, named(`${what}${pattern.index}`, make(pattern))]));
    return (pattern) => made.get(pattern) ?? no;
  };
  const declared = ground.statements.find((one): one is tree.Pick => isPick(one) && one.name!.text === pick.name)!;
  const read = (what: string, test: tree.Test | undefined): Truth => (test === undefined ? always : defineTruth(script, `p${pick.index}_${what}`, truthOf(test, readerOf(model, ground, seen))));

  // 0 and 1: only when, say nothing.
  const onlyWhen = read("only", declared.onlyWhen);
  const silences = model.books.flatMap(({ tree: { statements } }, book) => statements
    .filter((one): one is tree.SayNothing => one.kind === "say nothing" && one.picks.some(({ text }) => text === pick.name))
    .map((one) => ({ book, truth: read(`silence${book}_${one.range.start}`, one.when) })));
  const silencing = or(...silences.map(({ truth }) => truth.holds));
  const silenced = (book: number): Term => or(...silences.filter((silence) => silence.book === book || model.moreLocal(silence.book, book)).map(({ truth }) => truth.holds));

  // 2 and 3: applicable, silenced by `beats`, unsettled, circles.
  const open = per("open", speaking, (pattern) => (says(pattern.nevers, pick) || says(pattern.moves, pick) ? yes : not(silenced(pattern.book))));
  const applies = per("applies", speaking, (pattern) => and(open(pattern), whenOf(pattern).holds));
  const beaten = per("beaten", speaking, (pattern) => or(...speaking.filter((other) => other.beats.some((one) => one.pattern === pattern.index)).map(applies)));
  const unsettled = (which: (truth: Truth) => Term): Term => or(
    which(onlyWhen), ...silences.map(({ truth }) => which(truth)),
    ...speaking.map((pattern) => and(open(pattern), not(beaten(pattern)), which(whenOf(pattern)))));
  const waits = named("waits", unsettled(({ waits }) => waits));
  const unsettledAtAll = named("unsettled", unsettled(({ holds, fails }) => and(not(holds), not(fails))));
  const circle = named("circle", or(...circlesAmong(speaking).map((circle) => and(...circle.map(applies)))));
  const stands = per("stands", speaking, (pattern) => and(applies(pattern), not(beaten(pattern))));
  const voiced = per("voiced", speaking, (pattern) => and(stands(pattern), not(silenced(pattern.book))));

  // 4: three more passes, "each looking only at those still left".
  const going = speaking.filter((pattern) => says(pattern.goes, pick));
  const pass = (what: string, left: (pattern: Pattern) => Term, drops: (a: Pattern, b: Pattern) => boolean) =>
    per(what, going, (pattern) => and(left(pattern), ...going.filter((other) => other !== pattern && drops(other, pattern)).map((other) => not(left(other)))));
  const local = pass("local", voiced, (a, b) => model.moreLocal(a.book, b.book));
  const narrow = pass("narrow", local, (a, b) => relations.narrower(a, b));
  const left = pass("left", narrow, (a, b) => isTrustedMore(relations.ranks(a, pick), relations.ranks(b, pick)));
  const anyGoes = named("goes", or(...going.map(left)));

  // 5 to 7: the list of the go withs, of the leans, of the fall back.
  const leans = speaking.flatMap((pattern) => pattern.leans.filter((lean) => lean.pick === pick.index).map((lean) => ({ pattern, ...lean })));
  const total = options.map((option) => named(`total${option}`, sum(leans.filter((lean) => lean.option === option).map(({ pattern, by }) => ite(voiced(pattern), real(new Fraction(by)), "0.0")), "0.0"), "Real"));
  const ahead = (option: number, other: number): Term => (leans.length === 0 ? no : `(> ${total[other]!} ${total[option]!})`);

  const written = going.map((pattern) => ({ pattern, places: pattern.goes.find((go) => go.pick === pick.index)!.places }));
  const shared = options.map((option) => and(anyGoes, ...written.filter(({ places }) => !places.flat().includes(option)).map(({ pattern }) => not(left(pattern)))));
  const best = options.map((option) => named(`best${option}`, leastOf(options.length, (place) => or(...written.filter(({ places }) => places[place]?.includes(option)).map(({ pattern }) => left(pattern)))), "Int"));
  const together: List = {
    has: shared,
    place: options.map((option) => sum(options.filter((other) => other !== option).map((other) => ite(and(shared[other]!, or(`(< ${best[other]!} ${best[option]!})`, and(`(= ${best[other]!} ${best[option]!})`, ahead(option, other)))), "1", "0")), "0")),
  };

  const positive = total.map((one) => (leans.length === 0 ? no : `(> ${one} 0.0)`));
  // How many greater totals there are: each counted at the first option that has it.
  const rank = options.map((option) => named(`rank${option}`, sum(options.map((other) => ite(and(ahead(option, other), ...options.filter((before) => before < other).map((before) => not(`(= ${total[before]!} ${total[other]!})`))), "1", "0")), "0"), "Int"));
  const leaned: List = { has: options.map((option) => and(positive[option]!, `(<= ${rank[option]!} 2)`)), place: rank };

  const copied = declared.sameAs === undefined ? undefined : ground.conditions.get(declared.sameAs.text)!;
  const falls = pick.fallBack === undefined ? no : not(silenced(pick.fallBack.book));
  const copies = copied === undefined ? no : and(not(falls), not(silenced(pick.book)));
  const fallPlace = (option: number): number => pick.fallBack?.places.findIndex((place) => place.includes(option)) ?? -1;
  const last: List = {
    has: options.map((option) => or(and(falls, fallPlace(option) >= 0 ? yes : no), and(copies, copied?.liesIn(pick.options[option]!.text) ?? no))),
    place: options.map((option) => ite(falls, int(Math.max(0, fallPlace(option))), "0")),
  };

  // 9: moves, then nevers.
  const moves = speaking.flatMap((pattern) => pattern.moves.filter((move) => move.pick === pick.index).map(({ by }) => ite(stands(pattern), int(by), "0")));
  const by = named("by", sum(moves, "0"), "Int");
  const end = options.length - 1;
  const reaches = (from: number, to: number): Term => {
    if (moves.length === 0) return from === to ? yes : no;
    return named(`from${from}to${to}`, to === 0 ? `(<= (+ ${from} ${by}) 0)` : to === end ? `(>= (+ ${from} ${by}) ${end})` : `(= (+ ${from} ${by}) ${to})`);
  };
  const brought = options.map((from) => options.map((to) => reaches(from, to)));
  const never = options.map((option) => named(`never${option}`, or(...speaking.filter((pattern) => pattern.nevers.some((one) => one.pick === pick.index && one.options.includes(option))).map(stands))));
  const ruledOut = and(...never);
  const finish = (what: string, list: List): List & { readonly front: readonly Term[] } => {
    const has = options.map((to) => named(`${what}has${to}`, and(not(never[to]!), or(...options.map((from) => and(list.has[from]!, brought[from]![to]!))))));
    const place = options.map((to) => named(`${what}place${to}`, leastOf(options.length, (at) => or(...options.map((from) => and(list.has[from]!, brought[from]![to]!, `(= ${list.place[from]!} ${at})`)))), "Int"));
    const front = options.map((to) => named(`${what}front${to}`, and(has[to]!, ...options.filter((other) => other !== to).map((other) => implies(has[other]!, `(<= ${place[to]!} ${place[other]!})`)))));
    return { has, place, front };
  };
  const [goList, leanList, lastList] = [finish("g", together), finish("l", leaned), finish("f", last)] as const;
  const oneIn = (front: readonly Term[]): Term => or(...options.map((option) => and(front[option]!, ...options.filter((other) => other !== option).map((other) => not(front[other]!)))));
  // "one option in front, or several that one standing list writes in one place", whichever options a move brought there.
  const source = (to: number, from: number): Term => and(together.has[from]!, brought[from]![to]!, `(= ${together.place[from]!} ${goList.place[to]!})`);
  const oneVoice = or(...written.flatMap(({ pattern, places }) => places.map((place) => and(left(pattern), ...options.map((to) => implies(goList.front[to]!, or(...place.map((from) => source(to, from)))))))));

  // 10: the status.
  const applicable = not(onlyWhen.fails);
  const settled = named("settled", and(applicable, not(unsettledAtAll), not(circle)));
  const anyIn = (has: readonly Term[]): Term => or(...has);
  const speaksUp = named("speaksup", and(settled, anyGoes));
  const quiet = and(settled, not(anyGoes));
  const leanGives = named("leans", and(quiet, anyIn(leanList.has)));
  const atLast = and(quiet, not(anyIn(leanList.has)));
  const lastGives = named("lasts", and(atLast, or(falls, copies), anyIn(lastList.has)));
  const nothing = named("nothing", and(atLast, not(and(or(falls, copies), anyIn(lastList.has)))));
  const noAdvice = and(nothing, not(falls), not(copies), silencing, not(or(...positive)));
  const empty = and(speaksUp, not(anyIn(goList.has)));
  const goGives = named("gogives", and(speaksUp, anyIn(goList.has)));
  const decidedByGo = or(oneIn(goList.front), oneVoice);
  const is: Readonly<Record<Status, Term>> = {
    "not applicable": onlyWhen.fails,
    waiting: and(applicable, waits),
    "no advice": or(and(applicable, not(waits), not(circle), unsettledAtAll), noAdvice),
    conflict: or(and(applicable, not(waits), circle), empty, and(nothing, not(noAdvice), ruledOut)),
    gap: and(nothing, not(noAdvice), not(ruledOut)),
    decided: or(and(goGives, decidedByGo), and(leanGives, oneIn(leanList.front)), and(lastGives, copies)),
    "toss-up": or(and(goGives, not(decidedByGo)), and(leanGives, not(oneIn(leanList.front)))),
    fallback: and(lastGives, falls),
  };
  const isNamed = new Map(statuses.map((status) => [status, named(`is_${status.replaceAll(" ", "_")}`, is[status])]));
  const shown = (what: string, term: Term, sort?: "Bool" | "Int"): Term => script.show(`p${pick.index}_${what}`, term, sort);
  const status = shown("status", statuses.reduceRight<Term>((rest, status, at) => ite(isNamed.get(status)!, int(at), rest), "99"), "Int");
  const chosen = (kind: "has" | "front", option: number): Term => or(and(goGives, goList[kind][option]!), and(leanGives, leanList[kind][option]!), and(lastGives, lastList[kind][option]!));
  const listed = options.map((option) => shown(`listed${option}`, chosen("has", option)));
  const front = options.map((option) => named(`first${option}`, chosen("front", option)));
  const place = options.map((option) => shown(`place${option}`, ite(goGives, goList.place[option]!, ite(leanGives, leanList.place[option]!, lastList.place[option]!)), "Int"));
  return {
    status,
    is: (status) => isNamed.get(status)!,
    listed: (option) => listed[option]!,
    front: (option) => front[option]!,
    place: (option) => place[option]!,
    silences: silences.map(({ book, truth }) => ({ book, holds: truth.holds })),
    disagree: (a, b) => and(speaksUp, left(a), left(b)),
  };
}

function says(parts: readonly { readonly pick: number }[], pick: Pick): boolean {
  return parts.some((part) => part.pick === pick.index);
}

function speaks(pattern: Pattern, pick: Pick): boolean {
  return [pattern.goes, pattern.leans, pattern.nevers, pattern.moves].some((parts) => says(parts, pick));
}

function isPick(statement: tree.Statement): statement is tree.Pick {
  return statement.kind === "pick" || statement.kind === "judgement";
}

/** "the ranks, sorted …; compared position by position, smaller first, missing last" */
function isTrustedMore(a: readonly number[], b: readonly number[]): boolean {
  for (let i = 0; i < Math.max(a.length, b.length); i++) if (a[i] !== b[i]) return (a[i] ?? Infinity) < (b[i] ?? Infinity);
  return false;
}

/** The smallest of a few whole numbers of which a test holds; more than any where it holds of none. */
function leastOf(size: number, holds: (number: number) => Term): Term {
  return Array.from({ length: size }, (_, at) => at).reduceRight<Term>((rest, at) => ite(holds(at), int(at), rest), int(size));
}

/** Every way round along stated `beats`. */
function circlesAmong(patterns: readonly Pattern[]): readonly (readonly Pattern[])[] {
  const found: (readonly Pattern[])[] = [];
  const walk = (path: readonly Pattern[]): void => {
    for (const next of patterns.filter((pattern) => path.at(-1)!.beats.some((one) => one.pattern === pattern.index))) {
      if (next === path[0]) found.push(path);
      else if (!path.includes(next) && next.index > path[0]!.index) walk([...path, next]);
    }
  };
  for (const pattern of patterns) walk([pattern]);
  return found;
}
