/** `npm run reference`: brings what is made from the grammar up to date: the formal part of the reference, and the files for editors. */
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname } from "node:path";
import { editorFiles } from "../../grammar/editor-files.js";
import { withFormalPart } from "../../grammar/reference.js";

const path = "grammar/reference.md";
writeFileSync(path, withFormalPart(readFileSync(path, "utf8")));
for (const [file, text] of editorFiles()) {
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, text);
}
