/** `npm run test:vscode`: a real VS Code in a real browser. It is fetched once, some 330 MB, so it is no part of `npm test`. */
import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["test/vscode/{desk,folder,web,writing}.test.ts"],
    // Two windows at once would be two slow ones.
    fileParallelism: false,
    testTimeout: 120_000,
    hookTimeout: 600_000,
    retry: 1,
    expect: { poll: { timeout: 20_000 } },
  },
});
