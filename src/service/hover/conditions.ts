/** Hover on conditions and what they are made of: values, questions, what stretches and groups mean, who tests them. */
import type { Box } from "../../analysis/diagrams/diagram.js";
import { serviceWords, type Testers } from "../../messages/service.js";
import type { Condition, Model, Test } from "../../model/model.js";
import { printQuantity } from "../../model/quantities.js";
import { cellWords } from "../../render/words.js";
import { block, bold, code, escaped } from "../../render/markdown.js";
import type { Thing } from "../../model/names.js";
import { shareOfTest } from "../shares.js";
import type { View } from "../view.js";

export function conditionText({ model }: View, { name }: Thing): readonly string[] | undefined {
  const condition = model.conditions.find((one) => one.name === name);
  if (!condition) return undefined;
  const { rising, falling, ask, filledFrom } = condition;
  const bands = model.bands.filter((band) => band.condition === condition.index);
  const groups = model.groups.filter((group) => group.condition === condition.index);
  const words = [
    valuesOf(condition),
    ...(rising && falling ? [serviceWords.compared(rising, falling)] : []),
    ...(bands.length > 0
      ? [serviceWords.bands(bands.map((band) => [band.name, cellWords(model, condition, boxOf(condition, band.span))]))]
      : []),
    ...(groups.length > 0
      ? [serviceWords.groups(groups.map((group) => [group.name, group.members.map((member) => partsOf(condition)[member]!)]))]
      : []),
  ];
  return [
    heading(condition.label, name),
    escaped(words.join(" ")),
    ...(ask ? [escaped(serviceWords.asks(ask))] : []),
    ...(filledFrom ? [escaped(serviceWords.filledFrom(filledFrom))] : []),
    escaped(
      serviceWords.testedBy(
        testersOf(model, (test) => test.kind === "axis" && condition.axes.includes(test.axis)),
        model.held.length > 0,
      ),
    ),
  ];
}

export function levelText({ model }: View, { name, of }: Thing): readonly string[] | undefined {
  const condition = model.conditions.find((one) => one.name === of);
  if (condition?.domain.kind !== "scale") return undefined;
  const { levels, ordered } = condition.domain;
  const at = levels.indexOf(name);
  if (at < 0) return undefined;
  const shown = levels.map((level) => (level === name ? bold(level) : escaped(level))).join(", ");
  const axis = condition.axes[0]!;
  return [
    bold(name),
    `${escaped(serviceWords.level(at + 1, levels.length, condition.label, ordered))} ${shown}.`,
    ...groupsWith(model, condition, at),
    escaped(
      serviceWords.toldApartBy(
        testersOf(model, (test) => test.kind === "axis" && test.axis === axis && splits(test.span, at, levels.length)),
      ),
    ),
  ];
}

export function memberText({ model }: View, { name, of }: Thing): readonly string[] | undefined {
  const condition = model.conditions.find((one) => one.name === of);
  const at = condition?.domain.kind === "set" ? condition.domain.members.indexOf(name) : -1;
  if (!condition || at < 0) return undefined;
  return [
    bold(name),
    escaped(serviceWords.member(condition.label)),
    ...groupsWith(model, condition, at),
    escaped(
      serviceWords.testedBy(
        testersOf(model, (test) => test.kind === "axis" && test.axis === condition.axes[at]),
        model.held.length > 0,
      ),
    ),
  ];
}

export function bandText({ model }: View, { name, of }: Thing): readonly string[] | undefined {
  const condition = model.conditions.find((one) => one.name === of);
  const band = condition && model.bands.find((one) => one.condition === condition.index && one.name === name);
  return (
    condition && band && [bold(name), escaped(serviceWords.band(condition.label, cellWords(model, condition, boxOf(condition, band.span))))]
  );
}

export function groupText({ model }: View, { name, of }: Thing): readonly string[] | undefined {
  const condition = model.conditions.find((one) => one.name === of);
  const group = condition && model.groups.find((one) => one.condition === condition.index && one.name === name);
  return (
    condition &&
    group && [
      bold(name),
      escaped(
        serviceWords.group(
          condition.label,
          group.members.map((member) => partsOf(condition)[member]!),
        ),
      ),
    ]
  );
}

export function wordText({ model }: View, { name, of }: Thing): readonly string[] | undefined {
  const subject = model.conditions.find((one) => one.name === of) ?? model.picks.find((one) => one.name === of);
  return subject && (subject.rising === name || subject.falling === name)
    ? [bold(name), escaped(serviceWords.word(subject.label, subject.rising === name))]
    : undefined;
}

export function situationText({ model, analysis }: View, { name }: Thing): readonly string[] | undefined {
  const situation = model.situations.find((one) => one.name === name);
  if (!situation) return undefined;
  const { text } = model.books[situation.book]!;
  const share = analysis && shareOfTest(analysis, `situation ${situation.index}`, situation.test);
  return [bold(name), escaped(serviceWords.situation(share)), block(text.slice(situation.test.range.start, situation.test.range.end))];
}

/** The label, and the name where it is another one. */
export function heading(label: string, name: string): string {
  return label === name ? bold(name) : `${bold(label)} (${code(name)})`;
}

function valuesOf({ domain }: Condition): string {
  switch (domain.kind) {
    case "scale":
      return serviceWords.scale(domain.levels, domain.ordered);
    case "set":
      return serviceWords.set(domain.members, domain.atLeastOne);
    case "measure": {
      const [low, high, step] = [domain.low, domain.high, domain.step].map((value) => value && printQuantity(value, domain.unit));
      return serviceWords.measure(low!, high!, step);
    }
    case "days":
      return serviceWords.everyDay;
    case "times":
      return serviceWords.everyTime;
  }
}

function partsOf({ domain }: Condition): readonly string[] {
  return domain.kind === "scale" ? domain.levels : domain.kind === "set" ? domain.members : [];
}

function boxOf(condition: Condition, span: readonly number[]): Box {
  return new Map([[condition.axes[0]!, span]]);
}

function groupsWith(model: Model, condition: Condition, part: number): readonly string[] {
  const groups = model.groups
    .filter((group) => group.condition === condition.index && group.members.includes(part))
    .map(({ name }) => name);
  return groups.length > 0 ? [escaped(serviceWords.inGroups(groups))] : [];
}

/** Whether a test tells a level from one of its neighbors. */
function splits(span: readonly number[], level: number, size: number): boolean {
  const inside = (at: number): boolean => span.some((bound, i) => i % 2 === 0 && bound <= at && at <= span[i + 1]!);
  return [level - 1, level + 1].some((other) => other >= 0 && other < size && inside(other) !== inside(level));
}

/** How many patterns, picks and other statements have a test, somewhere in theirs, that is wanted. */
export function testersOf({ patterns, picks, impossible, closed, cautions, promises }: Model, wanted: (test: Test) => boolean): Testers {
  const has = (test: Test | undefined): boolean =>
    test !== undefined && (wanted(test) || ("parts" in test ? test.parts.some(has) : "part" in test && has(test.part)));
  const silences = [...picks.flatMap(({ sayNothing }) => sayNothing.filter(({ everything }) => !everything)), ...closed];
  return {
    patterns: patterns.filter(({ when }) => has(when)).length,
    picks: picks.filter(({ onlyWhen }) => has(onlyWhen)).length,
    others: [...impossible, ...cautions, ...promises, ...silences].filter(({ when }) => has(when)).length,
  };
}
