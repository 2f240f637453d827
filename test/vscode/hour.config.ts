/** `npm run test:hour`: an hour of writing in a real VS Code, in some ten minutes. */
import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["test/vscode/hour.test.ts"],
    testTimeout: 120_000,
    hookTimeout: 600_000,
    bail: 1,
    expect: { poll: { timeout: 20_000 } },
  },
});
