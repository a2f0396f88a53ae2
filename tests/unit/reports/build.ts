import type { LedgerBird, LedgerInput, StockEvent } from '@/lib/reports/schema';

export const authority: LedgerInput['authority'] = {
  id: 'permit-1',
  number: 'SB-1001',
  title: 'Salvage permit of the test museum',
  effectiveOn: '2023-01-01',
  expiresOn: '2025-12-31',
  cataloguingIsDisposition: false,
};

export function makeBird(birdId: string, changes: Partial<LedgerBird> = {}): LedgerBird {
  return {
    birdId,
    number: birdId,
    parentBirdId: null,
    specimenType: 'whole-bird',
    foundEarliestOn: '2024-05-01',
    foundLatestOn: '2024-05-01',
    country: 'US',
    subdivision: 'US-IL',
    county: 'Cook',
    cause: 'window-strike',
    salvager: 'Ada Finder',
    bandNumber: null,
    bandReportedOn: null,
    special: [],
    separateAuthority: null,
    ...changes,
  };
}

type Words<K extends StockEvent['kind']> = Omit<
  Extract<StockEvent, { kind: K }>,
  'eventId' | 'birdId' | 'authorityId' | 'on' | 'recordedAt' | 'kind' | 'quantity'
> &
  Partial<Pick<StockEvent, 'recordedAt' | 'authorityId'>> & { quantity?: number };

let counter = 0;

/** One event; recorded on its own day unless told otherwise. */
export function makeEvent<K extends StockEvent['kind']>(
  kind: K,
  birdId: string,
  on: string,
  words: Words<K>,
): StockEvent {
  counter += 1;
  return {
    eventId: `e${String(counter).padStart(6, '0')}`,
    birdId,
    authorityId: authority.id,
    on,
    recordedAt: `${on}T12:00:00Z`,
    ...(['salvaged', 'received', 'transferred', 'destroyed', 'released', 'catalogued'].includes(kind)
      ? { quantity: 1 }
      : {}),
    kind,
    ...words,
  } as unknown as StockEvent;
}

export function makeInput(year: number, changes: Partial<LedgerInput> = {}): LedgerInput {
  return {
    authority,
    period: { fromOn: `${year}-01-01`, untilOn: `${year}-12-31` },
    recordedThrough: '2030-01-01T00:00:00Z',
    birds: [],
    events: [],
    previous: null,
    holdings: null,
    ...changes,
  };
}
