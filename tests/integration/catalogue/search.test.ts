import { readSheet } from 'read-excel-file/node';
import { beforeAll, describe, expect, it } from 'vitest';
import {
  addNode,
  builderOf,
  builderText,
  type Condition,
  changeNode,
  printBones,
  ROOT,
} from '@/lib/catalogue/query/builder';
import { exportSearch } from '@/lib/catalogue/service/export';
import { approveRecord } from '@/lib/catalogue/service/review';
import { describeSearch, findQuickly, searchCatalogue } from '@/lib/catalogue/service/search';
import { dropView, keepView, listViews } from '@/lib/catalogue/service/views';
import { inspectWorkbook } from '@/lib/exchange/workbook';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeBird, makeCollection, makeTaxon } from '@/seed/factories';
import { makeInReview } from '@/seed/factories/catalogue';

const COLUMNS = ['number', 'scientificName', 'locality'] as const;

let collectionId: string;
let preparator: Actor;
let curator: Actor;
let visitor: Actor;
let volunteer: Actor;
type Made = Awaited<ReturnType<typeof makeInReview>>;
let robin: Made;
let male: Made;
let falcon: Made;
let broken: Made;
let queued: Awaited<ReturnType<typeof makeBird>>;

beforeAll(async () => {
  collectionId = await makeCollection(db());
  preparator = await makeActor(db(), collectionId, 'preparator');
  curator = await makeActor(db(), collectionId, 'curator');
  visitor = await makeActor(db(), collectionId, 'visitor');
  volunteer = await makeActor(db(), collectionId, 'volunteer');
  const thrush = await makeTaxon(db(), { scientificName: 'Turdus migratorius' });
  await db().taxon.update({
    where: { id: thrush },
    data: { commonName: 'American Robin', familyName: 'Turdidae', orderName: 'Passeriformes' },
  });
  const checklist = await db().checklist.findFirstOrThrow({ where: { current: true } });
  await db().taxon.upsert({
    where: { checklistId_scientificName: { checklistId: checklist.id, scientificName: 'Merula migratoria' } },
    create: {
      checklistId: checklist.id,
      scientificName: 'Merula migratoria',
      rank: 'species',
      acceptedId: thrush,
    },
    update: {},
  });
  const gyr = await makeTaxon(db(), { scientificName: 'Falco rusticolus', sensitive: true });
  await db().taxon.update({ where: { id: gyr }, data: { commonName: 'Gyrfalcon' } });
  robin = await makeInReview(db(), preparator, { taxonId: thrush, foundOn: '2025-04-03' });
  male = await makeInReview(db(), preparator, {
    taxonId: thrush,
    foundOn: '2025-04-20',
    values: { sex: 'male', leftTestis: { lengthMm: 9 }, leftOvary: undefined },
  });
  broken = await makeInReview(db(), preparator, {
    taxonId: thrush,
    foundOn: '2025-04-21',
    bones: [
      { element: 'radius', side: 'right', place: 'wing', state: 'broken' },
      { element: 'ulna', side: 'right', place: 'wing' },
      { element: 'radius', side: 'left', place: 'skeleton' },
    ],
  });
  falcon = await makeInReview(db(), preparator, { taxonId: gyr, foundOn: '2024-11-30' });
  await db().salvageRecord.update({
    where: { id: falcon.bird.salvageId },
    data: { verbatimTaxon: 'big white hawk' },
  });
  queued = await makeBird(db(), collectionId, { taxonId: thrush, foundOn: '2023-07-01' });
  for (const { record } of [robin, male, broken, falcon])
    await approveRecord(contextOf(curator), record.id, { version: 1, explanations: {} });
});

const search = (q: string, actor: Actor = curator) => searchCatalogue(actor, { q, size: 50, sort: 'number' });
const found = async (q: string, actor: Actor = curator) =>
  (await search(q, actor)).rows.map(({ birdId }) => birdId);
const ids = (...made: (Made | { id: string })[]) => made.map((one) => ('bird' in one ? one.bird.id : one.id));

describe('one box finds', () => {
  it.each([
    ['nothing said: everything', '', () => ids(robin, male, broken, falcon, queued)],
    ['a scientific name', 'Turdus migratorius', () => ids(robin, male, broken, queued)],
    ['a common name', 'american robin', () => ids(robin, male, broken, queued)],
    ['the beginning of a name', 'gyrf', () => ids(falcon)],
    ['a genus', 'taxon:Turdus', () => ids(robin, male, broken, queued)],
    ['a family', 'Turdidae', () => ids(robin, male, broken, queued)],
    ['a synonym', 'Merula migratoria', () => ids(robin, male, broken, queued)],
    ['a misspelled scientific name', 'Turdus migratorus', () => ids(robin, male, broken, queued)],
    ['a misspelled common name', 'gyrfalcan', () => ids(falcon)],
    ['a day', '2025-04-03', () => ids(robin)],
    ['a month of a year', '2025-04', () => ids(robin, male, broken)],
    ['a season of a year', 'autumn 2024', () => ids(falcon)],
    ['months of any year', 'March to May', () => ids(robin, male, broken)],
    ['a sex', '♂', () => ids(male)],
    ['a kind of material', 'material:wing', () => ids(robin, male, broken, falcon)],
    ['a stage', 'stage:queued', () => ids(queued)],
    ['a state of a material', 'stage:shelved', () => ids(robin, male, broken, falcon)],
    ['a county', 'county:Franklin', () => ids(robin, male, broken, falcon, queued)],
    ['a place', 'place:library', () => ids(robin, male, broken, falcon, queued)],
    ['what was said of the find', 'window strike 2024', () => ids(falcon)],
    ['two words in two places', 'robin franklin', () => ids(robin, male, broken, queued)],
    ['either', 'sex:male or stage:queued', () => ids(male, queued)],
    ['not', 'Turdus -sex:female', () => ids(male, queued)],
    ['words with percent signs as letters', '100%', () => []],
  ])('%s: %s', async (_, q, expected) => {
    expect((await found(q)).sort()).toEqual(expected().sort());
  });

  it('says how it read a misspelled name', async () => {
    expect((await search('Turdus migratorus')).readAs).toEqual([
      { text: 'Turdus migratorus', as: ['Turdus migratorius'] },
    ]);
    expect((await search('Turdus migratorius')).readAs).toEqual([]);
  });

  it('every number of a bird: salvage, preparation, catalogue, material, vial, its figures alone', async () => {
    const { catalogue } = await db().bird.findUniqueOrThrow({
      where: { id: robin.bird.id },
      include: { catalogue: true },
    });
    await db().vial.create({
      data: {
        material: {
          create: { collectionId, birdId: robin.bird.id, kind: 'vial', suffix: 'T1', state: 'stored' },
        },
        code: `V-${robin.bird.number}`,
        collectionId,
        tissues: ['liver'],
        preservation: 'frozen',
        amount: 10,
        amountLeft: 10,
        container: 'cryovial',
        qualityClass: 2,
        qualityReason: 'test',
        filledById: preparator.personId ?? '',
      },
    });
    const number = catalogue?.number ?? '';
    const numbers = [
      robin.bird.number,
      number,
      `${number}-W`,
      `${robin.bird.number}-T1`,
      `V-${robin.bird.number}`,
    ];
    for (const text of numbers) expect(await found(`number:"${text}"`), text).toEqual(ids(robin));
    expect(await found(number.toLowerCase())).toEqual(ids(robin));
    expect(await found(`number:"TP ${robin.bird.number}"`)).toEqual(ids(robin));
    const figures = String(Number(/(\d+)$/.exec(robin.bird.number)?.[1]));
    expect(await found(`number:${figures}`)).toContain(robin.bird.id);
    expect(await found('tissue:liver quality:1..2')).toEqual(ids(robin));
    expect(await found('tissue:liver quality:3')).toEqual([]);
  });

  it('right wings with whole radius and ulna, of a genus, females, March to May, in one query', async () => {
    expect(
      await found('material:wing bones:radius+ulna/right/whole taxon:Turdus females March to May'),
    ).toEqual(ids(robin));
    // The broken radius of the second bird's wing is not made good by the whole one in its skeleton.
    expect((await found('bones:radius+ulna/right')).sort()).toEqual(ids(robin, male, broken, falcon).sort());
    expect(await found('material:wing bones:radius/left')).toEqual([]);
    expect(await found('material:skeleton bones:radius/left')).toEqual(ids(broken));
    expect(await found('bones:radius/right/broken')).toEqual(ids(broken));
  });

  it('the same question from the builder is the same one query', async () => {
    const ask: [Condition['field'], string[]][] = [
      ['material', ['wing']],
      ['bones', [printBones({ elements: ['radius', 'ulna'], side: 'right', state: 'whole' })]],
      ['taxon', ['Turdus']],
      ['sex', ['female']],
      ['month', ['3', '4', '5']],
    ];
    const root = ask.reduce((group, [field, values]) => {
      const { root: longer, added } = addNode(group, ROOT, { kind: 'condition', field });
      const line = longer.of.find(({ id }) => id === added);
      return line?.kind === 'condition' ? changeNode(longer, line, { values }) : longer;
    }, builderOf(null));
    const q = builderText(root);
    expect(q).toBe('material:wing bones:radius+ulna/right/whole taxon:Turdus sex:female month:3..5');
    expect(await search(q)).toMatchObject({ problems: [], rows: [{ birdId: robin.bird.id }], total: 1 });
    expect((await found(builderText(changeNode(root, root, { join: 'or' })))).sort()).toEqual(
      ids(robin, male, broken, falcon, queued).sort(),
    );
  });

  it('offers a reader the fields that they may ask by', async () => {
    const { fields } = await describeSearch(visitor);
    expect(fields).toContain('taxon');
    for (const hidden of ['finder', 'loan', 'permit', 'warning', 'within'])
      expect(fields, hidden).not.toContain(hidden);
    expect((await describeSearch(curator)).fields).toContain('loan');
  });

  it('tells what it did not understand and uses the rest', async () => {
    const { problems, rows } = await search('colour:red sex:male');
    expect(problems).toMatchObject([{ at: 0, message: expect.stringContaining('no field “colour”') }]);
    expect(rows.map(({ birdId }) => birdId)).toEqual(ids(male));
  });
});

describe('pages, facets, order', () => {
  it.each([
    'number',
    '-number',
    'found',
    '-found',
    'taxon',
    '-catalogueNumber',
    'approved',
    'county',
    '-prepared',
  ])('page after page by %s gives each bird once', async (sort) => {
    const all = (await searchCatalogue(curator, { q: '', size: 50, sort })).rows.map(({ birdId }) => birdId);
    const paged: string[] = [];
    let after: string | undefined;
    do {
      const page = await searchCatalogue(curator, { q: '', size: 2, sort, after });
      paged.push(...page.rows.map(({ birdId }) => birdId));
      after = page.next ?? undefined;
    } while (after !== undefined);
    expect(paged).toEqual(all);
    expect(new Set(all).size).toBe(5);
  });

  it('counts what the hits have in common', async () => {
    const { total, facets } = await search('Turdus');
    expect(total).toBe(4);
    const values = (id: string) =>
      facets?.find((facet) => facet.id === id)?.values.map(({ value, count }) => [value, count]);
    expect(values('stage')).toEqual([
      ['catalogued', 3],
      ['queued', 1],
    ]);
    expect(values('family')).toEqual([['Turdidae', 4]]);
    expect(values('month')).toEqual([
      ['4', 3],
      ['7', 1],
    ]);
    expect(values('material')).toEqual([
      ['skeleton', 3],
      ['skin', 3],
      ['wing', 3],
      ['carcass', 1],
      ['vial', 1],
    ]);
    expect(values('preparator')).toEqual([[preparator.name, 3]]);
    expect(values('sex')).toEqual([
      ['female', 2],
      ['male', 1],
      ['undetermined', 1],
    ]);
  });

  it('follows a new identification and a new name at once', async () => {
    const own = await makeCollection(db());
    const actor = await makeActor(db(), own, 'curator');
    const taxonId = await makeTaxon(db(), { scientificName: 'Sitta carolinensis' });
    const bird = await makeBird(db(), own, { taxonId });
    await db().taxon.update({ where: { id: taxonId }, data: { commonName: 'Upside-down bird' } });
    const [row] = (await search('"Upside-down bird"', actor)).rows;
    expect(row).toMatchObject({ birdId: bird.id, commonName: 'Upside-down bird' });
  });
});

describe('what a reader may not see, they may not find', () => {
  it('a visitor finds approved birds only', async () => {
    expect((await found('', visitor)).sort()).toEqual(ids(robin, male, broken, falcon).sort());
    expect(await found('stage:queued', visitor)).toEqual([]);
    expect(await found(queued.number, visitor)).toEqual([]);
  });

  it('no exact place in a row, a facet or a match', async () => {
    const answer = await search('', visitor);
    expect(JSON.stringify(answer)).not.toContain('library');
    const row = answer.rows.find(({ birdId }) => birdId === falcon.bird.id);
    expect(row).toMatchObject({ county: null, locality: null, stateProvince: 'Ohio' });
    expect(answer.facets?.find(({ id }) => id === 'county')?.values).toEqual([
      { value: 'Franklin', label: 'Franklin', count: 3 },
    ]);
    expect(await found('place:library', visitor)).toEqual([]);
    expect(await found('library', visitor)).toEqual([]);
    expect(await found('window', visitor)).toEqual([]);
    expect(await found('county:Franklin falcon', visitor)).toEqual([]);
    expect((await found('place:Franklin', visitor)).sort()).toEqual(ids(robin, male, broken).sort());
    expect(await found('place:Ohio falcon', visitor)).toEqual(ids(falcon));
  });

  it('a volunteer finds exact places but those of sensitive taxa', async () => {
    expect((await found('place:library', volunteer)).sort()).toEqual(ids(robin, male, broken, queued).sort());
    expect(await found('window falcon', volunteer)).toEqual([]);
  });

  it('finders are found by registrars and permit officers only', async () => {
    const finder = await db().finder.create({ data: { collectionId, name: 'Wilma Thornbury' } });
    await db().salvageRecord.update({ where: { id: robin.bird.salvageId }, data: { finderId: finder.id } });
    const registrar = await makeActor(db(), collectionId, 'registrar');
    expect(await found('finder:Thornbury', registrar)).toEqual(ids(robin));
    const refused = await search('finder:Thornbury', curator);
    expect(refused.rows).toEqual([]);
    expect(refused.problems).toMatchObject([{ message: 'You may not search by finder.' }]);
    expect(await found('Thornbury', registrar)).toEqual([]);
  });

  it('nothing of another collection', async () => {
    const stranger = await makeActor(db(), await makeCollection(db()), 'curator');
    expect(await found('', stranger)).toEqual([]);
    expect(await found(robin.bird.number, stranger)).toEqual([]);
  });
});

describe('the box in the head, tables, views', () => {
  it('finds a number at once', async () => {
    const { hits } = await findQuickly(curator, queued.number);
    expect(hits.map(({ birdId }) => birdId)).toEqual([queued.id]);
  });

  it('exports the result with its columns, formulas made harmless, and writes down that it was', async () => {
    await db().salvageRecord.update({
      where: { id: male.bird.salvageId },
      data: { locality: '=HYPERLINK("http://example.org")' },
    });
    const ask = { q: 'sex:male', sort: 'number', columns: COLUMNS, form: 'csv' } as const;
    const file = await exportSearch(contextOf(curator), { ...ask, columns: [...COLUMNS] });
    const text = await new Response(file.body as ReadableStream).text();
    expect(text.replace('\uFEFF', '').split('\r\n')).toEqual([
      'number,scientificName,locality',
      `${male.bird.number},Turdus migratorius,"'=HYPERLINK(""http://example.org"")"`,
      '',
    ]);
    await expect(
      exportSearch(contextOf(visitor), { q: '', sort: 'number', columns: ['number'], form: 'csv' }),
    ).rejects.toMatchObject({ code: 'forbidden' });
    const [event] = await db().auditEvent.findMany({ where: { collectionId, kind: 'catalogue.exported' } });
    expect(event?.payload).toMatchObject({ q: 'sex:male' });

    const book = await exportSearch(contextOf(curator), { ...ask, columns: [...COLUMNS], form: 'xlsx' });
    const bytes = Buffer.from(book.body as Uint8Array);
    expect(await inspectWorkbook(bytes)).toMatchObject({ ok: true, value: { formulaCells: 0 } });
    expect(await readSheet(bytes)).toEqual([
      ['Number', 'Scientific name', 'Place'],
      [male.bird.number, 'Turdus migratorius', '=HYPERLINK("http://example.org")'],
    ]);
  });

  it('exports the chosen birds of a result only, and no bird that is not in it', async () => {
    const { body } = await exportSearch(contextOf(curator), {
      q: 'taxon:Turdus',
      sort: 'number',
      columns: ['number'],
      form: 'csv',
      birds: [robin.bird.id, falcon.bird.id],
    });
    const text = await new Response(body as ReadableStream).text();
    expect(text.replace('\uFEFF', '').split('\r\n')).toEqual(['number', robin.bird.number, '']);
  });

  it('keeps views: own and shared ones, the same name again replaces', async () => {
    const view = { name: 'Falcons', query: 'q=falcon', shared: true };
    await keepView(contextOf(curator), { ...view, query: 'q=x' });
    const { views } = await keepView(contextOf(curator), view);
    expect(views).toMatchObject([{ ...view, own: true }]);
    expect((await listViews(preparator)).views).toMatchObject([{ ...view, own: false }]);
    await expect(dropView(contextOf(preparator), views[0]?.id ?? '')).rejects.toMatchObject({
      code: 'not-found',
    });
    expect((await dropView(contextOf(curator), views[0]?.id ?? '')).views).toEqual([]);
  });
});
