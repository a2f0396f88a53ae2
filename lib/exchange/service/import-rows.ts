import 'server-only';
import { db } from '@/lib/platform/db';
import { openHandedInFile } from '@/lib/platform/handed-in';
import type { ReportFindRequest } from '@/lib/salvage/schema';
import { findTaxaByNames } from '@/lib/taxa/public';
import { type DryRunRow, type ImportKnowledge, listNamesToLookUp, runDry } from '../dry-run';
import { buildFindRequest } from '../find-request';
import { findImportField } from '../import-fields';
import { type FoundImport, findKnownNumbers, type KeptError } from '../repo/imports';
import { importMapping } from '../schema';
import { type OpenedTable, openTable } from '../table';

/** A row that was judged as the import will judge it; `request` is null when it cannot be taken. */
export type JudgedRow = DryRunRow & { request: ReportFindRequest | null };

/** The table of an import. @throws Error with the sentence for the person when it cannot be opened. */
export async function openImport(run: Pick<FoundImport, 'fileName' | 'fileId'>): Promise<OpenedTable> {
  const { fileId } = run;
  if (fileId === null) throw new Error('The file is gone. Hand it in again.');
  const opened = await openTable({ name: run.fileName, open: () => openHandedInFile(fileId) });
  if (!opened.ok) throw new Error(opened.message);
  return opened.value;
}

/** Every row, judged one batch after the other; nothing is changed by it. */
export async function* judgeRows(run: FoundImport, table: OpenedTable): AsyncGenerator<JudgedRow> {
  const mapping = importMapping.parse(run.mapping);
  const taxonIds = new Map<string, string>();
  const knowledge: ImportKnowledge = {
    findExisting: (fieldId, numbers) => findKnownNumbers(run.collectionId, run.id, fieldId, numbers),
    findTaxa: async (names) => {
      const found = await findTaxaByNames(db(), names);
      for (const [name, taxon] of found) taxonIds.set(name, taxon.id);
      return new Map(names.map((name) => [name, found.get(name)?.scientificName ?? null]));
    },
  };
  const columnOf = new Map(
    Object.entries(mapping.fields).map(([index, fieldId]) => [fieldId, table.header[Number(index)] ?? null]),
  );
  for await (const row of runDry(table, mapping, knowledge)) {
    const values = { ...mapping.defaults, ...row.values };
    const built = buildFindRequest(values, {
      runId: run.id,
      fileName: run.fileName,
      line: row.line,
      taxonId: listNamesToLookUp(values).flatMap((name) => taxonIds.get(name) ?? [])[0] ?? null,
    });
    const said = new Set(row.errors.map((error) => error.fieldId));
    const more = built.problems.filter(({ fieldId }) => fieldId === null || !said.has(fieldId));
    const errors = [
      ...row.errors,
      ...more.map(({ fieldId, reason }) => ({
        fieldId,
        column: fieldId === null ? null : (columnOf.get(fieldId) ?? findImportField(fieldId)?.label ?? null),
        value: '',
        reason,
        readings: [],
      })),
    ];
    yield { ...row, values, errors, request: errors.length === 0 ? built.request : null };
  }
}

export const keptErrors = (row: DryRunRow): KeptError[] =>
  row.errors.map(({ column, reason, readings }) => ({ column, reason, readings }));
