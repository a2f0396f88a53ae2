import 'server-only';
import { authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { conflict, notFound, notValid, staleVersion } from '@/lib/platform/errors';
import { differences } from '@/lib/platform/events';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import {
  advanceMaterial,
  labelOf,
  markFound,
  markMissing,
  moveMaterial,
  rateVial,
} from '@/lib/storage/public';
import { tissueEvents } from '../events';
import { insertUse, lockVial, raiseVersion, updateVial, type VialMaterial } from '../repo/vials';
import { amountOf, ownersOf, timeColumns, timesOf, vialOf } from '../rows';
import { canBecome, formatAmount } from '../rules';
import type { VialState } from '../schema';
import type { ChangeVialRequest, EndRequest, FindRequest, VialRecord } from '../wire';
import { describeVial } from './list';
import { emptyVial } from './use';

/** Corrects what is recorded of a vial, with the reason; an amount is measured once. @throws AppError stale-version */
export async function changeVial(
  context: CommandContext,
  id: string,
  { version, reason, ...wanted }: ChangeVialRequest,
): Promise<VialRecord> {
  const { actor } = context;
  authorise(actor, 'tissues.fill');
  return withTx(context, async (work) => {
    const material = await load(work, id);
    authorise(actor, 'tissues.fill', { ownerIds: ownersOf(material) });
    if ((await raiseVersion(work.db, id, version)) === 0) {
      throw staleVersion(labelOf(material), await describeVial(work.db, actor, id));
    }
    const vial = vialOf(material);
    if (wanted.amount !== undefined && vial.amount !== null) {
      throw notValid(say('Its amount was measured when it was filled; take from it instead.'), [
        { path: 'amount', message: say('Measured already.') },
      ]);
    }
    const after = {
      ...vial,
      origin: wanted.origin ?? vial.origin,
      dnaYieldUg: wanted.dnaYieldUg === undefined ? vial.dnaYieldUg : wanted.dnaYieldUg,
    };
    const quality = rateVial(after);
    await updateVial(work.db, id, {
      origin: after.origin,
      dnaYieldUg: after.dnaYieldUg,
      qualityClass: quality.stars,
      qualityReason: quality.reason,
      ...(wanted.amount && {
        amount: wanted.amount.value,
        amountLeft: wanted.amount.value,
        amountUnit: wanted.amount.unit,
      }),
      ...(wanted.container && { container: wanted.container.kind, containerMl: wanted.container.volumeMl }),
      ...(wanted.remarks !== undefined && { remarks: wanted.remarks }),
      ...(wanted.times && timeColumns(wanted.times)),
    });
    const before = {
      amount: amountOf(vial.amount, vial.amountUnit),
      dnaYieldUg: vial.dnaYieldUg,
      origin: vial.origin as VialRecord['origin'],
      container: { kind: vial.container as VialRecord['container']['kind'], volumeMl: vial.containerMl },
      remarks: vial.remarks,
      times: timesOf(vial),
    };
    work.audit(
      tissueEvents.make(
        'tissues.changed',
        { subjectType: 'material', subjectId: id, birdId: material.birdId, reason },
        { vial: labelOf(material), changes: differences(before, wanted) },
      ),
    );
    return describeVial(work.db, actor, id);
  });
}

/** Records that a vial is lost, or that nothing is left in it. */
export async function endVial(
  context: CommandContext,
  id: string,
  { act, reason }: EndRequest,
): Promise<VialRecord> {
  const { actor } = context;
  authorise(actor, 'tissues.use');
  return withTx(context, async (work) => {
    const material = await load(work, id);
    const label = labelOf(material);
    const to: VialState = act === 'lose' ? 'lost' : 'used-up';
    if (!canBecome(material.state as VialState, to)) {
      throw conflict(
        say('{label} is {replace} and cannot be recorded as {replace2}.', {
          label,
          replace: material.state?.replace('-', ' '),
          replace2: to.replace('-', ' '),
        }),
      );
    }
    const subject = { subjectType: 'material', subjectId: id, birdId: material.birdId, reason };
    if (act === 'lose') {
      await markMissing(work, { materialId: id, reason });
      work.audit(tissueEvents.make('tissues.lost', subject, { vial: label }));
    } else {
      const left = amountOf(vialOf(material).amountLeft, vialOf(material).amountUnit);
      await writeUsedUp(work, material, reason);
      work.audit(
        tissueEvents.make('tissues.used-up', subject, {
          vial: label,
          left: left === null ? null : formatAmount(left),
        }),
      );
    }
    return describeVial(work.db, actor, id);
  });
}

async function writeUsedUp(work: Work, material: VialMaterial, reason: string): Promise<void> {
  const vial = vialOf(material);
  if (material.custody !== 'on-shelf')
    throw conflict(
      say('{labelOf} is {replace}.', {
        labelOf: labelOf(material),
        replace: material.custody.replace('-', ' '),
      }),
    );
  await updateVial(work.db, material.id, { amountLeft: vial.amountLeft === null ? null : 0 });
  await insertUse(work.db, {
    vialId: material.id,
    amount: vial.amountLeft === 0 ? null : vial.amountLeft,
    unit: vial.amountLeft === null || vial.amountLeft === 0 ? null : vial.amountUnit,
    purpose: reason,
    usedAt: work.now,
    usedById: personOf(work.actor),
  });
  await advanceMaterial(work, { materialId: material.id, from: material.state, to: 'used-up' });
  await emptyVial(work, material, reason);
}

/** Records that a lost vial turned up, and where it lies now. */
export async function findLostVial(
  context: CommandContext,
  id: string,
  { to, reason }: FindRequest,
): Promise<VialRecord> {
  const { actor } = context;
  authorise(actor, 'tissues.use');
  return withTx(context, async (work) => {
    const material = await load(work, id);
    if (material.custody !== 'missing')
      throw conflict(say('{labelOf} is not missing.', { labelOf: labelOf(material) }));
    await markFound(work, { materialId: id, reason });
    if (to) await moveMaterial(work, { materialId: id, to, reason });
    work.audit(
      tissueEvents.make(
        'tissues.found',
        { subjectType: 'material', subjectId: id, birdId: material.birdId, reason },
        { vial: labelOf(material) },
      ),
    );
    return describeVial(work.db, actor, id);
  });
}

async function load(work: Work, id: string): Promise<VialMaterial> {
  const material = await lockVial(work.db, work.actor.collectionId, id);
  if (material === null) throw notFound(say('This vial'));
  return material;
}
