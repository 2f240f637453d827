/**
 * A real VS Code to open in a browser: the npm package `code-server`, installed once into a folder of its own and started as often as needed.
 *
 *     npm ──install──▶ node_modules/.cache/waterlore-tests/code-server-4.100.3     Node 20, VS Code 1.100.3, some 30 s and 330 MB
 *                            │ start(folder, vsix)
 *                            ▼
 *     http://127.0.0.1:PORT/?folder=…     one process, its settings and extensions in a temporary folder
 *
 * A plain `npm install code-server` refuses root and builds what nobody needs here, so scripts are off, and its three steps that matter
 * are done by hand. The mark file is written last: a folder without it is half an install and is made anew.
 */
import { execFileSync, spawn, type ChildProcess } from "node:child_process";
import { cpSync, existsSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";

const version = "4.100.3";
const home = join(import.meta.dirname, "../../node_modules/.cache/waterlore-tests", `code-server-${version}`);
const ready = join(home, "installed");

export interface CodeServer {
  /** Open this in a browser. */
  readonly url: string;
  /** Ends it with all its helpers. */
  stop(): Promise<void>;
}

/** Starts a VS Code with one extension, showing one folder. `settings` are those of its user. */
export async function startCodeServer({
  folder,
  vsix,
  settings,
}: {
  readonly folder: string;
  readonly vsix: string;
  readonly settings: Record<string, unknown>;
}): Promise<CodeServer> {
  install();
  const own = mkdtempSync(join(tmpdir(), "waterlore-code-server-"));
  const userSettings = join(own, "data/User");
  mkdirSync(userSettings, { recursive: true });
  writeFileSync(join(userSettings, "settings.json"), JSON.stringify(settings));
  writeFileSync(join(own, "config.yaml"), "");
  const port = await freePort();
  const common = ["--config", join(own, "config.yaml"), "--user-data-dir", join(own, "data"), "--extensions-dir", join(own, "extensions")];
  execFileSync(process.execPath, [entry(), ...common, "--install-extension", vsix], { stdio: "pipe" });
  const server = spawn(
    process.execPath,
    [
      entry(),
      ...common,
      "--auth",
      "none",
      "--bind-addr",
      `127.0.0.1:${port}`,
      "--disable-telemetry",
      "--disable-update-check",
      "--disable-workspace-trust",
    ],
    { stdio: "pipe", detached: true },
  );
  await listening(server);
  return {
    url: `http://127.0.0.1:${port}/?folder=${encodeURIComponent(folder)}`,
    stop: async () => {
      await ended(server);
      rmSync(own, { recursive: true, force: true, maxRetries: 20, retryDelay: 250 });
    },
  };
}

function entry(): string {
  return join(home, "node_modules/code-server/out/node/entry.js");
}

function install(): void {
  if (existsSync(ready)) return;
  rmSync(home, { recursive: true, force: true });
  mkdirSync(home, { recursive: true });
  writeFileSync(join(home, "package.json"), JSON.stringify({ name: "code-server-home", private: true }));
  const npm = (folder: string, ...words: string[]): void => {
    execFileSync("npm", [...words, "--no-audit", "--no-fund", "--loglevel=error"], { cwd: folder, stdio: "pipe" });
  };
  npm(home, "install", "--ignore-scripts", `code-server@${version}`, "@vscode/ripgrep@1.18.0");
  npm(home, "rebuild", "argon2");
  const code = join(home, "node_modules/code-server/lib/vscode");
  npm(code, "install", "--omit=dev", "--ignore-scripts");
  npm(join(code, "extensions"), "install", "--omit=dev", "--ignore-scripts");
  mkdirSync(join(code, "node_modules/@vscode/ripgrep/bin"), { recursive: true });
  cpSync(
    join(home, `node_modules/@vscode/ripgrep-${process.platform}-${process.arch}/bin`),
    join(code, "node_modules/@vscode/ripgrep/bin"),
    { recursive: true },
  );
  rmSync(join(code, "node_modules.asar"), { force: true });
  symlinkSync("node_modules", join(code, "node_modules.asar"));
  writeFileSync(ready, "");
}

function listening(server: ChildProcess): Promise<void> {
  return new Promise((resolve, reject) => {
    let said = "";
    const hear = (data: Buffer): void => {
      said += data.toString();
      if (said.includes("HTTP server listening")) resolve();
    };
    server.stdout!.on("data", hear);
    server.stderr!.on("data", hear);
    server.on("exit", (code) => reject(new Error(`code-server ended with ${code}:\n${said}`)));
  });
}

/** It runs detached, so that its process group can be ended as one. */
function ended(server: ChildProcess): Promise<void> {
  return new Promise((resolve) => {
    if (server.exitCode !== null || server.pid === undefined) return resolve();
    const force = setTimeout(() => process.kill(-server.pid!, "SIGKILL"), 10_000);
    server.on("exit", () => {
      clearTimeout(force);
      resolve();
    });
    process.kill(-server.pid, "SIGTERM");
  });
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.on("error", reject);
    probe.listen(0, "127.0.0.1", () => {
      const address = probe.address();
      probe.close(() => (address !== null && typeof address === "object" ? resolve(address.port) : reject(new Error("no free port"))));
    });
  });
}
