import { test } from "vitest";
import { expectMended, run } from "./clients.js";

test("in Emacs, with its own protocol client, a book is mended by quick fixes alone", () => {
  expectMended(run("emacs", "emacs-nox elpa-eglot", (script) => ["--batch", "-l", script], "eglot.el"));
}, 120_000);
