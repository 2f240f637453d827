/** `waterlore desk`: a folder of books in a browser, as long as the command runs. */
import { existsSync, statSync } from "node:fs";
import { deskNotes, deskRefusals } from "../../../messages/desk.js";
import { commandRefusals } from "../../../messages/cli.js";
import { deskPage } from "../../desk/desk-html.js";
import { serveDesk } from "../../desk/serve.js";
import { openShopFolder } from "../../desk/shop-folder.js";
import { CannotRun, type ExitCode } from "../../node/exit.js";
import { builtFile } from "../../node/own-files.js";
import { shownPath } from "../../node/paths.js";
import { problemOf } from "../../node/problems.js";
import { note } from "../../node/streams.js";

export interface DeskOptions {
  readonly port?: string;
  readonly open: boolean;
}

/** Ends with 0 when it is told to stop. */
export async function deskCommand(path = ".", { port: said = "0", open }: DeskOptions): Promise<ExitCode> {
  const port = Number(said);
  if (!/^\d{1,5}$/.test(said) || port > 65_535) throw new CannotRun(deskRefusals.wrongPort(said));
  if (!existsSync(path) || !statSync(path).isDirectory()) throw new CannotRun(deskRefusals.noFolder(path));
  const page = deskPage({
    script: built("dist/desk/desk.js"),
    style: built("dist/desk/desk-style.css"),
    server: built("dist/desk/server.js"),
    page: { script: built("dist/page/page.js"), style: built("dist/page/page.css") },
  });
  const stopped = new Promise<void>((stop) => {
    process.once("SIGINT", stop);
    process.once("SIGTERM", stop);
  });
  const serving = await opened(path, page, port);
  note(deskNotes.open(serving.address, shownPath(path)));
  // Where there is no browser to open, the address stands there all the same.
  if (open) await import("open").then(({ default: browse }) => browse(serving.address)).catch(() => undefined);
  await stopped;
  await serving.close();
  return 0;
}

async function opened(path: string, page: ReturnType<typeof deskPage>, port: number): ReturnType<typeof serveDesk> {
  try {
    return await serveDesk(openShopFolder(path), page, port);
  } catch (error) {
    const problem = problemOf(error);
    throw new CannotRun(port === 0 ? commandRefusals.cannotRead(path, problem) : deskRefusals.noPort(port, problem));
  }
}

function built(path: string): string {
  return builtFile(path, deskRefusals.notBuilt);
}
