import 'server-only';
import type { CronItem } from 'graphile-worker';
import { z } from 'zod';
import { recheckAll } from './service/coverage';
import { eraseOldContactsEverywhere } from './service/finder-privacy';

const lawChanged = z.object({ collectionId: z.uuid(), because: z.string() });

const EXPIRE_TASK = 'salvage.expire-finder-contacts';

/** Background work of this stage, by the name of what it hears. */
export const salvageTasks = {
  'permits.law-changed': async (payload: unknown): Promise<void> => {
    const { collectionId, because } = lawChanged.parse(payload);
    await recheckAll(collectionId, because);
  },
  [EXPIRE_TASK]: () => eraseOldContactsEverywhere(),
};

export const salvageCron: CronItem[] = [
  { task: EXPIRE_TASK, match: '15 3 * * *', identifier: 'expire-finder-contacts' },
];
