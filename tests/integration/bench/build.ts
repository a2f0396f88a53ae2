import { randomUUID } from 'node:crypto';
import type { FieldId } from '@/lib/bench/fields';
import { startRecord } from '@/lib/bench/service/records';
import { type EntryRequest, writeRequest } from '@/lib/bench/wire-acts';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { contextOf, makeBird } from '@/seed/factories';

/** A bird claimed by this person, brought to the bench; answers with its bench record. */
export async function makeRecord(
  actor: Actor,
  input: { styleId?: string; taxonId?: string; foundOn?: string } = {},
) {
  const bird = await makeBird(db(), actor.collectionId, {
    ...input,
    birdState: 'claimed',
    claimedById: actor.personId ?? undefined,
  });
  return startRecord(contextOf(actor), bird.id);
}

export const entry = (
  field: FieldId,
  value: EntryRequest['value'],
  more: Partial<EntryRequest> = {},
): EntryRequest => ({ field, value, clientKey: randomUUID(), ...more });

export const delivery = (...entries: EntryRequest[]) => writeRequest.parse({ entries });

/** Everything a study skin's record usually holds. */
export const wholeRecord = (): EntryRequest[] => [
  entry('massG', 78.2),
  entry('wingMm', 128, { method: 'chord' }),
  entry('sex', 'female'),
  entry('leftOvary', { lengthMm: 12, widthMm: 5 }),
  entry('skullOssificationPct', 100),
  entry('fat', { score: 2, scale: 'helms-drury-1960' }),
  entry('moult', 'none'),
  entry('irisColour', 'dark brown'),
  entry('stomachContents', ['two beetles', 'grit']),
  entry('causeOfDeathFound', 'window strike'),
  entry('tissueVials', [{ vial: 1, kinds: ['liver'] }]),
];
