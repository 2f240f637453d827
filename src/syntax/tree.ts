/**
 * The tree of a book: what was written, with exact places, and nothing else.
 *
 * A tree exists even for half a book. Whatever may be missing while someone types is optional; the parser has reported it.
 * `comments` keeps every comment; the printer attaches them by place.
 */
import type { Range } from "../text.js";

export interface Node {
  readonly range: Range;
}

/** A lower-case word with hyphens, any script: a condition, level, unit, comparing word … */
export interface Name extends Node {
  readonly text: string;
}

/** A quoted string; `value` is without its quotes. */
export interface Text extends Node {
  readonly value: string;
}

export interface Comment extends Node {
  /** Without the two hyphens and one blank after them. */
  readonly text: string;
}

export interface Tree extends Node {
  readonly statements: readonly Statement[];
  readonly comments: readonly Comment[];
}

export type Statement =
  | BookHeader
  | BuildsOn
  | LeaveOut
  | AddOption
  | Condition
  | Band
  | Group
  | Situation
  | Impossible
  | Pick
  | Trust
  | Pattern
  | FallBack
  | SayNothing
  | Caution
  | Promise;

// What a book says of itself ------------------------------------------------------------------------------------------

export interface BookHeader extends Node {
  readonly kind: "book";
  readonly title?: Text;
  readonly shop?: Text;
  readonly water?: Text;
  readonly edition?: Text;
  readonly goodFrom?: DateValue;
  readonly goodTo?: DateValue;
}
export interface BuildsOn extends Node {
  readonly kind: "builds on";
  readonly path?: Text;
}
export interface LeaveOut extends Node {
  readonly kind: "leave out";
  readonly titles: readonly Text[];
}
export interface AddOption extends Node {
  readonly kind: "add";
  readonly pick?: Name;
  readonly options: readonly Value[];
}

// What can be observed --------------------------------------------------------------------------------------------------

export interface Condition extends Node {
  readonly kind: "condition";
  readonly name?: Name;
  readonly label?: Text;
  readonly domain?: Domain;
  readonly comparing?: Comparing;
  readonly ask?: Text;
  readonly filledFrom?: { readonly source: "date" | "clock" | "sun" | "moon" } & Node;
}
/** `rising is W, falling is V` */
export interface Comparing extends Node {
  readonly rising?: Name;
  readonly falling?: Name;
}
export type Domain =
  | ({ readonly kind: "scale"; readonly ordered: boolean; readonly levels: readonly Name[] } & Node)
  | ({ readonly kind: "set"; readonly members: readonly Name[]; readonly atLeastOne: boolean } & Node)
  | ({ readonly kind: "measure"; readonly low?: Quantity; readonly high?: Quantity; readonly step?: Quantity } & Node)
  | ({ readonly kind: "days" } & Node)
  | ({ readonly kind: "times" } & Node);

/** `band water-temp: cold below 50 °F, cool below 70 °F, warm` or `band day: winter from dec 1, …` */
export interface Band extends Node {
  readonly kind: "band";
  readonly condition?: Name;
  readonly parts: readonly BandPart[];
}
export interface BandPart extends Node {
  readonly name: Name;
  readonly below?: Value;
  readonly from?: Value;
}
export interface Group extends Node {
  readonly kind: "group";
  readonly condition?: Name;
  readonly name?: Name;
  readonly members: readonly Name[];
}
export interface Situation extends Node {
  readonly kind: "situation";
  readonly name?: Name;
  readonly test?: Test;
}
export interface Impossible extends Node {
  readonly kind: "impossible";
  readonly when?: Test;
  readonly because?: Text;
}

// What is recommended ---------------------------------------------------------------------------------------------------

export interface Pick extends Node {
  readonly kind: "pick" | "judgement";
  readonly name?: Name;
  readonly label?: Text;
  readonly ordered: boolean;
  readonly options: readonly Value[];
  readonly sameAs?: Name;
  readonly onlyWhen?: Test;
  readonly comparing?: Comparing;
  /** The question for staff or customer, where one was written. */
  readonly ask?: Text;
}
/** `trust A first, then B` or `trust for PICK: A first, then B` */
export interface Trust extends Node {
  readonly kind: "trust";
  readonly pick?: Name;
  readonly order: readonly Name[];
}
export interface Pattern extends Node {
  readonly kind: "pattern";
  readonly title?: Text;
  readonly actions: readonly Action[];
  readonly when?: Test;
  readonly because?: Text;
  readonly see: readonly Text[];
  readonly checked?: DateValue;
  readonly until?: DateValue;
  readonly beats: readonly Text[];
}
export type Action = GoWith | Lean | Never | Move;
/** Places in order of preference, each a list of options that share it. */
export type WrittenPlaces = readonly (readonly Value[])[];
export interface GoWith extends Node {
  readonly kind: "go with";
  readonly pick?: Name;
  readonly places: WrittenPlaces;
}
export interface Lean extends Node {
  readonly kind: "lean to" | "lean off";
  readonly pick?: Name;
  readonly options: readonly Value[];
  /** 1 if not said. */
  readonly by?: NumberValue;
}
/** `never blade willow, indiana`, `never weight 1/2 oz or heavier`. */
export interface Never extends Node {
  readonly kind: "never";
  readonly pick?: Name;
  readonly options: readonly Value[];
  /** `or heavier`: the single option in `options` and all on that side of it. */
  readonly orWord?: Name;
}
export interface Move extends Node {
  readonly kind: "move";
  readonly pick?: Name;
  readonly direction?: "up" | "down";
  /** 1 if not said. */
  readonly by?: NumberValue;
}
export interface FallBack extends Node {
  readonly kind: "fall back";
  readonly pick?: Name;
  readonly places: WrittenPlaces;
  readonly because?: Text;
}
export interface SayNothing extends Node {
  readonly kind: "say nothing";
  readonly picks: readonly Name[];
  /** In place of picks: where the word stands. */
  readonly everything?: Node;
  readonly when?: Test;
  readonly because?: Text;
}
export interface Caution extends Node {
  readonly kind: "caution";
  readonly title?: Text;
  readonly when?: Test;
  readonly say?: Text;
  readonly see: readonly Text[];
}
export interface Promise extends Node {
  readonly kind: "promise";
  readonly title?: Text;
  readonly pick?: Name;
  readonly must?: "be" | "not be" | "have an answer" | "have no answer";
  readonly options: readonly Value[];
  readonly when?: Test;
}

// Values ----------------------------------------------------------------------------------------------------------------

export type Value = NameValue | TextValue | Quantity | DayValue | DateValue | TimeValue;
export interface NameValue extends Name {
  readonly kind: "name";
}
export interface TextValue extends Text {
  readonly kind: "text";
}
/** `3/8 oz`, `-90 deg`, `4.5`: the number as written, its unit if one was. */
export interface Quantity extends Node {
  readonly kind: "quantity";
  readonly number: string;
  readonly unit?: Name;
}
/** A bare number: `by 2`. */
export interface NumberValue extends Node {
  readonly number: string;
}
/** `apr 15`; month from 1. */
export interface DayValue extends Node {
  readonly kind: "day";
  readonly month: number;
  readonly day: number;
}
/** `2027-04-15` */
export interface DateValue extends Node {
  readonly kind: "date";
  readonly text: string;
}
/** `05:30` */
export interface TimeValue extends Node {
  readonly kind: "time";
  readonly text: string;
}

// Tests -----------------------------------------------------------------------------------------------------------------

export type Test =
  | ({ readonly kind: "and" | "or"; readonly parts: readonly Test[] } & Node)
  | ({ readonly kind: "not"; readonly part?: Test } & Node)
  | ({ readonly kind: "parentheses"; readonly part?: Test } & Node)
  /** A situation's name standing alone. */
  | ({ readonly kind: "situation"; readonly name: Name } & Node)
  | ({ readonly kind: "compare"; readonly subject: Name; readonly relation?: Relation } & Node);

/**
 * What is said of a subject.
 *
 * `is`: `is A`, `is A or B` (values), `is not A`, `is neither A nor B` (negated). A value may turn out to be a situation, a band,
 *   a group or a level; `is A or dirtier` keeps its last word in `orWord`'s place only if the resolver finds it to be a comparing
 *   word, so the parser leaves it as the last value.
 * `than`: `is colder than 60 °F`.
 * `limit`: `is at least / at most / above / below A`.
 * `between`: `from A to B` (an `is` before it is allowed).
 * `has`: `has A`, `has any of A, B`, `has all of A, B`, `has no A` (or `has no A, B`), `only A, B`.
 */
export type Relation =
  | ({ readonly kind: "is"; readonly form: "is" | "is not" | "is neither"; readonly values: readonly Value[] } & Node)
  | ({ readonly kind: "than"; readonly word: Name; readonly value?: Value } & Node)
  | ({ readonly kind: "limit"; readonly limit: "at least" | "at most" | "above" | "below"; readonly value?: Value } & Node)
  | ({ readonly kind: "between"; readonly from?: Value; readonly to?: Value } & Node)
  | ({
      readonly kind: "has";
      readonly form: "has" | "has any of" | "has all of" | "has no" | "only";
      readonly members: readonly Name[];
    } & Node)
  | ({ readonly kind: "is empty" | "is not empty" } & Node);
