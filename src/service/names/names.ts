/**
 * Every named thing of a book and the books it builds on, and every place where its name is written.
 *
 *     condition clarity: in order clear, dirty        clarity, clear and dirty are declared
 *     pick blade: round, leaf                         blade, round and leaf too
 *     pattern "Mud" go with blade round               mentions blade, and of its options round
 *       when clarity is dirty                         mentions clarity, and of its levels dirty
 *
 * What a name stands for is what it was bound to when the book was read; where nothing could be bound, in something half-written,
 * `half-written.ts` says what it would be.
 */
import type { Model } from "../../model/model.js";
import { thingKey, type Mention, type Thing } from "../../model/names.js";
import type { View } from "../view.js";
import { halfWritten } from "./half-written.js";
import { tabulate, type NameTable } from "./name-table.js";

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

function collect({ books, moreLocal, names }: Model): Names {
  const bound = new Map(books.map(({ path }) => [path, new Map<number, Mention>()]));
  for (const mention of names) if (mention.range.start < mention.range.end) bound.get(mention.path)!.set(mention.range.start, mention);
  let table: NameTable | undefined;
  const byBook = books.map((book, index) => {
    const read = bound.get(book.path)!;
    const guessed = halfWritten(book, index, {
      isBound: ({ start }) => read.has(start),
      table: () => (table ??= tabulate(books, moreLocal)),
    });
    return [...read.values(), ...guessed].sort((a, b) => a.range.start - b.range.start);
  });
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
