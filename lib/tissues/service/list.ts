import 'server-only';
import { type Actor, authorise } from '@/lib/platform/actor';
import { db, type Tx } from '@/lib/platform/db';
import { notFound } from '@/lib/platform/errors';
import { cutPage, writeCursor } from '@/lib/platform/paging';
import { may } from '@/lib/platform/permissions';
import { say } from '@/lib/platform/words/say';
import { findUnitsInside, labelOf } from '@/lib/storage/public';
import { computeTimeExposed } from '../exposure';
import { findNames, findParent, findStory, findVial, findVials, findVialsOfBird } from '../repo/vials';
import { amountOf, ownersOf, timesOf, toRow, vialOf } from '../rows';
import type { Container, TissueOrigin } from '../schema';
import { judgeUses } from '../uses';
import type { VialListQuery, VialRecord, VialRow } from '../wire';
import { judgeApart } from './fill';

/** A page of vials, newest first. */
export async function listVials(
  actor: Actor,
  query: VialListQuery,
): Promise<{ rows: VialRow[]; next: string | null }> {
  authorise(actor, 'tissues.see');
  const unitIds =
    query.unitId === undefined ? null : await findUnitsInside(db(), actor.collectionId, query.unitId);
  const found = await findVials(actor.collectionId, query, unitIds);
  const { rows, next } = cutPage(found, query.size, (row) =>
    writeCursor([row.createdAt.toISOString(), row.id]),
  );
  return { rows: rows.map(toRow), next };
}

/** One vial: how good it is and for what, what was taken from it, where its duplicates are. @throws AppError not-found */
export async function showVial(actor: Actor, id: string): Promise<VialRecord> {
  authorise(actor, 'tissues.see');
  return describeVial(db(), actor, id);
}

export async function describeVial(tx: Tx, actor: Actor, id: string): Promise<VialRecord> {
  const material = await findVial(tx, actor.collectionId, id);
  if (material === null) throw notFound(say('This vial'));
  const vial = vialOf(material);
  const row = toRow(material);
  const story = await findStory(tx, id);
  const all = await findVialsOfBird(tx, material.birdId);
  const parent = material.parentId === null ? null : await findParent(tx, material.parentId);
  const names = await findNames(tx, [
    vial.filledById,
    ...story.uses.map((use) => use.usedById),
    ...story.thaws.map((thaw) => thaw.countedById),
  ]);
  const by = (personId: string) => names.get(personId) ?? say('somebody who left');
  const times = timesOf(vial);
  const exposed = computeTimeExposed(times);
  const [out] = material.loanLines;
  return {
    ...row,
    version: material.version,
    suffix: material.suffix,
    birdNumber: material.bird.catalogue?.number ?? material.bird.number,
    container: { kind: vial.container as Container['kind'], volumeMl: vial.containerMl },
    origin: vial.origin as TissueOrigin,
    dnaYieldUg: vial.dnaYieldUg,
    remarks: vial.remarks,
    times,
    filledBy: by(vial.filledById),
    filledAt: vial.filledAt.toISOString(),
    exposed,
    goodFor: judgeUses({
      quality: row.quality,
      exposed,
      thawCount: vial.thawCount,
      preservation: row.preservation,
    }),
    parent:
      parent === null ? null : { id: parent.id, label: labelOf(parent), isVial: parent.kind === 'vial' },
    children: story.children.map(toRow),
    siblings: all.filter((other) => other.id !== id && other.parentId !== id).map(toRow),
    duplicates: await judgeApart(tx, actor, all),
    uses: story.uses.map((use) => {
      const child = story.children.find((one) => one.id === use.childMaterialId);
      return {
        id: use.id,
        amount: amountOf(use.amount, use.unit ?? vial.amountUnit),
        purpose: use.purpose,
        thawed: use.thawed,
        child: child === undefined ? null : { id: child.id, label: labelOf(child) },
        at: use.usedAt.toISOString(),
        by: by(use.usedById),
      };
    }),
    thaws: story.thaws.map((thaw) => ({
      id: thaw.id,
      thaws: thaw.thaws,
      reason: thaw.reason,
      at: thaw.countedAt.toISOString(),
      by: by(thaw.countedById),
    })),
    loan: out === undefined ? null : { id: out.loan.id, number: out.loan.number },
    unitId: material.placement?.unitId ?? null,
    abilities: abilitiesOf(actor, material),
  };
}

function abilitiesOf(
  actor: Actor,
  material: Parameters<typeof ownersOf>[0] & { custody: string; state: string | null },
): VialRecord['abilities'] {
  const here = material.custody === 'on-shelf';
  const mayUse = may(actor, 'tissues.use');
  const facts = { ownerIds: ownersOf(material) };
  return {
    use: here && mayUse && (material.state === 'stored' || material.state === 'partly-used'),
    change: may(actor, 'tissues.fill', facts) && material.custody !== 'used-up',
    move: here && may(actor, 'storage.move', facts),
    lose: here && mayUse && material.state !== 'used-up',
    find: material.custody === 'missing' && mayUse,
  };
}
