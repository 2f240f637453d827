/**
 * Writes down what each name stands for, while it is bound.
 *
 *     condition clarity: in order clear, dirty        declares clarity, and its levels clear and dirty
 *     pattern "Mud" go with blade round               declares a pattern; mentions blade, and of its options round
 *       when clarity is dirty                         mentions clarity, and of its levels dirty
 *
 * Whoever binds a name says so here at once, so that what is checked, renamed and searched for cannot be different things. What could
 * not be bound, because it or what it is said of could not be read, is not written down.
 */
import type * as tree from "../syntax/tree.js";
import { insideQuotes } from "../text.js";
import type { Thing } from "./names.js";
import type { Reading, Subject } from "./scope.js";

export function declares(reading: Reading, node: tree.Node, thing: Thing): void {
  note(reading, node, thing, true);
}

export function mentions(reading: Reading, node: tree.Node, thing: Thing): void {
  note(reading, node, thing, false);
}

function note({ scope, path, text }: Reading, { range }: tree.Node, thing: Thing, declares: boolean): void {
  scope.names.push({ path, range: insideQuotes(text, range), thing, declares });
}

export function subjectThing({ kind, name }: Subject): Thing {
  return { kind, name };
}

/** A level, member or option; of a judgement that copies a condition, the level or band of that. */
export function valueThing(subject: Subject, name: string): Thing {
  const { copies, kind, values } = subject;
  if (copies !== undefined && (copies.bands.has(name) || holds(copies, name))) return valueThing(copies, name);
  if (subject.bands.has(name)) return { kind: "band", name, of: subject.name };
  return { kind: kind !== "condition" ? "option" : values.kind === "set" ? "member" : "level", name, of: subject.name };
}

export function groupThing({ copies, name: own }: Subject, name: string): Thing {
  return { kind: "group", name, of: copies?.name ?? own };
}

/** A comparing word, which a judgement may have from the condition it copies. */
export function wordThing({ copies, name: own, words }: Subject, name: string): Thing {
  return { kind: "comparing word", name, of: copies !== undefined && words === copies.words ? copies.name : own };
}

function holds({ values }: Subject, name: string): boolean {
  return values.kind === "list" && values.options.some(({ text }) => text === name);
}
