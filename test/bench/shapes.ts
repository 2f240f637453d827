/**
 * Books of the shapes that are hard for their size, each in three sizes, made from fixed seeds. Nobody writes a whole book like this, but
 * a corner of one may look so, and none may run away with the checker.
 *
 *     disjoint columns   each pattern tests conditions of its own: where none speaks has a path for every choice of one test from each
 *     ladder             an `a` before a `b`, for every two of a row of conditions
 *     pigeons            more pigeons than holes, no two in one: that nothing is possible has no short proof (Haken 1985)
 *     clauses            `(a or b or c) and (d or e or f) and …`, in patterns and in promises
 *     staircase          steps that rise in one measure and fall in another
 *     chain              each pick goes by the one before it
 *     wide or            one pattern, or many that say the same, for any two of many conditions
 */
import { dice } from "./books.js";

export interface Shape {
  readonly name: string;
  readonly text: string;
}

export function shapes(): readonly Shape[] {
  return [
    ...of("disjoint columns", [6, 12, 21], disjointColumns),
    ...of("ladder", [6, 10, 16], ladder),
    ...of("pigeons", [5, 7, 9], pigeons),
    ...of("clauses in one pattern", [5, 8, 11], (size) => clauses(1, size, 3 * size)),
    ...of("clauses, five each", [4, 8, 12], (size) => clauses(size, 5, 5 * size)),
    ...of("clauses, sixty each", [2, 5, 8], (size) => clauses(size, 60, 30)),
    ...of("clauses in promises", [10, 20, 40], promises),
    ...of("staircase", [10, 30, 90], staircase),
    ...of("chain", [10, 20, 40], chain),
    ...of("wide or of patterns", [20, 45, 90], (size) => pairs(size, 40)),
    ...of("wide or in one pattern", [20, 45, 90], wideOr),
  ];
}

function of(name: string, sizes: readonly number[], make: (size: number) => string): readonly Shape[] {
  return sizes.map((size) => ({ name: `${name}, ${size}`, text: `book "${name}, ${size}"\n${make(size)}` }));
}

function many(count: number, make: (i: number) => string): string {
  return Array.from({ length: count }, (_, i) => make(i)).join("");
}

const yesOrNo = (i: number): string => `condition c${i}: no, yes\n`;
const act = "pick act: a0, a1, a2, a3\n";

function disjointColumns(rows: number): string {
  const own = 10;
  const when = (row: number): string => Array.from({ length: own }, (_, i) => `c${own * row + i} is yes`).join(" and ");
  return `${many(own * rows, yesOrNo)}${act}${many(rows, (row) => `pattern "Row ${row}" go with act a${row % 4} when ${when(row)}\n`)}`;
}

function ladder(length: number): string {
  const conditions = many(length, (i) => `condition c${i}: a, b, c\n`);
  const rungs = many(length, (i) =>
    many(length, (j) => (i < j ? `pattern "Rung ${i} ${j}" go with act a${(i + j) % 4} when c${i} is a and c${j} is b\n` : "")),
  );
  return conditions + act + rungs;
}

function pigeons(holes: number): string {
  const levels = Array.from({ length: holes }, (_, hole) => `h${hole}`);
  const conditions = many(holes + 1, (i) => `condition p${i}: ${levels.join(", ")}\n`);
  const apart = many(holes + 1, (i) =>
    many(holes + 1, (j) => (i < j ? levels.map((level) => `impossible when p${i} is ${level} and p${j} is ${level}\n`).join("") : "")),
  );
  return `${conditions}${act}${apart}pattern "P" go with act a1 when p0 is h1\nfall back on act a0\n`;
}

function clause(roll: (sides: number) => number, conditions: number): string {
  const chosen = new Set<number>();
  while (chosen.size < 3) chosen.add(roll(conditions));
  return `(${[...chosen].map((i) => `c${i} is ${["no", "yes"][roll(2)]!}`).join(" or ")})`;
}

function clauses(patterns: number, each: number, conditions: number): string {
  const roll = dice(patterns + each);
  const when = (): string => Array.from({ length: each }, () => clause(roll, conditions)).join(" and ");
  return `${many(conditions, yesOrNo)}${act}${many(patterns, (n) => `pattern "Clauses ${n}" go with act a${n % 4} when ${when()}\n`)}`;
}

function promises(each: number): string {
  const roll = dice(each);
  const when = (): string => Array.from({ length: each }, () => clause(roll, 24)).join(" and ");
  const patterns = many(10, (n) => `pattern "Rule ${n}" go with act a${n % 4} when c${n} is yes and c${n + 10} is no\n`);
  return `${many(24, yesOrNo)}${act}${patterns}fall back on act a0\n${many(10, (n) => `promise "Promise ${n}": act must be a${n % 4} when ${when()}\n`)}`;
}

function staircase(steps: number): string {
  const conditions = many(3, (i) => `condition m${i}: 0 to ${steps + 1} ft\n`);
  const roll = dice(steps);
  const step = (n: number): string =>
    `pattern "Step ${n}" go with act a${n % 4} when m0 is at least ${n + 1} ft and m1 is at least ${steps - n} ft and m2 is at most ${1 + roll(steps)} ft\n`;
  return conditions + act + many(steps, step);
}

function chain(length: number): string {
  const conditions = many(length, (i) => `condition c${i}: no, maybe, yes\n`);
  const picks = many(length, (i) => `pick p${i}: a, b, c\n`);
  const rules = many(
    length,
    (i) =>
      `pattern "Yes ${i}" go with p${i} a when c${i} is yes${i > 0 ? ` and p${i - 1} is a` : ""}\n` +
      `pattern "No ${i}" go with p${i} b when c${i} is no${i > 0 ? ` and p${i - 1} is not b` : ""}\nfall back on p${i} c\n`,
  );
  return conditions + picks + rules;
}

function twoOf(roll: (sides: number) => number, conditions: number): string {
  const one = roll(conditions);
  return `c${one} is yes and c${(one + 1 + roll(conditions - 1)) % conditions} is yes`;
}

function pairs(patterns: number, conditions: number): string {
  const roll = dice(patterns);
  return `${many(conditions, yesOrNo)}${act}${many(patterns, (n) => `pattern "Pair ${n}" go with act a1 when ${twoOf(roll, conditions)}\n`)}`;
}

function wideOr(parts: number): string {
  const roll = dice(parts);
  const when = Array.from({ length: parts }, () => `(${twoOf(roll, 40)})`).join(" or ");
  return `${many(40, yesOrNo)}${act}pattern "Any" go with act a1 when ${when}\nfall back on act a0\n`;
}
