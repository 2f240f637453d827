/** What the names in a book stand for. */
import type { Place } from "../diagnostics.js";

export type ThingKind =
  | "book"
  | "condition"
  | "level"
  | "member"
  | "band"
  | "group"
  | "comparing word"
  | "situation"
  | "pick"
  | "judgement"
  | "option"
  | "pattern"
  | "caution"
  | "promise";

/** Something that has a name. */
export interface Thing {
  readonly kind: ThingKind;
  /** An option that is a quantity: as its declaration writes it. */
  readonly name: string;
  /** Of a level, member, band, group or comparing word: its condition's name (of a comparing word, or its pick's); of an option: its pick's; of a pattern that a more local book leaves out: the path of its book. */
  readonly of?: string;
}

/** Two things are the same thing if their keys are equal. */
export function thingKey({ kind, name, of = "" }: Thing): string {
  return `${kind}\n${of}\n${name}`;
}

/** A place where the name of a thing is written: just the name, without quotes. A quantity may be written otherwise than declared. */
export interface Mention extends Place {
  readonly thing: Thing;
  /** It is declared here. */
  readonly declares: boolean;
}
