import Link from 'next/link';
import type { ReactNode } from 'react';
import { type Column, DataList } from '@/components/ui/data-list';
import { TaxonName } from '@/components/ui/taxon-name';
import { sayWord } from '@/components/ui/words';
import type { Figure } from '@/lib/reports/rules/figures';
import { COUNT_HEADS, COUNTS, OUTCOME_WORDS } from '@/lib/reports/rules/words';
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
    { id: 'taxon', head: 'Taxon', cell: (row) => <TaxonName scientific={row.taxon} /> },
    { id: 'specimen', head: 'Specimen', cell: (row) => sayWord(row.specimenType) },
    ...counts.map((figure) => ({
      id: figure,
      head: COUNT_HEADS[figure],
      numeric: true,
      cell: ({ taxon, specimenType, ...row }: ReportRow) =>
        link(row[figure], { figure, taxon, specimenType }),
    })),
  ];
  return (
    <>
      <h3>By taxon and specimen</h3>
      <DataList
        label="Totals by taxon and specimen"
        columns={taxonColumns}
        rows={report.rows}
        rowId={(row) => `${row.taxon} ${row.specimenType}`}
      />
      <div className={classes.beside}>
        <div>
          <h3>By county</h3>
          <Groups
            label="Totals by county"
            head="County"
            groups={report.byCounty}
            held
            link={link}
            by="county"
          />
        </div>
        <div>
          <h3>By month</h3>
          <Groups label="Totals by month" head="Month" groups={report.byMonth} link={link} by="month" />
        </div>
        <div>
          <h3>By what became of them</h3>
          <DataList
            label="Totals by what became of them"
            columns={[
              { id: 'became', head: 'Became', cell: (row) => OUTCOME_WORDS[row.key] },
              {
                id: 'count',
                head: 'Specimens',
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
        number('acquired', 'Acquired'),
        number('disposed', 'Disposed'),
        ...(held ? [number('onHand', 'On hand')] : []),
      ]}
      rows={groups}
      rowId={(group) => group.key}
    />
  );
}
