import type { Tone } from '@/components/ui/colours';
import { queryString } from '@/lib/platform/api';
import { paths } from '@/lib/platform/paths';
import { phrases } from '@/lib/platform/words/say';
import type { ReportState } from '@/lib/reports/schema';
import type { LineQuery, ReportDue } from '@/lib/reports/wire';

export const STATE_TONES: Record<ReportState, Tone> = {
  open: 'attention',
  ready: 'lead',
  signed: 'settled',
  amended: 'neutral',
};

export const STATE_WORDS: Record<ReportState, string> = phrases({
  open: 'Open',
  ready: 'Ready to sign',
  signed: 'Signed',
  amended: 'Replaced by an amended edition',
});

export const STANDING_TONES: Record<ReportDue['standing'], Tone> = {
  overdue: 'stop',
  due: 'attention',
  'under-way': 'neutral',
};

export const STANDING_WORDS: Record<ReportDue['standing'], string> = phrases({
  overdue: 'Overdue',
  due: 'Year has ended',
  'under-way': 'Year under way',
});

export type Drill = Partial<Omit<LineQuery, 'size' | 'after'>>;

/** Address of the birds behind a number. */
export const drillPath = (id: string, filter: Drill): string =>
  `${paths.report(id)}${queryString(filter)}#birds`;
