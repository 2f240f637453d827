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
import type { Z3_model } from "z3-solver";
import type { Term } from "./smt-terms.js";

export interface Question {
  readonly that: Term;
  /** Definitions for this question alone. */
  readonly definitions?: string;
  /** Whether it holds at a point found for an earlier question: then there is nothing to search. */
  holdsAt?(values: Values): boolean;
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
  const valuesIn = (model: Z3_model): Values => {
    const values = new Map<string, Fraction | boolean>();
    for (let i = 0; i < Z3.model_get_num_consts(context, model); i++) {
      const declared = Z3.model_get_const_decl(context, model, i);
      const value = Z3.model_get_const_interp(context, model, declared);
      // Definitions stand there too, as terms.
      if (value === null) continue;
      const truth: number = Z3.get_bool_value(context, value);
      const name = (): string => Z3.get_symbol_string(context, Z3.get_decl_name(context, declared));
      if (truth !== 0) values.set(name(), truth > 0);
      else if (Z3.is_numeral_ast(context, value)) values.set(name(), new Fraction(Z3.get_numeral_string(context, value)));
    }
    return values;
  };
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
        for (const [i, { that, holdsAt }] of questions.entries()) {
          if (that === "false") {
            replies.push("cannot hold");
            continue;
          }
          const known = holdsAt && replies.find((reply) => reply !== "cannot hold" && holdsAt(reply));
          if (known) {
            replies.push(known);
            continue;
          }
          const verdict: number = await Z3.solver_check_assumptions(context, about, [Z3.mk_const(context, Z3.mk_string_symbol(context, `ask.${i}`), bool)]);
          if (verdict === 0) throw new Error(`the solver does not know: ${Z3.solver_get_reason_unknown(context, about)}`);
          replies.push(verdict < 0 ? "cannot hold" : valuesIn(Z3.solver_get_model(context, about)));
        }
        return replies;
      } finally {
        Z3.solver_dec_ref(context, about);
      }
    },
    close: () => killThreads(em),
  };
}
