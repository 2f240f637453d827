/**
 * What can be observed, and tests of it, as SMT-LIB terms: a second reading of the language, straight from the trees, that shares no
 * code with the resolver's or the analysis's.
 *
 *     scale, days, times      an integer               depth is at least 5 yd      ──▶   depth ≥ 15, whatever the limits written elsewhere
 *     measure, in steps       an integer, times STEP   cover has any of grass, logs ──▶  grass or logs
 *     measure, continuous     a REAL number            band: cool is [50, 60)
 *     set                     a yes/no per member
 *
 * Since a continuous measure is a real number here and never cut, agreement says that cutting it at the limits written loses nothing.
 */
import { Fraction } from "fraction.js";
import type { Model } from "../../src/model/model.js";
import type * as tree from "../../src/syntax/tree.js";
import { and, int, no, not, or, real, yes, type Term } from "./smt-terms.js";

/** A stretch of an order; an end left out is open to all. */
export interface Stretch {
  readonly low?: End;
  readonly high?: End;
}
interface End {
  readonly at: Fraction;
  readonly in: boolean;
}

/** What stands in an order, or in a heap of names: what a value's words stand for, and which way comparing words go. */
export interface Ladder {
  stretchesOf(value: tree.Value): readonly Stretch[];
  directionOf(word: string): "up" | "down" | undefined;
  readonly goesRound: boolean;
}

interface Condition {
  readonly name: string;
  readonly kind: tree.Domain["kind"];
  readonly continuous: boolean;
  /** Names of its variables: one, or one per member of a set. `copy` makes another set of them. */
  variables(copy?: string): readonly string[];
  /** Declarations of its variables and which values exist. */
  declared(copy?: string): string;
  /** A test of it. */
  says(relation: tree.Relation, copy?: string): Term;
  /** Its level, band or step for a `same as`: the test that it lies in the stretch of that name. */
  liesIn(name: string): Term;
  readonly ladder?: Ladder;
  /** Its ends and the values that some test or band mentions, in its own unit. */
  readonly mentioned: readonly Fraction[];
}

export interface Ground {
  readonly conditions: ReadonlyMap<string, Condition>;
  situation(name: string): tree.Test | undefined;
  readonly impossible: readonly tree.Test[];
  readonly statements: readonly tree.Statement[];
}

export function groundOf(model: Model): Ground {
  const statements = model.books.flatMap((book) => book.tree.statements);
  const conditions = new Map<string, Condition>();
  for (const [at, statement] of statements.filter((one): one is tree.Condition => one.kind === "condition").entries())
    conditions.set(statement.name!.text, conditionOf(statement, `c${at}`, statements));
  const situations = new Map(statements.flatMap((one) => (one.kind === "situation" ? [[one.name!.text, one.test!] as const] : [])));
  return {
    conditions,
    statements,
    situation: (name) => situations.get(name),
    impossible: statements.flatMap((one) => (one.kind === "impossible" ? [one.when!] : [])),
  };
}

function conditionOf(statement: tree.Condition, variable: string, statements: readonly tree.Statement[]): Condition {
  const name = statement.name!.text;
  const domain = statement.domain!;
  const groups = new Map(
    statements.flatMap((one) =>
      one.kind === "group" && one.condition!.text === name ? [[one.name!.text, one.members.map(({ text }) => text)] as const] : [],
    ),
  );
  if (domain.kind === "set") return setOf(name, domain, variable, groups);
  const bands = statements.flatMap((one) => (one.kind === "band" && one.condition!.text === name ? one.parts : []));
  const unit = domain.kind === "measure" ? (domain.low!.unit?.text ?? domain.high!.unit?.text) : undefined;
  const step = domain.kind === "measure" && domain.step !== undefined ? differenceIn(domain.step, unit) : undefined;
  const continuous = domain.kind === "measure" && step === undefined;
  const [low, high] =
    domain.kind === "measure"
      ? [quantityIn(domain.low!, unit), quantityIn(domain.high!, unit)]
      : [new Fraction(0), new Fraction(domain.kind === "scale" ? domain.levels.length - 1 : domain.kind === "days" ? 365 : 1439)];
  const goesRound = domain.kind === "days" || domain.kind === "times";
  const mentioned = [low, high];
  const sizeOf = (value: tree.Value): Fraction => {
    const size =
      value.kind === "quantity"
        ? quantityIn(value, unit)
        : value.kind === "day"
          ? dayOf(value)
          : value.kind === "time"
            ? minuteOf(value)
            : undefined;
    if (size === undefined) throw new Error(`no size of ${name}: ${JSON.stringify(value)}`);
    mentioned.push(size);
    return size;
  };
  const banded = bandStretches(bands, sizeOf, goesRound);
  const ladder: Ladder = {
    goesRound,
    directionOf: (word) =>
      word === statement.comparing?.rising?.text ? "up" : word === statement.comparing?.falling?.text ? "down" : undefined,
    stretchesOf(value) {
      if (value.kind !== "name") return [single(sizeOf(value))];
      const levels = domain.kind === "scale" ? domain.levels.map(({ text }) => text) : [];
      const named = groups.get(value.text) ?? (levels.includes(value.text) ? [value.text] : undefined);
      const found = named?.map((level) => single(new Fraction(levels.indexOf(level)))) ?? banded.get(value.text);
      if (found === undefined) throw new Error(`no value ${value.text} of ${name}`);
      return found;
    },
  };
  const own = (copy = ""): string => `${variable}${copy}`;
  // A real number in the condition's own unit, or else which step, counted from the lowest.
  const rungs = continuous ? undefined : { low, step: step ?? new Fraction(1) };
  return {
    name,
    kind: domain.kind,
    continuous,
    ladder,
    mentioned,
    variables: (copy) => [own(copy)],
    declared: (copy) =>
      `(declare-const ${own(copy)} ${continuous ? "Real" : "Int"})\n(assert ${within(own(copy), rungs, { stretches: [{ low: { at: low, in: true }, high: { at: high, in: true } }], negated: false })})`,
    says: (relation, copy) => within(own(copy), rungs, wanted(relation, ladder)),
    liesIn: (level) =>
      within(own(), rungs, { stretches: ladder.stretchesOf({ kind: "name", text: level, range: statement.range }), negated: false }),
  };
}

// Orders -------------------------------------------------------------------------------------------------------------------

export interface Wanted {
  readonly stretches: readonly Stretch[];
  readonly negated: boolean;
}

/** What a relation asks for, in any order. */
export function wanted(relation: tree.Relation, ladder: Ladder): Wanted {
  const only = (value: tree.Value): Stretch => ladder.stretchesOf(value)[0]!;
  const towards = (direction: "up" | "down", stretch: Stretch): Stretch =>
    direction === "up" ? { low: stretch.low } : { high: stretch.high };
  const beyond = (direction: "up" | "down", { low, high }: Stretch): readonly Stretch[] => {
    const end = direction === "up" ? high : low;
    return end === undefined ? [] : [direction === "up" ? { low: flipped(end) } : { high: flipped(end) }];
  };
  switch (relation.kind) {
    case "is": {
      const last = relation.values.at(-1)!;
      const direction = relation.values.length > 1 && last.kind === "name" ? ladder.directionOf(last.text) : undefined;
      const named = (direction === undefined ? relation.values : relation.values.slice(0, -1)).flatMap((value) =>
        ladder.stretchesOf(value),
      );
      return {
        stretches: direction === undefined ? named : named.map((stretch) => towards(direction, stretch)),
        negated: relation.form !== "is",
      };
    }
    case "than":
      return { stretches: beyond(ladder.directionOf(relation.word.text)!, only(relation.value!)), negated: false };
    case "limit": {
      const value = only(relation.value!);
      const stretches =
        relation.limit === "at least"
          ? [towards("up", value)]
          : relation.limit === "at most"
            ? [towards("down", value)]
            : beyond(relation.limit === "above" ? "up" : "down", value);
      return { stretches, negated: false };
    }
    case "between": {
      const [from, to] = [only(relation.from!), only(relation.to!)];
      const round = ladder.goesRound && from.low!.at.compare(to.high!.at) > 0;
      return { stretches: round ? [{ low: from.low }, { high: to.high }] : [{ low: from.low, high: to.high }], negated: false };
    }
    default:
      throw new Error(`no test of an order: ${relation.kind}`);
  }
}

export function single(at: Fraction): Stretch {
  return { low: { at, in: true }, high: { at, in: true } };
}

export function isWithin(value: Fraction, { stretches, negated }: Wanted): boolean {
  const holds = stretches.some(
    ({ low, high }) =>
      (low === undefined || value.compare(low.at) > (low.in ? -1 : 0)) &&
      (high === undefined || value.compare(high.at) < (high.in ? 1 : 0)),
  );
  return holds !== negated;
}

function within(
  variable: Term,
  rungs: { readonly low: Fraction; readonly step: Fraction } | undefined,
  { stretches, negated }: Wanted,
): Term {
  const limit = (side: ">=" | "<=", { at, in: included }: End): Term => {
    if (rungs === undefined) return `(${included ? side : side[0]!} ${variable} ${real(at)})`;
    // The first step from there on, or the last one up to there.
    const rung = at.sub(rungs.low).div(rungs.step);
    const whole = side === ">=" ? rung.ceil() : rung.floor();
    const moved = !included && whole.equals(rung) ? whole.add(side === ">=" ? 1 : -1) : whole;
    return `(${side} ${variable} ${int(moved.valueOf())})`;
  };
  const inside = or(
    ...stretches.map(({ low, high }) => and(low === undefined ? yes : limit(">=", low), high === undefined ? yes : limit("<=", high))),
  );
  return negated ? not(inside) : inside;
}

function flipped({ at, in: own }: End): End {
  return { at, in: !own };
}

/** "each up to but not including its limit; of a day or time, from each start to the next, round the year" */
function bandStretches(
  parts: readonly tree.BandPart[],
  sizeOf: (value: tree.Value) => Fraction,
  goesRound: boolean,
): ReadonlyMap<string, readonly Stretch[]> {
  if (!goesRound) {
    const limits = parts.map(({ below }) => below && sizeOf(below));
    return new Map(
      parts.map(({ name }, i) => [
        name.text,
        [
          {
            ...(limits[i - 1] === undefined ? {} : { low: { at: limits[i - 1]!, in: true } }),
            ...(limits[i] === undefined ? {} : { high: { at: limits[i], in: false } }),
          },
        ],
      ]),
    );
  }
  const starts = parts.map(({ from }) => sizeOf(from!));
  return new Map(
    parts.map(({ name }, i) => {
      const low: End = { at: starts[i]!, in: true };
      const high: End = { at: starts[(i + 1) % starts.length]!, in: false };
      return [name.text, low.at.compare(high.at) < 0 ? [{ low, high }] : [{ low }, { high }]];
    }),
  );
}

// Sets ---------------------------------------------------------------------------------------------------------------------

function setOf(
  name: string,
  { members, atLeastOne }: tree.Domain & { readonly kind: "set" },
  variable: string,
  groups: ReadonlyMap<string, readonly string[]>,
): Condition {
  const own = (copy = ""): readonly string[] => members.map((_, at) => `${variable}_${at}${copy}`);
  return {
    name,
    kind: "set",
    continuous: false,
    mentioned: [],
    variables: own,
    declared: (copy) =>
      [...own(copy).map((one) => `(declare-const ${one} Bool)`), ...(atLeastOne ? [`(assert ${or(...own(copy))})`] : [])].join("\n"),
    liesIn: () => no,
    says(relation, copy) {
      const has = new Map(own(copy).map((one, at) => [members[at]!.text, one]));
      const anyOf = (names: readonly tree.Name[]): Term[] =>
        names.flatMap(({ text }) => groups.get(text) ?? [text]).map((member) => has.get(member)!);
      if (relation.kind === "is empty" || relation.kind === "is not empty") {
        const some = or(...has.values());
        return relation.kind === "is empty" ? not(some) : some;
      }
      if (relation.kind !== "has") throw new Error(`no test of a set: ${relation.kind}`);
      const named = anyOf(relation.members);
      switch (relation.form) {
        case "has":
        case "has any of":
          return or(...named);
        case "has all of":
          return and(...named);
        case "has no":
          return not(or(...named));
        case "only":
          return and(or(...named), not(or(...[...has.values()].filter((one) => !named.includes(one)))));
      }
    },
  };
}

// Sizes --------------------------------------------------------------------------------------------------------------------

/** One unit in the base of its kind, and where its zero lies: NIST SP 811, appendix B. */
const factors: Readonly<Record<string, readonly [factor: string, offset?: string]>> = {
  "°F": ["5/9", "45967/180"],
  "°C": ["1", "273.15"],
  in: ["0.0254"],
  ft: ["0.3048"],
  yd: ["0.9144"],
  m: ["1"],
  mph: ["0.44704"],
  "ft/s": ["0.3048"],
  deg: ["1"],
  oz: ["28.349523125"],
};

function factorOf(unit: string | undefined): readonly [Fraction, Fraction] {
  if (unit === undefined) return [new Fraction(1), new Fraction(0)];
  const found = factors[unit];
  if (found === undefined) throw new Error(`no unit ${unit}`);
  return [new Fraction(found[0]), new Fraction(found[1] ?? 0)];
}

/** `1/2 ft/s`, `1 1/2`, `120 in` in the unit given. */
export function quantityIn({ number, unit: own }: tree.Quantity, unit: string | undefined): Fraction {
  const [factor, offset] = factorOf(own?.text ?? unit);
  const [other, zero] = factorOf(unit);
  return numberIn(number).mul(factor).add(offset).sub(zero).div(other);
}

function differenceIn({ number, unit: own }: tree.Quantity, unit: string | undefined): Fraction {
  return numberIn(number)
    .mul(factorOf(own?.text ?? unit)[0])
    .div(factorOf(unit)[0]);
}

function numberIn(text: string): Fraction {
  const negative = /^[-−]/.test(text);
  const size = text
    .replace(/^[-−]/, "")
    .trim()
    .split(/\s+/)
    .map((part) => new Fraction(part))
    .reduce((a, b) => a.add(b));
  return negative ? size.neg() : size;
}

function dayOf({ month, day }: tree.DayValue): Fraction {
  return new Fraction([31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30].slice(0, month - 1).reduce((days, length) => days + length, day - 1));
}

function minuteOf({ text }: tree.TimeValue): Fraction {
  const [hours, minutes] = text.split(":").map(Number);
  return new Fraction(hours! * 60 + minutes!);
}
