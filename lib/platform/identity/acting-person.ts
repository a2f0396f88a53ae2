import 'server-only';
import type { Actor } from '../actor';
import { db } from '../db';
import { Prisma } from '../generated/prisma/client';
import { ROLES, type Role } from '../permissions';

export type ActingPerson = {
  id: string;
  name: string;
  sessionEpoch: number;
  memberships: { collectionId: string; role: string }[];
};

/** What is read of "Person" p to act as somebody, in the statement of whoever asks: each request does. */
export const actingPersonColumns = Prisma.sql`p.id, p.name, p."sessionEpoch", COALESCE((
  SELECT json_agg(json_build_object('collectionId', m."collectionId", 'role', m.role) ORDER BY m."collectionId", m.role)
  FROM "Membership" m WHERE m."personId" = p.id), '[]') AS memberships`;

/** A person with an open account; null when there is none. */
export async function findActingPerson(personId: string): Promise<ActingPerson | null> {
  const [person] = await db().$queryRaw<ActingPerson[]>`
    SELECT ${actingPersonColumns} FROM "Person" p WHERE p.id = ${personId}::uuid AND p.active`;
  return person ?? null;
}

/** The person as an actor in a collection; null when they have no role in it (any more). */
export function actorIn(person: ActingPerson, collectionId: string): Actor | null {
  const roles = person.memberships
    .filter((membership) => membership.collectionId === collectionId)
    .map((membership) => membership.role)
    .filter((role): role is Role => (ROLES as readonly string[]).includes(role));
  return roles.length === 0 ? null : { personId: person.id, name: person.name, collectionId, roles };
}

/** The person on whose behalf a job works, with the roles they have by now; null when they may do nothing any more. */
export async function actorForJob(personId: string, collectionId: string): Promise<Actor | null> {
  const person = await findActingPerson(personId);
  return person === null ? null : actorIn(person, collectionId);
}
