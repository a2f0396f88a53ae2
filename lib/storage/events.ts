import { z } from 'zod';
import { changesShape, defineEvents } from '@/lib/platform/events';

export const storageEvents = defineEvents({
  'storage.material-made': z.object({ material: z.string(), kind: z.string(), from: z.string().nullable() }),
  'storage.material-moved': z.object({
    material: z.string(),
    from: z.string().nullable(),
    to: z.string().nullable(),
  }),
  'storage.custody-changed': z.object({ material: z.string(), from: z.string(), to: z.string() }),
  'storage.unit-made': z.object({ path: z.string(), kind: z.string(), code: z.string() }),
  'storage.unit-changed': z.object({ changes: changesShape }),
});
