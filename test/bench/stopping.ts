/** How long a check under way goes on after Ctrl-C: the built command as a process of its own, from the signal to its end. */
import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { endlessBook } from "./books.js";

const program = fileURLToPath(new URL("../../dist/cli/waterlore.js", import.meta.url));

export async function stopping(line: (label: string, ...values: string[]) => void): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "waterlore-stopping-"));
  try {
    writeFileSync(join(folder, "endless.lore"), endlessBook());
    for (const watch of [[], ["--watch"]]) {
      const times: number[] = [];
      for (let i = 0; i < 5; i++) {
        const words = [program, "check", "endless.lore", "--steps", "100000000", "--no-cache", ...watch];
        const child = spawn(process.execPath, words, { cwd: folder, stdio: "ignore" });
        await setTimeout(2_000);
        if (child.exitCode !== null) throw new Error("The check was over before it was stopped.");
        const start = performance.now();
        child.kill("SIGINT");
        await once(child, "close");
        times.push(performance.now() - start);
      }
      line(["check", ...watch].join(" "), `${times.sort((a, b) => a - b)[2]!.toFixed(0)} ms`);
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
