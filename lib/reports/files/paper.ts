import type { Explanations, ReportLine, SalvageReport } from '../schema';
import type { ReportRow } from '../wire';

/** All that a file of a report is made of. Finders are named already, or not, as the reader may. */
export type ReportPaper = {
  row: ReportRow;
  report: Omit<SalvageReport, 'lines' | 'movements'>;
  lines: ReportLine[];
  explanations: Explanations;
  amendReason: string | null;
  certification: string;
  digest: string | null;
  auditHead: { seq: number; digest: string } | null;
  caution: string;
  /** Paper of the permit's country. */
  size: 'LETTER' | 'A4';
};

export type Remark = { message: string; explanation: string | null };

/** Warnings by the bird whose line they stand under, without repeating its number; the others under ''. */
export function remarksByBird({ report, lines, explanations }: ReportPaper): Map<string, Remark[]> {
  const numbers = new Map(lines.map(({ birdId, number }) => [birdId, number]));
  const remarks = new Map<string, Remark[]>();
  for (const { id, message, birdIds } of report.warnings) {
    const [birdId = ''] = birdIds;
    const number = birdIds.length === 1 ? numbers.get(birdId) : undefined;
    const key = number === undefined ? '' : birdId;
    const words = number !== undefined && message.startsWith(number) ? message.slice(number.length) : message;
    const remark = {
      message: words.replace(/^[:\s]+/, ''),
      explanation: explanations[id]?.text ?? null,
    };
    remarks.set(key, [...(remarks.get(key) ?? []), remark]);
  }
  return remarks;
}
