// The beats of a listening against its mean rate, from the page's own
// download: times in seconds from the start of the record, sizes in µs.

export interface Beats {
  at: Float64Array;
  late: Float64Array;
  path: Float64Array; // where the clock itself is thought to be
  band: Float64Array; // half its 95 % band
  odd: Uint8Array;
  broken: Uint8Array; // 1 where a stretch, or what follows silence, begins
}

// read takes the columns that are needed by their headings; lines without a
// place against the mean rate are left out and leave a gap.
export function read(csv: string): Beats | null {
  const lines = csv.split(/\r?\n/);
  const head = lines[0].split(",");
  const column = (name: string) => head.findIndex((h) => h === name || h.startsWith(name + " ("));
  const [at, late, path, band, odd, run] = ["At", "Late", "Path", "Band", "Odd", "Stretch"].map(column);
  if (Math.min(at, late, path, band, odd, run) < 0) return null;
  const rows = lines.slice(1).map((l) => l.split(",")).filter((c) => c.length === head.length && c[late] !== "");
  if (rows.length < 12) return null;
  const numbers = (i: number) => Float64Array.from(rows, (c) => Number(c[i]));
  const out = { at: numbers(at), late: numbers(late), path: numbers(path), band: numbers(band), odd: Uint8Array.from(rows, (c) => Number(c[odd] !== "")), broken: new Uint8Array(rows.length) };
  const steps = out.at.slice(1).map((t, i) => t - out.at[i]).sort();
  const silence = 3.5 * steps[steps.length >> 1];
  out.broken[0] = 1;
  for (let i = 1; i < rows.length; i++) out.broken[i] = Number(rows[i][run] !== rows[i - 1][run] || out.at[i] - out.at[i - 1] > silence);
  return out;
}

// from is the first beat at or after a time.
export function from(b: Beats, t: number): number {
  let low = 0;
  let high = b.at.length;
  while (low < high) {
    const mid = (low + high) >> 1;
    if (b.at[mid] < t) low = mid + 1;
    else high = mid;
  }
  return low;
}

// A column is the beats of a short time. Those that are odd are not in its
// limits; each column keeps its earliest and its latest of them.
export interface Column {
  start: number;
  end: number;
  broken: boolean; // the line before does not lead here
  low: number;
  high: number;
  path: number;
  under: number;
  over: number;
  odd: number[]; // numbers of beats
}

// columns condenses the beats from i to j into slots so wide; a break begins a
// new column. A width of 0 gives each beat its own.
export function columns(b: Beats, i: number, j: number, wide: number): Column[] {
  const out: Column[] = [];
  let slot = NaN;
  let n = 0;
  for (; i < j; i++) {
    const s = wide > 0 ? Math.floor(b.at[i] / wide) : i;
    let c = out[out.length - 1];
    if (s !== slot || b.broken[i]) {
      if (c) c.path /= n;
      c = { start: b.at[i], end: b.at[i], broken: b.broken[i] === 1 || out.length === 0, low: Infinity, high: -Infinity, path: 0, under: Infinity, over: -Infinity, odd: [] };
      out.push(c);
      slot = s;
      n = 0;
    }
    n++;
    c.end = b.at[i];
    c.path += b.path[i];
    c.under = Math.min(c.under, b.path[i] - b.band[i]);
    c.over = Math.max(c.over, b.path[i] + b.band[i]);
    if (b.odd[i]) outermost(b, c, i);
    else {
      c.low = Math.min(c.low, b.late[i]);
      c.high = Math.max(c.high, b.late[i]);
    }
  }
  if (out.length > 0) out[out.length - 1].path /= n;
  return out;
}

function outermost(b: Beats, c: Column, i: number): void {
  c.odd.push(i);
  if (c.odd.length < 3) return;
  c.odd.sort((x, y) => b.late[x] - b.late[y]);
  c.odd = [c.odd[0], c.odd[c.odd.length - 1]];
}
