/**
 * Every named thing of a book and the books it builds on, and every place where its name is written.
 *
 *     condition clarity: in order clear, dirty        clarity, clear and dirty are declared
 *     pick blade: round, leaf                         blade, round and leaf too
 *     pattern "Mud" go with blade round               mentions blade, and of its options round
 *       when clarity is dirty                         mentions clarity, and of its levels dirty
 *
 * What a word means depends on the subject it is said of: `name-table.ts` knows. What could not be read has no mention.
 */
import type { Place } from "../../diagnostics.js";
import type { Book, Model } from "../../model/model.js";
import type * as tree from "../../syntax/tree.js";
import type { Range } from "../../text.js";
import { sizeOf, tabulate, type NamedSubject, type NameTable } from "./name-table.js";
import { thingKey } from "./thing.js";
import type { Thing, ThingKind } from "./thing.js";
import type { View } from "../view.js";

/** A place where the name of a thing is written: just the name, without quotes. A quantity may be written otherwise than declared. */
export interface Mention extends Place {
  readonly thing: Thing;
  /** It is declared here. */
  readonly declares: boolean;
}

export interface Names {
  /** Book by book in reading order, each by place. */
  readonly mentions: readonly Mention[];
  /** What is named at an offset of the viewed book; the end of a name counts. */
  at(offset: number): Mention | undefined;
  /** All mentions of a thing, in reading order. */
  of(thing: Thing): readonly Mention[];
}

const known = new WeakMap<Model, Names>();

/** Worked out once for each text. */
export function namesOf({ model }: Pick<View, "model">): Names {
  let names = known.get(model);
  if (names === undefined) known.set(model, (names = collect(model)));
  return names;
}

function collect({ books, moreLocal }: Model): Names {
  const table = tabulate(books, moreLocal);
  const byBook = books.map((book, index) => mentionsIn(book, index, table).sort((a, b) => a.range.start - b.range.start));
  const own = byBook.at(-1) ?? [];
  const mentions = byBook.flat();
  let byThing: ReadonlyMap<string, readonly Mention[]> | undefined;
  return {
    mentions,
    at: (offset) => {
      const after = firstAfter(own, offset);
      const mention = own[after - 1];
      return mention !== undefined && offset <= mention.range.end ? mention : undefined;
    },
    of: (thing) => (byThing ??= grouped(mentions)).get(thingKey(thing)) ?? [],
  };
}

/** Index of the first mention that starts after an offset. */
function firstAfter(mentions: readonly Mention[], offset: number): number {
  let [low, high] = [0, mentions.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (mentions[middle]!.range.start <= offset) low = middle + 1;
    else high = middle;
  }
  return low;
}

function grouped(mentions: readonly Mention[]): ReadonlyMap<string, readonly Mention[]> {
  const groups = new Map<string, Mention[]>();
  for (const mention of mentions) {
    const key = thingKey(mention.thing);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [mention]);
    else group.push(mention);
  }
  return groups;
}

/** The statements of one book, one after the other; within a statement in any order. */
function mentionsIn({ path, text, tree: { statements } }: Book, book: number, table: NameTable): Mention[] {
  const mentions: Mention[] = [];
  const add = (range: Range, thing: Thing | undefined, declares = false): void => {
    if (thing !== undefined && range.start < range.end) mentions.push({ path, range, thing, declares });
  };
  const title = (node: tree.Text | undefined, thing: Thing | undefined, declares = false): void => {
    if (node !== undefined) add(insideQuotes(text, node.range), thing, declares);
  };
  const subject = (name: tree.Name | undefined, declares = false): NamedSubject | undefined => {
    const found = name && table.subjects.get(name.text);
    if (name !== undefined) add(name.range, found?.thing ?? table.situations.get(name.text), declares && found !== undefined);
    return found;
  };
  const value = (of: NamedSubject | undefined, node: tree.Value | undefined, unit?: tree.Name): void => {
    if (node?.kind === "name") add(node.range, of?.values.get(node.text) ?? of?.words.get(node.text) ?? table.situations.get(node.text));
    else if (node?.kind === "text") title(node, of?.values.get(node.value));
    else if (node?.kind === "quantity") add(node.range, of?.sizes.get(sizeOf(node, unit)));
  };
  const values = (of: NamedSubject | undefined, nodes: readonly tree.Value[]): void => nodes.forEach((node) => value(of, node));
  const word = (of: NamedSubject | undefined, name: tree.Name | undefined, declares = false): void => {
    if (name !== undefined) add(name.range, of?.words.get(name.text), declares);
  };
  /** Names where something of a kind is declared; nothing where the name was taken by something else. */
  const declared = (of: NamedSubject | undefined, name: tree.Name, kind: ThingKind): void => {
    const thing = of?.values.get(name.text);
    if (thing?.kind === kind) add(name.range, thing, true);
  };

  const relation = (of: NamedSubject | undefined, said: tree.Relation): void => {
    switch (said.kind) {
      case "is":
        return values(of, said.values);
      case "than":
        word(of, said.word);
        return value(of, said.value);
      case "limit":
        return value(of, said.value);
      case "between":
        value(of, said.from, said.to?.kind === "quantity" ? said.to.unit : undefined);
        return value(of, said.to);
      case "has":
        return said.members.forEach((member) => value(of, { ...member, kind: "name" }));
      case "is empty":
      case "is not empty":
        return;
    }
  };
  const test = (node: tree.Test | undefined): void => {
    switch (node?.kind) {
      case "and":
      case "or":
        return node.parts.forEach(test);
      case "not":
      case "parentheses":
        return test(node.part);
      case "situation":
        return add(node.name.range, table.situations.get(node.name.text) ?? table.subjects.get(node.name.text)?.thing);
      case "compare": {
        const of = subject(node.subject);
        if (node.relation !== undefined) relation(of, node.relation);
        return;
      }
      case undefined:
        return;
    }
  };
  const action = (node: tree.Action): void => {
    const pick = subject(node.pick);
    if (node.kind === "go with") node.places.forEach((place) => values(pick, place));
    else if (node.kind !== "move") values(pick, node.options);
    if (node.kind === "never") word(pick, node.orWord);
  };
  const comparing = (of: NamedSubject | undefined, node: tree.Comparing | undefined): void => {
    word(of, node?.rising, true);
    word(of, node?.falling, true);
  };
  const option = (pick: NamedSubject | undefined, node: tree.Value): void => {
    const thing =
      node.kind === "quantity"
        ? pick?.sizes.get(sizeOf(node))
        : pick?.values.get(node.kind === "text" ? node.value : node.kind === "name" ? node.text : "");
    if (thing?.kind === "option") add(node.kind === "text" ? insideQuotes(text, node.range) : node.range, thing, true);
  };

  const statement = (node: tree.Statement): void => {
    switch (node.kind) {
      case "builds on":
        return;
      case "book":
      case "caution":
      case "promise":
        title(node.title, node.title && table.titled(node.kind, node.title.value), true);
        if (node.kind === "promise") values(subject(node.pick), node.options);
        if (node.kind !== "book") test(node.when);
        return;
      case "leave out":
        return node.titles.forEach((one) => title(one, table.leftOutBy(book, one.value)));
      case "condition": {
        const own = subject(node.name, true);
        // Its name may be another's, who then has nothing of this.
        const mine = table.owns(own, node) ? own : undefined;
        if (node.domain?.kind === "scale") for (const level of node.domain.levels) declared(mine, level, "level");
        if (node.domain?.kind === "set") for (const member of node.domain.members) declared(mine, member, "member");
        return comparing(mine, node.comparing);
      }
      case "band": {
        const of = subject(node.condition);
        for (const part of node.parts) declared(of, part.name, "band");
        return;
      }
      case "group": {
        const of = subject(node.condition);
        if (node.name !== undefined) declared(of, node.name, "group");
        return node.members.forEach((member) => value(of, { ...member, kind: "name" }));
      }
      case "situation":
        if (node.name !== undefined) add(node.name.range, table.situations.get(node.name.text), true);
        return test(node.test);
      case "impossible":
        return test(node.when);
      case "pick":
      case "judgement": {
        const own = subject(node.name, true);
        const mine = table.owns(own, node) ? own : undefined;
        for (const one of node.options) option(mine, one);
        subject(node.sameAs);
        test(node.onlyWhen);
        return comparing(mine, node.comparing);
      }
      case "add": {
        const pick = subject(node.pick);
        return node.options.forEach((one) => option(pick, one));
      }
      case "trust":
        subject(node.pick);
        return node.order.forEach((name) => subject(name));
      case "pattern":
        title(node.title, table.pattern(node), true);
        node.actions.forEach(action);
        test(node.when);
        return node.beats.forEach((one) => title(one, table.beaten(one.value)));
      case "fall back": {
        const pick = subject(node.pick);
        return node.places.forEach((place) => values(pick, place));
      }
      case "say nothing":
        node.picks.forEach((name) => subject(name));
        return test(node.when);
    }
  };
  statements.forEach(statement);
  return mentions;
}

/** A text without its quotes, of which the second may be missing. */
export function insideQuotes(text: string, { start, end }: Range): Range {
  const inside = start + (/["“„]/.test(text[start] ?? "") ? 1 : 0);
  return { start: inside, end: Math.max(inside, end - (/["“”]/.test(text[end - 1] ?? "") ? 1 : 0)) };
}
