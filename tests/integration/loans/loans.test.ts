import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { BackTo, SettleRequest } from '@/lib/loans/schema';
import {
  closeLoan,
  confirmReceipt,
  declineLoan,
  extendLoan,
  grantLoan,
  packLoan,
  sendLoan,
  setDocuments,
  takeIntoReview,
  unpackLoan,
  withdrawLoan,
} from '@/lib/loans/service/acts';
import {
  askLoan,
  findLendable,
  listBorrowers,
  listLoans,
  loanPapers,
  showLoan,
} from '@/lib/loans/service/ask';
import { remindOfLoans } from '@/lib/loans/service/reminders';
import { settleLoan } from '@/lib/loans/service/settle';
import type { LoanRecord } from '@/lib/loans/wire';
import type { Actor } from '@/lib/platform/actor';
import { dayIn } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeCollection } from '@/seed/factories';
import { makeBorrower, makeBox, makeCatalogued } from '@/seed/factories/loans';

let collectionId: string;
let curator: Actor;
let registrar: Actor;
let borrowerId: string;
let box: { id: string; path: string };

const today = dayIn('UTC', new Date());
const dayFromNow = (days: number) => dayIn('UTC', new Date(Date.now() + days * 86_400_000));

beforeAll(async () => {
  collectionId = await makeCollection(db());
  await db().collection.update({ where: { id: collectionId }, data: { settings: { country: 'US' } } });
  curator = await makeActor(db(), collectionId, 'curator');
  registrar = await makeActor(db(), collectionId, 'registrar');
  borrowerId = await makeBorrower(db(), collectionId);
});
beforeEach(async () => {
  box = await makeBox(db(), collectionId);
});

const ask = (materialIds: string[], kind: 'loan' | 'grant' = 'loan', by = registrar, borrower = borrowerId) =>
  askLoan(contextOf(by), {
    kind,
    borrowerId: borrower,
    purpose: 'Comparative study of wing shape.',
    materialIds,
  });

/** From the request to the packed box. */
async function pack(loan: LoanRecord): Promise<LoanRecord> {
  const inReview = await takeIntoReview(contextOf(curator), loan.id, { version: loan.version });
  const granted = await grantLoan(contextOf(curator), loan.id, { version: inReview.version });
  return packLoan(contextOf(registrar), loan.id, {
    version: granted.version,
    lines: granted.lines.map(({ id }) => ({ lineId: id, conditionOut: 'Good' })),
  });
}

const send = async (loan: LoanRecord) => {
  const packed = await pack(loan);
  return sendLoan(contextOf(registrar), loan.id, {
    version: packed.version,
    on: today,
    dueOn: dayFromNow(90),
  });
};

const settle = (
  loan: LoanRecord,
  ...lines: {
    label: string;
    outcome: 'returned' | 'consumed' | 'lost';
    amountUsed?: number;
    backTo?: BackTo;
  }[]
) =>
  settleLoan(contextOf(registrar), loan.id, {
    version: loan.version,
    lines: lines.map(({ label, backTo = 'where-it-lay', ...rest }): SettleRequest['lines'][number] => ({
      ...rest,
      backTo,
      lineId: loan.lines.find((line) => line.label.endsWith(label))?.id ?? '',
      on: today,
      conditionIn: 'As it went',
    })),
  });

const materialOf = (id: string | undefined) =>
  db().material.findUniqueOrThrow({
    where: { id },
    include: { placement: true, vial: { include: { uses: true } } },
  });

describe('a loan out and back', () => {
  it('takes the material off its shelf and puts it back where it lay; the bird’s story tells', async () => {
    const { bird, materials } = await makeCatalogued(db(), curator, box);
    const [skin] = materials;
    const sent = await send(await ask([skin?.id ?? '']));
    expect(sent).toMatchObject({ state: 'sent', balance: { sent: 1, out: 1 }, overdueDays: 0 });
    expect(sent.lines[0]).toMatchObject({ custody: 'on-loan', place: `${box.path} › A1`, sentOn: today });
    expect(await materialOf(skin?.id)).toMatchObject({ custody: 'on-loan', placement: null });
    const received = await confirmReceipt(contextOf(registrar), sent.id, {
      version: sent.version,
      on: today,
    });
    const closed = await settle(received, { label: '-S', outcome: 'returned' });
    expect(closed).toMatchObject({ state: 'closed', balance: { sent: 1, returned: 1, out: 0 }, acts: [] });
    expect(await materialOf(skin?.id)).toMatchObject({
      custody: 'on-shelf',
      placement: { unitId: box.id, position: 'A1' },
    });
    const kinds = (
      await db().auditEvent.findMany({ where: { birdId: bird.id }, orderBy: { seq: 'asc' } })
    ).map(({ kind }) => kind);
    expect(kinds).toEqual([
      'bench.approved',
      'catalogue.approved',
      'storage.material-moved',
      'storage.custody-changed',
      'loans.material-sent',
      'storage.custody-changed',
      'storage.material-moved',
      'loans.material-settled',
    ]);
  });

  it('says so when its place is taken meanwhile, takes nothing back, and lets it be put away later', async () => {
    const { materials } = await makeCatalogued(db(), curator, box);
    const sent = await send(await ask([materials[0]?.id ?? '']));
    await db().placement.update({ where: { materialId: materials[1]?.id }, data: { position: 'A1' } });
    await expect(settle(sent, { label: '-S', outcome: 'returned' })).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ path: 'lines.0.backTo', message: expect.stringContaining('taken by') }],
    });
    expect((await materialOf(materials[0]?.id)).custody).toBe('on-loan');
    const closed = await settle(sent, { label: '-S', outcome: 'returned', backTo: 'not-yet' });
    expect(closed.state).toBe('closed');
    expect(await materialOf(materials[0]?.id)).toMatchObject({ custody: 'on-shelf', placement: null });
  });

  it('two partial returns, one loss, one consumed grant: the balance ends at zero', async () => {
    const { materials } = await makeCatalogued(db(), curator, box, { vials: 2 });
    const vials = materials.slice(3);
    let loan = await send(
      await ask(
        [...materials.slice(0, 3), ...vials].map(({ id }) => id),
        'grant',
      ),
    );
    expect(loan.balance).toEqual({ sent: 5, returned: 0, consumed: 0, lost: 0, out: 5 });
    loan = await settle(loan, { label: '-S', outcome: 'returned' });
    expect(loan).toMatchObject({ state: 'partly-back', balance: { out: 4 } });
    loan = await settle(
      loan,
      { label: '-W', outcome: 'returned' },
      { label: '-T2', outcome: 'returned', amountUsed: 5 },
    );
    loan = await settle(loan, { label: '-B', outcome: 'lost' });
    expect(loan.acts).not.toContain('close');
    loan = await settle(loan, { label: '-T1', outcome: 'consumed' });
    expect(loan).toMatchObject({
      state: 'closed',
      balance: { sent: 5, returned: 3, consumed: 1, lost: 1, out: 0 },
    });
    expect(await materialOf(vials[0]?.id)).toMatchObject({
      custody: 'used-up',
      state: 'used-up',
      placement: null,
      vial: { amountLeft: 0, uses: [{ amount: 20, purpose: `Grant ${loan.number}` }] },
    });
    expect(await materialOf(vials[1]?.id)).toMatchObject({
      custody: 'on-shelf',
      state: 'partly-used',
      vial: { amountLeft: 15 },
    });
    expect(await materialOf(materials[1]?.id)).toMatchObject({ custody: 'missing' });
    const { borrowers } = await listBorrowers(registrar);
    expect(borrowers.find(({ id }) => id === borrowerId)?.lost).toBe(1);
  });

  it('a loan is not consumed, a line is settled once, and nothing before it was sent', async () => {
    const { materials } = await makeCatalogued(db(), curator, box);
    const sent = await send(await ask(materials.slice(0, 2).map(({ id }) => id)));
    await expect(settle(sent, { label: '-S', outcome: 'consumed' })).rejects.toMatchObject({
      code: 'conflict',
    });
    const back = await settle(sent, { label: '-S', outcome: 'returned' });
    await expect(settle(back, { label: '-S', outcome: 'lost' })).rejects.toMatchObject({ code: 'conflict' });
    await expect(settle(sent, { label: '-B', outcome: 'lost' })).rejects.toMatchObject({
      code: 'stale-version',
    });
  });
});

describe('what may be lent', () => {
  it('a second loan of the same material is refused, also while the first is only asked for', async () => {
    const { materials } = await makeCatalogued(db(), curator, box);
    const id = materials[0]?.id ?? '';
    const first = await ask([id]);
    await expect(ask([id])).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ path: `materialIds.${id}`, message: expect.stringContaining(first.number) }],
    });
    const gone = await withdrawLoan(contextOf(registrar), first.id, { version: first.version });
    expect(gone.state).toBe('closed');
    await expect(ask([id])).resolves.toMatchObject({ state: 'asked' });
  });

  it('of two simultaneous requests for one material, one is written down', async () => {
    const { materials } = await makeCatalogued(db(), curator, box);
    const outcomes = await Promise.allSettled(Array.from({ length: 5 }, () => ask([materials[0]?.id ?? ''])));
    expect(outcomes.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
  });

  it('the database lets a material be out once', async () => {
    const { materials } = await makeCatalogued(db(), curator, box);
    const sent = await send(await ask([materials[0]?.id ?? '']));
    const other = await ask([materials[1]?.id ?? '']);
    await expect(
      db().loanLine.create({
        data: { loanId: other.id, materialId: materials[0]?.id ?? '', sentAt: new Date() },
      }),
    ).rejects.toMatchObject({ code: 'P2002' });
    expect(sent.state).toBe('sent');
  });

  it('not what is on hold, missing, or not catalogued; and what became so is not packed', async () => {
    const { bird, materials } = await makeCatalogued(db(), curator, box);
    const loan = await ask([materials[0]?.id ?? '']);
    const inReview = await takeIntoReview(contextOf(curator), loan.id, { version: loan.version });
    const granted = await grantLoan(contextOf(curator), loan.id, { version: inReview.version });
    await db().hold.create({ data: { salvageId: bird.salvageId, kind: 'legal', reason: 'court' } });
    await expect(
      packLoan(contextOf(registrar), loan.id, {
        version: granted.version,
        lines: granted.lines.map(({ id }) => ({ lineId: id, conditionOut: 'Good' })),
      }),
    ).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ message: expect.stringContaining('On hold: court') }],
    });
    const carcass = await db().material.findFirstOrThrow({ where: { birdId: bird.id, kind: 'carcass' } });
    await expect(ask([carcass.id])).rejects.toMatchObject({
      fields: expect.arrayContaining([
        { path: `materialIds.${carcass.id}`, message: expect.stringContaining('used up') },
      ]),
    });
  });

  it('is found by label, by scanned code and by name, with why it cannot go', async () => {
    const { catalogueNumber, materials } = await makeCatalogued(db(), curator, box, { vials: 1 });
    const labels = async (q: string) =>
      (await findLendable(registrar, { q, kind: 'loan' })).materials.map(({ label }) => label);
    expect(await labels(`${catalogueNumber}-S`)).toEqual([`${catalogueNumber}-S`]);
    const { code } = (await materialOf(materials[3]?.id)).vial ?? { code: '' };
    expect(await labels(code)).toEqual([`${catalogueNumber}-T1`]);
    expect(await labels(catalogueNumber)).toEqual(
      ['B', 'S', 'T1', 'W'].map((suffix) => `${catalogueNumber}-${suffix}`),
    );
    await ask([materials[0]?.id ?? '']);
    const [skin] = (await findLendable(registrar, { q: `${catalogueNumber}-S`, kind: 'loan' })).materials;
    expect(skin?.problems).toEqual([expect.stringContaining('already')]);
  });
});

describe('who decides', () => {
  it('nobody decides on their own request: not by the service and not in the database', async () => {
    const { materials } = await makeCatalogued(db(), curator, box);
    const loan = await ask([materials[0]?.id ?? ''], 'loan', curator);
    const inReview = await takeIntoReview(contextOf(curator), loan.id, { version: loan.version });
    await expect(grantLoan(contextOf(curator), loan.id, { version: inReview.version })).rejects.toMatchObject(
      {
        code: 'forbidden',
      },
    );
    await expect(
      db().loan.update({ where: { id: loan.id }, data: { decidedById: curator.personId } }),
    ).rejects.toThrow('Nobody decides');
    const second = await makeActor(db(), collectionId, 'curator');
    const declined = await declineLoan(contextOf(second), loan.id, {
      version: inReview.version,
      note: 'Too fragile to travel.',
    });
    expect(declined).toMatchObject({ state: 'declined', decisionNote: 'Too fragile to travel.', acts: [] });
  });

  it('a registrar executes and does not decide; a volunteer sees only', async () => {
    const { materials } = await makeCatalogued(db(), curator, box);
    const loan = await ask([materials[0]?.id ?? '']);
    expect(loan.acts).toEqual(['withdraw']);
    await expect(
      takeIntoReview(contextOf(registrar), loan.id, { version: loan.version }),
    ).rejects.toMatchObject({ code: 'forbidden' });
    const volunteer = await makeActor(db(), collectionId, 'volunteer');
    expect((await showLoan(volunteer, loan.id)).acts).toEqual([]);
    const stranger = await makeActor(db(), await makeCollection(db()), 'registrar');
    await expect(showLoan(stranger, loan.id)).rejects.toMatchObject({ code: 'not-found' });
  });

  it('of two decisions at once one stands', async () => {
    const { materials } = await makeCatalogued(db(), curator, box);
    const loan = await ask([materials[0]?.id ?? '']);
    const { version } = await takeIntoReview(contextOf(curator), loan.id, { version: loan.version });
    const second = await makeActor(db(), collectionId, 'curator');
    const outcomes = await Promise.allSettled([
      grantLoan(contextOf(curator), loan.id, { version }),
      declineLoan(contextOf(second), loan.id, { version, note: 'No.' }),
    ]);
    const refused = outcomes.filter((outcome) => outcome.status === 'rejected');
    expect(refused).toHaveLength(1);
    expect(refused[0]?.reason).toMatchObject({ status: 409 });
  });
});

describe('papers, terms, time', () => {
  it('a parcel over a border does not leave before its papers are there', async () => {
    const { materials } = await makeCatalogued(db(), curator, box);
    const abroad = await makeBorrower(db(), collectionId, 'CA');
    const packed = await pack(await ask([materials[0]?.id ?? ''], 'loan', registrar, abroad));
    expect(packed.border).toMatchObject({
      isProposed: true,
      parcel: { fromCountry: 'US', toCountry: 'CA', originCountries: ['US'] },
    });
    const leave = (version: number) =>
      sendLoan(contextOf(registrar), packed.id, { version, on: today, dueOn: dayFromNow(90) });
    await expect(leave(packed.version)).rejects.toMatchObject({ code: 'conflict' });
    const parcel = {
      fromCountry: 'US',
      toCountry: 'CA',
      anyCitesListed: false,
      bothRegisteredWithCites: false,
      anyMigratoryBirdAct: true,
      anyWildBirdOfEu: false,
      anyTissue: false,
      originCountries: ['US'],
    };
    const said = await setDocuments(contextOf(registrar), packed.id, {
      version: packed.version,
      parcel,
      documents: [],
    });
    const asked = said.border.documents.map(({ id }) => id);
    expect(asked).toEqual(['us-declaration', 'us-marking', 'us-migratory-birds', 'canada-possession']);
    expect(said.border.missing).toHaveLength(4);
    await expect(leave(said.version)).rejects.toMatchObject({ code: 'conflict' });
    const ready = await setDocuments(contextOf(registrar), packed.id, {
      version: said.version,
      parcel,
      documents: said.border.documents.map(({ id, document }) => ({
        ruleId: id,
        document,
        reference: `No. ${id}`,
      })),
    });
    expect(ready.border.missing).toEqual([]);
    expect((await leave(ready.version)).state).toBe('sent');
  });

  it('packing needs each line’s condition; what was packed can be unpacked', async () => {
    const { materials } = await makeCatalogued(db(), curator, box);
    const loan = await ask(materials.slice(0, 2).map(({ id }) => id));
    const { version } = await takeIntoReview(contextOf(curator), loan.id, { version: loan.version });
    const granted = await grantLoan(contextOf(curator), loan.id, { version });
    await expect(
      packLoan(contextOf(registrar), loan.id, {
        version: granted.version,
        lines: [{ lineId: granted.lines[0]?.id ?? '', conditionOut: 'Good' }],
      }),
    ).rejects.toMatchObject({ fields: [{ path: `lines.${granted.lines[1]?.id}` }] });
    const packed = await packLoan(contextOf(registrar), loan.id, {
      version: granted.version,
      lines: granted.lines.map(({ id }) => ({ lineId: id, conditionOut: 'Good' })),
      conditions: 'No dissection.',
    });
    const again = await unpackLoan(contextOf(registrar), loan.id, { version: packed.version });
    expect(again).toMatchObject({ state: 'granted', packedAt: null, conditions: 'No dissection.' });
  });

  it('extends in writing within the terms', async () => {
    const { materials } = await makeCatalogued(db(), curator, box);
    const sent = await send(await ask([materials[0]?.id ?? '']));
    const extend = (toDueOn: string) =>
      extendLoan(contextOf(registrar), sent.id, {
        version: sent.version,
        askedOn: today,
        toDueOn,
        reason: 'The study takes longer.',
      });
    await expect(extend(dayFromNow(10))).rejects.toMatchObject({ code: 'not-valid' });
    await expect(extend(dayFromNow(90 + 400))).rejects.toMatchObject({ code: 'not-valid' });
    const longer = await extend(dayFromNow(200));
    expect(longer).toMatchObject({ dueOn: dayFromNow(200), extensions: [{ fromDueOn: dayFromNow(90) }] });
  });

  it('lists the longest overdue first, then the open, then those that are over', async () => {
    const own = await makeCollection(db());
    const [mover, decider] = [await makeActor(db(), own, 'registrar'), await makeActor(db(), own, 'curator')];
    const borrower = await makeBorrower(db(), own);
    const row = (number: string, state: string, dueOn: string | null) =>
      db().loan.create({
        data: {
          collectionId: own,
          number,
          state,
          borrowerId: borrower,
          purpose: 'x',
          askedOn: new Date('2025-01-01'),
          dueOn: dueOn === null ? null : new Date(dueOn),
          decidedById: decider.personId,
        },
      });
    await row('closed', 'closed', '2025-02-01');
    await row('asked', 'asked', null);
    await row('late', 'received', dayFromNow(-3));
    await row('later', 'sent', dayFromNow(-40));
    await row('in time', 'sent', dayFromNow(30));
    const { rows } = await listLoans(mover, { size: 50 });
    expect(rows.map(({ number }) => number).slice(0, 2)).toEqual(['later', 'late']);
    expect(rows.at(-1)?.number).toBe('closed');
    expect(rows.map(({ overdueDays }) => overdueDays)).toEqual([40, 3, 0, 0, 0]);
    const first = await listLoans(mover, { size: 2 });
    const second = await listLoans(mover, { size: 3, after: first.next ?? '' });
    expect([...first.rows, ...second.rows].map(({ id }) => id)).toEqual(rows.map(({ id }) => id));
    const overdue = await listLoans(mover, { size: 50, state: 'overdue' });
    expect(overdue.rows.map(({ number }) => number)).toEqual(['later', 'late']);
  });

  it('reminds the registrars once a step, before and after the day it is due', async () => {
    const own = await makeCollection(db());
    const [mover, decider] = [await makeActor(db(), own, 'registrar'), await makeActor(db(), own, 'curator')];
    const loan = await db().loan.create({
      data: {
        collectionId: own,
        number: 'L-1',
        state: 'received',
        borrowerId: await makeBorrower(db(), own),
        purpose: 'x',
        askedOn: new Date('2025-01-01'),
        dueOn: new Date(dayFromNow(10)),
        askedById: decider.personId,
      },
    });
    const messages = async (actor: Actor) =>
      (
        await db().notice.findMany({
          where: { personId: actor.personId ?? '' },
          orderBy: { createdAt: 'asc' },
        })
      ).map(({ message }) => message);
    expect(await remindOfLoans(own)).toBe(1);
    expect(await remindOfLoans(own)).toBe(0);
    expect(await messages(mover)).toEqual([expect.stringContaining('is due back in 10 days')]);
    expect(await messages(decider)).toEqual(await messages(mover));
    await db().loan.update({ where: { id: loan.id }, data: { dueOn: new Date(dayFromNow(-15)) } });
    expect(await remindOfLoans(own)).toBe(1);
    expect((await messages(mover)).at(-1)).toContain('is 15 days overdue');
    await db().loan.update({ where: { id: loan.id }, data: { state: 'closed' } });
    expect(await remindOfLoans(own)).toBe(0);
  });

  it('closes by hand only at a balance of zero', async () => {
    const { materials } = await makeCatalogued(db(), curator, box);
    const sent = await send(await ask([materials[0]?.id ?? '']));
    await expect(closeLoan(contextOf(registrar), sent.id, { version: sent.version })).rejects.toMatchObject({
      code: 'conflict',
    });
  });

  it('prints its papers in two copies, with every material on each', async () => {
    const { materials, catalogueNumber } = await makeCatalogued(db(), curator, box);
    const sent = await send(await ask(materials.slice(0, 3).map(({ id }) => id)));
    const file = await loanPapers(registrar, sent.id);
    const { PDFiumLibrary } = await import('@hyzyla/pdfium');
    const library = await PDFiumLibrary.init();
    const pages = [...(await library.loadDocument(file.body as Uint8Array)).pages()].map((page) =>
      page.getText(),
    );
    library.destroy();
    expect(pages).toHaveLength(2);
    expect(pages[0]).toContain('inside the box');
    expect(pages[1]).toContain('outside the box');
    for (const page of pages) {
      for (const suffix of ['S', 'B', 'W']) expect(page).toContain(`${catalogueNumber}-${suffix}`);
      expect(page).toContain('local rules decide');
    }
  });
});
