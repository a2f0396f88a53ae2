import microdiff from 'microdiff';
import type { ReportLine, ReportRow, SalvageReport } from '../schema';

export type FieldChange = { field: string; from: unknown; to: unknown };
export type ReportDifference = {
  added: ReportLine[];
  removed: ReportLine[];
  changed: { birdId: string; number: string; changes: FieldChange[] }[];
  rows: { taxon: string; specimenType: string; changes: FieldChange[] }[];
  same: boolean;
};

function changesBetween(before: object, after: object): FieldChange[] {
  return microdiff(before, after).map((change) => ({
    field: change.path.join('.'),
    from: change.type === 'CREATE' ? null : change.oldValue,
    to: change.type === 'REMOVE' ? null : change.value,
  }));
}

const rowKey = (row: ReportRow) => `${row.taxon}\n${row.specimenType}`;

/** What changed from one version of a report to the next, line by line and row by row. */
export function diffReports(
  before: Pick<SalvageReport, 'lines' | 'rows'>,
  after: Pick<SalvageReport, 'lines' | 'rows'>,
): ReportDifference {
  const oldLines = new Map(before.lines.map((line) => [line.birdId, line]));
  const newLines = new Map(after.lines.map((line) => [line.birdId, line]));
  const oldRows = new Map(before.rows.map((row) => [rowKey(row), row]));
  const newRows = new Map(after.rows.map((row) => [rowKey(row), row]));
  const added = after.lines.filter((line) => !oldLines.has(line.birdId));
  const removed = before.lines.filter((line) => !newLines.has(line.birdId));
  const changed = after.lines.flatMap((line) => {
    const old = oldLines.get(line.birdId);
    const changes = old ? changesBetween(old, line) : [];
    return changes.length === 0 ? [] : [{ birdId: line.birdId, number: line.number, changes }];
  });
  const rows = [...new Set([...oldRows.keys(), ...newRows.keys()])].flatMap((key) => {
    const shown = newRows.get(key) ?? oldRows.get(key);
    const changes = changesBetween(oldRows.get(key) ?? {}, newRows.get(key) ?? {});
    if (!shown || changes.length === 0) return [];
    return [{ taxon: shown.taxon, specimenType: shown.specimenType, changes }];
  });
  const same = added.length + removed.length + changed.length + rows.length === 0;
  return { added, removed, changed, rows, same };
}
