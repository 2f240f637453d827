/** `waterlore format`: files and streams. The layout itself is tested beside the printer. */
import { spawnSync } from "node:child_process";
import { chmodSync, lstatSync, readdirSync, readFileSync, statSync, symlinkSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { folder, program, run, sound } from "./run.js";

const crooked = sound.replace("  go with blade leaf\n", "go   with blade leaf\n");

describe("format", () => {
  test("writes what is not in shape, leaves the rest alone, and says which", () => {
    const cwd = folder({ "a/crooked.lore": crooked, "sound.lore": run(folder(), ["format", "-"], { stdin: sound }).out });
    const before = statSync(join(cwd, "sound.lore")).mtimeMs;
    expect(run(cwd, ["format", "."])).toEqual({ exit: 0, out: "", err: "Formatted a/crooked.lore\n2 books looked at, 1 changed.\n" });
    expect(readFileSync(join(cwd, "a/crooked.lore"), "utf8")).toContain("\n  go with blade leaf\n");
    expect(statSync(join(cwd, "sound.lore")).mtimeMs).toBe(before);
    expect(run(cwd, ["format", "."])).toMatchObject({ exit: 0, err: "2 books looked at, none changed.\n" });
    expect(readdirSync(join(cwd, "a"))).toEqual(["crooked.lore"]);
  });

  test("--check changes nothing and lists what would change", () => {
    const cwd = folder({ "crooked.lore": crooked });
    expect(run(cwd, ["format", ".", "--check"])).toEqual({
      exit: 1,
      out: "crooked.lore\n",
      err: "1 book looked at, 1 not in its usual shape.\n",
    });
    expect(readFileSync(join(cwd, "crooked.lore"), "utf8")).toBe(crooked);
    run(cwd, ["format", "."]);
    expect(run(cwd, ["format", ".", "--check"])).toMatchObject({ exit: 0, out: "" });
  });

  test("standard input to standard output, without a word beside it", () => {
    const { exit, out, err } = run(folder(), ["format", "-"], { stdin: crooked });
    expect({ exit, err }).toEqual({ exit: 0, err: "" });
    expect(out).toContain("\n  go with blade leaf\n");
    expect(run(folder(), ["format", "-", "--check"], { stdin: crooked })).toMatchObject({ exit: 1 });
  });

  test("a sentence that cannot be read stays as it is", () => {
    const broken = `${sound}pattern   Mud without quotes\n   go with   blade\n`;
    expect(run(folder(), ["format", "-"], { stdin: broken }).out).toContain("pattern   Mud without quotes\n   go with   blade\n");
  });

  test("a link stays a link, rights stay as they are", () => {
    const cwd = folder({ "real.lore": crooked });
    chmodSync(join(cwd, "real.lore"), 0o640);
    symlinkSync("real.lore", join(cwd, "link.lore"));
    expect(run(cwd, ["format", "link.lore"]).exit).toBe(0);
    expect(lstatSync(join(cwd, "link.lore")).isSymbolicLink()).toBe(true);
    expect(readFileSync(join(cwd, "real.lore"), "utf8")).not.toBe(crooked);
    expect(statSync(join(cwd, "real.lore")).mode & 0o777).toBe(0o640);
  });

  test("one that cannot be read does not keep the others from being done", () => {
    const cwd = folder({ "crooked.lore": crooked });
    const { exit, err } = run(cwd, ["format", "gone.lore", "crooked.lore"]);
    expect(exit).toBe(2);
    expect(err).toContain("Cannot read gone.lore: there is no such file.");
    expect(err).toContain("Formatted crooked.lore");
  });

  // Root may write anywhere, so root runs this as nobody: possible where anybody may read the checkout.
  const someone = process.getuid?.() === 0 ? { uid: 65534, gid: 65534 } : {};
  const possible = spawnSync(process.execPath, [program, "--version"], { cwd: "/", ...someone }).status === 0;
  test.skipIf(!possible)("one that cannot be written is said, and left whole", () => {
    const cwd = folder({ "locked/crooked.lore": crooked, "open.lore": crooked });
    for (const name of ["", "open.lore"]) chmodSync(join(cwd, name), 0o777);
    chmodSync(join(cwd, "locked"), 0o555);
    const { status, stderr } = spawnSync(process.execPath, [program, "format", "locked", "open.lore"], {
      cwd,
      encoding: "utf8",
      input: "",
      ...someone,
    });
    chmodSync(join(cwd, "locked"), 0o755);
    expect(stderr).toContain("Cannot write locked/crooked.lore: you have no permission.\n");
    expect(stderr).toContain("Formatted open.lore\n");
    expect(status).toBe(2);
    expect(readFileSync(join(cwd, "locked/crooked.lore"), "utf8")).toBe(crooked);
    expect(readdirSync(join(cwd, "locked"))).toEqual(["crooked.lore"]);
  });
});
