import 'server-only';
import { type Actor, authorise, type CommandContext, unkept } from '@/lib/platform/actor';
import { now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { conflict, notFound, notValid } from '@/lib/platform/errors';
import { digestToken, makeToken } from '@/lib/platform/identity/tokens';
import { may, ROLES, type Role } from '@/lib/platform/permissions';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { exchangeEvents } from '../events';
import { findPeople, findToken, findTokens, insertToken, namePeople, revokeToken } from '../repo/tokens';
import {
  LONGEST_TOKEN_DAYS,
  TOKEN_SCOPES,
  type TokenRequest,
  type TokenRow,
  type TokenRows,
} from '../schema';

const DAY_MS = 86_400_000;

/** Tokens of the collection, and for whom one can be made with what they may do themselves. */
export async function listTokens(actor: Actor): Promise<TokenRows> {
  authorise(actor, 'tokens.manage');
  const tokens = await findTokens(db(), actor.collectionId);
  const people = await findPeople(db(), actor.collectionId);
  const names = await namePeople(
    db(),
    tokens.map((token) => token.personId),
  );
  const nameOf = new Map(names.map(({ id, name }) => [id, name]));
  return {
    rows: tokens.map((token) => toRow(token, nameOf.get(token.personId) ?? 'unknown', now())),
    people: people.map((person) => ({ id: person.id, name: person.name, scopes: scopesOf(person) })),
  };
}

/**
 * Makes a token that acts for a person, within what that person may do. The secret is in the answer and kept nowhere.
 * @throws AppError not-valid for a scope the person has not, or an end that is past or too far away.
 */
export async function makeApiToken(
  context: CommandContext,
  { name, personId, scopes, expiresOn }: TokenRequest,
): Promise<{ token: string; row: TokenRow }> {
  const { actor } = context;
  authorise(actor, 'tokens.manage');
  return withTx(unkept(context), async (work) => {
    const person = (await findPeople(work.db, actor.collectionId)).find((one) => one.id === personId);
    if (person === undefined) throw notFound(say('This person'));
    const own = scopesOf(person);
    const beyond = scopes.filter((scope) => !own.includes(scope));
    const expiresAt = new Date(`${expiresOn}T23:59:59.000Z`);
    const days = (expiresAt.getTime() - work.now.getTime()) / DAY_MS;
    const problems = [
      ...beyond.map((scope) => ({
        path: 'scopes',
        message: say('{name} may not do this: {scope}.', { name: person.name, scope }),
      })),
      ...(days <= 0 ? [{ path: 'expiresOn', message: say('This day is past.') }] : []),
      ...(days > LONGEST_TOKEN_DAYS
        ? [
            {
              path: 'expiresOn',
              message: say('A token lasts {longestTokenDays} days at most.', {
                longestTokenDays: LONGEST_TOKEN_DAYS,
              }),
            },
          ]
        : []),
    ];
    if (problems.length > 0) throw notValid(say('The token was not made.'), problems);
    const token = makeToken();
    const made = await insertToken(work.db, {
      collectionId: actor.collectionId,
      personId,
      name,
      tokenDigest: digestToken(token),
      scopes: [...new Set(scopes)],
      expiresAt,
    });
    work.audit(
      exchangeEvents.make(
        'exchange.token-made',
        { subjectType: 'token', subjectId: made.id },
        { name, person: person.name, scopes, expiresOn },
      ),
    );
    return { token, row: toRow(made, person.name, work.now) };
  });
}

/** Ends a token at once. */
export async function revokeApiToken(context: CommandContext, id: string, reason: string): Promise<TokenRow> {
  const { actor } = context;
  authorise(actor, 'tokens.manage');
  return withTx(context, async (work) => {
    const found = await findToken(work.db, actor.collectionId, id);
    if (found === null) throw notFound(say('This token'));
    if ((await revokeToken(work.db, id, work.now)) === 0)
      throw conflict(say('This token was revoked already.'));
    const [person] = await namePeople(work.db, [found.personId]);
    const name = person?.name ?? 'unknown';
    work.audit(
      exchangeEvents.make(
        'exchange.token-revoked',
        { subjectType: 'token', subjectId: id, reason },
        { name: found.name, person: name },
      ),
    );
    return toRow({ ...found, revokedAt: work.now }, name, work.now);
  });
}

function scopesOf(person: { id: string; memberships: { role: string }[] }): string[] {
  const roles = person.memberships
    .map(({ role }) => role)
    .filter((role): role is Role => (ROLES as readonly string[]).includes(role));
  return TOKEN_SCOPES.filter((scope) => may({ personId: person.id, roles }, scope));
}

type Found = NonNullable<Awaited<ReturnType<typeof findToken>>>;

const toRow = (token: Found, person: string, at: Date): TokenRow => ({
  id: token.id,
  name: token.name,
  person,
  scopes: token.scopes,
  expiresAt: token.expiresAt.toISOString(),
  revokedAt: token.revokedAt?.toISOString() ?? null,
  lastUsedAt: token.lastUsedAt?.toISOString() ?? null,
  state: token.revokedAt !== null ? 'revoked' : token.expiresAt <= at ? 'expired' : 'good',
});
