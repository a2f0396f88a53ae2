import { createHash } from 'node:crypto';
import { canonicalJson } from './rules/canonical-json';
import type { FrozenReport } from './schema';

/** SHA-256 of any JSON value in canonical form, 64 hexadecimal digits. */
export function digestJson(value: unknown): string {
  return createHash('sha256').update(canonicalJson(value), 'utf8').digest('hex');
}

/** The digest that a signed report carries on each page: of everything that was frozen with it. */
export function digestReport(frozen: FrozenReport): string {
  return digestJson(frozen);
}
