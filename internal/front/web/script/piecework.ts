// One photograph is sent in pieces: begun, gone on with where the server has
// it, finished. It is safe when the server says so, and not before.

import type { Shot } from "./queue";
import { Sha256 } from "./sha256";

const piece = 1 << 19; // bytes
const patience = 60_000; // ms for one answer

interface Answer {
  at: number;
  safe?: boolean;
  again?: boolean;
  photo?: string;
  heic?: boolean;
  wrong?: { code: string; message: string };
}

export interface Safe {
  photo: string; // its page
  again: boolean; // it was there before
  heic: boolean; // the server cannot show it
}

// Refused is what the server will not take however often it is sent.
export class Refused extends Error {}

// Later is what may go well at another time: no network, no room.
export class Later extends Error {}

export async function send(s: Shot, token: () => string, fresh: () => Promise<void>, told: (share: number) => void): Promise<Safe> {
  if (s.sum === "") s.sum = await sumOf(s.file);
  for (let tries = 0; tries < 5; tries++) {
    let a = await ask("/uploads", token(), new URLSearchParams({ id: s.id, name: s.name, size: String(s.file.size), sha256: s.sum, clock: s.at.clock, part: s.at.part, stage: s.at.stage, area: s.at.area, same: s.at.same }));
    while (!a.wrong && !a.safe) {
      told(a.at / s.file.size);
      const path = "/uploads/" + s.id;
      if (a.at >= s.file.size) a = await ask(path + "/finish", token(), null);
      else a = await ask(`${path}?at=${a.at}`, token(), await read(s.file.slice(a.at, a.at + piece)));
    }
    if (a.safe && a.photo) return { photo: a.photo, again: a.again === true, heic: a.heic === true };
    if (a.wrong?.code === "stale") await fresh();
    else if (a.wrong?.code === "too-often" || a.wrong?.code === "storage" || a.wrong?.code === "in-use" || a.wrong?.code === "internal") throw new Later(a.wrong.message);
    else if (a.wrong?.code !== "conflict" && a.wrong?.code !== "not-found") throw new Refused(a.wrong?.message ?? "The server's answer cannot be read.");
    else if (tries > 1) await new Promise((ok) => setTimeout(ok, 300 * tries));
  }
  throw new Later("It did not arrive as it was sent.");
}

// ask gives an answer of the server, also one that says what is wrong.
async function ask(path: string, token: string, body: BodyInit | null): Promise<Answer> {
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), patience);
  let r: Response;
  try {
    r = await fetch(path, { method: "POST", body, headers: { "Seatboard-Token": token }, signal: stop.signal });
  } catch {
    throw new Later("The shop’s computer does not answer.");
  } finally {
    clearTimeout(timer);
  }
  try {
    return (await r.json()) as Answer;
  } catch {
    if (r.status === 404 || r.status < 500) throw new Refused(`The shop’s computer answers with ${r.status}. Load the page again.`);
    throw new Later(`The shop’s computer answers with ${r.status}.`);
  }
}

async function read(b: Blob): Promise<ArrayBuffer> {
  try {
    return await b.arrayBuffer();
  } catch {
    throw new Refused("The browser can no longer read this photograph. Choose it once more.");
  }
}

async function sumOf(file: Blob): Promise<string> {
  const sum = new Sha256();
  for (let at = 0; at < file.size; at += piece) sum.add(new Uint8Array(await read(file.slice(at, at + piece))));
  return sum.hex();
}
