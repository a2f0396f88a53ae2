import {
  type Column,
  type Movement,
  outcomes,
  type ReportCounts,
  type ReportLine,
  type ReportRow,
  type SalvageReport,
} from '../schema';
import type { Course } from './walk';

const disposals: readonly Column[] = ['transferred', 'destroyed', 'released', 'catalogued'];
/** Columns that leave the stock are shown as positive numbers. */
const outgoing: readonly Column[] = [...disposals, 'reclassifiedOut'];

export function isDisposal(column: Column): boolean {
  return disposals.includes(column);
}

export function isAcquisition(column: Column): boolean {
  return column === 'salvaged' || column === 'received';
}

export function emptyCounts(): ReportCounts {
  return {
    opening: 0,
    late: 0,
    salvaged: 0,
    received: 0,
    corrections: 0,
    reclassifiedIn: 0,
    reclassifiedOut: 0,
    transferred: 0,
    destroyed: 0,
    released: 0,
    catalogued: 0,
    onHand: 0,
  };
}

/** What the columns say must be there: opening + late + what came − what went. */
export function expectedOnHand(counts: ReportCounts): number {
  const came = counts.salvaged + counts.received + counts.corrections + counts.reclassifiedIn;
  const went =
    counts.reclassifiedOut + counts.transferred + counts.destroyed + counts.released + counts.catalogued;
  return counts.opening + counts.late + came - went;
}

/** Sum of rows, column by column. */
export function addCounts(rows: ReportCounts[]): ReportCounts {
  const total = emptyCounts();
  for (const row of rows) {
    for (const key of Object.keys(total) as (keyof ReportCounts)[]) total[key] += row[key];
  }
  return total;
}

/** The equation in words and numbers, as shown and printed. */
export function describeEquation(counts: ReportCounts): string {
  const parts = [
    `${counts.opening} carried over`,
    ...(counts.late === 0 ? [] : [`${counts.late} entered late`]),
    `${counts.salvaged} salvaged`,
    `${counts.received} received`,
    `${counts.corrections} corrected`,
  ];
  const went = [
    `${counts.transferred} transferred`,
    `${counts.destroyed} destroyed`,
    `${counts.released} released`,
    ...(counts.catalogued === 0 ? [] : [`${counts.catalogued} catalogued`]),
  ];
  return `${parts.join(' + ')} − ${went.join(' − ')} = ${expectedOnHand(counts)} on hand`;
}

/**
 * Rows by taxon and specimen type. Opening and on hand are counted from the birds, the columns between from
 * the movements, so that the equation is a check and not a definition.
 */
export function rowsOf(courses: Course[], movements: Movement[]): ReportRow[] {
  const rows = new Map<string, ReportRow>();
  const rowFor = (taxon: string, specimenType: ReportRow['specimenType']): ReportRow => {
    const key = `${taxon}\n${specimenType}`;
    const known = rows.get(key);
    if (known) return known;
    const row = { taxon, specimenType, ...emptyCounts() };
    rows.set(key, row);
    return row;
  };
  for (const { bird, before, beforeNow, closing } of courses) {
    if (before.taxon !== null && before.stock > 0) {
      rowFor(before.taxon, bird.specimenType).opening += before.stock;
      rowFor(before.taxon, bird.specimenType).late -= before.stock;
    }
    if (beforeNow.taxon !== null && beforeNow.stock > 0) {
      rowFor(beforeNow.taxon, bird.specimenType).late += beforeNow.stock;
    }
    if (closing.taxon !== null && closing.stock > 0) {
      rowFor(closing.taxon, bird.specimenType).onHand += closing.stock;
    }
  }
  for (const part of movements) {
    const sign = outgoing.includes(part.column) ? -1 : 1;
    rowFor(part.taxon, part.specimenType)[part.column] += sign * part.delta;
  }
  return [...rows.values()].sort(
    (a, b) => a.taxon.localeCompare(b.taxon, 'en') || a.specimenType.localeCompare(b.specimenType),
  );
}

type Totals = Pick<SalvageReport, 'byCounty' | 'byMonth' | 'byDisposition'>;
type GroupTotal = Totals['byCounty'][number];

function sortedTotals(groups: Map<string, GroupTotal>): GroupTotal[] {
  return [...groups.values()].sort((a, b) => a.key.localeCompare(b.key, 'en'));
}

/** The county a line is counted under, as the totals name it. */
export function countyKey(line: Pick<ReportLine, 'subdivision' | 'country' | 'county'>): string {
  return [line.subdivision ?? line.country, line.county ?? 'county not recorded'].join(', ');
}

/** Totals by county and disposition from the lines, by month from the movements. */
export function totalsOf(lines: ReportLine[], movements: Movement[]): Totals {
  const counties = new Map<string, GroupTotal>();
  for (const line of lines) {
    const key = countyKey(line);
    const total = counties.get(key) ?? { key, acquired: 0, disposed: 0, onHand: 0 };
    total.acquired += line.acquired;
    total.disposed += line.disposed;
    total.onHand = (total.onHand ?? 0) + line.onHand;
    counties.set(key, total);
  }
  const months = new Map<string, GroupTotal>();
  for (const part of movements) {
    const key = part.on.slice(0, 7);
    const total = months.get(key) ?? { key, acquired: 0, disposed: 0, onHand: null };
    if (isAcquisition(part.column)) total.acquired += part.delta;
    if (isDisposal(part.column)) total.disposed -= part.delta;
    months.set(key, total);
  }
  const byDisposition = outcomes.map((key) => {
    if (key === 'on-hand') return { key, quantity: lines.reduce((sum, line) => sum + line.onHand, 0) };
    const column: Column = key === 'corrected-away' ? 'corrections' : key;
    const gone = movements.filter((part) => part.column === column && part.delta < 0);
    return { key, quantity: gone.reduce((sum, part) => sum - part.delta, 0) };
  });
  return { byCounty: sortedTotals(counties), byMonth: sortedTotals(months), byDisposition };
}
