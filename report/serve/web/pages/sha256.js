// SHA-256 (FIPS 180-4). Browsers keep their own for encrypted pages, and a phone in a greenhouse often has a plain link.

const primes = [];
for (let n = 2; primes.length < 64; n++) {
  if (primes.every((p) => n % p !== 0)) {
    primes.push(n);
  }
}
// The first 32 bits of the fractional parts of cube and square roots (FIPS 180-4, 4.2.2 and 5.3.3). A double holds them exactly.
const fraction = (x) => ((x - Math.floor(x)) * 2 ** 32) | 0;
const K = Int32Array.from(primes, (p) => fraction(Math.cbrt(p)));
const H0 = Int32Array.from(primes.slice(0, 8), (p) => fraction(Math.sqrt(p)));

const turn = (x, n) => (x >>> n) | (x << (32 - n));

export class SHA256 {
  constructor() {
    this.h = H0.slice();
    this.w = new Int32Array(64);
    this.rest = new Uint8Array(64);
    this.held = 0;
    this.bytes = 0;
  }

  add(data) {
    this.bytes += data.length;
    let at = 0;
    if (this.held > 0) {
      at = Math.min(64 - this.held, data.length);
      this.rest.set(data.subarray(0, at), this.held);
      this.held += at;
      if (this.held < 64) {
        return;
      }
      this.block(this.rest, 0);
      this.held = 0;
    }
    for (; at + 64 <= data.length; at += 64) {
      this.block(data, at);
    }
    this.rest.set(data.subarray(at));
    this.held = data.length - at;
  }

  block(d, at) {
    const { w, h } = this;
    for (let i = 0; i < 16; i++, at += 4) {
      w[i] = (d[at] << 24) | (d[at + 1] << 16) | (d[at + 2] << 8) | d[at + 3];
    }
    for (let i = 16; i < 64; i++) {
      const x = w[i - 15], y = w[i - 2];
      w[i] = (w[i - 16] + (turn(x, 7) ^ turn(x, 18) ^ (x >>> 3)) + w[i - 7] + (turn(y, 17) ^ turn(y, 19) ^ (y >>> 10))) | 0;
    }
    let [a, b, c, e0, e, f, g, i0] = h;
    for (let i = 0; i < 64; i++) {
      const t1 = (i0 + (turn(e, 6) ^ turn(e, 11) ^ turn(e, 25)) + ((e & f) ^ (~e & g)) + K[i] + w[i]) | 0;
      const t2 = ((turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) | 0;
      i0 = g; g = f; f = e; e = (e0 + t1) | 0; e0 = c; c = b; b = a; a = (t1 + t2) | 0;
    }
    [a, b, c, e0, e, f, g, i0].forEach((v, i) => { h[i] = (h[i] + v) | 0; });
  }

  hex() {
    const bits = this.bytes * 8;
    const end = new Uint8Array(this.held < 56 ? 64 - this.held : 128 - this.held);
    end[0] = 0x80;
    const view = new DataView(end.buffer);
    view.setUint32(end.length - 8, Math.floor(bits / 2 ** 32));
    view.setUint32(end.length - 4, bits >>> 0);
    this.add(end);
    return Array.from(this.h, (v) => (v >>> 0).toString(16).padStart(8, "0")).join("");
  }
}

// digestOf returns the SHA-256 of a file, read in parts so that a large one does not fill a phone's memory.
export async function digestOf(blob) {
  const sum = new SHA256();
  const part = 1 << 20;
  for (let at = 0; at < blob.size; at += part) {
    sum.add(new Uint8Array(await blob.slice(at, at + part).arrayBuffer()));
  }
  return sum.hex();
}
