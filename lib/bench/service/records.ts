import 'server-only';
import { reviewRemarks } from '@/lib/bench/documents';
import { benchEvents } from '@/lib/bench/events';
import {
  findBird,
  findClaimed,
  findColleagues,
  findCollection,
  findNames,
  findRecordOfBird,
  findRecords,
  findThawed,
  insertRecord,
  type ListedRecord,
  queueUp,
} from '@/lib/bench/repo/records';
import { type BenchState, knownStyleId, preparationStyleId } from '@/lib/bench/schema';
import { loadStyle } from '@/lib/bench/service/styles';
import { loadView, namer, timesOf } from '@/lib/bench/service/view';
import { readBenchSettings } from '@/lib/bench/settings';
import type { BenchRecord } from '@/lib/bench/wire';
import type { BenchDesk, BenchListQuery, BenchRow } from '@/lib/bench/wire-desk';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { notFound } from '@/lib/platform/errors';
import { cutPage, writeCursor } from '@/lib/platform/paging';
import { may } from '@/lib/platform/permissions';
import { takeNumber } from '@/lib/platform/sequence';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { applyCarcassAct } from '@/lib/queue/public';

const chosenStyleId = preparationStyleId.nullable().catch(null);

type Rows = { rows: BenchRow[]; next: string | null };

/** Bench records by state, the person's own first. */
export async function listRecords(actor: Actor, query: BenchListQuery): Promise<Rows> {
  authorise(actor, 'bench.see');
  const found = await findRecords(actor.collectionId, actor.personId, query);
  const { rows, next } = cutPage(found, query.size, (row) =>
    writeCursor([row.mine ? 1 : 0, row.startedAt.toISOString(), row.id]),
  );
  return { rows: await toRows(rows), next };
}

async function toRows(records: readonly ListedRecord[]): Promise<BenchRow[]> {
  const named = namer(
    await findNames(
      db(),
      records.flatMap(({ preparatorId, scribeId }) => [preparatorId, scribeId]),
    ),
  );
  return records.map((record) => ({
    id: record.id,
    birdId: record.birdId,
    ...nameOf(record.bird),
    prepNumber: record.prepNumber,
    state: record.state as BenchState,
    carcassState: record.bird.state,
    styleId: knownStyleId.parse(record.styleId),
    preparator: named(record.preparatorId),
    scribe: record.scribeId === null ? null : named(record.scribeId),
    startedAt: record.startedAt.toISOString(),
    sentAt: record.sentAt?.toISOString() ?? null,
    openRemarks: reviewRemarks.parse(record.reviewRemarks).filter(({ answer }) => answer === null).length,
    mine: record.mine,
  }));
}

const nameOf = (bird: {
  number: string;
  taxon: { scientificName: string; commonName: string | null } | null;
  salvage: { verbatimTaxon: string };
}) => ({
  number: bird.number,
  scientificName: bird.taxon?.scientificName ?? bird.salvage.verbatimTaxon,
  commonName: bird.taxon?.commonName ?? null,
});

const DESK_RECORDS = 50;

/** What this person has to do next at the bench: own records, birds taken, clocks that run. */
export async function showDesk(actor: Actor): Promise<BenchDesk> {
  authorise(actor, 'bench.see');
  const { collectionId } = actor;
  const me = personOf(actor);
  const anybody = may(actor, 'bench.write', { ownerIds: [] });
  const [records, claimed, thawed, collection] = await Promise.all([
    findRecords(collectionId, me, {
      states: ['draft', 'returned', 'in-review'],
      workerId: me,
      size: DESK_RECORDS,
    }),
    findClaimed(collectionId, anybody ? undefined : me),
    findThawed(collectionId),
    findCollection(db(), collectionId),
  ]);
  const named = namer(
    await findNames(
      db(),
      [...claimed, ...thawed].map(({ claimedById }) => claimedById),
    ),
  );
  return {
    records: await toRows(records),
    claimed: claimed
      .map((bird) => ({
        birdId: bird.id,
        ...nameOf(bird),
        state: bird.state,
        styleId: chosenStyleId.parse(bird.styleId),
        claimedBy: named(bird.claimedById ?? ''),
        claimExpiresAt: bird.claimExpiresAt?.toISOString() ?? null,
        thawStartedAt: bird.thawStartedAt?.toISOString() ?? null,
        mayStart: may(actor, 'bench.write', { ownerIds: [bird.claimedById] }),
      }))
      .sort((a, b) => Number(b.claimedBy.id === me) - Number(a.claimedBy.id === me)),
    clocks: thawed.map((bird) => ({
      recordId: bird.bench?.id ?? null,
      birdId: bird.id,
      ...nameOf(bird),
      by: bird.claimedById === null ? null : named(bird.claimedById),
      times: timesOf(bird, bird.bench, collection.settings),
    })),
    clockSettings: readBenchSettings(collection.settings).clocks,
  };
}

/** One record with everything its page shows. */
export async function showRecord(actor: Actor, id: string): Promise<BenchRecord> {
  authorise(actor, 'bench.see');
  return loadView(db(), actor, id);
}

/** Who may sit at the bench: to choose the scribe from. */
export async function listColleagues(actor: Actor): Promise<{ people: { id: string; name: string }[] }> {
  authorise(actor, 'bench.write');
  return { people: await findColleagues(db(), actor.collectionId) };
}

/**
 * Starts the bench record of a claimed bird: a preparation number is taken and the carcass comes to the bench. A bird
 * that has its record already answers with that one.
 * @throws AppError conflict when the bird cannot come to the bench from where it is
 */
export async function startRecord(context: CommandContext, birdId: string): Promise<BenchRecord> {
  const { actor } = context;
  authorise(actor, 'bench.write');
  return withTx(context, async (work) => {
    await queueUp(work.db, birdId);
    const bird = await findBird(work.db, actor.collectionId, birdId);
    if (bird === null) throw notFound(say('This bird'));
    authorise(actor, 'bench.write', { ownerIds: [bird.claimedById] });
    const already = await findRecordOfBird(work.db, actor.collectionId, birdId);
    if (already !== null) return loadView(work.db, actor, already.id);
    const preparatorId = bird.claimedById ?? personOf(actor);
    const preparator = (await findNames(work.db, [preparatorId])).get(preparatorId) ?? actor.name;
    const style = await loadStyle(work.db, actor.collectionId, bird.styleId ?? '');
    await applyCarcassAct(work, {
      birdId,
      act: 'start',
      // A bird that comes straight from its freezer leaves it now.
      patch: bird.frozenAt !== null && bird.thawStartedAt === null ? { thawStartedAt: work.now } : {},
    });
    // The number carries the preparator's initials, whoever presses the button.
    const prepNumber = await takeNumber({ ...work, actor: { ...actor, name: preparator } }, 'preparation');
    const made = await insertRecord(work.db, {
      collectionId: actor.collectionId,
      birdId,
      prepNumber,
      styleId: style.id,
      styleVersion: style.version,
      preparatorId,
      startedAt: work.now,
    });
    work.audit(
      benchEvents.make(
        'bench.started',
        { subjectType: 'bench-record', subjectId: made.id, birdId },
        { prepNumber, bird: bird.number, style: style.label, preparator },
      ),
    );
    return loadView(work.db, actor, made.id);
  });
}
