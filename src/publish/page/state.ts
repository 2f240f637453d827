/**
 * The state of a page, in its address after the `#`:
 *
 *     #clarity=muddy&cover=grass,docks&~view=picture&~units=metric        a name with a ~ is a choice, any other a condition
 */
import type { State } from "./contract.js";

export function readState(hash: string): State {
  const values = new Map<string, string>();
  const choices = new Map<string, string>();
  for (const [name, value] of new URLSearchParams(hash.replace(/^#/, ""))) {
    if (name.startsWith("~")) choices.set(name.slice(1), value);
    else values.set(name, value);
  }
  return { values, choices };
}

export function writeState({ values, choices }: State): string {
  const pairs = [...values, ...[...choices].map(([key, value]): [string, string] => [`~${key}`, value])].map(
    ([name, value]) => `${encode(name)}=${encode(value)}`,
  );
  return pairs.length === 0 ? "" : `#${pairs.join("&")}`;
}

/** As little is escaped as an address after `#` allows. */
function encode(text: string): string {
  return encodeURIComponent(text).replaceAll("%2C", ",").replaceAll("%3A", ":").replaceAll("%2F", "/").replaceAll("%20", "+");
}
