import 'server-only';
import { encode } from 'next-auth/jwt';
import { now } from '../clock';
import { settings } from '../env';
import { log } from '../log';
import { openSessionToken, sessionCookie } from './session-token';
import { nextTurn, sessionSeconds, TURN_MS } from './sessions';

type Handler<Context> = (request: Request, context: Context) => Promise<Response>;

/**
 * Exchanges a session's token for its next with the answer to a request, when it is old enough. The old one holds until
 * the next one is first used, so that an answer that never arrives signs nobody out.
 */
export const renewing =
  <Context>(handler: Handler<Context>): Handler<Context> =>
  async (request, context) => {
    const answer = await handler(request, context);
    if (answer.status >= 400) return answer;
    try {
      const cookie = await renewedCookie(request);
      if (cookie !== null) answer.headers.append('set-cookie', cookie);
    } catch (error) {
      // What was asked is done: the token is exchanged another time.
      log().warn({ err: error }, 'a session token could not be exchanged');
    }
    return answer;
  };

/** The Set-Cookie of the next token; null when none is due. */
async function renewedCookie(request: Request): Promise<string | null> {
  const secret = settings().NEXTAUTH_SECRET;
  const found = sessionCookie(request.headers.get('cookie') ?? '');
  if (secret === undefined || found === null) return null;
  const token = await openSessionToken(found.value);
  const { session, turn, since } = (token ?? {}) as { session?: string; turn?: number; since?: number };
  if (token === null || session === undefined || turn === undefined || since === undefined) return null;
  const at = now().getTime();
  if (at - since < TURN_MS) return null;
  const next = await nextTurn({ session, turn });
  if (next === null) return null;
  const maxAge = sessionSeconds();
  const value = await encode({ token: { ...token, turn: next, since: at }, secret, maxAge });
  const secure = found.name.startsWith('__Secure-') ? '; Secure' : '';
  return `${found.name}=${value}; Path=/; Max-Age=${maxAge}; HttpOnly; SameSite=Lax${secure}`;
}
