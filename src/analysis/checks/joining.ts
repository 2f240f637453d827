/**
 * What becomes of the answers in a box where a pattern joins in, read off the pick's own diagram.
 *
 *     inside the box   ─┬─ gap, fall back                        it changes that
 *                       ├─ something narrower stands             it is dropped, and whatever it could drop is dropped already
 *                       ├─ the same list stands, and stays       it changes nothing
 *                       ├─ a conflict of lists it does not drop  stays one
 *                       └─ anything else                         the diagram alone does not tell
 *
 * Only where nothing but *narrower* drops anything that the pattern meets: then the narrowest of what applies are what stands.
 */
import type { Model, Test } from "../../model/model.js";
import { intersect, isEmpty, subtract } from "../../model/span.js";
import type { Answers, Askable } from "../answers.js";
import { isFork, spanIn, type Box, type Node } from "../diagram.js";
import { onlyGoes, sameList, shareNothing } from "../pick-question.js";
import { prepared } from "../point.js";
import type { PickRules, Rule } from "../rules.js";
import type { Verdict } from "../verdict.js";

/** Leaves that are looked at. */
const MOST = 200;

/**
 * Whether some answer changes if the rule, with another `when`, holds throughout `place`, where it did not hold before; undefined: not
 * told. `changesIn` tells of a box in which an answer seems to change: true if it does, false if no point of it is possible.
 */
export function changesByJoining(answers: Answers, { rules, index }: Askable, joining: Rule, when: Test, place: Box, changesIn: (box: Box) => boolean | undefined): boolean | undefined {
  const local = answers.picks[rules.pick.index]?.local;
  if (!local || !isPlain(answers.model, rules, joining)) return undefined;
  const { narrower } = prepared(answers.model).whens;
  const how: Relations = {
    isNarrower: (other) => narrower(other.pattern.when, when),
    drops: (other) => narrower(when, other.pattern.when),
    dropsAny: remembered(() => index().meeting(place).some((at) => rules.rules[at] !== joining && rules.rules[at]!.goes && how.drops(rules.rules[at]!))),
  };
  let left = MOST;
  // Narrowed on the way down, and widened again on the way up.
  const box = new Map(place);
  const look = (at: Node<Verdict>): boolean | undefined => {
    if (!isFork(at)) {
      if (left-- === 0) return undefined;
      const changes = changed(rules, at.leaf, joining, how);
      return changes ? changesIn(box) : changes;
    }
    const domain = spanIn(box, at.variable, answers.variables);
    let found: boolean | undefined = false;
    for (const [side, span] of [[at.yes, intersect(domain, at.inside)], [at.no, subtract(domain, at.inside)]] as const) {
      if (found !== false || isEmpty(span)) continue;
      box.set(at.variable, span);
      found = look(side);
    }
    box.set(at.variable, domain);
    return found;
  };
  return look(local);
}

/** Whether the rule says nothing but its list, silences and is silenced by nothing, and only *narrower* is between it and the others. */
function isPlain(model: Model, { pick, rules }: PickRules, rule: Rule): boolean {
  return pick.trust.length === 0 && pick.sayNothing.length === 0 && onlyGoes(rule) && rule.beats.length === 0 && rule.beatenBy.length === 0 &&
    (model.books.length === 1 || rules.every((other) => other.pattern.book === rule.pattern.book));
}

interface Relations {
  /** Whether another is narrower than what joins in. */
  isNarrower(other: Rule): boolean;
  /** Whether it is narrower than another. */
  drops(other: Rule): boolean;
  /** Than any that it meets. */
  dropsAny(): boolean;
}

function remembered<T>(work: () => T): () => T {
  let known: { readonly value: T } | undefined;
  return () => (known ??= { value: work() }).value;
}

/** Whether the answer at a leaf changes; undefined: not told. Of many standing rules that say the same, the leaf may name only some. */
function changed({ rules }: PickRules, { cause, standing }: Verdict, joining: Rule, { isNarrower, drops, dropsAny }: Relations): boolean | undefined {
  const stand = standing.map((at) => rules[at]!);
  if (stand.some(isNarrower)) return false;
  switch (cause.kind) {
    case "not applicable":
    case "waiting":
    case "circle": return false;
    case "disagree":
    case "struck": return stand.some(drops) ? undefined : false;
    case "clash": return dropsAny() ? undefined : false;
    case "nothing speaks": return true;
    case "list":
      if (cause.from === "fall back") return true;
      if (cause.from !== "go with") return undefined;
      if (stand.every((other) => sameList(other, joining)) || (stand.some((other) => sameList(other, joining)) && !stand.some(drops))) return false;
      return stand.some((other) => shareNothing(other, joining) && !drops(other)) ? true : undefined;
    default: return undefined;
  }
}
