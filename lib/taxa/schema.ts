import { z } from 'zod';
import { pageOf, pageQuery } from '@/lib/platform/paging';

/** Largest checklist file: the world's birds with subspecies are about 10 MB. */
export const LARGEST_CHECKLIST_BYTES = 64 * 1024 * 1024;

export const taxonSearchQuery = z.object({
  q: z.string().trim().min(1).max(100),
  size: z.coerce.number().int().min(1).max(50).default(12),
});
export type TaxonSearchQuery = z.infer<typeof taxonSearchQuery>;

export const TAXON_SHOWN = ['accepted', 'synonyms', 'sensitive', 'held'] as const;

export const taxonListQuery = pageQuery.extend({
  q: z.string().trim().max(100).optional(),
  family: z.string().trim().max(100).optional(),
  shown: z.enum(TAXON_SHOWN).default('accepted'),
});
export type TaxonListQuery = z.infer<typeof taxonListQuery>;

export const taxonRow = z.object({
  id: z.uuid(),
  scientificName: z.string(),
  commonName: z.string().nullable(),
  rank: z.string(),
  orderName: z.string().nullable(),
  familyName: z.string().nullable(),
  sensitive: z.boolean(),
  acceptedName: z.string().nullable(),
  birds: z.number().int(),
});
export type TaxonRow = z.infer<typeof taxonRow>;
export const taxonPage = pageOf(taxonRow);

export const taxonRecord = taxonRow.extend({
  authorship: z.string().nullable(),
  genus: z.string().nullable(),
  acceptedId: z.uuid().nullable(),
  checklist: z.object({ id: z.uuid(), name: z.string(), edition: z.string(), current: z.boolean() }),
  synonyms: z.array(z.object({ id: z.uuid(), scientificName: z.string() })),
  abilities: z.object({ manage: z.boolean(), history: z.boolean() }),
});
export type TaxonRecord = z.infer<typeof taxonRecord>;

export const sensitivityChange = z.object({
  sensitive: z.boolean(),
  reason: z.string().trim().min(1, 'Say why it is changed.').max(500),
});
export type SensitivityChange = z.infer<typeof sensitivityChange>;

export const familyList = z.object({ rows: z.array(z.string()) });

/** What a checklist file is, beside its bytes. */
export const checklistUpload = z.object({
  fileName: z.string().trim().min(1).max(200),
  name: z.string().trim().min(1, 'Name the checklist.').max(120),
  edition: z.string().trim().min(1, 'Say which edition it is.').max(60),
  credit: z.string().trim().min(1, 'Say who made it and under which licence.').max(500),
});
export type ChecklistUpload = z.infer<typeof checklistUpload>;

export const checklistRow = z.object({
  id: z.uuid(),
  name: z.string(),
  edition: z.string(),
  credit: z.string(),
  importedAt: z.string(),
  current: z.boolean(),
  state: z.enum(['reading', 'ready', 'failed']),
  /** 0 to 1 while it is read. */
  progress: z.number(),
  rowsRead: z.number().int(),
  rowsLeftOut: z.number().int(),
  failure: z.string().nullable(),
});
export type ChecklistRow = z.infer<typeof checklistRow>;
export const checklistRows = z.object({ rows: z.array(checklistRow), mayManage: z.boolean() });

export const CARRY_KINDS = ['same', 'renamed', 'split', 'lumped', 'missing'] as const;

/** What becomes of a name our birds carry when another checklist becomes the current one. */
export const carriedName = z.object({
  taxonId: z.uuid(),
  name: z.string(),
  commonName: z.string().nullable(),
  kind: z.enum(CARRY_KINDS),
  reason: z.string(),
  asksPerson: z.boolean(),
  birds: z.number().int(),
  candidates: z.array(z.object({ id: z.uuid(), name: z.string(), commonName: z.string().nullable() })),
});
export type CarriedName = z.infer<typeof carriedName>;

export const checklistRecord = checklistRow.extend({
  problems: z.array(z.object({ line: z.number().int(), reason: z.string() })),
  taxa: z.record(z.string(), z.number().int()),
  /** Names in use that change or must be decided; those that stay the same are only counted. */
  carried: z.array(carriedName),
  sameNames: z.number().int(),
  abilities: z.object({ makeCurrent: z.boolean() }),
});
export type ChecklistRecord = z.infer<typeof checklistRecord>;

export const makeCurrentRequest = z.object({
  reason: z.string().trim().min(1, 'Say why the checklist changes.').max(500),
  /** For each name that asks a person: the new taxon, or null to keep the old name until somebody determines anew. */
  decisions: z.array(z.object({ taxonId: z.uuid(), newTaxonId: z.uuid().nullable() })).max(5000),
});
export type MakeCurrentRequest = z.infer<typeof makeCurrentRequest>;
