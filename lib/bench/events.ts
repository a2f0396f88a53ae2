import { z } from 'zod';
import { changesShape, defineEvents } from '@/lib/platform/events';

const record = z.object({ prepNumber: z.string() });
const changed = record.extend({ changes: changesShape });

/** `changes` name each field by its label; what from, what to, in the words of the bench. */
export const benchEvents = defineEvents({
  'bench.started': record.extend({ bird: z.string(), style: z.string(), preparator: z.string() }),
  'bench.values-written': changed,
  'bench.values-kept-as-earlier': changed,
  'bench.change-undone': changed,
  'bench.step-marked': record.extend({ step: z.string(), done: z.boolean() }),
  'bench.warning-explained': record.extend({ field: z.string(), warning: z.string() }),
  'bench.explanation-withdrawn': record.extend({ field: z.string(), warning: z.string() }),
  'bench.style-changed': record.extend({ from: z.string(), to: z.string() }),
  'bench.scribe-changed': record.extend({ from: z.string().nullable(), to: z.string().nullable() }),
  'bench.divided': record.extend({ products: z.array(z.string()), sex: z.string() }),
  'bench.product-added': record.extend({ products: z.array(z.string()) }),
  'bench.sent-to-review': record.extend({ missing: z.array(z.string()) }),
  'bench.taken-back': record,
  'bench.returned': record.extend({ remarks: z.array(z.object({ field: z.string(), remark: z.string() })) }),
  'bench.remark-answered': record.extend({ field: z.string(), remark: z.string(), answer: z.string() }),
  'bench.approved': record,
  'bench.style-saved': z.object({ style: z.string(), version: z.int32() }),
  'bench.settings-changed': z.object({ changes: changesShape }),
  'bench.reference-loaded': z.object({
    title: z.string(),
    taxa: z.number().int(),
    measures: z.number().int(),
  }),
  'bench.reference-removed': z.object({ title: z.string() }),
});
