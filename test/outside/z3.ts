/**
 * The Z3 theorem prover (de Moura and Bjørner 2008; npm `z3-solver`), spoken to in SMT-LIB 2 text, so that any other solver could
 * take its place.
 *
 *     declarations, definitions, assertions ──▶ one script per call:   (push) (assert …) (check-sat) (get-value …) (pop)   for each question
 *
 * One context serves a whole test file; each `ask` starts from nothing.
 */
import { createRequire } from "node:module";
import { Fraction } from "fraction.js";
import type { Term } from "./smt-terms.js";

export interface Question {
  /** Definitions for this question alone. */
  readonly definitions?: string;
  readonly that: Term;
  /** Names whose values are wanted where it can hold. */
  readonly values?: readonly string[];
}
export type Values = ReadonlyMap<string, Fraction | boolean>;
/** Where it can hold: the values asked for. */
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
  return {
    async ask(declarations, questions) {
      const asked = questions.map(({ definitions = "", that, values = [] }) => `(push)\n${definitions}\n(assert ${that})\n(check-sat)\n${values.length > 0 ? `(get-value (${values.join(" ")}))\n` : ""}(echo "next")\n(pop)`);
      const said = await Z3.eval_smtlib2_string(context, `(reset)\n${declarations}\n(echo "next")\n${asked.join("\n")}\n`);
      const [before, ...replies] = said.split(/^next\r?\n?/m);
      if (before!.trim() !== "" || replies.length !== questions.length + 1) throw new Error(`the solver says: ${said.slice(0, 2000)}`);
      return questions.map(({ values = [] }, i) => replyIn(replies[i]!, values));
    },
    close: () => killThreads(em),
  };
}

function replyIn(text: string, wanted: readonly string[]): Reply {
  const [verdict, ...rest] = text.split("\n");
  if (verdict === "unsat") return "cannot hold";
  if (verdict !== "sat") throw new Error(`the solver says: ${text.slice(0, 2000)}`);
  const values = new Map<string, Fraction | boolean>();
  if (wanted.length > 0) for (const pair of parsed(rest.join("\n"))) values.set(String(pair[0]), valueOf(pair[1]!));
  return values;
}

type Expression = string | readonly Expression[];

/** `((x (/ 7.0 2.0)) (a true))`. */
function parsed(text: string): readonly (readonly Expression[])[] {
  const tokens = text.match(/[()]|[^\s()]+/g) ?? [];
  let at = 0;
  const read = (): Expression => {
    const token = tokens[at++]!;
    if (token !== "(") return token;
    const list: Expression[] = [];
    while (tokens[at] !== ")") list.push(read());
    at++;
    return list;
  };
  return read() as readonly (readonly Expression[])[];
}

function valueOf(expression: Expression): Fraction | boolean {
  if (typeof expression === "string") return expression === "true" ? true : expression === "false" ? false : new Fraction(expression);
  const [operator, ...parts] = expression;
  const [first, second] = parts.map((part) => valueOf(part) as Fraction);
  if (operator === "-" && second === undefined) return first!.neg();
  if (operator === "/") return first!.div(second!);
  throw new Error(`not a value: ${JSON.stringify(expression)}`);
}
