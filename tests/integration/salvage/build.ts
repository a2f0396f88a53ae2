import { randomUUID } from 'node:crypto';
import { createPermitRequest } from '@/lib/permits/permit-schema';
import { createPermit } from '@/lib/permits/service/permits';
import { importStatusList } from '@/lib/permits/service/status-lists';
import { importListRequest } from '@/lib/permits/wire';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import type { Role } from '@/lib/platform/permissions';
import { type ReportFindRequest, reportFindRequest } from '@/lib/salvage/schema';
import { contextOf, makeActor, makeCollection, makeTaxon } from '@/seed/factories';

export type Lab = {
  collectionId: string;
  as: Record<Role, Actor>;
  robin: string;
  eagle: string;
  permitId: string;
};

/** A collection with an officer's permit for all birds of Ohio, and short lists in the place of the real ones. */
export async function makeLab(permit: Record<string, unknown> = {}): Promise<Lab> {
  const collectionId = await makeCollection(db());
  const roles = [
    'volunteer',
    'preparator',
    'curator',
    'registrar',
    'permit-officer',
    'administrator',
    'visitor',
  ] as const;
  const actors: Partial<Record<Role, Actor>> = {};
  for (const role of roles) actors[role] = await makeActor(db(), collectionId, role);
  const as = actors as Record<Role, Actor>;
  const officer = contextOf(as['permit-officer']);
  const robin = await makeTaxon(db(), { scientificName: 'Turdus migratorius', commonName: 'American Robin' });
  const eagle = await makeTaxon(db(), {
    scientificName: 'Haliaeetus leucocephalus',
    commonName: 'Bald Eagle',
  });
  for (const [listId, effect, names] of [
    ['us-10.13', 'protects', ['Turdus migratorius', 'Haliaeetus leucocephalus', 'Setophaga coronata']],
    ['us-17.11', 'flags', ['Setophaga kirtlandii']],
  ] as const) {
    await importStatusList(
      officer,
      importListRequest.parse({
        listId,
        title: `Short list ${listId} for tests`,
        jurisdiction: 'US',
        effect,
        source: 'written for this test',
        edition: 'test',
        editionOn: '2020-01-01',
        csv: ['scientific_name_listed', ...names].join('\n'),
      }),
    );
  }
  const made = await createPermit(
    officer,
    createPermitRequest.parse({
      number: `SV-${randomUUID().slice(0, 8)}`,
      authority: 'Federal office',
      kind: 'salvage',
      jurisdiction: 'US',
      effectiveOn: '2023-01-01',
      expiresOn: '2030-12-31',
      holder: { name: 'Test museum' },
      clauses: [
        { id: 'taxa', kind: 'taxa-allowed', taxa: [{ by: 'all' }] },
        { id: 'places', kind: 'places', places: [{ within: 'US-OH' }] },
      ],
      ...permit,
    }),
  );
  return { collectionId, as, robin, eagle, permitId: made.id };
}

/** A robin found in Columbus by a preparator of the lab, before a general authorisation stood beside the permits. */
export const find = (lab: Lab, changes: Record<string, unknown> = {}): ReportFindRequest =>
  reportFindRequest.parse({
    requestKey: randomUUID(),
    found: { earliestOn: '2024-05-01', latestOn: '2024-05-01', verbatim: '1 May 2024' },
    receivedOn: '2024-05-02',
    place: { country: 'US', stateProvince: 'OH', county: 'Franklin', locality: `Window ${randomUUID()}` },
    taxonId: lab.robin,
    verbatimTaxon: 'robin',
    circumstances: 'below a window',
    cause: 'window-strike',
    condition: 'fresh',
    facts: { finderPersonId: lab.as.preparator.personId, finderRelation: 'under-direct-control' },
    ...changes,
  });
