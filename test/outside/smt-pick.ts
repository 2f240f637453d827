/**
 * One pick as SMT-LIB: the steps of "What it means at one point", one definition each, over all points at once.
 *
 *     whens ──▶ open, applies, beaten ──▶ stands ──▶ local ──▶ narrow ──▶ left ──▶ list of go withs, of leans, of the fall back ──▶ status
 */
import { Fraction } from "fraction.js";
import { statuses, type Status } from "../../src/analysis/outcome.js";
import type { Model, Pattern, Pick } from "../../src/model/model.js";
import type * as tree from "../../src/syntax/tree.js";
import type { Ground } from "./smt-ground.js";
import type { Relations } from "./smt-relations.js";
import { and, implies, int, ite, no, not, or, real, sum, yes, type Term } from "./smt-terms.js";
import { always, declarationOf, defineTruth, readerOf, truthOf, type Said, type Script, type Truth } from "./smt-tests.js";

export interface PickTask {
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

export function sayOf({ model, ground, relations, pick, script, seen, patterns, whenOf }: PickTask): Said {
  const named = (what: string, term: Term, sort?: "Bool" | "Int" | "Real"): Term => script.define(`p${pick.index}_${what}`, term, sort);
  const options = pick.options.map((_, option) => option);
  const speaking = patterns.filter((pattern) => speaks(pattern, pick));
  const per = (what: string, among: readonly Pattern[], make: (pattern: Pattern) => Term): ((pattern: Pattern) => Term) => {
    const made = new Map(among.map((pattern) => [pattern, named(`${what}${pattern.index}`, make(pattern))]));
    return (pattern) => made.get(pattern) ?? no;
  };
  const declared = declarationOf(pick, ground);
  const read = (what: string, test: tree.Test | undefined): Truth =>
    test === undefined ? always : defineTruth(script, `p${pick.index}_${what}`, truthOf(test, readerOf(model, ground, seen)));

  // 0 and 1: only when, say nothing.
  const onlyWhen = read("only", declared.onlyWhen);
  const silences = model.books.flatMap(({ tree: { statements } }, book) =>
    statements
      .filter(
        (one): one is tree.SayNothing =>
          one.kind === "say nothing" &&
          ((one.everything !== undefined && !pick.judgement) || one.picks.some(({ text }) => text === pick.name)),
      )
      .map((one) => ({ book, everything: one.everything !== undefined, truth: read(`silence${book}_${one.range.start}`, one.when) })),
  );
  const silencing = or(...silences.map(({ truth }) => truth.holds));
  const isLess = (book: number, than: number): boolean => book === than || model.moreLocal(than, book);
  const holding = (some: typeof silences): Term => or(...some.map(({ truth }) => truth.holds));
  const silenced = (book: number): Term => holding(silences.filter((one) => one.everything || isLess(book, one.book)));
  const silencedGoing = (book: number): Term =>
    holding(silences.filter((one) => (one.everything ? !model.moreLocal(book, one.book) : isLess(book, one.book))));

  // 2 and 3: applicable, silenced by `beats`, unsettled, circles.
  const open = per("open", speaking, (pattern) =>
    says(pattern.nevers, pick) || says(pattern.moves, pick)
      ? yes
      : or(
          ...(says(pattern.goes, pick) ? [not(silencedGoing(pattern.book))] : []),
          ...(says(pattern.leans, pick) ? [not(silenced(pattern.book))] : []),
        ),
  );
  const applies = per("applies", speaking, (pattern) => and(open(pattern), whenOf(pattern).holds));
  const beaten = per("beaten", speaking, (pattern) =>
    or(...speaking.filter((other) => other.beats.some((one) => one.pattern === pattern.index)).map(applies)),
  );
  const unsettled = (which: (truth: Truth) => Term): Term =>
    or(
      which(onlyWhen),
      ...silences.map(({ truth }) => which(truth)),
      ...speaking.map((pattern) => and(open(pattern), not(beaten(pattern)), which(whenOf(pattern)))),
    );
  const waits = named(
    "waits",
    unsettled(({ waits }) => waits),
  );
  const unsettledAtAll = named(
    "unsettled",
    unsettled(({ holds, fails }) => and(not(holds), not(fails))),
  );
  const circle = named("circle", or(...circlesAmong(speaking).map((circle) => and(...circle.map(applies)))));
  const stands = per("stands", speaking, (pattern) => and(applies(pattern), not(beaten(pattern))));
  const voiced = per("voiced", speaking, (pattern) => and(stands(pattern), not(silenced(pattern.book))));

  // 4: three more passes, "each looking only at those still left".
  const going = speaking.filter((pattern) => says(pattern.goes, pick));
  const pass = (what: string, left: (pattern: Pattern) => Term, drops: (a: Pattern, b: Pattern) => boolean) =>
    per(what, going, (pattern) =>
      and(left(pattern), ...going.filter((other) => other !== pattern && drops(other, pattern)).map((other) => not(left(other)))),
    );
  const heard = per("heard", going, (pattern) => and(stands(pattern), not(silencedGoing(pattern.book))));
  const local = pass("local", heard, (a, b) => model.moreLocal(a.book, b.book));
  const narrow = pass("narrow", local, (a, b) => relations.narrower(a, b));
  const left = pass("left", narrow, (a, b) => isTrustedMore(relations.ranks(a, pick), relations.ranks(b, pick)));
  const anyGoes = named("goes", or(...going.map(left)));

  // 5 to 7: the list of the go withs, of the leans, of the fall back.
  const leans = speaking.flatMap((pattern) =>
    pattern.leans.filter((lean) => lean.pick === pick.index).map((lean) => ({ pattern, ...lean })),
  );
  const total = options.map((option) =>
    named(
      `total${option}`,
      sum(
        leans.filter((lean) => lean.option === option).map(({ pattern, by }) => ite(voiced(pattern), real(new Fraction(by)), "0.0")),
        "0.0",
      ),
      "Real",
    ),
  );
  const ahead = (option: number, other: number): Term => (leans.length === 0 ? no : `(> ${total[other]!} ${total[option]!})`);

  const written = going.map((pattern) => ({ pattern, places: pattern.goes.find((go) => go.pick === pick.index)!.places }));
  const shared = options.map((option) =>
    and(anyGoes, ...written.filter(({ places }) => !places.flat().includes(option)).map(({ pattern }) => not(left(pattern)))),
  );
  const best = options.map((option) =>
    named(
      `best${option}`,
      leastOf(options.length, (place) =>
        or(...written.filter(({ places }) => places[place]?.includes(option)).map(({ pattern }) => left(pattern))),
      ),
      "Int",
    ),
  );
  const together: List = {
    has: shared,
    place: options.map((option) =>
      sum(
        options
          .filter((other) => other !== option)
          .map((other) =>
            ite(
              and(
                shared[other]!,
                or(`(< ${best[other]!} ${best[option]!})`, and(`(= ${best[other]!} ${best[option]!})`, ahead(option, other))),
              ),
              "1",
              "0",
            ),
          ),
        "0",
      ),
    ),
  };

  const positive = total.map((one) => (leans.length === 0 ? no : `(> ${one} 0.0)`));
  // How many greater totals there are: each counted at the first option that has it.
  const rank = options.map((option) =>
    named(
      `rank${option}`,
      sum(
        options.map((other) =>
          ite(
            and(
              ahead(option, other),
              ...options.filter((before) => before < other).map((before) => not(`(= ${total[before]!} ${total[other]!})`)),
            ),
            "1",
            "0",
          ),
        ),
        "0",
      ),
      "Int",
    ),
  );
  const leaned: List = { has: options.map((option) => and(positive[option]!, `(<= ${rank[option]!} 2)`)), place: rank };

  const copied = declared.sameAs === undefined ? undefined : ground.conditions.get(declared.sameAs.text)!;
  const falls = pick.fallBack === undefined ? no : not(silenced(pick.fallBack.book));
  const copies = copied === undefined ? no : and(not(falls), not(silenced(pick.book)));
  const fallPlace = (option: number): number => pick.fallBack?.places.findIndex((place) => place.includes(option)) ?? -1;
  const last: List = {
    has: options.map((option) =>
      or(and(falls, fallPlace(option) >= 0 ? yes : no), and(copies, copied?.liesIn(pick.options[option]!.text) ?? no)),
    ),
    place: options.map((option) => ite(falls, int(Math.max(0, fallPlace(option))), "0")),
  };

  // 9: moves, then nevers.
  const moves = speaking.flatMap((pattern) =>
    pattern.moves.filter((move) => move.pick === pick.index).map(({ by }) => ite(stands(pattern), int(by), "0")),
  );
  const by = named("by", sum(moves, "0"), "Int");
  const end = options.length - 1;
  const reaches = (from: number, to: number): Term => {
    if (moves.length === 0) return from === to ? yes : no;
    return named(
      `from${from}to${to}`,
      to === 0 ? `(<= (+ ${from} ${by}) 0)` : to === end ? `(>= (+ ${from} ${by}) ${end})` : `(= (+ ${from} ${by}) ${to})`,
    );
  };
  const brought = options.map((from) => options.map((to) => reaches(from, to)));
  const never = options.map((option) =>
    named(
      `never${option}`,
      or(
        ...speaking.filter((pattern) => pattern.nevers.some((one) => one.pick === pick.index && one.options.includes(option))).map(stands),
      ),
    ),
  );
  const ruledOut = and(...never);
  const finish = (what: string, list: List): List & { readonly front: readonly Term[] } => {
    const has = options.map((to) =>
      named(`${what}has${to}`, and(not(never[to]!), or(...options.map((from) => and(list.has[from]!, brought[from]![to]!))))),
    );
    const place = options.map((to) =>
      named(
        `${what}place${to}`,
        leastOf(options.length, (at) =>
          or(...options.map((from) => and(list.has[from]!, brought[from]![to]!, `(= ${list.place[from]!} ${at})`))),
        ),
        "Int",
      ),
    );
    const front = options.map((to) =>
      named(
        `${what}front${to}`,
        and(
          has[to]!,
          ...options.filter((other) => other !== to).map((other) => implies(has[other]!, `(<= ${place[to]!} ${place[other]!})`)),
        ),
      ),
    );
    return { has, place, front };
  };
  const [goList, leanList, lastList] = [finish("g", together), finish("l", leaned), finish("f", last)] as const;
  const oneIn = (front: readonly Term[]): Term =>
    or(...options.map((option) => and(front[option]!, ...options.filter((other) => other !== option).map((other) => not(front[other]!)))));
  // "one option in front, or several that one standing list writes in one place", whichever options a move brought there.
  const source = (to: number, from: number): Term =>
    and(together.has[from]!, brought[from]![to]!, `(= ${together.place[from]!} ${goList.place[to]!})`);
  const oneVoice = or(
    ...written.flatMap(({ pattern, places }) =>
      places.map((place) =>
        and(left(pattern), ...options.map((to) => implies(goList.front[to]!, or(...place.map((from) => source(to, from)))))),
      ),
    ),
  );

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
  const status = shown(
    "status",
    statuses.reduceRight<Term>((rest, status, at) => ite(isNamed.get(status)!, int(at), rest), "99"),
    "Int",
  );
  const chosen = (kind: "has" | "front", option: number): Term =>
    or(and(goGives, goList[kind][option]!), and(leanGives, leanList[kind][option]!), and(lastGives, lastList[kind][option]!));
  const listed = options.map((option) => shown(`listed${option}`, chosen("has", option)));
  const front = options.map((option) => named(`first${option}`, chosen("front", option)));
  const place = options.map((option) =>
    shown(`place${option}`, ite(goGives, goList.place[option]!, ite(leanGives, leanList.place[option]!, lastList.place[option]!)), "Int"),
  );
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

export function speaks(pattern: Pattern, pick: Pick): boolean {
  return [pattern.goes, pattern.leans, pattern.nevers, pattern.moves].some((parts) => says(parts, pick));
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
