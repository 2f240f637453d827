/** Terms of SMT-LIB 2, an open standard (smt-lib.org), as text: just enough for the books, with what is plainly true or false folded away. */
import type { Fraction } from "fraction.js";

export type Term = string;

export const yes: Term = "true";
export const no: Term = "false";

export function and(...parts: readonly Term[]): Term {
  const left = [...new Set(parts)].filter((part) => part !== yes);
  return left.includes(no) ? no : left.length === 0 ? yes : left.length === 1 ? left[0]! : `(and ${left.join(" ")})`;
}

export function or(...parts: readonly Term[]): Term {
  const left = [...new Set(parts)].filter((part) => part !== no);
  return left.includes(yes) ? yes : left.length === 0 ? no : left.length === 1 ? left[0]! : `(or ${left.join(" ")})`;
}

export function not(part: Term): Term {
  return part === yes ? no : part === no ? yes : `(not ${part})`;
}

export function implies(a: Term, b: Term): Term {
  return or(not(a), b);
}

export function ite(test: Term, then: Term, otherwise: Term): Term {
  return test === yes ? then : test === no ? otherwise : `(ite ${test} ${then} ${otherwise})`;
}

export function sum(parts: readonly Term[], zero: Term): Term {
  return parts.length === 0 ? zero : parts.length === 1 ? parts[0]! : `(+ ${parts.join(" ")})`;
}

export function int(value: number): Term {
  return value < 0 ? `(- ${-value})` : String(value);
}

/** Exactly. */
export function real(value: Fraction): Term {
  const size = value.abs();
  const term = size.d === 1n ? `${size.n}.0` : `(/ ${size.n}.0 ${size.d}.0)`;
  return value.compare(0) < 0 ? `(- ${term})` : term;
}
