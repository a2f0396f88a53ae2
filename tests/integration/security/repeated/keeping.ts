import { randomUUID } from 'node:crypto';
import { grantLoan, packLoan, sendLoan, takeIntoReview } from '@/lib/loans/service/acts';
import { askLoan } from '@/lib/loans/service/ask';
import { makeLink } from '@/lib/loans/service/links';
import type { LoanRecord } from '@/lib/loans/wire';
import { pinClock } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { addScans, closeCount, openCount } from '@/lib/storage/service/inventory';
import { loadLog } from '@/lib/storage/service/logs';
import { loadLogQuery } from '@/lib/storage/wire-logs';
import { endVial } from '@/lib/tissues/service/change';
import { listExposedVials } from '@/lib/tissues/service/exposed';
import { contextOf, makeBird } from '@/seed/factories';
import { makeBorrower, makeBox, makeCatalogued } from '@/seed/factories/loans';
import { PARCEL_WITHIN_US } from '@/seed/factories/parcel';
import { makeFreezer, makeUnit, makeVials } from '@/seed/factories/storage';
import { dayFromNow, type Example, type Examples, type Lab, need } from './lab';

const registrar = (lab: Lab) => contextOf(lab.as.registrar);
const today = dayFromNow(0);

async function materialIds(lab: Lab): Promise<string[]> {
  const made = await makeCatalogued(db(), lab.as.curator, await makeBox(db(), lab.collectionId));
  return made.materials.map(({ id }) => id).slice(0, 1);
}

const request = async (lab: Lab) => ({
  kind: 'loan' as const,
  borrowerId: await makeBorrower(db(), lab.collectionId),
  purpose: 'Comparative study of wing shape.',
  materialIds: await materialIds(lab),
});

const asked = async (lab: Lab) => askLoan(registrar(lab), await request(lab));
async function inReview(lab: Lab): Promise<LoanRecord> {
  const { id, version } = await asked(lab);
  return takeIntoReview(contextOf(lab.as.curator), id, { version });
}
async function granted(lab: Lab): Promise<LoanRecord> {
  const { id, version } = await inReview(lab);
  return grantLoan(contextOf(lab.as.curator), id, { version });
}
const conditions = ({ lines }: LoanRecord) => lines.map(({ id }) => ({ lineId: id, conditionOut: 'Good' }));
async function packed(lab: Lab): Promise<LoanRecord> {
  const loan = await granted(lab);
  return packLoan(registrar(lab), loan.id, { version: loan.version, lines: conditions(loan) });
}
async function sent(lab: Lab): Promise<LoanRecord> {
  const { id, version } = await packed(lab);
  return sendLoan(registrar(lab), id, { version, on: today, dueOn: dayFromNow(90) });
}

/** An act on a loan as it stands. */
const act = async (
  lab: Lab,
  loan: Promise<LoanRecord>,
  more: (loan: LoanRecord) => object = () => ({}),
  by: 'registrar' | 'curator' = 'registrar',
): Promise<Example> => {
  const found = await loan;
  return { as: lab.as[by], params: { id: found.id }, body: { version: found.version, ...more(found) } };
};

const vial = async (lab: Lab, more: Record<string, unknown> = {}) =>
  need((await makeVials(db(), lab.as.preparator, [more])).vials[0], 'vial');

/** A vial in the first box of a freezer of its own. */
async function stored(lab: Lab) {
  const cold = await makeFreezer(db(), lab.collectionId);
  return { cold, vial: await vial(lab, { position: { unitId: cold.box.id, position: 'A1' } }) };
}

const scanOf = (code: string, unitId: string, position: string) => ({
  id: randomUUID(),
  code,
  unitId,
  position,
  scannedAt: new Date().toISOString(),
});

export const KEEPING: Examples = {
  'POST api/loans': async (lab) => ({ as: lab.as.registrar, body: await request(lab) }),
  'POST api/loans/[id]/review': (lab) => act(lab, asked(lab), undefined, 'curator'),
  'POST api/loans/[id]/decline': (lab) =>
    act(lab, inReview(lab), () => ({ note: 'too few of them' }), 'curator'),
  'POST api/loans/[id]/grant': (lab) => act(lab, inReview(lab), undefined, 'curator'),
  'POST api/loans/[id]/withdraw': (lab) => act(lab, asked(lab)),
  'POST api/loans/[id]/pack': (lab) => act(lab, granted(lab), (loan) => ({ lines: conditions(loan) })),
  'POST api/loans/[id]/unpack': (lab) => act(lab, packed(lab)),
  'POST api/loans/[id]/documents': (lab) =>
    act(lab, packed(lab), () => ({ parcel: PARCEL_WITHIN_US, documents: [] })),
  'POST api/loans/[id]/send': (lab) => act(lab, packed(lab), () => ({ on: today, dueOn: dayFromNow(90) })),
  'POST api/loans/[id]/receive': (lab) => act(lab, sent(lab), () => ({ on: today })),
  'POST api/loans/[id]/extend': (lab) =>
    act(lab, sent(lab), () => ({ askedOn: today, toDueOn: dayFromNow(120), reason: 'It takes longer.' })),
  'POST api/loans/[id]/settle': (lab) =>
    act(lab, sent(lab), ({ lines }) => ({
      lines: lines.map(({ id }) => ({ lineId: id, outcome: 'returned', on: today, conditionIn: 'Good' })),
    })),
  'POST api/loans/[id]/materials': async (lab) => {
    const { id, version } = await asked(lab);
    return { as: lab.as.registrar, params: { id }, body: { version, materialIds: await materialIds(lab) } };
  },
  'POST api/loans/[id]/close': async (lab) => {
    const { id, version } = await sent(lab);
    await db().loanLine.updateMany({
      where: { loanId: id },
      data: { outcome: 'returned', outcomeAt: new Date() },
    });
    return { as: lab.as.registrar, params: { id }, body: { version } };
  },
  'POST api/loans/borrowers': async (lab) => ({
    as: lab.as.registrar,
    body: { institution: 'Test university', contact: 'Test borrower', country: 'US' },
  }),
  'POST api/loans/links': async (lab) => ({ as: lab.as.registrar, body: { label: 'Test borrower' } }),
  'POST api/loans/links/[id]/end': async (lab) => {
    const { id } = await makeLink(registrar(lab), { label: 'Another borrower', validDays: 30 });
    return { as: lab.as.registrar, params: { id }, body: {} };
  },
  'POST api/storage': async (lab) => ({
    as: lab.as.registrar,
    body: { name: 'Cold room', parentId: null, kind: 'room' },
  }),
  'POST api/storage/[id]/change': async (lab) => {
    const { id, version } = await makeUnit(db(), lab.collectionId, { kind: 'room' });
    return { as: lab.as.registrar, params: { id }, body: { name: 'Old room', version, reason: 'moved' } };
  },
  'POST api/storage/[id]/move': async (lab) => {
    const [from, to] = [await makeFreezer(db(), lab.collectionId), await makeFreezer(db(), lab.collectionId)];
    const body = { parentId: to.rack.id, version: from.box.version, reason: 'defrosting' };
    return { as: lab.as.registrar, params: { id: from.box.id }, body };
  },
  'POST api/storage/moves': async (lab) => {
    const { vial: one, cold } = await stored(lab);
    const to = { unitId: cold.box.id, position: 'B2' };
    return { as: lab.as.registrar, body: { moves: [{ materialId: one.id, to }], reason: 'sorted' } };
  },
  'POST api/storage/inventory': async (lab) => ({
    as: lab.as.registrar,
    body: { unitId: (await stored(lab)).cold.freezer.id },
  }),
  'POST api/storage/inventory/[id]/scans': async (lab) => {
    const { cold, vial: one } = await stored(lab);
    const { id } = await openCount(registrar(lab), cold.freezer.id);
    const scans = [scanOf(one.label, cold.box.id, 'A1')];
    return { as: lab.as.registrar, params: { id }, body: { scans } };
  },
  'POST api/storage/inventory/[id]/close': async (lab) => {
    const { id } = await openCount(registrar(lab), (await stored(lab)).cold.freezer.id);
    return { as: lab.as.registrar, params: { id }, body: {} };
  },
  'POST api/storage/inventory/[id]/resolve': async (lab) => {
    const { cold, vial: one } = await stored(lab);
    const { id } = await openCount(registrar(lab), cold.freezer.id);
    await addScans(registrar(lab), id, { scans: [scanOf(one.label, cold.box.id, 'C3')] });
    await closeCount(registrar(lab), id);
    const body = { materialId: one.id, act: 'record-where-found' };
    return { as: lab.as.registrar, params: { id }, body };
  },
  'POST api/tissues': async (lab) => ({
    as: lab.as.preparator,
    body: {
      birdId: (await makeBird(db(), lab.collectionId, { birdState: 'in-freezer' })).id,
      vials: [
        {
          tissues: ['muscle'],
          preservation: { kind: 'frozen' },
          container: { kind: 'cryovial', volumeMl: 2 },
          amount: { value: 100, unit: 'mg' },
        },
      ],
    },
  }),
  'POST api/tissues/[id]/change': async (lab) => {
    const { id } = await vial(lab);
    const { version } = await db().material.findUniqueOrThrow({ where: { id } });
    return { as: lab.as.preparator, params: { id }, body: { version, remarks: 'red cap', reason: 'seen' } };
  },
  'POST api/tissues/[id]/use': async (lab) => ({
    as: lab.as.preparator,
    params: { id: (await stored(lab)).vial.id },
    body: { amount: { value: 10, unit: 'mg' }, purpose: 'DNA' },
  }),
  'POST api/tissues/[id]/sub-sample': async (lab) => {
    const { cold, vial: one } = await stored(lab);
    const position = { unitId: cold.box.id, position: 'B1' };
    const body = { amount: { value: 10, unit: 'mg' }, purpose: 'genome project', thawed: true, position };
    return { as: lab.as.preparator, params: { id: one.id }, body };
  },
  'POST api/tissues/[id]/end': async (lab) => ({
    as: lab.as.preparator,
    params: { id: (await vial(lab)).id },
    body: { act: 'lose', reason: 'rack tipped over' },
  }),
  'POST api/tissues/[id]/find': async (lab) => {
    const { id } = await vial(lab);
    await endVial(contextOf(lab.as.preparator), id, { act: 'lose', reason: 'rack tipped over' });
    return { as: lab.as.preparator, params: { id }, body: { reason: 'behind the rack' } };
  },
  'POST api/tissues/exposed/[id]': async (lab) => {
    pinClock(new Date('2026-03-01T12:00:00Z'));
    const { cold } = await stored(lab);
    pinClock(null);
    const query = loadLogQuery.parse({
      fileName: 'log.csv',
      timeColumn: 'time',
      temperatureColumn: 'celsius',
      utcOffset: '+00:00',
    });
    // Above freezing from seven to nine.
    const hours = ['06:00;-80', '07:00;5', '08:00;5', '09:00;5', '10:00;-80'];
    const lines = hours.map((hour) => `2026-03-05 ${hour}`);
    const log = new Blob([['time;celsius', ...lines, ''].join('\n')]);
    const { rows } = await loadLog(registrar(lab), cold.freezer.id, query, log.stream());
    const { id } = need(rows[0], 'log');
    const exposed = await listExposedVials(lab.as.preparator, id);
    const vialIds = exposed.rows.map((row) => row.id);
    return { as: lab.as.preparator, params: { id }, body: { vialIds } };
  },
  'POST api/attachments/[id]/caption': async (lab) => ({
    as: lab.as.curator,
    params: { id: await attached(lab) },
    body: { caption: 'From below' },
  }),
  'POST api/attachments/[id]/remove': async (lab) => ({
    as: lab.as.curator,
    params: { id: await attached(lab) },
    body: { reason: 'the wrong bird' },
  }),
};

async function attached({ collectionId, as }: Lab): Promise<string> {
  const { id: birdId } = await makeBird(db(), collectionId);
  const { id } = await db().attachment.create({
    data: {
      collectionId,
      subjectType: 'bird',
      subjectId: birdId,
      birdId,
      fileName: 'note.pdf',
      mediaType: 'application/pdf',
      sizeBytes: 10,
      sha256: randomUUID().replaceAll('-', '').padEnd(64, '0'),
      uploadedById: need(as.preparator.personId, 'person'),
    },
  });
  return id;
}
