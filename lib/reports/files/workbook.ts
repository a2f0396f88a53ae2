import { type Cell, headCell as head, type Row, renderSheets, type Sheet } from '@/lib/platform/workbook';
import { COUNTS, equationParts, FIGURE_HEADS, NIL_STATEMENT, OUTCOME_WORDS } from '../rules/words';
import { LINE_COLUMNS } from './columns';
import { type ReportPaper, remarksByBird } from './paper';

const strong = (value: string | number): Cell => ({ value, fontWeight: 'bold' });

/** The report as a workbook: what it says, its totals, its birds, the warnings with their explanations. */
export async function renderWorkbook(paper: ReportPaper): Promise<Buffer> {
  return renderSheets([summarySheet(paper), totalsSheet(paper), birdsSheet(paper), warningsSheet(paper)]);
}

function summarySheet(paper: ReportPaper): Sheet<never> {
  const { row, report, digest, auditHead, amendReason } = paper;
  const facts: [string, string | number][] = [
    ['Permit', row.permit.number],
    ['Issued by', row.permit.authority],
    ['From', row.fromOn],
    ['Until', row.untilOn],
    ['Due on', row.dueOn ?? 'not set'],
    ['Edition', row.edition],
    ...(amendReason === null ? [] : [['Amended because', amendReason] as [string, string]]),
    ['State', row.state],
    ['Signed by', row.signedBy ?? 'not signed'],
    ['Signed at', row.signedAt ?? ''],
    ['Digest (SHA-256)', digest ?? 'none before it is signed'],
    ['Audit chain', auditHead === null ? '' : `${auditHead.seq}: ${auditHead.digest}`],
  ];
  const data: Row[] = [
    [strong('Salvage report')],
    ...facts.map(([term, value]): Row => [term, value]),
    [],
    [strong('Balance')],
    ...equationParts(report).map(({ sign, label, value }): Row => [`${sign} ${label}`, value]),
    [],
    ...(report.nil ? [[NIL_STATEMENT]] : []),
    [row.signedBy === null ? '' : paper.certification],
    [paper.caution],
  ];
  return { sheet: 'Report', data, columns: [{ width: 24 }, { width: 70 }] };
}

function totalsSheet({ report }: ReportPaper): Sheet<never> {
  const groups = (
    title: string,
    rows: { key: string; acquired: number; disposed: number; onHand: number | null }[],
  ) => [
    [],
    [head(title), null, head('Acquired'), head('Disposed'), head('On hand')],
    ...rows.map(({ key, acquired, disposed, onHand }): Row => [key, null, acquired, disposed, onHand]),
  ];
  const data: Row[] = [
    [head('Taxon'), head('Specimen'), ...COUNTS.map((count) => head(FIGURE_HEADS[count]))],
    ...report.rows.map((row): Row => [row.taxon, row.specimenType, ...COUNTS.map((count) => row[count])]),
    [strong('All'), null, ...COUNTS.map((count) => strong(report.total[count]))],
    ...groups('County', report.byCounty),
    ...groups('Month', report.byMonth),
    [],
    [head('Became'), null, head('Specimens')],
    ...report.byDisposition.map(({ key, quantity }): Row => [OUTCOME_WORDS[key], null, quantity]),
  ];
  return {
    sheet: 'Totals',
    data,
    columns: [{ width: 34 }, { width: 14 }, ...COUNTS.map(() => ({ width: 12 }))],
    stickyRowsCount: 1,
    orientation: 'landscape',
  };
}

function birdsSheet({ lines }: ReportPaper): Sheet<never> {
  return {
    sheet: 'Birds',
    data: [
      LINE_COLUMNS.map((column) => head(column.head)),
      ...lines.map((line) => LINE_COLUMNS.map(({ value }) => value(line))),
    ],
    columns: LINE_COLUMNS.map(({ width }) => ({ width })),
    stickyRowsCount: 1,
    orientation: 'landscape',
  };
}

function warningsSheet(paper: ReportPaper): Sheet<never> {
  const numbers = new Map(paper.lines.map(({ birdId, number }) => [birdId, number]));
  const rows = [...remarksByBird(paper)].flatMap(([birdId, remarks]) =>
    remarks.map(({ message, explanation }): Row => [numbers.get(birdId) ?? '', message, explanation]),
  );
  return {
    sheet: 'Warnings',
    data: [[head('Number'), head('Warning'), head('Explanation')], ...rows],
    columns: [{ width: 14 }, { width: 60 }, { width: 60 }],
    stickyRowsCount: 1,
  };
}
