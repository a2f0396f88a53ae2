import type { Actor } from '@/lib/platform/actor';
import { may, type Role } from '@/lib/platform/permissions';

type Reader = { personId: string | null; roles: readonly Role[] };

/** How exactly a reader may know where a bird was found. */
export type PlaceDetail = 'exact' | 'county' | 'state';

/**
 * Who may see exact places sees them all; staff without that right see those of taxa that are not sensitive; a visitor
 * sees the county, and of a sensitive taxon the state only.
 */
export function placeDetail(reader: Reader, taxonIsSensitive: boolean): PlaceDetail {
  if (may(reader, 'place.exact')) return 'exact';
  if (seesApprovedOnly(reader)) return taxonIsSensitive ? 'state' : 'county';
  return taxonIsSensitive ? 'county' : 'exact';
}

/** A visitor: approved records only. */
export const seesApprovedOnly = (reader: Reader): boolean =>
  !may(reader, 'catalogue.see', { approved: false });

/** Whose work a bench record is: none of them may approve it. */
export const workersOf = (record: {
  preparatorId: string;
  scribeId: string | null;
  enteredByIds: readonly string[];
}): string[] => [
  ...new Set([record.preparatorId, ...(record.scribeId ? [record.scribeId] : []), ...record.enteredByIds]),
];

/** Whether this person may decide on a record of these workers. */
export const mayReview = (actor: Actor, workerIds: readonly string[]): boolean =>
  may(actor, 'bench.review', { ownerIds: workerIds });

/** What a reader may search by. */
export type SearchRights = {
  /** A visitor: approved records, the county at most, nothing of loans, permits and people behind the scenes. */
  approvedOnly: boolean;
  seesFinders: boolean;
  seesLoans: boolean;
};

const HIDDEN: Partial<Record<string, (rights: SearchRights) => boolean>> = {
  finder: ({ seesFinders }) => !seesFinders,
  loan: ({ seesLoans }) => !seesLoans,
  permit: ({ approvedOnly }) => approvedOnly,
  warning: ({ approvedOnly }) => approvedOnly,
  within: ({ approvedOnly }) => approvedOnly,
};

/** Fields that this reader may not search by: their terms find nothing. */
export const isHidden = (field: string, rights: SearchRights): boolean => HIDDEN[field]?.(rights) ?? false;

export const searchRights = (reader: Reader): SearchRights => ({
  approvedOnly: seesApprovedOnly(reader),
  seesFinders: may(reader, 'finder.see'),
  seesLoans: may(reader, 'loans.see'),
});
