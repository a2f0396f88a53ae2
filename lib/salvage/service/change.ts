import 'server-only';
import { ensureShippedPacks } from '@/lib/permits/public';
import type { CommandContext } from '@/lib/platform/actor';
import { dateColumn, dayOf } from '@/lib/platform/clock';
import { forbidden, notValid } from '@/lib/platform/errors';
import { type Changes, differences } from '@/lib/platform/events';
import type { Work } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { salvageEvents } from '../events';
import { mayChangeFind } from '../policy';
import { type Find, type FindData, NO_RULING } from '../repo/records';
import { type ChangeFindRequest, type FindPlace, findFacts, type SalvageState } from '../schema';
import { type SalvageRecord, storedRuling } from '../wire';
import { findDayProblems, findQuantityProblems, findReferenceProblems, readPlace } from './check-input';
import { checkFind } from './coverage';
import { onRecord, save, subjectOf, todayOf } from './load';
import { refuseOfficerFacts } from './report';
import { factsOf, taxonOf } from './shape';
import { identifyAnew } from './triage';

/** Fields that say nothing about the authority of a find: changing them leaves a ruling as it is. */
const BESIDE_THE_LAW = new Set([
  'verbatimDate',
  'verbatimTaxon',
  'circumstances',
  'cause',
  'condition',
  'remarks',
]);

/**
 * Changes what is known of a find. Only what is named changes; every difference goes into the history, the find is checked
 * again, and a ruling made on other facts ends.
 * @throws AppError stale-version with the record as it stands; not-valid with each field that cannot be.
 */
export async function changeFind(
  context: CommandContext,
  id: string,
  request: ChangeFindRequest,
): Promise<SalvageRecord> {
  await ensureShippedPacks(context.actor.collectionId);
  return onRecord(
    context,
    id,
    { permission: 'salvage.change', version: request.version },
    async (work, find) => {
      const { actor } = work;
      if (!mayChangeFind(actor, { state: find.state as SalvageState, loggedById: find.loggedById })) {
        throw forbidden(
          say('Triage has begun; a preparator, curator, registrar or permit officer changes it now.'),
        );
      }
      refuseOfficerFacts(actor, request.facts ?? {}, factsOf(find));
      const next = await merge(work, find, request);
      const changes = differences(snapshotOf(find), snapshotOfNext(next, find));
      const renamed = find.bird !== null && next.taxonId !== (taxonOf(find)?.id ?? null);
      await save(work, find, {
        ...next.data,
        ...(find.bird === null ? { taxonId: next.taxonId, verbatimTaxon: next.verbatimTaxon } : {}),
        ...endedRuling(work, find, changes, renamed),
      });
      if (renamed && find.bird !== null) {
        await identifyAnew(
          work,
          { ...find, bird: find.bird },
          {
            taxonId: next.taxonId,
            verbatim: next.verbatimTaxon,
            from: taxonOf(find)?.scientificName ?? find.verbatimTaxon,
            reason: request.reason,
          },
        );
      }
      work.audit(
        salvageEvents.make('salvage.changed', subjectOf(find, request.reason), {
          number: find.number,
          changes,
        }),
      );
      await checkFind(work, id, 'facts');
    },
  );
}

type Next = { data: FindData; taxonId: string | null; verbatimTaxon: string };

async function merge(work: Work, find: Find, request: ChangeFindRequest): Promise<Next> {
  const found = request.found ?? {
    earliestOn: dayOf(find.foundFrom),
    latestOn: dayOf(find.foundTo),
    verbatim: find.verbatimDate ?? '',
  };
  const receivedOn = request.receivedOn ?? dayOf(find.receivedOn);
  const facts = findFacts.parse({ ...factsOf(find), ...request.facts });
  const quantity = request.quantity ?? find.quantity;
  const specimenType = request.specimenType ?? find.specimenType;
  const read = request.place === undefined ? null : readPlace(request.place);
  const problems = [
    ...findDayProblems({ found, receivedOn }, await todayOf(work)),
    ...findQuantityProblems({ specimenType, quantity }),
    ...(read?.problems ?? []),
    ...(await findReferenceProblems(work, {
      taxonId: request.taxonId,
      placeId: request.place?.placeId,
      finderPersonId: facts.finderPersonId,
    })),
  ];
  if (problems.length > 0) throw notValid(say('The record was not changed.'), problems);
  const { circumstances, cause, condition, bandNumber, diseaseSigns, suspectedIllegal, remarks } = request;
  return {
    taxonId: request.taxonId === undefined ? (taxonOf(find)?.id ?? null) : request.taxonId,
    verbatimTaxon: request.verbatimTaxon ?? taxonOf(find)?.scientificName ?? find.verbatimTaxon,
    data: {
      ...(read === null ? {} : read.place),
      foundFrom: dateColumn(found.earliestOn),
      foundTo: dateColumn(found.latestOn),
      verbatimDate: found.verbatim || null,
      receivedOn: dateColumn(receivedOn),
      specimenType,
      quantity,
      facts,
      circumstances,
      cause,
      condition,
      bandNumber,
      diseaseSigns,
      suspectedIllegal,
      remarks,
    },
  };
}

/** The fields of a find side by side, for the differences that go into the history. */
function snapshotOf(find: Find): Record<string, unknown> {
  const place: Record<keyof FindPlace, unknown> = {
    country: find.country,
    stateProvince: find.stateProvince,
    county: find.county,
    locality: find.locality,
    placeId: find.placeId,
    verbatimCoordinates: find.verbatimCoordinates,
    latitude: find.latitude,
    longitude: find.longitude,
    uncertaintyM: find.uncertaintyM,
  };
  return {
    ...place,
    ...factsOf(find),
    foundFrom: find.foundFrom,
    foundTo: find.foundTo,
    verbatimDate: find.verbatimDate,
    receivedOn: find.receivedOn,
    specimenType: find.specimenType,
    quantity: find.quantity,
    taxonId: taxonOf(find)?.id ?? null,
    verbatimTaxon: find.verbatimTaxon,
    circumstances: find.circumstances,
    cause: find.cause,
    condition: find.condition,
    bandNumber: find.bandNumber,
    diseaseSigns: find.diseaseSigns,
    suspectedIllegal: find.suspectedIllegal,
    remarks: find.remarks,
  };
}

function snapshotOfNext({ data, taxonId, verbatimTaxon }: Next, find: Find): Record<string, unknown> {
  const { facts, ...columns } = data;
  const known = Object.fromEntries(Object.entries(columns).filter(([, value]) => value !== undefined));
  return {
    ...known,
    ...findFacts.parse(facts),
    taxonId,
    verbatimTaxon: find.bird === null ? verbatimTaxon : find.verbatimTaxon,
  };
}

/** A ruling speaks of the facts it was made on. */
function endedRuling(work: Work, find: Find, changes: Changes, renamed: boolean): FindData {
  const ruling = storedRuling.safeParse(find.coverageRuling).data;
  const touched = renamed || Object.keys(changes).some((field) => !BESIDE_THE_LAW.has(field));
  if (ruling === undefined || !touched) return {};
  const subject = subjectOf(find, say('The facts it was made on have changed.'));
  work.audit(
    salvageEvents.make('salvage.ruling-ended', subject, { number: find.number, verdict: ruling.verdict }),
  );
  return { coverageRuling: NO_RULING };
}
