import 'server-only';
import { createHash } from 'node:crypto';
import { decode, type JWT } from 'next-auth/jwt';
import { now } from '../clock';
import { settings } from '../env';

const NAMES = ['__Secure-next-auth.session-token', 'next-auth.session-token'] as const;
/** Of so many tokens what was read is kept in this process, those unused for longest go first. */
const KEPT = 2_000;

const holder = globalThis as unknown as { furculaTokens?: Map<string, JWT> };

/** The session's token among a request's cookies, with the name of its cookie; null without one. */
export function sessionCookie(header: string): { name: string; value: string } | null {
  const pairs = header.split(/;\s*/).map((pair) => pair.split('='));
  for (const name of NAMES) {
    const value = pairs.find(([key]) => key === name)?.[1];
    if (value !== undefined) return { name, value };
  }
  return null;
}

/**
 * What a session's token says; null when it is not of this installation or is too old. A token always says the same, so
 * it is deciphered once and found by its digest afterwards. Whether its session stands is the database's to say.
 */
export async function openSessionToken(value: string): Promise<JWT | null> {
  const secret = settings().NEXTAUTH_SECRET;
  if (secret === undefined) return null;
  holder.furculaTokens ??= new Map();
  const tokens = holder.furculaTokens;
  const key = createHash('sha256').update(value).digest('base64url');
  const known = tokens.get(key);
  const token = known ?? (await decode({ token: value, secret }).catch(() => null));
  if (token === null) return null;
  tokens.delete(key);
  if (typeof token.exp !== 'number' || token.exp * 1000 <= now().getTime()) return null;
  tokens.set(key, token);
  const [oldest] = tokens.size > KEPT ? tokens.keys() : [];
  if (oldest !== undefined) tokens.delete(oldest);
  return token;
}
