// Photographs are sent as they are taken: each by itself, two at a time, each
// with its own state, from a queue that the browser keeps until the server
// says that they are safe.

import { jpegOf } from "./heic";
import { Later, Refused, Safe, send } from "./piecework";
import { newID, Place, Queue, Shot, unsentKey } from "./queue";

const atOnce = 2;
const waits = [1, 2, 5, 10, 30]; // s before the next try

// Row is a photograph as the page shows it.
interface Row {
  shot: Shot;
  li: HTMLLIElement;
  state: HTMLElement;
  bar: HTMLProgressElement;
  again: HTMLButtonElement;
  out: HTMLButtonElement;
  is: "waiting" | "sending" | "safe" | "failed" | "out";
  kept: boolean; // by the browser
  tries: number;
  notBefore: number; // ms since 1970
}

class Sending {
  private rows: Row[] = [];
  private active = 0;
  private timer = 0;
  private list: HTMLElement;
  private told: HTMLElement;
  private said: HTMLElement;
  private freshening: Promise<void> | null = null;

  constructor(
    private form: HTMLFormElement,
    private box: HTMLElement,
    private queue: Queue,
  ) {
    this.list = box.querySelector("ul")!;
    this.told = box.querySelector("[data-told]")!;
    this.said = box.querySelector("[data-said]")!;
    for (const input of form.querySelectorAll<HTMLInputElement>("input[type=file]")) {
      const take = () => {
        const files = Array.from(input.files ?? []);
        input.value = "";
        void this.take(files, this.place());
      };
      input.addEventListener("change", take);
      if (input.files?.length) take(); // chosen before this ran
    }
    form.addEventListener("submit", (e) => e.preventDefault());
    form.querySelector<HTMLElement>("[data-send]")!.hidden = true;
    for (const e of form.querySelectorAll("[name=stage], [name=area]")) e.addEventListener("change", () => this.address());
    window.addEventListener("online", () => this.hurry());
    document.addEventListener("visibilitychange", () => document.hidden || this.hurry());
    window.addEventListener("beforeunload", (e) => {
      if (this.rows.some((r) => !r.kept && this.open(r))) e.preventDefault();
    });
    window.setInterval(() => this.tell(), 15_000);
  }

  // resume takes up what a page before this one left.
  async resume(): Promise<void> {
    for (const shot of await this.queue.all()) this.add(shot, true);
    this.tell();
    this.pump();
  }

  private value(name: string): string {
    const e = this.form.elements.namedItem(name);
    return e instanceof HTMLInputElement || e instanceof HTMLSelectElement ? e.value.trim() : "";
  }

  private place(): Place {
    const { clock = "", words = "" } = this.form.dataset;
    return { clock, words, part: this.value("part"), stage: this.value("stage"), area: this.value("area"), same: this.value("same") };
  }

  // address keeps what was chosen in the address, for a page that the camera
  // made the phone throw away.
  private address(): void {
    const u = new URL(location.href);
    for (const name of ["stage", "area"]) {
      if (this.value(name)) u.searchParams.set(name, this.value(name));
      else u.searchParams.delete(name);
    }
    history.replaceState(null, "", u);
  }

  private async take(files: (File | [string, Blob])[], at: Place): Promise<void> {
    if (files.length === 0) return;
    this.address();
    void navigator.storage?.persist?.();
    const fresh: Row[] = [];
    for (const f of files) {
      const [name, file] = f instanceof File ? [f.name, f] : f;
      fresh.push(this.add({ id: newID(), name, added: Date.now(), file, sum: "", at }, false));
    }
    this.tell();
    for (const row of fresh) {
      row.kept = await this.queue.put(row.shot);
      this.tell();
    }
    this.pump();
    for (const row of fresh) await this.look(row);
  }

  private add(shot: Shot, kept: boolean): Row {
    const make = <K extends keyof HTMLElementTagNameMap>(tag: K, text = ""): HTMLElementTagNameMap[K] => {
      const e = document.createElement(tag);
      e.textContent = text;
      return e;
    };
    const row: Row = { shot, li: make("li"), state: make("span", "waiting"), bar: make("progress"), again: make("button", "Again"), out: make("button", "Leave it out"), is: "waiting", kept, tries: 0, notBefore: 0 };
    row.li.dataset.shot = "waiting";
    row.bar.max = 1;
    row.bar.value = 0;
    row.bar.setAttribute("aria-label", shot.name);
    row.again.type = row.out.type = "button";
    row.again.className = row.out.className = "second";
    row.again.hidden = row.out.hidden = true;
    row.again.addEventListener("click", () => {
      row.is = "waiting";
      row.notBefore = 0;
      this.set(row, "waiting");
      this.pump();
    });
    row.out.addEventListener("click", async () => {
      row.is = "out";
      row.again.disabled = row.out.disabled = true;
      await this.queue.drop(row.shot.id); // until then it would be there again
      row.li.remove();
      this.tell();
    });
    const words = [shot.name, shot.at.words, shot.at.part && "part " + shot.at.part, shot.at.stage, shot.at.area].filter(Boolean).join(", ");
    row.li.append(make("span", words), row.state, row.bar, row.again, row.out);
    this.list.append(row.li);
    this.rows.push(row);
    return row;
  }

  // look shows it small; a browser that cannot shows its name alone.
  private async look(row: Row): Promise<void> {
    try {
      const small = await createImageBitmap(row.shot.file, { resizeWidth: 96, resizeQuality: "low" });
      const c = document.createElement("canvas");
      c.width = small.width;
      c.height = Math.min(small.height, 128);
      c.getContext("2d")!.drawImage(small, 0, 0);
      c.setAttribute("aria-hidden", "true");
      small.close();
      row.li.prepend(c);
    } catch {
      /* its name stands there */
    }
  }

  private open(r: Row): boolean {
    return r.is === "waiting" || r.is === "sending" || r.is === "failed";
  }

  private set(row: Row, words: string): void {
    row.state.textContent = words;
    row.li.dataset.shot = row.is;
    row.again.hidden = row.is !== "failed" && row.notBefore === 0;
    row.out.hidden = row.is !== "failed";
    row.bar.hidden = row.is !== "sending";
  }

  private hurry(): void {
    for (const r of this.rows) r.notBefore = 0;
    this.pump();
  }

  private pump(): void {
    window.clearTimeout(this.timer);
    const now = Date.now();
    for (const row of this.rows) {
      if (this.active >= atOnce) return;
      if (row.is === "waiting" && row.notBefore <= now) void this.one(row);
    }
    const next = Math.min(...this.rows.filter((r) => r.is === "waiting").map((r) => r.notBefore));
    if (this.active < atOnce && Number.isFinite(next)) this.timer = window.setTimeout(() => this.pump(), Math.max(100, next - now));
  }

  private async one(row: Row): Promise<void> {
    this.active++;
    row.is = "sending";
    row.notBefore = 0;
    this.set(row, "sending");
    const share = (x: number) => {
      row.bar.value = x;
      row.tries = 0;
      row.state.textContent = `sending, ${Math.round(100 * x)} %`;
    };
    try {
      const safe = await send(row.shot, () => this.value("token"), () => this.fresh(), share);
      await this.isSafe(row, safe);
    } catch (e) {
      this.isNot(row, e);
    }
    this.active--;
    this.tell();
    this.pump();
  }

  private async isSafe(row: Row, safe: Safe): Promise<void> {
    row.is = "safe";
    this.set(row, safe.again ? "safe, it was here already" : "safe");
    const a = document.createElement("a");
    a.href = safe.photo;
    a.textContent = row.li.querySelector("span")!.textContent;
    row.li.querySelector("span")!.replaceChildren(a);
    const jpeg = safe.heic && !safe.again ? await jpegOf(row.shot.file) : null;
    await this.queue.drop(row.shot.id);
    if (jpeg) await this.take([[row.shot.name + ".jpg", jpeg]], { ...row.shot.at, same: safe.photo.replace("/photos/", "") });
    else if (safe.heic) this.set(row, "safe; this browser cannot show a HEIC, let the phone send JPEG");
    row.shot.file = new Blob(); // let the memory go
    if (!this.rows.some((r) => r.is === "waiting" || r.is === "sending")) void this.refresh();
  }

  private isNot(row: Row, why: unknown): void {
    const words = why instanceof Error ? why.message : String(why);
    if (why instanceof Later) {
      const wait = waits[Math.min(row.tries++, waits.length - 1)];
      row.is = "waiting";
      row.notBefore = Date.now() + 1000 * wait;
      this.set(row, `${words} It is tried again by itself.`);
      return;
    }
    row.is = "failed";
    this.set(row, "Not taken in. " + words);
    if (!(why instanceof Refused)) console.error(why);
  }

  // fresh gets the token of a page of now: the program was started anew.
  private fresh(): Promise<void> {
    this.freshening ??= this.page().then((page) => {
      const token = page?.querySelector<HTMLInputElement>("form[data-photos] [name=token]");
      if (token) (this.form.elements.namedItem("token") as HTMLInputElement).value = token.value;
      this.freshening = null;
    });
    return this.freshening;
  }

  private async page(): Promise<Document | null> {
    try {
      const r = await fetch(location.href, { headers: { Accept: "text/html" } });
      return r.ok ? new DOMParser().parseFromString(await r.text(), "text/html") : null;
    } catch {
      return null;
    }
  }

  // refresh brings the list of what is here up to date, until the small
  // pictures are made.
  private async refresh(looks = 30): Promise<void> {
    const now = (await this.page())?.querySelector("[data-list]");
    if (!now) return;
    document.querySelector("[data-list]")?.replaceWith(now);
    if (looks > 0 && now.querySelector("[data-waiting]")) window.setTimeout(() => void this.refresh(looks - 1), 1000);
  }

  // tell counts what is safe and what is not.
  private tell(): void {
    const here = this.rows.filter((r) => r.is !== "out");
    const open = here.filter((r) => this.open(r));
    this.box.hidden = here.length === 0;
    if (here.length === 0) return;
    const failed = open.filter((r) => r.is === "failed").length;
    const under = open.length - failed;
    let words = `${here.length - open.length} of ${here.length} safe on the shop’s disk.`;
    if (failed > 0) words += ` ${failed} not taken in: the reason stands beside it.`;
    if (under > 0) {
      const minutes = Math.floor((Date.now() - Math.min(...open.map((r) => r.shot.added))) / 60_000);
      words += ` ${under} not there yet, the oldest for ${minutes < 1 ? "less than a minute" : minutes + " min"}. Keep this page open: a browser may forget what it holds`;
      words += open.every((r) => r.kept) ? "." : ", and this one does not keep it through a reload.";
    }
    this.told.textContent = words;
    const say = failed > 0 ? `${failed} not taken in` : open.length === 0 ? "All photographs are safe" : "";
    if (this.said.textContent !== say) this.said.textContent = say;
    this.box.dataset.open = String(open.length);
    try {
      if (open.length > 0) localStorage.setItem(unsentKey, String(open.length));
      else localStorage.removeItem(unsentKey);
    } catch {
      /* forbidden */
    }
  }
}

const form = document.querySelector<HTMLFormElement>("form[data-photos]");
const box = document.querySelector<HTMLElement>("[data-queue]");
if (form && box) void Queue.open().then((queue) => new Sending(form, box, queue).resume());
