/** Parts and cells of pictures and charts in words, the same words as the table uses. */
import { tableWords } from "../messages/table.js";
import { chartWords } from "../messages/charts.js";
import type { Model, Pick as BookPick } from "../model/model.js";
import { emptySet } from "../model/empty-set.js";
import { sayPosition } from "../model/points.js";
import { optionTexts } from "../model/texts.js";
import { same, union, type Span } from "../model/span.js";
import { cellWords, unionWords, type Legend } from "../render/words.js";
import type { Cell, FrontShare, PicturePart } from "./picture.js";

/** "muddy", "cold", "soft, no hard"; bands and groups by name. */
export function partName(model: Model, condition: number, part: PicturePart): string {
  return words(model, condition, part, true);
}

/** The same in full where a name stands for it: "up to 49 °F"; else undefined. */
export function partRange(model: Model, condition: number, part: PicturePart): string | undefined {
  const [named, full] = [words(model, condition, part, true), words(model, condition, part, false)];
  return named === full ? undefined : full;
}

/** "Water clarity muddy, Wind above 10 mph" */
export function placeName(model: Model, parts: readonly { readonly condition: number; readonly part: PicturePart }[]): string {
  return parts
    .map(({ condition, part }) => tableWords.conditionIs(model.conditions[condition]!.label, partName(model, condition, part)))
    .join(", ");
}

/** What a cell says, for reading aloud: "round, then teardrop"; "it depends: round (79 %) or leaf (15 %)". */
export function cellText(pick: BookPick, cell: Cell): string {
  if (cell.undecided) return chartWords.undecided;
  const [first] = cell.possible;
  if (!first) return chartWords.cannotBe;
  if (cell.possible.length === 1) return tableWords.outcome(first.outcome.status, optionTexts(pick, first.outcome.places));
  if (cell.fronts.length === 1) return chartWords.dependsSecond(frontText(pick, cell.fronts[0]!));
  return chartWords.dependsOn(cell.fronts.map((front) => tableWords.possible(frontText(pick, front), front.share)));
}

/** "round", "round or leaf", "nothing recommended". */
export function frontText(pick: BookPick, { options, status }: FrontShare): string {
  return options.length > 0 ? optionsText(pick, options) : tableWords.outcome(status, []);
}

export function optionsText(pick: BookPick, options: readonly number[]): string {
  return options.map((option) => pick.options[option]!.text).join(" or ");
}

/** Several parts of one side as one. */
export function mergedPart(parts: readonly PicturePart[]): PicturePart {
  const axes = [...new Set(parts.flatMap(({ boxes }) => boxes.flatMap((box) => [...box.keys()])))];
  const [axis] = axes;
  const single = axes.length === 1 && parts.every(({ boxes }) => boxes.every((box) => box.has(axis!)));
  if (!single) return { boxes: parts.flatMap(({ boxes }) => boxes) };
  return { boxes: [new Map([[axis!, parts.flatMap(({ boxes }) => boxes).reduce<Span>((all, box) => union(all, box.get(axis!)!), [])]])] };
}

/** What to tell so that it lies in a part: a level, a band where the part is one, the names of members, or a value inside. */
export function tellingText(model: Model, condition: number, part: PicturePart): string {
  const { axes, domain } = model.conditions[condition]!;
  const box = part.boxes[0]!;
  if (domain.kind === "set") {
    const members = domain.members.filter((_, member) => box.get(axes[member]!)?.[0] === 1);
    return members.length === 0 ? emptySet : members.join(";");
  }
  const span = box.get(axes[0]!)!;
  const band = model.bands.find((one) => one.condition === condition && same(one.span, span));
  if (band) return band.name;
  const middle = (span[0]! + span[1]!) >> 1;
  // Of a continuous measure an open stretch, where there is one: odd positions.
  const at = model.axes[axes[0]!]!.limits && middle % 2 === 0 && middle < span[1]! ? middle + 1 : middle;
  return sayPosition(model, axes[0]!, at, "written");
}

function words(model: Model, condition: number, { boxes }: PicturePart, named: boolean): string {
  const about = model.conditions[condition]!;
  const legend: Legend | undefined = named ? new Set() : undefined;
  if (boxes.length === 1) return cellWords(model, about, boxes[0]!, legend);
  return unionWords(model, about, boxes, legend) ?? tableWords.phrases(boxes.map((box) => cellWords(model, about, box, legend)));
}
