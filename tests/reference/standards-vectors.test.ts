import { describe, expect, it } from 'vitest';
import { QUALITY_TESTS } from '@/lib/exchange/quality-tests';
import { parseCoordinates, parseLatitudeLongitude } from '@/lib/places/coordinates';
import { parseDate } from '@/lib/places/dates';
import { parseMetreRange } from '@/lib/places/distances';
import { measureGps, measureGrid } from '@/lib/places/georeference';
import { type DateInterval, listEventParts, measureInterval, parseIsoDate } from '@/lib/places/iso-dates';
import type { Outcome } from '@/lib/places/outcome';
import { readReferenceRows } from './reference-files';

const rows = readReferenceRows('standards', 'test-vectors', 'standards_test_vectors.csv');
const byId = new Map(rows.map((row) => [row.id, row]));
const checked = new Set<string>();

/** Rows that are checked elsewhere or are about values that no function of ours makes, each with its reason. */
const ELSEWHERE: Record<string, string> = {
  'time-01': 'eventTime is not written by us: a time stands in eventDate, whose offsets date-01 checks',
  'time-02': 'the same; the printed end is a misprint of the standard',
  'geo-20': 'pointRadiusSpatialFit is not written: no footprint is kept beside the point and radius',
  'geo-21': 'footprintWKT is not written, for the same reason',
  'list-02': 'a list is only written, never cut apart again; list-01 shows the form',
  'list-04': 'earlier identifications are rows of the Identification extension, not one text',
  'json-01': 'dynamicProperties is not written: measurements are rows of their own',
  'csv-01': 'exchange-archive.test.ts',
  'csv-02': 'exchange-archive.test.ts',
  'csv-03': 'exchange-archive.test.ts',
  'csv-04': 'exchange-archive.test.ts',
  'dp-01': 'the data package has tests of its own',
};

function vector(id: string): { input: string; expected: string } {
  const row = byId.get(id);
  if (!row) throw new Error(`no vector ${id}`);
  checked.add(id);
  return { input: row.input ?? '', expected: row.expected ?? '' };
}

function read<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.message);
  return outcome.value;
}

const iso = (text: string): DateInterval => read(parseIsoDate(text));
const seconds = (text: string) => {
  const { startMs, endMs } = measureInterval(iso(text));
  return (endMs - startMs) / 1000;
};
const bounds = (text: string) => {
  const { startMs, endMs } = measureInterval(iso(text));
  return [startMs, endMs].map((ms) => new Date(ms).toISOString().slice(0, 16));
};

describe.skipIf(rows.length === 0)(
  'worked examples printed in the standards (skipped without their file)',
  () => {
    it.each([
      ['date-01', '1963-03-08T20:07', '1963-03-08T20:08'],
      ['date-02', '2009-02-20T08:40', '2009-02-20T08:41'],
      ['date-03', '2018-08-29T15:19', '2018-08-29T15:20'],
      ['date-04', '1809-02-12T00:00', '1809-02-13T00:00'],
      ['date-05', '1906-06-01T00:00', '1906-07-01T00:00'],
      ['date-06', '1971-01-01T00:00', '1972-01-01T00:00'],
      ['date-07', '2007-03-01T13:00', '2008-05-11T15:30'],
      ['date-08', '1900-01-01T00:00', '1910-01-01T00:00'],
      ['date-09', '2007-11-13T00:00', '2007-11-16T00:00'],
    ])('%s', (id, start, end) => {
      const { input, expected } = vector(id);
      expect(bounds(input)).toEqual([start, end]);
      // The file prints days or minutes; the times written here must begin with what it prints.
      const printed = expected.match(/\d{4}-\d{2}-\d{2}(?:T\d{2}:\d{2})?/g);
      for (const [index, text] of (printed ?? []).entries())
        expect([start, end][index]?.startsWith(text)).toBe(true);
      expect(measureInterval(iso(input)).zoneKnown).toBe(input.endsWith('Z') || input.endsWith('-06:00'));
    });

    it.each(['date-10', 'date-11', 'date-12', 'date-13', 'date-14'])('%s: length in seconds', (id) => {
      const { input, expected } = vector(id);
      expect(seconds(input)).toBe(Number(expected));
    });

    it.each(['date-15', 'date-16', 'date-17'])('%s: parts of a date', (id) => {
      const { input, expected } = vector(id);
      const { year, month, day, startDayOfYear, endDayOfYear } = listEventParts(iso(input));
      const parts =
        expected.split(',').length === 2
          ? [startDayOfYear, endDayOfYear]
          : [year, month, day, startDayOfYear, endDayOfYear];
      expect(parts.join(',')).toBe(expected);
    });

    it.each(rows.filter((row) => row.term === 'verbatimEventDate to eventDate').map((row) => row.id ?? ''))(
      '%s: date as written',
      (id) => {
        const { input, expected } = vector(id);
        const parsed = parseDate(input);
        if (expected.startsWith('refuse')) expect(parsed.ok).toBe(false);
        else expect(read(parsed).iso).toBe(expected);
        if (expected.includes('ambiguous')) expect(parsed).toMatchObject({ code: 'ambiguous' });
      },
    );

    it.each(rows.filter((row) => row.id?.startsWith('date-bad-')).map((row) => row.id ?? ''))(
      '%s: no ISO date',
      (id) => {
        expect(parseIsoDate(vector(id).input).ok).toBe(false);
      },
    );

    it('date-30: the older offset is taken and the newer one written', () => {
      expect(iso(vector('date-30').input).iso).toBe('1963-03-08T14:07-06:00');
    });

    it('geo-01, geo-02: latitude and longitude in their own fields', () => {
      const [latitude, longitude] = [vector('geo-01'), vector('geo-02')];
      const parsed = read(parseLatitudeLongitude(latitude.input, longitude.input));
      expect(Math.abs(parsed.latitude - Number.parseFloat(latitude.expected))).toBeLessThan(1e-6);
      expect(parsed.longitude).toBeCloseTo(Number(longitude.expected), 7);
    });

    it.each(['geo-03', 'geo-05'])('%s: both in one field', (id) => {
      const { input, expected } = vector(id);
      const parsed = read(parseCoordinates(input));
      const [latitude, longitude] = expected.split(',').map(Number);
      expect(parsed.latitude).toBeCloseTo(latitude ?? 0, 6);
      expect(parsed.longitude).toBeCloseTo(longitude ?? 0, 6);
    });

    it('geo-04, geo-06: UTM is known as such', () => {
      expect(read(parseCoordinates(vector('geo-04').input)).system).toBe('UTM');
      expect(parseCoordinates(vector('geo-06').input, { system: 'decimal degrees' }).ok).toBe(false);
    });

    it('geo-07: precision of seconds, minutes, degrees', () => {
      const precision = (text: string) => read(parseCoordinates(text)).precisionDegrees ?? 0;
      const printed = vector('geo-07').expected.split(' / ').map(Number);
      expect(precision('1°2\'3"N 4°5\'6"E')).toBeCloseTo(printed[0] ?? 0, 6);
      expect(precision("1°2'N 4°5'E")).toBeCloseTo(printed[1] ?? 0, 5);
      expect(precision('1°N 4°E')).toBe(printed[2]);
    });

    it('geo-08, geo-09: uncertainty of a grid and of a receiver', () => {
      expect(Math.round(measureGrid(100).valueM)).toBe(Number(vector('geo-08').expected));
      expect(
        [measureGps(null, '2000-05-01'), measureGps(null, '2000-04-30')]
          .map((term) => term.valueM)
          .join(' / '),
      ).toBe(vector('geo-09').expected);
    });

    it.each(rows.filter((row) => row.id?.startsWith('geo-1-')).map((row) => row.id ?? ''))(
      '%s: uncertainty in range',
      (id) => {
        const { input, expected } = vector(id);
        const answer = QUALITY_TESTS.VALIDATION_COORDINATEUNCERTAINTY_INRANGE?.(
          { coordinateUncertaintyInMeters: input },
          { today: '2026-11-25' },
        );
        expect(answer).toMatchObject({ result: expected === 'accept' ? 'COMPLIANT' : 'NOT_COMPLIANT' });
      },
    );

    // The lists disagree about "WGS84": like the quality tests we refuse it in an export and write EPSG:4326.
    it.each(rows.filter((row) => row.id?.startsWith('srs-')).map((row) => row.id ?? ''))(
      '%s: datum',
      (id) => {
        const { input, expected } = vector(id);
        const answer = QUALITY_TESTS.VALIDATION_GEODETICDATUM_STANDARD?.(
          { geodeticDatum: input },
          { today: '2026-11-25' },
        );
        expect(answer).toMatchObject({ result: expected === 'accept' ? 'COMPLIANT' : 'NOT_COMPLIANT' });
      },
    );

    it.each(rows.filter((row) => row.id?.startsWith('elev-')).map((row) => row.id ?? ''))('%s', (id) => {
      const { input, expected } = vector(id);
      const parsed = parseMetreRange(input);
      if (expected.startsWith('refuse')) expect(parsed.ok).toBe(false);
      else expect(`${read(parsed).minimumM} / ${read(parsed).maximumM}`).toBe(expected);
    });

    it('list-01, list-03: several values are written with a bar between spaces', async () => {
      const { joinList } = await import('@/lib/exchange/map-bird');
      for (const id of ['list-01', 'list-03']) {
        const { input } = vector(id);
        expect(joinList(input.split(' | '))).toBe(input);
      }
    });

    it('every row was checked or has its reason', () => {
      const left = rows.map((row) => row.id ?? '').filter((id) => !checked.has(id) && !(id in ELSEWHERE));
      expect(left).toEqual([]);
      expect(rows).toHaveLength(73);
    });
  },
);
