import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import type { Prisma } from '@/lib/platform/generated/prisma/client';
import { countBox, showSkeleton } from '@/lib/skeletons/box';
import { advanceSkeletons, chooseProcedure } from '@/lib/skeletons/service';
import { advanceSkins } from '@/lib/skins/service';
import { contextOf, type Stage } from './foundation';
import type { Act } from './play';

/** A batch of the scenario: what lies waiting at its begin goes on together as far as the batch goes. */
type Batch = { beginsOn: string; atMost: number; until: string };

const DAY_MS = 86_400_000;
const ALL = 100;

const SKIN_BATCHES: readonly Batch[] = [
  { beginsOn: '2024-08-01', atMost: ALL, until: 'shelved' },
  { beginsOn: '2025-08-01', atMost: ALL, until: 'shelved' },
  { beginsOn: '2026-07-20', atMost: 5, until: 'shelved' },
  { beginsOn: '2026-10-26', atMost: 3, until: 'pest-freeze' },
  { beginsOn: '2026-10-29', atMost: 3, until: 'dry' },
  { beginsOn: '2026-11-16', atMost: 3, until: 'drying' },
];

/** The day of a batch on which its skins go on, and where they lie then. */
const SKIN_STEPS = [
  { to: 'drying', day: 0, place: 'board' },
  { to: 'dry', day: 23, place: 'board' },
  { to: 'pest-freeze', day: 24, place: 'freezer2' },
  { to: 'shelved', day: 38, place: 'drawer1' },
] as const;

const SKELETON_BATCHES: readonly Batch[] = [
  { beginsOn: '2024-08-05', atMost: ALL, until: 'shelf' },
  { beginsOn: '2025-03-03', atMost: ALL, until: 'shelf' },
  { beginsOn: '2025-08-04', atMost: ALL, until: 'shelf' },
  { beginsOn: '2026-03-02', atMost: 8, until: 'shelf' },
  { beginsOn: '2026-10-05', atMost: 4, until: 'number' },
  { beginsOn: '2026-10-12', atMost: 4, until: 'pest-freeze' },
  { beginsOn: '2026-10-19', atMost: 4, until: 'dry' },
  { beginsOn: '2026-11-10', atMost: 4, until: 'beetles' },
];

/** The steps after fleshing by beetles, with the day of the batch on which they begin and where the bones lie then. */
const SKELETON_STEPS = [
  { to: 'pre-dry', day: 1, place: 'board' },
  { to: 'beetles', day: 3, place: 'colony' },
  { to: 'colony-freeze', day: 14, place: 'freezer2' },
  { to: 'degrease', day: 17, place: null },
  { to: 'rinse', day: 30, place: null },
  { to: 'dry', day: 32, place: 'board' },
  { to: 'pest-freeze', day: 40, place: 'freezer2' },
  { to: 'number', day: 48, place: null },
  { to: 'shelf', day: 50, place: 'boneShelf' },
] as const;

/** How skins and skeletons go on after the bench, batch by batch. */
export function shelfActs(stage: Stage, by: Actor): Act[] {
  return [
    ...SKIN_BATCHES.flatMap((batch) => playSkins(stage, by, batch)),
    ...SKELETON_BATCHES.flatMap((batch) => playSkeletons(stage, by, batch)),
  ];
}

const dayOfBatch = ({ beginsOn }: Batch, day: number): string =>
  new Date(Date.parse(`${beginsOn}T14:00:00Z`) + day * DAY_MS).toISOString();

/** The steps of a batch up to the last it comes to. */
const stepsOf = <T extends { to: string }>(steps: readonly T[], { until }: Batch): T[] =>
  steps.slice(0, steps.findIndex(({ to }) => to === until) + 1);

function playSkins(stage: Stage, by: Actor, batch: Batch): Act[] {
  let ids: string[] = [];
  return stepsOf(SKIN_STEPS, batch).map(({ to, day, place }) => ({
    at: dayOfBatch(batch, day),
    run: async () => {
      if (day === 0)
        ids = await findWaiting(by, { kind: { in: ['skin', 'wing'] }, state: 'pinned' }, batch.atMost);
      if (ids.length === 0) return;
      await advanceSkins(contextOf(by), {
        to,
        chosen: await chosenOf(ids),
        temperatureC: to === 'pest-freeze' ? -20 : null,
        place: { unitId: stage.units[place] ?? '', position: null },
      });
    },
  }));
}

function playSkeletons(stage: Stage, by: Actor, batch: Batch): Act[] {
  let ids: string[] = [];
  const begin = async () => {
    ids = await findWaiting(by, { kind: 'skeleton', state: 'rough-cleaned' }, batch.atMost);
    if (ids.length === 0) return;
    await chooseProcedure(contextOf(by), { chosen: await chosenOf(ids), procedureId: 'beetles' });
  };
  const steps = stepsOf(SKELETON_STEPS, batch).map(({ to, day, place }) => ({
    at: dayOfBatch(batch, day),
    run: async () => {
      if (ids.length === 0) return;
      await advanceSkeletons(contextOf(by), {
        to,
        chosen: await chosenOf(ids),
        temperatureC: to === 'pest-freeze' ? -20 : null,
        place: place === null ? null : { unitId: stage.units[place] ?? '', position: null },
      });
      if (to === 'number') await countBoxes(by, ids, batch);
    },
  }));
  return [{ at: dayOfBatch(batch, 0), run: begin }, ...steps];
}

/** Materials that nobody has begun to move on, oldest first. */
async function findWaiting(
  by: Actor,
  what: Pick<Prisma.MaterialWhereInput, 'kind' | 'state'>,
  atMost: number,
): Promise<string[]> {
  const waiting = await db().material.findMany({
    where: { collectionId: by.collectionId, ...what, custody: 'on-shelf', steps: { none: {} } },
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
    take: atMost,
  });
  return waiting.map(({ id }) => id);
}

async function chosenOf(ids: readonly string[]) {
  const open = await db().processStep.findMany({ where: { materialId: { in: [...ids] }, endedAt: null } });
  return ids.map((materialId) => ({
    materialId,
    stepId: open.find((step) => step.materialId === materialId)?.id ?? null,
  }));
}

/** Counts the boxes as the bone books say; in a batch that is not yet shelved the first box is a bone short. */
async function countBoxes(by: Actor, ids: readonly string[], { until }: Batch): Promise<void> {
  for (const [index, id] of ids.entries()) {
    const { version, box } = await showSkeleton(by, id);
    const isShort = until !== 'shelf' && index === 0;
    const short = isShort ? box.findIndex(({ expected }) => expected.min > 0) : -1;
    const lines = box.map(({ element, side, expected }, at) => ({
      element,
      side,
      count: at === short ? expected.min - 1 : expected.min,
    }));
    await countBox(contextOf(by), id, { version, lines, note: null });
  }
}
