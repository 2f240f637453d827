/**
 * Weights where all that is possible has some continuous measure at a single value, so that by length alone it weighs nothing.
 *
 *     only 32 °F is possible, depth anywhere      32 °F counts as much as the whole range of its measure, depth counts by length
 *     depth is 10 ft, or it is 32 °F              two lines that count alike, each by the length of the other measure
 *
 * A weight is a polynomial in a number larger than any of its coefficients, one power for every measure that counts by length; the highest
 * power there is counts, and whatever has a measure more at a single value is nothing beside it.
 */
import type { Model } from "../model/model.js";
import { count } from "../model/span.js";
import type { Variables } from "./diagrams/diagram.js";

export interface Singles {
  readonly variables: Variables;
  /** Weights by these variables, as they are to be compared. */
  leading<L>(weights: ReadonlyMap<L, bigint>): ReadonlyMap<L, bigint>;
}

export function singles({ axes }: Pick<Model, "axes">, variables: Variables): Singles {
  const ranges = axes.map(({ weights }) => weights?.reduce((sum, weight) => sum + weight) || 1n);
  const most = axes.reduce((product, { size, weights }, at) => product * (weights ? ranges[at]! * BigInt(size + 1) : BigInt(size)), 2n);
  return {
    variables: {
      size: variables.size,
      weight(variable, span) {
        const { weights } = axes[variable]!;
        if (!weights) return BigInt(count(span));
        let alone = 0n;
        for (let i = 0; i < span.length; i += 2)
          for (let at = span[i]!; at <= span[i + 1]!; at++) if (weights[at] === 0n) alone += ranges[variable]!;
        return variables.weight(variable, span) * most + alone;
      },
    },
    leading(weights) {
      const total = [...weights.values()].reduce((sum, weight) => sum + weight, 0n);
      let power = 1n;
      while (power * most <= total) power *= most;
      return new Map([...weights].map(([leaf, weight]) => [leaf, weight / power]));
    },
  };
}
