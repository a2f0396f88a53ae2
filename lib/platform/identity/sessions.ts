import 'server-only';
import { now } from '../clock';
import { db, type Tx } from '../db';
import { settings } from '../env';
import { log } from '../log';
import { type ActingPerson, actingPersonColumns } from './acting-person';

/** A token older than this is exchanged for the next with the answer to a request. */
export const TURN_MS = 15 * 60_000;
/** Requests that were under way when the next token came may still carry the one before. */
const GRACE_MS = 60_000;
const NOTED_EVERY_MS = 60_000;

/** How long a browser keeps its token; the database ends the session, also an idle one. */
export const sessionSeconds = (): number => settings().SESSION_HOURS * 3_600;

/** What a browser's token says of its session. */
export type SessionTurn = { session: string; turn: number };

/** Begins a session of a person who has just signed in. Gives its id. */
export async function beginSession(personId: string): Promise<string> {
  const at = now();
  const made = await db().signInSession.create({
    data: { personId, startedAt: at, turnedAt: at, lastUsedAt: at },
    select: { id: true },
  });
  return made.id;
}

type Found = ActingPerson & { turn: number; startedAt: Date; turnedAt: Date; lastUsedAt: Date };

/**
 * The person of a session that stands, with an open account; null without. It stands while it is not ended, neither
 * left idle longer than SESSION_IDLE_MINUTES nor older than SESSION_HOURS, of the epoch of its person, and the token of
 * this turn or the next. The first use of the next makes it this one. Who comes with a token of a turn long past has a
 * copy, or had theirs copied: the session ends for both.
 */
export async function personInSession(
  { session, turn }: SessionTurn,
  who: { id: string; epoch: number },
): Promise<ActingPerson | null> {
  const [kept] = await db().$queryRaw<Found[]>`
    SELECT ${actingPersonColumns}, s.turn, s."startedAt", s."turnedAt", s."lastUsedAt"
    FROM "SignInSession" s JOIN "Person" p ON p.id = s."personId"
    WHERE s.id = ${session}::uuid AND s."endedAt" IS NULL AND p.id = ${who.id}::uuid AND p.active`;
  const at = now();
  if (kept === undefined || kept.sessionEpoch !== who.epoch || isOver(kept, at)) return null;
  if (turn === kept.turn + 1)
    await db().signInSession.updateMany({
      where: { id: session, turn: kept.turn },
      data: { turn, turnedAt: at, lastUsedAt: at },
    });
  else if (turn !== kept.turn && !isJustPast(kept, turn, at)) {
    log().warn({ session }, 'a retired session token was used; the session was ended');
    await endSession(session);
    return null;
  }
  if (at.getTime() - kept.lastUsedAt.getTime() > NOTED_EVERY_MS)
    await db().signInSession.updateMany({
      where: { id: session, lastUsedAt: { lt: at } },
      data: { lastUsedAt: at },
    });
  return kept;
}

/** Whether a session of this person stands; asking is no use of it. */
export async function sessionStands(session: string, personId: string): Promise<boolean> {
  const kept = await db().signInSession.findUnique({ where: { id: session } });
  return kept !== null && kept.personId === personId && kept.endedAt === null && !isOver(kept, now());
}

type Kept = { turn: number; startedAt: Date; turnedAt: Date; lastUsedAt: Date };

function isOver({ startedAt, lastUsedAt }: Kept, at: Date): boolean {
  const { SESSION_IDLE_MINUTES, SESSION_HOURS } = settings();
  return (
    at.getTime() >= lastUsedAt.getTime() + SESSION_IDLE_MINUTES * 60_000 ||
    at.getTime() >= startedAt.getTime() + SESSION_HOURS * 3_600_000
  );
}

const isJustPast = (kept: Kept, turn: number, at: Date): boolean =>
  turn === kept.turn - 1 && at.getTime() - kept.turnedAt.getTime() <= GRACE_MS;

/** The turn that may follow this one; null when the session has ended or another token is the present one. */
export async function nextTurn({ session, turn }: SessionTurn): Promise<number | null> {
  const kept = await db().signInSession.findUnique({ where: { id: session } });
  return kept !== null && kept.endedAt === null && kept.turn === turn && !isOver(kept, now())
    ? turn + 1
    : null;
}

export async function endSession(id: string): Promise<void> {
  await db().signInSession.updateMany({ where: { id, endedAt: null }, data: { endedAt: now() } });
}

export async function endSessionsOf(tx: Tx, personId: string): Promise<void> {
  await tx.signInSession.updateMany({ where: { personId, endedAt: null }, data: { endedAt: now() } });
}

/** Forgets sessions that can no longer be used, whatever their end was. Gives how many. */
export async function forgetOldSessions(): Promise<number> {
  const before = new Date(now().getTime() - settings().SESSION_HOURS * 3_600_000);
  const { count } = await db().signInSession.deleteMany({ where: { startedAt: { lt: before } } });
  return count;
}
