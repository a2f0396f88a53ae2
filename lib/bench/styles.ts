import { z } from 'zod';
import { CAUTION_IDS } from '@/lib/bench/caution-titles';
import { FIELD_IDS } from '@/lib/bench/fields';
import { materialKind, type PreparationStyleId, preparationStyleId } from '@/lib/bench/schema';
import { phrases } from '@/lib/platform/words/say';

export const styleStep = z.strictObject({
  id: z.string().regex(/^[a-z][a-z0-9-]*$/),
  label: z.string().min(1).max(120),
  detail: z.string().max(600),
  cautions: z.array(z.enum(CAUTION_IDS)),
  /** Fields that this step fills, so that the page can bring them forward. */
  fields: z.array(z.enum(FIELD_IDS)),
});
export type StyleStep = z.infer<typeof styleStep>;

/** A preparation style as data: what is done in which order and what comes of it. Preparators edit and version it. */
export const preparationStyle = z
  .strictObject({
    id: preparationStyleId,
    version: z.int32().min(1),
    label: z.string().min(1).max(120),
    source: z.string().min(1),
    products: z.array(z.strictObject({ kind: materialKind, least: z.int().min(0), usual: z.int().min(0) })),
    steps: z.array(styleStep).min(1),
  })
  .refine(({ steps }) => new Set(steps.map(({ id }) => id)).size === steps.length, 'Each step only once');
export type PreparationStyle = z.infer<typeof preparationStyle>;

/** The fields that a style's steps fill, in the order of the work, each once. */
export const stepFields = ({ steps }: PreparationStyle): StyleStep['fields'] => [
  ...new Set(steps.flatMap(({ fields }) => fields)),
];

/** What the styles are called until a lab gives its own a name. */
export const STYLE_LABELS: Readonly<Record<PreparationStyleId, string>> = phrases({
  'skin-with-partial-skeleton': 'Study skin with partial skeleton',
  'whole-skeleton': 'Whole skeleton',
  'spread-wing-with-skin': 'Spread wing with skin',
  'flat-skin': 'Flat skin',
  fluid: 'In fluid',
  'tissue-only': 'Tissue only',
  discard: 'Discard',
});
