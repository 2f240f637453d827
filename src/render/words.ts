/**
 * Limits of a row in the words of a chart, condition by condition.
 *
 *     scale     "dirty or muddy", "stained to muddy"        measure   "cold", "50 °F to 69 °F", "above 10 ft"
 *     set       "grass and docks, no hard", "none"          day       "spawn", "dec 1 to mar 9"
 *
 * Where a `Legend` is kept, a band or group is named wherever it is exactly what is meant, and the legend explains it; without one
 * everything is said in full.
 */
import type { Box } from "../analysis/diagrams/diagram.js";
import type { Front } from "../analysis/point.js";
import { tableWords } from "../messages/table.js";
import type { Band, Condition, Group, Model, Pick as PickOfBook } from "../model/model.js";
import { sayPosition } from "../model/points.js";
import { inGroups } from "../model/texts.js";
import { complement, count, holds, positions, same, spanOf, within, type Span } from "../model/span.js";
import { phrasesFor } from "./phrases.js";
import { membersIn, runsOn } from "./when.js";

/** What a pick is called, and that it is only judged. */
export function pickLabel({ label, judgement }: Pick<PickOfBook, "label" | "judgement">): string {
  return judgement ? tableWords.judged(label) : label;
}

/** Bands and groups that cells have named. */
export type Legend = Set<Band | Group>;

/** What a row asks of a condition; "any" if nothing. */
export function cellWords(model: Model, condition: Condition, box: Box, legend?: Legend): string {
  if (condition.domain.kind === "set") return setWords(model, condition, box, legend);
  const axis = model.axes[condition.axes[0]!]!;
  const span = box.get(axis.index);
  if (!span || count(span) === axis.size) return tableWords.any;
  return condition.domain.kind === "scale" ? levelWords(model, condition, span, legend) : stretchWords(model, condition, span, legend);
}

/** Which answers of a pick a span of its fronts holds: "jig or worm", "jig or worm alike", "no answer"; "any" if all of them. */
export function frontWords(texts: readonly string[], fronts: readonly Front[], span: Span | undefined): string {
  if (!span || count(span) === fronts.length) return tableWords.any;
  const inside = [...positions(span)].map((at) => fronts[at]!);
  const single = inside.flatMap((front) => (typeof front !== "string" && front.length === 1 ? front : [])).sort((a, b) => a - b);
  const others = [
    ...inside.filter((front) => typeof front !== "string" && front.length > 1),
    ...inside.filter((front) => typeof front === "string"),
  ];
  const outside = fronts.filter((_, at) => !holds(span, at));
  const [but] = outside;
  if (outside.length === 1 && typeof but === "object" && but.length === 1 && inside.length > 2) return tableWords.except(texts[but[0]!]!);
  return tableWords.either([
    ...single.map((option) => texts[option]!),
    ...others.map((front) => tableWords.front(typeof front === "string" ? front : front.map((option) => texts[option]!))),
  ]);
}

/** What several boxes ask of a set together: "soft and hard", "hard; or pads, no grass"; undefined if that takes as many words as boxes. */
export function unionWords(model: Model, condition: Condition, boxes: readonly Box[], legend?: Legend): string | undefined {
  if (condition.domain.kind !== "set") return undefined;
  const { members } = condition.domain;
  const groups = model.groups.filter((group) => group.condition === condition.index);
  const indexes = (names: readonly string[]): number[] => names.map((name) => members.indexOf(name));
  const limits = boxes.map((box) => membersIn(model, condition, box)).map(({ has, no }) => ({ has: indexes(has), no: indexes(no) }));
  // "Any of these", for the members that some box asks for and not all do, is a group without a name.
  const loose = [...new Set(limits.flatMap(({ has }) => has))].filter((member) => !limits.every(({ has }) => has.includes(member)));
  const phrases = phrasesFor(limits, [...groups.map((group) => group.members), loose]);
  return (
    phrases &&
    tableWords.phrases(
      phrases.map(({ has, no, some }) =>
        setText(
          condition,
          has.map((member) => members[member]!),
          no.map((member) => members[member]!),
          model,
          legend,
          some.map((index) => {
            const group = groups[index];
            if (!group || !legend)
              return { words: tableWords.either((group?.members ?? loose).map((member) => members[member]!)), choice: true };
            legend.add(group);
            return { words: group.name, choice: false };
          }),
        ),
      ),
    )
  );
}

/** What the names in cells mean, a sentence for each condition: "Cover: soft is grass or pads; hard is wood or docks". */
export function legendWords(model: Model, legend: Legend): readonly string[] {
  return model.conditions.flatMap((condition) => {
    const groups = model.groups.filter((group) => group.condition === condition.index && legend.has(group));
    const bands = model.bands.filter((band) => band.condition === condition.index && legend.has(band));
    const meanings = [
      ...groups.map(({ name, members }) => tableWords.means(name, tableWords.either(members.map((member) => partOf(condition, member))))),
      ...bands.map(({ name, span }) => tableWords.means(name, runWords(model, condition, span))),
    ];
    return meanings.length === 0 ? [] : [tableWords.legend(condition.label, meanings)];
  });
}

function partOf({ domain }: Condition, index: number): string {
  return domain.kind === "scale" ? domain.levels[index]! : domain.kind === "set" ? domain.members[index]! : "";
}

function levelWords(model: Model, condition: Condition, span: Span, legend: Legend | undefined): string {
  if (condition.domain.kind !== "scale") return "";
  const { levels, ordered } = condition.domain;
  const names = (of: Span): string[] => [...positions(of)].map((level) => levels[level]!);
  const group =
    legend && model.groups.find((one) => one.condition === condition.index && one.members.length > 1 && same(spanOf(one.members), span));
  if (group) {
    legend.add(group);
    return group.name;
  }
  if (ordered && span.length === 2 && count(span) > 2) return tableWords.between(levels[span[0]!]!, levels[span[1]!]!);
  const others = names(complement(span, levels.length));
  return others.length === 1 && levels.length > 3 ? tableWords.except(others[0]!) : tableWords.either(names(span));
}

function stretchWords(model: Model, condition: Condition, span: Span, legend: Legend | undefined): string {
  const inside = legend ? model.bands.filter((band) => band.condition === condition.index && within(band.span, span)) : [];
  const covered = inside.reduce((sum, band) => sum + count(band.span), 0);
  if (inside.length === 0 || inside.length > 3 || covered !== count(span)) return runWords(model, condition, span);
  for (const band of inside) legend!.add(band);
  return tableWords.either(inside.map(({ name }) => name));
}

function runWords(model: Model, condition: Condition, span: Span): string {
  const axis = model.axes[condition.axes[0]!]!;
  const value = (position: number): string => sayPosition(model, axis.index, position);
  const written = (position: number): string => sayPosition(model, axis.index, position, "written");
  const top = axis.size - 1;
  // Of a continuous measure odd positions are open stretches; in steps either neighbour says the same, and the rounder number says it better.
  const below = (to: number): string =>
    axis.limits
      ? to % 2 === 1
        ? tableWords.below(value(to + 1))
        : tableWords.atMost(value(to))
      : rounder(written(to + 1), written(to))
        ? tableWords.below(value(to + 1))
        : tableWords.atMost(value(to));
  const above = (from: number): string =>
    axis.limits
      ? from % 2 === 1
        ? tableWords.above(value(from - 1))
        : tableWords.atLeast(value(from))
      : rounder(written(from - 1), written(from))
        ? tableWords.above(value(from - 1))
        : tableWords.atLeast(value(from));
  const closed = (position: number): boolean => axis.limits === undefined || position % 2 === 0;
  return tableWords.either(
    runsOn(span, axis).map(([from, to]) => {
      if (from === to && closed(from)) return tableWords.exactly(value(from));
      if (axis.cyclic) return tableWords.between(value(from), value(to));
      if (from === 0) return to === top ? tableWords.any : below(to);
      if (to === top) return above(from);
      return closed(from) && closed(to) ? tableWords.between(value(from), value(to)) : tableWords.both(above(from), below(to));
    }),
  );
}

/** Whether the first number ends in a 0 or 5 that the second lacks. */
function rounder(a: string, b: string): boolean {
  const roundness = (text: string): number => {
    const digits = /^[^\d]*[\d.]+(?![\d./])/.exec(text)?.[0] ?? "";
    return digits.endsWith("0") ? 2 : digits.endsWith("5") ? 1 : 0;
  };
  return roundness(a) > roundness(b);
}

function setWords(model: Model, condition: Condition, box: Box, legend: Legend | undefined): string {
  const { has, no } = membersIn(model, condition, box);
  return setText(condition, has, no, model, legend);
}

/** `some`: any of a group, already in words. */
function setText(
  condition: Condition,
  has: readonly string[],
  no: readonly string[],
  model: Model,
  legend: Legend | undefined,
  some: readonly Parameters<typeof tableWords.withMembers>[0][number][] = [],
): string {
  const size = condition.axes.length;
  if (has.length + no.length + some.length === 0) return tableWords.any;
  if (no.length === size) return tableWords.noMembers;
  if (has.length > 0 && has.length + no.length === size) return tableWords.only(has);
  const there = [...has.map((words) => ({ words, choice: false })), ...some];
  return [
    ...(there.length > 0 ? [tableWords.withMembers(there)] : []),
    ...(no.length > 0 ? [tableWords.withoutMembers(groupedNames(model, condition, no, legend))] : []),
  ].join(", ");
}

/** Member names, whole groups by the group's name where a legend explains it. */
function groupedNames(model: Model, condition: Condition, names: readonly string[], legend: Legend | undefined): readonly string[] {
  if (!legend || condition.domain.kind !== "set") return names;
  const { members } = condition.domain;
  const { whole, left } = inGroups(
    model,
    condition.index,
    names.map((name) => members.indexOf(name)),
  );
  for (const group of whole) legend.add(group);
  return [...whole.map(({ name }) => name), ...left.map((member) => members[member]!)];
}
