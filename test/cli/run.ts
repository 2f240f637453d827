/** Runs the built command line as a user does: a process of its own, in a folder of its own. */
import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { onTestFinished, vi } from "vitest";
import { root } from "../root.js";

export const program = join(root, "dist/cli/waterlore.js");

// A start of Node takes its time where other tests keep both cores busy.
vi.setConfig({ testTimeout: 60_000 });

export interface Ran {
  readonly exit: number | null;
  readonly out: string;
  readonly err: string;
}

/** A new folder with these files; it goes when the test ends. */
export function folder(files: Readonly<Record<string, string | Uint8Array>> = {}): string {
  const path = mkdtempSync(join(tmpdir(), "waterlore-cli-"));
  onTestFinished(() => rmSync(path, { recursive: true, force: true }));
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(dirname(join(path, name)), { recursive: true });
    writeFileSync(join(path, name), text);
  }
  return path;
}

export interface HowToRun {
  readonly stdin?: string | Uint8Array;
  readonly env?: Readonly<Record<string, string>>;
}

export function run(cwd: string, words: readonly string[], { stdin = "", env = {} }: HowToRun = {}): Ran {
  const { NO_COLOR: _, FORCE_COLOR: __, ...inherited } = process.env;
  const { status, stdout, stderr } = spawnSync(process.execPath, [program, ...words], {
    cwd,
    input: stdin,
    env: { ...inherited, ...env },
    encoding: "utf8",
  });
  return { exit: status, out: stdout, err: stderr };
}

/** Two rules that disagree under a dark sky over clear water: one error. */
export const twoRules = `book "Two rules"
condition clarity "Water clarity": clear, muddy
condition sky "Sky": bright, dark
pick blade "Blade": round, leaf
pattern "Clear water wants a leaf"
  go with blade leaf
  when clarity is clear
pattern "A dark sky wants a round blade"
  go with blade round
  when sky is dark
fall back on blade round
`;

/** Two conditions, nothing to find. */
export const sound = `book "Sound"
condition clarity "Water clarity": clear, muddy
condition cover "Cover": any of grass, docks
pick blade "Blade": round, leaf
pattern "Clear water wants a leaf"
  go with blade leaf
  when clarity is clear
pattern "Docks want a round blade"
  go with blade round
  when cover has docks
  beats "Clear water wants a leaf"
fall back on blade round
`;
