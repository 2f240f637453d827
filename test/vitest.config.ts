/** One worker per core of a small machine, and the same random books on every run; `LAW_SEED=…` tries others. */
import { defineConfig } from "vitest/config";

export default defineConfig({
  test: { maxWorkers: 2, setupFiles: ["test/seed.ts"], testTimeout: 120_000, hookTimeout: 120_000 },
});
