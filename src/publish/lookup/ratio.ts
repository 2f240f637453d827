/**
 * Numbers as a table's JSON form writes them, exactly.
 *
 *     "61", "0.5", "1 1/2", "-4"      ──▶      61/1, 5/10, 3/2, -4/1
 */

/** An exact fraction, its denominator positive. */
export interface Ratio {
  readonly n: bigint;
  readonly d: bigint;
}

export function readRatio(text: string): Ratio | undefined {
  const [all, minus, whole, decimals, above, over, under] = /^(-)?(?:(\d+)(?:\.(\d+))?|(?:(\d+) )?(\d+)\/(\d+))$/.exec(text) ?? [];
  if (all === undefined || /^0+$/.test(under ?? "")) return undefined;
  const size =
    whole === undefined
      ? { n: BigInt(above ?? 0) * BigInt(under!) + BigInt(over!), d: BigInt(under!) }
      : { n: BigInt(whole + (decimals ?? "")), d: 10n ** BigInt(decimals?.length ?? 0) };
  return minus ? { n: -size.n, d: size.d } : size;
}

/** Negative: a is less. */
export function compare(a: Ratio, b: Ratio): number {
  const difference = a.n * b.d - b.n * a.d;
  return difference < 0n ? -1 : difference > 0n ? 1 : 0;
}

/** Counted from `low`, which is not above the value; halfway goes up. */
export function nearestStep(value: Ratio, low: Ratio, step: Ratio): Ratio {
  // (value − low) / step + 1/2, rounded down.
  const n = (value.n * low.d - low.n * value.d) * step.d * 2n + value.d * low.d * step.n;
  const steps = n / (value.d * low.d * step.n * 2n);
  return { n: low.n * step.d + steps * step.n * low.d, d: low.d * step.d };
}

/** n/d in lowest terms: "3/4", or "1". Neither is negative. */
export function ratioText(n: bigint, d: bigint): string {
  let [a, b] = [n, d];
  while (b > 0n) [a, b] = [b, a % b];
  return d === a ? String(n / a) : `${n / a}/${d / a}`;
}
