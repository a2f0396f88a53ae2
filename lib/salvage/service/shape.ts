import 'server-only';
import { type HoldKind, legalCaution } from '@/lib/permits/public';
import type { Actor } from '@/lib/platform/actor';
import { dayOf } from '@/lib/platform/clock';
import type { Tx } from '@/lib/platform/db';
import { notFound } from '@/lib/platform/errors';
import { may } from '@/lib/platform/permissions';
import { say } from '@/lib/platform/words/say';
import { findAbilitiesOf, mayLiftHold } from '../policy';
import type { PageRow } from '../repo/list';
import { type Find, findNames, findRecord } from '../repo/records';
import { findCustodyGaps } from '../rules/custody';
import { holdRules } from '../rules/holds';
import { type FindFacts, findFacts, type SalvageState } from '../schema';
import { storedCoverage } from '../stored-coverage';
import { type SalvageRecord, type SalvageRow, storedRuling } from '../wire';

/** How the finder stands in the chain of custody: never by name. */
export const THE_FINDER = 'the finder';

export const factsOf = (find: Pick<Find, 'facts'>): FindFacts => findFacts.parse(find.facts);

/** The identification that stands: the bird's, once there is one. */
export const taxonOf = <T>(find: { taxon: T | null; bird: { taxon: T | null } | null }): T | null =>
  find.bird === null ? find.taxon : (find.bird.taxon ?? find.taxon);

export const openHolds = (find: Pick<Find, 'holds'>) =>
  find.holds.filter(({ liftedAt }) => liftedAt === null);

export const openKinds = (find: Pick<Find, 'holds'>): HoldKind[] =>
  openHolds(find).map(({ kind }) => kind as HoldKind);

/** The record as this person may see it. @throws AppError not-found outside the actor's collection. */
export async function loadRecord(tx: Tx, actor: Actor, id: string): Promise<SalvageRecord> {
  const find = await findRecord(tx, actor.collectionId, id);
  if (find === null) throw notFound(say('This salvage record'));
  const facts = factsOf(find);
  const names = await findNames(tx, [
    find.loggedById,
    facts.finderPersonId,
    ...find.holds.flatMap(({ placedBy, liftedBy }) => [placedBy, liftedBy]),
  ]);
  const nameOf = (personId: string | null) =>
    personId === null ? null : (names.get(personId) ?? say('somebody who left'));
  const ruling = storedRuling.safeParse(find.coverageRuling).data ?? null;
  return {
    ...toRow({ ...find, holds: openHolds(find) }),
    ...placeOf(actor, find),
    taxonId: taxonOf(find)?.id ?? null,
    verbatimTaxon: find.verbatimTaxon,
    verbatimDate: find.verbatimDate,
    circumstances: find.circumstances,
    bandNumber: find.bandNumber,
    bandReportedOn: find.bandReportedOn === null ? null : dayOf(find.bandReportedOn),
    diseaseSigns: find.diseaseSigns,
    suspectedIllegal: find.suspectedIllegal,
    remarks: find.remarks,
    facts,
    finder: finderStanding(find, facts),
    finderPerson: nameOf(facts.finderPersonId),
    receiptCode: find.receiptCode,
    loggedBy: nameOf(find.loggedById),
    custody: find.custody.map((step) => ({
      id: step.id,
      at: step.at.toISOString(),
      from: step.fromWhom,
      to: step.toWhom,
      note: step.note,
    })),
    custodyGaps: findCustodyGaps(
      null,
      find.custody.map((step) => ({
        fromName: step.fromWhom,
        toName: step.toWhom,
        on: dayOf(step.at),
        note: step.note ?? '',
      })),
    ),
    holdList: find.holds.map((hold) => {
      const rule = holdRules[hold.kind as HoldKind];
      return {
        id: hold.id,
        kind: hold.kind,
        reason: hold.reason,
        tellWhom: hold.tellWhom,
        placedAt: hold.placedAt.toISOString(),
        placedBy: nameOf(hold.placedBy),
        liftedAt: hold.liftedAt?.toISOString() ?? null,
        liftedBy: nameOf(hold.liftedBy),
        liftNote: hold.liftNote,
        document: hold.document,
        whatToDo: rule.whatToDo,
        liftedByRoles: rule.liftedBy,
        needsDocument: rule.needsDocument,
        mayLift: hold.liftedAt === null && mayLiftHold(actor, rule.kind),
      };
    }),
    check: checkOf(find),
    ruling,
    permit: find.permit,
    accession: find.accession,
    bird: find.bird === null ? null : { id: find.bird.id, state: find.bird.state },
    caution: legalCaution,
    version: find.version,
    abilities: abilitiesOf(actor, find),
  };
}

export function abilitiesOf(actor: Actor, find: Find) {
  return findAbilitiesOf(actor, {
    state: find.state as SalvageState,
    loggedById: find.loggedById,
    coverage: find.coverage,
    openHolds: openKinds(find),
    hasFinder: find.finder !== null && find.finder.erasedAt === null,
    hasUnreportedBand: find.bandNumber !== null && find.bandReportedOn === null,
  });
}

function finderStanding(find: Find, facts: FindFacts): SalvageRecord['finder'] {
  if (find.finder !== null) return find.finder.erasedAt === null ? 'on-file' : 'erased';
  return facts.finderPersonId === null ? 'none' : 'one-of-us';
}

/** The exact place, or only the names of county and state where the taxon is sensitive and the reader may not see it. */
function placeOf(actor: Actor, find: Find) {
  const exactPlace = may(actor, 'place.exact') || taxonOf(find)?.sensitive !== true;
  const { country } = find;
  if (!exactPlace) {
    return {
      country,
      exactPlace,
      locality: null,
      placeId: null,
      latitude: null,
      longitude: null,
      uncertaintyM: null,
      verbatimCoordinates: null,
    };
  }
  const { locality, placeId, latitude, longitude, uncertaintyM, verbatimCoordinates } = find;
  return { country, exactPlace, locality, placeId, latitude, longitude, uncertaintyM, verbatimCoordinates };
}

function checkOf(find: Find): SalvageRecord['check'] {
  const stored = storedCoverage.safeParse(find.coverageDetail).data;
  if (stored === undefined) return null;
  const { result } = stored;
  return {
    checkedAt: stored.checkedAt,
    groupSize: stored.groupSize,
    verdict: result.verdict,
    authority: result.authority,
    status: result.status,
    reasons: result.reasons,
    whoMustBeTold: result.whoMustBeTold,
    others: result.others.map(({ authority, verdict, reasons }) => ({
      title: authority.title,
      verdict,
      against: reasons,
    })),
  };
}

/** A row of the list. */
export function toRow(
  find: Omit<PageRow, 'bird' | 'holds'> & {
    bird: { id: string; taxon: PageRow['taxon'] } | null;
    holds: readonly { kind: string }[];
  },
): SalvageRow {
  const taxon = taxonOf(find);
  return {
    id: find.id,
    number: find.number,
    state: find.state as SalvageState,
    source: find.source,
    taxon: taxon?.scientificName ?? find.verbatimTaxon,
    commonName: taxon?.commonName ?? null,
    identified: taxon !== null,
    specimenType: find.specimenType,
    quantity: find.quantity,
    foundFrom: dayOf(find.foundFrom),
    foundTo: dayOf(find.foundTo),
    receivedOn: dayOf(find.receivedOn),
    stateProvince: find.stateProvince,
    county: find.county,
    cause: find.cause,
    condition: find.condition,
    coverage: find.coverage as SalvageRow['coverage'],
    ruled: find.coverageRuling !== null,
    holds: find.holds.map(({ kind }) => kind),
    loggedAt: find.loggedAt.toISOString(),
    birdId: find.bird?.id ?? null,
  };
}
