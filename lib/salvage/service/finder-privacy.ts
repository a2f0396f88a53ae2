import 'server-only';
import { authorise, type CommandContext, systemActor, unkept } from '@/lib/platform/actor';
import { dayOf, now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { settings } from '@/lib/platform/env';
import { AppError, conflict, notFound } from '@/lib/platform/errors';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { salvageEvents } from '../events';
import {
  dropFinderData,
  type FinderWithFinds,
  findQuietFinders,
  findSameFinders,
  listCollectionIds,
} from '../repo/finders';
import { isSettled } from '../rules/settled';
import type { SalvageState } from '../schema';
import type { SalvageRecord } from '../wire';
import type { FinderExport } from '../wire-finder';
import { load, onRecord, save, subjectOf } from './load';

const DAY_MS = 24 * 3_600_000;

/**
 * All that is kept of the finder of a bird, with everybody on file under the same e-mail or telephone: contact data and
 * what they told of each bird. That it was handed out goes into the history.
 */
export async function exportFinder(context: CommandContext, id: string): Promise<FinderExport> {
  authorise(context.actor, 'finder.see');
  return withTx(unkept(context), async (work) => {
    const find = await load(work.db, work.actor.collectionId, id);
    if (find.finder === null) throw notFound(say('The finder of this bird'));
    const same = await findSameFinders(work.db, work.actor.collectionId, find.finder);
    for (const told of same.flatMap(({ salvages }) => salvages))
      work.audit(salvageEvents.make('salvage.finder-exported', subjectOf(told), { number: told.number }));
    return { madeAt: work.now.toISOString(), finders: same.map(toExport) };
  });
}

const toExport = (finder: FinderWithFinds): FinderExport['finders'][number] => ({
  name: finder.name,
  email: finder.email,
  phone: finder.phone,
  address: finder.address,
  createdAt: finder.createdAt.toISOString(),
  erasedAt: finder.erasedAt?.toISOString() ?? null,
  finds: finder.salvages.map((find) => ({
    number: find.number,
    state: find.state,
    receiptCode: find.receiptCode,
    loggedAt: find.loggedAt.toISOString(),
    receivedOn: dayOf(find.receivedOn),
    foundFrom: dayOf(find.foundFrom),
    foundTo: dayOf(find.foundTo),
    verbatimDate: find.verbatimDate,
    verbatimTaxon: find.verbatimTaxon,
    country: find.country,
    stateProvince: find.stateProvince,
    county: find.county,
    locality: find.locality,
    latitude: find.latitude,
    longitude: find.longitude,
    circumstances: find.circumstances,
    custody: find.custody.map(({ at, fromWhom, toWhom }) => ({
      at: at.toISOString(),
      from: fromWhom,
      to: toWhom,
    })),
  })),
});

/**
 * Erases a finder's name and contact data on request. The record, its custody and its verdict stay: the book still
 * balances, and reports say "finder, on file".
 */
export function eraseFinder(
  context: CommandContext,
  id: string,
  { version, reason }: { version: number; reason: string },
): Promise<SalvageRecord> {
  return onRecord(unkept(context), id, { permission: 'finder.erase', version }, async (work, find) => {
    if (find.finder === null) throw notFound(say('The finder of this bird'));
    if ((await dropFinderData(work.db, find.finder.id, { erasedAt: work.now })) === 0)
      throw conflict(say('The finder’s data were erased already.'));
    await save(work, find, {});
    work.audit(salvageEvents.make('salvage.finder-erased', subjectOf(find, reason), { number: find.number }));
  });
}

/**
 * Erases e-mail, telephone and address of finders whose finds are all settled and of which nothing was written for so
 * many days. The name stays: the law asks who found a bird, and the check of coverage needs it. Gives how many.
 */
export async function eraseOldContacts(collectionId: string, days: number): Promise<number> {
  const since = new Date(now().getTime() - days * DAY_MS);
  let erased = 0;
  for (const finder of await findQuietFinders(db(), collectionId, since)) {
    const settled = finder.salvages.every((find) =>
      isSettled({
        state: find.state as SalvageState,
        birdState: find.bird?.state ?? null,
        openHolds: find.holds.length,
      }),
    );
    if (!settled || finder.salvages.length === 0) continue;
    if (await expireContact(finder, collectionId, days)) erased += 1;
  }
  return erased;
}

/** False when somebody erased them a moment before. */
async function expireContact(finder: FinderWithFinds, collectionId: string, days: number): Promise<boolean> {
  try {
    await withTx({ actor: systemActor(collectionId) }, async (work) => {
      if ((await dropFinderData(work.db, finder.id, { contactExpiredAt: work.now })) === 0)
        throw conflict(say('The finder’s contact data were erased already.'));
      for (const find of finder.salvages)
        work.audit(
          salvageEvents.make('salvage.finder-contact-expired', subjectOf(find), {
            number: find.number,
            days,
          }),
        );
    });
    return true;
  } catch (error) {
    if (error instanceof AppError && error.code === 'conflict') return false;
    throw error;
  }
}

/** Each night, where FINDER_CONTACT_DAYS says after how many days. */
export async function eraseOldContactsEverywhere(): Promise<void> {
  const days = settings().FINDER_CONTACT_DAYS;
  if (days === undefined) return;
  for (const { id } of await listCollectionIds(db())) await eraseOldContacts(id, days);
}
