import { createHmac, timingSafeEqual } from 'node:crypto';

/** Time-based one-time passwords (RFC 6238 over RFC 4226) as every authenticator app makes them. Pure. */
const STEP_SECONDS = 30;
const DIGITS = 6;
/** A code of the step before or after is taken too: clocks differ and people type slowly (RFC 6238 section 5.2). */
const DRIFT_STEPS = 1;

export const stepOf = (at: Date): number => Math.floor(at.getTime() / 1000 / STEP_SECONDS);

/** The code of one step. @param hash SHA-1 is what apps use; the others are for the RFC's own vectors. */
export function codeOf(secret: Uint8Array, step: number, digits = DIGITS, hash = 'sha1'): string {
  const counter = Buffer.alloc(8);
  counter.writeBigUInt64BE(BigInt(step));
  const mac = createHmac(hash, secret).update(counter).digest();
  const offset = (mac.at(-1) ?? 0) & 0xf;
  const value = mac.readUInt32BE(offset) & 0x7fffffff;
  return String(value % 10 ** digits).padStart(digits, '0');
}

/** The step whose code this is, near an instant; null when it is none. */
export function matchingStep(secret: Uint8Array, code: string, at: Date): number | null {
  const now = stepOf(at);
  let found: number | null = null;
  for (let step = now - DRIFT_STEPS; step <= now + DRIFT_STEPS; step += 1) {
    const expected = Buffer.from(codeOf(secret, step));
    const given = Buffer.from(code);
    if (given.length === expected.length && timingSafeEqual(given, expected)) found = step;
  }
  return found;
}

const ALPHABET = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567';

/** Base32 without padding (RFC 4648 section 6): how a secret is typed into an app. */
export function base32(bytes: Uint8Array): string {
  let bits = '';
  for (const byte of bytes) bits += byte.toString(2).padStart(8, '0');
  return (bits.match(/.{1,5}/g) ?? [])
    .map((five) => ALPHABET[Number.parseInt(five.padEnd(5, '0'), 2)])
    .join('');
}

/** The address inside the QR code that apps read (common practice, no published standard). */
export function enrolmentAddress(account: string, secret: Uint8Array): string {
  const label = encodeURIComponent(`Furcula:${account}`);
  return `otpauth://totp/${label}?secret=${base32(secret)}&issuer=Furcula&algorithm=SHA1&digits=${DIGITS}&period=${STEP_SECONDS}`;
}
