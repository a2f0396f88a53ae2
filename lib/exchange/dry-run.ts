import { findHeadUnit } from '@/lib/exchange/columns';
import { findImportField } from '@/lib/exchange/import-fields';
import type { OpenedTable, TableRow } from '@/lib/exchange/table';
import { readValue } from '@/lib/exchange/values';
import {
  checkPlaceAgreement,
  type Outcome,
  parseCoordinates,
  parseIsoDate,
  parseLatitudeLongitude,
} from '@/lib/places/public-rules';
import { parseScientificName } from '@/lib/taxa/public-rules';

export interface ImportMapping {
  /** Field by position of the column; columns that are not here are passed over. */
  fields: Readonly<Record<number, string>>;
  /** Decisions of a person by field and text (lower case) as it stands in the sheet. */
  values?: Readonly<Record<string, Readonly<Record<string, string>>>>;
  dateOrder?: 'day-first' | 'month-first';
}

export interface ImportProblem {
  fieldId: string | null;
  column: string | null;
  value: string;
  reason: string;
  /** What a person may choose from. */
  readings: string[];
}

export interface DryRunRow {
  line: number;
  cells: string[];
  /** Values by field, only those that were given and could be read. */
  values: Record<string, string>;
  errors: ImportProblem[];
  warnings: ImportProblem[];
}

/** What the house knows already; answered for a batch of rows at a time. */
export interface ImportKnowledge {
  /** Of these numbers, those that exist. */
  findExisting: (fieldId: string, numbers: string[]) => Promise<ReadonlySet<string>>;
  /** The accepted name of each name, null where there is none; synonyms and English names included. */
  findTaxa: (names: string[]) => Promise<ReadonlyMap<string, string | null>>;
}

/** Fields that name one bird: two rows with the same number are the same bird twice. */
const UNIQUE_FIELDS = ['catalogNumber', 'preparationNumber', 'salvageNumber'] as const;
const BATCH_ROWS = 500;

/** Checks every row as the import would, and changes nothing. */
export async function* runDry(
  table: Pick<OpenedTable, 'header' | 'rows'>,
  mapping: ImportMapping,
  knowledge: ImportKnowledge,
): AsyncGenerator<DryRunRow> {
  const seen = new Map<string, number>();
  let batch: DryRunRow[] = [];
  for await (const row of table.rows()) {
    batch.push(checkRow(row, table.header, mapping));
    if (batch.length < BATCH_ROWS) continue;
    yield* await compareBatch(batch, table.header, mapping, knowledge, seen);
    batch = [];
  }
  yield* await compareBatch(batch, table.header, mapping, knowledge, seen);
}

function checkRow(row: TableRow, header: string[], mapping: ImportMapping): DryRunRow {
  const result: DryRunRow = { line: row.line, cells: row.cells, values: {}, errors: [], warnings: [] };
  for (const reason of row.problems)
    result.errors.push({ fieldId: null, column: null, value: '', reason, readings: [] });
  const single: Record<string, { text: string; index: number }> = {};
  for (const [position, fieldId] of Object.entries(mapping.fields)) {
    const index = Number(position);
    const [text = '', column = ''] = [row.cells[index], header[index]];
    if (/^[=@]/.test(text)) {
      result.warnings.push(
        problem(fieldId, column, text, 'It looks like a formula; it is kept as text and never run.'),
      );
    }
    const kind = findImportField(fieldId)?.kind;
    if (kind === 'latitude' || kind === 'longitude') {
      if (text !== '') single[kind] = { text, index };
      continue;
    }
    const options = {
      order: mapping.dateOrder,
      headUnit: findHeadUnit(column),
      decided: mapping.values?.[fieldId],
    };
    const outcome = readValue(fieldId, text, options);
    if (outcome.ok) result.values[fieldId] = outcome.value;
    else if (outcome.code !== 'empty')
      result.errors.push(problem(fieldId, column, text, outcome.message, outcome.readings));
  }
  checkPair(result, single, header);
  checkTogether(result);
  return result;
}

function problem(
  fieldId: string | null,
  column: string | null,
  value: string,
  reason: string,
  readings: string[] = [],
): ImportProblem {
  return { fieldId, column, value, reason, readings };
}

function checkPair(
  result: DryRunRow,
  single: Record<string, { text: string; index: number }>,
  header: string[],
): void {
  const { latitude, longitude } = single;
  if (!latitude && !longitude) return;
  if (!latitude || !longitude) {
    const given = latitude ?? longitude;
    result.errors.push(
      problem(
        latitude ? 'latitude' : 'longitude',
        header[given?.index ?? 0] ?? null,
        given?.text ?? '',
        'Latitude and longitude come together; one of them is empty.',
      ),
    );
    return;
  }
  const parsed = parseLatitudeLongitude(latitude.text, longitude.text);
  if (!parsed.ok) {
    result.errors.push(
      problem(
        'latitude',
        header[latitude.index] ?? null,
        `${latitude.text}; ${longitude.text}`,
        parsed.message,
        parsed.readings,
      ),
    );
    return;
  }
  result.values.latitude = latitude.text;
  result.values.longitude = longitude.text;
}

/** The decimal point of a checked row, from whichever columns gave it. */
export function findRowPoint(
  values: Readonly<Record<string, string>>,
): { latitude: number; longitude: number } | null {
  const parsed: Outcome<{ latitude: number; longitude: number }> =
    values.coordinates !== undefined
      ? parseCoordinates(values.coordinates)
      : parseLatitudeLongitude(values.latitude ?? '', values.longitude ?? '');
  return parsed.ok ? { latitude: parsed.value.latitude, longitude: parsed.value.longitude } : null;
}

function checkTogether(result: DryRunRow): void {
  const { values, errors, warnings } = result;
  if (!values.scientificName && !values.vernacularName) {
    errors.push(problem('scientificName', null, '', 'The row names no taxon.'));
  } else if (values.scientificName && parseScientificName(values.scientificName).kind === 'unreadable') {
    warnings.push(
      problem('scientificName', null, values.scientificName, 'This does not look like a scientific name.'),
    );
  }
  const [found, prepared] = [values.foundOn, values.preparedOn].map((text) => parseIsoDate(text ?? ''));
  if (found?.ok && prepared?.ok && prepared.value.endOn < found.value.startOn) {
    warnings.push(
      problem(
        'preparedOn',
        null,
        values.preparedOn ?? '',
        `Prepared before it was found (${values.foundOn}).`,
      ),
    );
  }
  const point = findRowPoint(values);
  if (!point) return;
  const named = { country: values.country, stateProvince: values.stateProvince, county: values.county };
  const agreement = checkPlaceAgreement(point, named, Number(values.uncertaintyM ?? 0));
  if (agreement.verdict === 'other-place' || agreement.verdict === 'in-the-sea') {
    warnings.push(problem('coordinates', null, `${point.latitude}, ${point.longitude}`, agreement.message));
  }
}

async function compareBatch(
  batch: DryRunRow[],
  header: string[],
  mapping: ImportMapping,
  knowledge: ImportKnowledge,
  seen: Map<string, number>,
): Promise<DryRunRow[]> {
  if (batch.length === 0) return batch;
  const columnOf = (fieldId: string) => {
    const entry = Object.entries(mapping.fields).find(([, mapped]) => mapped === fieldId);
    return entry ? (header[Number(entry[0])] ?? null) : null;
  };
  const names = batch.flatMap((row) => listNamesToLookUp(row.values));
  const taxa = await knowledge.findTaxa([...new Set(names)]);
  for (const row of batch) {
    const [name, ...others] = listNamesToLookUp(row.values);
    if (name === undefined || [name, ...others].some((one) => taxa.get(one))) continue;
    const fieldId = row.values.scientificName ? 'scientificName' : 'vernacularName';
    row.errors.push(
      problem(
        fieldId,
        columnOf(fieldId),
        name,
        'No taxon of the checklist has this name; choose one or add it.',
      ),
    );
  }
  for (const fieldId of UNIQUE_FIELDS) {
    const numbers = batch.flatMap((row) => row.values[fieldId] ?? []);
    if (numbers.length === 0) continue;
    const existing = await knowledge.findExisting(fieldId, [...new Set(numbers)]);
    for (const row of batch) {
      const number = row.values[fieldId];
      if (number === undefined) continue;
      const first = seen.get(`${fieldId}\n${number}`);
      if (existing.has(number))
        row.errors.push(
          problem(fieldId, columnOf(fieldId), number, 'A record with this number is already here.'),
        );
      else if (first !== undefined)
        row.errors.push(
          problem(fieldId, columnOf(fieldId), number, `The same number stands in line ${first}.`),
        );
      else seen.set(`${fieldId}\n${number}`, row.line);
    }
  }
  return batch;
}

/**
 * What is looked up in the checklist, the likeliest first: the scientific name without author and qualifier, then the
 * text itself, because many a column of species holds English names; else the English name.
 */
export function listNamesToLookUp(values: Readonly<Record<string, string>>): string[] {
  const { scientificName, vernacularName } = values;
  if (!scientificName) return vernacularName ? [vernacularName] : [];
  const { canonical } = parseScientificName(scientificName);
  return [...new Set([canonical ?? scientificName, scientificName])];
}

export interface DryRunSummary {
  rows: number;
  ready: number;
  withErrors: number;
  withWarnings: number;
  /** How often each reason was given, the most frequent first. */
  reasons: { fieldId: string | null; reason: string; count: number }[];
}

/** Counts that can be kept while rows stream by. */
export function startSummary(): { add: (row: DryRunRow) => void; read: () => DryRunSummary } {
  const summary = { rows: 0, ready: 0, withErrors: 0, withWarnings: 0 };
  const reasons = new Map<string, { fieldId: string | null; reason: string; count: number }>();
  return {
    add: (row) => {
      summary.rows += 1;
      if (row.errors.length > 0) summary.withErrors += 1;
      else summary.ready += 1;
      if (row.warnings.length > 0) summary.withWarnings += 1;
      for (const { fieldId, reason } of row.errors) {
        const key = `${fieldId}\n${reason.replace(/"[^"]*"|\d+/g, '…')}`;
        const entry = reasons.get(key) ?? { fieldId, reason, count: 0 };
        entry.count += 1;
        reasons.set(key, entry);
      }
    },
    read: () => ({ ...summary, reasons: [...reasons.values()].sort((a, b) => b.count - a.count) }),
  };
}
