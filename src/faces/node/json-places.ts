/**
 * Where in a JSON text each value stands, so that what is wrong with it can be said with its line.
 *
 *     { "severities": { "gap": "eror" } }        "" → 0    "/severities" → 16    "/severities/gap" → 25
 *
 * Values are named by JSON pointers (RFC 6901). The grammar is that of RFC 8259, with names given once only.
 */

export type Places =
  { readonly value: unknown; readonly places: ReadonlyMap<string, number> } | { readonly misfit: number; readonly twice?: string };

export function readJson(text: string): Places {
  const places = new Map<string, number>();
  const tokens =
    /[ \t\r\n]*(?:("(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*")|(-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null)|([[\]{},:])|($))/y;
  let token = "";
  let at = 0;
  const next = (): void => {
    const from = tokens.lastIndex;
    const match = tokens.exec(text);
    if (match === null) throw new Misfit(from + /^[ \t\r\n]*/.exec(text.slice(from))![0].length);
    token = match[1] ?? match[2] ?? match[3] ?? "";
    at = match.index + match[0].length - token.length;
  };
  const is = (sign: string): boolean => token === sign;
  const expect = (wanted: string): void => {
    if (!is(wanted)) throw new Misfit(at);
    next();
  };
  const value = (pointer: string): void => {
    places.set(pointer, at);
    if (is("{")) {
      next();
      if (!is("}")) member(pointer);
      while (is(",")) {
        next();
        member(pointer);
      }
      expect("}");
    } else if (is("[")) {
      next();
      let index = 0;
      if (!is("]")) value(`${pointer}/${index++}`);
      while (is(",")) {
        next();
        value(`${pointer}/${index++}`);
      }
      expect("]");
    } else if (/^["\-\dtfn]/.test(token)) next();
    else throw new Misfit(at);
  };
  const member = (pointer: string): void => {
    if (!token.startsWith('"')) throw new Misfit(at);
    const name: string = JSON.parse(token);
    const inside = `${pointer}/${name.replaceAll("~", "~0").replaceAll("/", "~1")}`;
    if (places.has(inside)) throw new Misfit(at, name);
    next();
    expect(":");
    value(inside);
  };
  try {
    next();
    value("");
    if (!is("")) throw new Misfit(at);
    return { value: JSON.parse(text), places };
  } catch (error) {
    if (error instanceof Misfit) return { misfit: error.offset, ...(error.twice !== undefined && { twice: error.twice }) };
    if (error instanceof RangeError) return { misfit: at };
    throw error;
  }
}

class Misfit extends Error {
  constructor(
    readonly offset: number,
    readonly twice?: string,
  ) {
    super();
  }
}
