import { phrases } from '@/lib/platform/words/say';
import {
  type outcomes,
  type ReportCounts,
  type ReportLine,
  reportCounts,
  type SalvageReport,
} from '../schema';
import type { Figure } from './figures';

/** How the book's numbers are headed on paper, in sheets and on screen. */
export const FIGURE_HEADS: Record<Figure, string> = phrases({
  opening: 'Carried over',
  late: 'Entered late',
  salvaged: 'Salvaged',
  received: 'Received',
  corrections: 'Corrected',
  reclassifiedIn: 'Renamed in',
  reclassifiedOut: 'Renamed out',
  transferred: 'Transferred',
  destroyed: 'Destroyed',
  released: 'Released',
  catalogued: 'Catalogued',
  onHand: 'On hand',
  acquired: 'Acquired',
  disposed: 'Disposed',
});
export const COUNTS = Object.keys(reportCounts.shape) as (keyof ReportCounts)[];

export const ORIGIN_WORDS: Record<ReportLine['origin'], string> = phrases({
  'carried-over': 'Carried over',
  'late-entry': 'Entered late',
  salvaged: 'Salvaged',
  received: 'Received',
  correction: 'By correction',
});

export const OUTCOME_WORDS: Record<(typeof outcomes)[number], string> = phrases({
  'on-hand': 'On hand',
  transferred: 'Transferred',
  destroyed: 'Destroyed',
  released: 'Released to an authority',
  catalogued: 'Catalogued',
  'corrected-away': 'Corrected away',
});

export const sayFound = ({ foundEarliestOn: from, foundLatestOn: until }: ReportLine): string =>
  from === until ? from : `${from} to ${until}`;

export const sayPlace = ({ county, subdivision, country }: ReportLine): string =>
  [county ?? 'county not recorded', subdivision, country].filter(Boolean).join(', ');

/** What became of a bird, in one sentence. */
export function sayOutcome({ outcome, outcomeOn, outcomeDetail }: ReportLine): string {
  const what = [OUTCOME_WORDS[outcome], outcomeOn].filter(Boolean).join(' ');
  return outcomeDetail === '' ? what : `${what}: ${outcomeDetail}`;
}

export const NIL_STATEMENT =
  'Nothing to report: under this permit no bird was acquired, held or disposed of in this period.';

type Part = { sign: '+' | '−' | '='; label: string; figure: keyof ReportCounts; value: number };

/** The balance as its parts, in order; columns that are always there, and others only when they hold something. */
export function equationParts({ total }: Pick<SalvageReport, 'total'>): Part[] {
  const part = (sign: Part['sign'], figure: keyof ReportCounts): Part => ({
    sign,
    figure,
    label: FIGURE_HEADS[figure].toLowerCase(),
    value: total[figure],
  });
  const sometimes = (sign: Part['sign'], figure: keyof ReportCounts) =>
    total[figure] === 0 ? [] : [part(sign, figure)];
  return [
    part('+', 'opening'),
    ...sometimes('+', 'late'),
    part('+', 'salvaged'),
    part('+', 'received'),
    ...sometimes('+', 'corrections'),
    part('−', 'transferred'),
    part('−', 'destroyed'),
    part('−', 'released'),
    ...sometimes('−', 'catalogued'),
    part('=', 'onHand'),
  ];
}
