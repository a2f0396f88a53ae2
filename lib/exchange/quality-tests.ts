import {
  checkPlaceAgreement,
  checkUncertainty,
  type DateInterval,
  findEventConflicts,
  parseIsoDate,
} from '@/lib/places/public-rules';

/** A flat record by local Darwin Core term name. */
export type FlatRecord = Record<string, string | undefined>;

/** Answer of one test, in the words of the Biodiversity Data Quality draft (TDWG, July 2026). */
export type QualityAnswer =
  | { status: 'RUN_HAS_RESULT'; result: 'COMPLIANT' | 'NOT_COMPLIANT'; comment: string }
  | { status: 'INTERNAL_PREREQUISITES_NOT_MET'; comment: string };

export interface QualityOptions {
  /** Last day that can have happened, `YYYY-MM-DD`; the draft takes today. */
  today: string;
  /** First day a specimen may come from; the draft's default is the Gregorian calendar. */
  earliest?: string;
}

type QualityTest = (record: FlatRecord, options: QualityOptions) => QualityAnswer;

const EARLIEST_DAY = '1582-11-15';
const LOWEST_M = -430;
const HIGHEST_M = 8850;
const DEEPEST_M = 11_000;

const unmet = (comment: string): QualityAnswer => ({ status: 'INTERNAL_PREREQUISITES_NOT_MET', comment });
const judge = (compliant: boolean, comment: string): QualityAnswer => ({
  status: 'RUN_HAS_RESULT',
  result: compliant ? 'COMPLIANT' : 'NOT_COMPLIANT',
  comment,
});

/** Whether a value is empty by the draft: missing or white space only; the word "null" is a value. */
export function isEmptyValue(value: string | undefined): boolean {
  return value === undefined || value.trim() === '';
}

function readNumber(value: string | undefined): number | null {
  return value !== undefined && /^\s*[+-]?\d+(?:\.\d+)?\s*$/.test(value) ? Number(value) : null;
}

function readInteger(value: string | undefined): number | null {
  const number = readNumber(value);
  return number !== null && Number.isInteger(number) ? number : null;
}

function readDate(value: string | undefined): DateInterval | null {
  const parsed = parseIsoDate(value ?? '');
  return parsed.ok ? parsed.value : null;
}

const notEmpty =
  (...terms: string[]): QualityTest =>
  (record) => {
    const present = terms.some((term) => !isEmptyValue(record[term]));
    return judge(present, `${terms.join(', ')} ${present ? 'given' : 'empty'}`);
  };

const inRange =
  (term: string, low: number, high: number, positiveOnly = false): QualityTest =>
  (record) => {
    const value = readNumber(record[term]);
    if (value === null || (positiveOnly && value < 0)) return unmet(`${term} is no number that counts here`);
    return judge(value >= low && value <= high, `${term} ${value}; range ${low} to ${high}`);
  };

const notAbove =
  (low: string, high: string, positiveOnly = false): QualityTest =>
  (record) => {
    const [least, most] = [readNumber(record[low]), readNumber(record[high])];
    if (least === null || most === null || (positiveOnly && (least < 0 || most < 0)))
      return unmet(`${low} or ${high} is no number`);
    return judge(least <= most, `${low} ${least}, ${high} ${most}`);
  };

const isoDate =
  (term: string): QualityTest =>
  (record) =>
    isEmptyValue(record[term])
      ? unmet(`${term} is empty`)
      : judge(readDate(record[term]) !== null, `${term} ${record[term]}`);

const integerIn =
  (term: string, low: number, high: number): QualityTest =>
  (record) => {
    if (isEmptyValue(record[term])) return unmet(`${term} is empty`);
    const value = readInteger(record[term]);
    return judge(
      value !== null && /^\s*\d+\s*$/.test(record[term] ?? '') && value >= low && value <= high,
      `${term} ${record[term]}`,
    );
  };

const dayOfYear =
  (term: string, at: 'start' | 'end'): QualityTest =>
  (record) => {
    if (isEmptyValue(record[term])) return unmet(`${term} is empty`);
    const value = readInteger(record[term]);
    if (value === 366) {
      const date = readDate(record.eventDate);
      const year = date ? date[at].year : readInteger(record.year);
      if (year === null) return unmet(`${term} is 366 and the year is not known`);
      return judge(parseIsoDate(`${year}-366`).ok, `${term} 366 in ${year}`);
    }
    return judge(value !== null && value >= 1 && value <= 365, `${term} ${record[term]}`);
  };

/** Geographic systems and datums by code; projected systems give metres and do not fit decimal degrees. */
const isDatumCode = (code: number) =>
  (code >= 4000 && code < 5000) || (code >= 1024 && code < 1400) || (code >= 6200 && code < 7000);

/** Each test under the name the draft gives it. */
export const QUALITY_TESTS: Record<string, QualityTest> = {
  VALIDATION_EVENTDATE_NOTEMPTY: notEmpty('eventDate'),
  VALIDATION_YEAR_NOTEMPTY: notEmpty('year'),
  VALIDATION_EVENT_TEMPORAL_NOTEMPTY: notEmpty(
    'eventDate',
    'year',
    'month',
    'day',
    'startDayOfYear',
    'endDayOfYear',
    'verbatimEventDate',
  ),
  VALIDATION_DECIMALLATITUDE_NOTEMPTY: notEmpty('decimalLatitude'),
  VALIDATION_DECIMALLONGITUDE_NOTEMPTY: notEmpty('decimalLongitude'),
  VALIDATION_GEODETICDATUM_NOTEMPTY: notEmpty('geodeticDatum'),
  VALIDATION_COUNTRYCODE_NOTEMPTY: notEmpty('countryCode'),
  VALIDATION_OCCURRENCEID_NOTEMPTY: notEmpty('occurrenceID'),
  VALIDATION_SCIENTIFICNAME_NOTEMPTY: notEmpty('scientificName'),
  VALIDATION_TAXONRANK_NOTEMPTY: notEmpty('taxonRank'),
  VALIDATION_BASISOFRECORD_NOTEMPTY: notEmpty('basisOfRecord'),
  VALIDATION_EVENTDATE_STANDARD: isoDate('eventDate'),
  VALIDATION_DATEIDENTIFIED_STANDARD: isoDate('dateIdentified'),
  VALIDATION_EVENTDATE_INRANGE: (record, { today, earliest = EARLIEST_DAY }) => {
    const date = readDate(record.eventDate);
    if (!date) return unmet('eventDate is no ISO date');
    return judge(
      date.endOn >= earliest && date.startOn <= today,
      `eventDate ${date.iso}; ${earliest} to ${today}`,
    );
  },
  VALIDATION_DATEIDENTIFIED_INRANGE: (record, { today, earliest = EARLIEST_DAY }) => {
    const identified = readDate(record.dateIdentified);
    const event = readDate(record.eventDate);
    if (!identified || (!isEmptyValue(record.eventDate) && !event))
      return unmet('a date is empty or no ISO date');
    const late = identified.startOn > today || identified.endOn < earliest;
    // A year may lie after any day in it, so only a period that ended before the find began is too early.
    return judge(
      !late && (event === null || identified.endOn >= event.startOn),
      `dateIdentified ${identified.iso}`,
    );
  },
  VALIDATION_YEAR_INRANGE: (record, { today, earliest = EARLIEST_DAY }) => {
    const year = readInteger(record.year);
    if (year === null) return unmet('year is no whole number');
    return judge(year >= Number(earliest.slice(0, 4)) && year <= Number(today.slice(0, 4)), `year ${year}`);
  },
  VALIDATION_MONTH_STANDARD: integerIn('month', 1, 12),
  VALIDATION_DAY_STANDARD: integerIn('day', 1, 31),
  VALIDATION_DAY_INRANGE: (record) => {
    const [day, month, year] = [readInteger(record.day), readInteger(record.month), readInteger(record.year)];
    if (day === null) return unmet('day is no whole number');
    if (month === null) return judge(day >= 1 && day <= 31, `day ${day}`);
    // Without a year the 29th of February is possible.
    const text = `${year ?? 2000}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;
    return judge(parseIsoDate(text).ok, text);
  },
  VALIDATION_STARTDAYOFYEAR_INRANGE: dayOfYear('startDayOfYear', 'start'),
  VALIDATION_ENDDAYOFYEAR_INRANGE: dayOfYear('endDayOfYear', 'end'),
  VALIDATION_EVENTDATE_CONSISTENT: (record) => {
    const date = readDate(record.eventDate);
    const terms = ['year', 'month', 'day', 'startDayOfYear', 'endDayOfYear'] as const;
    if (!date || terms.every((term) => isEmptyValue(record[term])))
      return unmet('nothing to compare with eventDate');
    const parts = Object.fromEntries(
      terms.map((term) => [
        term,
        isEmptyValue(record[term]) ? null : (readInteger(record[term]) ?? Number.NaN),
      ]),
    );
    const conflicts = findEventConflicts(date, parts);
    return judge(
      conflicts.length === 0,
      conflicts.length === 0 ? 'all parts agree' : `${conflicts.join(', ')} differ`,
    );
  },
  VALIDATION_DECIMALLATITUDE_INRANGE: inRange('decimalLatitude', -90, 90),
  VALIDATION_DECIMALLONGITUDE_INRANGE: inRange('decimalLongitude', -180, 180),
  VALIDATION_COORDINATES_ZERO: (record) => {
    const [latitude, longitude] = [readNumber(record.decimalLatitude), readNumber(record.decimalLongitude)];
    if (latitude === null || longitude === null) return unmet('a coordinate is no number');
    return judge(latitude !== 0 || longitude !== 0, `${latitude}, ${longitude}`);
  },
  VALIDATION_COORDINATES_COUNTRYCODE_CONSISTENT: (record) =>
    comparePlace(record, { countryCode: record.countryCode }),
  'VALIDATION_COORDINATES_STATE-PROVINCE_CONSISTENT': (record) =>
    comparePlace(record, { stateProvince: record.stateProvince }),
  VALIDATION_COORDINATEUNCERTAINTY_INRANGE: (record) => {
    const value = readInteger(record.coordinateUncertaintyInMeters);
    if (value === null) return unmet('coordinateUncertaintyInMeters is no whole number');
    const problem = checkUncertainty(value);
    return judge(problem === null, problem ?? `${value} m`);
  },
  VALIDATION_GEODETICDATUM_STANDARD: ({ geodeticDatum }) => {
    if (isEmptyValue(geodeticDatum)) return unmet('geodeticDatum is empty');
    const code = /^EPSG:(\d{4,5})$/.exec(geodeticDatum ?? '');
    return judge(
      geodeticDatum === 'not recorded' || isDatumCode(Number(code?.[1])),
      `geodeticDatum ${geodeticDatum}`,
    );
  },
  VALIDATION_MINELEVATION_INRANGE: inRange('minimumElevationInMeters', LOWEST_M, HIGHEST_M),
  VALIDATION_MAXELEVATION_INRANGE: inRange('maximumElevationInMeters', LOWEST_M, HIGHEST_M),
  VALIDATION_MINELEVATION_LESSTHAN_MAXELEVATION: notAbove(
    'minimumElevationInMeters',
    'maximumElevationInMeters',
  ),
  VALIDATION_MINDEPTH_INRANGE: inRange('minimumDepthInMeters', 0, DEEPEST_M, true),
  VALIDATION_MAXDEPTH_INRANGE: inRange('maximumDepthInMeters', 0, DEEPEST_M, true),
  VALIDATION_MINDEPTH_LESSTHAN_MAXDEPTH: notAbove('minimumDepthInMeters', 'maximumDepthInMeters', true),
};

/** The draft allows 3 km between a coordinate and the named place for the coarseness of outlines. */
function comparePlace(
  record: FlatRecord,
  named: { countryCode?: string; stateProvince?: string },
): QualityAnswer {
  const [latitude, longitude] = [readNumber(record.decimalLatitude), readNumber(record.decimalLongitude)];
  const given = Object.values(named).every((name) => !isEmptyValue(name));
  if (latitude === null || longitude === null || !given) return unmet('a coordinate or the name is missing');
  const { verdict, message } = checkPlaceAgreement({ latitude, longitude }, named, 1000);
  return verdict === 'unknown-name'
    ? unmet(message)
    : judge(verdict === 'agrees' || verdict === 'near', message);
}
