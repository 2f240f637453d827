/**
 * Ways to damage a book:
 *
 *     words    take one out, say it twice, swap two, put in a word of the language, a strange sign, or a piece of another book
 *     bytes    flip, take out, put in, cut off; read as UTF-8 as far as that goes
 *
 * Every number is read modulo what there is to choose from, so that a damage can be shrunk, and done to any text.
 */
import * as fc from "fast-check";
import { words } from "../../grammar/tokens.js";

export interface WordDamage {
  readonly kind: "take" | "double" | "swap" | "language" | "strange" | "splice" | "line";
  readonly at: number;
  readonly other: number;
}

const kinds = ["take", "double", "swap", "language", "strange", "splice", "line"] as const;
const die = fc.nat(99_991);

export const wordDamages = (most: number): fc.Arbitrary<WordDamage[]> =>
  fc.array(fc.record({ kind: fc.constantFrom(...kinds), at: die, other: die }), { minLength: 1, maxLength: most, size: "max" });

/** What people, editors and other programs put into a text. */
export const strangeSigns: readonly string[] = [
  '"',
  "“",
  "”",
  "„",
  ",",
  ":",
  "(",
  ")",
  "--",
  "—",
  "-",
  "\n",
  "\r",
  "\t",
  "\0",
  "\u001b[2J",
  "\u009b",
  "\u202e",
  "\u2066",
  "\u200b",
  "\u200d",
  "\u00ad",
  "\ufeff",
  "\ud800",
  "\ue000",
  "😀",
  "а",
  "ο",
  "e\u0301",
  "水",
  "ש",
  "½",
  "1/2",
  "1/0",
  "1e308",
  "99999999999999999999999999999999999999999",
  "-5",
  "0",
  "33 °F",
  "16 °C",
  "1/2 oz",
  "apr 31",
  "feb 29",
  "2027-02-29",
  "24:00",
  "5:30 pm",
  "NaN",
  "constructor",
  "__proto__",
  "Muddy",
  "not not",
  "((",
  "))",
  "x".repeat(90),
  "'",
  "`",
  "\\",
  "%",
  "°",
];

/** `donor`: the book that pieces are taken from. */
export function damaged(text: string, damages: readonly WordDamage[], donor = text): string {
  const list = partsOf(text);
  const others = partsOf(donor);
  for (const { kind, at, other } of damages) {
    if (list.length === 0) break;
    const [i, j] = [at % list.length, other % list.length];
    if (kind === "take") list.splice(i, 1 + (other % 3));
    else if (kind === "double") list.splice(i, 0, list[i]!, " ");
    else if (kind === "swap") [list[i], list[j]] = [list[j]!, list[i]!];
    else if (kind === "language") list.splice(i, other % 2, " ", words[other % words.length]!.phrase, " ");
    else if (kind === "strange") list.splice(i, 0, strangeSigns[other % strangeSigns.length]!);
    else if (kind === "splice") list.splice(i, 0, "\n", ...others.slice(other % others.length, (other % others.length) + 40));
    else list.splice(i, 0, list.slice(i, i + 20).join(""));
  }
  return list.join("");
}

function partsOf(text: string): string[] {
  return text.match(/"[^"\n]*"|--[^\n]*|\s+|[^\s"]+|"/g) ?? [];
}

export interface ByteDamage {
  readonly kind: "flip" | "take" | "put" | "cut" | "copy";
  readonly at: number;
  readonly value: number;
}

export const byteDamages: fc.Arbitrary<ByteDamage[]> = fc.array(
  fc.record({ kind: fc.constantFrom("flip", "flip", "take", "put", "copy", "cut"), at: die, value: die }),
  { minLength: 1, maxLength: 12, size: "max" },
);

export function bytesDamaged(text: string, damages: readonly ByteDamage[]): Buffer {
  let bytes = Buffer.from(text);
  for (const { kind, at, value } of damages) {
    if (bytes.length === 0) break;
    const i = at % bytes.length;
    if (kind === "flip") bytes[i]! ^= 1 << (value % 8);
    else if (kind === "take") bytes = Buffer.concat([bytes.subarray(0, i), bytes.subarray(i + 1 + (value % 20))]);
    else if (kind === "put") bytes = Buffer.concat([bytes.subarray(0, i), Buffer.from([value % 256]), bytes.subarray(i)]);
    else if (kind === "copy")
      bytes = Buffer.concat([bytes.subarray(0, i), bytes.subarray(value % bytes.length, (value % bytes.length) + 50), bytes.subarray(i)]);
    else if (value % 10 === 0) bytes = bytes.subarray(0, i);
  }
  return bytes;
}
