/**
 * What completion knows of a book's names: the table of names, and which of them are asked about most.
 *
 *     clarity ──▶ node, levels and groups, comparing words, tested 41 times
 */
import type { Model } from "../../model/model.js";
import { unitsOf, units, type Kind } from "../../model/quantities.js";
import type * as tree from "../../syntax/tree.js";
import { tabulate, type NamedSubject, type NameTable } from "../names/name-table.js";
import type { Thing } from "../../model/names.js";

export interface BookNames extends NameTable {
  /** How often tests speak of a subject or situation, by name. */
  readonly tested: ReadonlyMap<string, number>;
  /** Limits and values written beside a subject in tests and bands: `10 mph`, `apr 15`; the more often, the earlier. */
  readonly written: ReadonlyMap<string, readonly string[]>;
  /** Members of each group, by `condition group`. */
  readonly groups: ReadonlyMap<string, readonly string[]>;
  /** Titles of patterns, each with what it says; the index of its book. */
  readonly patterns: readonly { readonly title: string; readonly book: number; readonly node: tree.Pattern }[];
}

const known = new WeakMap<Model, BookNames>();

/** Worked out once for each text. */
export function bookNames(model: Model): BookNames {
  let names = known.get(model);
  if (names === undefined) known.set(model, (names = gather(model)));
  return names;
}

function gather({ books, moreLocal }: Model): BookNames {
  const tested = new Map<string, number>();
  const counts = new Map<string, Map<string, number>>();
  for (const {
    text,
    tree: { statements },
  } of books) {
    const note = (subject: string, node: tree.Value | undefined): void => {
      if (node === undefined || node.kind === "name" || node.kind === "text") return;
      const written = text.slice(node.range.start, node.range.end);
      const mine = counts.get(subject) ?? new Map<string, number>();
      counts.set(subject, mine.set(written, (mine.get(written) ?? 0) + 1));
    };
    for (const statement of statements) {
      if (statement.kind === "band" && statement.condition)
        for (const { below, from } of statement.parts) note(statement.condition.text, below ?? from);
      for (const { name, values } of testsIn(statement)) {
        tested.set(name, (tested.get(name) ?? 0) + 1);
        for (const value of values) note(name, value);
      }
    }
  }
  return {
    ...tabulate(books, moreLocal),
    tested,
    written: new Map([...counts].map(([subject, values]) => [subject, [...values].sort((a, b) => b[1] - a[1]).map(([value]) => value)])),
    groups: new Map(
      books.flatMap(({ tree: { statements } }) =>
        statements.flatMap((node) =>
          node.kind === "group" && node.condition && node.name
            ? [[`${node.condition.text} ${node.name.text}`, node.members.map(({ text }) => text)] as const]
            : [],
        ),
      ),
    ),
    patterns: books.flatMap(({ tree: { statements } }, book) =>
      statements.flatMap((node) => (node.kind === "pattern" && node.title ? [{ title: node.title.value, book, node }] : [])),
    ),
  };
}

interface Spoken {
  readonly name: string;
  readonly values: readonly (tree.Value | undefined)[];
}

function* testsIn(statement: tree.Statement): Generator<Spoken> {
  const tests = [
    "when" in statement ? statement.when : undefined,
    "onlyWhen" in statement ? statement.onlyWhen : undefined,
    "test" in statement ? statement.test : undefined,
  ];
  for (const test of tests) if (test) yield* spokenIn(test);
}

function* spokenIn(test: tree.Test): Generator<Spoken> {
  switch (test.kind) {
    case "and":
    case "or":
      for (const part of test.parts) yield* spokenIn(part);
      return;
    case "not":
    case "parentheses":
      if (test.part) yield* spokenIn(test.part);
      return;
    case "situation":
      yield { name: test.name.text, values: [] };
      return;
    case "compare":
      yield { name: test.subject.text, values: test.relation ? valuesOf(test.relation) : [] };
  }
}

function valuesOf(relation: tree.Relation): readonly (tree.Value | undefined)[] {
  switch (relation.kind) {
    case "is":
      return relation.values;
    case "than":
    case "limit":
      return [relation.value];
    case "between":
      return [relation.from, relation.to];
    default:
      return [];
  }
}

/** The name, or a number or quantity, or the text in its quotes. */
export function optionAsWritten(subject: NamedSubject, option: Thing): string {
  const bare =
    /^[\p{Ll}\p{Lo}\p{Lm}][\p{L}\p{M}\p{N}]*(?:-[\p{L}\p{M}\p{N}]+)*$/u.test(option.name) || [...subject.sizes.values()].includes(option);
  return bare ? option.name : `"${option.name}"`;
}

/** What a subject's values are: the domain of a condition, the options of a pick; of a judgement that copies a condition, the condition's. */
export function domainOf(names: NameTable, subject: NamedSubject): tree.Domain | "options" | undefined {
  const { node } = subject;
  if (node.kind === "condition") return node.domain;
  const copied = node.sameAs && names.subjects.get(node.sameAs.text)?.node;
  // Of a measure the bands are copied, which are levels like any other.
  if (copied?.kind === "condition") return copied.domain?.kind === "scale" ? copied.domain : "options";
  return "options";
}

/** Whether its values can be compared. */
export function isOrdered(names: NameTable, subject: NamedSubject): boolean {
  const { node } = subject;
  if (node.kind === "condition") return node.domain?.kind === "measure" || (node.domain?.kind === "scale" && node.domain.ordered);
  const copied = node.sameAs && names.subjects.get(node.sameAs.text);
  return copied ? isOrdered(names, copied) : node.ordered || (subject.sizes.size > 0 && subject.sizes.size === subject.values.size);
}

/** The units in which something may be given: its own first. */
export function unitsFor(own: string | undefined): readonly string[] {
  const unit = own === undefined ? undefined : units.get(own);
  return unit ? [...new Set([unit.symbol, ...unitsOf(unit.kind)])] : [];
}

/** Of every kind of unit the customary ones. */
export function allUnits(): readonly string[] {
  const kinds: readonly Kind[] = [
    "temperature",
    "length",
    "mass",
    "speed",
    "flow",
    "pressure",
    "angle",
    "percent",
    "turbidity",
    "duration",
  ];
  return kinds.flatMap(unitsOf);
}

/** The words a subject is compared by: its own, or those that every weight has. */
export function comparingWords(names: NameTable, subject: NamedSubject): readonly { readonly word: string; readonly rising: boolean }[] {
  const { node } = subject;
  const copied = node.kind !== "condition" && node.sameAs ? names.subjects.get(node.sameAs.text)?.node : undefined;
  const { rising, falling } = node.comparing ?? copied?.comparing ?? {};
  if (rising && falling)
    return [
      { word: rising.text, rising: true },
      { word: falling.text, rising: false },
    ];
  return isMass(subject)
    ? [
        { word: "heavier", rising: true },
        { word: "lighter", rising: false },
      ]
    : [];
}

/** Without comparing words, by `is at least` and the like; weights have both, unless they are given words of their own. */
export function comparesByLimits(names: NameTable, subject: NamedSubject): boolean {
  if (!isOrdered(names, subject)) return false;
  return comparingWords(names, subject).length === 0 || (isMass(subject) && subject.node.comparing === undefined);
}

function isMass({ node }: NamedSubject): boolean {
  const [value] = node.kind === "condition" ? (node.domain?.kind === "measure" ? [node.domain.high] : []) : node.options;
  return value?.kind === "quantity" && value.unit !== undefined && units.get(value.unit.text)?.kind === "mass";
}
