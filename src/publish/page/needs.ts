/** What the picture, the table, the wall chart and the counter card ask of the page they stand on. */
import type { Child } from "./element.js";
import type { Box } from "../../analysis/diagrams/diagram.js";
import type { Model } from "../../model/model.js";
import type { Table } from "../../table/compile.js";
import type { PictureSource } from "../picture.js";

export interface Needs {
  readonly model: Model;
  /** What is known, and in words: `saidValues`, a label each. */
  known(): Box;
  said(): readonly { readonly label: string; readonly value: string }[];
  /** Makes values known, as text by index of the condition. The page calls `update` of what is shown. */
  tell(values: ReadonlyMap<number, string>): void;
  /** Choices of the view itself, kept in the address. */
  chosen(key: string): string | undefined;
  choose(key: string, value: string | undefined): void;
  /** The address of this page with a choice of the view made. */
  address(key?: string, value?: string): string;
  /** Undefined: not decided. */
  source(pick: number): PictureSource | undefined;
  table(pick: number): Table | undefined;
  /** Why a pick has its answer for what is known. */
  why(pick: number): Node;
  /** What closes everything for what is known, or may: on top of whatever is shown. */
  closed(): readonly string[];
  /** What closes everything, wherever it does: on top of what does not go by what is known. */
  closedAnywhere(): readonly string[];
  /** Whether nothing that agrees with what is known is open to a pick: then there is nothing to show of it. */
  shut(pick: number): boolean;
  /** Where nothing is said on a pick, and why. */
  silences(pick: number): readonly string[];
  /** Cautions for what is known; `sure` false: it may apply. */
  /** The same, a line for each, to be opened. */
  mind(): Child;
  cautions(): readonly { readonly title: string; readonly text: string; readonly sure: boolean }[];
  /** The address as a QR code. */
  code(): Element | undefined;
  /** Today, `2027-04-15`. */
  readonly today: string;
  readonly draft: boolean;
}

export interface Shown {
  readonly element: HTMLElement;
  /** What is known has changed. */
  update(): void;
}
