import { settings } from '@/lib/platform/env';

/**
 * The address that a request came from, for limits by address: of X-Forwarded-For the entry that the outermost of our
 * own proxies added (setting PROXIES). What stands before it came from the client, who can write anything there.
 * @param forwarded the header's value; without a proxy the server itself says the connection's address in it
 * @param proxies how many proxies stand before the server; without one the only entry counts
 */
export function clientAddress(forwarded: string | null | undefined, proxies = settings().PROXIES): string {
  const entries = (forwarded ?? '')
    .split(',')
    .map((entry) => entry.trim())
    .filter((entry) => entry !== '');
  return entries[Math.max(0, entries.length - proxies)] ?? 'local';
}
