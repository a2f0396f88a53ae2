import 'server-only';
import { randomBytes, randomUUID } from 'node:crypto';
import { type Actor, authorise, type CommandContext, personOf, unkept } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { settings } from '@/lib/platform/env';
import { conflict, notFound, notValid } from '@/lib/platform/errors';
import { seal } from '@/lib/platform/identity/sealed';
import { cutPage, type PageQuery, writeCursor } from '@/lib/platform/paging';
import { OutsideError, readOutsideAddress } from '@/lib/platform/post-outside';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { exchangeEvents } from '../events';
import {
  type FoundDelivery,
  type FoundWebhook,
  findDeliveries,
  findDelivery,
  findWebhook,
  findWebhooks,
  insertWebhook,
  restartDelivery,
  switchWebhook,
} from './repo';
import {
  type DeliveryRow,
  deliveryRow,
  type WebhookRequest,
  type WebhookRow,
  type WebhookSwitch,
} from './schema';

export const DELIVER_TASK = 'exchange.deliver-webhook';

/** The addresses that are told of this collection's changes. */
export async function listWebhooks(actor: Actor): Promise<{ rows: WebhookRow[] }> {
  authorise(actor, 'webhooks.manage');
  return { rows: (await findWebhooks(db(), actor.collectionId)).map(toRow) };
}

/**
 * Registers an address. The secret that signs what is sent is in the answer and shown nowhere else.
 * @throws AppError not-valid for an address that nothing is sent to.
 */
export async function makeWebhook(
  context: CommandContext,
  { name, address, stages }: WebhookRequest,
): Promise<{ secret: string; row: WebhookRow }> {
  const { actor } = context;
  authorise(actor, 'webhooks.manage');
  const url = checkAddress(address);
  const secret = `furcula_sign_${randomBytes(32).toString('base64url')}`;
  return withTx(unkept(context), async (work) => {
    const id = randomUUID();
    const made = await insertWebhook(work.db, {
      id,
      collectionId: actor.collectionId,
      name,
      address: url,
      stages: [...new Set(stages)],
      secret: seal(Buffer.from(secret), id),
      createdById: personOf(actor),
    });
    work.audit(
      exchangeEvents.make(
        'exchange.webhook-made',
        { subjectType: 'webhook', subjectId: made.id },
        { name, address: url, stages },
      ),
    );
    return { secret, row: toRow(made) };
  });
}

function checkAddress(address: string): string {
  try {
    return readOutsideAddress(address, { development: settings().WEBHOOKS_INSIDE }).toString();
  } catch (error) {
    if (!(error instanceof OutsideError)) throw error;
    throw notValid(say('The address was not registered.'), [{ path: 'address', message: error.message }]);
  }
}

/** Switches an address on or off, with a reason. */
export async function switchWebhookTo(
  context: CommandContext,
  id: string,
  { active, reason }: WebhookSwitch,
): Promise<WebhookRow> {
  const { actor } = context;
  authorise(actor, 'webhooks.manage');
  return withTx(context, async (work) => {
    const found = await findWebhook(work.db, actor.collectionId, id);
    if (found === null) throw notFound(say('This address'));
    if ((await switchWebhook(work.db, id, active, work.now)) === 0)
      throw conflict(
        active ? say('This address is switched on already.') : say('This address is switched off already.'),
      );
    work.audit(
      exchangeEvents.make(
        'exchange.webhook-switched',
        { subjectType: 'webhook', subjectId: id, reason },
        { name: found.name, active },
      ),
    );
    return toRow({ ...found, active, givenUpInRow: 0 });
  });
}

/** What was sent or waits to be, newest first. */
export async function listDeliveries(
  actor: Actor,
  query: PageQuery,
): Promise<{ rows: DeliveryRow[]; next: string | null }> {
  authorise(actor, 'webhooks.manage');
  const { rows, next } = cutPage(await findDeliveries(db(), actor.collectionId, query), query.size, (row) =>
    writeCursor([row.createdAt.toISOString(), row.id]),
  );
  return { rows: rows.map((row) => toDelivery(row)), next };
}

/** Sends a delivery once more, under the id it has. */
export async function resendDelivery(context: CommandContext, id: string): Promise<DeliveryRow> {
  const { actor } = context;
  authorise(actor, 'webhooks.manage');
  return withTx(context, async (work) => {
    const found = await findDelivery(work.db, id);
    if (found === null || found.webhook.collectionId !== actor.collectionId)
      throw notFound(say('This delivery'));
    if (!found.webhook.active) throw conflict(say('The address is switched off. Switch it on first.'));
    if ((await restartDelivery(work.db, id)) === 0)
      throw conflict(say('This delivery waits to be sent already.'));
    work.enqueue(DELIVER_TASK, { deliveryId: id });
    work.audit(
      exchangeEvents.make(
        'exchange.webhook-resent',
        { subjectType: 'webhook', subjectId: found.webhookId },
        { name: found.webhook.name, delivery: id },
      ),
    );
    return toDelivery({ ...found, state: 'waiting', attempts: 0, lastError: null, deliveredAt: null });
  });
}

const toRow = (webhook: FoundWebhook): WebhookRow => ({
  id: webhook.id,
  name: webhook.name,
  address: webhook.address,
  stages: webhook.stages,
  active: webhook.active,
  givenUpInRow: webhook.givenUpInRow,
  createdAt: webhook.createdAt.toISOString(),
});

const toDelivery = (delivery: FoundDelivery): DeliveryRow =>
  deliveryRow.parse({
    id: delivery.id,
    webhookId: delivery.webhookId,
    to: delivery.webhook.name,
    kind: delivery.kind,
    at: delivery.at.toISOString(),
    state: delivery.state,
    attempts: delivery.attempts,
    lastError: delivery.lastError,
    deliveredAt: delivery.deliveredAt?.toISOString() ?? null,
  });
