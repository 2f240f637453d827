/** `npm run test:editors`: the built command in Neovim and Emacs as Debian has them. */
import { defineConfig } from "vitest/config";

export default defineConfig({ test: { include: ["test/editors/*.test.ts"], fileParallelism: false } });
