/**
 * Trees to model: binds names, works out quantities, reports every error of words, names, units, kinds and ranges.
 *
 *     root ─books─▶ trees ─declare─▶ scope of names ─statements, advice─▶ drafts, tests bound ─order─▶ picks in order ─encode─▶ model
 *
 * What cannot be read is left out of the model, reported once, and held against nobody else: a name whose declaration is broken stays
 * known, and a broken pattern leaves behind where it might have spoken.
 */
import type { Finding, Place } from "../diagnostics.js";
import * as say from "../messages/model.js";
import type { Parsed } from "../syntax/parse.js";
import { readAdvice, type Advice, type Silence } from "./advice.js";
import { isReadable, picksIn, widest, type Bound } from "./bound.js";
import { readBooks, type Read, type Shelf } from "./books.js";
import { readDate } from "./calendar.js";
import { declareAll, statementsOf } from "./declare.js";
import { makeEncoder, type Encoder } from "./encode.js";
import type * as model from "./model.js";
import { declares } from "./naming.js";
import { orderPicks, type PickOrder, type TestsPick } from "./order.js";
import type { PatternDraft } from "./patterns.js";
import type { PickDraft } from "./picks.js";
import { emptyScope, placeOf, report, type Scope, type Subject } from "./scope.js";
import { isOver, readGoodDates, reportStalePatterns } from "./stale.js";
import { readOtherStatements, readPatterns, type OtherStatements, type Patterns } from "./statements.js";
import { bindTest, situationTest } from "./tests.js";
import { reportNeverAsked } from "./unused.js";

export interface Resolved {
  readonly model: model.Model;
  /** Findings of parsing and resolving, of every book read. */
  readonly findings: readonly Finding[];
}

export interface ResolveOptions {
  /** The day to judge staleness by, `2027-04-15`; patterns past their `until` do not speak. None: nothing is stale. */
  readonly on?: string;
}

/** A pick with all that was said of it. */
interface FullPick extends PickDraft {
  readonly onlyWhen?: Bound;
  readonly advice: Advice;
}
type Tester = PatternDraft | FullPick | Silence;

export function resolve(root: Parsed, read: Read, options: ResolveOptions = {}): Resolved {
  const shelf = readBooks(root, read);
  const scope = emptyScope();
  scope.somethingMissing = shelf.somethingMissing;
  for (const book of shelf.books) scope.readings.push({ ...book, scope, book: book.index });
  const on = options.on === undefined ? undefined : readDate(options.on);

  const declared = declareAll(scope, shelf);
  const patterns = readPatterns(scope, shelf);
  const adviceOn = readAdvice(shelf, statementsOf(scope, "trust", "fall back", "say nothing"));
  const picks = declared.picks.map((draft): FullPick => {
    const { node, reading } = draft;
    const onlyWhen =
      node.onlyWhen &&
      (reading.broken.has(node) ? { kind: "unread" as const, range: node.onlyWhen.range } : bindTest(reading, node.onlyWhen));
    return { ...draft, advice: adviceOn.pick(draft.subject), ...(onlyWhen && { onlyWhen }) };
  });
  const others = readOtherStatements(scope);
  const situations = [...scope.situations.values()].map((situation) => ({
    situation,
    bound: situationTest(scope.readings[situation.book]!, situation),
  }));

  const speaking = patterns.drafts.filter((draft) => !patterns.broken.has(draft) && !isOver(draft, on));
  const order = orderPicks(picks.length, pickTests(picks, speaking));
  reportCircles(order, picks);
  const encoder = makeEncoder(scope, declared.conditions, picks, order.order);

  if (on !== undefined) reportStalePatterns(patterns.drafts, on);
  if (patterns.drafts.length > 0) reportNeverAsked(scope, scope.readings.at(-1)!, declared.conditions);

  const standing = speaking.filter((draft) => !order.leftOut.has(draft));
  const result: model.Model = {
    books: scope.readings.map((reading, index) => {
      const header = reading.tree.statements.find((statement) => statement.kind === "book");
      if (header?.title !== undefined) declares(reading, header.title, { kind: "book", name: header.title.value });
      const [shop, water, edition] = [header?.shop?.value, header?.water?.value, header?.edition?.value];
      return {
        path: reading.path,
        text: reading.text,
        tree: reading.tree,
        title: header?.title?.value ?? reading.path,
        ...(shop && { shop }),
        ...(water && { water }),
        ...(edition && { edition }),
        ...readGoodDates(reading, on),
        buildsOn: shelf.books[index]!.buildsOn.map(({ book }) => book),
      };
    }),
    conditions: encoder.conditions,
    axes: encoder.axes,
    bands: encoder.bands,
    groups: encoder.groups,
    domain: encoder.domain,
    situations: situations
      .filter(({ bound }) => isReadable(bound))
      .map(({ situation: { name, book, place, namePlace }, bound }, index) => ({
        index,
        book,
        place,
        namePlace,
        name,
        test: encoder.test(bound),
      })),
    picks: encodePicks(encoder, picks, standing, order),
    patterns: encodePatterns(encoder, standing, patterns),
    ...encodeOthers(encoder, others, scope.readings.length - 1),
    closed: adviceOn.closed.filter((silence) => !order.leftOut.has(silence)).map((silence) => encodeSilence(encoder, silence)),
    held: encodeHeld(
      encoder,
      picks,
      others,
      patterns.drafts.filter((draft) => (patterns.broken.has(draft) || order.leftOut.has(draft)) && !isOver(draft, on)),
      order,
    ),
    names: scope.names,
    moreLocal: shelf.moreLocal,
    ...(options.on !== undefined && { on: options.on }),
  };
  return { model: result, findings: collectFindings(shelf, scope) };
}

/** Which pick tests which, and through what. */
function pickTests(picks: readonly FullPick[], patterns: readonly PatternDraft[]): TestsPick<Tester>[] {
  const tests = (from: number, when: Bound | undefined, statement: Tester) => [...picksIn(when)].map((to) => ({ from, to, statement }));
  return [
    ...picks.flatMap((pick, from) => [
      ...tests(from, pick.onlyWhen, pick),
      ...pick.advice.sayNothing.flatMap((silence) => tests(from, silence.when, silence)),
    ]),
    ...patterns.flatMap((pattern) => pattern.picks.flatMap((pick) => tests(pick.index, pattern.when, pattern))),
  ];
}

function reportCircles({ circles }: PickOrder<Tester>, picks: readonly FullPick[]): void {
  for (const circle of circles) {
    const names = [...circle, circle[0]!].map(({ from }) => picks[from]!.subject.name);
    const places = circle.map(({ from, to, statement }) => {
      return { ...testPlace(statement), message: say.testsHere(picks[from]!.subject.name, picks[to]!.subject.name) };
    });
    const [first, ...related] = places;
    const reading = picks[0]!.reading.scope.readings.find(({ path }) => path === first!.path)!;
    report(reading, first!.range, say.picksInCircle(names), { pick: names[0]!, related });
  }
}

/** Where a statement says what it tests. */
function testPlace(statement: Tester): Place {
  if ("place" in statement) return statement.place;
  const test = "advice" in statement ? statement.onlyWhen : statement.when;
  return placeOf(statement.reading, test?.range ?? statement.node.range);
}

function encodePicks(
  encoder: Encoder,
  picks: readonly FullPick[],
  patterns: readonly PatternDraft[],
  { order, leftOut }: PickOrder<Tester>,
): model.Pick[] {
  const place = ({ kind, index }: Subject): model.Subject =>
    kind === "condition" ? { kind, index } : { kind: "pick", index: encoder.placeOfPick[index]! };
  return order.map((written, index) => {
    const pick = picks[written]!;
    const { subject, node, reading, copies, advice } = pick;
    const { values } = subject;
    const options = values.kind === "list" ? values.options : [];
    const onlyWhen = leftOut.has(pick) || !isReadable(pick.onlyWhen) ? undefined : pick.onlyWhen;
    const sayNothing = advice.sayNothing.filter((silence) => !leftOut.has(silence));
    const whens = [
      onlyWhen,
      ...sayNothing.map(({ when }) => when),
      ...patterns.filter((pattern) => pattern.picks.includes(subject)).map(({ when }) => when),
    ];
    const tests = new Set(whens.flatMap((when) => [...picksIn(when)]).map((tested) => encoder.placeOfPick[tested]!));
    return {
      index,
      book: reading.book,
      place: placeOf(reading, node.range),
      namePlace: subject.place,
      name: subject.name,
      label: node.label?.value ?? subject.name,
      judgement: subject.kind === "judgement",
      options,
      ordered: values.kind === "list" && values.ordered,
      ...(subject.words && { rising: subject.words.rising, falling: subject.words.falling }),
      ...(node.ask && { ask: node.ask.value }),
      ...(onlyWhen && { onlyWhen: encoder.test(onlyWhen) }),
      ...(copies && { sameAs: encoder.copied(copies, options.length) }),
      ...(advice.fallBack && { fallBack: advice.fallBack }),
      sayNothing: sayNothing.map((silence) => encodeSilence(encoder, silence)),
      trust: advice.trust.map(place),
      tests: [...tests].sort((a, b) => a - b),
    };
  });
}

function encodeSilence(encoder: Encoder, silence: Silence): model.SayNothing {
  return { ...silence, when: encoder.test(silence.when) };
}

function encodePatterns(encoder: Encoder, drafts: readonly PatternDraft[], { beats }: Patterns): model.Pattern[] {
  const indexes = new Map(drafts.map((draft, index) => [draft, index]));
  const inOrder = <T extends { readonly pick: number }>(list: readonly T[]): T[] =>
    list.map((entry) => ({ ...entry, pick: encoder.placeOfPick[entry.pick]! }));
  return drafts.map((draft, index) => {
    const { reading, node, title, when, checked, until } = draft;
    return {
      index,
      book: reading.book,
      place: placeOf(reading, node.range),
      namePlace: placeOf(reading, node.title!.range),
      title,
      ...encoder.when(when),
      goes: inOrder(draft.goes),
      leans: inOrder(draft.leans),
      nevers: inOrder(draft.nevers),
      moves: inOrder(draft.moves),
      ...(node.because && { because: node.because.value }),
      see: node.see.map(({ value }) => value),
      ...(checked && { checked }),
      ...(until && { until }),
      beats: beats
        .get(draft)!
        .flatMap(({ pattern, node: title }) =>
          indexes.has(pattern) ? [{ pattern: indexes.get(pattern)!, place: placeOf(reading, title.range) }] : [],
        ),
    };
  });
}

function encodeOthers(encoder: Encoder, others: OtherStatements, root: number): Pick<model.Model, "impossible" | "cautions" | "promises"> {
  return {
    impossible: others.impossible.map(({ reading, node, when }, index) => ({
      index,
      book: reading.book,
      place: placeOf(reading, node.range),
      namePlace: placeOf(reading, node.when!.range),
      when: encoder.test(when),
      ...(node.because && { because: node.because.value }),
    })),
    cautions: others.cautions.map(({ reading, node, when }, index) => ({
      index,
      book: reading.book,
      place: placeOf(reading, node.range),
      namePlace: placeOf(reading, node.title!.range),
      title: node.title!.value,
      ...encoder.when(when),
      say: node.say!.value,
      see: node.see.map(({ value }) => value),
    })),
    promises: others.promises.map(({ reading, node, when, pick, options }, index) => ({
      index,
      book: reading.book,
      place: placeOf(reading, node.range),
      namePlace: placeOf(reading, node.title!.range),
      title: node.title!.value,
      pick: encoder.placeOfPick[pick.index]!,
      must: node.must!,
      options,
      ...encoder.when(when),
      ofBase: reading.book !== root,
    })),
  };
}

/** Where something that could not be read might have changed an answer. */
function encodeHeld(
  encoder: Encoder,
  picks: readonly FullPick[],
  others: OtherStatements,
  patterns: readonly PatternDraft[],
  { leftOut }: PickOrder<Tester>,
): model.Held[] {
  const hold = (written: readonly number[], when: Bound | undefined): model.Held => {
    const held = written.map((pick) => encoder.placeOfPick[pick]!);
    // What was left out may test a pick that comes later, or itself.
    return { picks: held, ...encoder.when(widest(when, (pick) => encoder.placeOfPick[pick]! < Math.min(...held))) };
  };
  return [
    ...patterns.map((pattern) =>
      hold(
        pattern.picks.map(({ index }) => index),
        pattern.reading.broken.has(pattern.node) ? undefined : pattern.when,
      ),
    ),
    ...picks.flatMap((pick, index) => [
      ...pick.advice.unread.map(({ when }) => hold([index], when)),
      ...pick.advice.sayNothing.filter((silence) => leftOut.has(silence)).map(({ when }) => hold([index], when)),
      ...(!isReadable(pick.onlyWhen) || leftOut.has(pick) ? [hold([index], undefined)] : []),
    ]),
    // One of which nothing can be made out would hold back everything.
    ...others.unread.flatMap((when) => hold([...picks.keys()], when)).filter(({ when }) => when !== undefined),
  ].filter((held) => held.picks.length > 0);
}

/** Book by book in reading order, each by place. What was told anew takes the place of the parser's. */
function collectFindings(shelf: Shelf, scope: Scope): Finding[] {
  const own = [...shelf.findings, ...scope.findings];
  const { toldAnew } = scope;
  return shelf.books.flatMap(({ path, findings }) => {
    const here = own.filter((finding) => finding.path === path);
    const anew = here.filter(({ code }) => code === "mixing");
    const kept = findings
      .filter((finding) => !toldAnew.has(finding))
      .filter(
        ({ code, range }) => code !== "mixing" || !anew.some((other) => other.range.start <= range.start && other.range.end >= range.end),
      );
    return [...kept, ...here].sort((a, b) => a.range.start - b.range.start || a.range.end - b.range.end);
  });
}
