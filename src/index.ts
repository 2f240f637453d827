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
export { resolve } from "./model/resolve.js";
export type { Read } from "./model/books.js";
export { analyse, type Analysis } from "./analysis/analyse.js";
export { compile, type Table } from "./table/compile.js";

// What a caller meets on the way.
export type { Code, Edit, Example, Finding, Fix, Place, Related, Severity } from "./diagnostics.js";
export type { Model } from "./model/model.js";
export type { Coverage } from "./analysis/analyse.js";
export type { Outcome, Point, Status } from "./analysis/outcome.js";
export { answersAt } from "./analysis/point.js";
export { tableJson } from "./render/json.js";
export { lookup } from "./publish/lookup/lookup.js";
export { lineMap, type Position, type Range } from "./text.js";
