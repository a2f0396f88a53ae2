import { describe, expect, it } from 'vitest';
import {
  confirmReceipt,
  declineLoan,
  grantLoan,
  packLoan,
  takeIntoReview,
  withdrawLoan,
} from '@/lib/loans/service/acts';
import { findLendable, listBorrowers, showLoan } from '@/lib/loans/service/ask';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeCollection } from '@/seed/factories';
import { makeCatalogued } from '@/seed/factories/loans';
import {
  ask,
  borrowerId,
  box,
  collectionId,
  curator,
  materialOf,
  openLoanLab,
  registrar,
  send,
  settle,
  today,
} from './loan-lab';

openLoanLab();

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
