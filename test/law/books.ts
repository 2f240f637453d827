/**
 * Random small books as text.
 *
 *   dice (fast-check) ──▶ Plan (arrays of small numbers) ──▶ write(plan) ──▶ path → text
 *
 * A plan is nothing but arrays and numbers, and every number is read modulo what there is to choose from. So each plan makes a book
 * without errors of words, names or kinds, and shrinking a plan (shorter arrays, smaller numbers) shrinks the book.
 */
import * as fc from "fast-check";
import { conditions as conditionEntries, pickAtoms, picks as pickEntries, type ConditionEntry, type PickEntry } from "./catalog.js";

/** Texts by path, and the path to resolve. Failures print them as they are written. */
export interface Books {
  readonly root: string;
  readonly texts: Readonly<Record<string, string>>;
  readonly [fc.toStringMethod]: () => string;
}

/** Dials; each has a default. */
export interface Sizes {
  /** At most so many combinations of positions. */
  readonly points?: number;
  readonly conditions?: number;
  readonly picks?: number;
  readonly patterns?: number;
  /** Always with a `say nothing on everything`. */
  readonly closing?: boolean;
  /** Several books, one building on another. */
  readonly layered?: boolean;
  /** Continuous measures before other conditions. */
  readonly measures?: boolean;
}

/** Books that leave continuous measures at single values: one of them, several, or now this one and now that one. */
export function thinBooks(sizes: Sizes = {}): fc.Arbitrary<Books> {
  return fc.tuple(books({ ...sizes, measures: true }), die, die).map(([{ root, texts }, which, how]) => {
    const singles = [
      ...Object.values(texts)
        .join()
        .matchAll(/^condition (depth|flow|sun):/gm),
    ].map(([, name]) => `${name!} is not ${SINGLES[name!]!}`);
    const some = singles.filter((_, i) => (which >> i) % 2 === 0);
    const statements =
      how % 2 === 0 ? some.map((test) => `impossible when ${test}`) : some.length > 0 ? [`impossible when ${some.join(" and ")}`] : [];
    const thin = { ...texts, [root]: `${texts[root]!}${statements.map((statement) => `${statement}\n`).join("")}` };
    return { root, texts: thin, [fc.toStringMethod]: () => inFull(thin) };
  });
}
const SINGLES: Readonly<Record<string, string>> = { depth: "10 ft", flow: "1/2 ft/s", sun: "0 deg" };

export function books(sizes: Sizes = {}): fc.Arbitrary<Books> {
  return fc.noBias(plans(sizes)).map((plan) => write(plan, sizes));
}

type TestPlan =
  | { readonly kind: "atom"; readonly subject: number; readonly form: number }
  | { readonly kind: "and" | "or"; readonly parts: readonly TestPlan[] }
  | { readonly kind: "not"; readonly part: TestPlan };

interface ActionPlan {
  readonly kind: number;
  readonly pick: number;
  /** Read as options and as how they are joined. */
  readonly list: readonly { readonly option: number; readonly then: boolean }[];
  readonly by: number;
  readonly negative: boolean;
}

interface PatternPlan {
  readonly book: number;
  readonly actions: readonly ActionPlan[];
  readonly when: TestPlan | null;
  readonly beats: readonly number[];
}

interface Plan {
  readonly layout: number;
  readonly conditions: readonly number[];
  readonly situations: readonly TestPlan[];
  readonly impossible: readonly (readonly [TestPlan, TestPlan])[];
  readonly picks: readonly {
    readonly entry: number;
    readonly options: number;
    readonly onlyWhen: TestPlan | null;
    readonly words: boolean;
  }[];
  readonly patterns: readonly PatternPlan[];
  readonly trusts: readonly { readonly book: number; readonly pick: number | null; readonly order: readonly number[] }[];
  readonly fallBacks: readonly { readonly book: number; readonly action: ActionPlan }[];
  readonly silences: readonly { readonly book: number; readonly picks: readonly number[]; readonly when: TestPlan }[];
  readonly closing: { readonly book: number; readonly when: TestPlan } | null;
  readonly promises: readonly {
    readonly book: number;
    readonly form: number;
    readonly action: ActionPlan;
    readonly when: TestPlan | null;
  }[];
  readonly cautions: readonly TestPlan[];
  readonly leaveOut: number | null;
  readonly add: number | null;
}

// The dice ---------------------------------------------------------------------------------------------------------------

const die = fc.nat(997);

const atoms: fc.Arbitrary<TestPlan> = fc.record({ kind: fc.constant("atom" as const), subject: die, form: die });

const tests: fc.Arbitrary<TestPlan> = fc.letrec<{ test: TestPlan; atom: TestPlan }>((tie) => ({
  atom: atoms,
  test: fc.oneof(
    { maxDepth: 2, depthSize: "small" },
    { weight: 4, arbitrary: tie("atom") },
    {
      weight: 2,
      arbitrary: fc.record({
        kind: fc.constantFrom("and" as const, "or" as const),
        parts: fc.array(tie("test"), { minLength: 2, maxLength: 3 }),
      }),
    },
    { weight: 1, arbitrary: fc.record({ kind: fc.constant("not" as const), part: tie("test") }) },
  ),
})).test;

const actions: fc.Arbitrary<ActionPlan> = fc.record({
  kind: die,
  pick: die,
  list: fc.array(fc.record({ option: die, then: fc.boolean() }), { minLength: 1, maxLength: 6, size: "max" }),
  by: fc.nat(11),
  negative: fc.boolean(),
});

function plans({ conditions = 4, picks = 5, patterns = 11, closing = false, layered = true }: Sizes): fc.Arbitrary<Plan> {
  const maybe = <Value>(value: fc.Arbitrary<Value>, yes = 1, no = 1): fc.Arbitrary<Value | null> =>
    fc.oneof({ withCrossShrink: true }, { weight: no, arbitrary: fc.constant(null) }, { weight: yes, arbitrary: value });
  const few = <Value>(value: fc.Arbitrary<Value>, maxLength: number, minLength = 0): fc.Arbitrary<Value[]> =>
    fc.array(value, { minLength, maxLength, size: "max" });
  return fc.record({
    layout: layered ? fc.nat(5) : fc.constant(0),
    conditions: few(die, Math.max(2, conditions), 2),
    situations: few(tests, 2),
    impossible: few(fc.tuple(tests, tests), 1),
    picks: few(fc.record({ entry: die, options: die, onlyWhen: maybe(tests, 1, 4), words: fc.boolean() }), picks, 1),
    patterns: few(
      fc.record({
        book: die,
        actions: few(actions, 3, 1),
        when: maybe(tests, 4, 1),
        beats: fc.oneof({ withCrossShrink: true }, { weight: 2, arbitrary: fc.constant([]) }, { weight: 1, arbitrary: few(die, 2, 1) }),
      }),
      patterns,
    ),
    trusts: few(fc.record({ book: die, pick: maybe(die), order: few(die, 3, 1) }), 3),
    fallBacks: few(fc.record({ book: die, action: actions }), 3),
    silences: few(fc.record({ book: die, picks: few(die, 3, 1), when: fc.oneof(atoms, tests) }), 2),
    closing: maybe(fc.record({ book: die, when: tests }), 1, closing ? 0 : 3),
    promises: few(fc.record({ book: die, form: die, action: actions, when: maybe(tests) }), 3),
    cautions: few(tests, 1),
    leaveOut: maybe(die, 1, 3),
    add: maybe(die, 1, 3),
  });
}

// The writing ------------------------------------------------------------------------------------------------------------

/** How the books stand to each other: each lists what it builds on; the last is the root. */
type Layout = readonly (readonly [path: string, ...on: string[]])[];
const layouts: readonly Layout[] = [
  [["book.lore"]],
  [["book.lore"]],
  [["base.lore"], ["book.lore", "base.lore"]],
  [["base.lore"], ["lake.lore", "base.lore"], ["book.lore", "lake.lore"]],
  [["base.lore"], ["north.lore", "base.lore"], ["south.lore", "base.lore"], ["book.lore", "north.lore", "south.lore"]],
  [["north.lore"], ["south.lore"], ["book.lore", "north.lore", "south.lore"]],
];

interface WrittenPick {
  readonly entry: PickEntry;
  readonly options: readonly string[];
  readonly atoms: readonly string[];
}

interface PlannedPick extends WrittenPick {
  readonly onlyWhen: TestPlan | null;
}

/** What a test may speak of. */
interface Scope {
  readonly conditions: readonly ConditionEntry[];
  readonly picks: readonly WrittenPick[];
  readonly situations: readonly string[];
}

/** A plan being written: the statements of each book so far. */
interface Draft {
  readonly plan: Plan;
  readonly layout: Layout;
  readonly statements: readonly string[][];
}

function write(plan: Plan, { points = 1500, measures = false }: Sizes): Books {
  const layout = layouts[plan.layout % layouts.length]!;
  const draft: Draft = {
    plan,
    layout,
    statements: layout.map(([path, ...on]) => [`book "${path}"`, ...on.map((base) => `builds on "${base}"`)]),
  };
  const conditions = plannedConditions(plan, points, measures);
  const picks = plannedPicks(plan, conditions);
  const ground: Scope = {
    conditions,
    picks: [],
    situations: plan.situations.map((_, i) => (i === 0 ? "low-vision" : `low-vision-${i + 1}`)),
  };
  const scopeBefore = (pick: number): Scope => ({ ...ground, picks: picks.slice(0, pick) });

  const optionsIn = writeTakings(draft, picks);
  writeDeclarations(draft, ground, picks, scopeBefore);
  writePatterns(draft, picks, optionsIn, scopeBefore);
  writeTrusts(draft, conditions, picks);
  writeFallBacks(draft, picks, optionsIn);
  writeRest(draft, ground, picks, scopeBefore);

  const texts = Object.fromEntries(layout.map(([path], i) => [path, draft.statements[i]!.join("\n") + "\n"]));
  return { root: layout.at(-1)![0], texts, [fc.toStringMethod]: () => inFull(texts) };
}

function inFull(texts: Books["texts"]): string {
  return Object.entries(texts)
    .map(([path, text]) => `\n---- ${path}\n${text}`)
    .join("");
}

/** As many of the planned conditions as fit. */
function plannedConditions(plan: Plan, points: number, measures: boolean): readonly ConditionEntry[] {
  const conditions: ConditionEntry[] = [];
  for (const number of plan.conditions) {
    const size = conditions.reduce((product, condition) => product * condition.size, 1);
    const fitting = conditionEntries.filter(
      (entry) => !conditions.includes(entry) && (size * entry.size <= points || conditions.length === 0),
    );
    const first = measures && conditions.length < 2 ? fitting.filter(({ name }) => name in SINGLES) : [];
    const among = first.length > 0 ? first : fitting;
    if (among.length > 0) conditions.push(among[number % among.length]!);
  }
  return conditions;
}

/** At least one; a `same as` only where its condition is there. */
function plannedPicks(plan: Plan, conditions: readonly ConditionEntry[]): readonly PlannedPick[] {
  const picks: PlannedPick[] = [];
  for (const { entry: number, options: count, onlyWhen, words } of plan.picks) {
    const left = pickEntries.filter(
      ({ name, sameAs }) =>
        picks.every((pick) => pick.entry.name !== name) &&
        (sameAs === undefined || conditions.some((condition) => condition.name === sameAs)),
    );
    const entry = left[number % left.length]!;
    const options = entry.sameAs !== undefined ? entry.options : entry.options.slice(0, 2 + (count % (entry.options.length - 1)));
    const spoken = words || entry.sameAs !== undefined || entry.bySize === true ? entry : { ...entry, words: undefined };
    picks.push({ entry: spoken, options, atoms: pickAtoms(spoken, options), onlyWhen });
  }
  return picks;
}

/** `leave out` and `add`, in the root. Gives the options of a pick as a book may name them: the added one is known to the root alone. */
function writeTakings(
  { plan, layout, statements }: Draft,
  picks: readonly WrittenPick[],
): (book: number, pick: number) => readonly string[] {
  const root = layout.length - 1;
  const out = leftOut(plan, layout);
  if (out >= 0) statements[root]!.push(`leave out ${title(out)}`);
  const added =
    plan.add !== null && root > 0 ? picks.findIndex(({ entry }, i) => i >= plan.add! % picks.length && entry.extra !== undefined) : -1;
  if (added >= 0) statements[root]!.push(`add ${picks[added]!.entry.name} ${picks[added]!.entry.extra!}`);
  return (book, pick) => (book === root && pick === added ? [...picks[pick]!.options, picks[pick]!.entry.extra!] : picks[pick]!.options);
}

/** The pattern left out, −1 if none is: one of another book than the root. */
function leftOut(plan: Plan, layout: Layout): number {
  const out = plan.leaveOut !== null && plan.patterns.length > 0 ? plan.leaveOut % plan.patterns.length : -1;
  return out >= 0 && plan.patterns[out]!.book % layout.length !== layout.length - 1 ? out : -1;
}

function title(pattern: number): string {
  return `"Rule ${pattern + 1}"`;
}

type Before = (pick: number) => Scope;

function writeDeclarations({ plan, statements }: Draft, ground: Scope, picks: readonly PlannedPick[], before: Before): void {
  const declared = statements[0]!;
  declared.push(...ground.conditions.flatMap((condition) => condition.statements));
  plan.situations.forEach((test, i) => declared.push(`situation ${ground.situations[i]!}: ${testIn(test, { ...ground, situations: [] })}`));
  for (const [a, b] of plan.impossible)
    declared.push(`impossible when ${testIn({ kind: "and", parts: [a, b] }, ground)} because "never logged"`);
  picks.forEach(({ entry, options, onlyWhen }, i) => {
    const domain =
      entry.sameAs !== undefined
        ? `same as ${entry.sameAs}`
        : `${entry.ordered && entry.bySize !== true ? "in order " : ""}${options.join(", ")}`;
    const comparing =
      entry.words !== undefined && entry.sameAs === undefined && entry.bySize !== true
        ? `\n  rising is ${entry.words[0]}, falling is ${entry.words[1]}`
        : "";
    declared.push(
      `${entry.kind} ${entry.name}: ${domain}${comparing}${onlyWhen === null ? "" : `\n  only when ${testIn(onlyWhen, before(i))}`}`,
    );
  });
}

function writePatterns(
  { plan, layout, statements }: Draft,
  picks: readonly WrittenPick[],
  optionsIn: (book: number, pick: number) => readonly string[],
  before: Before,
): void {
  const out = leftOut(plan, layout);
  plan.patterns.forEach((pattern, i) => {
    const book = pattern.book % layout.length;
    const lines = actionsIn(pattern.actions, picks, (pick) => optionsIn(book, pick));
    const first = Math.min(...pattern.actions.map((action) => action.pick % picks.length));
    if (pattern.when !== null) lines.push(`when ${testIn(pattern.when, before(first))}`);
    const beats = distinct(pattern.beats.map((number) => number % plan.patterns.length)).filter((other) => other !== i && other !== out);
    if (beats.length > 0) lines.push(`beats ${beats.map(title).join(", ")}`);
    statements[book]!.push([`pattern ${title(i)}`, ...lines].join("\n  "));
  });
}

/** Says whether a book may have one more of something that counts once: once per book, and not in two books that are not ordered. */
function once(layout: Layout): (what: string, book: number) => boolean {
  const root = layout.length - 1;
  const unordered = (a: number, b: number): boolean =>
    a !== root && b !== root && !layout[a]!.includes(layout[b]![0]) && !layout[b]!.includes(layout[a]![0]);
  const taken = new Map<string, readonly number[]>();
  return (what, book) => {
    const at = taken.get(what) ?? [];
    if (at.some((other) => other === book || unordered(other, book))) return false;
    taken.set(what, [...at, book]);
    return true;
  };
}

function writeTrusts({ plan, layout, statements }: Draft, conditions: readonly ConditionEntry[], picks: readonly WrittenPick[]): void {
  const may = once(layout);
  const judgements = picks.filter(({ entry }) => entry.kind === "judgement").map(({ entry }) => entry.name);
  for (const { book: number, pick, order } of plan.trusts) {
    const book = number % layout.length;
    const name = pick === null ? undefined : picks[pick % picks.length]!.entry.name;
    const subjects = [...conditions.map((condition) => condition.name), ...judgements].filter((subject) => subject !== name);
    const listed = distinct(order.map((one) => subjects[one % subjects.length]!));
    const list = listed.map((subject, i) => (i === 0 ? `${subject} first` : `then ${subject}`)).join(", ");
    if (may(name ?? "", book)) statements[book]!.push(`trust ${name === undefined ? "" : `for ${name}: `}${list}`);
  }
}

function writeFallBacks(
  { plan, layout, statements }: Draft,
  picks: readonly WrittenPick[],
  optionsIn: (book: number, pick: number) => readonly string[],
): void {
  const may = once(layout);
  for (const { book: number, action } of plan.fallBacks) {
    const book = number % layout.length;
    const pick = action.pick % picks.length;
    const { name } = picks[pick]!.entry;
    if (may(name, book)) statements[book]!.push(`fall back on ${name} ${placesIn(action, optionsIn(book, pick))}`);
  }
}

function writeRest({ plan, layout, statements }: Draft, ground: Scope, picks: readonly WrittenPick[], before: Before): void {
  for (const { book, picks: numbers, when } of plan.silences) {
    const silent = distinct(numbers.map((number) => number % picks.length));
    statements[book % layout.length]!.push(
      `say nothing on ${silent.map((pick) => picks[pick]!.entry.name).join(", ")} when ${testIn(when, before(Math.min(...silent)))} because "closed"`,
    );
  }
  if (plan.closing !== null) {
    // Judgements before the first pick go by no pick.
    const first = picks.findIndex(({ entry }) => entry.kind === "pick");
    const scope = before(first < 0 ? picks.length : first);
    statements[plan.closing.book % layout.length]!.push(
      `say nothing on everything when ${testIn(plan.closing.when, scope)} because "Stay off."`,
    );
  }
  plan.cautions.forEach((test, i) => statements[0]!.push(`caution "Mind ${i + 1}" when ${testIn(test, ground)}\n  say "Take care."`));
  plan.promises.forEach(({ book, form, action, when }, i) => {
    const { entry, options } = picks[action.pick % picks.length]!;
    const named = distinct(action.list.map(({ option }) => options[option % options.length]!)).join(" or ");
    const must = [`must be ${named}`, `must not be ${named}`, "must have an answer", "must have no answer"][form % 4]!;
    statements[book % layout.length]!.push(
      `promise "Word ${i + 1}": ${entry.name} ${must}${when === null ? "" : ` when ${testIn(when, ground)}`}`,
    );
  });
}

function testIn(test: TestPlan, scope: Scope, inside = false): string {
  const bracket = (text: string): string => (inside ? `(${text})` : text);
  switch (test.kind) {
    case "atom": {
      // Picks come twice, or chains of them would be rare.
      const subjects = [...scope.conditions, ...scope.picks, ...scope.picks];
      const subject = test.subject % (subjects.length + scope.situations.length);
      if (subject >= subjects.length) return scope.situations[subject - subjects.length]!;
      const { atoms } = subjects[subject]!;
      return atoms[test.form % atoms.length]!;
    }
    case "not":
      return `not ${testIn(test.part, scope, true)}`;
    default:
      return bracket(test.parts.map((part) => testIn(part, scope, true)).join(` ${test.kind} `));
  }
}

/** At most one `go with`, `never` and `move` per pick, and each option leaned once. */
function actionsIn(plans: readonly ActionPlan[], picks: readonly WrittenPick[], optionsOf: (pick: number) => readonly string[]): string[] {
  const lines = new Map<string, string>();
  for (const plan of plans) {
    const pick = plan.pick % picks.length;
    const options = optionsOf(pick);
    const { name, ordered } = picks[pick]!.entry;
    const said = (key: string, line: string): void => void (lines.has(`${key} ${name}`) || lines.set(`${key} ${name}`, line));
    const chosen = distinct(plan.list.map(({ option }) => options[option % options.length]!));
    const kind = plan.kind % 10;
    if (kind <= 4) said("go with", `go with ${name} ${placesIn(plan, options)}`);
    else if (kind <= 6)
      said(
        "lean",
        `lean ${plan.negative ? "off" : "to"} ${name} ${chosen.slice(0, 2).join(", ")}${["", " by 2", " by 1/2", " by 0.5", " by 3", ""][plan.by % 6]!}`,
      );
    else if (kind === 7 && ordered) said("move", `move ${name} ${plan.negative ? "down" : "up"} ${1 + (plan.by % 2)}`);
    else {
      const words = picks[pick]!.entry.words;
      said(
        "never",
        `never ${name} ${words !== undefined && plan.by % 2 === 1 ? `${chosen[0]!} or ${words[plan.negative ? 1 : 0]}` : chosen.slice(0, 2).join(", ")}`,
      );
    }
  }
  return [...lines.values()];
}

function placesIn(plan: ActionPlan, options: readonly string[]): string {
  const seen = new Set<string>();
  let text = "";
  for (const { option, then } of plan.list) {
    const next = options[option % options.length]!;
    if (seen.has(next)) continue;
    text += (text === "" ? "" : then ? ", then " : " or ") + next;
    seen.add(next);
  }
  return text;
}

function distinct<Value>(values: readonly Value[]): Value[] {
  return [...new Set(values)];
}
