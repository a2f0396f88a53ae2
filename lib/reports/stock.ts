import { dayOf } from '@/lib/platform/clock';
import { describeHolding } from './holdings';
import type { CountedBird } from './repo/ledger';
import type { Holding, LedgerBird, StockEvent } from './schema';
import { separateAuthorityOf, specialStandingOf } from './standing';

/** What a bird's rows are read with. */
export type Reading = {
  authorityId: string;
  effectiveOn: string;
  expiresOn: string | null;
  people: Map<string, string>;
  taxa: Map<string, string>;
  /** The calendar day of an instant where the collection is. */
  dayAt: (at: Date) => string;
};

/** How a person who found a bird stands in the frozen report: by reference, so that erasing contact data keeps it. */
export const FINDER_ON_FILE = 'finder, on file';

const nameAtFirst = (bird: CountedBird): string => bird.taxon ?? bird.verbatimTaxon;

/** What the report says of a counted bird beside its events. */
export function toLedgerBird(bird: CountedBird, { people, effectiveOn, expiresOn }: Reading): LedgerBird {
  const [earliestOn, latestOn] = [dayOf(bird.foundFrom), dayOf(bird.foundTo)];
  const outOfTerm = earliestOn < effectiveOn || (expiresOn !== null && latestOn > expiresOn);
  return {
    birdId: bird.id,
    number: bird.number,
    parentBirdId: null,
    specimenType: bird.specimenType as LedgerBird['specimenType'],
    foundEarliestOn: earliestOn,
    foundLatestOn: latestOn,
    country: bird.country,
    subdivision: bird.stateProvince || null,
    county: bird.county || null,
    cause: bird.cause,
    salvager: bird.finderId !== null ? FINDER_ON_FILE : (people.get(bird.loggedById ?? '') ?? null),
    bandNumber: bird.bandNumber,
    bandReportedOn: bird.bandReportedOn === null ? null : dayOf(bird.bandReportedOn),
    special: [...specialStandingOf(bird.coverageDetail), ...(outOfTerm ? (['out-of-term'] as const) : [])],
    separateAuthority: separateAuthorityOf(bird.coverageRuling),
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

type Base = (
  id: string,
  on: string,
  recordedAt: Date | string,
) => Pick<StockEvent, 'eventId' | 'birdId' | 'authorityId' | 'on' | 'recordedAt'>;

/** A counted bird's history as dated stock events. */
export function toStockEvents(bird: CountedBird, reading: Reading): StockEvent[] {
  const base: Base = (id, on, recordedAt) => ({
    // A warning's id ends with its event's, behind a colon: none inside.
    eventId: `${bird.id}/${id}`,
    birdId: bird.id,
    authorityId: reading.authorityId,
    on,
    recordedAt: typeof recordedAt === 'string' ? recordedAt : recordedAt.toISOString(),
  });
  const acquired = acquisition(bird, base);
  const individual = bird.bird;
  if (individual === null) return [acquired];
  return [
    acquired,
    ...identifications(bird, acquired.on, reading.taxa, base),
    ...bench(individual, reading.dayAt, base),
    ...catalogued(bird, reading.dayAt, base),
    ...loans(bird, reading.dayAt, base),
    ...disposal(bird, base),
  ];
}

function acquisition(bird: CountedBird, base: Base): StockEvent {
  const { accession } = bird;
  const common = { taxon: nameAtFirst(bird), quantity: bird.quantity };
  if (accession !== null && ['gift', 'exchange', 'purchase', 'transfer'].includes(accession.kind)) {
    return {
      ...base('received', dayOf(accession.receivedOn), bird.loggedAt),
      ...common,
      kind: 'received',
      from: accession.source,
      fromAuthority: accession.agreement?.trim() || null,
    };
  }
  return { ...base('salvaged', dayOf(bird.foundTo), bird.loggedAt), ...common, kind: 'salvaged' };
}

/** Each name after the first. A name given before the bird was acquired counts from that day. */
function identifications(
  bird: CountedBird,
  acquiredOn: string,
  taxa: Map<string, string>,
  base: Base,
): StockEvent[] {
  const events: StockEvent[] = [];
  let taxon = nameAtFirst(bird);
  for (const determination of bird.bird?.determinations ?? []) {
    const to = taxa.get(determination.taxonId ?? '') ?? determination.verbatim;
    if (to === taxon) continue;
    const namedOn = dayOf(determination.determinedOn);
    events.push({
      ...base(
        `named-${determination.id}`,
        namedOn < acquiredOn ? acquiredOn : namedOn,
        determination.recordedAt,
      ),
      kind: 'identified-anew',
      fromTaxon: taxon,
      toTaxon: to,
    });
    taxon = to;
  }
  return events;
}

function bench(
  individual: NonNullable<CountedBird['bird']>,
  dayAt: Reading['dayAt'],
  base: Base,
): StockEvent[] {
  const finishedAt = individual.bench?.finishedAt;
  if (!finishedAt) return [];
  return [
    {
      ...base('prepared', dayAt(finishedAt), finishedAt),
      kind: 'prepared',
      products: individual.materials.map(({ kind }) => kind).filter((kind) => kind !== 'carcass'),
    },
  ];
}

function catalogued(bird: CountedBird, dayAt: Reading['dayAt'], base: Base): StockEvent[] {
  const entry = bird.bird?.catalogue;
  if (!entry) return [];
  return [
    {
      ...base('catalogued', dayAt(entry.approvedAt), entry.approvedAt),
      kind: 'catalogued',
      quantity: bird.quantity,
      catalogNumber: entry.number,
    },
  ];
}

function loans(bird: CountedBird, dayAt: Reading['dayAt'], base: Base): StockEvent[] {
  return (bird.bird?.materials ?? []).flatMap(({ loanLines }) =>
    loanLines.flatMap((line): StockEvent[] => {
      if (line.sentAt === null) return [];
      const lent: StockEvent = {
        ...base(`lent-${line.id}`, dayAt(line.sentAt), line.sentAt),
        kind: 'lent',
        borrower: line.borrower,
      };
      if (line.outcome !== 'returned' || line.outcomeAt === null) return [lent];
      return [
        lent,
        { ...base(`back-${line.id}`, dayAt(line.outcomeAt), line.outcomeAt), kind: 'loan-returned' },
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

/**
 * Where a bird's specimens are by the shelves' own records; null when it had left by the closing day. The number comes
 * from what is kept, not from the events: a bird none of whose materials is kept counts as 0.
 */
export function toHolding(bird: CountedBird, untilOn: string, reading: Reading): Holding | null {
  const individual = bird.bird;
  if (individual?.disposedOn != null && dayOf(individual.disposedOn) <= untilOn) return null;
  const isKept = individual?.materials.some(({ custody }) => !GONE.has(custody)) ?? true;
  return {
    birdId: bird.id,
    quantity: isKept || individual?.disposedOn != null ? bird.quantity : 0,
    ...describeHolding(individual, untilOn, reading.dayAt),
  };
}

const GONE: ReadonlySet<string> = new Set(['used-up', 'deaccessioned']);
