import { createReadStream } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type ChecklistTaxon, readChecklist } from '@/lib/taxa/checklist';
import { diffChecklists } from '@/lib/taxa/checklist-diff';
import { parseScientificName } from '@/lib/taxa/names';
import { hasReference, readReferenceRows, referencePath } from './reference-files';

const AVILIST = ['reference-data', 'avilist_2025_taxonomy.csv'];
const MIGRATORY = ['reference-data', 'us_50cfr10_13_migratory_birds_2020ed.csv'];

async function readTaxa(path: string): Promise<{ taxa: ChecklistTaxon[]; problems: string[] }> {
  const taxa: ChecklistTaxon[] = [];
  const problems: string[] = [];
  for await (const row of readChecklist(createReadStream(path))) {
    if (row.ok) taxa.push(row.taxon);
    else problems.push(`line ${row.line}: ${row.reason}`);
  }
  return { taxa, problems };
}

const starterPath = join(process.cwd(), 'seed', 'checklist', 'starter.csv');

describe('starter checklist', () => {
  it('reads without a problem; every synonym leads to an accepted name; every name parses', async () => {
    const { taxa, problems } = await readTaxa(starterPath);
    expect(problems).toEqual([]);
    const accepted = new Set(
      taxa.filter((taxon) => taxon.status === 'accepted').map((taxon) => taxon.scientificName),
    );
    expect(accepted.size).toBeGreaterThanOrEqual(150);
    for (const taxon of taxa) {
      if (taxon.status === 'synonym') expect(accepted).toContain(taxon.acceptedName);
      expect(parseScientificName(taxon.scientificName)).toMatchObject({
        kind: 'name',
        rank: 'species',
        qualifier: null,
      });
    }
  });

  // Source: Bald and Golden Eagle Protection Act (16 U.S.C. 668), from memory.
  it('marks exactly the two eagles', async () => {
    const { taxa } = await readTaxa(starterPath);
    const eagles = taxa.filter((taxon) => taxon.eagle);
    expect(eagles.map((taxon) => taxon.vernacularName).sort()).toEqual(['Bald Eagle', 'Golden Eagle']);
    expect(eagles.every((taxon) => taxon.contactFirst && taxon.sensitive)).toBe(true);
  });
});

// Source: AviList Core Team 2025, AviList v2025, https://doi.org/10.2173/avilist.v2025 (CC BY 4.0).
describe.skipIf(!hasReference(...AVILIST))('AviList v2025 (skipped without its file)', () => {
  it('reads all 33,684 rows: 46 orders, 252 families, 2,376 genera, 11,131 species, 19,879 subspecies', async () => {
    const { taxa, problems } = await readTaxa(referencePath(...AVILIST));
    const counts: Record<string, number> = {};
    for (const taxon of taxa) counts[taxon.rank] = (counts[taxon.rank] ?? 0) + 1;
    expect(problems).toEqual([]);
    expect(counts).toEqual({ order: 46, family: 252, genus: 2376, species: 11_131, subspecies: 19_879 });
  });

  it('every species and subspecies name parses to itself', async () => {
    const { taxa } = await readTaxa(referencePath(...AVILIST));
    const odd = taxa.filter(
      (taxon) =>
        ['species', 'subspecies'].includes(taxon.rank) &&
        (parseScientificName(taxon.scientificName).canonical !== taxon.scientificName ||
          parseScientificName(taxon.scientificName).rank !== taxon.rank),
    );
    expect(odd.map((taxon) => taxon.scientificName)).toEqual([]);
  });

  it('holds each accepted name of the starter checklist in the same order and family, and none of its synonyms', async () => {
    const { taxa } = await readTaxa(referencePath(...AVILIST));
    const species = new Map(
      taxa.filter((taxon) => taxon.rank === 'species').map((taxon) => [taxon.scientificName, taxon]),
    );
    const starter = await readTaxa(starterPath);
    for (const taxon of starter.taxa) {
      const listed = species.get(taxon.scientificName);
      if (taxon.status === 'synonym') expect(listed).toBeUndefined();
      else
        expect(taxon).toMatchObject({
          order: listed?.order,
          family: listed?.family,
          vernacularName: listed?.vernacularName,
        });
    }
  });

  it('compared with the starter checklist, every starter species is found again', async () => {
    const { taxa } = await readTaxa(referencePath(...AVILIST));
    const starter = await readTaxa(starterPath);
    const { changes } = diffChecklists(starter.taxa, taxa);
    expect(changes.filter((change) => change.kind !== 'same')).toEqual([]);
  });
});

// Source: 50 CFR 10.13, edition of 2020. Absence from it does not prove that a species is unprotected.
describe.skipIf(!hasReference(...MIGRATORY))(
  'federal list of migratory birds (skipped without its file)',
  () => {
    it('has none of the species marked introduced and unprotected, and both eagles', async () => {
      const listed = readReferenceRows(...MIGRATORY);
      const names = new Set(listed.flatMap((row) => [row.scientific_name_listed, row.avilist2025_name]));
      const { taxa } = await readTaxa(starterPath);
      for (const taxon of taxa.filter((one) => one.introducedUnprotected))
        expect(names).not.toContain(taxon.scientificName);
      const eagles = listed.filter((row) => row.eagle_act === 'yes').map((row) => row.avilist2025_name);
      expect(
        taxa
          .filter((taxon) => taxon.eagle)
          .map((taxon) => taxon.scientificName)
          .sort(),
      ).toEqual(eagles.sort());
    });
  },
);
