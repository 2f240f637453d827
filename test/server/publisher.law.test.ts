/** What the editor is told of each file, against the plain saying of it: all that open books find in it, moved along with its text, each once. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Diagnostic } from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import type { Finding } from "../../src/diagnostics.js";
import { openPublisher, type Publisher } from "../../src/faces/server/publisher.js";
import { movedAlong } from "../../src/faces/server/moved.js";
import type { View } from "../../src/service/view.js";
import { lineMap } from "../../src/text.js";

const paths = ["base.lore", "pier.lore", "ramp.lore"] as const;

interface Desktop {
  readonly publisher: Publisher;
  /** The texts that the files have now. */
  readonly texts: Map<string, string>;
  readonly open: Set<string>;
  readonly published: { readonly uri: string; readonly version: number | undefined; readonly said: readonly string[] }[];
}

function desktop(): Desktop {
  const texts = new Map<string, string>(paths.map((path) => [path, "one two three"]));
  const open = new Set<string>();
  const published: Desktop["published"] = [];
  const publisher = openPublisher({
    library: {
      uriOf: (path) => `file:///${path}`,
      textAt: (path) => texts.get(path),
      documentAt: (path) => (open.has(path) ? ({ version: texts.get(path)!.length } as TextDocument) : undefined),
    },
    diagnostics: () => ({ supports: { related: true, page: true, tags: true }, hintPage: () => undefined }),
    publish: (uri, version, diagnostics) => void published.push({ uri, version, said: diagnostics.map(saidBy) }),
  });
  return { publisher, texts, open, published };
}

const saidBy = ({ range, message }: Diagnostic): string =>
  `${range.start.line}:${range.start.character} ${typeof message === "string" ? message : message.value}`;

function found(path: string, start: number, message: string, more: Partial<Finding> = {}): Finding {
  return { code: "gap", severity: "error", path, range: { start, end: start + 3 }, title: "Gap", message, help: "", ...more };
}

/** A book as it has been read together with all the others. */
function view({ texts }: Desktop, path: string, findings: readonly Finding[]): View {
  const books = [...texts].map(([name, text]) => ({ path: name, text, tree: {} }));
  const text = texts.get(path)!;
  return { path, text, lines: lineMap(text), model: { books }, findings } as unknown as View;
}

const severities = {};

describe("what is told", () => {
  test("is, of each file, all that open books find in it, each once, also after its text has gone on", () => {
    const some = fc.array(fc.tuple(fc.constantFrom(...paths), fc.nat(2), fc.constantFrom("A", "B")), { maxLength: 4 });
    const step = fc.oneof(
      fc.record({ do: fc.constant("settled" as const), path: fc.constantFrom(...paths), some }),
      fc.record({ do: fc.constantFrom("write" as const, "close" as const), path: fc.constantFrom(...paths) }),
    );
    fc.assert(
      fc.property(fc.array(step, { maxLength: 12 }), (steps) => {
        const it = desktop();
        const known = new Map<string, { readonly findings: readonly Finding[] }>();
        for (const one of steps) {
          const { path } = one;
          if (one.do === "settled") {
            const findings = one.some.map(([where, start, message]) => found(where, start, message));
            it.open.add(path);
            known.set(path, { findings });
            it.publisher.settled({ view: view(it, path, findings), severities });
          } else if (one.do === "write") {
            it.texts.set(path, `${it.texts.get(path)!} more`);
            continue;
          } else {
            it.open.delete(path);
            known.delete(path);
            it.publisher.closed(path, `file:///${path}`);
          }
          const touched = one.do === "settled" ? [path, ...one.some.map(([where]) => where)] : [path];
          for (const file of touched) {
            const expected = new Set(
              [...known.values()]
                .flatMap(({ findings }) => findings.filter((finding) => finding.path === file))
                .map(({ range, message }) => `0:${range.start} Gap\n${message}`),
            );
            const last = it.published.filter(({ uri }) => uri === `file:///${file}`).at(-1)?.said ?? [];
            expect([...last].sort()).toEqual([...expected].sort());
          }
        }
        for (const uri of paths.map((path) => `file:///${path}`)) {
          const told = it.published.filter((one) => one.uri === uri).map((one) => JSON.stringify(one));
          expect(told.every((one, i) => one !== told[i - 1])).toBe(true);
        }
      }),
    );
  });

  test("is said as the book itself says it, where others find the same with another share in mind", () => {
    for (const order of [
      ["base.lore", "pier.lore"],
      ["pier.lore", "base.lore"],
    ]) {
      const it = desktop();
      for (const path of order)
        it.publisher.settled({ view: view(it, path, [found("base.lore", 0, `as ${path} has it`, { where: "sky is dark" })]), severities });
      expect(it.published.filter(({ uri }) => uri === "file:///base.lore").at(-1)!.said).toEqual(["0:0 Gap\nas base.lore has it"]);
    }
  });
});

describe("what reading finds", () => {
  test("is not told again while it moves along with the text, and is as soon as it says something else", () => {
    const it = desktop();
    const path = "pier.lore";
    const read = (text: string, start: number, message: string): void => {
      it.texts.set(path, text);
      it.publisher.read({ view: view(it, path, [found(path, start, message)]), severities });
    };
    it.open.add(path);
    read("one two three", 4, "A");
    expect(it.published.length).toBe(1);
    read("now one two three", 8, "A");
    read("now one two three four", 8, "A");
    read("now one two three four!", 8, "B");
    expect(it.published.map(({ said }) => said)).toEqual([["0:4 Gap\nA"], ["0:8 Gap\nB"]]);
  });

  test("comes and goes beside what the analysis has found, which moves along until the next one", () => {
    const it = desktop();
    it.open.add("pier.lore");
    const last = (): readonly string[] => it.published.filter(({ uri }) => uri === "file:///pier.lore").at(-1)!.said;
    const own = found("pier.lore", 4, "A");
    const settled = view(it, "pier.lore", []);
    it.publisher.settled({ view: { ...settled, analysis: { findings: [own] } }, severities });
    const write = (text: string, ...findings: readonly Finding[]): void => {
      it.publisher.edited("pier.lore", it.texts.get("pier.lore")!, text);
      it.texts.set("pier.lore", text);
      it.publisher.read({ view: view(it, "pier.lore", findings), severities });
    };
    write("now one two three", found("pier.lore", 0, "B"));
    expect([...last()].sort()).toEqual(["0:0 Gap\nB", "0:8 Gap\nA"]);
    write("here one two three");
    expect(last()).toEqual(["0:9 Gap\nA"]);
    // What it was found in is gone.
    write("here one");
    expect(last()).toEqual([]);
    it.publisher.settled({ view: view(it, "pier.lore", [found("pier.lore", 5, "C")]), severities });
    expect(last()).toEqual(["0:5 Gap\nC"]);
  });
});

test("what stands beside a change keeps its text, what is partly changed keeps the rest of it", () => {
  const text = fc.array(fc.constantFrom("sky", "dark", '"Mud"', " ", "\n"), { maxLength: 8 }).map((parts) => parts.join(""));
  fc.assert(
    fc.property(text, text, text, text, fc.nat(30), fc.nat(10), (start, out, put, end, from, length) => {
      const [before, now] = [start + out + end, start + put + end];
      const range = { start: Math.min(from, before.length), end: Math.min(from + length, before.length) };
      const went = movedAlong(before, now)(range);
      const was = before.slice(range.start, range.end);
      if (range.end <= start.length || range.start >= start.length + out.length) {
        expect(went && now.slice(went.start, went.end)).toBe(was);
      } else if (went !== undefined) {
        const is = now.slice(went.start, went.end);
        expect(is.startsWith(was.slice(0, Math.max(0, start.length - range.start)))).toBe(true);
        expect(is.endsWith(was.slice(was.length - Math.max(0, range.end - start.length - out.length)))).toBe(true);
      }
    }),
  );
});
