import { z } from 'zod';
import { changesShape, defineEvents } from '@/lib/platform/events';

export const storageEvents = defineEvents({
  'storage.material-made': z.object({ material: z.string(), kind: z.string(), from: z.string().nullable() }),
  'storage.material-moved': z.object({
    material: z.string(),
    from: z.string().nullable(),
    to: z.string().nullable(),
  }),
  'storage.moved-along': z.object({ materials: z.array(z.string()), from: z.string(), to: z.string() }),
  'storage.custody-changed': z.object({ material: z.string(), from: z.string(), to: z.string() }),
  'storage.unit-made': z.object({ path: z.string(), kind: z.string(), code: z.string() }),
  'storage.unit-changed': z.object({ changes: changesShape }),
  'storage.unit-moved': z.object({
    unit: z.string(),
    from: z.string(),
    to: z.string(),
    materials: z.number().int(),
  }),
  'storage.count-opened': z.object({ unit: z.string() }),
  'storage.count-scanned': z.object({ unit: z.string(), scans: z.number().int() }),
  'storage.count-closed': z.object({
    unit: z.string(),
    expected: z.number().int(),
    confirmed: z.number().int(),
    findings: z.number().int(),
  }),
  'storage.log-loaded': z.object({
    freezer: z.string(),
    fileName: z.string(),
    fromAt: z.string(),
    toAt: z.string(),
    readings: z.number().int(),
    excursions: z.number().int(),
  }),
});
