/**
 * What the names in a set of books stand for, from their trees alone: declared in the order of `model/declare.ts`, so the first to take
 * a name has it, but asking less, so that much of a half-written book has names already.
 *
 *     clarity ──▶ values clear, dirty (levels), murky (group); words dirtier, clearer
 *     weight  ──▶ values "1/4 oz", …; by size: 1/4 oz and 7.09 g are one option, if they are exactly equal
 *     seen: same as clarity ──▶ the same things as clarity has
 */
import type { Book, Model } from "../../model/model.js";
import { readNumber, toBase, units } from "../../model/quantities.js";
import type * as tree from "../../syntax/tree.js";
import { thingKey, type Thing, type ThingKind } from "../../model/names.js";

/** A condition, pick or judgement, and what may be said of it. */
export interface NamedSubject {
  readonly thing: Thing;
  /** The statement that declares it. */
  readonly node: tree.Condition | tree.Pick;
  /** Levels, members, bands, groups or options by name. */
  readonly values: Map<string, Thing>;
  /** Options that are numbers or quantities, by `sizeOf`. */
  readonly sizes: Map<string, Thing>;
  /** Its comparing words. */
  readonly words: Map<string, Thing>;
}

export interface NameTable {
  readonly subjects: ReadonlyMap<string, NamedSubject>;
  readonly situations: ReadonlyMap<string, Thing>;
  /** Whether a statement is the one that declares a subject. */
  owns(subject: NamedSubject | undefined, node: tree.Statement): boolean;
  titled(kind: "book" | "caution" | "promise", title: string): Thing;
  pattern(node: tree.Pattern): Thing | undefined;
  /** What a title after `beats` names. */
  beaten(title: string): Thing | undefined;
  /** What a title after `leave out` in a book names. */
  leftOutBy(book: number, title: string): Thing | undefined;
}

export function tabulate(books: readonly Book[], moreLocal: Model["moreLocal"]): NameTable {
  const things = new Map<string, Thing>();
  const thing = (kind: ThingKind, name: string, of?: string): Thing => {
    const made: Thing = of === undefined ? { kind, name } : { kind, name, of };
    const key = thingKey(made);
    const other = things.get(key);
    if (other === undefined) things.set(key, made);
    return other ?? made;
  };
  const subjects = new Map<string, NamedSubject>();
  const situations = new Map<string, Thing>();
  const every = books.flatMap(({ tree: { statements } }) => statements);

  for (const node of every) if (node.kind === "condition") declareCondition(subjects, thing, node);
  for (const node of every) if (node.kind === "band" || node.kind === "group") declareValues(subjects, thing, node);
  for (const node of every) if (node.kind === "pick" || node.kind === "judgement") declarePick(subjects, thing, node);
  for (const node of every) if (node.kind === "add") addOptions(node.pick && subjects.get(node.pick.text), thing, node.options);
  for (const node of every) {
    if (node.kind === "situation" && node.name !== undefined && !subjects.has(node.name.text))
      situations.set(node.name.text, thing("situation", node.name.text));
  }
  return {
    subjects,
    situations,
    owns: (subject, node) => subject?.node === node,
    titled: (kind, title) => thing(kind, title),
    ...patternNames(books, moreLocal, thing),
  };
}

type Make = (kind: ThingKind, name: string, of?: string) => Thing;

/** The kind and exact size of a quantity; two are equal if they are the same amount. `unit`: its unit if none is written. */
export function sizeOf({ number, unit: own }: tree.Quantity, unit = own): string {
  const read = readNumber(number);
  const known = unit && units.get(unit.text);
  return read === undefined || (unit !== undefined && known === undefined)
    ? ""
    : `${known?.kind ?? "number"} ${toBase(read.value, known).toFraction()}`;
}

/** As the model calls an option that is a number or quantity. */
export function nameOfAmount({ number, unit }: tree.Quantity): string {
  return unit === undefined ? number : `${number} ${unit.text}`;
}

function declareCondition(subjects: Map<string, NamedSubject>, thing: Make, node: tree.Condition): void {
  const own = declare(subjects, thing, node);
  if (own === undefined) return;
  const { domain } = node;
  const [kind, names] =
    domain?.kind === "scale"
      ? (["level", domain.levels] as const)
      : domain?.kind === "set"
        ? (["member", domain.members] as const)
        : (["level", []] as const);
  for (const { text } of names) setNew(own.values, text, thing(kind, text, own.thing.name));
  addWords(own, thing, node.comparing);
}

function declareValues(subjects: ReadonlyMap<string, NamedSubject>, thing: Make, node: tree.Band | tree.Group): void {
  const own = node.condition && subjects.get(node.condition.text);
  const names = node.kind === "band" ? node.parts.map(({ name }) => name) : node.name === undefined ? [] : [node.name];
  if (own !== undefined) for (const { text } of names) setNew(own.values, text, thing(node.kind, text, own.thing.name));
}

function declarePick(subjects: Map<string, NamedSubject>, thing: Make, node: tree.Pick): void {
  const copied = node.sameAs && subjects.get(node.sameAs.text);
  const own = declare(subjects, thing, node, copied?.thing.kind === "condition" ? copied : undefined);
  if (own === undefined) return;
  addOptions(own, thing, node.options);
  addWords(own, thing, node.comparing);
}

/** The subject of a statement, unless its name is taken. */
function declare(
  subjects: Map<string, NamedSubject>,
  thing: Make,
  node: tree.Condition | tree.Pick,
  like?: NamedSubject,
): NamedSubject | undefined {
  const name = node.name?.text;
  if (name === undefined || subjects.has(name)) return undefined;
  const own: NamedSubject = {
    thing: thing(node.kind, name),
    node,
    values: new Map(like?.values),
    sizes: new Map(),
    words: new Map(like?.words),
  };
  subjects.set(name, own);
  return own;
}

function addOptions(pick: NamedSubject | undefined, thing: Make, options: readonly tree.Value[]): void {
  if (pick === undefined || pick.thing.kind === "condition") return;
  for (const value of options) {
    const name =
      value.kind === "name"
        ? value.text
        : value.kind === "text"
          ? value.value
          : value.kind === "quantity"
            ? nameOfAmount(value)
            : undefined;
    const size = value.kind === "quantity" ? sizeOf(value) : "";
    if (name === undefined || pick.values.has(name) || pick.sizes.has(size)) continue;
    const option = thing("option", name, pick.thing.name);
    pick.values.set(name, option);
    if (size !== "") pick.sizes.set(size, option);
  }
}

/** Words of its own take the place of copied ones. */
function addWords(own: NamedSubject, thing: Make, comparing: tree.Comparing | undefined): void {
  const words = [comparing?.rising, comparing?.falling].filter((word) => word !== undefined);
  if (words.length > 0) own.words.clear();
  for (const { text } of words) if (!own.values.has(text)) own.words.set(text, thing("comparing word", text, own.thing.name));
}

function setNew(map: Map<string, Thing>, key: string, value: Thing): void {
  if (!map.has(key)) map.set(key, value);
}

/** A pattern that is left out is another thing than one of the same title that stands in its stead. */
function patternNames(
  books: readonly Book[],
  moreLocal: Model["moreLocal"],
  thing: Make,
): Pick<NameTable, "pattern" | "beaten" | "leftOutBy"> {
  const written = books.flatMap(({ path, tree: { statements } }, book) =>
    statements.flatMap((node) =>
      node.kind === "pattern" && node.title !== undefined ? [{ path, book, node, title: node.title.value }] : [],
    ),
  );
  const leaving = books.flatMap(({ tree: { statements } }, book) =>
    statements.flatMap((node) => (node.kind === "leave out" ? node.titles.map(({ value }) => ({ book, title: value })) : [])),
  );
  const byNode = new Map<tree.Pattern, Thing>();
  const standing = new Map<string, Thing>();
  const leftOut = new Map<string, { readonly book: number; readonly thing: Thing }[]>(leaving.map(({ title }) => [title, []]));
  for (const { path, book, node, title } of written) {
    const out = leaving.some((other) => other.title === title && moreLocal(other.book, book));
    const own = thing("pattern", title, out ? path : undefined);
    byNode.set(node, own);
    if (out) leftOut.get(title)!.push({ book, thing: own });
    else standing.set(title, own);
  }
  return {
    pattern: (node) => byNode.get(node),
    beaten: (title) => standing.get(title) ?? leftOut.get(title)?.[0]?.thing,
    leftOutBy: (book, title) => leftOut.get(title)?.find((other) => moreLocal(book, other.book))?.thing ?? standing.get(title),
  };
}
