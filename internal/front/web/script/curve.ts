// Draws the curve of the beats in its band: from far, where they lie; from
// near, every beat. Pens, fills and letterings are the classes of the theme.

import { Beats, Column, columns, from } from "./beats";

const svg = "http://www.w3.org/2000/svg";

export interface View {
  from: number; // s
  to: number;
}

export const margin = { left: 66, right: 18, top: 30, foot: 52, high: 230 };

// dense is the beats a pixel from which on single beats are not drawn.
const dense = 0.5;

// draw fills a picture with what is in view and says what it shows.
export function draw(into: SVGSVGElement, b: Beats, v: View, width: number): string {
  const field = new Field(into, b, v, width);
  return field.draw();
}

class Field {
  private near: boolean;
  private first: number;
  private last: number;
  private all: Column[];
  private reach = 1; // µs
  private right: number;
  private foot = margin.top + margin.high;

  constructor(
    private into: SVGSVGElement,
    private b: Beats,
    private v: View,
    private width: number,
  ) {
    this.right = width - margin.right;
    this.first = Math.max(0, from(b, v.from) - 1); // the lines lead out of the field
    this.last = Math.min(b.at.length, from(b, v.to) + 1);
    const pixels = this.right - margin.left;
    this.near = this.last - this.first < dense * pixels;
    this.all = columns(b, this.first, this.last, this.near ? 0 : (4 * (v.to - v.from)) / pixels);
    let most = 0.1;
    for (const c of this.all) {
      for (const y of [c.low, c.high, c.under, c.over]) if (Number.isFinite(y)) most = Math.max(most, Math.abs(y));
    }
    this.reach = round(1.15 * most);
  }

  draw(): string {
    const { into, width } = this;
    into.setAttribute("viewBox", `0 0 ${width} ${this.foot + margin.foot}`);
    into.setAttribute("width", String(width));
    into.setAttribute("height", String(this.foot + margin.foot));
    into.replaceChildren();
    const clip = id("clip");
    const hatch = id("hatch");
    const defs = this.put("defs", {});
    const p = this.put("pattern", { id: hatch, width: 5, height: 5, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" }, defs);
    this.put("line", { x1: 2.5, y1: 0, x2: 2.5, y2: 5, class: "p-hair" }, p);
    this.put("rect", { x: margin.left, y: margin.top, width: this.right - margin.left, height: margin.high }, this.put("clipPath", { id: clip }, defs));
    const scales = this.put("g", {});
    const inside = this.put("g", { "clip-path": `url(#${clip})` });
    this.heights(scales);
    const unit = this.times(scales);
    this.curve(inside, hatch);
    return this.words(unit);
  }

  private x(t: number): number {
    return margin.left + ((t - this.v.from) / (this.v.to - this.v.from)) * (this.right - margin.left);
  }
  private y(late: number): number {
    return margin.top + margin.high * (0.5 - late / (2 * this.reach));
  }

  // heights draws the scale of lateness.
  private heights(g: Element): void {
    const [size, name] = this.reach < 1000 ? [1, "µs"] : this.reach < 1e6 ? [1000, "ms"] : [1e6, "s"];
    for (let i = -2; i <= 2; i++) {
      const v = (this.reach / 2) * i;
      this.line(g, margin.left, this.y(v), this.right, this.y(v), i === 0 ? "p-ink" : "p-hair");
      this.label(g, margin.left - 8, this.y(v) + 5, (i > 0 ? "+" : "") + plain(v / size, this.reach / 2 / size), "end");
    }
    this.label(g, 4, 16, `late, ${name}`, "start");
  }

  // times draws the scale of time and gives the unit of its figures.
  private times(g: Element): Clock {
    const span = this.v.to - this.v.from;
    const step = steps.find((s) => span / s <= (this.right - margin.left) / 64) ?? 86400;
    const unit = clock(step, this.v.to);
    for (let i = Math.ceil(this.v.from / step - 1e-9); i * step <= this.v.to + 1e-9; i++) {
      const x = this.x(i * step);
      this.line(g, x, this.foot, x, this.foot + 5, "p-hair");
      this.label(g, x, this.foot + 24, unit.say(i * step), "middle");
    }
    this.label(g, this.right, this.foot + 44, `${unit.name} from the start`, "end");
    return unit;
  }

  private curve(g: Element, hatch: string): void {
    const odd = this.put("g", {});
    for (let i = 0; i < this.all.length; ) {
      let k = i + 1;
      while (k < this.all.length && !this.all[k].broken) k++;
      this.stretch(g, this.all.slice(i, k), hatch);
      const end = this.x(this.all[k - 1].end);
      if (k < this.all.length) {
        this.line(g, end, margin.top, end, this.foot, "p-dash");
        const next = this.x(this.all[k].start);
        this.line(g, next, margin.top, next, this.foot, "p-dash");
      }
      i = k;
    }
    for (const c of this.all) for (const n of c.odd) this.odd(odd, n);
    g.append(odd); // over all the rest
  }

  // stretch draws what lies between two breaks.
  private stretch(g: Element, cs: Column[], hatch: string): void {
    const zone = (low: (c: Column) => number, high: (c: Column) => number) => {
      const up: string[] = [];
      const down: string[] = [];
      for (const c of cs) {
        if (!Number.isFinite(low(c))) continue; // odd beats alone
        const ends = c === cs[0] || c === cs[cs.length - 1] ? [c.start, c.end] : [(c.start + c.end) / 2];
        for (const t of ends) {
          up.push(`${this.x(t).toFixed(1)},${this.y(high(c)).toFixed(1)}`);
          down.push(`${this.x(t).toFixed(1)},${this.y(low(c)).toFixed(1)}`);
        }
      }
      return [up, down.reverse()];
    };
    const beats = zone((c) => c.low, (c) => c.high);
    if (!this.near) this.put("polygon", { points: beats.flat().join(" "), fill: `url(#${hatch})`, class: "p-hair" }, g);
    this.put("polygon", { points: zone((c) => c.under, (c) => c.over).flat().join(" "), class: "p-none f-band" }, g);
    if (this.near) this.put("polyline", { points: beats[0].join(" "), class: "p-ink f-none", "data-each": "" }, g);
    this.put("polyline", { points: zone((c) => c.path, (c) => c.path)[0].join(" "), class: "p-steel f-none" }, g);
  }

  // odd strokes a beat far out; beyond the scale an arrow stands at its end.
  private odd(g: Element, n: number): void {
    const x = this.x(this.b.at[n]);
    const late = this.b.late[n];
    if (Math.abs(late) <= this.reach) {
      this.line(g, x, this.y(late) - 5, x, this.y(late) + 5, "p-bad");
      return;
    }
    const tip = late > 0 ? margin.top : this.foot;
    const in_ = late > 0 ? 8 : -8;
    this.put("polyline", { points: `${x - 4},${tip + in_} ${x},${tip} ${x + 4},${tip + in_}`, class: "p-bad f-none" }, g);
  }

  private words(unit: Clock): string {
    const inView = (t: number) => t >= this.v.from && t <= this.v.to;
    let beats = 0;
    let odd = 0;
    for (let i = this.first; i < this.last; i++) {
      if (!inView(this.b.at[i])) continue;
      beats++;
      odd += this.b.odd[i];
    }
    const how = this.near ? "each drawn" : "hatched from the earliest to the latest";
    const far = odd > 0 ? `, ${odd} far out` : "";
    return `From ${unit.fine(this.v.from)} to ${unit.fine(this.v.to)} (${unit.fineName}): ${beats.toLocaleString("en")} beats, ${how}${far}.`;
  }

  private put(name: string, attributes: Record<string, string | number>, into: Element = this.into): SVGElement {
    const e = document.createElementNS(svg, name);
    for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, String(v));
    into.append(e);
    return e;
  }
  private line(g: Element, x1: number, y1: number, x2: number, y2: number, pen: string): void {
    this.put("line", { x1: x1.toFixed(1), y1: y1.toFixed(1), x2: x2.toFixed(1), y2: y2.toFixed(1), class: pen }, g);
  }
  private label(g: Element, x: number, y: number, words: string, anchor: string): void {
    this.put("text", { x: x.toFixed(1), y: y.toFixed(1), "text-anchor": anchor, class: "t-label" }, g).textContent = words;
  }
}

// Clock writes times of the record.
interface Clock {
  name: string;
  say(t: number): string;
  fine(t: number): string; // to the second
  fineName: string;
}

const steps = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 1200, 1800, 3600, 7200, 10800, 21600, 43200, 86400];

function clock(step: number, most: number): Clock {
  const hours = most >= 3600;
  const seconds = step < 60;
  const places = step < 1 ? 1 : 0;
  const say = (t: number, s: boolean) => {
    const r = s ? Number(t.toFixed(places)) : Math.round(t / 60) * 60;
    const h = Math.floor(r / 3600);
    const m = Math.floor(r / 60) - (hours ? 60 * h : 0);
    const parts = hours ? [String(h), two(m)] : [String(m)];
    if (s) parts.push(two(r % 60, places));
    return parts.join(":");
  };
  const minutes = (hours ? "h:" : "") + "min";
  return { name: minutes + (seconds ? ":s" : ""), say: (t) => say(t, seconds), fine: (t) => say(t, true), fineName: minutes + ":s" };
}

function two(n: number, places = 0): string {
  return n.toFixed(places).padStart(places ? 3 + places : 2, "0");
}

// round is the next of 1, 2 or 5 times a power of ten.
function round(v: number): number {
  const ten = 10 ** Math.floor(Math.log10(v));
  return ([1, 2, 5].find((k) => v <= k * ten * (1 + 1e-9)) ?? 10) * ten;
}

// plain writes a figure with the places that a step needs.
function plain(v: number, step: number): string {
  let places = 0;
  while (places < 6 && Math.abs(step * 10 ** places - Math.round(step * 10 ** places)) > 1e-6) places++;
  return v.toFixed(places).replace("-", "−");
}

function id(name: string): string {
  return "every-beat-" + name;
}
