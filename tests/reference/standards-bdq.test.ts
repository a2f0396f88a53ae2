import { describe, expect, it } from 'vitest';
import { type FlatRecord, isEmptyValue, QUALITY_TESTS } from '@/lib/exchange/quality-tests';
import { readSex } from '@/lib/exchange/values';
import { parseCoordinates, parseLatitudeLongitude } from '@/lib/places/coordinates';
import { suggestTranspositions } from '@/lib/places/counties';
import { buildDateFromDays, buildDateFromParts, parseDate } from '@/lib/places/dates';
import { standardiseDatum } from '@/lib/places/datums';
import { parseMetreRange } from '@/lib/places/distances';
import { listEventParts, measureInterval, parseIsoDate } from '@/lib/places/iso-dates';
import { findMonth } from '@/lib/places/month-names';
import { readReferenceRows } from './reference-files';

// Source: Biodiversity Data Quality tests, draft of July 2026 (TDWG, CC BY 4.0), published input and result rows.
// Left out: tests of names, licences and taxa that need a service; a default datum, because none is ever assumed
// here (an unknown one widens the uncertainty); days on their own, because a day never comes without its date.
const rows = readReferenceRows('standards', 'bdq', 'bdq_test_vectors_draft.csv');

/** Rows where we knowingly answer otherwise, by line of the file. */
const AGREED: Record<string, string> = {
  '274': 'the draft counts the waters of a country as part of it; the outlines here end at the coast',
  '344': 'states outside the United States have no outline here and are said to be unknown',
  '345': 'the same',
  '347': 'the same',
  '488': '"Minimum Elevation 100m" says nothing of the maximum, so neither is filled; the draft fills both',
};

/** Changes proposed for a record, by term; null: nothing is proposed. */
type Amendment = (record: FlatRecord) => FlatRecord | null;

const given = (value: string | undefined): value is string => !isEmptyValue(value);
const iso = (text: string | undefined) => {
  const parsed = parseDate(text ?? '');
  return parsed.ok ? parsed.value.iso : null;
};
const standardDate =
  (term: string): Amendment =>
  (record) => {
    const date = iso(record[term]);
    return date === null || date === record[term] ? null : { [term]: date };
  };
const metres =
  (verbatim: string, minimum: string, maximum: string): Amendment =>
  (record) => {
    if (given(record[minimum]) || given(record[maximum])) return null;
    const parsed = parseMetreRange(record[verbatim] ?? '');
    return parsed.ok
      ? { [minimum]: String(parsed.value.minimumM), [maximum]: String(parsed.value.maximumM) }
      : null;
  };
const integer = (text: string | undefined) => (given(text) && /^\d+$/.test(text) ? Number(text) : null);

const AMENDMENTS: Record<string, Amendment> = {
  AMENDMENT_EVENTDATE_FROM_VERBATIM: (record) => {
    const date = iso(record.verbatimEventDate);
    return given(record.eventDate) || date === null ? null : { eventDate: date };
  },
  AMENDMENT_EVENTDATE_STANDARDIZED: standardDate('eventDate'),
  AMENDMENT_DATEIDENTIFIED_STANDARDIZED: standardDate('dateIdentified'),
  AMENDMENT_EVENTDATE_FROM_YEARMONTHDAY: (record) => {
    const year = integer(record.year);
    const date =
      year === null || given(record.eventDate)
        ? null
        : buildDateFromParts(year, integer(record.month), integer(record.day));
    return date ? { eventDate: date } : null;
  },
  AMENDMENT_EVENTDATE_FROM_YEARSTARTDAYOFYEARENDDAYOFYEAR: (record) => {
    const [year, start, end] = [record.year, record.startDayOfYear, record.endDayOfYear].map(integer);
    if (given(record.eventDate) || year == null || start == null || end == null) return null;
    const date = buildDateFromDays(year, start, end);
    return date ? { eventDate: date } : null;
  },
  AMENDMENT_EVENT_FROM_EVENTDATE: (record) => {
    const parsed = parseIsoDate(record.eventDate ?? '');
    if (!parsed.ok) return null;
    const parts = Object.entries(listEventParts(parsed.value));
    const missing = parts.filter(([term, value]) => value !== null && !given(record[term]));
    return missing.length > 0
      ? Object.fromEntries(missing.map(([term, value]) => [term, String(value)]))
      : null;
  },
  AMENDMENT_COORDINATES_FROM_VERBATIM: (record) => {
    const {
      verbatimCoordinates,
      verbatimLatitude,
      verbatimLongitude,
      verbatimCoordinateSystem: system,
      verbatimSRS,
    } = record;
    if (given(record.decimalLatitude) || given(record.decimalLongitude)) return null;
    const declared = system === 'decimal degrees' ? { system } : {};
    const parsed = given(verbatimCoordinates)
      ? parseCoordinates(verbatimCoordinates, {
          ...declared,
          system: 'system' in declared ? 'decimal degrees' : undefined,
        })
      : parseLatitudeLongitude(verbatimLatitude ?? '', verbatimLongitude ?? '');
    if (!parsed.ok || parsed.value.system === 'UTM') return null;
    const tidy = (degrees: number) => String(Number(degrees.toFixed(7)));
    const datum = given(verbatimSRS) ? { geodeticDatum: verbatimSRS } : {};
    return {
      decimalLatitude: tidy(parsed.value.latitude),
      decimalLongitude: tidy(parsed.value.longitude),
      ...datum,
    };
  },
  AMENDMENT_COORDINATES_TRANSPOSED: (record) => {
    const [latitude, longitude] = [
      Number(record.decimalLatitude ?? 'x'),
      Number(record.decimalLongitude ?? 'x'),
    ];
    if (!Number.isFinite(latitude) || !Number.isFinite(longitude) || !given(record.countryCode)) return null;
    if (Math.abs(longitude) > 180) return null;
    const [first] = suggestTranspositions({ latitude, longitude }, { countryCode: record.countryCode });
    return first
      ? { decimalLatitude: String(first.latitude), decimalLongitude: String(first.longitude) }
      : null;
  },
  'AMENDMENT_MINDEPTH-MAXDEPTH_FROM_VERBATIM': metres(
    'verbatimDepth',
    'minimumDepthInMeters',
    'maximumDepthInMeters',
  ),
  'AMENDMENT_MINELEVATION-MAXELEVATION_FROM_VERBATIM': metres(
    'verbatimElevation',
    'minimumElevationInMeters',
    'maximumElevationInMeters',
  ),
  AMENDMENT_GEODETICDATUM_STANDARDIZED: ({ geodeticDatum }) => {
    const code = standardiseDatum(geodeticDatum ?? '');
    return code === null || code === geodeticDatum ? null : { geodeticDatum: code };
  },
  AMENDMENT_MONTH_STANDARDIZED: ({ month }) => {
    const number = findMonth(month ?? '');
    return number === null ? null : { month: String(number) };
  },
  AMENDMENT_SEX_STANDARDIZED: ({ sex }) => {
    const read = readSex(sex ?? '');
    return read.ok && read.value !== sex ? { sex: read.value } : null;
  },
};

/** Words for the same sex in the two lists: the quality tests write Female and Indeterminate. */
const SEX_OF_DRAFT: Record<string, string> = {
  Female: 'female',
  Male: 'male',
  Indeterminate: 'undetermined',
};

function recordOf(row: Record<string, string>): FlatRecord {
  const input = JSON.parse(row.input_json ?? '{}') as Record<string, string>;
  return Object.fromEntries(Object.entries(input).map(([term, value]) => [term.replace(/^\w+:/, ''), value]));
}

/** Our answer to a row and the published one, in a form that can be compared. */
function answerRow(row: Record<string, string>): { ours: unknown; published: unknown } {
  const record = recordOf(row);
  const test = row.test ?? '';
  const validation = QUALITY_TESTS[test];
  if (validation) {
    const answer = validation(record, { today: '2026-07-29' });
    return {
      ours: answer.status === 'RUN_HAS_RESULT' ? answer.result : answer.status,
      published: row.response_status === 'RUN_HAS_RESULT' ? row.response_result : row.response_status,
    };
  }
  if (test === MEASURE) {
    const parsed = parseIsoDate(record.eventDate ?? '');
    const length = parsed.ok
      ? (measureInterval(parsed.value).endMs - measureInterval(parsed.value).startMs) / 1000
      : null;
    return {
      ours: length,
      published: row.response_status === 'RUN_HAS_RESULT' ? Number(row.response_result) : null,
    };
  }
  const result = row.response_result ? (JSON.parse(row.response_result) as Record<string, string>) : null;
  const published = result
    ? Object.fromEntries(Object.entries(result).map(([term, value]) => [term.replace(/^\w+:/, ''), value]))
    : null;
  if (published?.sex) published.sex = SEX_OF_DRAFT[published.sex] ?? published.sex;
  return { ours: AMENDMENTS[test]?.(record) ?? null, published };
}

const MEASURE = 'MEASURE_EVENTDATE_PRECISIONINSECONDS';
const answered = rows
  .filter(({ test = '' }) => test in QUALITY_TESTS || test in AMENDMENTS || test === MEASURE)
  // Rows that need a service that cannot be reached test the caller, not the judgement.
  .filter((row) => row.response_status !== 'EXTERNAL_PREREQUISITES_NOT_MET');

describe.skipIf(rows.length === 0)('published rows of the quality tests (skipped without their file)', () => {
  it.each(answered.filter((row) => !((row.line ?? '') in AGREED)))('line $line $test $input_json', (row) => {
    const { ours, published } = answerRow(row);
    expect(ours).toEqual(published);
  });

  it.each(Object.entries(AGREED))('line %s: we answer otherwise, because %s', (line) => {
    const row = answered.find((one) => one.line === line);
    if (!row) throw new Error('no such row');
    const { ours, published } = answerRow(row);
    expect(ours).not.toEqual(published);
  });

  it('covers dates, coordinates, uncertainty, elevation and depth', () => {
    expect(answered.length).toBeGreaterThan(500);
  });
});
