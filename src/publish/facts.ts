import type { BookFacts } from "../model/model.js";

/** What is printed on every page. */
export interface Facts extends BookFacts {
  /** The day it was published for. */
  readonly on: string;
  readonly draft: boolean;
  /** Where the site will stand, if that is known; links and codes go there. */
  readonly address?: string;
  /** Files for other programs, from the page. */
  readonly data?: readonly string[];
}
