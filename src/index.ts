/**
 * Waterlore, the library. The whole program on one page:
 *
 *   text ──parse──▶ tree ──resolve──▶ model ──analyse──▶ findings and answers ──compile──▶ table
 *
 * Every stage returns its value and its findings; none throws on a bad book. Nothing here touches files, Node or the DOM: the
 * caller hands in `read`.
 */
export { parse, type Parsed } from "./syntax/parse.js";
export { format } from "./syntax/print.js";
export { resolve, type Read } from "./model/resolve.js";
export { analyse, type Analysis } from "./analysis/analyse.js";
export { compile, type Table } from "./table/compile.js";
