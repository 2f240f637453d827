/**
 * What a test file is for stands in its name, or in that of its folder:
 *
 *     law        test/law/, *.law.test.ts        random books against brute force or the oracle, and damage of all kinds
 *     outside    test/outside/                   published values, a solver and a minimizer against the engine
 *     process    *.process.test.ts               the program in a process of its own, built when they start
 *     browser    *.browser.test.ts               pages in Chromium
 *     unit       every other                     quick: `npm run test:fast`
 *
 * The units share the modules they import, which halves their time.
 *
 * One worker per core of a small machine, and the same random books on every run; `LAW_SEED=…` tries others. Real editors are fetched or
 * installed first, so they have commands of their own: `npm run test:vscode`, `npm run test:editors`.
 */
import { configDefaults, defineConfig } from "vitest/config";

const kinds = ["law", "outside", "process", "browser"];
const filesOf = (kind: string): string[] => [`test/${kind}/**/*.test.ts`, `test/**/*.${kind}.test.ts`];
const exclude = [...configDefaults.exclude, "test/vscode/{desk,folder,hour,web,writing}.test.ts", "test/editors/**"];

export default defineConfig({
  test: {
    maxWorkers: 2,
    setupFiles: ["test/seed.ts"],
    testTimeout: 120_000,
    hookTimeout: 120_000,
    projects: [
      {
        extends: true,
        test: { name: "unit", include: ["test/**/*.test.ts"], exclude: [...exclude, ...kinds.flatMap(filesOf)], isolate: false },
      },
      ...kinds.map((kind) => ({
        extends: true as const,
        test: { name: kind, include: filesOf(kind), exclude, globalSetup: kind === "process" ? ["test/built.ts"] : [] },
      })),
    ],
  },
});
