// Every beat over hours, to be looked at as near as one likes: pinch or drag,
// the wheel or the keys when the picture has the focus, or the buttons. Own
// SVG and no library of curves: one draws on a canvas, where the theme's
// colours, larger letters and a reader of the page find nothing, and it is
// five times this module. Without script the drawing of the page stays; it is
// also the one that is printed.

import { Beats, read } from "./beats";
import { draw, margin, View } from "./curve";

const download = document.querySelector<HTMLAnchorElement>("a[data-beats]");
const plate = document.querySelector('a[href*="/every-beat.svg"]')?.closest<HTMLElement>(".plate");
if (download && plate) {
  const near = new IntersectionObserver(
    (seen) => {
      if (!seen.some((s) => s.isIntersecting)) return;
      near.disconnect();
      void begin(plate, download.href);
    },
    { rootMargin: "400px" },
  );
  near.observe(plate);
}

async function begin(plate: HTMLElement, address: string): Promise<void> {
  const answer = await fetch(address, { headers: { Accept: "text/csv" } });
  const beats = answer.ok ? read(await answer.text()) : null;
  if (beats) new Zoom(plate, beats);
}

// How far a key or a button moves, as a share of the view.
const quarter = 0.25;

class Zoom {
  private whole: View;
  private view: View;
  private frame = 0;
  private told = 0;
  private picture = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  private box = document.createElement("div");
  private status = document.createElement("p");
  private fingers = new Map<number, number>(); // x of each that is down

  constructor(
    plate: HTMLElement,
    private beats: Beats,
  ) {
    const at = beats.at;
    this.whole = { from: at[0], to: at[at.length - 1] };
    this.view = { ...this.whole };
    this.picture.setAttribute("class", "fig");
    this.picture.setAttribute("aria-hidden", "true");
    this.box.className = "drawing zoom";
    this.box.tabIndex = 0;
    this.box.setAttribute("role", "group");
    this.box.setAttribute("aria-label", "Every beat against the mean rate. Plus and minus look closer and wider, the arrows move, Escape shows all.");
    this.box.append(this.picture);
    this.status.className = "status";
    this.status.setAttribute("role", "status");
    const figure = plate.querySelector("figure")!;
    figure.classList.add("zoomed");
    figure.prepend(this.box, this.buttons(), this.status);
    this.listen();
    new ResizeObserver(() => this.show()).observe(this.box);
  }

  private buttons(): HTMLElement {
    const row = document.createElement("div");
    row.className = "choices zoom";
    const acts: [string, () => void][] = [
      ["Closer", () => this.scale(0.5)],
      ["Wider", () => this.scale(2)],
      ["Earlier", () => this.shift(-quarter)],
      ["Later", () => this.shift(quarter)],
      ["All", () => this.all()],
    ];
    for (const [words, act] of acts) {
      const b = document.createElement("button");
      b.type = "button";
      b.className = "plain";
      b.textContent = words;
      b.addEventListener("click", act);
      row.append(b);
    }
    return row;
  }

  private listen(): void {
    const box = this.box;
    box.addEventListener("keydown", (e) => this.key(e));
    box.addEventListener("wheel", (e) => this.wheel(e), { passive: false });
    box.addEventListener("dblclick", () => this.all());
    box.addEventListener("pointerdown", (e) => {
      if (e.button !== 0) return;
      this.fingers.set(e.pointerId, e.clientX);
      box.setPointerCapture(e.pointerId);
    });
    box.addEventListener("pointermove", (e) => this.moves(e));
    for (const end of ["pointerup", "pointercancel"] as const) box.addEventListener(end, (e) => this.fingers.delete(e.pointerId));
  }

  private key(e: KeyboardEvent): void {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    const acts: Record<string, () => void> = {
      "+": () => this.scale(0.5),
      "=": () => this.scale(0.5),
      "-": () => this.scale(2),
      ArrowLeft: () => this.shift(-quarter),
      ArrowRight: () => this.shift(quarter),
      Home: () => this.shift(-Infinity),
      End: () => this.shift(Infinity),
      Escape: () => this.all(),
    };
    if (!Object.hasOwn(acts, e.key)) return;
    e.preventDefault();
    acts[e.key]();
  }

  // wheel acts when the picture has the focus, or for a pinch on a pad, so
  // that a page that is scrolled past it goes on.
  private wheel(e: WheelEvent): void {
    if (!e.ctrlKey && document.activeElement !== this.box) return;
    e.preventDefault();
    const lines = e.deltaMode === WheelEvent.DOM_DELTA_LINE ? 33 : 1;
    if (Math.abs(e.deltaX) > Math.abs(e.deltaY)) this.shift((e.deltaX * lines) / this.wide());
    else this.scale(Math.exp(Math.min(Math.max(e.deltaY * lines, -200), 200) * (e.ctrlKey ? 0.01 : 0.003)), this.time(e.clientX));
  }

  // moves drags with one finger or pinches with two.
  private moves(e: PointerEvent): void {
    const was = this.fingers.get(e.pointerId);
    if (was === undefined) return;
    const other = [...this.fingers].find(([id]) => id !== e.pointerId)?.[1];
    if (other === undefined) this.shift((was - e.clientX) / this.wide());
    else {
      const least = 8; // pixels between two fingers
      this.scale(Math.max(Math.abs(was - other), least) / Math.max(Math.abs(e.clientX - other), least), this.time(other));
    }
    this.fingers.set(e.pointerId, e.clientX);
  }

  private wide(): number {
    return Math.max(this.box.clientWidth - margin.left - margin.right, 1);
  }

  // time is that under a place of the screen.
  private time(x: number): number {
    const share = (x - this.box.getBoundingClientRect().left - margin.left) / this.wide();
    return this.view.from + Math.min(Math.max(share, 0), 1) * (this.view.to - this.view.from);
  }

  // scale makes the view so many times as wide about a time.
  private scale(by: number, about = (this.view.from + this.view.to) / 2): void {
    const all = this.whole.to - this.whole.from;
    const least = Math.min(all, (12 * all) / this.beats.at.length); // some ten beats
    const was = this.view.to - this.view.from;
    const span = Math.min(Math.max(was * by, least), all);
    this.place(about - ((about - this.view.from) * span) / was, span);
  }

  // shift moves the view by a share of its width.
  private shift(by: number): void {
    const span = this.view.to - this.view.from;
    this.place(this.view.from + by * span, span);
  }

  private all(): void {
    this.place(this.whole.from, this.whole.to - this.whole.from);
  }

  private place(start: number, span: number): void {
    const first = Math.min(Math.max(start, this.whole.from), this.whole.to - span);
    this.view = { from: first, to: first + span };
    this.show();
  }

  private show(): void {
    cancelAnimationFrame(this.frame);
    this.frame = requestAnimationFrame(() => {
      const width = this.box.clientWidth;
      if (width < 2 * margin.left) return;
      const words = draw(this.picture, this.beats, this.view, width);
      window.clearTimeout(this.told); // said when the hand rests
      this.told = window.setTimeout(() => (this.status.textContent = words), 250);
    });
  }
}
