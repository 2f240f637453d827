/**
 * The desk's own server: one page, and the files of one folder, for one browser on this computer.
 *
 *     http://127.0.0.1:4310/?key=… ──once──▶ a cookie of this session ──▶ the page, the files (`contract.ts`)
 *
 * Any page in a browser can send requests to this computer, so each of these is checked on every request: that it names this host (no other
 * name was made to lead here), that it comes from this page (`Origin`, where the browser says it; to write, it must), and that it has the cookie.
 */
import { randomBytes, timingSafeEqual } from "node:crypto";
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { deskRefusals } from "../../messages/desk.js";
import { decode, largestBook } from "../files/decode.js";
import { decodePath, routes, type FileList, type Refusal } from "./contract.js";
import type { ShopFolder } from "./shop-folder.js";

export interface Serving {
  /** To be opened once. */
  readonly address: string;
  close(): Promise<void>;
}

/** `port` 0: any that is free. Rejects where it cannot be had. */
export async function serveDesk(
  folder: ShopFolder,
  page: { readonly html: string; readonly policy: string },
  port: number,
): Promise<Serving> {
  const [key, session] = [secret(), secret()];
  let isKeySpent = false;
  const listeners = new Set<ServerResponse>();
  const unwatch = folder.watch((path) => {
    for (const listener of listeners) listener.write(`data: ${JSON.stringify(path)}\n\n`);
  });
  const answer = async (request: IncomingMessage, response: ServerResponse): Promise<void> => {
    const host = `127.0.0.1:${(server.address() as AddressInfo).port}`;
    const cookie = `desk-${host.split(":")[1]!}`;
    const refuse = (status: number, problem: string): void => {
      response.writeHead(status, { "content-type": "application/json; charset=utf-8" }).end(JSON.stringify({ problem } satisfies Refusal));
    };
    response.setHeader("cache-control", "no-store");
    response.setHeader("x-content-type-options", "nosniff");
    response.setHeader("referrer-policy", "no-referrer");
    response.setHeader("cross-origin-resource-policy", "same-origin");
    if (request.headers.host !== host) return refuse(403, deskRefusals.host);
    const { origin } = request.headers;
    if (origin !== undefined && origin !== `http://${host}`) return refuse(403, deskRefusals.origin);
    const url = new URL(request.url ?? "/", `http://${host}`);
    const given = url.searchParams.get("key");
    if (request.method === "GET" && url.pathname === "/" && given !== null && !isKeySpent && same(given, key)) {
      isKeySpent = true;
      response.writeHead(303, { location: "/", "set-cookie": `${cookie}=${session}; HttpOnly; SameSite=Strict; Path=/` }).end();
      return;
    }
    if (!same(cookieNamed(cookie, request.headers.cookie) ?? "", session)) return refuse(403, deskRefusals.key);
    if (request.method === "GET" && url.pathname === "/") {
      // An address that is opened again has its key no more.
      if (url.search !== "") return void response.writeHead(303, { location: "/" }).end();
      response.writeHead(200, { "content-type": "text/html; charset=utf-8", "content-security-policy": page.policy }).end(page.html);
      return;
    }
    if (request.method === "GET" && url.pathname === routes.files) {
      const list: FileList = { folder: folder.name, files: await folder.files() };
      response.writeHead(200, { "content-type": "application/json; charset=utf-8" }).end(JSON.stringify(list));
      return;
    }
    if (request.method === "GET" && url.pathname === routes.changes) {
      response.writeHead(200, { "content-type": "text/event-stream" }).write(": here\n\n");
      listeners.add(response);
      response.on("close", () => listeners.delete(response));
      return;
    }
    const path = fileOf(url.pathname);
    if (path === undefined) return refuse(404, deskRefusals.address);
    if (request.method === "GET") {
      const file = folder.read(path);
      if ("problem" in file) return refuse(file.status, file.problem);
      response.writeHead(200, { "content-type": "text/plain; charset=utf-8", etag: file.version }).end(file.text);
      return;
    }
    if (request.method !== "PUT") return refuse(405, deskRefusals.address);
    if (origin === undefined) return refuse(403, deskRefusals.origin);
    const [match, none] = [request.headers["if-match"], request.headers["if-none-match"]];
    if ((match === undefined) === (none !== "*")) return refuse(428, deskRefusals.noVersion);
    const body = decode(await bodyOf(request));
    if ("problem" in body) return refuse(422, deskRefusals.cannotWrite(path, body.problem));
    const written = folder.write(path, body.text, match);
    if ("problem" in written) return refuse(written.status, written.problem);
    response.writeHead(200, { etag: written.version }).end();
  };
  const server: Server = createServer((request, response) => {
    answer(request, response).catch(() => {
      if (!response.headersSent) response.writeHead(500);
      response.end();
    });
  });
  await new Promise<void>((done, fail) => {
    server.once("error", fail);
    server.listen(port, "127.0.0.1", () => done());
  }).catch(async (error: unknown) => {
    await unwatch();
    throw error;
  });
  return {
    address: `http://127.0.0.1:${(server.address() as AddressInfo).port}/?key=${key}`,
    close: async () => {
      await unwatch();
      for (const listener of listeners) listener.end();
      server.closeAllConnections();
      await new Promise<void>((done) => server.close(() => done()));
    },
  };
}

function secret(): string {
  return randomBytes(24).toString("base64url");
}

/** As long for a near miss as for a far one. */
function same(given: string, secret: string): boolean {
  const [one, other] = [Buffer.from(given), Buffer.from(secret)];
  return one.length === other.length && timingSafeEqual(one, other);
}

function cookieNamed(name: string, header = ""): string | undefined {
  return header
    .split(";")
    .map((pair) => pair.trim().split("="))
    .find(([key]) => key === name)?.[1];
}

function fileOf(pathname: string): string | undefined {
  if (!pathname.startsWith(routes.file)) return undefined;
  try {
    return decodePath(pathname.slice(routes.file.length));
  } catch {
    return undefined;
  }
}

/** Undefined: more than a book may have. */
async function bodyOf(request: IncomingMessage): Promise<Uint8Array | undefined> {
  const parts: Uint8Array[] = [];
  let size = 0;
  for await (const part of request as AsyncIterable<Uint8Array>) {
    size += part.length;
    // The rest is read, so that the answer arrives, and forgotten.
    if (size <= largestBook) parts.push(part);
  }
  return size > largestBook ? undefined : Buffer.concat(parts);
}
