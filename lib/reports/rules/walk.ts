import type { LedgerBird, Movement, ReportWarning, StockEvent } from '../schema';

/** Within a day, what came is counted before what it became, and that before what went. */
const orderWithinDay: Record<StockEvent['kind'], number> = {
  salvaged: 0,
  received: 0,
  corrected: 1,
  'identified-anew': 2,
  prepared: 3,
  lent: 3,
  'loan-returned': 3,
  catalogued: 4,
  transferred: 5,
  destroyed: 5,
  released: 5,
};

/** By code unit: fast, and the same on every machine. */
export function compareText(a: string, b: string): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}

/** The one order of a bird's events: by day, by kind, then as recorded. */
export function sortEvents(events: StockEvent[]): StockEvent[] {
  return [...events].sort(
    (a, b) =>
      compareText(a.on, b.on) ||
      orderWithinDay[a.kind] - orderWithinDay[b.kind] ||
      Date.parse(a.recordedAt) - Date.parse(b.recordedAt) ||
      compareText(a.eventId, b.eventId),
  );
}

export type WalkState = { stock: number; taxon: string | null };
export type Step = { event: StockEvent; movements: Movement[]; after: WalkState };
export type Walk = { steps: Step[]; warnings: ReportWarning[] };

export function makeWarning(
  code: string,
  birdId: string,
  message: string,
  mustExplain = true,
  suffix = '',
): ReportWarning {
  const id = [code, birdId, suffix].filter((part) => part !== '').join(':');
  return { id, code, message, birdIds: [birdId], mustExplain };
}

type Effect = {
  parts: Pick<Movement, 'column' | 'taxon' | 'delta'>[];
  taxon: string | null;
  warning?: string;
};
const none = (taxon: string | null, warning?: string): Effect => ({ parts: [], taxon, warning });

function acquire(event: Extract<StockEvent, { kind: 'salvaged' | 'received' }>, state: WalkState): Effect {
  if (state.stock > 0) return none(state.taxon, 'acquired-twice');
  return {
    parts: [{ column: event.kind, taxon: event.taxon, delta: event.quantity }],
    taxon: event.taxon,
  };
}

function correct(event: Extract<StockEvent, { kind: 'corrected' }>, state: WalkState): Effect {
  const taxon = state.stock > 0 && state.taxon !== null ? state.taxon : event.taxon;
  const delta = Math.max(event.delta, -state.stock);
  const warning = delta === event.delta ? undefined : 'corrected-below-zero';
  return { parts: delta === 0 ? [] : [{ column: 'corrections', taxon, delta }], taxon, warning };
}

function reclassify(event: Extract<StockEvent, { kind: 'identified-anew' }>, state: WalkState): Effect {
  if (state.stock === 0 || state.taxon === null) return none(state.taxon, 'identified-while-not-held');
  if (state.taxon === event.toTaxon) return none(state.taxon);
  return {
    parts: [
      { column: 'reclassifiedOut', taxon: state.taxon, delta: -state.stock },
      { column: 'reclassifiedIn', taxon: event.toTaxon, delta: state.stock },
    ],
    taxon: event.toTaxon,
    warning: state.taxon === event.fromTaxon ? undefined : 'identification-mismatch',
  };
}

function dispose(
  event: Extract<StockEvent, { kind: 'transferred' | 'destroyed' | 'released' | 'catalogued' }>,
  state: WalkState,
): Effect {
  const leaving = Math.min(event.quantity, state.stock);
  const warning = leaving === event.quantity ? undefined : 'disposed-more-than-held';
  if (leaving === 0 || state.taxon === null) return none(state.taxon, warning);
  return {
    parts: [{ column: event.kind, taxon: state.taxon, delta: -leaving }],
    taxon: state.taxon,
    warning,
  };
}

function effectOf(event: StockEvent, state: WalkState, cataloguingIsDisposition: boolean): Effect {
  switch (event.kind) {
    case 'salvaged':
    case 'received':
      return acquire(event, state);
    case 'corrected':
      return correct(event, state);
    case 'identified-anew':
      return reclassify(event, state);
    case 'transferred':
    case 'destroyed':
    case 'released':
      return dispose(event, state);
    case 'catalogued':
      return cataloguingIsDisposition ? dispose(event, state) : none(state.taxon);
    case 'prepared':
    case 'lent':
    case 'loan-returned':
      return none(state.taxon);
  }
}

const warningWords: Record<string, string> = {
  'acquired-twice': 'is entered as acquired while already held; counted once',
  'corrected-below-zero': 'is corrected to less than nothing; counted to zero',
  'identified-while-not-held': 'is identified anew while not held; the count does not move',
  'identification-mismatch':
    'is identified anew from another name than it had; counted out of the name it had',
  'disposed-more-than-held': 'leaves in a larger number than was held; counted as far as held',
};

/**
 * Follow one bird through its events of one authority. Stock never falls below zero and a bird that is held
 * is not acquired again: what does not fit is not counted, and a warning says so.
 */
export function walkBird(bird: LedgerBird, events: StockEvent[], cataloguingIsDisposition: boolean): Walk {
  const steps: Step[] = [];
  const warnings: ReportWarning[] = [];
  let state: WalkState = { stock: 0, taxon: null };
  for (const event of sortEvents(events)) {
    const { parts, taxon, warning } = effectOf(event, state, cataloguingIsDisposition);
    const movements = parts.map((part) => ({
      ...part,
      eventId: event.eventId,
      birdId: bird.birdId,
      on: event.on,
      specimenType: bird.specimenType,
    }));
    state = { taxon, stock: state.stock + parts.reduce((sum, part) => sum + part.delta, 0) };
    steps.push({ event, movements, after: state });
    if (warning) {
      const message = `${bird.number} ${warningWords[warning]} (${event.on})`;
      warnings.push(makeWarning(warning, bird.birdId, message, true, event.eventId));
    }
  }
  return { steps, warnings };
}

/** The stock at the end of a day (or before the first event: nothing). */
export function stateAfter(walk: Walk, untilOn: string): WalkState {
  return walk.steps.filter((step) => step.event.on <= untilOn).at(-1)?.after ?? { stock: 0, taxon: null };
}

/** A bird's course through the period: what was known before, what was added late, what happened in it. */
export type Course = {
  bird: LedgerBird;
  before: WalkState;
  beforeNow: WalkState;
  inPeriod: Step[];
  closing: WalkState;
  acquiredEver: Step | undefined;
  lastGone: Step | undefined;
};
