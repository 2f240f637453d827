/** What the README says under "In CI" is run: in a project of its own, with the package linked as an installation links it. */
import { spawnSync } from "node:child_process";
import { chmodSync, mkdirSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { folder, run, sound, twoRules } from "../cli/run.js";
import { root } from "../root.js";

const section = /\n## In CI\n([\s\S]*?)\n## /.exec(readFileSync(join(root, "README.md"), "utf8"))![1]!;
const blocks = (language: string): string[] =>
  [...section.matchAll(new RegExp(`\`\`\`${language}\\n([\\s\\S]*?)\`\`\``, "g"))].map(([, block]) => block!);
const [settings] = blocks("json");
const [hook, script] = blocks("sh");
const [workflow] = blocks("yaml");

const shaped = (book: string): string => run(folder(), ["format", "-"], { stdin: book }).out;

/** A shop's folder: the settings of the README, a sound book and a draft, which is broken and left out. */
function shop(): string {
  const cwd = folder({
    "waterlore.json": settings!,
    "known-findings.json": '{ "format": "waterlore-baseline", "version": 1, "findings": [] }\n',
    "rules/sound.lore": shaped(sound),
    "rules/drafts/later.lore": shaped(twoRules),
    "package.json": '{ "name": "shop", "private": true }',
    ".gitignore": "node_modules\n",
  });
  mkdirSync(join(cwd, "node_modules/.bin"), { recursive: true });
  symlinkSync(root, join(cwd, "node_modules/waterlore"));
  symlinkSync("../waterlore/src/faces/waterlore.js", join(cwd, "node_modules/.bin/waterlore"));
  chmodSync(join(root, "src/faces/waterlore.js"), 0o755);
  return cwd;
}

interface Done {
  readonly exit: number | null;
  readonly said: string;
}

/** Without what an npm that runs the tests, or a git that runs npm, leaves in the environment. */
function sh(cwd: string, command: string, words: readonly string[] = []): Done {
  const env = Object.fromEntries(
    Object.entries(process.env).filter(([name]) => !/^(npm_|GIT_|GITHUB_|INIT_CWD$|NODE_OPTIONS$|VITEST)/i.test(name)),
  );
  const { status, stdout, stderr } = spawnSync(command, words, { cwd, encoding: "utf8", env });
  return { exit: status, said: stdout + stderr };
}

describe("the settings", () => {
  test("are sound, leave the drafts out, and take `waterlore check` alone", () => {
    const cwd = shop();
    expect(run(cwd, ["check"])).toMatchObject({ exit: 0, err: "" });
    writeFileSync(join(cwd, "rules/two.lore"), twoRules);
    expect(run(cwd, ["check"]).exit).toBe(1);
    expect(run(cwd, ["check", "--write-baseline"])).toMatchObject({ exit: 0, err: "Wrote known-findings.json: 1 known finding.\n" });
    expect(run(cwd, ["check"]).exit).toBe(0);
  });
});

describe("the hook", () => {
  const git = (cwd: string, ...words: string[]): Done =>
    sh(cwd, "git", ["-c", "user.name=Shop", "-c", "user.email=shop@example.com", "-c", "commit.gpgsign=false", ...words]);

  test("lets a sound book be committed, and refuses one with an error or out of shape, going by what is staged", () => {
    const cwd = shop();
    git(cwd, "init", "--quiet", ".");
    writeFileSync(join(cwd, ".git/hooks/pre-commit"), hook!, { mode: 0o755 });
    git(cwd, "add", ".");
    expect(git(cwd, "commit", "--quiet", "-m", "First")).toMatchObject({ exit: 0 });

    writeFileSync(join(cwd, "rules/two.lore"), shaped(twoRules));
    git(cwd, "add", ".");
    const refused = git(cwd, "commit", "--quiet", "-m", "Two rules");
    expect(refused.exit).toBe(1);
    expect(refused.said).toContain("[conflict]");

    // Mended in the folder, but not yet staged; then staged, with something broken beside it that is not.
    writeFileSync(join(cwd, "rules/two.lore"), shaped(sound));
    expect(git(cwd, "commit", "--quiet", "-m", "Two rules").exit).toBe(1);
    git(cwd, "add", ".");
    writeFileSync(join(cwd, "rules/two.lore"), "broken");
    expect(git(cwd, "commit", "--quiet", "-m", "Two rules")).toMatchObject({ exit: 0 });

    writeFileSync(join(cwd, "rules/two.lore"), sound.replace("  go with", "go    with"));
    git(cwd, "add", ".");
    const crooked = git(cwd, "commit", "--quiet", "-m", "Crooked");
    expect(crooked.exit).toBe(1);
    expect(crooked.said).toContain("rules/two.lore");
    expect(git(cwd, "log", "--format=%s").said).toBe("Two rules\nFirst\n");
  });

  test("runs as it stands in a clone of this package, which has no command installed and no settings", () => {
    const cwd = folder({ "rules/sound.lore": shaped(sound) });
    mkdirSync(join(cwd, "src/faces"), { recursive: true });
    symlinkSync(join(root, "src/faces/waterlore.js"), join(cwd, "src/faces/waterlore.js"));
    git(cwd, "init", "--quiet", ".");
    writeFileSync(join(cwd, ".git/hooks/pre-commit"), hook!, { mode: 0o755 });
    git(cwd, "add", ".");
    expect(git(cwd, "commit", "--quiet", "-m", "First")).toMatchObject({ exit: 0 });
    writeFileSync(join(cwd, "rules/two.lore"), shaped(twoRules));
    git(cwd, "add", ".");
    const refused = git(cwd, "commit", "--quiet", "-m", "Two rules");
    expect(refused).toMatchObject({ exit: 1 });
    expect(refused.said).toContain("[conflict]");
  });
});

describe("the script", () => {
  test("ends well for sound books, and else with 1 and a report", () => {
    const cwd = shop();
    writeFileSync(join(cwd, "check-books.sh"), script!, { mode: 0o755 });
    expect(sh(cwd, "./check-books.sh")).toMatchObject({ exit: 0 });
    expect(readFileSync(join(cwd, "waterlore.xml"), "utf8")).toMatch(/<testsuites name="waterlore" tests="\d+" failures="0"/);
    writeFileSync(join(cwd, "rules/two.lore"), shaped(twoRules));
    expect(sh(cwd, "./check-books.sh")).toMatchObject({ exit: 1 });
    expect(readFileSync(join(cwd, "waterlore.xml"), "utf8")).toContain('<failure type="conflict"');
  });
});

describe("the workflow", () => {
  test("its own steps pass for sound books and mark the line of an error", () => {
    const steps = [...workflow!.matchAll(/^ {6}- run: (.*)$/gm)].map(([, step]) => step!);
    expect(steps[0]).toBe("npm ci");
    const cwd = shop();
    const done = (): Done[] => steps.slice(1).map((step) => sh(cwd, "bash", ["-e", "-c", step]));
    expect(done().map(({ exit }) => exit)).toEqual([0, 0]);
    writeFileSync(join(cwd, "rules/two.lore"), shaped(twoRules));
    const [, check] = done();
    expect(check!.exit).toBe(1);
    expect(check!.said).toMatch(/^::error file=rules\/two\.lore,line=\d+,/m);
  });
});
