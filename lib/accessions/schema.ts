import { z } from 'zod';
import { givenDay } from '@/lib/platform/days';
import { pageOf, pageQuery } from '@/lib/platform/paging';

export const ACCESSION_KINDS = [
  'salvage',
  'gift',
  'exchange',
  'purchase',
  'transfer',
  'field-collecting',
] as const;

const day = givenDay();

export const accessionRequest = z.object({
  kind: z.enum(ACCESSION_KINDS),
  source: z.string().trim().min(1, 'Say from whom or where the lot came.').max(300),
  receivedOn: day,
  agreement: z.string().trim().max(2000).nullish(),
  remarks: z.string().trim().max(2000).nullish(),
  salvageIds: z.array(z.uuid()).min(1, 'Choose at least one accepted bird.').max(500),
});
export type AccessionRequest = z.infer<typeof accessionRequest>;

export const accessionChange = accessionRequest
  .pick({ source: true, agreement: true, remarks: true })
  .partial()
  .extend({ version: z.int32(), reason: z.string().trim().min(1, 'Say why it is changed.').max(500) });
export type AccessionChange = z.infer<typeof accessionChange>;

export const accessionListQuery = pageQuery.extend({ q: z.string().trim().max(100).optional() });
export type AccessionListQuery = z.infer<typeof accessionListQuery>;

export const accessionRow = z.object({
  id: z.uuid(),
  number: z.string(),
  kind: z.enum(ACCESSION_KINDS),
  source: z.string(),
  receivedOn: z.string(),
  birds: z.number().int(),
});
export type AccessionRow = z.infer<typeof accessionRow>;
export const accessionPage = pageOf(accessionRow);

export const accessionAbilities = z.object({ change: z.boolean() });

export const accessionRecord = accessionRow.extend({
  agreement: z.string().nullable(),
  remarks: z.string().nullable(),
  createdAt: z.string(),
  version: z.int32(),
  lots: z.array(
    z.object({
      salvageId: z.uuid(),
      birdId: z.uuid().nullable(),
      number: z.string(),
      taxon: z.string(),
      commonName: z.string().nullable(),
      foundFrom: z.string(),
      foundTo: z.string(),
      county: z.string(),
      permitNumber: z.string().nullable(),
      coverage: z.string(),
    }),
  ),
  abilities: accessionAbilities,
});
export type AccessionRecord = z.infer<typeof accessionRecord>;

/** Accepted birds that no accession holds yet. */
export const accessionCandidate = z.object({
  id: z.uuid(),
  number: z.string(),
  taxon: z.string(),
  commonName: z.string().nullable(),
  foundFrom: z.string(),
  receivedOn: z.string(),
  county: z.string(),
  /** Why it cannot be acquired yet; null when it can. */
  obstacle: z.string().nullable(),
});
export type AccessionCandidate = z.infer<typeof accessionCandidate>;
export const candidatePage = pageOf(accessionCandidate);
