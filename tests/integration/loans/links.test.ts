import { randomUUID } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { POST } from '@/app/api/loan-request/[token]/route';
import { loanLinkUse } from '@/lib/loans/link-schema';
import { declineLoan, grantLoan, takeIntoReview } from '@/lib/loans/service/acts';
import { listBorrowers, listLoans, showLoan } from '@/lib/loans/service/ask';
import { chooseMaterials } from '@/lib/loans/service/choose';
import { askByLink, endLink, listLinks, makeLink, openLink } from '@/lib/loans/service/links';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeCollection } from '@/seed/factories';
import { makeCatalogued } from '@/seed/factories/loans';
import { doNotices, toldTo } from '../notices/work';
import { box, collectionId, curator, openLoanLab, registrar } from './loan-lab';

openLoanLab();

const use = (changes: object = {}) =>
  loanLinkUse.parse({
    requestKey: randomUUID(),
    contact: 'Dr Ines Marlow',
    institution: 'Museum of the Far Shore',
    email: 'ines@museum.example',
    country: 'CA',
    purpose: 'Comparing the wing bones of thrushes.',
    wanted: ['B-000001', 'any thrush wing'],
    ...changes,
  });
const make = async (by = registrar, label = 'Dr Marlow') => {
  const link = await makeLink(contextOf(by), { label, validDays: 30 });
  return { ...link, token: link.path.split('/').at(-1) ?? '' };
};
/** The skin of a bird that may go. */
async function makeSkin() {
  const { catalogueNumber, materials } = await makeCatalogued(db(), curator, box);
  const skin = materials.find(({ kind }) => kind === 'skin');
  return { id: skin?.id ?? '', birdId: skin?.birdId ?? '', label: `${catalogueNumber}-S` };
}
const loanOf = async (id: string) => {
  const link = (await listLinks(registrar, { size: 200 })).rows.find((row) => row.id === id);
  return showLoan(registrar, link?.loan?.id ?? '');
};
const post = (token: string, body: unknown, address: string) =>
  POST(
    new Request(`http://localhost/api/loan-request/${token}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'x-forwarded-for': address },
      body: JSON.stringify(body),
    }),
    { params: Promise.resolve({ token }) },
  );

describe('an outside borrower’s link', () => {
  it('is kept as a digest only: neither table, history nor list hold the address', async () => {
    const { token, id } = await make();
    const kept = await Promise.all([
      db().loanLink.findMany(),
      db().auditEvent.findMany({ where: { subjectId: id } }),
      db().idempotencyKey.findMany(),
      listLinks(registrar, { size: 200 }),
    ]);
    const text = JSON.stringify(kept, (_, value) => (typeof value === 'bigint' ? String(value) : value));
    expect(text).toContain(id);
    expect(text).not.toContain(token);
  });

  it('takes one request, which is a loan asked for with its origin shown', async () => {
    const { token, id } = await make();
    expect(await openLink(token)).toEqual({ institution: expect.any(String), state: null });
    expect(await askByLink(token, use())).toEqual({ state: 'asked' });
    const loan = await loanOf(id);
    expect(loan).toMatchObject({
      state: 'asked',
      kind: 'loan',
      purpose: 'Comparing the wing bones of thrushes.',
      lines: [],
      borrower: { contact: 'Dr Ines Marlow', institution: 'Museum of the Far Shore', country: 'CA' },
      origin: { link: 'Dr Marlow', wanted: ['B-000001', 'any thrush wing'] },
      abilities: { choose: true },
    });
    expect((await listLoans(registrar, { size: 50, state: 'asked' })).rows.map((row) => row.id)).toContain(
      loan.id,
    );
    const [event] = await db().auditEvent.findMany({ where: { subjectId: loan.id } });
    expect(event).toMatchObject({
      kind: 'loans.asked-by-link',
      actorId: null,
      actorName: 'An outside borrower',
    });
    expect(JSON.stringify(event?.payload)).not.toContain('ines@museum.example');
  });

  it('tells curators and registrars of its request, once and without a stranger’s words', async () => {
    // What other requests announced is told to those who were here.
    await doNotices();
    const { token, id } = await make(registrar, 'the far shore');
    const [clerk, preparator] = [
      await makeActor(db(), collectionId, 'curator'),
      await makeActor(db(), collectionId, 'preparator'),
    ];
    const request = use();
    await askByLink(token, request);
    await askByLink(token, request);
    await doNotices(2);
    const { number } = await loanOf(id);
    const sentence = `Loan ${number} was asked for from outside, through the link for the far shore. Choose its materials and decide.`;
    expect(await toldTo(clerk)).toEqual([{ kind: 'loans.asked-by-link', sentence }]);
    expect(await toldTo(registrar)).toContainEqual({ kind: 'loans.asked-by-link', sentence });
    expect(await toldTo(preparator)).toEqual([]);
  });

  it('answers a repeated delivery with the state, and refuses a second request', async () => {
    const { token, id } = await make();
    const request = use();
    await Promise.all([askByLink(token, request), askByLink(token, request), askByLink(token, request)]);
    expect(await askByLink(token, request)).toEqual({ state: 'asked' });
    const loan = await loanOf(id);
    expect(await db().loan.count({ where: { collectionId, link: { id } } })).toBe(1);
    await expect(askByLink(token, use())).rejects.toMatchObject({ code: 'conflict' });
    await expect(
      db().loanLink.update({ where: { id }, data: { loanId: null, sentAt: null, requestKey: null } }),
    ).rejects.toThrow('FURCULA');
    expect((await listBorrowers(registrar)).borrowers.find((one) => one.id === loan.borrower.id)?.loans).toBe(
      1,
    );
  });

  it('of many requests at one moment one is written; no number is lost and no borrower left over', async () => {
    const { token, id } = await make();
    const before = await db().borrower.count({ where: { collectionId } });
    const answers = await Promise.allSettled(Array.from({ length: 6 }, () => askByLink(token, use())));
    expect(answers.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
    expect(await db().borrower.count({ where: { collectionId } })).toBe(before + 1);
    expect((await loanOf(id)).state).toBe('asked');
    const loans = await db().loan.findMany({ where: { collectionId }, select: { number: true } });
    const running = loans.map(({ number }) => Number(/(\d+)$/.exec(number)?.[1])).sort((a, b) => a - b);
    expect(running).toEqual(running.map((_, index) => index + 1));
  });

  it('then shows the state of that request and nothing else', async () => {
    const { token, id } = await make();
    await askByLink(token, use({ wanted: ['SECRET-17'] }));
    const loan = await loanOf(id);
    const shown = await openLink(token);
    expect(shown).toEqual({ institution: expect.any(String), state: 'asked' });
    expect(Object.keys(shown).sort()).toEqual(['institution', 'state']);
    const taken = await takeIntoReview(contextOf(curator), loan.id, { version: loan.version });
    expect((await openLink(token)).state).toBe('in-review');
    await declineLoan(contextOf(curator), loan.id, {
      version: taken.version,
      note: 'Too fragile to travel.',
    });
    expect(JSON.stringify(await openLink(token))).not.toContain('fragile');
    expect((await openLink(token)).state).toBe('declined');
  });

  it('says the same of numbers that are there and numbers that are not', async () => {
    const lendable = await makeSkin();
    const [known, unknown] = [await make(), await make()];
    const ask = async (token: string, wanted: string, address: string) => {
      const answer = await post(token, use({ wanted: [wanted] }), address);
      return [answer.status, await answer.text()];
    };
    expect(await ask(known.token, lendable.label, '203.0.113.11')).toEqual(
      await ask(unknown.token, 'B-999999-S', '203.0.113.12'),
    );
  });

  it('opens nothing once it is ended, over, unknown, or used with odd input', async () => {
    const gone = { code: 'not-found' };
    const ended = await make();
    await endLink(contextOf(curator), ended.id);
    await expect(endLink(contextOf(curator), ended.id)).rejects.toMatchObject({ code: 'conflict' });
    const over = await make();
    await db().$executeRaw`UPDATE "LoanLink" SET "createdAt" = now() - interval '9 days',
      "expiresAt" = now() - interval '1 day' WHERE id = ${over.id}::uuid`;
    const sent = await make();
    await askByLink(sent.token, use());
    await endLink(contextOf(registrar), sent.id);
    for (const { token } of [ended, over, sent, { token: 'unknown' }]) {
      await expect(openLink(token)).rejects.toMatchObject(gone);
      await expect(askByLink(token, use())).rejects.toMatchObject(gone);
    }
    const { token } = await make();
    const answer = await post(token, { wanted: [] }, '203.0.113.13');
    expect(answer.status).toBe(422);
    expect(await db().loan.count({ where: { link: { tokenDigest: token } } })).toBe(0);
    const rows = (await listLinks(registrar, { size: 200 })).rows;
    const stateOf = (id: string) => rows.find((row) => row.id === id)?.state;
    expect([ended.id, over.id, sent.id].map(stateOf)).toEqual(['ended', 'expired', 'ended']);
  });

  it('takes only so much from one address', async () => {
    const statuses: number[] = [];
    for (let at = 0; at < 22; at += 1) statuses.push((await post('guess', use(), '203.0.113.14')).status);
    expect(statuses.slice(0, 20)).toEqual(Array(20).fill(404));
    expect(statuses.slice(20)).toEqual([429, 429]);
  });

  it('is made by curators and registrars of the own collection', async () => {
    for (const role of ['volunteer', 'preparator', 'permit-officer', 'administrator', 'visitor'] as const) {
      const actor = await makeActor(db(), collectionId, role);
      await expect(make(actor), role).rejects.toMatchObject({ code: 'forbidden' });
    }
    const { id } = await make();
    const stranger = await makeActor(db(), await makeCollection(db()), 'registrar');
    await expect(endLink(contextOf(stranger), id)).rejects.toMatchObject({ code: 'not-found' });
    expect((await listLinks(stranger, { size: 50 })).rows).toEqual([]);
  });
});

describe('what was asked for from outside', () => {
  it('gets its materials from staff before it is granted, and whoever made the link does not decide', async () => {
    const other = await makeActor(db(), collectionId, 'curator');
    const { token, id } = await make(curator);
    await askByLink(token, use());
    const asked = await loanOf(id);
    const inReview = await takeIntoReview(contextOf(other), asked.id, { version: asked.version });
    await expect(grantLoan(contextOf(other), asked.id, { version: inReview.version })).rejects.toMatchObject({
      code: 'conflict',
      message: expect.stringContaining('No material is chosen'),
    });
    const free = await makeSkin();
    const missing = await db().material.findFirstOrThrow({ where: { birdId: free.birdId, kind: 'wing' } });
    await db().placement.deleteMany({ where: { materialId: missing.id } });
    await db().material.update({ where: { id: missing.id }, data: { custody: 'missing' } });
    const choose = (version: number, ...materialIds: string[]) =>
      chooseMaterials(contextOf(registrar), asked.id, { version, materialIds });
    await expect(choose(inReview.version, free.id, missing.id)).rejects.toMatchObject({
      code: 'not-valid',
    });
    expect((await showLoan(registrar, asked.id)).lines).toEqual([]);
    const chosen = await choose(inReview.version, free.id);
    expect(chosen.lines.map(({ materialId }) => materialId)).toEqual([free.id]);
    await expect(choose(inReview.version, free.id)).rejects.toMatchObject({ code: 'stale-version' });
    await expect(grantLoan(contextOf(curator), asked.id, { version: chosen.version })).rejects.toMatchObject({
      code: 'forbidden',
    });
    const granted = await grantLoan(contextOf(other), asked.id, { version: chosen.version });
    expect(granted).toMatchObject({ state: 'granted', abilities: { choose: false } });
    await expect(choose(granted.version, free.id)).rejects.toMatchObject({ code: 'conflict' });
  });
});
