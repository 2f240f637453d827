/**
 * Tests of sets. Each member is an axis of its own, so they become `and` and `or` of "has this one" and "has not this one":
 *
 *     cover has soft               grass ∨ pads ∨ reeds          cover has no soft     ¬grass ∧ ¬pads ∧ ¬reeds
 *     cover has all of soft        grass ∧ pads ∧ reeds          cover is empty        ¬grass ∧ … ∧ ¬docks
 *     cover only grass, pads       (grass ∨ pads) ∧ ¬reeds ∧ …   cover is not empty    grass ∨ … ∨ docks
 */
import { nearest } from "../suggest.js";
import * as say from "../messages/model.js";
import type { Fix } from "../diagnostics.js";
import type * as tree from "../syntax/tree.js";
import type { Range } from "../text.js";
import type { Bound } from "./bound.js";
import { groupThing, mentions, valueThing } from "./naming.js";
import { report, replacing, valueNames, type Reading, type Subject } from "./scope.js";
import { describe, unknownValue } from "./values.js";

export function bindSetRelation(reading: Reading, subject: Subject, name: tree.Name, relation: tree.Relation, range: Range): Bound {
  if (subject.values.kind !== "set") return { kind: "unread", range };
  const all = [...subject.values.members.keys()];
  const one = (member: number, present: boolean): Bound => ({ kind: "member", condition: subject.index, member, present, range });
  const join = (kind: "and" | "or", parts: readonly Bound[]): Bound => (parts.length === 1 ? parts[0]! : { kind, parts, range });
  const none = (members: readonly number[]) => members.map((member) => one(member, false));
  const some = (members: readonly number[]) =>
    join(
      "or",
      members.map((member) => one(member, true)),
    );
  if (relation.kind === "is empty") return join("and", none(all));
  if (relation.kind === "is not empty") return some(all);
  const about = { start: name.range.end, end: relation.range.end };
  const empty = saysNone(subject, relation);
  if (empty !== undefined) {
    report(reading, about, say.noneOnSet(subject.name, empty), { fixes: [replacing(reading, about, ` ${empty}`, `Write ${empty}`)] });
    return { kind: "unread", range };
  }
  if (relation.kind !== "has") {
    report(reading, about, say.otherTestOnSet(subject.name, describe(subject)), { fixes: asHas(reading, subject, relation, about) });
    return { kind: "unread", range };
  }
  const found = relation.members.map((member) => membersOf(reading, subject, member));
  if (found.length === 0 || !found.every((members) => members !== undefined)) return { kind: "unread", range };
  const members = [...new Set(found.flat())];
  switch (relation.form) {
    case "has":
    case "has any of":
      return some(members);
    case "has all of":
      return join(
        "and",
        members.map((member) => one(member, true)),
      );
    case "has no":
      return join("and", none(members));
    case "only": {
      const others = none(all.filter((member) => !members.includes(member)));
      const inside = some(members);
      return join("and", [inside, ...others]);
    }
  }
}

/** A member, or all members of a group; undefined after a report. */
function membersOf(reading: Reading, subject: Subject, name: tree.Name): readonly number[] | undefined {
  if (subject.values.kind !== "set") return undefined;
  const member = subject.values.members.indexOf(name.text);
  if (member >= 0) {
    mentions(reading, name, valueThing(subject, name.text));
    return [member];
  }
  const group = subject.groups.get(name.text);
  if (group !== undefined) {
    reading.scope.mentioned.add(group);
    mentions(reading, name, groupThing(subject, name.text));
    return group.members;
  }
  unknownValue(reading, subject, name.text, name);
  return undefined;
}

/** `is none`, `has none`, `is emtpy`, as it is said of a set. */
function saysNone(subject: Subject, relation: tree.Relation): "is empty" | "is not empty" | undefined {
  const words =
    relation.kind === "is"
      ? relation.values.map((value) => (value.kind === "name" ? value.text : ""))
      : relation.kind === "has" && relation.form === "has"
        ? relation.members.map(({ text }) => text)
        : [];
  const [word] = words;
  if (words.length !== 1 || word === undefined || valueNames(subject).includes(word)) return undefined;
  const isEmpty = relation.kind === "is" && nearest(word, [...valueNames(subject), "empty"]) === "empty";
  if (!isEmpty && !["none", "nothing"].includes(word)) return undefined;
  return relation.kind === "is" && relation.form !== "is" ? "is not empty" : "is empty";
}

/** The same thing said with `has`, where that can be done. */
function asHas(reading: Reading, subject: Subject, relation: tree.Relation, about: Range): Fix[] {
  const known = valueNames(subject);
  if (
    relation.kind !== "is" ||
    relation.values.length === 0 ||
    !relation.values.every((value) => value.kind === "name" && known.includes(value.text))
  )
    return [];
  const names = relation.values.map((value) => reading.text.slice(value.range.start, value.range.end));
  const words =
    relation.form !== "is" ? `has no ${names.join(", ")}` : names.length === 1 ? `has ${names[0]}` : `has any of ${names.join(", ")}`;
  return [replacing(reading, about, ` ${words}`, `Write ${words}`)];
}
