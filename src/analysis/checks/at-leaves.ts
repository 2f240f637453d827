/**
 * What becomes of the answers in a box where one pattern leaves, or joins in, read off the pick's own diagram.
 *
 *     a leaf    ┌ where the one that leaves does not stand                nothing changes: whatever drops it drops all that it drops
 *               ├ where something narrower, or more trusted, than what    nothing changes, for the same reason
 *               │ joins in stands
 *               ├ where what joins in says what stands says already       nothing changes, if it drops none of those that stand
 *               ├ a gap or a fall back, where something joins in          that changes
 *               └ else                                                    a point tells, or nobody does
 *
 * What stands are those that the passes leave, and in each pass whoever drops another drops all that the other drops: books build on
 * each other, `when`s imply each other and lists of ranks are compared in an order.
 */
import type { Test } from "../../model/model.js";
import type { Answers, Askable } from "../answers.js";
import { isFork, sidesIn, spanIn, type Box, type Node } from "../diagrams/diagram.js";
import { NO_ADVICE, WAITS } from "../diagrams/formula.js";
import { onlyGoes, sameList, shareNothing } from "../pick-question.js";
import { prepared } from "../point.js";
import { compareRanks, ranksOf, type PickRules, type Rule } from "../rules.js";
import type { Verdict } from "../verdict.js";

/** Tells of a box in which an answer may change: true if it is seen to, false if no point of it is possible. */
export type ChangesIn = (box: Box) => boolean | undefined;

/** True: some answer changes. Boxes: only there one may change, if anywhere. */
export type Told = true | readonly Box[];

/** Whether some answer in `place`, where the rule may hold, changes if it is taken out. */
export function changesByLeaving(answers: Answers, { rules }: Askable, leaving: Rule, place: Box, changesIn: ChangesIn): Told {
  if (!isPlain(leaving)) return [place];
  const mayWait = (answers.store.mask(answers.compile(leaving.pattern.when)) & (WAITS | NO_ADVICE)) !== 0;
  return overLeaves(answers, rules, place, ({ cause, standing }, box) => {
    if (cause.kind === "waiting") return mayWait ? undefined : false;
    return standing.includes(leaving.at) || cause.kind === "clash" ? changesIn(box) : false;
  });
}

/** Whether some answer changes if the rule, with another `when`, holds throughout `place`, where it did not hold before. */
export function changesByJoining(
  answers: Answers,
  { rules, index }: Askable,
  joining: Rule,
  when: Test,
  place: Box,
  changesIn: ChangesIn,
): Told {
  const { model } = answers;
  const { pick } = rules;
  if (
    !isPlain(joining) ||
    pick.sayNothing.length > 0 ||
    (model.books.length > 1 && rules.rules.some(({ pattern }) => pattern.book !== joining.pattern.book))
  )
    return [place];
  const { whens } = prepared(model);
  const ranks = ranksOf(pick, when, whens);
  let any: boolean | undefined;
  const how: Relations = {
    isNarrower: (other) => whens.narrower(other.pattern.when, when),
    drops: (other) => whens.narrower(when, other.pattern.when),
    trust: (other) => compareRanks(ranks, rules.ranks(other)),
    dropsAny: () =>
      (any ??=
        pick.trust.length > 0 ||
        index()
          .meeting(place)
          .some((at) => rules.rules[at] !== joining && rules.rules[at]!.goes && how.drops(rules.rules[at]!))),
  };
  return overLeaves(answers, rules, place, (leaf, box) => {
    const changes = changedBy(rules, leaf, joining, how);
    return changes ? changesIn(box) : changes;
  });
}

/** Whether the rule says nothing but its list, and is silenced by nothing and silences nothing. */
function isPlain(rule: Rule): boolean {
  return onlyGoes(rule) && rule.beats.length === 0 && rule.beatenBy.length === 0;
}

/** What joins in, beside another rule. */
interface Relations {
  isNarrower(other: Rule): boolean;
  /** Whether it is narrower than the other. */
  drops(other: Rule): boolean;
  /** Negative: it is trusted more; 0: alike. */
  trust(other: Rule): number;
  /** Whether it may drop any that it meets. */
  dropsAny(): boolean;
}

/** Whether the answer at a leaf changes; undefined: not told. Of many standing rules that say the same, the leaf may name only some. */
function changedBy(
  { rules }: PickRules,
  { cause, standing }: Verdict,
  joining: Rule,
  { isNarrower, drops, trust, dropsAny }: Relations,
): boolean | undefined {
  const stand = standing.map((at) => rules[at]!);
  if (stand.some(isNarrower)) return false;
  const dropsSome = stand.some(drops);
  // All that stand are trusted alike.
  const trusted = stand.length > 0 ? trust(stand[0]!) : 0;
  if (trusted > 0) return dropsSome ? undefined : false;
  if (trusted < 0) return undefined;
  switch (cause.kind) {
    case "not applicable":
    case "waiting":
    case "circle":
      return false;
    case "disagree":
    case "struck":
      return dropsSome ? undefined : false;
    case "clash":
      return dropsAny() ? undefined : false;
    case "nothing speaks":
      return true;
    case "list":
      if (cause.from === "fall back") return true;
      if (cause.from !== "go with") return undefined;
      if (stand.every((other) => sameList(other, joining)) || (!dropsSome && stand.some((other) => sameList(other, joining)))) return false;
      return stand.some((other) => shareNothing(other, joining) && !drops(other)) ? true : undefined;
    default:
      return undefined;
  }
}

/** Leaves that are looked at, and boxes that are told apart from the rest of the place. */
const MOST_LEAVES = 1000;
const MOST_BOXES = 12;

/** Whether `changes` is true of any leaf in a box; the boxes of those of which it is undefined. */
function overLeaves(
  { picks, variables }: Answers,
  { pick }: PickRules,
  place: Box,
  changes: (leaf: Verdict, box: Box) => boolean | undefined,
): Told {
  const local = picks[pick.index]?.local;
  if (!local) return [place];
  // Narrowed on the way down, and widened again on the way up.
  const box = new Map(place);
  const unsure: Box[] = [];
  let left = MOST_LEAVES;
  const look = (at: Node<Verdict>): boolean => {
    if (!isFork(at)) {
      left--;
      const told = changes(at.leaf, box);
      if (told === undefined) unsure.push(new Map(box));
      return told === true;
    }
    const domain = spanIn(box, at.variable, variables);
    let found = false;
    for (const [side, span] of sidesIn(at, box, variables)) {
      if (found || left === 0 || unsure.length > MOST_BOXES) continue;
      box.set(at.variable, span);
      found = look(side);
    }
    box.set(at.variable, domain);
    return found;
  };
  if (look(local)) return true;
  return left === 0 || unsure.length > MOST_BOXES ? [place] : unsure;
}
