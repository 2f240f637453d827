/**
 * The Z3 theorem prover (de Moura and Bjørner 2008; npm `z3-solver`), spoken to in SMT-LIB 2 text, so that any other solver could take
 * its place.
 *
 *     declarations, definitions, assertions       ──▶   one solver per book
 *     (assert (=> ask.0 …)) (assert (=> ask.1 …)) …     and each question asked by itself, by assuming its name
 *
 * One context serves a whole test file. Only calls that return at once are given text: the others read it in another thread, when it
 * may be gone.
 */
import { createRequire } from "node:module";
import { Fraction } from "fraction.js";
import type { Term } from "./smt-terms.js";

export interface Question {
  readonly that: Term;
  /** Definitions for this question alone. */
  readonly definitions?: string;
}

/** A point where it holds: values of all that was declared; what is missing there does not matter. */
export type Values = ReadonlyMap<string, Fraction | boolean>;
export type Reply = Values | "cannot hold";

export interface Solver {
  /** What the declarations allow: one reply per question, each asked by itself. */
  ask(declarations: string, questions: readonly Question[]): Promise<readonly Reply[]>;
  close(): Promise<void>;
}

export async function solver(): Promise<Solver> {
  const { init, killThreads } = createRequire(import.meta.url)("z3-solver") as typeof import("z3-solver");
  const { Z3, em } = await init();
  const context = Z3.mk_context(Z3.mk_config());
  const bool = Z3.mk_bool_sort(context);
  return {
    async ask(declarations, questions) {
      const script = questions.map(({ definitions = "", that }, i) => `${definitions}\n(declare-const ask.${i} Bool)\n(assert (=> ask.${i} ${that}))`);
      const about = Z3.mk_solver(context);
      Z3.solver_inc_ref(context, about);
      try {
        Z3.solver_from_string(context, about, [declarations, ...script].join("\n"));
        const problem = Z3.get_error_code(context);
        if (problem !== 0) throw new Error(`the solver does not understand: ${Z3.get_error_msg(context, problem)}`);
        const replies: Reply[] = [];
        for (let i = 0; i < questions.length; i++) {
          const verdict: number = await Z3.solver_check_assumptions(context, about, [Z3.mk_const(context, Z3.mk_string_symbol(context, `ask.${i}`), bool)]);
          if (verdict === 0) throw new Error(`the solver does not know: ${Z3.solver_get_reason_unknown(context, about)}`);
          replies.push(verdict < 0 ? "cannot hold" : valuesIn(Z3.model_to_string(context, Z3.solver_get_model(context, about))));
        }
        return replies;
      } finally {
        Z3.solver_dec_ref(context, about);
      }
    },
    close: () => killThreads(em),
  };
}

/** `depth -> (/ 7.0 2.0)`, a line each. */
function valuesIn(model: string): Values {
  const values = new Map<string, Fraction | boolean>();
  for (const [, name, value] of model.matchAll(/^(\S+) -> (true|false|[-(\d][^\n]*)$/gm)) {
    const number = /^(\(- )?(?:\(\/ (\d+)\.0 (\d+)\.0\)|(\d+)(?:\.0)?)\)?$/.exec(value!);
    if (value === "true" || value === "false") values.set(name!, value === "true");
    else if (number !== null) values.set(name!, (number[4] === undefined ? new Fraction(`${number[2]!}/${number[3]!}`) : new Fraction(number[4])).mul(number[1] === undefined ? 1 : -1));
  }
  return values;
}
