/**
 * Reading a book again after a change: a piece that stands there as before is not read anew, only moved.
 *
 *     before   piece A ─ piece B ─ piece C            A   as it was
 *     now      piece A ─ piece b ─── piece C          b   read anew
 *                                                     C   as it was, every place moved by as much as its text has moved
 *
 * All that a piece's reading goes by is its text, the kinds of its tokens (which its neighbors may have a say in), whether one of them was a
 * slip, and, for its findings, the words of the book's declarations. Where these are the same, so is what was read.
 */
import type { IToken } from "chevrotain";
import type { Finding } from "../diagnostics.js";
import type { Range } from "../text.js";
import type { BookWords } from "./sample.js";
import type { Statement } from "./tree.js";

/** What a piece is read from, in little room, for it is kept. */
export interface Cut {
  readonly start: number;
  readonly text: string;
  /** Kind, place and length of each token, then of each sign that means nothing; places from the start of the piece. */
  readonly signs: readonly number[];
  /** It begins with the first word of a statement. */
  readonly starts: boolean;
  /** One of its words was reported before it was read. */
  readonly slipped: boolean;
}

export function cutOf(
  text: string,
  { start, end }: Range,
  tokens: readonly IToken[],
  strange: readonly IToken[],
  how: Pick<Cut, "starts" | "slipped">,
): Cut {
  const signs: number[] = [];
  for (const list of [tokens, strange]) {
    for (let i = 0; i < list.length; i++) signs.push(list[i]!.tokenTypeIdx, list[i]!.startOffset - start, list[i]!.image.length);
    signs.push(list.length);
  }
  return { start, text: text.slice(start, end), signs, ...how };
}

/** What was read of a piece; `count`: how many findings there were, kept or not. */
export interface CutRead {
  readonly cut: Cut;
  readonly statement?: Statement;
  readonly broken: boolean;
  readonly findings: readonly Finding[];
  readonly count: number;
}

/** A reading in which pieces can be looked up. */
export type Before = (cut: Cut) => CutRead | undefined;

/** `sample`: the words of the text that is being read now. */
export function lookIn(reads: readonly CutRead[], sampleThen: () => BookWords, sampleNow: () => BookWords): Before {
  const byText = new Map<string, CutRead[]>();
  for (const read of reads) {
    const same = byText.get(read.cut.text);
    if (same === undefined) byText.set(read.cut.text, [read]);
    else same.push(read);
  }
  let sameSample: boolean | undefined;
  const samplesAgree = (): boolean => (sameSample ??= JSON.stringify(sampleThen()) === JSON.stringify(sampleNow()));
  return (cut) => {
    const read = byText.get(cut.text)?.find((one) => alike(one.cut, cut) && (one.count === 0 || samplesAgree()));
    return read === undefined ? undefined : movedTo(read, cut);
  };
}

function alike(a: Cut, b: Cut): boolean {
  return (
    a.starts === b.starts && a.slipped === b.slipped && a.signs.length === b.signs.length && a.signs.every((sign, i) => sign === b.signs[i])
  );
}

function movedTo(read: CutRead, cut: Cut): CutRead {
  const by = cut.start - read.cut.start;
  return { ...read, cut, ...(by !== 0 && { statement: moved(read.statement, by), findings: moved(read.findings, by) }) };
}

/** Plain data with every range in it moved. */
function moved<T>(thing: T, by: number): T {
  if (typeof thing !== "object" || thing === null) return thing;
  if (Array.isArray(thing)) return thing.map((part) => moved(part, by)) as T;
  const copy: Record<string, unknown> = {};
  for (const key in thing) {
    const part = thing[key];
    copy[key] = typeof part === "number" && (key === "start" || key === "end") ? part + by : moved(part, by);
  }
  return copy as T;
}
