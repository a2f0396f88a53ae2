import type { Column } from '@/components/ui/data-list';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { sayDay } from '@/lib/platform/say-dates';
import { countOf, phrases, say, sayWord } from '@/lib/platform/words/say';
import type { ProcessRow } from '@/lib/storage/schema';

/** Whether it is late, too early, or when it is due. */
export function StayBadge({ stay }: { stay: ProcessRow['stay'] }) {
  if (stay.dueOn === null) return <>{stay.status === 'on-time' ? '' : sayWord(stay.status)}</>;
  if (stay.status === 'overdue') {
    return (
      <StateBadge tone="attention">
        {say('{of} overdue', { of: countOf(stay.overdueDays, 'day') })}
      </StateBadge>
    );
  }
  return <>{say('by {day}', { day: sayDay(stay.dueOn) })}</>;
}

/** Columns that every list of materials on their way has. */
export const PROCESS_COLUMNS: readonly Column<ProcessRow>[] = phrases(
  [
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
          {row.step?.name ?? say('not begun')}
          {row.step?.method ? `, ${row.step.method}` : ''}
        </>
      ),
    },
    { id: 'days', head: 'Since', unit: 'days', numeric: true, cell: (row) => row.stay.daysIn },
    { id: 'due', head: 'Due', cell: (row) => <StayBadge stay={row.stay} /> },
    { id: 'by', head: 'By', deskOnly: true, cell: (row) => row.step?.by ?? '' },
    { id: 'place', head: 'Where it lies', cell: (row) => row.place ?? say('no place noted') },
  ],
  ['unit'],
);
