import 'server-only';
import { judgeForReview, markApproved, markReturned } from '@/lib/bench/public';
import { announce } from '@/lib/notices/public';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { dateColumn, dayOf } from '@/lib/platform/clock';
import { db, type Tx } from '@/lib/platform/db';
import { conflict, forbidden, notFound, notValid } from '@/lib/platform/errors';
import { cutPage, type PageQuery, writeCursor } from '@/lib/platform/paging';
import { may } from '@/lib/platform/permissions';
import { takeNumber } from '@/lib/platform/sequence';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { boneImbalancesOf, findImbalances } from '@/lib/skeletons/public';
import { catalogueEvents } from '../events';
import { mayReview, placeDetail } from '../policy';
import {
  countInReview,
  ensureDetermination,
  findInReview,
  findLastReturn,
  findNames,
  findReviewed,
  findSimilar,
  insertEntry,
  type ListedRecord,
  type ReviewedRecord,
  setBirdSex,
} from '../repo/review';
import { isExplainable, mayApprove, moveReview, type ReviewPoint, reviewPoints } from '../rules';
import { type ApproveRequest, type ReturnWithRemarks, reviewStateSchema, sexSchema } from '../schema';
import { benchFields, materialOf, originOf, readHeld } from '../shapes';
import type { ReviewRecord, ReviewRow } from '../wire';
import { differencesSince } from './differences';
import { boneLine, bonesOf, type RecordWarning, reviewFactsOf, SEXING_FIELDS, sexOf } from './facts';
import { noteLook } from './look';

const LEFT = 'somebody who left';
const nameOfTaxon = ({ bird }: Pick<ListedRecord, 'bird'>) =>
  bird.taxon?.scientificName ?? bird.salvage.verbatimTaxon;

/** What waits at the review desk, the longest waiting first. */
export async function listReview(
  actor: Actor,
  query: PageQuery,
): Promise<{ rows: ReviewRow[]; next: string | null; total: number }> {
  authorise(actor, 'bench.review');
  const [found, total] = await Promise.all([
    findInReview(actor.collectionId, query, SEXING_FIELDS),
    countInReview(actor.collectionId),
  ]);
  const { rows, next } = cutPage(found, query.size, ({ sentAt, id }) =>
    writeCursor([(sentAt ?? new Date(0)).toISOString(), id]),
  );
  const imbalances = await findImbalances(
    db(),
    rows.map(({ birdId, bird }) => ({ id: birdId, taxon: bird.taxon })),
  );
  return {
    rows: rows.map((record) => {
      const facts = reviewFactsOf(record, imbalances.get(record.birdId) ?? [], []);
      const { blocks, notes } = reviewPoints(facts, personOf(actor));
      return {
        id: record.id,
        birdId: record.birdId,
        number: record.bird.number,
        prepNumber: record.prepNumber,
        scientificName: nameOfTaxon(record),
        commonName: record.bird.taxon?.commonName ?? null,
        styleId: record.styleId,
        preparator: record.preparator ?? LEFT,
        sentAt: record.sentAt?.toISOString() ?? null,
        own: !mayReview(actor, facts.workerIds),
        returnedBefore: record.returnedBefore,
        blocks: blocks.length,
        notes: notes.length,
        firstPoint: blocks[0]?.sentence ?? notes[0]?.sentence ?? null,
      };
    }),
    next,
    total,
  };
}

/** Everything a reviewer needs to decide upon one record. */
export async function showReview(actor: Actor, id: string): Promise<ReviewRecord> {
  const record = await requireRecord(db(), actor, id);
  await noteLook(actor, record.bird);
  return reviewOf(db(), actor, record);
}

/** Sends a record back to its preparator with remarks on fields. @throws AppError conflict when it is not in review; stale-version. */
export async function returnRecord(
  context: CommandContext,
  id: string,
  { version, remarks }: ReturnWithRemarks,
): Promise<ReviewRecord> {
  const { actor } = context;
  return withTx(context, async (work) => {
    const record = await requireRecord(work.db, actor, id);
    const move = moveReview(reviewStateSchema.parse(record.state), 'return');
    if (!move.ok) throw conflict(move.reason);
    await markReturned(work, { recordId: id, version, remarks });
    work.audit(
      catalogueEvents.make(
        'catalogue.returned',
        { subjectType: 'bench-record', subjectId: id, birdId: record.birdId },
        { number: record.bird.number, remarks, bones: record.bird.bones.map(boneLine) },
      ),
    );
    return loadReview(work.db, actor, id);
  });
}

/**
 * Approves a record: it gets its catalogue number, is kept as approved and locked, all in one transaction.
 * @throws AppError forbidden for the person's own work; not-valid when a point stands in the way and is not explained;
 * conflict when somebody else decided a moment ago.
 */
export async function approveRecord(
  context: CommandContext,
  id: string,
  { version, explanations }: ApproveRequest,
): Promise<{ birdId: string; catalogueNumber: string }> {
  const { actor } = context;
  return withTx(context, async (work) => {
    const record = await requireRecord(work.db, actor, id);
    const { warnings } = await judgeForReview(work.db, record);
    const facts = reviewFactsOf(record, imbalancesOf(record), warnings);
    if (!mayReview(actor, facts.workerIds))
      throw forbidden(say('Nobody approves their own work: another curator must.'));
    const move = moveReview(facts.state, 'approve');
    if (!move.ok) throw conflict(move.reason);
    const verdict = mayApprove(facts, personOf(actor), explanations);
    const { blocks } = reviewPoints(facts, personOf(actor));
    if (!verdict.ok) throw notValid(say('The record was not approved.'), unexplained(blocks, explanations));
    await markApproved(work, { recordId: id, version });
    const explained = blocks.map(({ code, sentence }) => ({
      point: sentence,
      explanation: explanations[code] ?? '',
    }));
    const names = await findNames(work.db, [record.preparatorId]);
    const preparator = names.get(record.preparatorId) ?? LEFT;
    const sex = sexOf(record) ?? 'undetermined';
    await ensureDetermination(work.db, {
      birdId: record.birdId,
      taxonId: record.bird.taxonId,
      verbatim: nameOfTaxon(record),
      determinedBy: preparator,
      determinedOn: dateColumn(dayOf(record.startedAt)),
    });
    await setBirdSex(work.db, record.birdId, sex);
    // Late: from here to the commit every other approval waits for its number.
    const number = await takeNumber(work, 'catalogue');
    const entry = await insertEntry(work.db, {
      collectionId: actor.collectionId,
      birdId: record.birdId,
      number,
      approvedById: personOf(actor),
      approvedAt: work.now,
      approved: snapshotOf(record, { preparator, sex, explained, warnings }),
    });
    work.audit(
      catalogueEvents.make(
        'catalogue.approved',
        { subjectType: 'catalogue', subjectId: entry.id, birdId: record.birdId },
        { number: record.bird.number, catalogueNumber: number, explained },
      ),
    );
    announce(work, {
      subjectType: 'bird',
      subjectId: record.birdId,
      kind: 'catalogue.approved',
      facts: { prepNumber: record.prepNumber, bird: record.bird.number, catalogueNumber: number },
      to: { people: [record.preparatorId, ...(record.scribeId === null ? [] : [record.scribeId])] },
    });
    return { birdId: record.birdId, catalogueNumber: number };
  });
}

/** What keeps the record's bone book from balancing. */
const imbalancesOf = (record: ReviewedRecord) => boneImbalancesOf(bonesOf(record), record.bird.taxon);

/** Each point that stands in the way and was not explained, at the field that would explain it. */
const unexplained = (blocks: readonly ReviewPoint[], explanations: Readonly<Record<string, string>>) =>
  blocks
    .filter(({ code }) => !isExplainable(code) || !explanations[code]?.trim())
    .map(({ code, sentence }) => ({ path: `explanations.${code}`, message: sentence }));

async function requireRecord(tx: Tx, actor: Actor, id: string): Promise<ReviewedRecord> {
  authorise(actor, 'bench.review');
  const record = await findReviewed(tx, actor.collectionId, id);
  if (record === null) throw notFound(say('This record'));
  return record;
}

/** The record as it is approved: what later amendments are compared with. */
function snapshotOf(
  record: ReviewedRecord,
  more: {
    preparator: string;
    sex: string;
    explained: { point: string; explanation: string }[];
    warnings: RecordWarning[];
  },
) {
  const { bird } = record;
  return {
    ...more,
    prepNumber: record.prepNumber,
    styleId: record.styleId,
    scientificName: nameOfTaxon(record),
    origin: originOf(bird.salvage, 'exact'),
    values: Object.fromEntries(readHeld(record.values)),
    bones: bird.bones.map(boneLine),
    boneExplanation: record.boneExplanation,
    materials: bird.materials.map(({ suffix, kind, state }) => ({ suffix, kind, state })),
  };
}

const loadReview = async (tx: Tx, actor: Actor, id: string): Promise<ReviewRecord> =>
  reviewOf(tx, actor, await requireRecord(tx, actor, id));

async function reviewOf(tx: Tx, actor: Actor, record: ReviewedRecord): Promise<ReviewRecord> {
  const { bird, id } = record;
  const { salvage } = bird;
  // One after the other: a transaction has one connection.
  const names = await findNames(tx, [
    record.preparatorId,
    record.scribeId,
    ...record.entries.map(({ enteredById }) => enteredById),
    ...[...readHeld(record.values).values()].map(({ by }) => by ?? null),
  ]);
  const last = await findLastReturn(tx, actor.collectionId, id);
  const similar = await findSimilar(tx, bird);
  const bench = await judgeForReview(tx, record);
  const imbalances = imbalancesOf(record);
  const facts = reviewFactsOf(record, imbalances, bench.warnings);
  const { blocks, notes } = reviewPoints(facts, personOf(actor));
  const named = (personId: string) => ({ id: personId, name: names.get(personId) ?? LEFT });
  const toPoint = (point: ReviewPoint) => ({ ...point, explainable: isExplainable(point.code) });
  const mayDecide = mayReview(actor, facts.workerIds);
  return {
    id,
    birdId: bird.id,
    number: bird.number,
    prepNumber: record.prepNumber,
    state: facts.state,
    version: record.version,
    styleId: record.styleId,
    scientificName: nameOfTaxon(record),
    commonName: bird.taxon?.commonName ?? null,
    preparator: named(record.preparatorId),
    scribe: record.scribeId === null ? null : named(record.scribeId),
    startedAt: record.startedAt.toISOString(),
    sentAt: record.sentAt?.toISOString() ?? null,
    origin: originOf(salvage, placeDetail(actor, bird.taxon?.sensitive === true)),
    coverage: salvage.coverage,
    holds: facts.holds.slice(),
    fields: benchFields(record.values, record.entries, names),
    warnings: bench.warnings,
    lacks: bench.lacks.map(({ sentence }) => sentence),
    lackExplanation: record.lackExplanation,
    bones: {
      rows: bird.bones.map(({ element, side, portion, state, place }) => ({
        element,
        side,
        portion,
        state,
        place,
      })),
      unbalanced: imbalances,
      explanation: record.boneExplanation,
    },
    materials: bird.materials.map((material) => materialOf(material, bird, may(actor, 'storage.see'))),
    similar: similar.map(({ foundOn, sex, ...rest }) => ({
      ...rest,
      sex: sexSchema.parse(sex),
      foundOn: dayOf(foundOn),
    })),
    blocks: blocks.map(toPoint),
    notes: notes.map(toPoint),
    lastReturn: last === null ? null : differencesSince(record, last, bench.remarks),
    catalogueNumber: bird.catalogue?.number ?? null,
    abilities: {
      approve: mayDecide && moveReview(facts.state, 'approve').ok,
      return: moveReview(facts.state, 'return').ok,
    },
  };
}
