import 'server-only';
import { legalCaution } from '@/lib/permits/public';
import { type Actor, authorise } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import type { FileAnswer } from '@/lib/platform/http';
import { WORKBOOK_MEDIA_TYPE } from '@/lib/platform/workbook';
import { renderCsv } from '../files/csv';
import type { ReportPaper } from '../files/paper';
import { renderPdf } from '../files/pdf';
import { renderWorkbook } from '../files/workbook';
import { CERTIFICATION, explanations } from '../schema';
import { openedReport, withFinders } from './record';
import { toRows } from './shapes';

/** The report on paper, with its digest on each page once it is signed. */
export async function writeReportPdf(actor: Actor, id: string): Promise<FileAnswer> {
  const paper = await paperFor(actor, id);
  return {
    body: new Uint8Array(await renderPdf(paper)),
    mediaType: 'application/pdf',
    fileName: fileName(paper, 'pdf'),
    inline: true,
  };
}

export async function writeReportWorkbook(actor: Actor, id: string): Promise<FileAnswer> {
  const paper = await paperFor(actor, id);
  return {
    body: new Uint8Array(await renderWorkbook(paper)),
    mediaType: WORKBOOK_MEDIA_TYPE,
    fileName: fileName(paper, 'xlsx'),
  };
}

export async function writeReportCsv(actor: Actor, id: string): Promise<FileAnswer> {
  const paper = await paperFor(actor, id);
  return { body: renderCsv(paper), mediaType: 'text/csv; charset=utf-8', fileName: fileName(paper, 'csv') };
}

async function paperFor(actor: Actor, id: string): Promise<ReportPaper> {
  authorise(actor, 'reports.see');
  const { found, report, frozen } = await openedReport(actor, id);
  const [row] = await toRows(db(), [found]);
  if (row === undefined) throw new Error('A report has one row.');
  const { lines, movements: _, ...shown } = report;
  return {
    row: frozen === null ? row : { ...row, signedBy: frozen.certification.signer },
    report: shown,
    lines: await withFinders(actor, lines),
    explanations: frozen?.explanations ?? explanations.parse(found.explanations),
    amendReason: found.amendReason,
    certification: frozen?.certification.text ?? CERTIFICATION,
    digest: found.digest,
    auditHead: frozen?.auditHead ?? null,
    caution: legalCaution,
    size: /^(US|CA)\b/.test(found.permit.jurisdiction) ? 'LETTER' : 'A4',
  };
}

function fileName({ row, digest }: ReportPaper, ending: string): string {
  const permit = row.permit.number.replace(/[^\p{L}\p{N}]+/gu, '-');
  const edition = row.edition === 1 ? '' : `_edition-${row.edition}`;
  const draft = digest === null ? '_draft' : '';
  return `salvage-report_${permit}_${row.fromOn}_${row.untilOn}${edition}${draft}.${ending}`;
}
