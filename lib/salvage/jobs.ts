import 'server-only';
import { z } from 'zod';
import { recheckAll } from './service/coverage';

const lawChanged = z.object({ collectionId: z.uuid(), because: z.string() });

/** Background work of this stage, by the name of what it hears. */
export const salvageTasks = {
  'permits.law-changed': async (payload: unknown): Promise<void> => {
    const { collectionId, because } = lawChanged.parse(payload);
    await recheckAll(collectionId, because);
  },
};
