import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { REVIEW_TRANSITIONS } from '@/lib/catalogue/rules';
import { REVIEW_STATES } from '@/lib/catalogue/schema';
import { LOAN_TRANSITIONS } from '@/lib/loans/rules';
import { LOAN_STATES } from '@/lib/loans/schema';
import { db } from '@/lib/platform/db';
import { makeActor, makeCollection } from '@/seed/factories';
import { makeInReview } from '@/seed/factories/catalogue';
import { makeBorrower } from '@/seed/factories/loans';

/** The tables in code against what the database lets anybody write, service or not. */
let collectionId: string;
let borrowerId: string;
let birdRecordId: string;
const allowed = (table: Record<string, Partial<Record<string, string>>>) =>
  new Set(
    Object.values(table).flatMap((steps) => Object.entries(steps).map(([from, to]) => `${from} → ${to}`)),
  );
const LOAN_STEPS = allowed(LOAN_TRANSITIONS);
const REVIEW_STEPS = allowed(REVIEW_TRANSITIONS);

beforeAll(async () => {
  collectionId = await makeCollection(db());
  borrowerId = await makeBorrower(db(), collectionId);
  const preparator = await makeActor(db(), collectionId, 'preparator');
  birdRecordId = (await makeInReview(db(), preparator, {})).record.id;
});

let running = 0;
function makeLoan(state: string) {
  running += 1;
  return db().loan.create({
    data: {
      collectionId,
      borrowerId,
      number: `STEP-${running}`,
      state,
      purpose: 'Steps',
      askedOn: new Date('2026-01-02'),
    },
  });
}
const goes = async (write: Promise<unknown>): Promise<boolean> => {
  try {
    await write;
    return true;
  } catch (error) {
    expect(String(error)).toMatch(/FURCULA|does not go|locked/);
    return false;
  }
};

describe('the database and the tables agree', () => {
  it('on every pair of states of a loan', async () => {
    for (const from of LOAN_STATES) {
      for (const to of LOAN_STATES.filter((state) => state !== from)) {
        const { id } = await makeLoan(from);
        const went = await goes(db().loan.update({ where: { id }, data: { state: to } }));
        expect(went, `${from} → ${to}`).toBe(LOAN_STEPS.has(`${from} → ${to}`));
      }
    }
  });

  it('on every pair of states of a bench record', async () => {
    const preparator = await makeActor(db(), collectionId, 'preparator');
    for (const from of REVIEW_STATES) {
      const { record } = await makeInReview(db(), preparator, { state: from });
      for (const to of REVIEW_STATES.filter((state) => state !== from)) {
        const undone = new Error('undone');
        let went = false;
        await db()
          .$transaction(async (tx) => {
            await tx.benchRecord.update({ where: { id: record.id }, data: { state: to } });
            went = true;
            throw undone;
          })
          .catch((error) => error === undone || expect(String(error)).toMatch(/FURCULA/));
        expect(went, `${from} → ${to}`).toBe(REVIEW_STEPS.has(`${from} → ${to}`));
      }
    }
  });

  it('on random walks of a loan: it stands where the table says, whatever is tried', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.constantFrom(...LOAN_STATES), { minLength: 3, maxLength: 15 }),
        async (walk) => {
          const { id } = await makeLoan('asked');
          let stands = 'asked';
          for (const to of walk) {
            if (to === stands) continue;
            const may = LOAN_STEPS.has(`${stands} → ${to}`);
            expect(await goes(db().loan.update({ where: { id }, data: { state: to } }))).toBe(may);
            if (may) stands = to;
          }
          expect((await db().loan.findUniqueOrThrow({ where: { id } })).state).toBe(stands);
        },
      ),
      { numRuns: 20 },
    );
  });

  it('no state that the tables do not know', async () => {
    await expect(makeLoan('forgotten')).rejects.toThrow();
    await expect(
      db().benchRecord.update({ where: { id: birdRecordId }, data: { state: 'forgotten' } }),
    ).rejects.toThrow();
  });

  it('a loan does not close while something of it is out', async () => {
    const preparator = await makeActor(db(), collectionId, 'preparator');
    const { materials } = await makeInReview(db(), preparator, {});
    const loan = await makeLoan('sent');
    const { id: lineId } = await db().loanLine.create({
      data: { loanId: loan.id, materialId: materials[0]?.id ?? '', sentAt: new Date('2026-01-03') },
    });
    const close = () => db().loan.update({ where: { id: loan.id }, data: { state: 'closed' } });
    await expect(close()).rejects.toThrow(/nothing of it is out/);
    await db().loanLine.update({ where: { id: lineId }, data: { outcome: 'lost' } });
    expect((await close()).state).toBe('closed');
  });
});
