import { createHash } from 'node:crypto';
import type { z } from 'zod';
import { findImportField, IMPORT_FIELDS } from '@/lib/exchange/import-fields';
import { locatePoint, parseIsoDate } from '@/lib/places/public-rules';
import { type ReportFindRequest, reportFindRequest } from '@/lib/salvage/schema';
import { findRowPoint } from './dry-run';

export type RowSource = {
  runId: string;
  fileName: string;
  line: number;
  /** The accepted taxon; null where the checklist has none. */
  taxonId: string | null;
};

export type RowProblem = { fieldId: string | null; reason: string };
export type BuiltFind =
  | { request: ReportFindRequest; problems: [] }
  | { request: null; problems: RowProblem[] };

const regions = new Intl.DisplayNames('en', { type: 'region' });
const LETTERS = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'];

/** Country codes by their English names, and the usual short forms of one country. */
const COUNTRY_CODES: ReadonlyMap<string, string> = new Map([
  ...LETTERS.flatMap((first) =>
    LETTERS.flatMap((second): [string, string][] => {
      const code = first + second;
      const name = regions.of(code);
      return name === undefined || name === code ? [] : [[name.toLowerCase(), code]];
    }),
  ),
  ['usa', 'US'],
  ['u.s.a.', 'US'],
  ['u.s.', 'US'],
  ['united states of america', 'US'],
]);

function findCountryCode(values: Readonly<Record<string, string>>): string | null {
  const written = values.country?.trim() ?? '';
  if (/^[A-Za-z]{2}$/.test(written)) return written.toUpperCase();
  if (written !== '') return COUNTRY_CODES.get(written.toLowerCase()) ?? null;
  const point = findRowPoint(values);
  return point === null ? null : (locatePoint(point)?.countryCode ?? null);
}

/** The same for the same row of the same import, so that a second try makes nothing twice. */
export function makeRequestKey(runId: string, line: number): string {
  const hex = createHash('sha256').update(`${runId}\n${line}`).digest('hex');
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-8${hex.slice(13, 16)}-a${hex.slice(17, 20)}-${hex.slice(20, 32)}`;
}

/** Fields that have a place of their own in a salvage record; all others are kept in its remarks. */
const PLACED = new Set([
  'scientificName',
  'vernacularName',
  'foundOn',
  'finder',
  'country',
  'stateProvince',
  'county',
  'locality',
  'coordinates',
  'latitude',
  'longitude',
  'uncertaintyM',
  'circumstances',
  'bandNumber',
]);

function writeRemarks(values: Readonly<Record<string, string>>, { fileName, line }: RowSource): string {
  const kept = IMPORT_FIELDS.filter((field) => !PLACED.has(field.id) && values[field.id] !== undefined);
  return [
    `Imported from ${fileName}, line ${line}.`,
    ...kept.map((field) => `${field.label}: ${values[field.id]}`),
  ].join('\n');
}

/**
 * A row of a sheet as the report of a find. The day of the find also counts as the day it was received, because sheets
 * of old birds name no other; what has no place in a salvage record is kept, with its name, in the remarks.
 */
export function buildFindRequest(values: Readonly<Record<string, string>>, source: RowSource): BuiltFind {
  const problems: RowProblem[] = [];
  const found = parseIsoDate(values.foundOn ?? '');
  if (!found.ok)
    problems.push({ fieldId: 'foundOn', reason: 'The row does not say when the bird was found.' });
  const country = findCountryCode(values);
  if (country === null) {
    const reason = values.country
      ? `"${values.country}" is no country known here; write its two letters, such as US.`
      : 'The row names no country; map one, or set one for all rows.';
    problems.push({ fieldId: 'country', reason });
  }
  if (!found.ok || country === null) return { request: null, problems };
  const named = [values.county, values.stateProvince, country].filter((name) => name).join(', ');
  const parsed = reportFindRequest.safeParse({
    requestKey: makeRequestKey(source.runId, source.line),
    found: {
      earliestOn: found.value.startOn,
      latestOn: found.value.endOn,
      verbatim: values.foundOn ?? '',
    },
    receivedOn: found.value.endOn,
    taxonId: source.taxonId,
    verbatimTaxon: values.scientificName ?? values.vernacularName ?? '',
    place: {
      country,
      stateProvince: values.stateProvince ?? '',
      county: values.county ?? '',
      locality: values.locality ?? named,
      ...writePoint(values),
    },
    circumstances: [values.circumstances, values.causeOfDeath].filter(Boolean).join('; '),
    bandNumber: values.bandNumber ?? null,
    finder: values.finder === undefined ? null : { name: values.finder },
    remarks: writeRemarks(values, source),
  });
  if (parsed.success) return { request: parsed.data, problems: [] };
  return { request: null, problems: parsed.error.issues.map(readIssue) };
}

function writePoint(values: Readonly<Record<string, string>>) {
  const point = findRowPoint(values);
  if (point === null) return {};
  const uncertaintyM = Number(values.uncertaintyM ?? '');
  return {
    ...point,
    verbatimCoordinates: values.coordinates ?? `${values.latitude}; ${values.longitude}`,
    uncertaintyM: uncertaintyM > 0 ? uncertaintyM : null,
  };
}

function readIssue(issue: z.core.$ZodIssue): RowProblem {
  const last = String(issue.path.at(-1) ?? '');
  const fieldId = findImportField(last)?.id ?? null;
  return { fieldId, reason: fieldId === null ? `${issue.path.join(' ')}: ${issue.message}` : issue.message };
}
