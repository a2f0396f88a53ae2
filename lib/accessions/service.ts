import 'server-only';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { dayOf } from '@/lib/platform/clock';
import { db, type Tx } from '@/lib/platform/db';
import { notFound, notValid, staleVersion } from '@/lib/platform/errors';
import { differences } from '@/lib/platform/events';
import { cutPage, type PageQuery, writeCursor } from '@/lib/platform/paging';
import { may } from '@/lib/platform/permissions';
import { takeNumber } from '@/lib/platform/sequence';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { accessionEvents } from './events';
import {
  findAccession,
  findAccessions,
  findCandidates,
  insertAccession,
  lockLots,
  updateAccession,
} from './repo';
import { accessionProblems, type LotFacts } from './rules';
import type {
  AccessionCandidate,
  AccessionChange,
  AccessionListQuery,
  AccessionRecord,
  AccessionRequest,
  AccessionRow,
} from './schema';

export async function listAccessions(
  actor: Actor,
  query: AccessionListQuery,
): Promise<{ rows: AccessionRow[]; next: string | null }> {
  authorise(actor, 'accessions.see');
  const found = await findAccessions(actor.collectionId, query);
  const { rows, next } = cutPage(found, query.size, (row) =>
    writeCursor([row.createdAt.toISOString(), row.id]),
  );
  return { rows: rows.map((row) => toRow(row, row._count.salvages)), next };
}

export async function showAccession(actor: Actor, id: string): Promise<AccessionRecord> {
  authorise(actor, 'accessions.see');
  return loadRecord(db(), actor, id);
}

/** Acquires accepted birds under one new accession number. @throws AppError not-valid, naming each bird that cannot be. */
export async function makeAccession(
  context: CommandContext,
  request: AccessionRequest,
): Promise<AccessionRecord> {
  const { actor } = context;
  authorise(actor, 'accessions.make');
  return withTx(context, async (work) => {
    const lots = await lockLots(work.db, actor.collectionId, request.salvageIds);
    if (lots.length !== new Set(request.salvageIds).size) throw notFound(say('One of the chosen birds'));
    const problems = accessionProblems(lots.map(factsOf), request.receivedOn);
    if (problems.length > 0) throw notValid(say('The accession was not made.'), problems);
    const number = await takeNumber(work, 'accession');
    const made = await insertAccession(work.db, {
      ...request,
      number,
      collectionId: actor.collectionId,
      createdById: personOf(actor),
    });
    work.audit(
      accessionEvents.make(
        'accessions.made',
        { subjectType: 'accession', subjectId: made.id },
        { number, kind: request.kind, source: request.source, lots: lots.map((lot) => lot.number) },
      ),
    );
    for (const lot of lots) {
      work.audit(
        accessionEvents.make(
          'accessions.lot-added',
          { subjectType: 'salvage', subjectId: lot.id, birdId: lot.bird?.id },
          { number: lot.number, accession: number },
        ),
      );
    }
    return loadRecord(work.db, actor, made.id);
  });
}

/** Corrects an accession's papers. @throws AppError stale-version when somebody else changed it meanwhile. */
export async function changeAccession(
  context: CommandContext,
  id: string,
  { version, reason, ...wanted }: AccessionChange,
): Promise<AccessionRecord> {
  const { actor } = context;
  authorise(actor, 'accessions.make');
  return withTx(context, async (work) => {
    const before = await loadRecord(work.db, actor, id);
    const changes = differences(before, wanted);
    if ((await updateAccession(work.db, id, version, wanted)) === 0)
      throw staleVersion(say('This accession'), before);
    work.audit(
      accessionEvents.make(
        'accessions.changed',
        { subjectType: 'accession', subjectId: id, reason },
        { changes },
      ),
    );
    return loadRecord(work.db, actor, id);
  });
}

async function loadRecord(tx: Tx, actor: Actor, id: string): Promise<AccessionRecord> {
  const found = await findAccession(tx, actor.collectionId, id);
  if (found === null) throw notFound(say('This accession'));
  return {
    ...toRow(found, found.salvages.length),
    agreement: found.agreement,
    remarks: found.remarks,
    createdAt: found.createdAt.toISOString(),
    version: found.version,
    lots: found.salvages.map((lot) => ({
      salvageId: lot.id,
      birdId: lot.bird?.id ?? null,
      number: lot.number,
      taxon: lot.taxon?.scientificName ?? lot.verbatimTaxon,
      commonName: lot.taxon?.commonName ?? null,
      foundFrom: dayOf(lot.foundFrom),
      foundTo: dayOf(lot.foundTo),
      county: lot.county,
      permitNumber: lot.permit?.number ?? null,
      coverage: lot.coverage,
    })),
    abilities: { change: may(actor, 'accessions.make') },
  };
}

function toRow(
  row: { id: string; number: string; kind: string; source: string; receivedOn: Date },
  birds: number,
): AccessionRow {
  return {
    id: row.id,
    number: row.number,
    kind: row.kind as AccessionRow['kind'],
    source: row.source,
    receivedOn: dayOf(row.receivedOn),
    birds,
  };
}

/** Accepted birds waiting for an accession, each with what still stands in the way. */
export async function listCandidates(
  actor: Actor,
  query: PageQuery,
): Promise<{ rows: AccessionCandidate[]; next: string | null }> {
  authorise(actor, 'accessions.see');
  const { rows, next } = cutPage(await findCandidates(actor.collectionId, query), query.size, (row) =>
    writeCursor([row.number]),
  );
  return {
    rows: rows.map((row) => ({
      id: row.id,
      number: row.number,
      taxon: row.taxon?.scientificName ?? row.verbatimTaxon,
      commonName: row.taxon?.commonName ?? null,
      foundFrom: dayOf(row.foundFrom),
      receivedOn: dayOf(row.receivedOn),
      county: row.county,
      obstacle: accessionProblems([factsOf(row)], dayOf(row.receivedOn))[0]?.message ?? null,
    })),
    next,
  };
}

type Lot = Awaited<ReturnType<typeof lockLots>>[number];

const factsOf = (lot: Lot): LotFacts => ({
  salvageId: lot.id,
  number: lot.number,
  state: lot.state,
  accessionNumber: lot.accession?.number ?? null,
  coverage: lot.coverage,
  // A ruling may also say that no authority covers it.
  ruled: (lot.coverageRuling as { verdict?: string } | null)?.verdict === 'covered',
  receivedOn: dayOf(lot.receivedOn),
  openHolds: lot.holds.length,
});
