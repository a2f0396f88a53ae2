import { createHash } from 'node:crypto';

/** A strong entity tag (RFC 9110, 8.8.3): the SHA-256 of these bytes, base64url, in its quotes. */
export const tagOf = (body: string): string =>
  `"${createHash('sha256').update(body, 'utf8').digest('base64url')}"`;

/**
 * Whether an If-None-Match header names this tag (RFC 9110, 13.1.2). The comparison is the weak one, so that a tag
 * which a proxy weakened while it compressed the answer still counts.
 */
export function namesTag(header: string | null, tag: string): boolean {
  if (header === null) return false;
  if (header.trim() === '*') return true;
  return [...header.matchAll(/(?:W\/)?("[\x21\x23-\x7e\x80-\xff]*")/g)].some((found) => found[1] === tag);
}
