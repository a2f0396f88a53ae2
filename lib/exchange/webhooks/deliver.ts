import 'server-only';
import { announce } from '@/lib/notices/public';
import { systemActor } from '@/lib/platform/actor';
import { now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { settings } from '@/lib/platform/env';
import { unseal } from '@/lib/platform/identity/sealed';
import { OutsideError, postOutside } from '@/lib/platform/post-outside';
import { withTx } from '@/lib/platform/tx';
import { exchangeEvents } from '../events';
import { DELIVERY_HEADER, SIGNATURE_HEADER, TIMESTAMP_HEADER } from './headers';
import { dropEndedDeliveries, findDelivery, giveUp, noteArrival, noteFailure, switchWebhook } from './repo';
import { deliveryBody } from './schema';
import { signBody } from './sign';

/** With the queue's back-off the last attempt comes some hours after the first. */
const MOST_ATTEMPTS = 10;
/** An address that let so many deliveries in a row be given up is switched off. */
const MOST_GIVEN_UP = 5;
const KEPT_DAYS = 90;

/**
 * Sends one delivery. It may arrive more than once, always under the same id. Throws where it is to be tried again, so
 * that the queue waits longer each time.
 */
export async function deliver(id: string): Promise<void> {
  const delivery = await findDelivery(db(), id);
  if (delivery === null || delivery.state !== 'waiting') return;
  const { webhook } = delivery;
  if (!webhook.active) {
    await giveUp(db(), id, webhook.id, 'The address is switched off.');
    return;
  }
  const secret = unseal(webhook.secret, webhook.id);
  if (secret === null) {
    await giveUp(
      db(),
      id,
      webhook.id,
      'The signing secret cannot be read with this NEXTAUTH_SECRET: register the address anew.',
    );
    return;
  }
  const body = JSON.stringify(
    deliveryBody.parse({
      delivery: id,
      collectionId: webhook.collectionId,
      seq: Number(delivery.seq),
      kind: delivery.kind,
      subjectType: delivery.subjectType,
      subjectId: delivery.subjectId,
      birdId: delivery.birdId,
      at: delivery.at.toISOString(),
    }),
  );
  const timestamp = String(Math.floor(now().getTime() / 1000));
  const headers = {
    [DELIVERY_HEADER]: id,
    [TIMESTAMP_HEADER]: timestamp,
    [SIGNATURE_HEADER]: signBody(secret.toString(), timestamp, body),
  };
  try {
    await postOutside(webhook.address, body, headers, { development: settings().WEBHOOKS_INSIDE });
  } catch (error) {
    if (!(error instanceof OutsideError)) throw error;
    await noteRefusal(id, webhook, error);
    return;
  }
  await noteArrival(db(), id, webhook.id, now());
}

/** What was sent or given up is kept a while to be looked at and sent again, then forgotten: it is no record. */
export async function forgetOldDeliveries(): Promise<void> {
  await dropEndedDeliveries(db(), new Date(now().getTime() - KEPT_DAYS * 86_400_000));
}

async function noteRefusal(
  id: string,
  webhook: { id: string; name: string; collectionId: string },
  error: OutsideError,
): Promise<void> {
  const attempts = await noteFailure(db(), id, error.message);
  if (attempts < MOST_ATTEMPTS) throw error;
  const inRow = await giveUp(db(), id, webhook.id, error.message);
  if (inRow < MOST_GIVEN_UP) return;
  await withTx({ actor: systemActor(webhook.collectionId) }, async (work) => {
    if ((await switchWebhook(work.db, webhook.id, false, work.now)) === 0) return;
    work.audit(
      exchangeEvents.make(
        'exchange.webhook-switched',
        {
          subjectType: 'webhook',
          subjectId: webhook.id,
          reason: `${MOST_GIVEN_UP} deliveries in a row did not arrive.`,
        },
        { name: webhook.name, active: false },
      ),
    );
    announce(work, {
      subjectType: 'webhook',
      subjectId: webhook.id,
      kind: 'exchange.webhook-stopped',
      facts: { webhook: webhook.name, deliveries: MOST_GIVEN_UP },
      to: { roles: ['administrator'] },
    });
  });
}
