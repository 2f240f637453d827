/** What a pick says at one point. Every possible point of every pick has exactly one status. */
import type { Places } from "../model/model.js";

export const statuses = ["decided", "toss-up", "fallback", "no advice", "not applicable", "gap", "conflict", "waiting"] as const;
export type Status = (typeof statuses)[number];

export interface Outcome {
  readonly status: Status;
  /** Option indexes by place; empty unless decided, toss-up or fallback. */
  readonly places: Places;
}

/** One position per axis of the model. */
export type Point = readonly number[];
