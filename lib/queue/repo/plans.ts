import 'server-only';
import type { Tx } from '@/lib/platform/db';
import { db } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';
import { findBirdsWhere, type QueueBird } from './birds';

export type PlanRow = Prisma.DayPlanGetPayload<Record<string, never>>;
type PlanData = Prisma.DayPlanUpdateManyMutationInput;

/** One more plan than the page holds; the latest day first. */
export const findPlans = (
  collectionId: string,
  page: { size: number; before?: { planOn: Date; id: string } },
): Promise<PlanRow[]> =>
  db().dayPlan.findMany({
    where: {
      collectionId,
      ...(page.before === undefined
        ? {}
        : {
            OR: [
              { planOn: { lt: page.before.planOn } },
              { planOn: page.before.planOn, id: { lt: page.before.id } },
            ],
          }),
    },
    orderBy: [{ planOn: 'desc' }, { id: 'desc' }],
    take: page.size + 1,
  });

export const findPlan = (tx: Tx, collectionId: string, id: string): Promise<PlanRow | null> =>
  tx.dayPlan.findFirst({ where: { id, collectionId } });

export const createPlan = (
  tx: Tx,
  data: { collectionId: string; planOn: Date; input: Prisma.InputJsonValue; createdById: string },
): Promise<PlanRow> => tx.dayPlan.create({ data });

/** Changes a plan that is still in one of these states (and of this version, when given); 0 when it is not. */
export async function updatePlan(
  tx: Tx,
  where: { id: string; states: readonly string[]; version?: number },
  data: PlanData,
): Promise<number> {
  const { count } = await tx.dayPlan.updateMany({
    where: { id: where.id, state: { in: [...where.states] }, version: where.version },
    data: { ...data, version: { increment: 1 } },
  });
  return count;
}

/** The plan that is in force on a day. */
export const findPlanInForce = (tx: Tx, collectionId: string, planOn: Date): Promise<PlanRow | null> =>
  tx.dayPlan.findFirst({ where: { collectionId, planOn, state: 'in-force' } });

/** Birds a plan of these people may use: what is queued, and what these people have taken and not begun. */
export const findPlannable = (
  tx: Tx,
  collectionId: string,
  personIds: readonly string[],
): Promise<QueueBird[]> =>
  findBirdsWhere(
    tx,
    {
      collectionId,
      styleId: { not: null },
      OR: [
        { state: 'queued' },
        { state: { in: ['claimed', 'thawing'] }, claimedById: { in: [...personIds] } },
      ],
    },
    5000,
  );
