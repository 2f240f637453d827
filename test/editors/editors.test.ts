/**
 * The README's lines for other editors, word for word, in the real ones.
 *
 *     README ──sh───▶ in a clone with nothing installed or built: `waterlore` is on the path
 *        ├────lua───▶ init.lua ──▶ nvim  ─┐ sees what is wrong, asks about a word, mends by quick fixes alone,
 *        └────elisp─▶ init.el ───▶ emacs ─┴ lets a word be completed, formats ──▶ answer.json
 *
 * What is done in an editor is written in its own language, beside this file.
 */
import { execFileSync, spawnSync } from "node:child_process";
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, delimiter, dirname, join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { check } from "../check.js";
import { root } from "../root.js";

interface Editor {
  readonly program: string;
  /** Of Debian. */
  readonly packages: string;
  /** The language of its settings, and where they lie in a home. */
  readonly language: string;
  readonly settings: string;
  /** Opens a book and does what a script says. */
  readonly words: (book: string, script: string) => readonly [string, ...string[]];
  readonly script: string;
}
const editors: readonly Editor[] = [
  {
    program: "nvim",
    packages: "neovim",
    language: "lua",
    settings: ".config/nvim/init.lua",
    words: (book, script) => ["nvim", "--headless", "-c", `luafile ${script}`, book],
    script: "neovim.lua",
  },
  {
    program: "emacs",
    packages: "emacs-nox elpa-eglot",
    language: "elisp",
    settings: ".emacs.d/init.el",
    // Only at a terminal is it the editor that somebody sits at.
    words: (book, script) => ["script", "-qefc", `emacs -nw ${book} -l ${script}`, "/dev/null"],
    script: "emacs.el",
  },
];

interface Answer {
  readonly problem?: string;
  /** How many servers run. */
  readonly servers: number;
  readonly seen: readonly string[];
  readonly hover: string;
  /** Titles of quick fixes, and what was wrong after them. */
  readonly applied: readonly string[];
  readonly left: readonly string[];
  readonly mended: string;
  readonly offered: readonly string[];
  /** When one more pattern has been written, and all is in its usual shape. */
  readonly text: string;
}

/** A word that is no option, and two patterns of which nobody has said which wins. */
const broken = `book "Pier"
pick bait: worm, jig
condition sky: in order bright, dark
condition wind: in order calm, strong
pattern "Sun wants worm"
  go with bait wrom
  when sky is bright
pattern "Wind wants jig"
  go with bait jig
  when wind is strong
fall back on bait jig
`;
const oneMore = `pattern "Wind and sun want worm"
  go with bait worm
  when sky is bright and wind is strong
`;

const readme = readFileSync(join(root, "README.md"), "utf8");
const lines = (language: string): string =>
  new RegExp(`\\*\\*Any other editor\\*\\*[^]*?\`\`\`${language}\\n([^]*?)\`\`\``).exec(readme)![1]!;

let home: string;
let path: string;

beforeAll(() => {
  home = mkdtempSync(join(tmpdir(), "waterlore-editors-"));
  const clone = join(home, "waterlore");
  cpSync(root, clone, { recursive: true, filter: (from) => dirname(from) !== root.replace(/\/$/, "") || !absent.has(basename(from)) });
  execFileSync("sh", ["-c", lines("sh")], {
    cwd: clone,
    env: { ...process.env, npm_config_prefix: join(home, "npm"), npm_config_prefer_offline: "true" },
    stdio: "pipe",
  });
  path = [join(home, "npm/bin"), process.env["PATH"]].join(delimiter);
}, 300_000);
const absent = new Set(["node_modules", "dist", ".git"]);
afterAll(() => rmSync(home, { recursive: true, force: true }));

test.each(editors)("in $program with the README's lines", { timeout: 120_000 }, (editor) => {
  const { servers, seen, hover, applied, left, mended, offered, text } = workedIn(editor);
  expect(servers).toBe(1);
  expect(seen.join(" ")).toContain("name");
  expect(hover).toContain("One of bright or dark");
  expect(applied).toEqual(["Write worm", "Let “Sun wants worm” beat “Wind wants jig”"]);
  expect(left).toEqual([]);
  expect(check(mended).findings).toEqual([]);
  expect(offered).toEqual(["wind"]);
  expect(text).toBe(mended + oneMore);
});

/** What came of it. Fails loudly where the editor is not installed. */
function workedIn({ program, packages, language, settings, words, script }: Editor): Answer {
  if (spawnSync(program, ["--version"]).status !== 0)
    throw new Error(`${program} is not installed. On Debian: apt-get install -y --no-install-recommends ${packages}`);
  const folder = mkdtempSync(join(home, "books-"));
  const [book, answer, file] = [join(folder, "pier.lore"), join(folder, "answer.json"), join(folder, settings)];
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, lines(language));
  writeFileSync(book, broken);
  const [command, ...rest] = words(book, join(import.meta.dirname, script));
  const ran = spawnSync(command, rest, {
    cwd: folder,
    encoding: "utf8",
    timeout: 90_000,
    env: { PATH: path, HOME: folder, TERM: "xterm", LANG: "C.UTF-8", ANSWER: answer },
  });
  if (!existsSync(answer)) throw new Error(`${program} gave no answer: ${ran.stdout}${ran.stderr}`);
  const answered = JSON.parse(readFileSync(answer, "utf8")) as Answer;
  if (answered.problem !== undefined) throw new Error(`${program}: ${answered.problem}`);
  return answered;
}
