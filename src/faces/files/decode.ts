/** Bytes of a file as text, wherever they were read. */
import { fileProblems } from "../../messages/cli.js";
import { longestBook, type Opened } from "../../text.js";

/** Bytes. UTF-8 takes at most three for one of the characters that a book may have. */
export const largestBook = 3 * longestBook;

/** UTF-8 bytes as text; none: there were too many of them. */
export function decode(bytes: Uint8Array | undefined): Opened {
  if (bytes === undefined) return { problem: fileProblems.tooLarge };
  if (isUtf16(bytes)) return { problem: fileProblems.otherEncoding };
  if (bytes.includes(0)) return { problem: fileProblems.noText };
  try {
    return { text: new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes) };
  } catch {
    return { problem: fileProblems.otherEncoding };
  }
}

/** Whether they begin as UTF-16 does. */
export function isUtf16(bytes: Uint8Array): boolean {
  return (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
}
