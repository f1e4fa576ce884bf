// The pair of a depthing, turned through a pitch by hand or by itself. Angles,
// touch and flanks are those of the page's own tables; without script, and on
// paper, the three standing positions say the same.

export {}; // a module of its own

interface Moment {
  wheel: number; // degrees past the line of centres
  pinion: number;
  x: number; // of the touch, mm from the pitch circle of the wheel
  y: number;
  speed: number; // per cent; 0 while the wheel runs free
  torque: number;
}

interface Pt {
  x: number;
  y: number;
}

interface Pair {
  moments: Moment[];
  centres: number;
  pitch: [number, number]; // radii
  flanks: [Pt[], Pt[]];
}

const plate = (name: string) => document.querySelector(`a[href*="/${name}.svg"]`)?.closest<HTMLElement>(".plate");

// rows are the cells of a figure's table.
function rows(of: Element | null | undefined): string[][] {
  return [...(of?.querySelectorAll("tbody tr") ?? [])].map((r) => [...r.children].map((c) => c.textContent ?? ""));
}

function number(words: string): number {
  return Number(words.replace("−", "-").replace(/\s/g, ""));
}

function read(): Pair | null {
  const moments = rows(plate("depthing")).map((r) => {
    const [wheel, pinion, x, y, speed, torque] = r.map(number);
    return { wheel, pinion, x, y, speed, torque };
  });
  const points = rows(plate("flanks")).map((r) => ({ of: r[0], x: number(r[1]), y: number(r[2]) }));
  const size = (of: string) => points.find((p) => p.of === of)?.x ?? NaN;
  const flank = (of: string) => points.filter((p) => p.of === of);
  const out: Pair = {
    moments,
    centres: size("centre of the pinion"),
    pitch: [size("wheel's pitch circle"), size("pinion's pitch circle")],
    flanks: [flank("tooth"), flank("leaf")],
  };
  const all = [out.centres, ...out.pitch, ...moments.flatMap((m) => Object.values(m) as number[])];
  return moments.length > 2 && all.every(Number.isFinite) && out.flanks.every((f) => f.length > 2) ? out : null;
}

const space = "http://www.w3.org/2000/svg";
const steps = 1000; // of the slider in a pitch
const lasts = 6000; // ms for a pitch

class Turning {
  private readonly wheel: SVGElement;
  private readonly pinion: SVGElement;
  private readonly touch: SVGElement;
  private readonly slider = document.createElement("input");
  private readonly words = document.createElement("p");
  private readonly button = document.createElement("button");
  private frame = 0;
  private before = 0;

  constructor(
    plate: HTMLElement,
    private readonly pair: Pair,
  ) {
    const box = document.createElement("div");
    box.className = "drawing zoom";
    const [R] = pair.pitch;
    const tooth = this.step(0) * R;
    const [wide, high] = [4.2 * tooth, 3 * tooth];
    const picture = element("svg", { class: "fig", viewBox: "0 0 420 300", width: "100%", "aria-hidden": "true" });
    // An inner picture ends at its edges.
    const svg = picture.appendChild(element("svg", { width: 420, height: 300, viewBox: `${R - 0.45 * wide} ${-0.42 * high} ${wide} ${high}` }));
    this.wheel = svg.appendChild(this.gear(0, "f-band"));
    this.pinion = svg.appendChild(this.gear(1, "f-ground"));
    for (const [r, x] of [
      [pair.pitch[0], 0],
      [pair.pitch[1], pair.centres],
    ])
      svg.append(stroke("circle", { cx: x, cy: 0, r, class: "p-dash f-none" }));
    svg.append(stroke("path", { d: `M${R - wide} 0H${R + wide}`, class: "p-chain f-none" }));
    const way = pair.moments.filter((m) => m.speed > 0);
    way.forEach((m, i) => {
      const last = way[i - 1];
      if (last && Math.hypot(m.x - last.x, m.y - last.y) < tooth / 3) svg.append(stroke("path", { d: `M${R + last.x} ${last.y}L${R + m.x} ${m.y}`, class: "p-steel f-none" }));
    });
    this.touch = svg.appendChild(element("g", {}));
    this.touch.append(element("circle", { r: tooth / 26, class: "f-bad" }));
    box.append(picture, ...this.controls());
    plate.querySelector("figure")!.prepend(box);
    this.show();
  }

  // step is the angle from tooth to tooth: the pitch that is turned through.
  private step(i: 0 | 1): number {
    const m = this.pair.moments;
    const last = m[m.length - 1];
    return ((i ? last.pinion - m[0].pinion : last.wheel - m[0].wheel) * Math.PI) / 180;
  }

  // gear is the teeth that come into the view, about the gear's own centre.
  private gear(i: 0 | 1, fill: string): SVGElement {
    const flank = this.pair.flanks[i];
    const step = this.step(i);
    const count = Math.round((2 * Math.PI) / step);
    const near = Math.min(Math.floor((count - 1) / 2), i ? count : 7);
    const back = flank.map((p) => ({ x: p.x, y: -p.y }));
    const tooth = [...back, ...[...flank].reverse()];
    const g = element("g", {});
    const pins = Math.abs(flank[0].y) < 1e-6;
    let whole = "";
    for (let k = -near; k <= near + (i && count % 2 === 0 ? 1 : 0); k++) {
      const around = tooth.map((p) => turned(p, k * step));
      const path = "M" + around.map((p) => `${p.x.toFixed(4)} ${p.y.toFixed(4)}`).join("L");
      if (pins) g.append(stroke("path", { d: path + "Z", class: "p-ink " + fill }));
      else whole += (whole ? "L" : "M") + path.slice(1);
    }
    if (!pins && i) g.append(stroke("path", { d: whole + "Z", class: "p-ink " + fill }));
    if (!pins && !i) {
      // The rim goes in far enough to be out of the view.
      const deep = flank[0].x * 0.5;
      const ends = [near + 0.5, -near - 0.5].map((k) => turned({ x: deep, y: 0 }, k * step));
      g.append(stroke("path", { d: whole + ends.map((p) => `L${p.x} ${p.y}`).join("") + "Z", class: "p-ink " + fill }));
    }
    return g;
  }

  private controls(): HTMLElement[] {
    const s = this.slider;
    Object.assign(s, { type: "range", min: "0", max: String(steps), value: "0", id: "through-the-pitch" });
    s.addEventListener("input", () => {
      this.stop();
      this.show();
    });
    const label = document.createElement("label");
    label.htmlFor = s.id;
    label.textContent = "Through the pitch";
    this.words.className = "status";
    const field = document.createElement("div");
    field.className = "field";
    field.append(label, s);
    const out = [field, this.words];
    if (matchMedia("(prefers-reduced-motion: reduce)").matches) return out;
    this.button.type = "button";
    this.button.className = "plain";
    this.button.textContent = "Turn";
    this.button.addEventListener("click", () => (this.frame ? this.stop() : this.start()));
    document.addEventListener("visibilitychange", () => document.hidden && this.stop());
    return [...out, this.button];
  }

  private start(): void {
    this.button.textContent = "Stop";
    this.before = performance.now();
    const go = (now: number) => {
      const at = (Number(this.slider.value) + ((now - this.before) / lasts) * steps) % steps;
      if (at !== Number(this.slider.value)) {
        this.before = now;
        this.slider.step = "any";
        this.slider.value = String(at);
        this.show();
      }
      this.frame = requestAnimationFrame(go);
    };
    this.frame = requestAnimationFrame(go);
  }

  private stop(): void {
    cancelAnimationFrame(this.frame);
    this.frame = 0;
    this.slider.step = "1";
    this.button.textContent = "Turn";
  }

  // show sets both gears and the touch as they stand at the slider.
  private show(): void {
    const all = this.pair.moments;
    const at = (Number(this.slider.value) / steps) * (all.length - 1);
    const i = Math.min(Math.floor(at), all.length - 2);
    const [a, b, part] = [all[i], all[i + 1], at - i];
    const mid = (of: (m: Moment) => number) => of(a) + (of(b) - of(a)) * part;
    const [wheel, pinion] = [mid((m) => m.wheel), mid((m) => m.pinion)];
    this.wheel.setAttribute("transform", `rotate(${wheel})`);
    this.pinion.setAttribute("transform", `translate(${this.pair.centres} 0) rotate(${180 - pinion})`);
    const free = a.speed === 0 || b.speed === 0;
    this.touch.setAttribute("transform", `translate(${this.pair.pitch[0] + mid((m) => m.x)} ${mid((m) => m.y)})`);
    this.touch.setAttribute("visibility", free ? "hidden" : "visible");
    const y = mid((m) => m.y);
    const where = Math.abs(y) < 0.002 * this.pair.pitch[1] ? "on the line of centres" : y < 0 ? "before the line of centres" : "after the line of centres";
    const words = free ? "the wheel runs free" : `${where}: speed ${mid((m) => m.speed).toFixed(1)} %, torque ${mid((m) => m.torque).toFixed(1)} %`;
    this.words.textContent = words;
    this.slider.setAttribute("aria-valuetext", words);
  }
}

function turned(p: Pt, by: number): Pt {
  const [sin, cos] = [Math.sin(by), Math.cos(by)];
  return { x: p.x * cos - p.y * sin, y: p.x * sin + p.y * cos };
}

function element(name: string, of: Record<string, string | number>): SVGElement {
  const e = document.createElementNS(space, name);
  for (const [k, v] of Object.entries(of)) e.setAttribute(k, String(v));
  return e;
}

// stroke keeps the width of its line in pixels.
function stroke(name: string, of: Record<string, string | number>): SVGElement {
  return element(name, { ...of, "vector-effect": "non-scaling-stroke" });
}

const turning = plate("depthing");
const pair = read();
if (turning && pair) new Turning(turning, pair);
