import { describe, expect, it } from 'vitest';
import {
  closeLoan,
  extendLoan,
  grantLoan,
  packLoan,
  sendLoan,
  setDocuments,
  takeIntoReview,
  unpackLoan,
} from '@/lib/loans/service/acts';
import { listLoans, loanPapers } from '@/lib/loans/service/ask';
import { remindOfLoans } from '@/lib/loans/service/reminders';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeCollection } from '@/seed/factories';
import { makeBorrower, makeCatalogued } from '@/seed/factories/loans';
import { doNotices, toldTo } from '../notices/work';
import {
  ask,
  box,
  collectionId,
  curator,
  dayFromNow,
  openLoanLab,
  pack,
  registrar,
  send,
  today,
} from './loan-lab';

openLoanLab();

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
    const messages = async (actor: Actor) => {
      await doNotices();
      return (await toldTo(actor)).map(({ sentence }) => sentence);
    };
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
