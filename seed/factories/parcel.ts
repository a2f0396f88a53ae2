import type { ParcelFacts } from '@/lib/loans/schema';

/** A parcel of migratory birds, no tissue, that stays within one country. */
export const PARCEL_WITHIN_US: ParcelFacts = {
  fromCountry: 'US',
  toCountry: 'US',
  anyCitesListed: false,
  bothRegisteredWithCites: false,
  anyMigratoryBirdAct: true,
  anyWildBirdOfEu: false,
  anyTissue: false,
  originCountries: ['US'],
};
