import 'server-only';
import { FIELDS, isFieldId } from '@/lib/bench/public';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { forEachRow } from '@/lib/platform/bulk';
import type { BulkAnswer } from '@/lib/platform/bulk-wire';
import { dateColumn, dayOf } from '@/lib/platform/clock';
import { db, type Tx } from '@/lib/platform/db';
import { conflict, notFound, notValid, staleVersion } from '@/lib/platform/errors';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { moveCustody } from '@/lib/queue/public';
import type { CustodyState } from '@/lib/queue/schema';
import { changeCustody, labelOf } from '@/lib/storage/public';
import { catalogueEvents } from '../events';
import { seesApprovedOnly } from '../policy';
import {
  claimMaterial,
  closeBirdIfGone,
  findOwnMaterial,
  findSheet,
  findTaxonName,
  insertAmendment,
  insertDeaccession,
  insertDetermination,
  type SheetBird,
  writeAmendedValues,
} from '../repo/record';
import { setBirdSex } from '../repo/review';
import {
  type AmendRequest,
  type DeaccessionRequest,
  type DeterminationRequest,
  type DetermineBirdsRequest,
  HANDED_OVER,
  sexSchema,
} from '../schema';
import { readHeld } from '../shapes';
import type { CatalogueRecord } from '../wire';
import { noteLook } from './look';
import { sheetOf } from './sheet';

/** A bird's specimen sheet. @throws AppError not-found outside the collection, and for a visitor before approval. */
export async function showSheet(actor: Actor, birdId: string): Promise<CatalogueRecord> {
  const bird = await requireBird(db(), actor, birdId);
  await noteLook(actor, bird);
  return sheetOf(db(), actor, bird);
}

async function loadSheet(tx: Tx, actor: Actor, birdId: string): Promise<CatalogueRecord> {
  return sheetOf(tx, actor, await requireBird(tx, actor, birdId));
}

async function requireBird(tx: Tx, actor: Actor, birdId: string): Promise<SheetBird> {
  authorise(actor, 'catalogue.see');
  const bird = await findSheet(tx, actor.collectionId, birdId, seesApprovedOnly(actor));
  if (bird === null) throw notFound(say('This bird'));
  return bird;
}

/**
 * Changes one field of an approved record: the approved value and the new one are kept beside each other with the
 * reason. @throws AppError stale-version when the value is no longer the one the person saw.
 */
export async function amendRecord(
  context: CommandContext,
  birdId: string,
  { field, before, after, reason }: AmendRequest,
): Promise<CatalogueRecord> {
  const { actor } = context;
  authorise(actor, 'catalogue.amend');
  return withTx(context, async (work) => {
    const bird = await requireBird(work.db, actor, birdId);
    const { bench, catalogue } = bird;
    if (bench === null || catalogue === null || bench.state !== 'approved')
      throw conflict(say('This record is not approved yet: it changes at the bench, not by an amendment.'));
    if (!isFieldId(field))
      throw notValid(say('Nothing was amended.'), [{ path: 'field', message: say('No such field.') }]);
    const values = readHeld(bench.values);
    const standing = values.get(field)?.value ?? null;
    if (JSON.stringify(standing) !== JSON.stringify(before))
      throw staleVersion(say('This field'), { value: standing });
    if (JSON.stringify(standing) === JSON.stringify(after))
      throw notValid(say('Nothing was amended.'), [
        { path: 'after', message: say('That is what it says already.') },
      ]);
    if (after === null) values.delete(field);
    else {
      const parsed = FIELDS[field].value.safeParse(after);
      if (!parsed.success) {
        const message = `${FIELDS[field].label}: ${parsed.error.issues[0]?.message ?? say('not a value of this field')}`;
        throw notValid(say('Nothing was amended.'), [{ path: 'after', message }]);
      }
      const stamp = { at: work.now.toISOString(), by: personOf(actor) };
      values.set(field, { value: after, unit: FIELDS[field].unit, method: null, verbatim: null, ...stamp });
    }
    await insertAmendment(work.db, {
      entryId: catalogue.id,
      field,
      before: standing,
      after,
      reason,
      amendedById: personOf(actor),
      amendedAt: work.now,
    });
    if ((await writeAmendedValues(work.db, bench.id, bench.version, Object.fromEntries(values))) === 0)
      throw staleVersion(say('This record'), { version: bench.version });
    const sex = field === 'sex' ? sexSchema.safeParse(after) : null;
    if (sex?.success) await setBirdSex(work.db, birdId, sex.data);
    work.audit(
      catalogueEvents.make(
        'catalogue.amended',
        { subjectType: 'catalogue', subjectId: catalogue.id, birdId, reason },
        { number: catalogue.number, field, from: standing, to: after },
      ),
    );
    return loadSheet(work.db, actor, birdId);
  });
}

type Known = Pick<
  SheetBird['determinations'][number],
  'verbatim' | 'taxonId' | 'qualifier' | 'determinedBy' | 'determinedOn'
>;

const isSame = (known: Known, asked: DeterminationRequest): boolean =>
  known.verbatim === asked.verbatim &&
  known.taxonId === asked.taxonId &&
  known.qualifier === asked.qualifier &&
  known.determinedBy === asked.determinedBy &&
  dayOf(known.determinedOn) === asked.determinedOn;

/** Adds an identification; it becomes the current one and the bird's taxon follows. Earlier ones stay. */
export async function determineBird(
  context: CommandContext,
  birdId: string,
  request: DeterminationRequest,
): Promise<CatalogueRecord> {
  const { actor } = context;
  authorise(actor, 'catalogue.amend');
  return withTx(context, async (work) => {
    const bird = await requireBird(work.db, actor, birdId);
    if (request.determinedOn > dayOf(work.now))
      throw notValid(say('It was not saved.'), [
        { path: 'determinedOn', message: say('That day has not come yet.') },
      ]);
    const name = request.taxonId === null ? null : await findTaxonName(work.db, request.taxonId);
    if (request.taxonId !== null && name === null) throw notFound(say('This taxon'));
    if (bird.determinations.some((one) => one.current && isSame(one, request)))
      throw conflict(say('That is its current identification already.'));
    await insertDetermination(work.db, {
      ...request,
      birdId,
      remarks: request.remarks ?? null,
      determinedOn: dateColumn(request.determinedOn),
    });
    work.audit(
      catalogueEvents.make(
        'catalogue.determined',
        { subjectType: 'bird', subjectId: birdId, birdId, reason: request.remarks },
        {
          number: bird.catalogue?.number ?? bird.number,
          from: bird.taxon?.scientificName ?? null,
          to: [request.qualifier, name ?? request.verbatim].filter((part) => part !== null).join(' '),
          by: request.determinedBy,
          on: request.determinedOn,
        },
      ),
    );
    return loadSheet(work.db, actor, birdId);
  });
}

/** Gives several birds one identification, each in its own transaction; the answer says which could not be. */
export async function determineBirds(
  context: CommandContext,
  { birdIds, ...determination }: DetermineBirdsRequest,
): Promise<BulkAnswer> {
  authorise(context.actor, 'catalogue.amend');
  return forEachRow(context, birdIds, (own, birdId) => determineBird(own, birdId, determination));
}

/** Takes a material out of the collection for good, with who decided and on which paper. */
export async function deaccessionMaterial(
  context: CommandContext,
  birdId: string,
  request: DeaccessionRequest,
): Promise<CatalogueRecord> {
  const { actor } = context;
  authorise(actor, 'catalogue.dispose');
  return withTx(context, async (work) => {
    await requireBird(work.db, actor, birdId);
    const material = await findOwnMaterial(work.db, birdId, request.materialId);
    if (material === null) throw notFound(say('This material'));
    const move = moveCustody(material.custody as CustodyState, 'deaccession');
    if (!move.ok) throw conflict(move.reason);
    // Its loan would never balance: the loan says first whether it came back or was lost.
    if (material.custody === 'on-loan')
      throw conflict(
        say('{labelOf} is out on loan: settle it on its loan first.', { labelOf: labelOf(material) }),
      );
    if ((await claimMaterial(work.db, material.id, request.version)) === 0)
      throw staleVersion(say('This material'), { version: material.version });
    await changeCustody(work, { materialId: material.id, from: material.custody, to: move.to });
    const { method, on, authority, document, documentId = null, reason } = request;
    const { recipient = null, recipientAuthority = null, witness = null } = request;
    await insertDeaccession(work.db, {
      materialId: material.id,
      collectionId: actor.collectionId,
      method,
      leftOn: dateColumn(on),
      authority,
      document,
      documentId,
      recipient,
      recipientAuthority,
      witness,
      reason,
      recordedById: personOf(actor),
    });
    await closeBirdIfGone(work.db, birdId, {
      disposition: HANDED_OVER.includes(method) ? 'transferred' : 'destroyed',
      disposedOn: dateColumn(on),
      dispositionDetail: {
        recipient,
        recipientAuthority,
        witness,
        method,
        recordedAt: work.now.toISOString(),
      },
    });
    work.audit(
      catalogueEvents.make(
        'catalogue.deaccessioned',
        { subjectType: 'material', subjectId: material.id, birdId, reason },
        { material: labelOf(material), method, on, authority, document, recipient },
      ),
    );
    return loadSheet(work.db, actor, birdId);
  });
}
