import { divideCarcass } from '@/lib/bench/service/divide';
import { writeEntries } from '@/lib/bench/service/entries';
import { loadReferenceTable } from '@/lib/bench/service/lab';
import { showRecord } from '@/lib/bench/service/records';
import { PREPARATION_STYLE_DATA } from '@/lib/bench/style-data';
import type { BenchRecord } from '@/lib/bench/wire';
import { divideRequest } from '@/lib/bench/wire-acts';
import { returnRecord } from '@/lib/catalogue/service/review';
import { keepView, listViews } from '@/lib/catalogue/service/views';
import { db } from '@/lib/platform/db';
import { contextOf, makeBird, makeTaxon } from '@/seed/factories';
import { makeInReview } from '@/seed/factories/catalogue';
import { makeBox, makeCatalogued } from '@/seed/factories/loans';
import { delivery, entry, makeRecord, wholeRecord } from '@/tests/integration/bench/build';
import { type Examples, idOf, type Lab, need } from './lab';

const preparator = (lab: Lab) => contextOf(lab.as.preparator);
const PRODUCTS = divideRequest.parse({ products: [{ kind: 'skin' }, { kind: 'skeleton' }] });
const REFERENCES = {
  title: 'Means',
  source: 'invented for this test',
  csv: 'scientificName,massG,wingMm\nTurdus migratorius,77,128\n',
};

async function written(lab: Lab): Promise<BenchRecord> {
  const { id } = await makeRecord(lab.as.preparator);
  await writeEntries(preparator(lab), id, delivery(...wholeRecord()));
  return showRecord(lab.as.preparator, id);
}

/** A record with a wing that does not fit to the rest of the bird. */
async function warned(lab: Lab) {
  const csv = 'scientificName,massG,wingMm,tailMm,tarsusMm\nJunco hyemalis,19.6,75,66,20.5\n';
  await loadReferenceTable(preparator(lab), { ...REFERENCES, title: 'Means of juncos', csv });
  const taxonId = await makeTaxon(db(), { scientificName: 'Junco hyemalis' });
  const { id } = await makeRecord(lab.as.preparator, { taxonId });
  const entries = delivery(
    entry('massG', 19),
    entry('wingMm', 120),
    entry('tailMm', 66),
    entry('tarsusMm', 20),
  );
  await writeEntries(preparator(lab), id, entries);
  const { warnings } = await showRecord(lab.as.preparator, id);
  return { id, key: need(warnings[0], 'warning').key };
}

async function catalogued(lab: Lab) {
  return makeCatalogued(db(), lab.as.curator, await makeBox(db(), lab.collectionId));
}

const determination = async (name: string) => ({
  verbatim: name,
  taxonId: await makeTaxon(db(), { scientificName: name }),
  qualifier: 'cf.',
  determinedBy: 'A visiting ornithologist',
  determinedOn: '2025-06-01',
});

export const BENCH: Examples = {
  'POST api/bench': async (lab) => {
    const claimed = { birdState: 'claimed', claimedById: idOf(lab.as.preparator) };
    const { id } = await makeBird(db(), lab.collectionId, claimed);
    return { as: lab.as.preparator, body: { birdId: id } };
  },
  'POST api/bench/[id]/entries': async (lab) => ({
    as: lab.as.preparator,
    params: { id: (await makeRecord(lab.as.preparator)).id },
    body: delivery(entry('massG', 77.5)),
  }),
  'POST api/bench/[id]/undo': async (lab) => {
    const { id } = await makeRecord(lab.as.preparator);
    await writeEntries(preparator(lab), id, delivery(entry('massG', 77.5)));
    return { as: lab.as.preparator, params: { id }, body: {} };
  },
  'POST api/bench/[id]/divide': async (lab) => ({
    as: lab.as.preparator,
    params: { id: (await written(lab)).id },
    body: PRODUCTS,
  }),
  'POST api/bench/[id]/overrides': async (lab) => {
    const { id, key } = await warned(lab);
    return { as: lab.as.preparator, params: { id }, body: { key, reason: 'Measured twice.' } };
  },
  'POST api/bench/[id]/remarks': async (lab) => {
    const { record } = await makeInReview(db(), lab.as.preparator);
    await returnRecord(contextOf(lab.as.curator), record.id, {
      version: 1,
      remarks: [{ field: 'wingMm', remark: 'Which method?' }],
    });
    const { remarks } = await showRecord(lab.as.preparator, record.id);
    const body = { remarkId: need(remarks[0], 'remark').id, text: 'The natural chord.' };
    return { as: lab.as.preparator, params: { id: record.id }, body };
  },
  'POST api/bench/[id]/scribe': async (lab) => ({
    as: lab.as.preparator,
    params: { id: (await makeRecord(lab.as.preparator)).id },
    body: { personId: idOf(lab.as.volunteer) },
  }),
  'POST api/bench/[id]/send': async (lab) => {
    const { id } = await written(lab);
    const { version } = await divideCarcass(preparator(lab), id, PRODUCTS);
    return { as: lab.as.preparator, params: { id }, body: { version, explanation: 'Run over.' } };
  },
  'POST api/bench/[id]/steps': async (lab) => ({
    as: lab.as.preparator,
    params: { id: (await makeRecord(lab.as.preparator)).id },
    body: { step: 'thaw', done: true },
  }),
  'POST api/bench/[id]/style': async (lab) => {
    const { id, version } = await makeRecord(lab.as.preparator);
    return { as: lab.as.preparator, params: { id }, body: { styleId: 'whole-skeleton', version } };
  },
  'POST api/bench/[id]/take-back': async (lab) => {
    const { record } = await makeInReview(db(), lab.as.preparator);
    return { as: lab.as.preparator, params: { id: record.id }, body: { version: 1, reason: 'one figure' } };
  },
  'PUT api/bench/lab': async (lab) => ({
    as: lab.as.preparator,
    body: { scales: { fat: 'kaiser-1993' }, clocks: { tissueWithinMinutes: 30 } },
  }),
  'POST api/bench/lab/references': async (lab) => ({ as: lab.as.preparator, body: REFERENCES }),
  'DELETE api/bench/lab/references/[id]': async (lab) => {
    const { references } = await loadReferenceTable(preparator(lab), { ...REFERENCES, title: 'Old means' });
    const { id } = need(
      references.find(({ title }) => title === 'Old means'),
      'reference table',
    );
    return { as: lab.as.preparator, params: { id }, body: {} };
  },
  'POST api/bench/lab/styles': async (lab) => ({
    as: lab.as.preparator,
    body: { style: { ...PREPARATION_STYLE_DATA.fluid, label: 'In fluid, whole' } },
  }),
  'POST api/catalogue/review/[id]/approve': async (lab) => {
    const { record } = await makeInReview(db(), lab.as.preparator);
    return { as: lab.as.curator, params: { id: record.id }, body: { version: 1 } };
  },
  'POST api/catalogue/review/[id]/return': async (lab) => {
    const { record } = await makeInReview(db(), lab.as.preparator);
    const body = { version: 1, remarks: [{ field: 'wingMm', remark: 'Which method?' }] };
    return { as: lab.as.curator, params: { id: record.id }, body };
  },
  'POST api/catalogue/[id]/amend': async (lab) => ({
    as: lab.as.curator,
    params: { id: (await catalogued(lab)).bird.id },
    body: { field: 'wingMm', before: 128, after: 126.5, reason: 'Read off the wrong end of the rule.' },
  }),
  'POST api/catalogue/[id]/deaccession': async (lab) => {
    const { bird, materials } = await catalogued(lab);
    const skin = await db().material.findUniqueOrThrow({ where: { id: need(materials[0], 'skin').id } });
    return {
      as: lab.as.curator,
      params: { id: bird.id },
      body: {
        materialId: skin.id,
        version: skin.version,
        method: 'transferred',
        on: '2025-09-01',
        recipient: 'A school of the next town',
        authority: 'Collections committee',
        document: 'CC-2025-14',
        reason: 'Exchange with a teaching collection.',
      },
    };
  },
  'POST api/catalogue/[id]/determine': async (lab) => ({
    as: lab.as.curator,
    params: { id: (await catalogued(lab)).bird.id },
    body: await determination('Turdus pilaris'),
  }),
  'POST api/catalogue/determine': async (lab) => {
    const birds = [await catalogued(lab), await catalogued(lab)];
    const birdIds = birds.map(({ bird }) => bird.id);
    return { as: lab.as.curator, body: { ...(await determination('Turdus iliacus')), birdIds } };
  },
  'POST api/catalogue/views': async (lab) => ({
    as: lab.as.curator,
    body: { name: 'Robins', query: 'sex:female', shared: true },
  }),
  'POST api/catalogue/views/[id]/remove': async (lab) => {
    await keepView(contextOf(lab.as.curator), { name: 'Passing', query: 'sex:male', shared: false });
    const { views } = await listViews(lab.as.curator);
    const { id } = need(
      views.find(({ name }) => name === 'Passing'),
      'view',
    );
    return { as: lab.as.curator, params: { id }, body: {} };
  },
};
