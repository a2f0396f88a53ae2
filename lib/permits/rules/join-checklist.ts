import type { TaxonList } from '../coverage-schema';
import { normaliseName } from './taxa';

export type ChecklistName = {
  scientificName: string;
  commonName: string | null;
  familyName: string | null;
  orderName: string | null;
  accepted: { scientificName: string } | null;
};

type Entry = TaxonList['entries'][number];

const plainEnglish = (name: string) => normaliseName(name).replace(/[^a-z ]/g, '');

/**
 * Joins the names of a list that nobody has matched yet with the checklist in use: by scientific name (a synonym leads
 * to the accepted one), else by English name, which a person must confirm. Names already matched only get their family
 * and order. What finds no partner is 'none'; without a checklist nothing is tried.
 */
export function joinChecklist(entries: readonly Entry[], checklist: readonly ChecklistName[]): Entry[] {
  if (checklist.length === 0) return [...entries];
  const byName = new Map(checklist.map((taxon) => [normaliseName(taxon.scientificName), taxon]));
  const byEnglish = new Map(
    checklist.flatMap((taxon) =>
      taxon.commonName === null ? [] : [[plainEnglish(taxon.commonName), taxon] as const],
    ),
  );
  return entries.map((entry) => {
    const listed = byName.get(normaliseName(entry.acceptedName ?? entry.name));
    const ranks = {
      family: entry.family ?? listed?.familyName ?? null,
      order: entry.order ?? listed?.orderName ?? null,
    };
    if (entry.match !== 'not-tried') return { ...entry, ...ranks };
    if (listed !== undefined) {
      return {
        ...entry,
        ...ranks,
        match: 'exact-name',
        acceptedName: listed.accepted?.scientificName ?? listed.scientificName,
      };
    }
    const english = entry.englishName === null ? undefined : byEnglish.get(plainEnglish(entry.englishName));
    if (english === undefined) return { ...entry, match: 'none' };
    return {
      ...entry,
      match: 'english-name',
      acceptedName: english.accepted?.scientificName ?? english.scientificName,
      family: english.familyName,
      order: english.orderName,
    };
  });
}
