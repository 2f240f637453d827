import { test } from "vitest";
import { expectMended, run } from "./clients.js";

test("in Neovim, with its own protocol client, a book is mended by quick fixes alone", () => {
  expectMended(
    run("nvim", "neovim", (script) => ["--headless", "-u", "NONE", "-i", "NONE", "-n", "-c", `luafile ${script}`], "neovim.lua"),
  );
}, 120_000);
