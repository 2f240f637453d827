/**
 * The names that could not be bound, as far as it is plain what they would stand for: most of the time the statement under the cursor is
 * half-written, and what stands in it is to be found, explained and renamed all the same.
 *
 *     pattern "Mud" go with blade         no option yet: left out of the model          names blade, as it would stand there
 *       when clarity is dirty and                                                       names clarity and dirty
 *
 * What a word means depends on the subject it is said of: `name-table.ts` knows. It is asked only where nothing was bound.
 */
import type { Book } from "../../model/model.js";
import type { Mention, Thing, ThingKind } from "../../model/names.js";
import type * as tree from "../../syntax/tree.js";
import { insideQuotes, type Range } from "../../text.js";
import { sizeOf, type NamedSubject, type NameTable } from "./name-table.js";

interface HalfWritten {
  /** Whether the name in a place was bound. */
  readonly isBound: (range: Range) => boolean;
  readonly table: () => NameTable;
}

/** What something is said of. */
type Of = () => NamedSubject | undefined;

/** In the order of statements; within a statement in any order. */
export function halfWritten({ path, text, tree: { statements } }: Book, book: number, { isBound, table }: HalfWritten): readonly Mention[] {
  const mentions: Mention[] = [];
  const add = (range: Range, known: () => Thing | undefined, declares = false): void => {
    const thing = range.start < range.end && !isBound(range) ? known() : undefined;
    if (thing !== undefined) mentions.push({ path, range, thing, declares });
  };
  const title = (node: tree.Text | undefined, known: () => Thing | undefined, declares = false): void => {
    if (node !== undefined) add(insideQuotes(text, node.range), known, declares);
  };
  const situation = ({ text }: tree.Name): Thing | undefined => table().situations.get(text);
  const subject = (name: tree.Name | undefined, declares = false): Of => {
    const found: Of = () => name && table().subjects.get(name.text);
    if (name !== undefined) add(name.range, () => found()?.thing ?? situation(name), declares);
    return found;
  };
  const value = (of: Of, node: tree.Value | undefined, unit?: tree.Name): void => {
    if (node?.kind === "name") add(node.range, () => of()?.values.get(node.text) ?? of()?.words.get(node.text) ?? situation(node));
    else if (node?.kind === "text") title(node, () => of()?.values.get(node.value));
    else if (node?.kind === "quantity") add(node.range, () => of()?.sizes.get(sizeOf(node, unit)));
  };
  const values = (of: Of, nodes: readonly tree.Value[]): void => nodes.forEach((node) => value(of, node));
  const word = (of: Of, name: tree.Name | undefined, declares = false): void => {
    if (name !== undefined) add(name.range, () => of()?.words.get(name.text), declares);
  };
  const ofKind = (kind: ThingKind, thing: Thing | undefined): Thing | undefined => (thing?.kind === kind ? thing : undefined);
  /** Names where something of a kind is declared; nothing where the name was taken by something else. */
  const declared = (of: Of, name: tree.Name, kind: ThingKind): void =>
    add(name.range, () => ofKind(kind, of()?.values.get(name.text)), true);
  /** What a declaration says is its own only if its name is not another's. */
  const ownOf =
    (of: Of, node: tree.Statement): Of =>
    () =>
      table().owns(of(), node) ? of() : undefined;

  const relation = (of: Of, said: tree.Relation): void => {
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
        return add(node.name.range, () => situation(node.name) ?? table().subjects.get(node.name.text)?.thing);
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
  const comparing = (of: Of, node: tree.Comparing | undefined): void => {
    word(of, node?.rising, true);
    word(of, node?.falling, true);
  };
  const option = (pick: Of, node: tree.Value): void => {
    const known = (): Thing | undefined =>
      node.kind === "quantity"
        ? pick()?.sizes.get(sizeOf(node))
        : pick()?.values.get(node.kind === "text" ? node.value : node.kind === "name" ? node.text : "");
    add(insideQuotes(text, node.range), () => ofKind("option", known()), true);
  };

  const statement = (node: tree.Statement): void => {
    switch (node.kind) {
      case "builds on":
        return;
      case "book":
      case "caution":
      case "promise":
        title(node.title, () => node.title && table().titled(node.kind, node.title.value), true);
        if (node.kind === "promise") values(subject(node.pick), node.options);
        if (node.kind !== "book") test(node.when);
        return;
      case "leave out":
        return node.titles.forEach((one) => title(one, () => table().leftOutBy(book, one.value)));
      case "condition": {
        const mine = ownOf(subject(node.name, true), node);
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
        if (node.name !== undefined) add(node.name.range, () => node.name && situation(node.name), true);
        return test(node.test);
      case "impossible":
        return test(node.when);
      case "pick":
      case "judgement": {
        const mine = ownOf(subject(node.name, true), node);
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
        title(node.title, () => table().pattern(node), true);
        node.actions.forEach(action);
        test(node.when);
        return node.beats.forEach((one) => title(one, () => table().beaten(one.value)));
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
