/** The house's own rules: imports run one way, and the core knows neither Node nor the DOM. That every finding has its page: `hints.test.ts`. */
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";

const root = join(dirname(fileURLToPath(import.meta.url)), "..");

interface Module {
  readonly path: string;
  readonly code: string;
  /** What it imports of this project, as paths from the top; types count too. */
  readonly imports: readonly string[];
  readonly packages: readonly string[];
  /** All that it imports, as it names it. */
  readonly named: readonly string[];
}

const modules = ["grammar", "src"].flatMap(modulesBelow);
const core = modules.filter(({ path }) => !path.startsWith("src/faces/") && !path.startsWith("src/publish/page/"));

describe("imports run one way", () => {
  const order = [
    "grammar",
    "src/syntax",
    "src/model",
    "src/analysis",
    "src/answer",
    "src/table",
    "src/render",
    "src/compare",
    "src/stock",
    "src/publish",
    "src/service",
    "src/index.ts",
    "src/faces",
  ];
  const leaves = [
    "src/text.ts",
    "src/diagnostics.ts",
    "src/paths.ts",
    "src/same-finding.ts",
    "src/suggest.ts",
    "src/lookalikes.ts",
    "src/messages",
  ];
  const roomOf = (path: string): string | undefined => [...order, ...leaves].find((room) => path === room || path.startsWith(`${room}/`));

  test("every module stands in a room that is known", () => {
    expect(modules.length).toBeGreaterThan(40);
    expect(modules.filter(({ path }) => roomOf(path) === undefined).map(({ path }) => path)).toEqual([]);
  });

  test("no module imports from a later room", () => {
    const wrong = modules.flatMap(({ path, imports }) => {
      const room = roomOf(path)!;
      return imports
        .filter((target) => {
          const wanted = roomOf(target)!;
          if (leaves.includes(wanted)) return false;
          return leaves.includes(room) || order.indexOf(wanted) > order.indexOf(room);
        })
        .map((target) => `${path} imports ${target}`);
    });
    expect(wrong).toEqual([]);
  });

  test("no module imports, through however many others, itself", () => {
    const imports = new Map(modules.map(({ path, imports }) => [path, imports]));
    const done = new Set<string>();
    const circles: string[] = [];
    const walk = (path: string, way: readonly string[]): void => {
      if (way.includes(path)) circles.push([...way.slice(way.indexOf(path)), path].join(" → "));
      else if (!done.has(path)) {
        for (const target of imports.get(path) ?? []) walk(target, [...way, path]);
        done.add(path);
      }
    };
    for (const { path } of modules) walk(path, []);
    expect(circles).toEqual([]);
  });
});

describe("the rooms of the faces", () => {
  /** What each may import from, beside itself, of the faces. */
  const below: Readonly<Record<string, readonly string[]>> = {
    build: [],
    day: [],
    files: ["day"],
    node: ["day", "files"],
    check: ["day", "files", "node"],
    server: ["day", "files", "node"],
    desk: ["files", "node", "server"],
    cli: ["day", "files", "node", "check", "server", "desk"],
    vscode: ["build", "files", "server"],
  };
  const faceOf = (path: string): string => /^src\/faces\/([\w-]+)/.exec(path)![1]!;
  const faces = modules.filter(({ path }) => path.startsWith("src/faces/"));

  test("node is below check and the server, and these are below the command line", () => {
    expect(new Set(faces.map(({ path }) => faceOf(path)))).toEqual(new Set([...Object.keys(below), "prettier-plugin", "reference-main"]));
    const wrong = faces.flatMap(({ path, imports }) => {
      const room = faceOf(path);
      return imports
        .filter((target) => target.startsWith("src/faces/") && faceOf(target) !== room && !below[room]?.includes(faceOf(target)))
        .map((target) => `${path} imports ${target}`);
    });
    expect(wrong).toEqual([]);
  });

  test("of files, the server and the page of the desk, only what starts the server in Node and its host there know Node", () => {
    const hosts = ["src/faces/server/node-host.ts", "src/faces/server/server-node.ts"];
    expect(
      faces
        .filter(
          ({ path, imports, packages }) =>
            /^src\/faces\/(files|server|desk\/page)\//.test(path) &&
            [...imports, ...packages].some((name) => /^node:|\/node\/|\/node$/.test(name)),
        )
        .map(({ path }) => path)
        .sort(),
    ).toEqual(hosts);
  });
});

describe("the core runs anywhere", () => {
  test("it imports no builtin of Node and no package for terminals or files", () => {
    const faces = /^(node:|fs$|path$|os$|url$|process$|commander$|picocolors$|tinyglobby$|vscode)/;
    expect(
      core.flatMap(({ path, packages }) => packages.filter((name) => faces.test(name)).map((name) => `${path} imports ${name}`)),
    ).toEqual([]);
  });

  test("it names no global of Node or of the DOM", () => {
    const globals = /(?<![\w.$"'`-])(process|Buffer|window|document|navigator|self|__dirname|require|setImmediate|console)(?=\s*[.([])/g;
    expect(core.flatMap(({ path, code }) => [...code.matchAll(globals)].map(([, name]) => `${path} names ${name}`))).toEqual([]);
  });
});

describe("a test says what it is for", () => {
  /** Kinds of `vitest.config.ts` that a test is of if it imports one of these. */
  const kinds = { process: /^node:child_process$|\/run\.js$/, browser: /\/browser\.js$/ };
  const tests = modulesBelow("test").filter(
    ({ path }) => path.endsWith(".test.ts") && !/^test\/(editors\/|vscode\/(desk|folder|hour|web|writing)\.)/.test(path),
  );

  test.each(Object.entries(kinds))("what starts a %s has it in its name", (kind, imported) => {
    const starting = tests.filter(({ named }) => named.some((name) => imported.test(name)));
    expect(starting.length).toBeGreaterThan(2);
    expect(starting.map(({ path }) => path).filter((path) => !path.endsWith(`.${kind}.test.ts`))).toEqual([]);
  });
});

function modulesBelow(folder: string): Module[] {
  return readdirSync(join(root, folder), { recursive: true, encoding: "utf8" })
    .filter((file) => file.endsWith(".ts"))
    .map((file) => {
      const path = [folder, ...file.split(sep)].join("/");
      const code = withoutWords(readFileSync(join(root, path), "utf8"));
      const named = [
        ...code.matchAll(/^(?:import|export)\b[^;"]*?\bfrom\s+"([^"]+)"|^import\s+"([^"]+)"|\bimport\(\s*"([^"]+)"\s*\)/gm),
      ].map((match) => match[1] ?? match[2] ?? match[3]!);
      return {
        path,
        code,
        named,
        imports: named
          .filter((name) => name.startsWith("."))
          .map((name) =>
            relative(root, join(root, dirname(path), name))
              .split(sep)
              .join("/")
              .replace(/\.js$/, ".ts"),
          ),
        packages: named.filter((name) => !name.startsWith(".")),
      };
    });
}

/** Code without its comments; what stands in quotes stays. */
function withoutWords(text: string): string {
  return text.replace(
    /("(?:[^"\\\n]|\\.)*"|`(?:[^`\\]|\\.)*`)|\/\*[\s\S]*?\*\/|\/\/[^\n]*/g,
    (_, quoted: string | undefined) => quoted ?? " ",
  );
}
