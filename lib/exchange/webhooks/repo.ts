import 'server-only';
import { z } from 'zod';
import type { Tx } from '@/lib/platform/db';
import { cursorInstant, type PageQuery, readCursor } from '@/lib/platform/paging';

export const findWebhooks = (tx: Tx, collectionId: string) =>
  tx.webhook.findMany({ where: { collectionId }, orderBy: [{ createdAt: 'desc' }, { id: 'desc' }] });

export type FoundWebhook = Awaited<ReturnType<typeof findWebhooks>>[number];

export const findWebhook = (tx: Tx, collectionId: string, id: string) =>
  tx.webhook.findFirst({ where: { id, collectionId } });

type NewWebhook = Pick<
  FoundWebhook,
  'id' | 'collectionId' | 'name' | 'address' | 'stages' | 'secret' | 'createdById'
>;
export const insertWebhook = (tx: Tx, data: NewWebhook) => tx.webhook.create({ data });

/** Switches it where it is not so yet; the number of rows changed. */
export async function switchWebhook(tx: Tx, id: string, active: boolean, at: Date): Promise<number> {
  const { count } = await tx.webhook.updateMany({
    where: { id, active: !active },
    data: { active, givenUpInRow: 0, switchedOffAt: active ? null : at },
  });
  return count;
}

export function findDeliveries(tx: Tx, collectionId: string, { after, size }: PageQuery) {
  const last = after === undefined ? undefined : readCursor(after, z.tuple([cursorInstant, z.uuid()]));
  return tx.webhookDelivery.findMany({
    where: {
      webhook: { collectionId },
      OR:
        last === undefined
          ? undefined
          : [{ createdAt: { lt: new Date(last[0]) } }, { createdAt: new Date(last[0]), id: { lt: last[1] } }],
    },
    include: { webhook: { select: { name: true } } },
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    relationLoadStrategy: 'query',
    take: size + 1,
  });
}
export type FoundDelivery = Awaited<ReturnType<typeof findDeliveries>>[number];

export const findDelivery = (tx: Tx, id: string) =>
  tx.webhookDelivery.findUnique({ where: { id }, include: { webhook: true } });

/** Puts a delivery back to its beginning unless it waits already; the number of rows changed. */
export async function restartDelivery(tx: Tx, id: string): Promise<number> {
  const { count } = await tx.webhookDelivery.updateMany({
    where: { id, state: { not: 'waiting' } },
    data: { state: 'waiting', attempts: 0, lastError: null, deliveredAt: null },
  });
  return count;
}

export async function noteArrival(tx: Tx, id: string, webhookId: string, at: Date): Promise<void> {
  await tx.webhookDelivery.update({
    where: { id },
    data: { state: 'delivered', deliveredAt: at, lastError: null, attempts: { increment: 1 } },
  });
  await tx.webhook.update({ where: { id: webhookId }, data: { givenUpInRow: 0 } });
}

/** One more attempt that failed; the attempts so far. */
export async function noteFailure(tx: Tx, id: string, lastError: string): Promise<number> {
  const { attempts } = await tx.webhookDelivery.update({
    where: { id },
    data: { lastError, attempts: { increment: 1 } },
  });
  return attempts;
}

/** Ends a delivery; how many of this address were given up in a row. */
export async function giveUp(tx: Tx, id: string, webhookId: string, lastError: string): Promise<number> {
  await tx.webhookDelivery.update({ where: { id }, data: { state: 'given-up', lastError } });
  const { givenUpInRow } = await tx.webhook.update({
    where: { id: webhookId },
    data: { givenUpInRow: { increment: 1 } },
  });
  return givenUpInRow;
}

/** Deletes what ended before that instant; the number of deliveries deleted. */
export async function dropEndedDeliveries(tx: Tx, before: Date): Promise<number> {
  const { count } = await tx.webhookDelivery.deleteMany({
    where: { state: { not: 'waiting' }, createdAt: { lt: before } },
  });
  return count;
}
