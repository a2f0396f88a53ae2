import { randomBytes } from 'node:crypto';
import { type NextRequest, NextResponse } from 'next/server';
import { settings } from '@/lib/platform/env';
import { securityHeaders } from '@/lib/platform/security-headers';

/** Puts the security headers on every page, which reads its nonce from the request; refuses addresses nobody can read. */
export function proxy(request: NextRequest): NextResponse {
  const { NODE_ENV, FURCULA_URL, NEXTAUTH_URL } = settings();
  const nonce = randomBytes(16).toString('base64');
  const headers = securityHeaders({
    nonce,
    isDev: NODE_ENV === 'development',
    isHttps: (FURCULA_URL ?? NEXTAUTH_URL ?? '').startsWith('https:'),
  });
  if (!isReadable(request.nextUrl.pathname)) return refuseAddress(headers);
  const passedOn = new Headers(request.headers);
  passedOn.set('x-nonce', nonce);
  passedOn.set('content-security-policy', headers['content-security-policy'] ?? '');
  const answer = NextResponse.next({ request: { headers: passedOn } });
  for (const [name, value] of Object.entries(headers)) answer.headers.set(name, value);
  return answer;
}

/** Neither a broken escape (RFC 3986 section 2.1) nor a zero stands in an address of ours. */
function isReadable(pathname: string): boolean {
  try {
    return !decodeURIComponent(pathname).includes('\u0000');
  } catch {
    return false;
  }
}

function refuseAddress(headers: Record<string, string>): NextResponse {
  const problem = {
    code: 'bad-request',
    title: 'This address cannot be read. Check how it is written.',
    status: 400,
    fields: [],
    data: null,
  };
  return NextResponse.json(problem, {
    status: 400,
    headers: { ...headers, 'content-type': 'application/problem+json' },
  });
}

/**
 * Not for files that are the same for everybody, nor for the API: to pass a request on took a third of its time. What the
 * API answers has its headers from next.config.mjs; only an address of it with an escape is looked at here.
 */
export const config = {
  matcher: ['/((?!api/|_next/static|_next/image|icons/|docs/).*)', '/api/(.*%.*)'],
};
