/**
 * The statements of all books beside what they declare: patterns with `leave out` and `beats`, and all else that has a `when`.
 *
 *     base:  pattern "Mud wants thump"          local:  leave out "Mud wants thump"
 *            pattern "Soft cover"                       pattern "Our mud"  beats "Soft cover"
 *     left:  "Soft cover", "Our mud" beats 0
 */
import * as say from "../messages/model.js";
import type * as tree from "../syntax/tree.js";
import { isReadable, picksIn, type Bound } from "./bound.js";
import type { Shelf } from "./books.js";
import { statementsOf, type StatementOf } from "./declare.js";
import type { Thing } from "./names.js";
import { declares, mentions } from "./naming.js";
import { readOptionList, readPattern, type PatternDraft } from "./patterns.js";
import { findPick } from "./picks.js";
import { placeOf, report, spelling, textOf, type Reading, type Scope, type Subject } from "./scope.js";
import { nearest } from "../suggest.js";
import { bindTest } from "./tests.js";

export interface Patterns {
  readonly drafts: readonly PatternDraft[];
  /** For each pattern those it names after `beats`, and where. */
  readonly beats: ReadonlyMap<PatternDraft, readonly { readonly pattern: PatternDraft; readonly node: tree.Text }[]>;
  /** Those that cannot be read. */
  readonly broken: ReadonlySet<PatternDraft>;
}

export function readPatterns(scope: Scope, shelf: Shelf): Patterns {
  const leftOut = leaveOut(scope, shelf);
  const drafts: PatternDraft[] = [];
  const byTitle = new Map<string, PatternDraft>();
  for (const { reading, node } of statementsOf(scope, "pattern")) {
    if (leftOut.has(node)) continue;
    const draft = readPattern(reading, node);
    drafts.push(draft);
    if (node.title === undefined) continue;
    declares(reading, node.title, patternThing(node.title));
    const first = byTitle.get(draft.title);
    if (first === undefined) byTitle.set(draft.title, draft);
    else
      report(reading, node.title.range, say.titleTaken("pattern", draft.title), {
        related: [{ ...placeOf(first.reading, first.node.title!.range), message: say.declaredHere(draft.title) }],
      });
  }
  const gone = new Map([...leftOut].reverse().map(([{ title }, reading]) => [title?.value, reading]));
  const broken = new Set(drafts.filter((draft) => draft.broken));
  const beats = new Map(
    drafts.map((draft) => {
      const found = draft.node.beats.flatMap((node, i) => {
        const pattern = byTitle.get(node.value);
        if (draft.node.beats.findIndex(({ value }) => value === node.value) < i)
          report(draft.reading, node.range, say.listedTwice(textOf(draft.reading, node)));
        else if (node.value === draft.title) report(draft.reading, node.range, say.beatsItself(draft.title));
        else if (pattern !== undefined) {
          mentions(draft.reading, node, patternThing(node));
          return [{ pattern, node }];
        } else if (gone.has(node.value)) mentions(draft.reading, node, patternThing(node, gone.get(node.value)));
        else if (!scope.somethingMissing) {
          broken.add(draft);
          unknownTitle(draft.reading, node, byTitle.keys());
        }
        return [];
      });
      return [draft, found] as const;
    }),
  );
  return { drafts, beats, broken };
}

export interface OtherStatements {
  readonly impossible: readonly (Ruled<"impossible"> & { readonly when: Bound })[];
  /** The tests of those that could not be read. */
  readonly unread: readonly Bound[];
  readonly cautions: readonly Ruled<"caution">[];
  readonly promises: readonly (Ruled<"promise"> & { readonly pick: Subject; readonly options: readonly number[] })[];
}
interface Ruled<K extends tree.Statement["kind"]> {
  readonly reading: Reading;
  readonly node: StatementOf<K>;
  readonly when?: Bound;
}

export function readOtherStatements(scope: Scope): OtherStatements {
  const titles = new Map<string, tree.Text>();
  const impossible: OtherStatements["impossible"][number][] = [];
  const unread: Bound[] = [];
  const cautions: Ruled<"caution">[] = [];
  const promises: OtherStatements["promises"][number][] = [];
  for (const { reading, node } of statementsOf(scope, "impossible", "caution", "promise")) {
    const when = node.when && bindTest(reading, node.when);
    const whole = !reading.broken.has(node) && isReadable(when);
    if (node.kind === "impossible") {
      const [tested] = picksIn(when);
      if (tested !== undefined) report(reading, node.when!.range, say.impossibleTestsPick(pickName(scope, tested)));
      else if (when !== undefined && whole) impossible.push({ reading, node, when });
      else if (when !== undefined) unread.push(when);
      continue;
    }
    if (node.title === undefined) continue;
    const key = `${node.kind} ${node.title.value}`;
    if (titles.has(key)) report(reading, node.title.range, say.titleTaken(node.kind, node.title.value));
    titles.set(key, node.title);
    declares(reading, node.title, { kind: node.kind, name: node.title.value });
    if (node.kind === "caution") {
      if (whole && node.say !== undefined) cautions.push({ reading, node, ...(when && { when }) });
      continue;
    }
    const pick = node.pick && findPick(reading, node.pick);
    if (pick === undefined || node.must === undefined) continue;
    const options = node.must === "have an answer" || node.must === "have no answer" ? [] : readOptionList(reading, pick, node.options);
    if (whole && options !== undefined) promises.push({ reading, node, pick, options, ...(when && { when }) });
  }
  return { impossible, unread, cautions, promises };
}

/** The patterns that some more local book leaves out, each with its own book. */
function leaveOut(scope: Scope, shelf: Shelf): ReadonlyMap<tree.Pattern, Reading> {
  const leftOut = new Map<tree.Pattern, Reading>();
  const patterns = [...statementsOf(scope, "pattern")];
  const asked: { readonly reading: Reading; readonly title: tree.Text }[] = [];
  for (const { reading, node } of statementsOf(scope, "leave out")) {
    for (const title of node.titles) {
      if (asked.some((other) => other.reading === reading && other.title.value === title.value)) {
        report(reading, title.range, say.listedTwice(textOf(reading, title)));
        continue;
      }
      asked.push({ reading, title });
      const reached = patterns.filter((pattern) => shelf.moreLocal(reading.book, pattern.reading.book));
      const dropped = reached.filter((pattern) => pattern.node.title?.value === title.value);
      for (const pattern of dropped) {
        if (!leftOut.has(pattern.node)) declares(pattern.reading, pattern.node.title!, patternThing(title, pattern.reading));
        leftOut.set(pattern.node, pattern.reading);
      }
      if (dropped.length > 0) {
        mentions(reading, title, patternThing(title, dropped[0]!.reading));
        continue;
      }
      const own = patterns.find((pattern) => pattern.reading === reading && pattern.node.title?.value === title.value);
      if (own !== undefined)
        report(reading, title.range, say.leaveOutOwn(title.value), {
          related: [{ ...placeOf(reading, own.node.title!.range), message: say.declaredHere(title.value) }],
        });
      else if (!scope.somethingMissing)
        unknownTitle(
          reading,
          title,
          reached.flatMap((pattern) => pattern.node.title?.value ?? []),
        );
    }
  }
  const standing = patterns.filter((pattern) => !leftOut.has(pattern.node));
  const titles = new Set(standing.map((pattern) => pattern.node.title?.value));
  for (const { reading, title } of asked) {
    if (titles.has(title.value)) continue;
    for (const other of standing) {
      const named = other.node.beats.find(({ value }) => value === title.value);
      if (named !== undefined && other.node.title !== undefined) {
        report(reading, title.range, say.leftOutButBeaten(title.value, other.node.title.value), {
          related: [{ ...placeOf(other.reading, named.range), message: say.beatenHere(title.value) }],
        });
      }
    }
  }
  return leftOut;
}

/** `leftOutOf`: the book of one that is left out, which is another than one of the same title in its stead. */
function patternThing({ value }: tree.Text, leftOutOf?: Reading): Thing {
  return { kind: "pattern", name: value, ...(leftOutOf && { of: leftOutOf.path }) };
}

function unknownTitle(reading: Reading, title: tree.Text, known: Iterable<string>): void {
  const close = nearest(title.value, known);
  report(reading, title.range, say.unknownTitle(title.value, close), {
    fixes: spelling(reading, title.range, title.value, close, `"${close}"`),
  });
}

function pickName(scope: Scope, index: number): string {
  return (
    [...scope.subjects.values()].find((subject) => subject.kind !== "condition" && !subject.muted && subject.index === index)?.name ?? ""
  );
}
