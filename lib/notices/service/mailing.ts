import 'server-only';
import { createHash, randomUUID } from 'node:crypto';
import { systemActor } from '@/lib/platform/actor';
import { dayIn, middayOf, now } from '@/lib/platform/clock';
import { addDays } from '@/lib/platform/days';
import { actorForJob } from '@/lib/platform/identity/acting-person';
import { canMail, type Mail, publicAddress, sendMail } from '@/lib/platform/mail';
import { paths } from '@/lib/platform/paths';
import { withTx } from '@/lib/platform/tx';
import { noticeEvents } from '../events';
import { readContent } from '../kinds';
import { mayHearOf } from '../policy';
import {
  claimForMail,
  dropFromMail,
  findCollection,
  findDigestReaders,
  findForDigest,
  findReader,
  findToMail,
  listCollections,
  markMailed,
  releaseClaim,
} from '../repo/mailing';
import type { FoundNotice } from '../repo/notices';
import { digestOf, type Letter, letterOf, type MailedNotice } from '../rules/mail';
import { noticeSubject } from '../schema';

const HOURS_BEFORE_MIDDAY = 5;

/** Seven in the morning of the collection, the last one that has passed: the mail of the day holds what came before. */
export function digestCutoff(timeZone: string, at: Date): Date {
  const sevenOn = (day: string) =>
    new Date(middayOf(timeZone, day).getTime() - HOURS_BEFORE_MIDDAY * 3_600_000);
  const today = dayIn(timeZone, at);
  const seven = sevenOn(today);
  return seven <= at ? seven : sevenOn(addDays(today, -1));
}

const toMailed = (row: FoundNotice): MailedNotice => ({
  ...readContent(row.kind, row.facts),
  subjectType: noticeSubject.parse(row.subjectType),
  subjectId: row.subjectId,
});

/** Mails one notice at once. Delivered twice, or by two workers together, it leaves once. */
export async function mailNotice(noticeId: string): Promise<void> {
  const notice = await findToMail(noticeId);
  if (notice === null || !canMail()) return;
  const { collectionId, personId } = notice;
  await deliver({ collectionId, personId }, [notice], 'at-once', ([only]) => letterOf(only, publicAddress()));
}

/** Mails what has waited for the day's mail of one person. */
export async function mailDigest(collectionId: string, personId: string): Promise<void> {
  if (!canMail()) return;
  const { name, timeZone } = await findCollection(collectionId);
  const waiting = await findForDigest(collectionId, personId, digestCutoff(timeZone, now()));
  await deliver({ collectionId, personId }, waiting, 'daily', (notices) =>
    digestOf(notices, name, publicAddress()),
  );
}

/** Whose mail of the day is due now, in every collection. */
export async function listDueDigests(): Promise<{ collectionId: string; personId: string }[]> {
  if (!canMail()) return [];
  const due: { collectionId: string; personId: string }[] = [];
  for (const { id, timeZone } of await listCollections())
    for (const { personId } of await findDigestReaders(id, digestCutoff(timeZone, now())))
      due.push({ collectionId: id, personId });
  return due;
}

type Filled = [MailedNotice, ...MailedNotice[]];
const isFilled = (notices: MailedNotice[]): notices is Filled => notices.length > 0;

/**
 * Claim, send, note. Where sending fails the claim is let go and the job comes again; where the worker dies between
 * sending and noting, the claim ends after a while and the mail leaves again under the same id, by which a mailbox
 * tells the repetition.
 * @throws Error when another delivery is at work or the server refuses: the job is tried again
 */
async function deliver(
  whose: { collectionId: string; personId: string },
  notices: readonly FoundNotice[],
  how: 'at-once' | 'daily',
  write: (notices: Filled) => Letter,
): Promise<void> {
  if (notices.length === 0) return;
  const { to, ids } = await readerOf(whose, notices);
  await dropFromMail(notices.map(({ id }) => id).filter((id) => !ids.includes(id)));
  if (ids.length === 0) return;
  const claim = randomUUID();
  const claimed = await claimForMail(ids, claim, now());
  const mailed = claimed
    .sort((a, b) => a.createdAt.getTime() - b.createdAt.getTime() || a.id.localeCompare(b.id))
    .map(toMailed);
  if (!isFilled(mailed)) throw new Error('Another delivery is mailing these notices.');
  const base = publicAddress();
  try {
    await sendMail({
      ...write(mailed),
      to,
      id: createHash('sha256')
        .update(claimed.map(({ id }) => id).join())
        .digest('hex')
        .slice(0, 32),
      preferences: base === null ? null : `${base.replace(/\/+$/, '')}${paths.noticePreferences}`,
    });
  } catch (error) {
    await releaseClaim(claim);
    throw error;
  }
  await withTx({ actor: systemActor(whose.collectionId) }, async (work) => {
    const count = await markMailed(work.db, claim, work.now);
    if (count === 0) return;
    work.audit(
      noticeEvents.make(
        'notices.mailed',
        { subjectType: 'person', subjectId: whose.personId },
        { how, notices: count },
      ),
    );
  });
}

/** Where to mail, and which of the notices: none for somebody who left, none of records they may no longer hear of. */
async function readerOf(
  { collectionId, personId }: { collectionId: string; personId: string },
  notices: readonly FoundNotice[],
): Promise<{ to: Mail['to']; ids: string[] }> {
  const [reader, actor] = [await findReader(personId), await actorForJob(personId, collectionId)];
  const hearable =
    actor === null
      ? []
      : notices.filter(({ subjectType }) => mayHearOf(actor, noticeSubject.parse(subjectType)));
  return { to: { name: reader.name, address: reader.email }, ids: hearable.map(({ id }) => id) };
}
