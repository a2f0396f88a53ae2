import 'server-only';
import { authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { conflict, notFound, notValid } from '@/lib/platform/errors';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { advanceMaterial, changeCustody, labelOf } from '@/lib/storage/public';
import { tissueEvents } from '../events';
import { findBird, insertThaw, insertUse, lockVial, updateStock, type VialMaterial } from '../repo/vials';
import { amountOf, preservationOf, timesOf, vialOf } from '../rows';
import { consumeFromVial, formatAmount, type TakeProblem, takeSubSample, type VialStock } from '../rules';
import type { Amount, Container, TissueKind, TissueOrigin, VialState } from '../schema';
import type { SubSampleRequest, UseRequest, VialRecord } from '../wire';
import { fillOne } from './fill';
import { describeVial } from './list';

/**
 * Takes an amount out of a vial for good. Two people who take at once do so one after the other, each from what the
 * other left. @throws AppError conflict when there is not so much; not-valid when it cannot be measured so
 */
export async function takeFromVial(
  context: CommandContext,
  id: string,
  request: UseRequest,
): Promise<VialRecord> {
  const { actor } = context;
  authorise(actor, 'tissues.use');
  return withTx(context, async (work) => {
    const material = await loadOnShelf(work, id);
    const stock = stockOf(material);
    const taken = consumeFromVial(stock, request.amount);
    if (!taken.ok) throw refusedTaking(labelOf(material), taken);
    await writeTaking(work, material, {
      left: taken.value.amount,
      state: taken.value.state,
      thawed: request.thawed,
      taken: request.amount,
      purpose: request.purpose,
      childId: null,
    });
    work.audit(
      tissueEvents.make(
        'tissues.used',
        { subjectType: 'material', subjectId: id, birdId: material.birdId },
        {
          vial: labelOf(material),
          amount: formatAmount(request.amount),
          left: formatAmount(taken.value.amount),
          purpose: request.purpose,
          thawed: request.thawed,
        },
      ),
    );
    return describeVial(work.db, actor, id);
  });
}

/** Divides a vial: what is taken becomes a vial of its own, derived from the first, with its own number. */
export async function subSampleVial(
  context: CommandContext,
  id: string,
  request: SubSampleRequest,
): Promise<VialRecord> {
  const { actor } = context;
  authorise(actor, 'tissues.use');
  return withTx(context, async (work) => {
    const material = await loadOnShelf(work, id);
    const bird = await findBird(work.db, actor.collectionId, material.birdId);
    const everUsed = (bird?.materials ?? []).map((one) => one.suffix);
    const divided = takeSubSample(stockOf(material), request.amount, everUsed, request.thawed);
    if (!divided.ok) throw refusedTaking(labelOf(material), divided);
    const { parent, derived } = divided.value;
    const vial = vialOf(material);
    const made = await fillOne(work, {
      birdId: material.birdId,
      parentId: id,
      suffix: derived.suffix,
      wanted: {
        tissues: vial.tissues as TissueKind[],
        preservation: request.preservation ?? preservationOf(vial),
        container: request.container ?? {
          kind: vial.container as Container['kind'],
          volumeMl: vial.containerMl,
        },
        amount: derived.amount,
        code: request.code,
        position: request.position,
        remarks: request.purpose,
      },
      origin: vial.origin as TissueOrigin,
      times: timesOf(vial),
      thawCount: derived.thawCount,
      dnaYieldUg: null,
      path: 'sub-sample',
    });
    await writeTaking(work, material, {
      left: parent.amount,
      state: parent.state,
      thawed: request.thawed,
      taken: request.amount,
      purpose: request.purpose,
      childId: made.id,
    });
    work.audit(
      tissueEvents.make(
        'tissues.divided',
        { subjectType: 'material', subjectId: id, birdId: material.birdId },
        {
          vial: labelOf(material),
          amount: formatAmount(request.amount),
          left: formatAmount(parent.amount),
          made: made.label,
          thawed: request.thawed,
        },
      ),
    );
    return describeVial(work.db, actor, id);
  });
}

async function loadOnShelf(work: Work, id: string): Promise<VialMaterial> {
  const material = await lockVial(work.db, work.actor.collectionId, id);
  if (material === null) throw notFound(say('This vial'));
  if (material.custody !== 'on-shelf') {
    const loan = material.loanLines[0]?.loan.number;
    const where =
      loan === undefined ? material.custody.replace('-', ' ') : say('out on loan {loan}', { loan });
    throw conflict(
      say('{labelOf} is {where}: nothing can be taken from it here.', { labelOf: labelOf(material), where }),
    );
  }
  return material;
}

function stockOf(material: VialMaterial): VialStock {
  const vial = vialOf(material);
  return {
    suffix: material.suffix,
    amount: amountOf(vial.amountLeft, vial.amountUnit),
    state: material.state as VialState,
    thawCount: vial.thawCount,
  };
}

function refusedTaking(label: string, { reason, message }: { reason: TakeProblem; message: string }) {
  const sentence = `${label}: ${message}`;
  return reason === 'more-than-there-is' || reason === 'not-available'
    ? conflict(sentence)
    : notValid(sentence, [{ path: 'amount', message }]);
}

/** Writes what a taking leaves: amount, thaw, state; a vial that is empty leaves the shelf. */
async function writeTaking(
  work: Work,
  material: VialMaterial,
  input: {
    left: Amount;
    state: 'partly-used' | 'used-up';
    taken: Amount;
    thawed: boolean;
    purpose: string;
    childId: string | null;
  },
): Promise<void> {
  const vial = vialOf(material);
  const { left, state, taken, thawed, purpose, childId } = input;
  const seen = { materialId: material.id, amountLeft: vial.amountLeft, thawCount: vial.thawCount };
  const thawCount = vial.thawCount + (thawed ? 1 : 0);
  if ((await updateStock(work.db, seen, { amountLeft: left.value, thawCount })) === 0) {
    throw conflict(say('Somebody else took from this vial a moment ago. Reload and look at what is left.'));
  }
  const usedById = personOf(work.actor);
  await insertUse(work.db, {
    vialId: material.id,
    amount: taken.value,
    unit: taken.unit,
    purpose,
    thawed,
    childMaterialId: childId,
    usedAt: work.now,
    usedById,
  });
  if (thawed) {
    await insertThaw(work.db, {
      vialId: material.id,
      reason: purpose,
      countedAt: work.now,
      countedById: usedById,
    });
  }
  if (material.state !== state) {
    await advanceMaterial(work, { materialId: material.id, from: material.state, to: state });
  }
  if (state === 'used-up') await emptyVial(work, material, purpose);
}

/** An empty vial leaves its position, so that the next one can have it. */
export async function emptyVial(work: Work, material: VialMaterial, reason: string): Promise<void> {
  await changeCustody(work, { materialId: material.id, from: material.custody, to: 'used-up', reason });
}
