/** `npm run reference`: brings the formal part of the language reference up to date. */
import { readFileSync, writeFileSync } from "node:fs";
import { withFormalPart } from "../../grammar/reference.js";

const path = "grammar/reference.md";
writeFileSync(path, withFormalPart(readFileSync(path, "utf8")));
