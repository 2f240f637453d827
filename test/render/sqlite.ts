/** SQLite in WebAssembly (sql.js), which comes without types: as much of it as the tests use. */
import { createRequire } from "node:module";

export type SqlValue = string | number | null;
interface Statement {
  run(values: readonly SqlValue[]): void;
  step(): boolean;
  get(): SqlValue[];
  free(): void;
}
export interface Sqlite {
  run(sql: string, values?: readonly SqlValue[]): void;
  exec(sql: string): { readonly columns: readonly string[]; readonly values: readonly (readonly SqlValue[])[] }[];
  prepare(sql: string): Statement;
  close(): void;
}

/** A new database in memory. */
export async function openSqlite(): Promise<Sqlite> {
  const start = createRequire(import.meta.url)("sql.js") as () => Promise<{ readonly Database: new () => Sqlite }>;
  return new (await start()).Database();
}
