import type { Column } from '@/components/ui/data-list';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { countOf, sayWord } from '@/components/ui/words';
import { sayDay } from '@/lib/platform/say-dates';
import type { ProcessRow } from '@/lib/storage/schema';

/** Whether it is late, too early, or when it is due. */
export function StayBadge({ stay }: { stay: ProcessRow['stay'] }) {
  if (stay.dueOn === null) return <>{stay.status === 'on-time' ? '' : sayWord(stay.status)}</>;
  if (stay.status === 'overdue') {
    return <StateBadge tone="attention">{countOf(stay.overdueDays, 'day')} overdue</StateBadge>;
  }
  return <>by {sayDay(stay.dueOn)}</>;
}

/** Columns that every list of materials on their way has. */
export const PROCESS_COLUMNS: readonly Column<ProcessRow>[] = [
  {
    id: 'material',
    head: 'Material',
    cell: (row) => (
      <>
        {row.label}
        <br />
        <TaxonName scientific={row.scientificName} common={row.commonName} />
      </>
    ),
  },
  {
    id: 'step',
    head: 'Step',
    cell: (row) => (
      <>
        {row.step?.name ?? 'not begun'}
        {row.step?.method ? `, ${row.step.method}` : ''}
      </>
    ),
  },
  { id: 'days', head: 'Since', unit: 'days', numeric: true, cell: (row) => row.stay.daysIn },
  { id: 'due', head: 'Due', cell: (row) => <StayBadge stay={row.stay} /> },
  { id: 'by', head: 'By', deskOnly: true, cell: (row) => row.step?.by ?? '' },
  { id: 'place', head: 'Where it lies', cell: (row) => row.place ?? 'no place noted' },
];
