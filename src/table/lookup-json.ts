/**
 * Finds the row of a point in a table's JSON form, with nothing but that form: for a published page, or for another program to copy.
 *
 *     { "clarity": "muddy", "cover": ["grass"], "water-temp": "61 °F" }   ──▶   the row whose `when` holds of it, or why there is none
 *
 * Every condition that some row names must have a value: levels and members as the table lists them, measures in the condition's own
 * unit (a number, or text with or without the unit), days as `apr 15`, times as `05:30`. Numbers are compared exactly, as fractions.
 */

/** The parts of a table's JSON form that are read here. */
export interface LookupTable<R extends LookupRow = LookupRow> {
  readonly conditions: readonly LookupCondition[];
  readonly rows: readonly R[];
  readonly impossible?: readonly { readonly because?: string; readonly when: readonly LookupWhen[] }[];
}
export interface LookupCondition {
  readonly name: string;
  readonly kind: "scale" | "set" | "measure" | "days" | "times";
  readonly levels?: readonly string[];
  readonly members?: readonly string[];
  readonly atLeastOne?: boolean;
  readonly low?: string;
  readonly high?: string;
  readonly step?: string;
  readonly unit?: string;
}
export interface LookupRow {
  readonly when: LookupWhen;
}
type LookupWhen = Readonly<Record<string, unknown>>;
export type LookupPoint = Readonly<Record<string, string | number | readonly string[]>>;

/** What is wrong with a point: a condition without a value, one with a value it cannot have, or a point that cannot occur. */
export type LookupProblem =
  | { readonly problem: "missing" | "not accepted"; readonly condition: string }
  | { readonly problem: "impossible"; readonly because?: string };

export function rowOf<R extends LookupRow>(table: LookupTable<R>, point: LookupPoint): { readonly row: R } | LookupProblem {
  const values = new Map<string, Value>();
  const needed = new Set(
    [...table.rows.map(({ when }) => when), ...(table.impossible ?? []).flatMap(({ when }) => when)].flatMap((when) => Object.keys(when)),
  );
  for (const condition of table.conditions) {
    const given = Object.hasOwn(point, condition.name) ? point[condition.name] : undefined;
    if (given === undefined) {
      if (needed.has(condition.name)) return { problem: "missing", condition: condition.name };
      continue;
    }
    const value = valueOf(condition, given);
    if (value === undefined) return { problem: "not accepted", condition: condition.name };
    values.set(condition.name, value);
  }
  const holdsHere = (when: LookupWhen): boolean =>
    table.conditions.every(
      (condition) => !Object.hasOwn(when, condition.name) || allows(condition, when[condition.name], values.get(condition.name)!),
    );
  const impossible = table.impossible?.find(({ when }) => when.some(holdsHere));
  if (impossible) return { problem: "impossible", because: impossible.because };
  const row = table.rows.find(({ when }) => holdsHere(when));
  return row ? { row } : { problem: "impossible" };
}

/** A level, the members present, or a number. */
export type Value = string | readonly string[] | Ratio;
/** An exact fraction, its denominator positive. */
export interface Ratio {
  readonly n: bigint;
  readonly d: bigint;
}

/** What is given, read; undefined if the condition cannot have it. */
export function valueOf(condition: LookupCondition, given: string | number | readonly string[]): Value | undefined {
  if (condition.kind === "set") {
    const members =
      typeof given === "object"
        ? given
        : String(given) === "none"
          ? []
          : String(given)
              .split(/[;,]/)
              .map((member) => member.trim());
    const known = members.every((member) => condition.members!.includes(member));
    return known && !(condition.atLeastOne && members.length === 0) ? members : undefined;
  }
  if (typeof given === "object") return undefined;
  const text = String(given).trim();
  if (condition.kind === "scale") return condition.levels!.includes(text) ? text : undefined;
  const number = numberOf(condition, text);
  if (!number || condition.kind !== "measure") return number;
  const [low, high] = [numberOf(condition, condition.low!)!, numberOf(condition, condition.high!)!];
  if (compare(number, low) < 0 || compare(number, high) > 0) return undefined;
  const step = condition.step === undefined ? undefined : numberOf(condition, condition.step);
  return step ? nearestStep(number, low, step) : number;
}

function allows(condition: LookupCondition, allowed: unknown, value: Value): boolean {
  if (condition.kind === "scale") return (allowed as readonly string[]).includes(value as string);
  if (condition.kind === "set") {
    const { has = [], no = [] } = allowed as { has?: readonly string[]; no?: readonly string[] };
    const members = value as readonly string[];
    return has.every((member) => members.includes(member)) && !no.some((member) => members.includes(member));
  }
  const stretches = (Array.isArray(allowed) ? allowed : [allowed]) as readonly Readonly<Record<string, string>>[];
  return stretches.some(({ from, above, to, below }) => {
    const side = (text: string | undefined): number | undefined =>
      text === undefined ? undefined : compare(value as Ratio, numberOf(condition, text)!);
    const [fromSide, toSide] = [side(from), side(to)];
    const round = condition.kind !== "measure" && compare(numberOf(condition, from!)!, numberOf(condition, to!)!) > 0;
    if (round) return fromSide! >= 0 || toSide! <= 0;
    return (fromSide ?? 0) >= 0 && (toSide ?? 0) <= 0 && (side(above) ?? 1) > 0 && (side(below) ?? -1) < 0;
  });
}

const months = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

/** Days as month × 100 + day, months counted from 0, times as minutes, measures without their unit. */
export function numberOf(condition: LookupCondition, text: string): Ratio | undefined {
  if (condition.kind === "days") {
    const [, month, day] = /^([a-z]{3}) (\d{1,2})$/.exec(text) ?? [];
    const at = months.indexOf(month ?? "");
    return at < 0 ? undefined : { n: BigInt(at * 100 + Number(day)), d: 1n };
  }
  if (condition.kind === "times") {
    const [, hours, minutes] = /^(\d{1,2}):(\d{2})$/.exec(text) ?? [];
    return hours === undefined ? undefined : { n: BigInt(Number(hours) * 60 + Number(minutes)), d: 1n };
  }
  const bare = condition.unit !== undefined && text.endsWith(condition.unit) ? text.slice(0, -condition.unit.length).trim() : text;
  const [all, minus, whole, decimals, above, over, under] = /^(-)?(?:(\d+)(?:\.(\d+))?|(?:(\d+) )?(\d+)\/(\d+))$/.exec(bare) ?? [];
  if (all === undefined || under === "0") return undefined;
  const size =
    whole === undefined
      ? { n: BigInt(above ?? 0) * BigInt(under!) + BigInt(over!), d: BigInt(under!) }
      : { n: BigInt(whole + (decimals ?? "")), d: 10n ** BigInt(decimals?.length ?? 0) };
  return minus ? { n: -size.n, d: size.d } : size;
}

/** Counted from `low`; halfway goes up. */
function nearestStep(value: Ratio, low: Ratio, step: Ratio): Ratio {
  // (value − low) / step + 1/2, rounded down: everything here is at or above low.
  const n = (value.n * low.d - low.n * value.d) * step.d * 2n + value.d * low.d * step.n;
  const steps = n / (value.d * low.d * step.n * 2n);
  return { n: low.n * step.d + steps * step.n * low.d, d: low.d * step.d };
}

export function compare(a: Ratio, b: Ratio): number {
  const difference = a.n * b.d - b.n * a.d;
  return difference < 0n ? -1 : difference > 0n ? 1 : 0;
}
