/** The baseline: whether two patterns can both hold, asked of z3 pair by pair (the z3-solver package from the npm registry). */
import { init, type Bool } from "z3-solver";
import type { Model, Test } from "../../src/model/model.js";

/** Milliseconds for all pairs of go withs on one pick, without the solver's start. */
export async function solverTime(model: Model): Promise<{ readonly pairs: number; readonly time: number }> {
  const { Context } = await init();
  const z3 = Context("bench");
  const solver = new z3.Solver();
  const axes = model.axes.map(({ index, size }) => {
    const axis = z3.Int.const(`a${index}`);
    solver.add(axis.ge(0), axis.lt(size));
    return axis;
  });
  const formula = (test: Test | undefined): Bool<"bench"> => {
    if (!test) return z3.Bool.val(true);
    switch (test.kind) {
      case "axis": {
        const runs = [];
        for (let i = 0; i < test.span.length; i += 2)
          runs.push(z3.And(axes[test.axis]!.ge(test.span[i]!), axes[test.axis]!.le(test.span[i + 1]!)));
        return z3.Or(...runs);
      }
      case "not":
        return z3.Not(formula(test.part));
      case "and":
        return z3.And(...test.parts.map(formula));
      case "or":
        return z3.Or(...test.parts.map(formula));
      default:
        throw new Error(`the books of the bench have no ${test.kind}`);
    }
  };
  const whens = model.patterns.map(({ when }) => formula(when));
  const start = performance.now();
  let pairs = 0;
  for (let a = 0; a < whens.length; a++)
    for (let b = a + 1; b < whens.length; b++) {
      pairs++;
      solver.push();
      solver.add(whens[a]!, whens[b]!);
      await solver.check();
      solver.pop();
    }
  return { pairs, time: performance.now() - start };
}
