// Taps at a clock: each is stamped by this device's steady clock at the moment
// the finger or the space bar goes down, and turned into the time of the shop's
// computer. What was tapped outlives the page until it is saved or begun anew.

import { ShopTime } from "./shoptime";

const again = 20_000; // ms between looks at the shop's time while one taps
const bounce = 120; // ms: a finger does not come down twice within it


class Taps {
  private taps: number[] = []; // performance.now()
  private readonly time = new ShopTime();
  private asked = 0;
  private turn = 0;

  constructor(private readonly form: HTMLFormElement) {}

  begin(): void {
    const here = this.form.querySelector<HTMLButtonElement>("[data-tap-here]");
    if (!here) return;
    for (const e of this.form.querySelectorAll<HTMLElement>("[data-no-script]")) e.hidden = true;
    here.type = "button";
    here.addEventListener("pointerdown", (e) => {
      e.preventDefault();
      this.tap(e.timeStamp);
    });
    here.addEventListener("click", (e) => {
      if (e.detail === 0) this.tap(e.timeStamp); // from the keyboard or a reader of the screen
    });
    document.addEventListener("keydown", (e) => this.key(e));
    this.form.addEventListener("click", (e) => this.button(e));
    this.form.addEventListener("submit", () => {
      this.fill();
      sessionStorage.removeItem(this.name()); // where it is not saved the page comes back with them
    });
    for (const f of this.form.querySelectorAll("select,input:not([type=hidden])")) f.addEventListener("change", () => void this.look());
    this.down(here);
    void this.start(here);
  }

  // down brings the target to the foot of a phone's screen.
  private down(here: HTMLElement): void {
    if (window.innerWidth < 800 && this.taps.length === 0 && !document.querySelector("#error-summary,.notice.clash")) here.scrollIntoView({ block: "end" });
  }

  private async start(here: HTMLElement): Promise<void> {
    this.asked = performance.now();
    await this.time.ask(6);
    this.down(here); // what stands above it has its height by now
    const kept = this.value("taps") || sessionStorage.getItem(this.name()) || "";
    const zero = this.time.by(0);
    if (zero) this.taps = kept.split(/[\s,]+/).filter(Boolean).map((x) => Number(x) - zero.ms).filter((x) => Number.isFinite(x) && x > -6 * 3600_000).concat(this.taps);
    const half = this.time.by(performance.now())?.half;
    const words = document.querySelector<HTMLElement>("[data-stamped]");
    if (words && half !== undefined) words.textContent = `Taps are stamped here and held against the shop’s computer to ${half < 10 ? half.toFixed(1) : half.toFixed(0)} ms. The space bar taps as well.`;
    this.show();
    if (this.taps.length > 0) void this.look();
  }

  private name(): string {
    return "seatboard-taps-" + (this.form.dataset.tap ?? "");
  }

  private key(e: KeyboardEvent): void {
    if (e.key !== " " || e.repeat || e.ctrlKey || e.metaKey || e.altKey) return;
    const on = e.target as HTMLElement;
    if (on.closest("input,select,textarea,summary,a,button:not([data-tap-here])")) return;
    e.preventDefault();
    this.tap(e.timeStamp);
  }

  private button(e: MouseEvent): void {
    const b = (e.target as HTMLElement).closest<HTMLButtonElement>("button[name=do]");
    if (!b || (b.value !== "less" && b.value !== "none")) return;
    e.preventDefault();
    if (b.value === "less") this.taps.pop();
    else this.taps = [];
    this.show();
    void this.look();
  }

  private tap(at: number): void {
    const last = this.taps[this.taps.length - 1];
    if (last !== undefined && at - last < bounce) return;
    this.taps.push(at);
    this.show();
    const here = this.form.querySelector<HTMLElement>("[data-tap-here]");
    here?.setAttribute("aria-pressed", "true");
    window.setTimeout(() => here?.removeAttribute("aria-pressed"), 120);
    void this.after();
  }

  // after looks at the shop's time again now and then, and at what the taps say.
  private async after(): Promise<void> {
    if (performance.now() - this.asked > again) {
      this.asked = performance.now();
      await this.time.ask(3);
    }
    await this.look();
  }

  // fill puts the taps into the form, by the shop's computer; the doubt of an
  // even spread to the worst limit.
  private fill(): void {
    const out: string[] = [];
    let worst = 0;
    for (const t of this.taps) {
      const by = this.time.by(t);
      if (!by) continue;
      out.push(by.ms.toFixed(1));
      worst = Math.max(worst, by.half);
    }
    this.set("taps", out.join(" "));
    this.set("u", (worst / 1000 / Math.sqrt(3)).toFixed(4));
    if (out.length > 0) sessionStorage.setItem(this.name(), out.join(" "));
    else sessionStorage.removeItem(this.name());
  }

  private show(): void {
    this.fill();
    const words = this.form.querySelector<HTMLElement>("[data-tapped]");
    const n = this.taps.length;
    if (!words) return;
    words.textContent = n === 0 ? "Tap as the hand comes to the mark. Three taps are the least, ten are good; one blow is enough." : n === 1 ? "1 tap so far" : `${n} taps so far`;
  }

  // words puts the reading beside the count, above the thumb.
  private words(reading: string): void {
    const words = this.form.querySelector<HTMLElement>("[data-tapped]");
    if (words && reading !== "") words.textContent = `${this.taps.length} taps: ${reading}`;
  }

  // look asks what the taps say; an answer that comes late is left.
  private async look(): Promise<void> {
    const turn = ++this.turn;
    const said = this.form.querySelector<HTMLElement>("[data-said]");
    if (!said) return;
    if (this.taps.length === 0) {
      said.replaceChildren();
      return;
    }
    this.fill();
    const body = new URLSearchParams();
    for (const [name, value] of new FormData(this.form)) body.append(name, String(value));
    body.append("do", "look");
    body.append("part", "yes");
    try {
      const answer = await fetch(this.form.action, { method: "POST", body });
      if (!answer.ok || turn !== this.turn) return;
      const parsed = new DOMParser().parseFromString(await answer.text(), "text/html");
      said.replaceChildren(...Array.from(parsed.body.childNodes));
      this.words(said.querySelector(".say")?.textContent ?? "");
    } catch {
      // the network is down: the taps are kept, and looked at when it is back
    }
  }

  private value(name: string): string {
    return (this.form.elements.namedItem(name) as HTMLInputElement).value.trim();
  }

  private set(name: string, value: string): void {
    (this.form.elements.namedItem(name) as HTMLInputElement).value = value;
  }
}

for (const form of document.querySelectorAll<HTMLFormElement>("form[data-tap]")) new Taps(form).begin();
