import { beforeAll, beforeEach } from 'vitest';
import type { BackTo, SettleRequest } from '@/lib/loans/schema';
import { grantLoan, packLoan, sendLoan, takeIntoReview } from '@/lib/loans/service/acts';
import { askLoan } from '@/lib/loans/service/ask';
import { settleLoan } from '@/lib/loans/service/settle';
import type { LoanRecord } from '@/lib/loans/wire';
import type { Actor } from '@/lib/platform/actor';
import { dayIn } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeCollection } from '@/seed/factories';
import { makeBorrower, makeBox } from '@/seed/factories/loans';

export let collectionId: string;
export let curator: Actor;
export let registrar: Actor;
export let borrowerId: string;
export let box: { id: string; path: string };

export const today = dayIn('UTC', new Date());
export const dayFromNow = (days: number) => dayIn('UTC', new Date(Date.now() + days * 86_400_000));

/** A lab with a curator, a registrar, a borrower, and a new box before each test. */
export function openLoanLab(): void {
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
}

export const ask = (
  materialIds: string[],
  kind: 'loan' | 'grant' = 'loan',
  by = registrar,
  borrower = borrowerId,
) =>
  askLoan(contextOf(by), {
    kind,
    borrowerId: borrower,
    purpose: 'Comparative study of wing shape.',
    materialIds,
  });

/** From the request to the packed box. */
export async function pack(loan: LoanRecord): Promise<LoanRecord> {
  const inReview = await takeIntoReview(contextOf(curator), loan.id, { version: loan.version });
  const granted = await grantLoan(contextOf(curator), loan.id, { version: inReview.version });
  return packLoan(contextOf(registrar), loan.id, {
    version: granted.version,
    lines: granted.lines.map(({ id }) => ({ lineId: id, conditionOut: 'Good' })),
  });
}

export const send = async (loan: LoanRecord) => {
  const packed = await pack(loan);
  return sendLoan(contextOf(registrar), loan.id, {
    version: packed.version,
    on: today,
    dueOn: dayFromNow(90),
  });
};

export const settle = (
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

export const materialOf = (id: string | undefined) =>
  db().material.findUniqueOrThrow({
    where: { id },
    include: { placement: true, vial: { include: { uses: true } } },
  });
