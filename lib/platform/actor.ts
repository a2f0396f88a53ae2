import { say } from '@/lib/platform/words/say';
import { AppError, forbidden } from './errors';
import { may, type OwnershipFacts, type Permission, type Role } from './permissions';

/** Who acts: a signed-in person in one collection, or the system itself (personId null). */
export type Actor = {
  personId: string | null;
  name: string;
  collectionId: string;
  roles: readonly Role[];
  /** Set when a token acts for the person: the permissions it was given. */
  scopes?: readonly string[];
  /** What a request came with; not set where the installation itself acts. */
  letInBy?: { session: string; epoch: number } | { token: string };
};

/** The installation acting on its own (jobs, first set-up); may not be used for a request of a person. */
export function systemActor(collectionId: string): Actor {
  return { personId: null, name: 'Furcula', collectionId, roles: [] };
}

/** What every command needs to know of the request it serves. */
export type CommandContext = {
  actor: Actor;
  requestId?: string;
  /** `once`: the answer is given once and not kept; a repeated delivery is told that it was carried out. */
  idempotency?: { key: string; route: string; bodyDigest: string; once?: true };
};

/** The answer to a command is kept for repeated deliveries; personal data and secrets must not be, only that it was given. */
export const unkept = ({ idempotency, ...context }: CommandContext): CommandContext =>
  idempotency === undefined ? context : { ...context, idempotency: { ...idempotency, once: true } };

/** @throws AppError forbidden, naming what was asked for. */
export function authorise(actor: Actor, permission: Permission, facts?: OwnershipFacts): void {
  if (may(actor, permission, facts)) return;
  throw forbidden(
    say('Your roles ({roles}) do not allow this ({permission}). Ask an administrator if they should.', {
      roles: actor.roles.join(', ') || 'none',
      permission,
    }),
  );
}

/** The id of the acting person. @throws AppError where the system itself acts. */
export function personOf(actor: Actor): string {
  if (actor.personId === null) throw new AppError('not-signed-in', say('Please sign in.'));
  return actor.personId;
}
