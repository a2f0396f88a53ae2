import 'server-only';
import { db, type Tx } from '@/lib/platform/db';
import type { FoundNotice } from './notices';

/** How long a worker may take to hand a mail over before another may think it died. */
const CLAIM_MS = 10 * 60_000;

const free = (at: Date) => ({
  mailedAt: null,
  OR: [{ mailClaim: null }, { mailClaimedAt: { lt: new Date(at.getTime() - CLAIM_MS) } }],
});

export const findToMail = (id: string) =>
  db().notice.findFirst({ where: { id, mail: 'at-once', mailedAt: null } });

/** People with unread notices that wait for the day's mail. */
export const findDigestReaders = (collectionId: string, madeBefore: Date) =>
  db().notice.findMany({
    where: { collectionId, mail: 'daily', mailedAt: null, readAt: null, createdAt: { lt: madeBefore } },
    select: { personId: true },
    distinct: ['personId'],
  });

/** What waits for one person's mail of the day, oldest first. */
export const findForDigest = (collectionId: string, personId: string, madeBefore: Date) =>
  db().notice.findMany({
    where: {
      collectionId,
      personId,
      mail: 'daily',
      mailedAt: null,
      readAt: null,
      createdAt: { lt: madeBefore },
    },
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
  });

/**
 * Claims notices for one delivery and answers those that are now its own. Of deliveries that come at once each notice
 * goes to one. A claim is how mail is sent, not something that happened to the collection: it is not audited.
 */
export const claimForMail = (ids: readonly string[], claim: string, at: Date): Promise<FoundNotice[]> =>
  db().notice.updateManyAndReturn({
    where: { id: { in: [...ids] }, ...free(at) },
    data: { mailClaim: claim, mailClaimedAt: at },
  });

/** Lets go of what could not be mailed, so that the next try need not wait. */
export const releaseClaim = (claim: string) =>
  db().notice.updateMany({
    where: { mailClaim: claim, mailedAt: null },
    data: { mailClaim: null, mailClaimedAt: null },
  });

/** Only the delivery that holds the claim notes it as mailed. */
export const markMailed = async (tx: Tx, claim: string, at: Date): Promise<number> =>
  (await tx.notice.updateMany({ where: { mailClaim: claim, mailedAt: null }, data: { mailedAt: at } })).count;

/** Gives up mail for somebody who may no longer hear of it; it was never sent. */
export const dropFromMail = (ids: readonly string[]) =>
  db().notice.updateMany({
    where: { id: { in: [...ids] }, mailedAt: null },
    data: { mail: 'none', mailClaim: null, mailClaimedAt: null },
  });

export const listCollections = () =>
  db().collection.findMany({ select: { id: true, name: true, timeZone: true }, orderBy: { id: 'asc' } });

export const findCollection = (id: string) =>
  db().collection.findUniqueOrThrow({ where: { id }, select: { id: true, name: true, timeZone: true } });

export const findReader = (personId: string) =>
  db().person.findUniqueOrThrow({ where: { id: personId }, select: { name: true, email: true } });
