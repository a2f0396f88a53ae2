import type { Column } from '@/components/ui/data-list-shape';
import { TaxonName } from '@/components/ui/taxon-name';
import type { SearchColumn, SearchRow } from '@/lib/catalogue/search-wire';
import { sayDay, sayDays } from '@/lib/platform/say-dates';
import { phrases, say, sayWord } from '@/lib/platform/words/say';
import { StageBadge } from './stage-badge';

const orNothing = (text: string | null) => text ?? '';

/** Columns that one can choose; the first, the number and the taxon, always stands there. */
export const CHOOSABLE: readonly { id: SearchColumn; label: string }[] = phrases([
  { id: 'stage', label: 'Where it is' },
  { id: 'sex', label: 'Sex' },
  { id: 'age', label: 'Age' },
  { id: 'found', label: 'Found' },
  { id: 'county', label: 'County' },
  { id: 'stateProvince', label: 'State or province' },
  { id: 'locality', label: 'Place' },
  { id: 'materials', label: 'Materials' },
  { id: 'custody', label: 'Custody' },
  { id: 'style', label: 'Preparation' },
  { id: 'preparator', label: 'Preparator' },
  { id: 'preparedOn', label: 'Prepared' },
  { id: 'approvedOn', label: 'Catalogued' },
  { id: 'prepNumber', label: 'Preparation number' },
  { id: 'familyName', label: 'Family' },
]);
export const USUAL: readonly SearchColumn[] = ['stage', 'sex', 'found', 'county', 'materials', 'preparator'];

const CELLS: Partial<Record<SearchColumn, Omit<Column<SearchRow>, 'id' | 'head'>>> = {
  stage: { cell: (row) => <StageBadge stage={row.stage} /> },
  sex: { cell: (row) => (row.sex === 'undetermined' ? '' : sayWord(row.sex)) },
  age: { cell: (row) => (row.age === null ? '' : sayWord(row.age)) },
  found: { sort: 'found', cell: (row) => sayDays(row.foundFrom, row.foundTo) },
  county: { sort: 'county', cell: (row) => row.county ?? 'withheld' },
  stateProvince: { cell: (row) => row.stateProvince },
  locality: { cell: (row) => row.locality ?? 'withheld' },
  materials: { cell: (row) => row.kinds.map(sayWord).join(', ') },
  custody: { cell: (row) => row.custodies.map(sayWord).join(', ') },
  style: { cell: (row) => (row.styleId === null ? '' : sayWord(row.styleId)) },
  preparator: { cell: (row) => orNothing(row.preparator) },
  preparedOn: { sort: 'prepared', cell: (row) => (row.preparedOn === null ? '' : sayDay(row.preparedOn)) },
  approvedOn: { sort: 'approved', cell: (row) => (row.approvedOn === null ? '' : sayDay(row.approvedOn)) },
  prepNumber: { cell: (row) => orNothing(row.prepNumber) },
  familyName: { cell: (row) => orNothing(row.familyName) },
};

/** The list's columns for a choice, in their usual order. */
export function columnsFor(chosen: readonly string[]): Column<SearchRow>[] {
  return [
    {
      id: 'bird',
      head: say('Bird'),
      sort: 'number',
      cell: (row) => (
        <>
          {row.catalogueNumber ?? row.number}
          {row.catalogueNumber === null ? null : <small> ({row.number})</small>}
          <br />
          <TaxonName scientific={row.scientificName} common={row.commonName} />
        </>
      ),
    },
    ...CHOOSABLE.flatMap(({ id, label }) => {
      const cell = CELLS[id];
      return cell !== undefined && chosen.includes(id) ? [{ id, head: label, ...cell }] : [];
    }),
  ];
}
