// The SHA-256 of a file as its pieces are read (FIPS 180-4, August 2015). The
// browser's own takes a file as a whole, and only where the page came over
// https or from the same computer; a telephone in the shop may have neither.

// Section 4.2.2.
const K = new Uint32Array([
  0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
  0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
  0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
  0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
  0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
  0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
  0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
  0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2,
]);

// Section 5.3.3.
const start = [
  0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19,
];

const block = 64; // bytes

export class Sha256 {
  private state = Uint32Array.from(start);
  private w = new Uint32Array(64);
  private rest = new Uint8Array(block);
  private held = 0; // bytes in rest
  private length = 0; // bytes in all

  add(bytes: Uint8Array): void {
    this.length += bytes.length;
    let at = 0;
    while (at < bytes.length) {
      if (this.held === 0 && bytes.length - at >= block) {
        this.take(bytes, at);
        at += block;
        continue;
      }
      const n = Math.min(block - this.held, bytes.length - at);
      this.rest.set(bytes.subarray(at, at + n), this.held);
      this.held += n;
      at += n;
      if (this.held === block) {
        this.take(this.rest, 0);
        this.held = 0;
      }
    }
  }

  // hex ends the sum and gives it (section 5.1.1).
  hex(): string {
    const bits = this.length * 8;
    const end = new Uint8Array((this.held < 56 ? 56 : 120) - this.held + 8);
    end[0] = 0x80;
    const v = new DataView(end.buffer);
    v.setUint32(end.length - 8, Math.floor(bits / 2 ** 32));
    v.setUint32(end.length - 4, bits >>> 0);
    this.add(end);
    return Array.from(this.state, (x) => x.toString(16).padStart(8, "0")).join("");
  }

  // take works one block in (section 6.2.2).
  private take(bytes: Uint8Array, at: number): void {
    const w = this.w;
    for (let t = 0; t < 16; t++, at += 4) w[t] = (bytes[at] << 24) | (bytes[at + 1] << 16) | (bytes[at + 2] << 8) | bytes[at + 3];
    for (let t = 16; t < 64; t++) {
      const x = w[t - 15];
      const y = w[t - 2];
      w[t] = w[t - 16] + (turn(x, 7) ^ turn(x, 18) ^ (x >>> 3)) + w[t - 7] + (turn(y, 17) ^ turn(y, 19) ^ (y >>> 10));
    }
    let [a, b, c, d, e, f, g, h] = this.state;
    for (let t = 0; t < 64; t++) {
      const p = (h + (turn(e, 6) ^ turn(e, 11) ^ turn(e, 25)) + ((e & f) ^ (~e & g)) + K[t] + w[t]) | 0;
      const q = ((turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) | 0;
      h = g;
      g = f;
      f = e;
      e = (d + p) | 0;
      d = c;
      c = b;
      b = a;
      a = (p + q) | 0;
    }
    [a, b, c, d, e, f, g, h].forEach((x, i) => (this.state[i] += x));
  }
}

function turn(x: number, n: number): number {
  return (x >>> n) | (x << (32 - n));
}
