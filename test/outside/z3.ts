/**
 * The Z3 theorem prover (de Moura and Bjørner 2008; npm `z3-solver`), spoken to in SMT-LIB 2 text, so that any other solver could take
 * its place.
 *
 *     declarations, definitions, assertions             ──▶   one solver per book
 *     (assert (=> ask.0 …)) (assert (=> ask.1 …)) …     and each question asked by itself, by assuming its name
 *
 * One context serves a whole test file. A question is put in this thread: a thread for each, as the package would have it, costs more
 * than most answers.
 */
import { createRequire } from "node:module";
import { Fraction } from "fraction.js";
import type { Z3_context, Z3_func_decl, Z3_model, Z3_solver } from "z3-solver";
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
  ask(declarations: string, questions: readonly Question[]): readonly Reply[];
  close(): Promise<void>;
}

/** The compiled library beneath the package's own calls. */
interface Library {
  ccall(
    name: "Z3_solver_check_assumptions",
    gives: "number",
    takes: readonly ["number", "number", "number", "array"],
    given: readonly [Z3_context, Z3_solver, number, Uint8Array],
  ): number;
}

/** Steps of the solver's own count that one question may take; most take some hundreds. */
const MOST_STEPS = 3_000_000;

export async function solver(): Promise<Solver> {
  const { init, killThreads } = createRequire(import.meta.url)("z3-solver") as typeof import("z3-solver");
  const { Z3, em } = await init();
  const library = em as Library;
  const config = Z3.mk_config();
  Z3.set_param_value(config, "rlimit", String(MOST_STEPS));
  const context = Z3.mk_context(config);
  const bool = Z3.mk_bool_sort(context);

  /** Reads the values of what is declared, and passes over definitions and questions, of which a model has far more. */
  const readerOf = (declarations: string): ((model: Z3_model) => Values) => {
    const declared = new Set([...declarations.matchAll(/\(declare-const (\S+)/g)].map(([, name]) => name!));
    const names = new Map<Z3_func_decl, string>();
    const nameOf = (one: Z3_func_decl): string => {
      let name = names.get(one);
      if (name === undefined) names.set(one, (name = Z3.get_symbol_string(context, Z3.get_decl_name(context, one))));
      return name;
    };
    return (model) => {
      const values = new Map<string, Fraction | boolean>();
      for (let i = 0; i < Z3.model_get_num_consts(context, model); i++) {
        const one = Z3.model_get_const_decl(context, model, i);
        const name = nameOf(one);
        if (!declared.has(name)) continue;
        const value = Z3.model_get_const_interp(context, model, one);
        if (value === null) continue;
        const truth: number = Z3.get_bool_value(context, value);
        values.set(name, truth === 0 ? new Fraction(Z3.get_numeral_string(context, value)) : truth > 0);
      }
      return values;
    };
  };

  const canHold = (about: Z3_solver, name: string): boolean => {
    const assumed = Z3.mk_const(context, Z3.mk_string_symbol(context, name), bool);
    const verdict = library.ccall(
      "Z3_solver_check_assumptions",
      "number",
      ["number", "number", "number", "array"],
      [context, about, 1, new Uint8Array(Uint32Array.of(Number(assumed)).buffer)],
    );
    if (verdict === 0) throw new Error(`the solver does not know: ${Z3.solver_get_reason_unknown(context, about)}`);
    return verdict > 0;
  };

  return {
    ask(declarations, questions) {
      const script = questions.map(
        ({ definitions = "", that }, i) => `${definitions}\n(declare-const ask.${i} Bool)\n(assert (=> ask.${i} ${that}))`,
      );
      const valuesIn = readerOf(declarations);
      const about = Z3.mk_solver(context);
      Z3.solver_inc_ref(context, about);
      try {
        Z3.solver_from_string(context, about, [declarations, ...script].join("\n"));
        const problem = Z3.get_error_code(context);
        if (problem !== 0) throw new Error(`the solver does not understand: ${Z3.get_error_msg(context, problem)}`);
        const replies: Reply[] = [];
        for (const [i, { that, holdsAt }] of questions.entries()) {
          const known = holdsAt && replies.find((reply) => reply !== "cannot hold" && holdsAt(reply));
          replies.push(
            known ?? (that !== "false" && canHold(about, `ask.${i}`) ? valuesIn(Z3.solver_get_model(context, about)) : "cannot hold"),
          );
        }
        return replies;
      } finally {
        Z3.solver_dec_ref(context, about);
      }
    },
    close: () => killThreads(em),
  };
}
