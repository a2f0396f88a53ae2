import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import {
  mapFeature,
  mapUncertaintyCircle,
  neutraliseFormula,
  SIMPLE_COLUMNS,
  writeGeoJson,
  writeSimpleCsv,
} from '@/lib/exchange/flat-exports';
import { findMidsLevel, flattenRow, reportQuality } from '@/lib/exchange/quality-report';
import { holder, sampleBird } from './sample-birds';
import { collect, each } from './zip-files';

describe('simple Darwin Core CSV', () => {
  it('has one line a bird under plain term names, and reads back', async () => {
    const { out, bytes } = collect();
    expect(await writeSimpleCsv(each([sampleBird(1), sampleBird(2)]), out, holder)).toBe(2);
    const rows = parse((await bytes).toString('utf8'), { columns: true, bom: true }) as Record<
      string,
      string
    >[];
    expect(Object.keys(rows[0] ?? {})).toEqual([...SIMPLE_COLUMNS]);
    expect(rows[1]).toMatchObject({
      catalogNumber: 'LKM 2',
      decimalLongitude: '-87.64',
      scientificName: 'Turdus migratorius Linnaeus, 1766',
    });
  });

  it('writes nothing that a spreadsheet would run', async () => {
    const { out, bytes } = collect();
    await writeSimpleCsv(
      each([sampleBird(1, { occurrenceRemarks: '=cmd()', eventRemarks: '@x' })]),
      out,
      holder,
    );
    const [row] = parse((await bytes).toString('utf8'), { columns: true, bom: true }) as Record<
      string,
      string
    >[];
    expect([row?.occurrenceRemarks, row?.eventRemarks]).toEqual(["'=cmd()", "'@x"]);
  });

  it.each([
    ['-87.64', '-87.64'],
    ['+1', '+1'],
    ['-x', "'-x"],
    ['\t=1', "'\t=1"],
    ['a=b', 'a=b'],
  ])('%s becomes %s', (text, safe) => expect(neutraliseFormula(text)).toBe(safe));
});

describe('GeoJSON', () => {
  it('is one valid collection, longitude first, generalised like the rest', async () => {
    let text = '';
    for await (const part of writeGeoJson(
      each([sampleBird(1), sampleBird(2, { generalise: 1 }), sampleBird(3, { generalise: 'none' })]),
      holder,
    ))
      text += part;
    const collection = JSON.parse(text);
    const places = collection.features.map(
      (feature: { geometry: { coordinates: number[] } | null }) => feature.geometry?.coordinates ?? null,
    );
    expect(places).toEqual([[-87.64, 41.8663], [-87.5, 41.5], null]);
    expect(text).toContain('"dataGeneralizations"');
  });

  it('draws the uncertainty', () => {
    expect(mapUncertaintyCircle(mapFeature(sampleBird(1), holder))?.coordinates[0]).toHaveLength(73);
    expect(mapUncertaintyCircle(mapFeature(sampleBird(1, { generalise: 'none' }), holder))).toBeNull();
  });
});

describe('quality before release', () => {
  it('counts each test and shows the first failures', async () => {
    const bad = sampleBird(2, { eventDate: '2031-01-01' });
    bad.place.countryCode = 'AU';
    const report = await reportQuality(each([sampleBird(1), bad]), holder, { today: '2026-11-25' });
    const finding = (test: string) => report.findings.find((one) => one.test === test);
    expect(report.records).toBe(2);
    expect(finding('VALIDATION_EVENTDATE_INRANGE')).toMatchObject({
      compliant: 1,
      notCompliant: 1,
      examples: [{ occurrenceId: bad.occurrenceId }],
    });
    expect(finding('VALIDATION_COORDINATES_COUNTRYCODE_CONSISTENT')).toMatchObject({
      compliant: 1,
      notCompliant: 1,
    });
    expect(finding('VALIDATION_MINDEPTH_INRANGE')).toMatchObject({ notApplicable: 2 });
    expect(report.midsLevels).toEqual({ 2: 2 });
    expect(report.missingElements).toEqual({ CollectingAgentID: 2, IdentifiedByID: 2 });
  });

  it('climbs the levels of minimum information one by one', () => {
    const level = (record: Record<string, string>) => findMidsLevel(record).level;
    const bare = { catalogNumber: '1', institutionCode: 'LKM' };
    const basic = {
      ...bare,
      scientificName: 'Turdus migratorius',
      preparations: 'skin',
      license: 'CC0',
      modified: '2026-01-01',
    };
    const regular = {
      ...basic,
      locality: 'x',
      decimalLatitude: '1',
      decimalLongitude: '2',
      recordedBy: 'A',
      eventDate: '2026',
      recordNumber: '7',
    };
    const extended = {
      ...regular,
      institutionID: 'i',
      recordedByID: 'r',
      identifiedByID: 'd',
      geodeticDatum: 'EPSG:4326',
      coordinateUncertaintyInMeters: '9',
      coordinatePrecision: '0.1',
    };
    expect([{}, bare, basic, regular, extended].map(level)).toEqual([-1, 0, 1, 2, 3]);
    expect(findMidsLevel({ ...basic, decimalLatitude: '1' }).missing).toContain('QuantitativeLocation');
    expect(flattenRow({ 'dwc:sex': 'female', 'dwc:lifeStage': null, 'dwc:individualCount': 1 })).toEqual({
      sex: 'female',
      individualCount: '1',
    });
  });
});
