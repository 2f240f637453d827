/**
 * Tests as shared formulas over variables, evaluated on whole boxes at once.
 *
 * A test on a pick may be *unsettled*, and why matters (no advice is not waiting), so a test has one of four values, and over a box
 * a set of them, a four-bit mask:
 *
 *     1 holds   2 fails   4 unsettled, waiting   8 unsettled, only through picks with no advice
 *
 * Kleene's strong three-valued logic, with the unsettled value split in two: in an `and` the parts that leave it unsettled are those
 * that do not hold, and one waiting part makes the whole waiting.
 *
 *     atom   variable ∈ span ──restrict──▶ smaller atom, or a constant once the box has settled it
 *
 * Formulas are hash-consed: equal formulas have equal numbers, so what is left of a pattern inside a box names the sub-problem.
 */
import type { Test } from "../../model/model.js";
import { chains, mixed } from "./chains.js";
import { complement, disjoint, holds, intersect, isEmpty, same, union, within, type Span } from "../../model/span.js";

export const HOLDS = 1;
export const FAILS = 2;
export const WAITS = 4;
export const NO_ADVICE = 8;
export type Mask = number;

export type Formula = number;

/** An atom as the choice of a cut sees it. */
export interface Edges {
  readonly variable: number;
  readonly quarters: Quarters;
  /** Positions up to which one may cut. */
  readonly edges: readonly number[];
  readonly scattered: readonly Span[];
  /** Of each quarter: its lowest and its highest position. */
  readonly first: readonly number[];
  readonly last: readonly number[];
  /** Its mentions, by the values that would settle the formula. */
  readonly mentions: readonly Mention[];
}

/** One mention of a variable in a formula, with the values that alone would settle the formula. */
export interface Mention {
  readonly atom: Edges;
  readonly settling: Mask;
}

/** The four parts of a variable's domain, by the value the atom has there. */
export type Quarters = readonly [holds: Span, fails: Span, waits: Span, noAdvice: Span];

/** How a test on a pick reads its variable. */
type ReadPick = (pick: number, span: Span) => { readonly variable: number; readonly quarters: Quarters };

export interface Formulas {
  readonly always: Formula;
  readonly never: Formula;
  /** No value at all: known not to matter. */
  readonly nothing: Formula;
  compile(test: Test | undefined, readPick: ReadPick): Formula;
  atom(variable: number, quarters: Quarters): Formula;
  and(parts: readonly Formula[]): Formula;
  not(formula: Formula): Formula;
  /** What is left of the formula where the variable lies in `inside`. */
  restrict(formula: Formula, variable: number, inside: Span): Formula;
  /** The same for several variables at once. */
  narrow(formula: Formula, box: ReadonlyMap<number, Span>): Formula;
  /** The values it may still have; exact once it is one bit, otherwise possibly too wide, never too narrow. */
  mask(formula: Formula): Mask;
  /** Variables still mentioned, rising. */
  support(formula: Formula): readonly number[];
  /** Of an atom. */
  quarters(formula: Formula): Quarters;
  /** Of an atom: what `make` made of it, made once. */
  edges(formula: Formula, make: () => Edges): Edges;
  /** What `make` made of the formula, made once. */
  mentions(formula: Formula, make: () => readonly Mention[]): readonly Mention[];
  /** Does some work and then forgets every formula that came up in it; none may be kept. */
  passing<T>(work: () => T): T;
  /** The one value where every variable has this position. */
  valueAt(formula: Formula, position: (variable: number) => number): Mask;
  shape(formula: Formula): { readonly kind: "constant" | "atom" | "and" | "or"; readonly parts: readonly Formula[] };
  /** The formula as a plain conjunction of atoms, if it is one. */
  conjunction(formula: Formula): readonly { readonly variable: number; readonly quarters: Quarters }[] | undefined;
}

interface Shape {
  readonly kind: "constant" | "atom" | "and" | "or";
  readonly mask: Mask;
  readonly variable: number;
  readonly quarters: Quarters;
  readonly parts: readonly Formula[];
  readonly support: readonly number[];
  edges?: Edges;
  mentions?: readonly Mention[];
}

const nothing: Quarters = [[], [], [], []];

/** `sizes(variable)`: how many positions a variable has. */
export function formulas(sizes: (variable: number) => number): Formulas {
  const shapes: Shape[] = [];
  const known = chains();
  const added = (shape: Shape, hash: number): Formula => {
    shapes.push(shape);
    known.push(hash);
    return shapes.length - 1;
  };
  const constants = [0, HOLDS, FAILS, 0, WAITS, 0, 0, 0, NO_ADVICE].map((mask) =>
    added({ kind: "constant", mask, variable: -1, quarters: nothing, parts: [], support: [] }, mask),
  );
  const constant = (mask: Mask): Formula => constants[mask]!;
  const atom = (variable: number, quarters: Quarters): Formula => {
    const mask = quartersMask(quarters);
    if (oneBit(mask)) return constant(mask);
    let hash = variable;
    for (const span of quarters) hash = mixed(hash, span);
    return (
      known.find(hash, (formula) => {
        const shape = shapes[formula]!;
        return shape.kind === "atom" && shape.variable === variable && quarters.every((span, i) => same(span, shape.quarters[i]!));
      }) ?? added({ kind: "atom", mask, variable, quarters, parts: [], support: [variable] }, hash)
    );
  };
  const join = (kind: "and" | "or", given: readonly Formula[]): Formula => {
    const neutral = kind === "and" ? HOLDS : FAILS;
    const absorbing = kind === "and" ? FAILS : HOLDS;
    const combine = kind === "and" ? andTable : orTable;
    const parts = new Set<Formula>();
    const quartersOf = new Map<number, Quarters>();
    const add = (part: Formula): void => {
      const shape = shapes[part]!;
      if (shape.kind === kind) shape.parts.forEach(add);
      else if (shape.kind === "atom") {
        // Two tests of one variable are one test.
        const before = quartersOf.get(shape.variable);
        quartersOf.set(shape.variable, before ? joined(combine, before, shape.quarters) : shape.quarters);
      } else parts.add(part);
    };
    for (const part of given) if (shapes[part]!.mask !== neutral) add(part);
    for (const [variable, quarters] of quartersOf) parts.add(atom(variable, quarters));
    for (const part of [...parts]) {
      if (shapes[part]!.mask === absorbing) return constant(absorbing);
      if (shapes[part]!.mask === neutral) parts.delete(part);
    }
    const list = [...parts].sort((a, b) => a - b);
    if (list.length === 0) return constant(neutral);
    if (list.length === 1) return list[0]!;
    return made(kind, list);
  };
  /** An `and` or `or` of at least two parts, in rising order, that are known not to join any further. */
  const made = (kind: "and" | "or", list: readonly Formula[]): Formula => {
    const combine = kind === "and" ? andTable : orTable;
    const mask = list.reduce((sum, part) => combine[(sum << 4) | shapes[part]!.mask]!, kind === "and" ? HOLDS : FAILS);
    if (oneBit(mask)) return constant(mask);
    const hash = mixed(kind === "and" ? 1 : 2, list);
    return (
      known.find(hash, (formula) => shapes[formula]!.kind === kind && same(shapes[formula]!.parts, list)) ??
      added({ kind, mask, variable: -1, quarters: nothing, parts: list, support: supportOf(list) }, hash)
    );
  };
  /** When a variable was last met, and in which round. */
  const met: number[] = [];
  let round = 0;
  const supportOf = (parts: readonly Formula[]): readonly number[] => {
    round++;
    const support: number[] = [];
    for (const part of parts)
      for (const variable of shapes[part]!.support) {
        if (met[variable] === round) continue;
        met[variable] = round;
        insert(support, variable);
      }
    return support;
  };
  const not = (formula: Formula): Formula => {
    const shape = shapes[formula]!;
    if (shape.kind === "constant") return constant(swap(shape.mask));
    if (shape.kind === "atom") {
      const [yes, no, waits, none] = shape.quarters;
      return atom(shape.variable, [no, yes, waits, none]);
    }
    return join(shape.kind === "and" ? "or" : "and", shape.parts.map(not));
  };
  // The tests of a model never change, so each is made once; of a passing one nothing is kept.
  const compiled = new Map<Test, Formula>();
  const inOrder: Test[] = [];
  const compile = (test: Test | undefined, readPick: ReadPick): Formula => {
    if (!test) return constant(HOLDS);
    let formula = compiled.get(test);
    if (formula === undefined) {
      compiled.set(test, (formula = compileAnew(test, readPick)));
      inOrder.push(test);
    }
    return formula;
  };
  const compileAnew = (test: Test, readPick: ReadPick): Formula => {
    switch (test.kind) {
      case "always":
        return constant(HOLDS);
      case "never":
        return constant(FAILS);
      case "and":
      case "or":
        return join(
          test.kind,
          test.parts.map((part) => compile(part, readPick)),
        );
      case "not":
        return not(compile(test.part, readPick));
      case "axis":
        return atom(test.axis, [test.span, complement(test.span, sizes(test.axis)), [], []]);
      case "pick": {
        const { variable, quarters } = readPick(test.pick, test.span);
        return atom(variable, quarters);
      }
    }
  };
  const restrict = (formula: Formula, variable: number, inside: Span): Formula => {
    const shape = shapes[formula]!;
    if (!shape.support.includes(variable)) return formula;
    return shape.kind === "atom" ? restrictAtom(formula, shape, inside) : restrictParts(shape, (part) => restrict(part, variable, inside));
  };
  const narrow = (formula: Formula, box: ReadonlyMap<number, Span>): Formula => {
    const shape = shapes[formula]!;
    if (!shape.support.some((variable) => box.has(variable))) return formula;
    return shape.kind === "atom"
      ? restrictAtom(formula, shape, box.get(shape.variable)!)
      : restrictParts(shape, (part) => narrow(part, box));
  };
  const restrictParts = ({ kind, parts }: Shape, change: (part: Formula) => Formula): Formula => {
    const absorbing = kind === "and" ? FAILS : HOLDS;
    const neutral = kind === "and" ? HOLDS : FAILS;
    const left: Formula[] = [];
    let plain = true;
    for (const part of parts) {
      const next = change(part);
      const { mask, kind: nextKind } = shapes[next]!;
      if (mask === absorbing) return constant(absorbing);
      if (mask === neutral) continue;
      // Another kind of part than before may have to be joined with its new neighbours.
      if (next !== part && nextKind !== shapes[part]!.kind) plain = false;
      insert(left, next);
    }
    return plain && left.length > 1 ? made(kind as "and" | "or", left) : join(kind as "and" | "or", left);
  };
  const restrictAtom = (formula: Formula, shape: Shape, inside: Span): Formula => {
    for (let i = 0; i < 4; i++) if (within(inside, shape.quarters[i]!)) return constant(1 << i);
    const quarters = shape.quarters.map((span) => intersect(span, inside)) as unknown as Quarters;
    return quarters.every((span, i) => same(span, shape.quarters[i]!)) ? formula : atom(shape.variable, quarters);
  };
  const valueAt = (formula: Formula, position: (variable: number) => number): Mask => {
    const shape = shapes[formula]!;
    if (shape.kind === "constant") return shape.mask;
    if (shape.kind === "atom") {
      const at = position(shape.variable);
      return 1 << shape.quarters.findIndex((span) => holds(span, at));
    }
    const combine = shape.kind === "and" ? andTable : orTable;
    const absorbing = shape.kind === "and" ? FAILS : HOLDS;
    let value = shape.kind === "and" ? HOLDS : FAILS;
    for (const part of shape.parts) {
      value = combine[(value << 4) | valueAt(part, position)]!;
      if (value === absorbing) break;
    }
    return value;
  };
  const passing = <T>(work: () => T): T => {
    const before = shapes.length;
    const tests = inOrder.length;
    try {
      return work();
    } finally {
      for (const test of inOrder.splice(tests)) compiled.delete(test);
      shapes.length = before;
      known.cut(before);
    }
  };
  const conjunction = (formula: Formula) => {
    const shape = shapes[formula]!;
    if (shape.kind === "constant") return shape.mask === HOLDS ? [] : undefined;
    if (shape.kind === "atom") return [shape];
    if (shape.kind !== "and" || !shape.parts.every((part) => shapes[part]!.kind === "atom")) return undefined;
    return shape.parts.map((part) => shapes[part]!);
  };
  return {
    always: constant(HOLDS),
    never: constant(FAILS),
    nothing: constant(0),
    compile,
    atom,
    and: (parts) => join("and", parts),
    not,
    restrict,
    narrow,
    mask: (formula) => shapes[formula]!.mask,
    support: (formula) => shapes[formula]!.support,
    quarters: (formula) => shapes[formula]!.quarters,
    edges: (formula, make) => (shapes[formula]!.edges ??= make()),
    valueAt,
    passing,
    mentions: (formula, make) => (shapes[formula]!.mentions ??= make()),
    shape: (formula) => shapes[formula]!,
    conjunction,
  };
}

/** Adds an item to a short rising list, unless it is there. */
function insert(list: number[], item: number): void {
  let at = list.length;
  while (at > 0 && list[at - 1]! > item) at--;
  if (list[at - 1] !== item) list.splice(at, 0, item);
}

export function oneBit(mask: Mask): boolean {
  return (mask & (mask - 1)) === 0;
}

/** The values an atom may have where its variable lies in `inside`. */
export function maskWithin(quarters: Quarters, inside: Span): Mask {
  let mask = 0;
  for (let i = 0; i < 4; i++) if (!disjoint(quarters[i]!, inside)) mask |= 1 << i;
  return mask;
}

function quartersMask(quarters: Quarters): Mask {
  let mask = 0;
  for (let i = 0; i < 4; i++) if (!isEmpty(quarters[i]!)) mask |= 1 << i;
  return mask;
}

function swap(mask: Mask): Mask {
  return (mask & (WAITS | NO_ADVICE)) | ((mask & HOLDS) << 1) | ((mask & FAILS) >> 1);
}

/** Two atoms of one variable as one: each position has the combination of its two values. */
function joined(combine: readonly Mask[], a: Quarters, b: Quarters): Quarters {
  const result: Span[] = [[], [], [], []];
  for (let i = 0; i < 4; i++)
    for (let j = 0; j < 4; j++) {
      const both = intersect(a[i]!, b[j]!);
      const value = 31 - Math.clz32(combine[(1 << (i + 4)) | (1 << j)]!);
      if (!isEmpty(both)) result[value] = union(result[value]!, both);
    }
  return result as unknown as Quarters;
}

/** Combines two sets of values; index `(a << 4) | b`. `order` lists the values from the one that decides to the neutral one. */
function table(order: readonly Mask[]): readonly Mask[] {
  const result: Mask[] = [];
  for (let a = 0; a < 16; a++)
    for (let b = 0; b < 16; b++) {
      let mask = 0;
      for (let i = 0; i < 4; i++) for (let j = 0; j < 4; j++) if (a & order[i]! && b & order[j]!) mask |= order[Math.min(i, j)]!;
      result[(a << 4) | b] = mask;
    }
  return result;
}
const andTable = table([FAILS, WAITS, NO_ADVICE, HOLDS]);
const orTable = table([HOLDS, WAITS, NO_ADVICE, FAILS]);
