/**
 * From drafts to the model: now that all limits are known and the picks are in order, every bound test becomes a test of positions.
 *
 *     water-temp in [33, 50)  ──▶  axis 9, positions 0–16          pick 2 (as written), options 1–3  ──▶  pick 0, [1, 3]
 */
import type { Bound } from "./bound.js";
import { axesOf, spanOfOptions, spanOn } from "./axes.js";
import type { ConditionDraft } from "./conditions.js";
import type * as model from "./model.js";
import type { PickDraft } from "./picks.js";
import { placeOf, type Scope, type Values } from "./scope.js";

/** The conditions and their names for parts, and how to encode what is said of them. */
export interface Encoder {
  readonly conditions: readonly model.Condition[];
  readonly axes: readonly model.Axis[];
  readonly domain: readonly model.Test[];
  readonly bands: readonly model.Band[];
  readonly groups: readonly model.Group[];
  /** Where each pick, counted as written, stands in the order of picks. */
  readonly placeOfPick: readonly number[];
  test(bound: Bound): model.Test;
  /** `{ when }`, or nothing: to spread into a statement. */
  when(bound: Bound | undefined): { readonly when?: model.Test };
  copied(copies: NonNullable<PickDraft["copies"]>, options: number): NonNullable<model.Pick["sameAs"]>;
}

export function makeEncoder(
  scope: Scope,
  drafts: readonly ConditionDraft[],
  picks: readonly PickDraft[],
  order: readonly number[],
): Encoder {
  const axes: model.Axis[] = [];
  const conditions = drafts.map((draft, index) => {
    const own = axesOf(index, draft.subject.values, axes.length, scope.limits.get(index) ?? []);
    axes.push(...own);
    return condition(
      draft,
      index,
      own.map((axis) => axis.index),
    );
  });
  const placeOfPick: number[] = [];
  order.forEach((pick, place) => (placeOfPick[pick] = place));

  const firstAxis = (condition: number) => axes[conditions[condition]!.axes[0]!]!;
  const test = (bound: Bound): model.Test => {
    const { range } = bound;
    switch (bound.kind) {
      case "and":
      case "or":
        return { kind: bound.kind, parts: bound.parts.map(test), range };
      case "not":
        return { kind: "not", part: test(bound.part), range };
      case "condition": {
        const axis = firstAxis(bound.condition);
        return { kind: "axis", axis: axis.index, span: spanOn(axis, bound.stretches), range };
      }
      case "member":
        return { kind: "axis", axis: conditions[bound.condition]!.axes[bound.member]!, span: bound.present ? [1, 1] : [0, 0], range };
      case "pick": {
        const { values } = picks[bound.pick]!.subject;
        return {
          kind: "pick",
          pick: placeOfPick[bound.pick]!,
          span: spanOfOptions(values.kind === "list" ? values.options.length : 0, bound.stretches),
          range,
        };
      }
      case "unread":
        return { kind: "never", range };
      default:
        return { kind: bound.kind, range };
    }
  };
  return {
    conditions,
    axes,
    placeOfPick,
    test,
    domain: drafts.flatMap((draft, index) => domainTest(draft, conditions[index]!)),
    bands: drafts
      .flatMap(({ subject }, condition) =>
        [...subject.bands.values()].map(({ stretch, ...named }) => ({
          ...named,
          condition,
          span: spanOn(firstAxis(condition), [stretch]),
        })),
      )
      .map((band, index) => ({ ...band, index })),
    groups: drafts
      .flatMap(({ subject }, condition) => [...subject.groups.values()].map((group) => ({ ...group, condition })))
      .map((group, index) => ({ ...group, index })),
    when: (bound) => (bound === undefined ? {} : { when: test(bound) }),
    copied: ({ condition, stretches }, options) => ({
      condition,
      axis: firstAxis(condition).index,
      spans: Array.from({ length: options }, (_, option) =>
        stretches[option] === undefined ? [] : spanOn(firstAxis(condition), [stretches[option]]),
      ),
    }),
  };
}

function condition({ subject, node, reading }: ConditionDraft, index: number, axes: readonly number[]): model.Condition {
  return {
    index,
    book: reading.book,
    place: placeOf(reading, node.range),
    namePlace: subject.place,
    name: subject.name,
    label: node.label?.value ?? subject.name,
    domain: domainOf(subject.values, node),
    axes,
    ...(subject.words && { rising: subject.words.rising, falling: subject.words.falling }),
    ...(node.ask && { ask: node.ask.value }),
    ...(node.filledFrom && { filledFrom: node.filledFrom.source }),
  };
}

function domainOf(values: Values, node: ConditionDraft["node"]): model.Domain {
  switch (values.kind) {
    case "list":
      return { kind: "scale", ordered: values.ordered, levels: values.options.map(({ text }) => text) };
    case "set":
      return { kind: "set", members: values.members, atLeastOne: node.domain?.kind === "set" && node.domain.atLeastOne };
    case "measure":
      return values;
    default:
      return { kind: values.kind };
  }
}

/** `, at least one`: some member is there. */
function domainTest({ node }: ConditionDraft, { axes, domain }: model.Condition): model.Test[] {
  if (domain.kind !== "set" || !domain.atLeastOne || node.domain === undefined) return [];
  const { range } = node.domain;
  const parts = axes.map((axis): model.Test => ({ kind: "axis", axis, span: [1, 1], range }));
  return [parts.length === 1 ? parts[0]! : { kind: "or", parts, range }];
}
