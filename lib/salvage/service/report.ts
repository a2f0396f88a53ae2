import 'server-only';
import { ensureShippedPacks } from '@/lib/permits/public';
import { type Actor, authorise, type CommandContext } from '@/lib/platform/actor';
import { dateColumn } from '@/lib/platform/clock';
import { db, type Tx } from '@/lib/platform/db';
import { AppError, forbidden, notValid } from '@/lib/platform/errors';
import { may } from '@/lib/platform/permissions';
import { takeNumber } from '@/lib/platform/sequence';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { salvageEvents } from '../events';
import { OFFICER_FACTS } from '../policy';
import {
  findByClientKey,
  findNumber,
  insertCustody,
  insertFinder,
  insertRecord,
  takeTurn,
} from '../repo/records';
import { type FinderContact, type FindFacts, findFacts, type ReportFindRequest } from '../schema';
import type { SalvageRecord } from '../wire';
import { findDayProblems, findQuantityProblems, findReferenceProblems, readPlace } from './check-input';
import { checkFind } from './coverage';
import { todayOf } from './load';
import { loadRecord, THE_FINDER } from './shape';

/** @throws AppError forbidden when a document of an office is entered by somebody who is not an officer. */
export function refuseOfficerFacts(actor: Actor, facts: Partial<FindFacts>, before?: FindFacts): void {
  if (may(actor, 'coverage.rule')) return;
  const nothing = findFacts.parse({});
  const touched = OFFICER_FACTS.some(
    (key) =>
      facts[key] !== undefined && JSON.stringify(facts[key]) !== JSON.stringify((before ?? nothing)[key]),
  );
  if (touched) throw forbidden(say('What an office put in writing is entered by a permit officer.'));
}

/** What is told of a find that was logged, now or by an earlier delivery of the same report. */
type Tell<T> = (tx: Tx, actor: Actor, id: string) => Promise<T>;

/**
 * Logs a found bird: it gets its number, its first step of custody and a coverage check. A report that is delivered
 * twice under one key makes one record.
 * @throws AppError not-valid with each field that cannot be.
 */
export const reportFind = (context: CommandContext, request: ReportFindRequest): Promise<SalvageRecord> =>
  reportOnce(context, request, loadRecord);

/** As `reportFind`, for whoever takes in many and shows none: answers the record's id and number. */
export const takeInFind = (
  context: CommandContext,
  request: ReportFindRequest,
): Promise<{ id: string; number: string }> => reportOnce(context, request, findNumber);

async function reportOnce<T>(context: CommandContext, request: ReportFindRequest, tell: Tell<T>): Promise<T> {
  const { actor } = context;
  authorise(actor, 'salvage.log');
  refuseOfficerFacts(actor, request.facts);
  await ensureShippedPacks(actor.collectionId);
  const earlier = await tellEarlier(actor, request.requestKey, tell);
  if (earlier !== null) return earlier;
  try {
    // Told inside the transaction, so that the answer is kept with it: a phone that sends again is told all of it.
    return await withTx(context, async (work) =>
      tell(work.db, actor, await logFind(work, request, { source: 'staff' })),
    );
  } catch (error) {
    // Two deliveries at the same moment: the other one made the record.
    if (!(error instanceof AppError) || error.code !== 'conflict') throw error;
    const made = await tellEarlier(actor, request.requestKey, tell);
    if (made === null) throw error;
    return made;
  }
}

async function tellEarlier<T>(actor: Actor, requestKey: string, tell: Tell<T>): Promise<T | null> {
  const known = await findByClientKey(db(), actor.collectionId, requestKey);
  return known === null ? null : tell(db(), actor, known.id);
}

type Origin = { source: 'staff' | 'drop-off'; slip?: { id: string; label: string }; receiptCode?: string };

/** Writes a find and all that belongs to it, inside the caller's transaction. */
export async function logFind(work: Work, request: ReportFindRequest, origin: Origin): Promise<string> {
  const { collectionId } = work.actor;
  await takeTurn(work.db, collectionId);
  const today = await todayOf(work);
  const receivedOn = request.receivedOn ?? today;
  const facts = findFacts.parse(request.facts);
  const read = readPlace(request.place);
  const problems = [
    ...findDayProblems({ found: request.found, receivedOn }, today),
    ...findQuantityProblems(request),
    ...read.problems,
    ...(await findReferenceProblems(work, {
      taxonId: request.taxonId,
      placeId: request.place.placeId,
      finderPersonId: facts.finderPersonId,
    })),
  ];
  if (problems.length > 0) throw notValid(say('The find was not saved.'), problems);
  const number = await takeNumber(work, 'salvage');
  const { place } = read;
  const { id } = await insertRecord(work.db, {
    ...place,
    collectionId,
    number,
    source: origin.source,
    slipId: origin.slip?.id ?? null,
    receiptCode: origin.receiptCode ?? null,
    clientKey: request.requestKey,
    specimenType: request.specimenType,
    quantity: request.quantity,
    taxonId: request.taxonId,
    verbatimTaxon: request.verbatimTaxon,
    foundFrom: dateColumn(request.found.earliestOn),
    foundTo: dateColumn(request.found.latestOn),
    verbatimDate: request.found.verbatim || null,
    receivedOn: dateColumn(receivedOn),
    circumstances: request.circumstances,
    cause: request.cause,
    condition: request.condition,
    bandNumber: request.bandNumber,
    diseaseSigns: request.diseaseSigns,
    suspectedIllegal: request.suspectedIllegal,
    remarks: request.remarks,
    facts,
    finderId: await keepFinder(work, request.finder, facts),
    loggedById: work.actor.personId,
    loggedAt: work.now,
  });
  await insertCustody(work.db, {
    salvageId: id,
    at: receivedOn === today ? work.now : new Date(`${receivedOn}T12:00:00Z`),
    fromWhom: THE_FINDER,
    toWhom: origin.slip?.label ?? work.actor.name,
    note: null,
    recordedBy: work.actor.personId,
  });
  work.audit(
    salvageEvents.make(
      'salvage.logged',
      { subjectType: 'salvage', subjectId: id },
      {
        number,
        source: origin.source,
        taxon: request.verbatimTaxon,
        specimenType: request.specimenType,
        quantity: request.quantity,
        foundFrom: request.found.earliestOn,
        foundTo: request.found.latestOn,
        county: place.county,
        locality: place.locality,
      },
    ),
  );
  await checkFind(work, id, 'facts');
  return id;
}

/** Contact data are kept for finders from outside only. */
async function keepFinder(
  work: Work,
  finder: FinderContact | null,
  facts: FindFacts,
): Promise<string | null> {
  if (finder === null || facts.finderPersonId !== null) return null;
  if (Object.values(finder).every((value) => value === null)) return null;
  const { id } = await insertFinder(work.db, { ...finder, collectionId: work.actor.collectionId });
  return id;
}
