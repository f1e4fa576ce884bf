// The way of the sound to the server: numbered blocks over a WebSocket. What
// was not yet taken in is sent again when the connection comes back; the run
// goes on.

import type { Piece } from "./microphone";

const head = 40; // bytes, see the server's block
const blockLength = 0.1; // s
const kept = 600; // blocks that wait for a connection, a minute

// What is sent in its order, and once more where the connection was lost.
interface Block {
  end: number; // number of the sample after its last
  message: ArrayBuffer | string;
}

export class Sender {
  private socket: WebSocket | null = null;
  private run = "";
  private waiting: Block[] = [];
  private number = 0;
  private held: Piece[] = [];
  private heldSamples = 0;
  private open = false;
  private over = false;
  private timer = 0;

  constructor(
    private readonly address: string,
    private readonly token: string,
    private readonly start: Record<string, unknown> & { rate: number; capture: number },
    private readonly reached: () => number,
    private readonly said: (state: Record<string, unknown>) => void,
    private readonly lost: (yes: boolean) => void,
  ) {
    this.connect();
  }

  // piece takes sound in; a block is sent when there is enough, or where a
  // piece does not follow the last.
  piece(p: Piece): void {
    const last = this.held[this.held.length - 1];
    if (last && last.first + last.samples.length !== p.first) this.pack();
    this.held.push(p);
    this.heldSamples += p.samples.length;
    if (this.heldSamples >= blockLength * this.start.rate) this.pack();
  }

  // event tells what was noticed, and at which sample.
  event(kind: string, first = this.reached()): void {
    this.put({ end: first + 1, message: JSON.stringify({ event: kind, first }) });
  }

  // end says that no more comes.
  end(): void {
    this.pack();
    this.event("end");
  }

  // close ends the connection for good.
  close(): void {
    this.over = true;
    window.clearTimeout(this.timer);
    this.socket?.close(1000);
  }

  private put(b: Block): void {
    this.waiting.push(b);
    if (this.waiting.length > kept) this.waiting.shift();
    if (this.open) this.socket!.send(b.message);
  }

  private pack(): void {
    if (this.heldSamples === 0) return;
    const bytes = new ArrayBuffer(head + 4 * this.heldSamples);
    const v = new DataView(bytes);
    const p = this.held[0];
    v.setUint8(0, 1);
    v.setUint32(4, this.number, true);
    v.setFloat64(8, p.first, true);
    v.setFloat64(16, p.device, true);
    v.setFloat64(24, performance.timeOrigin + performance.now(), true);
    v.setUint32(32, p.discarded, true);
    const samples = new Float32Array(bytes, head);
    let n = 0;
    for (const h of this.held) {
      samples.set(h.samples, n);
      n += h.samples.length;
    }
    this.held = [];
    this.heldSamples = 0;
    this.number++;
    this.put({ end: p.first + n, message: bytes });
  }

  private connect(): void {
    const s = new WebSocket(this.address, ["seatboard.sound", this.token]);
    s.binaryType = "arraybuffer";
    this.socket = s;
    s.onopen = () => s.send(JSON.stringify({ ...this.start, run: this.run }));
    s.onmessage = (e) => {
      const m = JSON.parse(String(e.data)) as Record<string, unknown>;
      if (m.capture === this.start.capture && typeof m.next === "number") this.taken(m.next);
      if (typeof m.run === "string" && !this.open) {
        this.run = m.run;
        this.open = true;
        this.lost(false);
        for (const b of this.waiting) s.send(b.message);
      }
      this.said(m);
    };
    s.onclose = (e) => {
      this.open = false;
      if (this.over || e.code === 1000 || e.code === 1008) return;
      this.lost(true);
      this.timer = window.setTimeout(() => this.connect(), 1000);
    };
  }

  // taken forgets the blocks of which the server has all samples.
  private taken(next: number): void {
    while (this.waiting.length > 0 && this.waiting[0].end <= next) this.waiting.shift();
  }
}
