import { createPermit } from '@/lib/permits/service/permits';
import { importStatusList } from '@/lib/permits/service/status-lists';
import type { Actor } from '@/lib/platform/actor';
import { contextOf } from './foundation';
import { DEMO_SPECIES } from './species';

/** Demo species outside the federal list of migratory birds (from memory). */
const NOT_LISTED = new Set(['Sturnus vulgaris']);

/**
 * The museum's permits and two lists of protected birds. The lists hold the demo's species only, from memory: a real
 * installation imports the current editions.
 */
export async function layDownTheLaw(officer: Actor): Promise<void> {
  const names = DEMO_SPECIES.map(({ name }) => name).filter((name) => !NOT_LISTED.has(name));
  const shared = {
    jurisdiction: 'US',
    edition: 'demo extract',
    editionOn: '2024-01-01',
    credit: 'Demo extract from memory; not a current list',
  };
  await importStatusList(contextOf(officer), {
    ...shared,
    listId: 'us-10.13',
    title: 'Migratory birds, 50 CFR 10.13 (demo extract)',
    effect: 'protects',
    source: '50 CFR 10.13(c)(1), names from memory',
    csv: [
      'scientific_name_listed,avilist2025_name,avilist2025_match',
      ...[...names, 'Haliaeetus leucocephalus'].map((name) => `${name},${name},exact_name`),
    ].join('\n'),
  });
  await importStatusList(contextOf(officer), {
    ...shared,
    listId: 'us-17.11',
    title: 'Endangered and threatened wildlife, 50 CFR 17.11 (demo extract)',
    effect: 'flags',
    source: '50 CFR 17.11(h), names from memory',
    csv: [
      'scientific_name_listed,avilist2025_name,avilist2025_match',
      'Charadrius melodus,Charadrius melodus,exact_name',
    ].join('\n'),
  });
  await enterPermits(officer);
}

async function enterPermits(officer: Actor): Promise<void> {
  const all = [{ by: 'all' as const }];
  const eagles = [
    { by: 'name' as const, name: 'Haliaeetus leucocephalus' },
    { by: 'name' as const, name: 'Aquila chrysaetos' },
  ];
  await createPermit(contextOf(officer), {
    number: 'MB-40417-2',
    authority: 'Federal migratory bird permit office (demo)',
    kind: 'salvage',
    jurisdiction: 'US',
    effectiveOn: '2024-01-01',
    expiresOn: '2026-12-31',
    renewsPermitId: null,
    holder: { personId: officer.personId, name: officer.name },
    subPermittees: [
      { personId: null, name: 'Rosa Okafor', fromOn: '2024-01-01', untilOn: null },
      { personId: null, name: 'Agnes Pell', fromOn: '2024-01-01', untilOn: null },
    ],
    clauses: [
      {
        id: '1',
        kind: 'taxa-allowed',
        taxa: all,
        text: 'You may salvage dead migratory birds and their parts.',
      },
      {
        id: '2',
        kind: 'contact-first',
        taxa: eagles,
        contact: 'The issuing office',
        text: 'Call before you touch an eagle.',
      },
      { id: '3', kind: 'places', places: [{ within: 'US-OH' }], text: 'Within Ohio.' },
      {
        id: '4',
        kind: 'who-may-act',
        who: ['holder', 'sub-permittees', 'under-direct-control', 'anyone'],
        text: '',
      },
      {
        id: '5',
        kind: 'report-due',
        year: { basis: 'calendar' },
        due: { rule: 'days-after', days: 31 },
        text: 'Report by 31 January on the calendar year before.',
      },
      { id: '6', kind: 'record-retention', years: 5, after: 'expiry', text: '' },
      { id: '7', kind: 'cataloguing-is-disposition', isDisposition: false, text: '' },
    ],
  });
  await createPermit(contextOf(officer), {
    number: 'OH-S-2291',
    authority: 'Ohio wildlife permit desk (demo)',
    kind: 'state',
    jurisdiction: 'US-OH',
    effectiveOn: '2024-03-01',
    expiresOn: '2027-02-28',
    renewsPermitId: null,
    holder: { personId: officer.personId, name: officer.name },
    subPermittees: [],
    clauses: [
      {
        id: 'a',
        kind: 'taxa-allowed',
        taxa: [{ by: 'order', name: 'Galliformes' }],
        text: 'Native game birds found dead in the state.',
      },
      { id: 'b', kind: 'places', places: [{ within: 'US-OH' }], text: '' },
      {
        id: 'c',
        kind: 'who-may-act',
        who: ['holder', 'sub-permittees', 'under-direct-control', 'anyone'],
        text: '',
      },
    ],
  });
}
