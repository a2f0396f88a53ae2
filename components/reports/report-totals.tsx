import type { ReactNode } from 'react';
import { type Column, DataList } from '@/components/ui/data-list';
import { Link } from '@/components/ui/link';
import { TaxonName } from '@/components/ui/taxon-name';
import { say, sayWord } from '@/lib/platform/words/say';
import type { Figure } from '@/lib/reports/rules/figures';
import { COUNTS, FIGURE_HEADS, OUTCOME_WORDS } from '@/lib/reports/rules/words';
import type { ReportRow } from '@/lib/reports/schema';
import type { ReportRecord } from '@/lib/reports/wire';
import classes from './report-sections.module.css';
import { type Drill, drillPath } from './words';

const ALWAYS: ReadonlySet<string> = new Set(['opening', 'salvaged', 'onHand']);

/** Totals by taxon, county, month and what became of the birds; each number opens the birds it counts. */
export function ReportTotals({ record }: { record: ReportRecord }) {
  const { report } = record;
  const link = (value: number | null, filter: Drill): ReactNode =>
    value === null || value === 0 ? (value ?? '') : <Link href={drillPath(record.id, filter)}>{value}</Link>;
  const counts = COUNTS.filter((count) => ALWAYS.has(count) || report.rows.some((row) => row[count] !== 0));
  const taxonColumns: Column<ReportRow>[] = [
    { id: 'taxon', head: say('Taxon'), cell: (row) => <TaxonName scientific={row.taxon} /> },
    { id: 'specimen', head: say('Specimen'), cell: (row) => sayWord(row.specimenType) },
    ...counts.map((figure) => ({
      id: figure,
      head: FIGURE_HEADS[figure],
      numeric: true,
      cell: ({ taxon, specimenType, ...row }: ReportRow) =>
        link(row[figure], { figure, taxon, specimenType }),
    })),
  ];
  return (
    <>
      <h3>{say('By taxon and specimen')}</h3>
      <DataList
        label={say('Totals by taxon and specimen')}
        columns={taxonColumns}
        rows={report.rows}
        rowId={(row) => `${row.taxon} ${row.specimenType}`}
      />
      <div className={classes.beside}>
        <div>
          <h3>{say('By county')}</h3>
          <Groups
            label={say('Totals by county')}
            head={say('County')}
            groups={report.byCounty}
            held
            link={link}
            by="county"
          />
        </div>
        <div>
          <h3>{say('By month')}</h3>
          <Groups
            label={say('Totals by month')}
            head={say('Month')}
            groups={report.byMonth}
            link={link}
            by="month"
          />
        </div>
        <div>
          <h3>{say('By what became of them')}</h3>
          <DataList
            label={say('Totals by what became of them')}
            columns={[
              { id: 'became', head: say('Became'), cell: (row) => OUTCOME_WORDS[row.key] },
              {
                id: 'count',
                head: say('Specimens'),
                numeric: true,
                cell: (row) => link(row.quantity, { figure: FIGURE_OF_OUTCOME[row.key] }),
              },
            ]}
            rows={report.byDisposition}
            rowId={(row) => row.key}
          />
        </div>
      </div>
    </>
  );
}

const FIGURE_OF_OUTCOME: Record<keyof typeof OUTCOME_WORDS, Figure> = {
  'on-hand': 'onHand',
  transferred: 'transferred',
  destroyed: 'destroyed',
  released: 'released',
  catalogued: 'catalogued',
  'corrected-away': 'corrections',
};

type Group = ReportRecord['report']['byCounty'][number];

function Groups(props: {
  label: string;
  head: string;
  groups: Group[];
  by: 'county' | 'month';
  held?: boolean;
  link: (value: number | null, filter: Drill) => ReactNode;
}) {
  const { label, head, groups, by, held = false, link } = props;
  const number = (figure: 'acquired' | 'disposed' | 'onHand', words: string): Column<Group> => ({
    id: figure,
    head: words,
    numeric: true,
    cell: (group) => link(group[figure], { figure, [by]: group.key }),
  });
  return (
    <DataList
      label={label}
      columns={[
        { id: 'key', head, cell: (group) => group.key },
        number('acquired', say('Acquired')),
        number('disposed', say('Disposed')),
        ...(held ? [number('onHand', say('On hand'))] : []),
      ]}
      rows={groups}
      rowId={(group) => group.key}
    />
  );
}
