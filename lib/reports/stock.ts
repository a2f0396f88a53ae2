import { dayOf } from '@/lib/platform/clock';
import type { CountedBird } from './repo/ledger';
import type { Holding, LedgerBird, StockEvent } from './schema';

type Names = { people: Map<string, string>; taxa: Map<string, string> };
type Terms = { authorityId: string; effectiveOn: string; expiresOn: string };

/** How a person who found a bird stands in the frozen report: by reference, so that erasing contact data keeps it. */
const ON_FILE = 'finder, on file';

const nameAtFirst = (bird: CountedBird): string => bird.taxon?.scientificName ?? bird.verbatimTaxon;

/** What the report says of a counted bird beside its events. */
export function toLedgerBird(bird: CountedBird, names: Names, terms: Terms): LedgerBird {
  const outOfTerm = dayOf(bird.foundFrom) < terms.effectiveOn || dayOf(bird.foundTo) > terms.expiresOn;
  const ruling = bird.coverageRuling as { reason?: string } | null;
  return {
    birdId: bird.id,
    number: bird.number,
    parentBirdId: null,
    specimenType: bird.specimenType as LedgerBird['specimenType'],
    foundEarliestOn: dayOf(bird.foundFrom),
    foundLatestOn: dayOf(bird.foundTo),
    country: bird.country,
    subdivision: bird.stateProvince || null,
    county: bird.county || null,
    cause: bird.cause,
    salvager: bird.finderId !== null ? ON_FILE : (names.people.get(bird.loggedById ?? '') ?? null),
    bandNumber: bird.bandNumber,
    bandReportedOn: bird.bandReportedOn === null ? null : dayOf(bird.bandReportedOn),
    special: outOfTerm ? ['out-of-term'] : [],
    separateAuthority: ruling?.reason ?? null,
  };
}

type DispositionDetail = {
  recipient?: string;
  recipientAuthority?: string;
  method?: string;
  witness?: string;
  instruction?: string;
  recordedAt?: string;
};

/** A counted bird's history as dated stock events. */
export function toStockEvents(bird: CountedBird, names: Names, authorityId: string): StockEvent[] {
  const base = (id: string, on: string, recordedAt: Date | string) => ({
    eventId: `${bird.id}:${id}`,
    birdId: bird.id,
    authorityId,
    on,
    recordedAt: typeof recordedAt === 'string' ? recordedAt : recordedAt.toISOString(),
  });
  const events: StockEvent[] = [acquisition(bird, base)];
  const individual = bird.bird;
  if (individual === null) return events;
  let taxon = nameAtFirst(bird);
  for (const determination of individual.determinations) {
    const to = names.taxa.get(determination.taxonId ?? '') ?? determination.verbatim;
    if (to === taxon) continue;
    events.push({
      ...base(`named-${determination.id}`, dayOf(determination.determinedOn), determination.recordedAt),
      kind: 'identified-anew',
      fromTaxon: taxon,
      toTaxon: to,
    });
    taxon = to;
  }
  if (individual.bench?.finishedAt) {
    events.push({
      ...base('prepared', dayOf(individual.bench.finishedAt), individual.bench.finishedAt),
      kind: 'prepared',
      products: individual.materials.map(({ kind }) => kind).filter((kind) => kind !== 'carcass'),
    });
  }
  if (individual.catalogue !== null) {
    events.push({
      ...base('catalogued', dayOf(individual.catalogue.approvedAt), individual.catalogue.approvedAt),
      kind: 'catalogued',
      quantity: bird.quantity,
      catalogNumber: individual.catalogue.number,
    });
  }
  return [...events, ...loans(bird, base), ...disposal(bird, base)];
}

type Base = (
  id: string,
  on: string,
  recordedAt: Date | string,
) => Pick<StockEvent, 'eventId' | 'birdId' | 'authorityId' | 'on' | 'recordedAt'>;

function acquisition(bird: CountedBird, base: Base): StockEvent {
  const { accession } = bird;
  const common = { taxon: nameAtFirst(bird), quantity: bird.quantity };
  if (accession !== null && ['gift', 'exchange', 'purchase', 'transfer'].includes(accession.kind)) {
    return {
      ...base('received', dayOf(accession.receivedOn), bird.loggedAt),
      ...common,
      kind: 'received',
      from: accession.source,
      fromAuthority: null,
    };
  }
  return { ...base('salvaged', dayOf(bird.foundTo), bird.loggedAt), ...common, kind: 'salvaged' };
}

function loans(bird: CountedBird, base: Base): StockEvent[] {
  return (bird.bird?.materials ?? []).flatMap(({ loanLines }) =>
    loanLines.flatMap((line): StockEvent[] => {
      if (line.sentAt === null) return [];
      const lent = {
        ...base(`lent-${line.id}`, dayOf(line.sentAt), line.sentAt),
        kind: 'lent' as const,
        borrower: line.loan.borrower.institution,
      };
      if (line.outcome !== 'returned' || line.outcomeAt === null) return [lent];
      return [
        lent,
        { ...base(`back-${line.id}`, dayOf(line.outcomeAt), line.outcomeAt), kind: 'loan-returned' },
      ];
    }),
  );
}

function disposal(bird: CountedBird, base: Base): StockEvent[] {
  const individual = bird.bird;
  if (individual === null || individual.disposition === null || individual.disposedOn === null) return [];
  const detail = (individual.dispositionDetail ?? {}) as DispositionDetail;
  const common = {
    ...base('disposed', dayOf(individual.disposedOn), detail.recordedAt ?? individual.disposedOn),
    quantity: bird.quantity,
  };
  switch (individual.disposition) {
    case 'transferred':
      return [
        {
          ...common,
          kind: 'transferred',
          recipient: detail.recipient ?? 'not noted',
          recipientAuthority: detail.recipientAuthority ?? null,
        },
      ];
    case 'released':
      return [
        {
          ...common,
          kind: 'released',
          to: detail.recipient ?? 'not noted',
          instruction: detail.instruction ?? null,
        },
      ];
    default:
      return [
        { ...common, kind: 'destroyed', method: detail.method ?? null, witness: detail.witness ?? null },
      ];
  }
}

/** Where a bird's specimens are by the shelves' own records, on the closing day; null when it had left by then. */
export function toHolding(bird: CountedBird, untilOn: string): Holding | null {
  const individual = bird.bird;
  const gone = individual?.disposedOn != null && dayOf(individual.disposedOn) <= untilOn;
  if (gone) return null;
  const kept =
    individual?.materials.filter(({ custody }) => custody !== 'used-up' && custody !== 'deaccessioned') ?? [];
  const cataloguedBy = individual?.catalogue != null && dayOf(individual.catalogue.approvedAt) <= untilOn;
  return {
    birdId: bird.id,
    where: placeOf(individual?.state ?? 'in-custody', kept, cataloguedBy),
    quantity: bird.quantity,
    description: kept.map(({ kind }) => kind).join(', '),
  };
}

function placeOf(
  state: string,
  kept: { custody: string; kind: string; state: string | null }[],
  catalogued: boolean,
): Holding['where'] {
  if (kept.length > 0 && kept.every(({ custody }) => custody === 'missing')) return 'missing';
  if (kept.length > 0 && kept.every(({ custody }) => custody === 'on-loan')) return 'on-loan';
  if (catalogued) return 'catalogued';
  if (state === 'prepared') {
    return kept.some((material) => material.kind === 'skeleton' && material.state !== 'shelved')
      ? 'cleaning'
      : 'preparation';
  }
  return state === 'claimed' || state === 'thawing' || state === 'on-the-bench' ? 'preparation' : 'freezer';
}
