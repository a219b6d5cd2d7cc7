// SHA-256 as in FIPS 180-4, in plain arithmetic, so that it is the same, and without waiting, in Node and in a browser.

const BLOCK = 64;

/** The first 32 bits of the fractional part of a root of a prime. */
function fraction(root: number): number {
  return Math.floor((root - Math.floor(root)) * 2 ** 32);
}

function primes(count: number): number[] {
  const found: number[] = [];
  for (let n = 2; found.length < count; n++) if (found.every(prime => n % prime !== 0)) found.push(n);
  return found;
}

const ROUND_CONSTANTS = Uint32Array.from(primes(64), prime => fraction(Math.cbrt(prime)));
const START = Uint32Array.from(primes(8), prime => fraction(Math.sqrt(prime)));

/** The SHA-256 of some bytes, or of a text in UTF-8, as 64 hexadecimal digits. */
export function sha256(input: Uint8Array | string): string {
  const bytes = typeof input === 'string' ? new TextEncoder().encode(input) : input;
  const state = START.slice();
  const whole = bytes.length - (bytes.length % BLOCK);
  for (let start = 0; start < whole; start += BLOCK) addBlock(state, bytes, start);
  const rest = bytes.length - whole;
  const last = new Uint8Array(rest < BLOCK - 8 ? BLOCK : 2 * BLOCK);
  last.set(bytes.subarray(whole));
  last[rest] = 0x80;
  const view = new DataView(last.buffer);
  view.setUint32(last.length - 8, Math.floor(bytes.length / 2 ** 29));
  view.setUint32(last.length - 4, (bytes.length * 8) % 2 ** 32);
  for (let start = 0; start < last.length; start += BLOCK) addBlock(state, last, start);
  return Array.from(state, word => word.toString(16).padStart(8, '0')).join('');
}

const schedule = new Uint32Array(64);

function addBlock(state: Uint32Array, bytes: Uint8Array, start: number): void {
  const view = new DataView(bytes.buffer, bytes.byteOffset + start, BLOCK);
  for (let t = 0; t < 16; t++) schedule[t] = view.getUint32(4 * t);
  for (let t = 16; t < 64; t++) {
    const before15 = schedule[t - 15] as number;
    const before2 = schedule[t - 2] as number;
    const sigma0 = turn(before15, 7) ^ turn(before15, 18) ^ (before15 >>> 3);
    const sigma1 = turn(before2, 17) ^ turn(before2, 19) ^ (before2 >>> 10);
    schedule[t] = (schedule[t - 16] as number) + sigma0 + (schedule[t - 7] as number) + sigma1;
  }
  let [a, b, c, d, e, f, g, h] = state as unknown as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  for (let t = 0; t < 64; t++) {
    const sumE = turn(e, 6) ^ turn(e, 11) ^ turn(e, 25);
    const choice = (e & f) ^ (~e & g);
    const first = (h + sumE + choice + (ROUND_CONSTANTS[t] as number) + (schedule[t] as number)) | 0;
    const sumA = turn(a, 2) ^ turn(a, 13) ^ turn(a, 22);
    const majority = (a & b) ^ (a & c) ^ (b & c);
    h = g;
    g = f;
    f = e;
    e = (d + first) | 0;
    d = c;
    c = b;
    b = a;
    a = (first + sumA + majority) | 0;
  }
  for (const [i, word] of [a, b, c, d, e, f, g, h].entries()) state[i] = (state[i] as number) + word;
}

function turn(word: number, by: number): number {
  return (word >>> by) | (word << (32 - by));
}
