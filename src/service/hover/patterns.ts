/** Hover on patterns, cautions, promises and the book: what they say, how much a pattern decides, where it yields and to whom. */
import type { Analysis } from "../../analysis/analyse.js";
import type { Deciding } from "../../analysis/decides.js";
import { serviceWords } from "../../messages/service.js";
import type { Model, Pattern } from "../../model/model.js";
import type { Pattern as PatternNode } from "../../syntax/tree.js";
import type { Range } from "../../text.js";
import { wherePart } from "./picks.js";
import { block, bold, escaped, list } from "../../render/markdown.js";
import type { Thing } from "../../model/names.js";
import { promiseState } from "../promises.js";
import { decidingOf, shareOfTest, whereItDecides } from "../shares.js";
import type { View } from "../view.js";

/** Beyond these they are counted. */
const FEW_RIVALS = 4;
const FEW_BOXES = 3;

export function patternText({ model, analysis }: View, thing: Thing): readonly string[] | undefined {
  const written = writtenAs(model, thing);
  if (!written) return undefined;
  const { node, text, path } = written;
  const pattern = model.patterns.find(({ place }) => place.path === path && place.range.start === node.range.start);
  return [
    bold(thing.name),
    block(sentenceOf(text, node)),
    ...(node.because ? [escaped(serviceWords.reason(node.because.value))] : []),
    ...(pattern ? (analysis ? weightOf(model, analysis, pattern) : []) : [whySilent(model, thing, node)]),
  ];
}

function whySilent({ on }: Model, { of }: Thing, { until }: PatternNode): string {
  if (of !== undefined) return serviceWords.silent.leftOut;
  return on !== undefined && until && until.text < on ? serviceWords.silent.over(until.text) : serviceWords.silent.unread;
}

/** The statement that a title names: the last one that bears it, as the model has it. */
function writtenAs(
  { books }: Model,
  { name, of }: Thing,
): { readonly node: PatternNode; readonly text: string; readonly path: string } | undefined {
  return books
    .filter(({ path }) => of === undefined || path === of)
    .flatMap(({ tree: { statements }, text, path }) =>
      statements.flatMap((node) => (node.kind === "pattern" && node.title?.value === name ? [{ node, text, path }] : [])),
    )
    .at(-1);
}

/** What it recommends and when, as written. */
function sentenceOf(text: string, { actions, when }: PatternNode): string {
  const written = ({ range }: { readonly range: Range }): string =>
    text
      .slice(range.start, range.end)
      .replace(/--[^\r\n]*/g, "")
      .replace(/\s+/g, " ")
      .trim();
  return [...actions.map(written), ...(when ? [`when ${written(when)}`] : [])].join("\n");
}

function weightOf(model: Model, analysis: Analysis, pattern: Pattern): readonly string[] {
  const cover = shareOfTest(analysis, `pattern ${pattern.index}`, pattern.when);
  const deciding = decidingOf(analysis, pattern.index);
  return [
    ...(cover ? [escaped(serviceWords.speaksUnder(cover))] : []),
    ...(deciding ? deciding.flatMap((one) => fateOn(model, analysis, pattern, one, deciding.length > 1)) : [serviceWords.pending]),
  ];
}

function fateOn(model: Model, analysis: Analysis, pattern: Pattern, deciding: Deciding, several: boolean): readonly string[] {
  const { pick, decides, yields, clashes, to } = deciding;
  const told = escaped(serviceWords.decides(several ? model.picks[pick]!.name : undefined, decides, yields, clashes));
  const rivals = to
    .slice(0, FEW_RIVALS)
    .map((one) => escaped(serviceWords.yieldsTo(model.patterns[one.pattern]!.title, one.by, one.share)));
  const more = to.length > FEW_RIVALS ? [escaped(serviceWords.yieldsToMore(to.length - FEW_RIVALS))] : [];
  // Where it does only one of the two, its `when` says where.
  const where = (of: "decides" | "yields", title: string): readonly string[] =>
    decides.n === 0n || yields.n === 0n ? [] : wherePart(analysis, title, whereItDecides(analysis, pattern.index, deciding, of), FEW_BOXES);
  return [
    rivals.length > 0 ? `${told}\n\n${list([...rivals, ...more])}` : told,
    ...where("decides", serviceWords.decidesWhere),
    ...where("yields", serviceWords.yieldsWhere),
  ];
}

export function cautionText({ model, analysis }: View, { name }: Thing): readonly string[] | undefined {
  const caution = model.cautions.find(({ title }) => title === name);
  if (!caution) return undefined;
  const share = analysis && caution.when && shareOfTest(analysis, `caution ${caution.index}`, caution.when);
  return [bold(name), escaped(serviceWords.caution(share)), escaped(caution.say)];
}

export function promiseText({ model, analysis }: View, { name }: Thing): readonly string[] | undefined {
  const promise = model.promises.find(({ title }) => title === name);
  if (!promise) return undefined;
  const state = analysis && promiseState(analysis, promise);
  if (state === undefined) return [bold(name), serviceWords.promise.pending];
  return [bold(name), state.kind === "fails" ? escaped(serviceWords.fails(state.example, state.share)) : serviceWords.promise[state.kind]];
}

export function bookText({ model }: View, { name }: Thing): readonly string[] {
  const at = model.books.findIndex(({ title }) => title === name);
  const own = (all: readonly { readonly book: number }[]): number => all.filter(({ book }) => book === at).length;
  return [bold(name), escaped(serviceWords.bookSays(own(model.patterns), own(model.picks), own(model.conditions)))];
}
