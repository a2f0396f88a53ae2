import { type TaxonFact, taxonRanks } from '../coverage-schema';

/** A row of the checklist, as far as the rules ask for it. */
export type ListedTaxon = {
  scientificName: string;
  rank: string;
  genus: string | null;
  familyName: string | null;
  orderName: string | null;
  synonyms: readonly { scientificName: string }[];
  accepted: { scientificName: string } | null;
};

/** What is known of a bird nobody could name: any bird, so a listed one is possible. */
export const unknownBird: TaxonFact = {
  name: 'Aves',
  rank: 'class',
  genus: null,
  family: null,
  order: null,
  synonyms: [],
  mayBe: [],
};

/** The identification that the rules judge; a rank they do not know is read as far as its name goes. */
export function toTaxonFact(taxon: ListedTaxon | null, mayBe: readonly string[] = []): TaxonFact {
  if (taxon === null) return { ...unknownBird, mayBe: [...mayBe] };
  const words = taxon.scientificName.trim().split(/\s+/).length;
  const rank = taxonRanks.find((known) => known === taxon.rank) ?? (words === 1 ? 'class' : 'species');
  const name = taxon.scientificName;
  return {
    name,
    rank,
    genus: taxon.genus ?? (words > 1 || rank === 'genus' ? (name.split(' ')[0] ?? null) : null),
    family: taxon.familyName,
    order: taxon.orderName,
    synonyms: [taxon.accepted, ...taxon.synonyms].flatMap((other) => other?.scientificName ?? []),
    mayBe: [...mayBe],
  };
}
