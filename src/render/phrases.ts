/**
 * Several boxes over one set, said in few breaths.
 *
 *     grass and wood                             The boxes of a table ask for single members or forbid them, so as to be disjoint.
 *     grass and docks, no wood      ──▶  soft    A phrase may also ask for any of a group, or any of several members, and phrases
 *     pads and wood, no grass            and     may overlap: what they hold together is exactly what the boxes hold.
 *     only pads and docks                hard
 *
 * Of all phrases that hold nothing else, the one that says most of what is not yet said is taken next (greedy set cover, Johnson
 * 1974). Subsets are listed for that, so only sets of which few members matter are put into phrases.
 */

/** A limit on a set: members there, members not there, and of each group at least one. */
export interface Phrase {
  readonly has: readonly number[];
  readonly no: readonly number[];
  /** Groups by their place in the list that was given. */
  readonly some: readonly number[];
}
export interface Limits {
  readonly has: readonly number[];
  readonly no: readonly number[];
}

/** With more members than this that matter, boxes are said one by one. */
const MOST_MEMBERS = 7;

/** Phrases that together hold just what the boxes hold; undefined if there are not fewer of them than boxes. `groups`: members of each. */
export function phrasesFor(boxes: readonly Limits[], groups: readonly (readonly number[])[]): readonly Phrase[] | undefined {
  const members = [...new Set(boxes.flatMap(({ has, no }) => [...has, ...no]))].sort((a, b) => a - b);
  if (members.length > MOST_MEMBERS || boxes.length < 2) return undefined;
  const known = groups
    .map((group, index) => ({ index, group }))
    .filter(({ group }) => group.length > 1 && group.every((member) => members.includes(member)));
  const subsets = Array.from({ length: 2 ** members.length }, (_, subset) => subset);
  const mask = (list: readonly number[]): number => list.reduce((bits, member) => bits | (1 << members.indexOf(member)), 0);
  const inside = ({ has, no, some }: Phrase): readonly number[] => {
    const [there, absent, any] = [mask(has), mask(no), some.map((index) => mask(groups[index]!))];
    return subsets.filter(
      (subset) => (subset & there) === there && (subset & absent) === 0 && any.every((group) => (subset & group) !== 0),
    );
  };
  let open = new Set(boxes.flatMap((box) => inside({ ...box, some: [] })));
  const candidates = everyPhrase(members, known)
    .map((phrase) => ({ phrase, inside: inside(phrase) }))
    .filter(({ inside }) => inside.length > 0 && inside.every((subset) => open.has(subset)));
  const chosen: Phrase[] = [];
  while (open.size > 0) {
    const news = (inside: readonly number[]): number => inside.filter((subset) => open.has(subset)).length;
    const best = candidates.reduce((a, b) =>
      (news(b.inside) - news(a.inside) || a.inside.length - b.inside.length || words(a.phrase) - words(b.phrase)) > 0 ? b : a,
    );
    chosen.push(best.phrase);
    open = new Set([...open].filter((subset) => !best.inside.includes(subset)));
  }
  return chosen.length < boxes.length ? chosen : undefined;
}

function words({ has, no, some }: Phrase): number {
  return has.length + no.length + some.length;
}

/** Every way to limit groups and members: a group of which some are asked for has no member limited by itself. */
function everyPhrase(
  members: readonly number[],
  groups: readonly { readonly index: number; readonly group: readonly number[] }[],
): readonly Phrase[] {
  const phrases: Phrase[] = [];
  const walk = (at: number, asked: readonly number[], phrase: Phrase): void => {
    if (at < groups.length) {
      const { index, group } = groups[at]!;
      if (!group.some((member) => asked.includes(member))) walk(at + 1, [...asked, ...group], { ...phrase, some: [...phrase.some, index] });
      walk(at + 1, asked, phrase);
      return;
    }
    const free = members.filter((member) => !asked.includes(member));
    const limit = (i: number, has: readonly number[], no: readonly number[]): void => {
      if (i === free.length) phrases.push({ ...phrase, has, no });
      else {
        limit(i + 1, has, no);
        limit(i + 1, [...has, free[i]!], no);
        limit(i + 1, has, [...no, free[i]!]);
      }
    };
    limit(0, [], []);
  };
  walk(0, [], { has: [], no: [], some: [] });
  return phrases;
}
