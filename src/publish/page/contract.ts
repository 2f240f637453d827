/**
 * What the shell of a published page and its views agree on.
 *
 *     packed book ──unpack──▶ PageBook ─┐
 *     address  ◀──────▶  State         ─┴─▶ Needs (needs.ts) ──▶ each View makes what it shows, once; `update` when something has changed
 */
import type { Answers } from "../../analysis/answers.js";
import type { Model } from "../../model/model.js";
import type { Facts } from "../facts.js";
import type { Needs, Shown } from "./needs.js";

export type { Facts, Needs, Shown };

export interface PageBook {
  readonly model: Model;
  /** Worked out when first asked for. */
  readonly answers: () => Answers;
  readonly facts: Facts;
}

export interface State {
  /** By name of the condition, as `readGiven` takes it. What is not named is unknown. */
  readonly values: ReadonlyMap<string, string>;
  /** `date`, `time`, `zone`, `lat`, `lon`, `units`, `view` and the choices of views. */
  readonly choices: ReadonlyMap<string, string>;
}

export interface View {
  readonly id: string;
  readonly title: string;
  make(needs: Needs): Shown;
}
