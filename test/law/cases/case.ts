/** A small book aimed at one sentence of "What it means at one point", with the answers worked out by hand from the text. */
import type { Given } from "../points.js";

export interface Case {
  /** The sentence, quoted, and where needed the working. */
  readonly says: string;
  /** One book, or several by path; `book.lore` is the one that is asked. */
  readonly book: string | Readonly<Record<string, string>>;
  /** The day it is resolved for. */
  readonly on?: string;
  /** At every possible point that agrees with the values given, these picks must say this (`decided: willow, then indiana or colorado`). */
  readonly at: readonly (readonly [given: Given, expected: Readonly<Record<string, string>>])[];
}

/** Conditions that most cases share. */
export const conditions = `
condition clarity: in order clear, stained, dirty, muddy
  rising is dirtier, falling is clearer
condition sky: in order bright, dark
condition cover: any of grass, logs
`;

/** Two picks without order, and a scale to be moved. */
const picks = `
pick family: spinnerbait, jig, worm, frog
pick blade: willow, indiana, colorado
pick weight: in order w1, w2, w3, w4
`;

export const common = conditions + picks;

/** Four patterns that make `family` a gap where it is clear, a conflict where stained, no advice where dirty, and spinnerbait where muddy. */
export const troubled = `
pattern "T1" go with family jig when clarity is stained
pattern "T2" go with family worm when clarity is stained
pattern "T3" go with family spinnerbait when clarity is muddy
say nothing on family when clarity is dirty
`;
