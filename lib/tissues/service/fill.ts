import 'server-only';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { dayOf, now } from '@/lib/platform/clock';
import { db, type Tx } from '@/lib/platform/db';
import { conflict, notFound, notValid } from '@/lib/platform/errors';
import { may } from '@/lib/platform/permissions';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { assignSuffixes } from '@/lib/queue/public';
import { type MaterialKind, suffixLettersSchema } from '@/lib/queue/schema';
import {
  createMaterial,
  findCodeOwner,
  loadUnits,
  moveMaterial,
  rateVial,
  resolveConditions,
} from '@/lib/storage/public';
import { tissueEvents } from '../events';
import {
  type BirdRow,
  findBird,
  findCollection,
  findVialsOfBird,
  insertVial,
  lockBird,
  type VialMaterial,
} from '../repo/vials';
import { ownersOf, timeColumns, toRow } from '../rows';
import { checkDuplicatesApart, endOfDay, fillObstacle, formatAmount } from '../rules';
import type { TissueTimes } from '../schema';
import type { BirdVials, FillRequest } from '../wire';

/** Vials of a bird at the bench: what there is, and what a new one would take over. @throws AppError not-found */
export async function showBirdVials(actor: Actor, birdId: string): Promise<BirdVials> {
  authorise(actor, 'tissues.see');
  return describeBird(db(), actor, birdId);
}

/**
 * Fills vials of a bird: each becomes a material of its own with the next suffix, its class worked out and kept with
 * the reason. All of them or none.
 * @throws AppError not-valid for a code in use or a place that would not keep it; conflict for a place that is taken
 */
export async function fillVials(context: CommandContext, request: FillRequest): Promise<BirdVials> {
  const { actor } = context;
  authorise(actor, 'tissues.fill');
  return withTx(context, async (work) => {
    const bird = await lockBird(work.db, actor.collectionId, request.birdId);
    if (bird === null) throw notFound(say('This bird'));
    authorise(actor, 'tissues.fill', { ownerIds: ownersOf({ bird }) });
    const obstacle = fillObstacle(bird.state);
    if (obstacle !== null) throw conflict(`${bird.number} ${obstacle}`);
    const at = work.now.toISOString();
    const { timeZone } = await findCollection(work.db, actor.collectionId);
    const times = request.times ?? {
      ...timesOfBird(bird, timeZone, work.now),
      sampledAt: at,
      preservedAt: at,
    };
    const suffixes = nextSuffixes(bird, request.vials.length);
    const carcass = bird.materials.find((material) => material.kind === 'carcass');
    for (const [index, wanted] of request.vials.entries()) {
      const suffix = suffixes[index] ?? '';
      await fillOne(work, {
        birdId: bird.id,
        parentId: carcass?.id ?? null,
        suffix,
        wanted,
        origin: request.origin,
        times,
        path: `vials.${index}`,
      });
    }
    return describeBird(work.db, actor, bird.id);
  });
}

type Wanted = FillRequest['vials'][number];

/** Makes one vial and puts it into its place. Shared with sub-samples. @returns the new material's id and label */
export async function fillOne(
  work: Work,
  input: {
    birdId: string;
    parentId: string | null;
    suffix: string;
    wanted: Wanted;
    origin: FillRequest['origin'];
    times: TissueTimes;
    thawCount?: number;
    dnaYieldUg?: number | null;
    path: string;
  },
): Promise<{ id: string; label: string }> {
  const { birdId, parentId, suffix, wanted, origin, times } = input;
  if (wanted.code) {
    const owner = await findCodeOwner(work.db, work.actor, wanted.code);
    if (owner !== null) {
      throw notValid(say('Nothing was filled in.'), [
        {
          path: `${input.path}.code`,
          message: say('The code {code} is already that of {owner}.', { code: wanted.code, owner }),
        },
      ]);
    }
  }
  const made = await createMaterial(work, { birdId, parentId, kind: 'vial', suffix, state: 'filled' });
  const facts = {
    origin,
    preservation: wanted.preservation.kind,
    storedAtC: wanted.preservation.temperatureC,
    dnaYieldUg: input.dnaYieldUg ?? null,
  };
  const quality = rateVial(facts);
  await insertVial(work.db, {
    ...facts,
    ...timeColumns(times),
    materialId: made.id,
    collectionId: work.actor.collectionId,
    code: wanted.code ?? made.label,
    tissues: wanted.tissues,
    ethanolPercent: wanted.preservation.ethanolPercent,
    container: wanted.container.kind,
    containerMl: wanted.container.volumeMl,
    amount: wanted.amount?.value ?? null,
    amountLeft: wanted.amount?.value ?? null,
    amountUnit: wanted.amount?.unit ?? 'mg',
    thawCount: input.thawCount ?? 0,
    qualityClass: quality.stars,
    qualityReason: quality.reason,
    remarks: wanted.remarks ?? null,
    filledById: personOf(work.actor),
    filledAt: work.now,
  });
  if (wanted.position)
    await moveMaterial(work, { materialId: made.id, to: wanted.position, reason: 'filled' });
  work.audit(
    tissueEvents.make(
      'tissues.filled',
      { subjectType: 'material', subjectId: made.id, birdId },
      {
        vial: made.label,
        tissues: wanted.tissues,
        preservation: wanted.preservation.kind,
        amount: wanted.amount === null ? null : formatAmount(wanted.amount),
        quality: quality.reason,
      },
    ),
  );
  return made;
}

/** T1, T2… after every suffix that the bird's materials ever had. */
function nextSuffixes(bird: BirdRow, count: number): string[] {
  const made = bird.materials.map(({ id, kind, suffix }) => ({ id, kind: kind as MaterialKind, suffix }));
  const fresh = Array.from({ length: count }, (_, index) => ({
    id: `new ${index}`,
    kind: 'vial' as const,
    suffix: null,
  }));
  const suffixes = assignSuffixes([...made, ...fresh], suffixLettersSchema.parse(undefined));
  return fresh.map(({ id }) => suffixes.get(id) ?? '');
}

/** What is known of the bird's times: it was dead when it was found, and when it was frozen. */
function timesOfBird(bird: BirdRow, timeZone: string, now: Date): TissueTimes {
  const later = [endOfDay(dayOf(bird.salvage.foundTo), timeZone), now, bird.frozenAt, bird.thawStartedAt];
  const deadBy = Math.min(...later.flatMap((at) => at?.getTime() ?? []));
  return {
    diedFromAt: null,
    diedUntilAt: new Date(deadBy).toISOString(),
    frozenAt: bird.frozenAt?.toISOString() ?? null,
    outOfFreezerAt: bird.thawStartedAt?.toISOString() ?? null,
    sampledAt: null,
    preservedAt: null,
  };
}

async function describeBird(tx: Tx, actor: Actor, birdId: string): Promise<BirdVials> {
  const bird = await findBird(tx, actor.collectionId, birdId);
  if (bird === null) throw notFound(say('This bird'));
  const vials = await findVialsOfBird(tx, birdId);
  const { timeZone } = await findCollection(tx, actor.collectionId);
  const mayFill = may(actor, 'tissues.fill', { ownerIds: ownersOf({ bird }) });
  const obstacle = fillObstacle(bird.state);
  return {
    birdId,
    number: bird.number,
    scientificName: bird.taxon?.scientificName ?? say('not yet identified'),
    times: timesOfBird(bird, timeZone, now()),
    vials: vials.map(toRow),
    duplicates: await judgeApart(tx, actor, vials),
    nextSuffix: nextSuffixes(bird, 1)[0] ?? '',
    abilities: { fill: mayFill && obstacle === null, obstacle },
  };
}

/** Whether vials of one bird lie in different freezers. */
export async function judgeApart(tx: Tx, actor: Actor, vials: readonly VialMaterial[]) {
  const placed = vials.filter((vial) => vial.placement !== null);
  if (placed.length === 0) return checkDuplicatesApart([]);
  const tree = await loadUnits(tx, actor.collectionId);
  return checkDuplicatesApart(
    placed.map(({ placement }) =>
      placement === null ? null : resolveConditions(tree, placement.unitId).freezerId,
    ),
  );
}
