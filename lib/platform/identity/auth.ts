import 'server-only';
import type { NextAuthOptions } from 'next-auth';
import CredentialsProvider from 'next-auth/providers/credentials';
import { say } from '@/lib/platform/words/say';
import { clientAddress } from '../client-address';
import { now } from '../clock';
import { settings } from '../env';
import { AppError } from '../errors';
import { log } from '../log';
import { beginSession, endSession, sessionSeconds } from './sessions';
import { admitExternalAccount, checkPassword, identityOf } from './sign-in';

type Identity = { id: string; epoch: number; collectionId?: string };

/** Sign-in by local account, and by OpenID Connect where the environment names an issuer. */
export function authOptions(): NextAuthOptions {
  const env = settings();
  return {
    secret: env.NEXTAUTH_SECRET,
    session: { strategy: 'jwt', maxAge: sessionSeconds() },
    pages: { signIn: '/sign-in', error: '/sign-in' },
    providers: [
      CredentialsProvider({
        name: say('Local account'),
        credentials: { email: { type: 'email' }, password: { type: 'password' }, code: { type: 'text' } },
        authorize: (credentials, request) =>
          inWords(checkPassword, {
            email: credentials?.email ?? '',
            password: credentials?.password ?? '',
            code: credentials?.code ?? '',
            address: clientAddress(request.headers?.['x-forwarded-for']),
          }),
      }),
      ...oidcProvider(),
    ],
    callbacks: {
      signIn: ({ account, profile }) =>
        account?.provider === 'oidc' ? admitExternalAccount(profile?.email ?? null) : true,
      jwt: async ({ token, user, account }) => {
        const identity =
          account?.provider === 'oidc' ? await identityOf(token.email ?? '') : (user as Identity | undefined);
        if (!identity) return token;
        const { id, epoch, collectionId } = identity;
        return {
          ...token,
          sub: id,
          epoch,
          collectionId,
          session: await beginSession(id),
          turn: 0,
          since: now().getTime(),
        };
      },
    },
    events: {
      signOut: async ({ token }) => {
        if (typeof token?.session === 'string') await endSession(token.session);
      },
    },
  };
}

/** What goes wrong at sign-in is shown on its page: only what was meant for a person may be said there. */
async function inWords<Given, Found>(check: (given: Given) => Promise<Found>, given: Given): Promise<Found> {
  try {
    return await check(given);
  } catch (error) {
    if (error instanceof AppError) throw error;
    log().error({ err: error }, 'sign-in failed');
    throw new Error('Something went wrong on our side; the failure was logged. Try again in a moment.');
  }
}

function oidcProvider(): NextAuthOptions['providers'] {
  const env = settings();
  if (!env.OIDC_ISSUER || !env.OIDC_CLIENT_ID || !env.OIDC_CLIENT_SECRET) return [];
  return [
    {
      id: 'oidc',
      name: env.OIDC_NAME,
      type: 'oauth',
      wellKnown: `${env.OIDC_ISSUER.replace(/\/$/, '')}/.well-known/openid-configuration`,
      authorization: { params: { scope: 'openid email profile' } },
      idToken: true,
      checks: ['pkce', 'state'],
      clientId: env.OIDC_CLIENT_ID,
      clientSecret: env.OIDC_CLIENT_SECRET,
      profile: (profile: { sub: string; email?: string; name?: string }) => ({
        id: profile.sub,
        email: profile.email,
        name: profile.name,
      }),
    },
  ];
}
