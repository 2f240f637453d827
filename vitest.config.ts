/** One worker per core of a small machine, and the same random books on every run; `LAW_SEED=…` tries others. Tests in real editors are `npm run test:vscode` and `npm run test:editors`. */
import { configDefaults, defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    exclude: [...configDefaults.exclude, "test/vscode/{desk,writing}.test.ts", "test/editors/**"],
    maxWorkers: 2,
    setupFiles: ["test/seed.ts"],
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
