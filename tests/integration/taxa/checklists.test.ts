import { createReadStream } from 'node:fs';
import { Readable } from 'node:stream';
import type { JobHelpers } from 'graphile-worker';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { withTx } from '@/lib/platform/tx';
import { taxaTasks } from '@/lib/taxa/jobs';
import { findTaxaByNames, loadStarterChecklist, searchTaxa } from '@/lib/taxa/public';
import {
  handInChecklist,
  listChecklists,
  makeChecklistCurrent,
  showChecklist,
} from '@/lib/taxa/service/checklists';
import { changeSensitivity, listTaxa, showTaxon } from '@/lib/taxa/service/taxa';
import { contextOf, makeActor, makeBird, makeCollection } from '@/seed/factories';
import { hasReference, referencePath } from '@/tests/reference/reference-files';

let curator: Actor;
let collectionId: string;

beforeAll(async () => {
  collectionId = await makeCollection(db());
  curator = await makeActor(db(), collectionId, 'curator');
});

beforeEach(async () => {
  await db().$executeRaw`TRUNCATE "Taxon", "Checklist" CASCADE`;
});

const HEAD =
  'taxonID,scientificName,taxonRank,taxonomicStatus,acceptedNameUsage,family,vernacularName,sensitive';
const bytes = (text: string) =>
  Readable.toWeb(Readable.from([Buffer.from(text)])) as ReadableStream<Uint8Array>;
const words = { fileName: 'list.csv', name: 'Test list', credit: 'invented' };

/** Does the jobs that wait for checklists, as a worker would. */
async function work(): Promise<void> {
  const jobs = await db().$queryRaw<{ id: string; payload: unknown }[]>`
    SELECT j.id::text, j.payload FROM graphile_worker._private_jobs j
    JOIN graphile_worker._private_tasks t ON t.id = j.task_id WHERE t.identifier = 'taxa.read-checklist' ORDER BY j.id`;
  for (const { id, payload } of jobs) {
    await taxaTasks['taxa.read-checklist']?.(payload, {} as JobHelpers);
    await db().$executeRaw`DELETE FROM graphile_worker._private_jobs WHERE id = ${id}::bigint`;
  }
}

async function load(edition: string, body: ReadableStream<Uint8Array>) {
  const made = await handInChecklist(contextOf(curator), { ...words, edition }, body);
  await work();
  return showChecklist(curator, made.id);
}

const firstEdition = () =>
  load(
    '1',
    bytes(
      [
        HEAD,
        '1,Alpha prima,species,accepted,,Alphidae,First Alpha,false',
        '2,Alpha secunda,species,accepted,,Alphidae,Second Alpha,true',
        '2a,Alpha secunda orientalis,subspecies,accepted,,Alphidae,,false',
        '3,Beta tertia,species,accepted,,Betidae,Third Beta,false',
        '4,Alfa prima,species,synonym,Alpha prima,,,false',
      ].join('\n'),
    ),
  );

/** Alpha secunda orientalis is a species now; Beta tertia is a synonym of Gamma tertia. */
const SECOND = [
  HEAD,
  '1,Alpha prima,species,accepted,,Alphidae,First Alpha,false',
  '2,Alpha secunda,species,accepted,,Alphidae,Western Alpha,false',
  '5,Alpha orientalis,species,accepted,,Alphidae,Eastern Alpha,false',
  '6,Gamma tertia,species,accepted,,Betidae,Third Beta,false',
  '7,Beta tertia,species,synonym,Gamma tertia,,,false',
].join('\n');

describe('reading a checklist in the background', () => {
  it('keeps taxa, synonyms and what was left out, and forgets the file', async () => {
    const read = await load(
      '1',
      bytes(
        `${HEAD}\n1,Alpha prima,species,accepted,,Alphidae,First Alpha,true\n,,,,,,,\n2,Alfa prima,species,synonym,Nobody knows,,,`,
      ),
    );
    expect(read).toMatchObject({ state: 'ready', rowsRead: 1, rowsLeftOut: 2, taxa: { species: 1 } });
    expect(read.problems.map((one) => one.reason)).toEqual([
      'The row has no scientific name.',
      'The accepted name of Alfa prima is not in the list.',
    ]);
    expect(await db().handedInFile.count()).toBe(0);
  });

  it.each([
    ['no column of names', 'a,b\n1,2', 'The file has no column scientificName.'],
    ['no row', HEAD, 'The file names no taxon.'],
  ])('ends with a sentence for a file with %s', async (_, text, failure) => {
    const read = await load('1', bytes(text));
    expect(read).toMatchObject({ state: 'failed', failure, abilities: { makeCurrent: false } });
    await expect(
      makeChecklistCurrent(contextOf(curator), read.id, { reason: 'try', decisions: [] }),
    ).rejects.toMatchObject({ code: 'conflict' });
  });

  it('refuses those who may not and an empty file, and keeps nothing of either', async () => {
    const volunteer = await makeActor(db(), collectionId, 'volunteer');
    await expect(
      handInChecklist(contextOf(volunteer), { ...words, edition: '1' }, bytes(HEAD)),
    ).rejects.toMatchObject({ code: 'forbidden' });
    await expect(
      handInChecklist(contextOf(curator), { ...words, edition: '1' }, bytes('')),
    ).rejects.toMatchObject({ code: 'bad-request' });
    expect((await listChecklists(curator)).rows).toEqual([]);
    expect(await db().handedInFile.count()).toBe(0);
  });
});

describe('making a checklist the current one', () => {
  it('carries names over, asks about a split, keeps what was sensitive and tells each bird', async () => {
    const first = await firstEdition();
    await makeChecklistCurrent(contextOf(curator), first.id, { reason: 'first', decisions: [] });
    const taxa = await findTaxaByNames(db(), ['Alpha prima', 'Alpha secunda', 'Beta tertia']);
    const idOf = (name: string) => taxa.get(name)?.id ?? '';
    const [prima, secunda, tertia] = [
      await makeBird(db(), collectionId, { taxonId: idOf('Alpha prima') }),
      await makeBird(db(), collectionId, { taxonId: idOf('Alpha secunda') }),
      await makeBird(db(), collectionId, { taxonId: idOf('Beta tertia') }),
    ];
    const second = await load('2', bytes(SECOND));
    expect(second.sameNames).toBe(1);
    expect(
      second.carried.map(({ name, kind, asksPerson, birds }) => ({ name, kind, asksPerson, birds })),
    ).toEqual([
      { name: 'Alpha secunda', kind: 'split', asksPerson: true, birds: 1 },
      { name: 'Beta tertia', kind: 'renamed', asksPerson: false, birds: 1 },
    ]);
    const split = second.carried[0];
    await expect(
      makeChecklistCurrent(contextOf(curator), second.id, { reason: 'new edition', decisions: [] }),
    ).rejects.toMatchObject({ code: 'not-valid', fields: [{ path: `decisions.${split?.taxonId}` }] });
    expect((await showChecklist(curator, first.id)).current).toBe(true);

    const eastern = split?.candidates.find((one) => one.name === 'Alpha orientalis');
    const made = await makeChecklistCurrent(contextOf(curator), second.id, {
      reason: 'new edition',
      decisions: [{ taxonId: split?.taxonId ?? '', newTaxonId: eastern?.id ?? null }],
    });
    expect(made).toMatchObject({ current: true, carried: [] });
    const nameOf = async (id: string) =>
      (await db().bird.findUniqueOrThrow({ where: { id }, include: { taxon: true } })).taxon?.scientificName;
    expect([await nameOf(prima.id), await nameOf(secunda.id), await nameOf(tertia.id)]).toEqual([
      'Alpha prima',
      'Alpha orientalis',
      'Gamma tertia',
    ]);
    const story = await db().auditEvent.findMany({
      where: { birdId: { in: [prima.id, secunda.id, tertia.id] } },
    });
    expect(story.map((event) => [event.birdId, event.kind]).sort()).toEqual(
      [
        [secunda.id, 'taxa.name-carried'],
        [tertia.id, 'taxa.name-carried'],
      ].sort(),
    );
    const sensitive = await listTaxa(curator, { shown: 'sensitive', size: 50 });
    expect(sensitive.rows.map((row) => row.scientificName).sort()).toEqual([
      'Alpha orientalis',
      'Alpha secunda',
    ]);
  });

  it('keeps an old name where a person says so', async () => {
    const first = await firstEdition();
    await makeChecklistCurrent(contextOf(curator), first.id, { reason: 'first', decisions: [] });
    const taxa = await findTaxaByNames(db(), ['Alpha secunda']);
    const old = taxa.get('Alpha secunda')?.id ?? '';
    const bird = await makeBird(db(), collectionId, { taxonId: old });
    const second = await load('2', bytes(SECOND));
    await makeChecklistCurrent(contextOf(curator), second.id, {
      reason: 'undecided birds wait',
      decisions: [{ taxonId: old, newTaxonId: null }],
    });
    expect((await db().bird.findUniqueOrThrow({ where: { id: bird.id } })).taxonId).toBe(old);
  });
});

describe('the starter checklist and the search', () => {
  beforeEach(() => withTx(contextOf(curator), loadStarterChecklist));

  it('is loaded once and is the current one', async () => {
    expect(await withTx(contextOf(curator), loadStarterChecklist)).toBe(false);
    const { rows } = await listChecklists(curator);
    expect(rows).toMatchObject([{ name: 'Starter checklist', current: true, state: 'ready' }]);
    expect(await db().taxon.count({ where: { acceptedId: null } })).toBe(235);
    expect(await db().taxon.count({ where: { acceptedId: { not: null } } })).toBe(39);
  });

  it.each([
    ['american robin', 'Turdus migratorius', null],
    ['T. migratorius', 'Turdus migratorius', null],
    ['amercan robbin', 'Turdus migratorius', null],
    ['Chen caerulescens', 'Anser caerulescens', 'Chen caerulescens'],
  ])('finds %s as %s', async (q, scientificName, foundAs) => {
    const { rows } = await searchTaxa(curator, { q, size: 5 });
    expect(rows[0]).toMatchObject({ scientificName, foundAs });
  });

  it('takes signs of a pattern for what they are', async () => {
    expect((await searchTaxa(curator, { q: '%', size: 5 })).rows).toEqual([]);
  });

  it('lists in the order of the checklist, page by page, each taxon once', async () => {
    const seen: string[] = [];
    let after: string | undefined;
    do {
      const page = await listTaxa(curator, { shown: 'accepted', size: 100, after });
      seen.push(...page.rows.map((row) => row.id));
      after = page.next ?? undefined;
    } while (after !== undefined);
    expect(new Set(seen).size).toBe(235);
    expect(seen.length).toBe(235);
  });

  it('marks a taxon as sensitive with its reason in the history, once', async () => {
    const robin = (await searchTaxa(curator, { q: 'Turdus migratorius', size: 1 })).rows[0];
    const change = { sensitive: true, reason: 'nest site nearby' };
    const marked = await changeSensitivity(contextOf(curator), robin?.id ?? '', change);
    expect(marked.sensitive).toBe(true);
    await expect(changeSensitivity(contextOf(curator), marked.id, change)).rejects.toMatchObject({
      code: 'conflict',
    });
    const events = await db().auditEvent.findMany({ where: { subjectId: marked.id } });
    expect(events.map((event) => event.reason)).toEqual(['nest site nearby']);
    const visitor = await makeActor(db(), collectionId, 'visitor');
    await expect(changeSensitivity(contextOf(visitor), marked.id, change)).rejects.toMatchObject({
      code: 'forbidden',
    });
    expect((await showTaxon(visitor, marked.id)).abilities).toEqual({ manage: false, history: false });
  });
});

// Source: AviList Core Team 2025, AviList v2025, https://doi.org/10.2173/avilist.v2025 (CC BY 4.0).
const AVILIST = ['reference-data', 'avilist_2025_taxonomy.csv'];
describe.skipIf(!hasReference(...AVILIST))('AviList v2025 (skipped without its file)', () => {
  it('is read whole, and every species of the starter checklist is carried over without a question', async () => {
    await withTx(contextOf(curator), loadStarterChecklist);
    const species = await db().taxon.findMany({ where: { rank: 'species', acceptedId: null }, take: 40 });
    for (const taxon of species) await makeBird(db(), collectionId, { taxonId: taxon.id });
    const file = Readable.toWeb(createReadStream(referencePath(...AVILIST))) as ReadableStream<Uint8Array>;
    const read = await load('2025', file);
    expect(read).toMatchObject({
      state: 'ready',
      rowsRead: 33_684,
      rowsLeftOut: 0,
      sameNames: 40,
      carried: [],
    });
  }, 600_000);
});
