/**
 * Where in a JSON text each value stands, so that what is wrong with it can be said with its line.
 *
 *     { "severities": { "gap": "eror" } }        "" → 0    "/severities" → 16    "/severities/gap" → 25
 *
 * Values are named by JSON pointers (RFC 6901). The grammar is that of RFC 8259, with names given once only: that, and where a control
 * character stands in a string, the parser leaves to us. It is loaded when there is something to read.
 */
import type { StringNode, ValueNode } from "@humanwhocodes/momoa";

export type JsonRead = { readonly value: unknown; readonly places: ReadonlyMap<string, number> } | JsonMisfit;

interface JsonMisfit {
  /** From where on it cannot be read. */
  readonly misfit: number;
  /** A name that is written a second time there. */
  readonly twice?: string;
}

export async function readJson(text: string): Promise<JsonRead> {
  const { parse } = await import("@humanwhocodes/momoa");
  try {
    const places = new Map<string, number>();
    const misfit = misfitIn(parse(text, { mode: "json" }).body, "", text, places);
    return misfit ?? { value: JSON.parse(text), places };
  } catch (error) {
    // Of a text that is nested too deep to be read there is no better place than its start.
    return { misfit: error instanceof Error && "offset" in error ? Math.min(Number(error.offset), text.length) : 0 };
  }
}

/** The pointer to a member of what a pointer points at. */
export function pointerTo(pointer: string, name: string): string {
  return `${pointer}/${name.replaceAll("~", "~0").replaceAll("/", "~1")}`;
}

/** The names on the way that a pointer points. */
export function namesOf(pointer: string): readonly string[] {
  return pointer
    .split("/")
    .slice(1)
    .map((name) => name.replaceAll("~1", "/").replaceAll("~0", "~"));
}

/** Notes where everything in a value stands, up to the first thing that the parser should not have let through. */
function misfitIn(node: ValueNode, pointer: string, text: string, places: Map<string, number>): JsonMisfit | undefined {
  places.set(pointer, node.loc.start.offset);
  switch (node.type) {
    case "String":
      return controlIn(node, text);
    case "Array":
      return first(node.elements, ({ value }, index) => misfitIn(value, `${pointer}/${index}`, text, places));
    case "Object":
      return first(node.members, ({ name, value }) => {
        if (name.type !== "String") return { misfit: name.loc.start.offset };
        const inside = pointerTo(pointer, name.value);
        if (places.has(inside)) return { misfit: name.loc.start.offset, twice: name.value };
        return controlIn(name, text) ?? misfitIn(value, inside, text, places);
      });
    default:
      return undefined;
  }
}

function controlIn({ loc: { start, end } }: StringNode, text: string): JsonMisfit | undefined {
  const at = text.slice(start.offset, end.offset).search(/[\u0000-\u001f]/);
  return at < 0 ? undefined : { misfit: start.offset + at };
}

function first<T, R>(all: readonly T[], look: (one: T, index: number) => R | undefined): R | undefined {
  for (const [index, one] of all.entries()) {
    const found = look(one, index);
    if (found !== undefined) return found;
  }
  return undefined;
}
