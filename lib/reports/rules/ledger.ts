import { addDays } from '@/lib/permits/public-rules';
import type {
  Holding,
  LedgerBird,
  LedgerInput,
  ReportLine,
  ReportWarning,
  SalvageReport,
  StockEvent,
} from '../schema';
import { checkRules } from './checks';
import { addCounts, describeEquation, rowsOf, totalsOf } from './totals';
import { type Course, compareText, stateAfter, type Walk, walkBird } from './walk';
import { listWarnings } from './warnings';

/** Numbers in the order people read them: 9 before 10. */
const byNumber = new Intl.Collator('en', { numeric: true });

function groupByBird<T extends { birdId: string }>(events: T[]): Map<string, T[]> {
  const byBird = new Map<string, T[]>();
  for (const event of events) {
    const own = byBird.get(event.birdId);
    if (own) own.push(event);
    else byBird.set(event.birdId, [event]);
  }
  return byBird;
}

/**
 * Parts count only when no parent is held: a part whose parent is in stock, under any authority, at the end of
 * the day the part was first entered is a derivative and has no stock of its own.
 */
function isDerivative(bird: LedgerBird, events: StockEvent[], parentWalks: Map<string, Walk[]>): boolean {
  if (bird.parentBirdId === null) return false;
  const firstOn = events.map((event) => event.on).sort()[0] ?? '';
  const walks = parentWalks.get(bird.parentBirdId) ?? [];
  return walks.some((walk) => stateAfter(walk, firstOn).stock > 0);
}

function walkParents(input: LedgerInput, known: StockEvent[]): Map<string, Walk[]> {
  const parents = new Set(input.birds.map((bird) => bird.parentBirdId));
  const byBird = groupByBird(known.filter((event) => parents.has(event.birdId)));
  const walks = new Map<string, Walk[]>();
  for (const bird of input.birds) {
    const events = byBird.get(bird.birdId);
    if (!events) continue;
    const authorities = new Set(events.map((event) => event.authorityId));
    const own = [...authorities].map((id) =>
      // A catalogued parent is still on the shelf, whatever this permit counts as a disposition.
      walkBird(
        bird,
        events.filter((event) => event.authorityId === id),
        false,
      ),
    );
    walks.set(bird.birdId, own);
  }
  return walks;
}

/** What the previous report had heard of; everything, when there is none. */
function heardThen(input: LedgerInput, events: StockEvent[]): StockEvent[] {
  const { previous } = input;
  if (previous === null) return events;
  const until = Date.parse(previous.recordedThrough);
  return events.filter((event) => Date.parse(event.recordedAt) <= until);
}

/** Follow a bird by what is known now, and up to the opening by what the previous report knew. */
function followBird(
  input: LedgerInput,
  bird: LedgerBird,
  events: StockEvent[],
  eventsThen: StockEvent[],
): Course & { walk: Walk } {
  const { period, authority } = input;
  const isDisposition = authority.cataloguingIsDisposition ?? false;
  const dayBefore = addDays(period.fromOn, -1);
  const walk = walkBird(bird, events, isDisposition);
  const beforeNow = stateAfter(walk, dayBefore);
  const unchanged = eventsThen.length === events.length;
  const walkThen = unchanged ? walk : walkBird(bird, eventsThen, isDisposition);
  return {
    bird,
    walk,
    before: stateAfter(walkThen, dayBefore),
    beforeNow,
    inPeriod: walk.steps.filter((step) => step.event.on >= period.fromOn),
    closing: stateAfter(walk, period.untilOn),
    acquiredEver: walk.steps.find((step) => step.movements.some((part) => part.delta > 0)),
    lastGone: walk.steps.findLast((step) =>
      step.movements.some((part) => part.delta < 0 && part.column !== 'reclassifiedOut'),
    ),
  };
}

function hasLine({ before, beforeNow, inPeriod }: Course): boolean {
  return before.stock > 0 || beforeNow.stock > 0 || inPeriod.some((step) => step.movements.length > 0);
}

function originOf(course: Course): Pick<ReportLine, 'origin' | 'originOn'> {
  const originOn = course.acquiredEver?.event.on ?? null;
  if (course.before.stock > 0) return { origin: 'carried-over', originOn };
  if (course.beforeNow.stock > 0) return { origin: 'late-entry', originOn };
  const first = course.inPeriod.find((step) => step.movements.some((part) => part.delta > 0));
  const kind = first?.event.kind;
  const origin = kind === 'salvaged' || kind === 'received' ? kind : 'correction';
  return { origin, originOn: first?.event.on ?? originOn };
}

function describeDisposal(event: StockEvent): string {
  switch (event.kind) {
    case 'transferred':
      return `to ${event.recipient} (${event.recipientAuthority ?? 'authority not recorded'})`;
    case 'destroyed':
      return `${event.method ?? 'method not recorded'}, witness ${event.witness ?? 'not recorded'}`;
    case 'released':
      return `to ${event.to}${event.instruction ? `, instruction ${event.instruction}` : ''}`;
    case 'catalogued':
      return event.catalogNumber;
    case 'corrected':
      return event.reason;
    default:
      return '';
  }
}

function outcomeOf(
  course: Course,
  held: Holding[],
): Pick<ReportLine, 'outcome' | 'outcomeOn' | 'outcomeDetail'> {
  if (course.closing.stock > 0) {
    const outcomeDetail = held.map((entry) => entry.description || entry.where).join('; ');
    return { outcome: 'on-hand', outcomeOn: null, outcomeDetail };
  }
  const last = course.lastGone;
  const kind = last?.event.kind;
  const gone = kind === 'transferred' || kind === 'destroyed' || kind === 'released' || kind === 'catalogued';
  return {
    outcome: gone ? kind : 'corrected-away',
    outcomeOn: last?.event.on ?? null,
    outcomeDetail: last ? describeDisposal(last.event) : '',
  };
}

function makeLine(course: Course, held: Holding[]): ReportLine {
  const { bird, before, beforeNow, closing } = course;
  const parts = course.inPeriod.flatMap((step) => step.movements);
  const sum = (...names: string[]) =>
    parts.filter((part) => names.includes(part.column)).reduce((total, part) => total + part.delta, 0);
  const { parentBirdId: _parent, bandReportedOn: _reported, ...shown } = bird;
  return {
    ...shown,
    ...originOf(course),
    ...outcomeOf(course, held),
    taxon: closing.taxon ?? before.taxon ?? 'not recorded',
    taxonThen: before.stock > 0 ? before.taxon : null,
    taxonAtOpening: beforeNow.stock > 0 ? beforeNow.taxon : null,
    opening: before.stock,
    late: beforeNow.stock - before.stock,
    acquired: sum('salvaged', 'received'),
    corrections: sum('corrections'),
    disposed: 0 - sum('transferred', 'destroyed', 'released', 'catalogued'),
    onHand: closing.stock,
    identificationChanges: course.inPeriod.flatMap((step) => {
      const out = step.movements.find((part) => part.column === 'reclassifiedOut');
      const into = step.movements.find((part) => part.column === 'reclassifiedIn');
      return out && into ? [{ on: step.event.on, fromTaxon: out.taxon, toTaxon: into.taxon }] : [];
    }),
  };
}

/**
 * The bird book of one authority and period: each bird with stock or movement on exactly one line, rows by
 * taxon and specimen type, totals, the equation, the nine arithmetic rules checked, and what must be explained.
 * Events recorded after `recordedThrough` are not heard. Counts are specimens.
 */
export function computeReport(input: LedgerInput): SalvageReport {
  const { authority, period, birds, previous } = input;
  const heard = input.events.filter(
    (event) =>
      event.on <= period.untilOn && Date.parse(event.recordedAt) <= Date.parse(input.recordedThrough),
  );
  const byBird = groupByBird(heard.filter((event) => event.authorityId === authority.id));
  const parentWalks = walkParents(input, heard);
  const parentWalksThen = previous ? walkParents(input, heardThen(input, heard)) : parentWalks;
  const walkWarnings: ReportWarning[] = [];
  const courses: Course[] = [];
  for (const bird of birds) {
    const own = byBird.get(bird.birdId) ?? [];
    const ownThen = heardThen(input, own);
    // A parent entered late, or gone by a late entry, changes whether its part counts: that shows as late too.
    const events = isDerivative(bird, own, parentWalks) ? [] : own;
    const eventsThen = isDerivative(bird, ownThen, parentWalksThen) ? [] : ownThen;
    if (events.length + eventsThen.length === 0) continue;
    const { walk, ...course } = followBird(input, bird, events, eventsThen);
    const inPeriodIds = new Set(course.inPeriod.map((step) => step.event.eventId));
    walkWarnings.push(
      ...walk.warnings.filter((warning) => inPeriodIds.has(warning.id.split(':').at(-1) ?? '')),
    );
    courses.push(course);
  }
  const listed = courses.filter(hasLine).sort((a, b) => byNumber.compare(a.bird.number, b.bird.number));
  const holdings = groupByBird(input.holdings ?? []);
  const lines = listed.map((course) => makeLine(course, holdings.get(course.bird.birdId) ?? []));
  const movements = listed
    .flatMap((course) => course.inPeriod.flatMap((step) => step.movements))
    .sort((a, b) => compareText(a.on, b.on) || compareText(a.eventId, b.eventId));
  const rows = rowsOf(listed, movements);
  const total = addCounts(rows);
  const checks = checkRules({ input, heard, courses: listed, lines, rows, movements, total });
  return {
    authority,
    period,
    recordedThrough: input.recordedThrough,
    previousVersionId: previous?.versionId ?? null,
    nil: movements.length === 0 && total.onHand === 0 && total.opening === 0 && total.late === 0,
    lines,
    movements,
    rows,
    total,
    equation: describeEquation(total),
    ...totalsOf(lines, movements),
    closing: rows
      .filter((row) => row.onHand !== 0)
      .map((row) => ({ taxon: row.taxon, specimenType: row.specimenType, quantity: row.onHand })),
    checks,
    warnings: listWarnings({ input, heard, courses: listed, lines, checks, walkWarnings }),
  };
}
