import type { Span } from '@/lib/platform/pdf-text';
import { wordOf } from '@/lib/platform/words/say';
import {
  COUNTS,
  equationParts,
  FIGURE_HEADS,
  NIL_STATEMENT,
  ORIGIN_WORDS,
  OUTCOME_WORDS,
  sayFound,
  sayOutcome,
  sayPlace,
} from '../rules/words';
import type { ReportLine } from '../schema';
import { type Remark, type ReportPaper, remarksByBird } from './paper';
import { type Cell, Sheet, type TableColumn } from './sheet';

/** The report on paper: what it says, the balance, the totals, each bird on one line, the certification. */
export async function renderPdf(paper: ReportPaper): Promise<Buffer> {
  const { row, report, digest } = paper;
  const sheet = new Sheet(
    paper.size,
    `Salvage report, permit ${row.permit.number}, ${row.fromOn} to ${row.untilOn}`,
  );
  writeHead(sheet, paper);
  sheet.heading('Balance');
  if (report.nil) sheet.text(NIL_STATEMENT);
  sheet.equation(equationParts(report));
  writeTotals(sheet, paper);
  const remarks = remarksByBird(paper);
  writeGeneralRemarks(sheet, remarks.get('') ?? []);
  if (paper.lines.length > 0) {
    sheet.heading('Birds, one line each');
    sheet.table(
      LINE_HEADS,
      paper.lines.map((line) => ({
        cells: lineCells(line),
        note: noteOf(line, remarks.get(line.birdId) ?? []),
      })),
      7.5,
    );
  }
  writeCertification(sheet, paper);
  const [state, seal] =
    digest === null ? ['DRAFT, not signed', ''] : [`edition ${row.edition}`, `SHA-256 ${digest}`];
  return sheet.finish((page, pages) => [
    `Permit ${row.permit.number}, ${row.fromOn} to ${row.untilOn}, ${state}. ${seal}`,
    `Page ${page} of ${pages}`,
  ]);
}

function writeHead(sheet: Sheet, { row, amendReason, digest }: ReportPaper): void {
  sheet.text(digest === null ? 'Salvage report: draft' : 'Salvage report', {
    size: 20,
    face: 'serif-bold',
    gap: 6,
  });
  sheet.facts([
    ['Permit', row.permit.number],
    ['Issued by', row.permit.authority],
    ['Period', `${row.fromOn} to ${row.untilOn}`],
    ['Due on', row.dueOn ?? 'not set by the permit'],
    ['Edition', amendReason === null ? String(row.edition) : `${row.edition}, amended: ${amendReason}`],
    [
      'Signed by',
      row.signedBy === null ? 'not signed' : `${row.signedBy}, ${row.signedAt?.slice(0, 10) ?? ''}`,
    ],
  ]);
}

function writeTotals(sheet: Sheet, { report }: ReportPaper): void {
  if (report.rows.length === 0) return;
  sheet.heading('By taxon and specimen');
  sheet.table(
    [
      { head: 'Taxon', width: 130 },
      { head: 'Specimen', width: 48 },
      ...COUNTS.map((count) => ({ head: FIGURE_HEADS[count], width: 48, numeric: true })),
    ],
    [
      ...report.rows.map((row) => ({
        cells: [
          taxonSpans(row.taxon),
          wordOf(row.specimenType),
          ...COUNTS.map((count) => String(row[count])),
        ],
      })),
      { cells: ['All', '', ...COUNTS.map((count) => String(report.total[count]))], strong: true },
    ],
    7,
  );
  const heads = (first: string): TableColumn[] => [
    { head: first, width: 300 },
    ...['Acquired', 'Disposed', 'On hand'].map((head) => ({ head, width: 80, numeric: true })),
  ];
  for (const [title, groups] of [
    ['County', report.byCounty],
    ['Month', report.byMonth],
  ] as const) {
    sheet.heading(`By ${title.toLowerCase()}`);
    sheet.table(
      heads(title),
      groups.map(({ key, acquired, disposed, onHand }) => ({
        cells: [key, String(acquired), String(disposed), onHand === null ? '' : String(onHand)],
      })),
    );
  }
  sheet.heading('By what became of them');
  sheet.table(
    [
      { head: 'Became', width: 300 },
      { head: 'Specimens', width: 240, numeric: true },
    ],
    report.byDisposition.map(({ key, quantity }) => ({ cells: [OUTCOME_WORDS[key], String(quantity)] })),
  );
}

function writeGeneralRemarks(sheet: Sheet, remarks: Remark[]): void {
  if (remarks.length === 0) return;
  sheet.heading('Warnings on the whole report');
  for (const remark of remarks) sheet.text(sayRemark(remark));
}

const sayRemark = ({ message, explanation }: Remark): string =>
  `${message.charAt(0).toUpperCase()}${message.slice(1)}. ${explanation === null ? 'Not explained.' : `Explanation: ${explanation}`}`;

const LINE_HEADS: readonly TableColumn[] = [
  { head: 'Number', width: 70 },
  { head: 'Taxon', width: 112 },
  { head: 'Specimen', width: 50 },
  { head: 'Found', width: 62 },
  { head: 'County, state, country', width: 92 },
  { head: 'Cause', width: 56 },
  { head: 'Salvager', width: 80 },
  { head: 'Band', width: 48 },
  { head: 'Came as', width: 58 },
  { head: 'What became of it', width: 142 },
];

function lineCells(line: ReportLine): Cell[] {
  const count = Math.max(line.opening + line.late + line.acquired, line.onHand);
  return [
    line.number,
    taxonSpans(line.taxon),
    `${wordOf(line.specimenType)}${count > 1 ? ` × ${count}` : ''}`,
    sayFound(line),
    sayPlace(line),
    wordOf(line.cause),
    line.salvager ?? 'not recorded',
    line.bandNumber ?? '',
    ORIGIN_WORDS[line.origin],
    sayOutcome(line),
  ];
}

function noteOf(line: ReportLine, remarks: Remark[]): string | undefined {
  const notes = [
    ...line.identificationChanges.map(
      ({ on, fromTaxon, toTaxon }) => `Identified anew ${on}: ${fromTaxon} became ${toTaxon}.`,
    ),
    ...(line.separateAuthority === null ? [] : [`Separate authority or ruling: ${line.separateAuthority}.`]),
    ...remarks.map(sayRemark),
  ];
  return notes.length === 0 ? undefined : notes.join(' ');
}

/** Genus and species in italics; what is no scientific name, and ranks above the genus, upright. */
function taxonSpans(taxon: string): Span[] {
  const name = /^([A-Z][a-z]+(?: [a-z][a-z-]+){0,2})( sp\.)?$/.exec(taxon);
  if (name === null || /^\S+(?:idae|inae|iformes)$/.test(taxon)) return [{ text: taxon, face: 'sans' }];
  const italic: Span = { text: name[1] ?? '', face: 'serif-italic' };
  return name[2] === undefined ? [italic] : [italic, { text: name[2], face: 'sans' }];
}

function writeCertification(sheet: Sheet, paper: ReportPaper): void {
  const { row, digest, auditHead } = paper;
  sheet.need(130);
  sheet.heading('Certification');
  sheet.text(paper.certification);
  if (digest === null) {
    sheet.text('Not signed: the figures above can still change.', { face: 'sans-bold' });
  } else {
    sheet.facts([
      ['Signed by', row.signedBy ?? ''],
      ['Signed on', row.signedAt?.slice(0, 10) ?? ''],
    ]);
    sheet.text(`Digest of this report (SHA-256): ${digest}`, { size: 8 });
    if (auditHead !== null) {
      sheet.text(`The record of changes stood at number ${auditHead.seq}: ${auditHead.digest}`, { size: 8 });
    }
  }
  sheet.space(6);
  sheet.text(paper.caution, { face: 'sans-italic' });
}
