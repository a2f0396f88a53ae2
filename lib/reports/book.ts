import 'server-only';
import { addDays, findClause, permit as permitShape } from '@/lib/permits/public';
import { dayIn, dayOf } from '@/lib/platform/clock';
import type { Tx } from '@/lib/platform/db';
import { findCountedBirds, findTaxonNames, findTimeZone } from './repo/ledger';
import { type FoundReport, findNames, findPreviousSigned } from './repo/reports';
import { computeReport } from './rules/ledger';
import type { ReportingTerms } from './rules/periods';
import { frozenReport, type LedgerInput, type SalvageReport, type StockEvent } from './schema';
import { type Reading, toHolding, toLedgerBird, toStockEvents } from './stock';

type PermitRow = FoundReport['permit'];

/** A permit's terms as the report needs them. */
export function termsOf(permit: PermitRow): ReportingTerms {
  return {
    effectiveOn: dayOf(permit.effectiveOn),
    expiresOn: lastDayOf(permit),
    clauses: permitShape.shape.clauses.parse(permit.clauses),
  };
}

/** An authority may have no end. */
const lastDayOf = ({ expiresOn }: { expiresOn: Date | null }): string | null =>
  expiresOn === null ? null : dayOf(expiresOn);

type Wanted = Pick<FoundReport, 'collectionId' | 'permit' | 'fromOn' | 'toOn'>;

/** The bird book of a permit and period as the database gives it, by all that was entered until `recordedThrough`. */
export async function computeBook(tx: Tx, wanted: Wanted, recordedThrough: Date): Promise<SalvageReport> {
  const { collectionId, permit } = wanted;
  const terms = termsOf(permit);
  const period = { fromOn: dayOf(wanted.fromOn), untilOn: dayOf(wanted.toOn) };
  const birds = await findCountedBirds(tx, collectionId, permit.id, period.untilOn);
  const timeZone = await findTimeZone(tx, collectionId);
  const reading: Reading = {
    authorityId: permit.id,
    ...terms,
    people: await findNames(
      tx,
      birds.map(({ loggedById }) => loggedById),
    ),
    taxa: await findTaxonNames(
      tx,
      birds.flatMap(({ bird }) => bird?.determinations.map(({ taxonId }) => taxonId) ?? []),
    ),
    dayAt: (at) => dayIn(timeZone, at),
  };
  const { previous, knew } = await previousOf(tx, permit.id, addDays(period.fromOn, -1));
  const clause = findClause(terms.clauses, 'cataloguing-is-disposition');
  return computeReport({
    authority: {
      id: permit.id,
      number: permit.number,
      title: permit.authority,
      effectiveOn: terms.effectiveOn,
      expiresOn: terms.expiresOn,
      cataloguingIsDisposition: clause?.isDisposition ?? null,
    },
    period,
    recordedThrough: recordedThrough.toISOString(),
    birds: birds.map((bird) => toLedgerBird(bird, reading)),
    events: birds.flatMap((bird) => {
      const events = toStockEvents(bird, reading);
      return previous === null || knew.has(bird.id) ? events : heardAfter(events, previous.recordedThrough);
    }),
    previous,
    holdings: birds.flatMap((bird) => toHolding(bird, period.untilOn, reading) ?? []),
  });
}

type Previous = { previous: LedgerInput['previous']; knew: ReadonlySet<string> };

/** The signed report of the period before, and the birds on its lines. */
async function previousOf(tx: Tx, permitId: string, lastDay: string): Promise<Previous> {
  const found = await findPreviousSigned(tx, permitId, lastDay);
  if (found === null) return { previous: null, knew: new Set() };
  const { report } = frozenReport.parse(found.frozen);
  return {
    previous: { versionId: found.id, recordedThrough: report.recordedThrough, closing: report.closing },
    knew: new Set(report.lines.map(({ birdId }) => birdId)),
  };
}

/**
 * A bird may be on file long before this permit counts it (a later ruling): what the report before did not have on a
 * line it had not heard of, whenever the record was written.
 */
function heardAfter(events: StockEvent[], recordedThrough: string): StockEvent[] {
  const next = new Date(Date.parse(recordedThrough) + 1).toISOString();
  return events.map((event) =>
    Date.parse(event.recordedAt) <= Date.parse(recordedThrough) ? { ...event, recordedAt: next } : event,
  );
}
