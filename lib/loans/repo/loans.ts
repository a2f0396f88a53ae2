import 'server-only';
import { z } from 'zod';
import { db, type Tx } from '@/lib/platform/db';
import { Prisma } from '@/lib/platform/generated/prisma/client';
import { cursorWhole, readCursor } from '@/lib/platform/paging';
import type { LoanListQuery } from '../wire';

const { sql, join, empty } = Prisma;

const withLines = {
  borrower: true,
  link: { select: { label: true, sentAt: true, wanted: true } },
  lines: {
    include: {
      material: {
        include: {
          vial: true,
          placement: { include: { unit: true } },
          bird: {
            include: {
              taxon: true,
              catalogue: { select: { number: true } },
              salvage: { include: { holds: { where: { liftedAt: null } } } },
            },
          },
          loanLines: { where: { outcome: null }, include: { loan: true } },
        },
      },
    },
  },
} satisfies Prisma.LoanInclude;

/** A loan with its borrower and lines. */
export type FoundLoan = Prisma.LoanGetPayload<{ include: typeof withLines }>;
export type FoundLine = FoundLoan['lines'][number];

export const findLoan = (tx: Tx, collectionId: string, id: string): Promise<FoundLoan | null> =>
  tx.loan.findFirst({ where: { id, collectionId }, include: withLines });

/** Holds a loan until the transaction ends, so that two acts on it come one after the other. */
export async function lockLoan(tx: Tx, collectionId: string, id: string): Promise<void> {
  await tx.$queryRaw`SELECT id FROM "Loan" WHERE id = ${id}::uuid AND "collectionId" = ${collectionId}::uuid FOR UPDATE`;
}

export type ListedLoan = {
  id: string;
  number: string;
  kind: string;
  state: string;
  institution: string;
  contact: string;
  askedOn: Date;
  dueOn: Date | null;
  rank: number;
  place: number;
  materials: number;
  sent: number;
  returned: number;
  consumed: number;
  lost: number;
};

/** States in which something may be out. */
const OUT = ['sent', 'received', 'partly-back'];

/** One more loan than the page holds: the longest overdue first, then what is open, then what is over. */
export function findLoans(
  collectionId: string,
  { q, state, borrowerId, after, size }: LoanListQuery,
  today: string,
): Promise<ListedLoan[]> {
  const last =
    after === undefined ? undefined : readCursor(after, z.tuple([cursorWhole, cursorWhole, z.uuid()]));
  const isOverdue = sql`(l.state = ANY(${OUT}) AND l."dueOn" < ${today}::date)`;
  const like = `%${(q ?? '').toLowerCase().replace(/[\\%_]/g, '\\$&')}%`;
  const conditions = [
    sql`l."collectionId" = ${collectionId}::uuid`,
    ...(q === undefined
      ? []
      : [sql`lower(l.number || ' ' || b.institution || ' ' || b.contact) LIKE ${like}`]),
    ...(borrowerId === undefined ? [] : [sql`l."borrowerId" = ${borrowerId}::uuid`]),
    ...(state === undefined
      ? []
      : [
          state === 'open'
            ? sql`l.state NOT IN ('closed', 'declined')`
            : state === 'overdue'
              ? isOverdue
              : sql`l.state = ${state}`,
        ]),
  ];
  return db().$queryRaw<ListedLoan[]>`
    SELECT * FROM (
      SELECT l.id, l.number, l.kind, l.state, b.institution, b.contact, l."askedOn", l."dueOn",
        CASE WHEN ${isOverdue} THEN 0 WHEN l.state NOT IN ('closed', 'declined') THEN 1 ELSE 2 END AS rank,
        CASE WHEN ${isOverdue} THEN l."dueOn" - DATE '2000-01-01' ELSE DATE '2000-01-01' - l."askedOn" END AS place,
        n.*
      FROM "Loan" l JOIN "Borrower" b ON b.id = l."borrowerId"
      CROSS JOIN LATERAL (
        SELECT count(*)::int AS materials, count("sentAt")::int AS sent,
          count(*) FILTER (WHERE outcome = 'returned')::int AS returned,
          count(*) FILTER (WHERE outcome = 'consumed')::int AS consumed,
          count(*) FILTER (WHERE outcome = 'lost')::int AS lost
        FROM "LoanLine" WHERE "loanId" = l.id) n
      WHERE ${join(conditions, ' AND ')}) found
    ${last === undefined ? empty : sql`WHERE (rank, place, id) > (${last[0]}::int, ${last[1]}::int, ${last[2]}::uuid)`}
    ORDER BY rank, place, id LIMIT ${size + 1}`;
}

export const insertLoan = (
  tx: Tx,
  data: {
    collectionId: string;
    number: string;
    kind: string;
    borrowerId: string;
    purpose: string;
    askedOn: Date;
    dueOn: Date | null;
    askedById: string;
    materialIds: readonly string[];
  },
) => {
  const { materialIds, ...rest } = data;
  return tx.loan.create({
    data: { ...rest, lines: { create: materialIds.map((materialId) => ({ materialId })) } },
  });
};

/** Gives a request other materials than it had. */
export async function replaceLines(tx: Tx, loanId: string, materialIds: readonly string[]): Promise<void> {
  await tx.loanLine.deleteMany({ where: { loanId } });
  await tx.loanLine.createMany({ data: materialIds.map((materialId) => ({ loanId, materialId })) });
}

export type LoanPatch = Prisma.LoanUncheckedUpdateManyInput;

/** Changes a loan if it is still as the caller saw it; 0 when it is not. */
export async function updateLoan(
  tx: Tx,
  where: { id: string; version: number; state: string },
  data: LoanPatch,
): Promise<number> {
  const { count } = await tx.loan.updateMany({ where, data: { ...data, version: { increment: 1 } } });
  return count;
}

export const updateLine = (
  tx: Tx,
  id: string,
  data: {
    conditionOut?: string;
    conditionIn?: string | null;
    sentAt?: Date;
    shelfUnitId?: string | null;
    shelfPosition?: string | null;
    outcome?: string;
    outcomeAt?: Date;
    outcomeNote?: string | null;
  },
) => tx.loanLine.update({ where: { id }, data });

export const findCollection = (tx: Tx, id: string) => tx.collection.findUniqueOrThrow({ where: { id } });
