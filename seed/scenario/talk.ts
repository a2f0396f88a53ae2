import { Logger, runOnce } from 'graphile-worker';
import { noticeTasks } from '@/lib/notices/jobs';
import type { Subject } from '@/lib/notices/schema';
import { writeComment } from '@/lib/notices/service/comments';
import { markAllNoticesRead } from '@/lib/notices/service/notices';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { may } from '@/lib/platform/permissions';
import { contextOf, type Stage } from './foundation';
import type { Act } from './play';

/** What happened before this day has been read. */
const READ_UNTIL = '2026-11-01T00:00:00.000Z';

/** What the demo's people say to each other, on records that stand when they say it. */
export function talkActs(stage: Stage): Act[] {
  const act = (at: string, run: () => Promise<void>): Act => ({ at, run });
  const { collectionId } = stage;
  const person = (key: string): Actor => {
    const found = stage.people[key];
    if (found === undefined) throw new Error(`The demo has nobody called ${key}.`);
    return found;
  };
  const at = (key: string) => `@[${person(key).personId}]`;
  const say = async (by: string | Actor, about: Subject, text: string) => {
    const author = typeof by === 'string' ? person(by) : by;
    await writeComment(contextOf(author), { ...about, text, field: null });
  };
  const aPlainBird = { collectionId, taxon: { sensitive: false } };
  const lastQueued = async (): Promise<Subject> => {
    const bird = await db().bird.findFirstOrThrow({
      where: { ...aPlainBird, state: 'queued' },
      orderBy: [{ priority: 'desc' }, { number: 'asc' }],
    });
    return { subjectType: 'bird', subjectId: bird.id };
  };
  const answerReturned = async (text: string) => {
    const { id, preparatorId } = await db().benchRecord.findFirstOrThrow({
      where: { collectionId, state: 'returned', bird: aPlainBird },
      orderBy: { prepNumber: 'asc' },
    });
    const author = Object.values(stage.people).find(({ personId }) => personId === preparatorId);
    await say(author ?? 'preparator', { subjectType: 'bench-record', subjectId: id }, text);
  };
  const heldFind = async (): Promise<Subject> => {
    const hold = await db().hold.findFirstOrThrow({
      where: { liftedAt: null, salvage: { collectionId } },
      orderBy: [{ placedAt: 'asc' }, { id: 'asc' }],
    });
    return { subjectType: 'salvage', subjectId: hold.salvageId };
  };
  const lateLoan = async (): Promise<Subject> => {
    const loan = await db().loan.findFirstOrThrow({ where: { collectionId, state: 'received' } });
    return { subjectType: 'loan', subjectId: loan.id };
  };
  return [
    act('2026-09-02T14:10:00.000Z', async () =>
      say(
        'registrar',
        await lateLoan(),
        `They asked for two more weeks by telephone. ${at('curator')}, do you agree?`,
      ),
    ),
    act('2026-09-03T09:25:00.000Z', async () =>
      say(
        'curator',
        await lateLoan(),
        `Yes, if they write it: ${at('registrar')} please extend it when the letter is here.`,
      ),
    ),
    act('2026-11-17T15:05:00.000Z', async () =>
      say(
        'officer',
        await heldFind(),
        `I have called the office. ${at('preparator')}, leave it double-bagged until they answer.`,
      ),
    ),
    act('2026-11-18T10:40:00.000Z', async () =>
      say(
        'curator',
        await lastQueued(),
        `${at('volunteer')}, would you like this one? We have few with a full moult sequence.`,
      ),
    ),
    act('2026-11-18T11:30:00.000Z', async () =>
      say('volunteer', await lastQueued(), 'Gladly. Do you want the left wing spread?'),
    ),
    act('2026-11-18T16:20:00.000Z', () =>
      answerReturned(`Natural chord, with the stopped rule. ${at('curator')}, I have measured it again.`),
    ),
  ];
}

/** Tells everybody what the played acts announced up to now, as a worker would. */
export async function tellEverybody(connectionString: string): Promise<void> {
  const [waiting] = await db().$queryRaw<{ any: boolean }[]>`
    SELECT EXISTS (SELECT 1 FROM graphile_worker.jobs WHERE task_identifier LIKE 'notices.%') AS any`;
  if (!waiting?.any) return;
  await runOnce({
    connectionString,
    taskList: noticeTasks,
    noHandleSignals: true,
    logger: new Logger(() => (level, message) => {
      if (level === 'error') console.error(`jobs: ${message}`);
    }),
  });
}

/** What is long past has been read. */
export async function readOldNotices(stage: Stage): Promise<void> {
  for (const actor of Object.values(stage.people))
    if (may(actor, 'notices.see')) await markAllNoticesRead(contextOf(actor), { until: READ_UNTIL });
}
