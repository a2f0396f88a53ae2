import { z } from 'zod';
import { clockSettings } from '@/lib/bench/clock-schema';
import { FIELD_IDS, type FieldId } from '@/lib/bench/fields';
import { benchSettings } from '@/lib/bench/settings';
import { preparationStyle } from '@/lib/bench/styles';

/** Requests and answers about the lab's own settings. */
const fieldId = z.enum(FIELD_IDS as [FieldId, ...FieldId[]]);

export const labSettings = z.object({
  styles: z.array(
    z.object({ style: preparationStyle, savedAt: z.string().nullable(), savedBy: z.string().nullable() }),
  ),
  scales: z.partialRecord(fieldId, z.string()),
  clocks: clockSettings,
  references: z.array(
    z.object({ id: z.uuid(), title: z.string(), source: z.string(), taxa: z.int(), loadedAt: z.string() }),
  ),
  mayChange: z.boolean(),
});
export type LabSettings = z.infer<typeof labSettings>;

/** `version` of the style is the one that was changed; the save is the next. */
export const saveStyleRequest = z.object({ style: preparationStyle });
export const labRequest = benchSettings.required();
export const referenceRequest = z.object({
  title: z.string().trim().min(1, 'Name the table.').max(120),
  source: z.string().trim().min(1, 'Say where the figures come from.').max(300),
  /** CSV with a head: scientificName and number fields of the bench record, in mm and g. */
  csv: z.string().min(10, 'The table is empty.').max(950_000),
});
