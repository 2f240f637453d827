/** Hover on picks and judgements, and on their options: what there is, what settles it, when an option is recommended. */
import type { Analysis } from "../../analysis/analyse.js";
import type { Box } from "../../analysis/diagrams/diagram.js";
import { speaksOn } from "../../analysis/rules.js";
import { statuses } from "../../analysis/outcome.js";
import { sayWhere } from "../../analysis/where.js";
import { serviceWords } from "../../messages/service.js";
import { sayList } from "../../messages/words.js";
import type { Model, Pick } from "../../model/model.js";
import { optionTexts } from "../../model/texts.js";
import { heading, testersOf } from "./conditions.js";
import { block, bold, escaped, list } from "../../render/markdown.js";
import type { Thing } from "../../model/names.js";
import { optionShares, whereInFront } from "../shares.js";
import type { View } from "../view.js";

export function pickText({ model, analysis }: View, { name }: Thing): readonly string[] | undefined {
  const pick = model.picks.find((one) => one.name === name);
  if (!pick) return undefined;
  const { text } = model.books[pick.book]!;
  const coverage = analysis?.coverage.find((one) => one.pick === pick.index);
  const shares = statuses.flatMap((status) =>
    coverage && coverage.shares[status].n > 0n ? [[status, coverage.shares[status]] as const] : [],
  );
  const trust = pick.trust.map((subject) => (subject.kind === "condition" ? model.conditions : model.picks)[subject.index]!.name);
  const speaking = model.patterns.filter((pattern) => speaksOn(pattern, pick.index)).length;
  const tested = testersOf(model, (test) => test.kind === "pick" && test.pick === pick.index);
  return [
    heading(pick.label, name),
    escaped(
      [
        serviceWords.options(
          pick.options.map(({ text }) => text),
          pick.ordered,
        ),
        ...(pick.sameAs ? [serviceWords.sameAs(model.conditions[pick.sameAs.condition]!.label)] : []),
        ...(pick.judgement ? [serviceWords.judgement] : []),
      ].join(" "),
    ),
    ...(pick.ask ? [escaped(serviceWords.asks(pick.ask))] : []),
    ...(pick.onlyWhen ? [serviceWords.onlyWhen, block(text.slice(pick.onlyWhen.range.start, pick.onlyWhen.range.end))] : []),
    escaped(
      [
        serviceWords.spokenOfBy(speaking),
        ...(trust.length > 0 ? [serviceWords.trusted(trust)] : []),
        ...(pick.fallBack ? [serviceWords.fallsBack(sayList(optionTexts(pick, pick.fallBack.places)))] : []),
        serviceWords.testedBy(tested, model.held.length > 0),
      ].join(" "),
    ),
    ...(shares.length > 0 ? [escaped(serviceWords.coverage(shares))] : []),
  ];
}

/** Stretches beyond this many are counted. */
const FEW_BOXES = 4;
const FEW_TITLES = 4;

export function optionText({ model, analysis }: View, { name, of }: Thing): readonly string[] | undefined {
  const pick = model.picks.find((one) => one.name === of);
  const option = pick ? optionNamed(pick, name) : -1;
  if (!pick || option < 0) return undefined;
  const shares = analysis && optionShares(analysis, pick.index);
  return [
    `${bold(pick.options[option]!.text)}, ${escaped(serviceWords.optionOf(pick.label))}`,
    ...recommendedBy(model, pick, option),
    ...(shares ? [escaped(serviceWords.recommended(shares.front[option]!, shares.later[option]!))] : []),
    ...(analysis && shares && shares.front[option]!.n > 0n
      ? wherePart(analysis, serviceWords.firstWhere, whereInFront(analysis, pick.index, option), FEW_BOXES)
      : []),
  ];
}

/** A heading and a list of regions, the rest counted; nothing where they are not known, or are all there is. */
export function wherePart({ answers }: Analysis, title: string, boxes: readonly Box[] | undefined, most: number): readonly string[] {
  if (!boxes || boxes.length === 0 || boxes.some((box) => box.size === 0)) return [];
  const regions = boxes.slice(0, most).map((box) => escaped(sayWhere(answers, [box]).text));
  return [`${title}\n\n${list([...regions, ...(boxes.length > most ? [escaped(serviceWords.moreSuch(boxes.length - most))] : [])])}`];
}

/** An option by its name as written, quoted ones without their quotes. */
function optionNamed({ options }: Pick, name: string): number {
  return options.findIndex(({ text }) => text === name || text.replace(/\s+/g, " ") === name);
}

function recommendedBy({ patterns }: Model, pick: Pick, option: number): readonly string[] {
  const titles = patterns
    .filter(({ goes }) => goes.some((part) => part.pick === pick.index && part.places.flat().includes(option)))
    .map(({ title }) => title);
  return titles.length > 0 ? [escaped(serviceWords.recommendedBy(titles.slice(0, FEW_TITLES), titles.length - FEW_TITLES))] : [];
}
