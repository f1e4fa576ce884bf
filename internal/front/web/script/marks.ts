// Marks are put on a photograph where it is tapped: two taps for an arrow or
// a ring, or one drag; one tap for a number or a text; or with the arrow keys
// and Enter. The form of the page sends them, so that what is shown is what
// is kept.

type Point = { x: number; y: number };

const how: Record<string, [first: string, second: string]> = {
  arrow: ["Tap where the arrow begins, or drag.", "Now tap where its head is."],
  ring: ["Tap the middle of the ring, or drag outwards.", "Now tap how far it reaches."],
  number: ["Tap where the number goes.", ""],
  text: ["Write the text, then tap where it begins.", ""],
};

const slack = 10; // CSS pixels that a tap may move

class Pencil {
  private svg: SVGSVGElement;
  private first: Point | null = null;
  private down: Point | null = null; // of a drag, on the screen
  private cross: Point | null = null; // moved by keys
  private preview: SVGElement | null = null;

  constructor(
    private box: HTMLElement,
    private form: HTMLFormElement,
  ) {
    this.svg = box.querySelector("svg")!;
    box.tabIndex = 0;
    box.setAttribute("role", "group");
    box.setAttribute("aria-label", "The photograph. With a mark chosen, the arrow keys move a cross, Enter puts it there, Escape begins anew.");
    for (const radio of form.querySelectorAll<HTMLInputElement>("[name=kind]")) radio.addEventListener("change", () => this.begin());
    box.addEventListener("dragstart", (e) => e.preventDefault());
    box.addEventListener("pointerdown", (e) => {
      if (e.pointerType === "touch" || e.button !== 0 || !this.two() || this.first) return;
      this.down = { x: e.clientX, y: e.clientY };
      this.first = this.place(e);
      box.setPointerCapture(e.pointerId);
    });
    box.addEventListener("pointermove", (e) => this.show(this.place(e)));
    box.addEventListener("pointerup", (e) => this.up(e));
    box.addEventListener("click", (e) => this.tap(e));
    box.addEventListener("keydown", (e) => this.key(e));
    this.begin();
  }

  private kind(): string {
    return new FormData(this.form).get("kind")?.toString() ?? "";
  }

  private two(): boolean {
    return this.kind() === "arrow" || this.kind() === "ring";
  }

  private begin(): void {
    this.first = this.down = null;
    this.preview?.remove();
    this.preview = null;
    this.say(0);
  }

  private say(step: 0 | 1): void {
    const words = how[this.kind()]?.[step] ?? "Choose what to draw, then tap on the photograph.";
    const seen = this.form.querySelector<HTMLElement>("[data-how]")!;
    seen.hidden = false;
    seen.textContent = words;
    this.form.querySelector<HTMLElement>("[data-said]")!.textContent = words;
  }

  // place is where on the photograph, in its own pixels.
  private place(e: MouseEvent): Point {
    const r = this.box.getBoundingClientRect();
    return this.inside({ x: ((e.clientX - r.left) / r.width) * this.width(), y: ((e.clientY - r.top) / r.height) * this.height() });
  }

  private inside(p: Point): Point {
    return { x: Math.round(Math.min(Math.max(p.x, 0), this.width())), y: Math.round(Math.min(Math.max(p.y, 0), this.height())) };
  }

  private width(): number {
    return Number(this.box.dataset.width);
  }

  private height(): number {
    return Number(this.box.dataset.height);
  }

  private up(e: PointerEvent): void {
    if (!this.down) return;
    const far = Math.hypot(e.clientX - this.down.x, e.clientY - this.down.y) > slack;
    if (far) this.put(this.first!, this.place(e));
    else this.first = null; // a tap; the click that follows takes it
    this.down = null;
  }

  private tap(e: MouseEvent): void {
    if (this.form.dataset.sent) return;
    this.at(this.place(e));
  }

  private at(p: Point): void {
    const kind = this.kind();
    if (!(kind in how)) return;
    const text = this.form.querySelector<HTMLInputElement>("[name=text]")!;
    if (kind === "text" && text.value.trim() === "") {
      text.focus();
      return;
    }
    if (!this.two()) this.put(p, p);
    else if (this.first) this.put(this.first, p);
    else {
      this.first = p;
      this.say(1);
    }
  }

  private put(from: Point, to: Point): void {
    for (const [name, value] of Object.entries({ x: from.x, y: from.y, x2: to.x, y2: to.y })) this.form.querySelector<HTMLInputElement>(`[name=${name}]`)!.value = String(value);
    this.form.requestSubmit(this.form.querySelector<HTMLButtonElement>("[name=do][value=mark]"));
  }

  private key(e: KeyboardEvent): void {
    if (e.ctrlKey || e.metaKey || e.altKey || !(this.kind() in how)) return;
    const step = Math.max(this.width(), this.height()) / (e.shiftKey ? 400 : 50);
    const moves: Record<string, [number, number]> = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] };
    const at = this.cross ?? { x: this.width() / 2, y: this.height() / 2 };
    if (e.key in moves) {
      this.cross = this.inside({ x: at.x + moves[e.key][0], y: at.y + moves[e.key][1] });
      this.show(this.cross);
    } else if (e.key === "Enter") this.at(at);
    else if (e.key === "Escape") this.begin();
    else return;
    e.preventDefault();
  }

  // show draws what would be put there.
  private show(p: Point): void {
    if (!this.first && !this.cross) return;
    const from = this.first ?? p;
    const arm = Math.max(this.width(), this.height()) / 60;
    let d = `M${p.x - arm} ${p.y}H${p.x + arm}M${p.x} ${p.y - arm}V${p.y + arm}`;
    if (this.first && this.kind() === "arrow") d = `M${from.x} ${from.y}L${p.x} ${p.y}`;
    if (this.first && this.kind() === "ring") {
      const r = Math.hypot(p.x - from.x, p.y - from.y);
      d = `M${from.x - r} ${from.y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0`;
    }
    if (!this.preview) {
      this.preview = document.createElementNS("http://www.w3.org/2000/svg", "path");
      this.preview.setAttribute("class", "over");
      this.svg.append(this.preview);
    }
    this.preview.setAttribute("d", d);
  }
}

const box = document.querySelector<HTMLElement>("[data-marked][data-width]");
const form = document.querySelector<HTMLFormElement>("form[data-draw]");
if (box && form) new Pencil(box, form);
