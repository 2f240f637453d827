/**
 * A browser for the tests: CHROMIUM_PATH, else the one of the system, else the one that comes with the packages of npm.
 *
 *     @sparticuz/chromium ──unpacked, by whoever comes first──▶ a folder of its own ──renamed, whole──▶ node_modules/.cache/waterlore-tests/chromium-…
 *
 * A rename is done or not done, so no test ever starts half a browser, however many unpack at once.
 */
import { execFileSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { chromium, type Browser, type LaunchOptions } from "playwright-core";

const installed = ["/usr/bin/chromium", "/usr/bin/chromium-browser"];
const args = [
  "--no-sandbox",
  "--disable-gpu",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];
const modules = modulesAbove(import.meta.dirname);

function modulesAbove(folder: string): string {
  const own = join(folder, "node_modules");
  return existsSync(own) ? own : modulesAbove(dirname(folder));
}

/** Whoever launches closes it. Throws if there is no browser, or if it does not start. */
export function launchBrowser(): Promise<Browser> {
  const path = process.env["CHROMIUM_PATH"] ?? installed.find((one) => existsSync(one));
  return chromium.launch({ ...(path === undefined ? unpacked() : { executablePath: path }), args });
}

/** Its own libraries and fonts come with it. */
function unpacked(): LaunchOptions {
  const { version } = JSON.parse(readFileSync(join(modules, "@sparticuz/chromium/package.json"), "utf8")) as { readonly version: string };
  const cache = join(modules, ".cache/waterlore-tests");
  const home = join(cache, `chromium-${version}`);
  if (!existsSync(home)) {
    mkdirSync(cache, { recursive: true });
    const own = mkdtempSync(join(cache, "chromium-"));
    execFileSync(
      process.execPath,
      ["--input-type=module", "-e", 'import chromium from "@sparticuz/chromium"; await chromium.executablePath();'],
      {
        cwd: modules,
        env: { ...process.env, TMPDIR: own, AWS_LAMBDA_JS_RUNTIME: "nodejs20.x" },
        stdio: "pipe",
      },
    );
    writeFileSync(join(own, "fonts/fonts.conf"), fontsOf(home));
    try {
      renameSync(own, home);
    } catch (problem) {
      // Another process was faster, and its browser is as good.
      rmSync(own, { recursive: true });
      if (!existsSync(home)) throw problem;
    }
  }
  return {
    executablePath: join(home, "chromium"),
    env: { ...process.env, LD_LIBRARY_PATH: join(home, "al2023/lib"), FONTCONFIG_PATH: join(home, "fonts") },
  };
}

/** It looks for fonts where others unpack it, and ends itself where it finds none. */
function fontsOf(home: string): string {
  const folders = [join(home, "fonts/fonts"), "/usr/share/fonts"].map(
    (folder) => `<dir>${folder.replaceAll("&", "&amp;").replaceAll("<", "&lt;")}</dir>`,
  );
  return `<?xml version="1.0"?>\n<!DOCTYPE fontconfig SYSTEM "fonts.dtd">\n<fontconfig>${folders.join("")}<cachedir prefix="xdg">fontconfig</cachedir></fontconfig>\n`;
}
