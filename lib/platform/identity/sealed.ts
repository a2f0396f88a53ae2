import 'server-only';
import { createCipheriv, createDecipheriv, hkdfSync, randomBytes } from 'node:crypto';
import { settings } from '../env';

/** AES-256-GCM under a key of its own from NEXTAUTH_SECRET: a copy of the database alone does not tell what is sealed. */
const CIPHER = 'aes-256-gcm';
const IV_BYTES = 12;
const TAG_BYTES = 16;

function key(): Buffer {
  const { NEXTAUTH_SECRET } = settings();
  if (NEXTAUTH_SECRET === undefined) throw new Error('NEXTAUTH_SECRET is not set: nothing can be sealed.');
  return Buffer.from(hkdfSync('sha256', NEXTAUTH_SECRET, '', 'furcula second factor', 32));
}

/** @param owner whose it is; it opens for nobody else. */
export function seal(content: Uint8Array, owner: string): string {
  const iv = randomBytes(IV_BYTES);
  const cipher = createCipheriv(CIPHER, key(), iv).setAAD(Buffer.from(owner));
  const sealed = Buffer.concat([cipher.update(content), cipher.final()]);
  return Buffer.concat([iv, cipher.getAuthTag(), sealed]).toString('base64url');
}

/** What was sealed for this owner; null when it was changed, is another's, or the secret is not the one of that day. */
export function unseal(text: string, owner: string): Buffer | null {
  const bytes = Buffer.from(text, 'base64url');
  try {
    const decipher = createDecipheriv(CIPHER, key(), bytes.subarray(0, IV_BYTES))
      .setAAD(Buffer.from(owner))
      .setAuthTag(bytes.subarray(IV_BYTES, IV_BYTES + TAG_BYTES));
    return Buffer.concat([decipher.update(bytes.subarray(IV_BYTES + TAG_BYTES)), decipher.final()]);
  } catch {
    return null;
  }
}
