import { z } from 'zod';
import { changesShape, defineEvents } from '@/lib/platform/events';

const numbered = z.object({ number: z.string() });
const verdict = z.string();

/** Payloads hold no finder's data and no words of theirs that could name them. */
export const salvageEvents = defineEvents({
  'salvage.logged': numbered.extend({
    source: z.string(),
    taxon: z.string(),
    specimenType: z.string(),
    quantity: z.number().int(),
    foundFrom: z.string(),
    foundTo: z.string(),
    county: z.string(),
    locality: z.string(),
  }),
  'salvage.changed': numbered.extend({ changes: changesShape }),
  'salvage.identified-anew': numbered.extend({ from: z.string(), to: z.string() }),
  'salvage.triage-started': numbered.extend({ from: z.string() }),
  'salvage.accepted': numbered.extend({ state: z.string() }),
  'salvage.declined': numbered.extend({ from: z.string() }),
  'salvage.withdrawn': numbered.extend({ from: z.string() }),
  'salvage.hold-placed': numbered.extend({
    hold: z.string(),
    tellWhom: z.string().nullable(),
    byCheck: z.boolean(),
  }),
  'salvage.hold-lifted': numbered.extend({
    hold: z.string(),
    document: z.string().nullable(),
    byCheck: z.boolean(),
  }),
  'salvage.coverage-checked': numbered.extend({
    from: verdict,
    to: verdict,
    authority: z.string().nullable(),
    reasons: z.array(z.string()),
  }),
  'salvage.coverage-rechecked': z.object({
    because: z.string(),
    records: z.number().int(),
    changed: z.number().int(),
  }),
  'salvage.ruled': numbered.extend({ verdict, cite: z.string(), permit: z.string().nullable() }),
  'salvage.ruling-ended': numbered.extend({ verdict }),
  'salvage.handed-over': numbered.extend({ from: z.string(), to: z.string(), at: z.string() }),
  'salvage.band-reported': numbered.extend({ band: z.string(), reportedOn: z.string() }),
  'salvage.finder-looked-up': numbered,
  'salvage.finder-changed': numbered,
  'salvage.finder-erased': numbered,
  'salvage.finder-exported': numbered,
  'salvage.finder-contact-expired': numbered.extend({ days: z.number().int() }),
  'salvage.slip-made': z.object({ slip: z.string() }),
  'salvage.slip-revoked': z.object({ slip: z.string() }),
});
