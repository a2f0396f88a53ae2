import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { classifyQuality } from '@/lib/storage/quality';
import { ggbnRowTypes, ggbnTerms, mapVialToGgbn } from '@/lib/tissues/ggbn';
import { vialSchema } from '@/lib/tissues/schema';

const directory = process.env.FURCULA_REFERENCE_DIR ?? '../shared';
const file = join(directory, 'standards/ggbn/ggbn_terms.csv');
const valuesFile = join(directory, 'standards/ggbn/ggbn_controlled_values.csv');
const hasList = existsSync(file) && existsSync(valuesFile);
const read = (path: string) =>
  parse(readFileSync(path), { columns: true, bom: true }) as Record<string, string>[];

const vial = vialSchema.parse({
  id: 'v1',
  birdNumber: 'LV-2026-00417',
  suffix: 'T1',
  derivedFromId: null,
  tissues: ['liver', 'heart'],
  preservation: { kind: 'ethanol', ethanolPercent: 95, temperatureC: -20 },
  container: { kind: 'cryovial', volumeMl: 2 },
  amount: { value: 250, unit: 'mg' },
  times: { frozenAt: '2026-03-05T10:00:00Z', preservedAt: '2026-03-20T09:30:00Z' },
  thawCount: 1,
  origin: 'salvaged',
  dnaYieldUg: null,
  state: 'stored',
});
const quality = classifyQuality(vial);
const rows = mapVialToGgbn(
  vial,
  quality,
  { preparedBy: 'Ángel Ñandú', preparedOn: '2026-03-20' },
  '2026-03-21',
);

describe.skipIf(!hasList)(
  'GGBN terms against the published definition files (skipped without ../shared/standards)',
  () => {
    const published = hasList ? read(file) : [];

    it('every term used is published under exactly that address', () => {
      const known = new Set(published.map((row) => row.term_iri));
      expect(Object.values(ggbnTerms).filter((iri) => !known.has(iri))).toEqual([]);
    });

    it('every row type is published', () => {
      const known = new Set(published.map((row) => row.row_type));
      expect(Object.values(ggbnRowTypes).filter((iri) => !known.has(iri))).toEqual([]);
    });

    it.each([
      ['MaterialSample', [rows.materialSample]],
      ['Preservation', rows.preservation],
      ['Preparation', [rows.preparation]],
    ] as const)('%s rows carry every required term and none of another extension', (extension, list) => {
      const own = published.filter((row) => row.extension === extension);
      const required = own.filter((row) => row.required === 'true').map((row) => row.name ?? '');
      const names = new Set(own.map((row) => row.name));
      expect(required.length).toBeGreaterThan(0);
      for (const row of list) {
        expect(Object.keys(row)).toEqual(expect.arrayContaining(required));
        expect(Object.keys(row).filter((name) => !names.has(name))).toEqual([]);
      }
    });

    it('the quality written is one of the published values', () => {
      const values = read(valuesFile)
        .filter((row) => row.vocabulary === 'quality')
        .map((row) => row.value);
      for (const stars of [1, 2, 3, 4] as const) {
        const { materialSample } = mapVialToGgbn(
          vial,
          { ...quality, stars },
          { preparedBy: null, preparedOn: '2026-03-20' },
          '2026-03-21',
        );
        expect(values).toContain(materialSample.quality);
      }
    });
  },
);

describe('a vial as GGBN rows', () => {
  it('writes weight, quality with its rule, and each preservation in order', () => {
    expect(rows.materialSample).toMatchObject({
      materialSampleType: 'tissue',
      weight: '250',
      weightUnit: 'mg',
      quality: 'low',
      sampleDesignation: 'LV-2026-00417-T1',
    });
    expect(rows.materialSample.qualityRemarks).toContain('Wong et al. 2012');
    expect(rows.preservation).toEqual([
      { preservationType: 'frozen', preservationDateBegin: '2026-03-05T10:00:00Z', sequence: '1' },
      {
        preservationType: 'alcohol 95 %',
        preservationTemperature: '-20 °C',
        preservationDateBegin: '2026-03-20T09:30:00Z',
        sequence: '2',
      },
    ]);
    expect(rows.preparation).toEqual({
      preparationType: 'liver | heart',
      preparedBy: 'Ángel Ñandú',
      preparationDate: '2026-03-20',
    });
  });

  it('leaves out what is not known', () => {
    const bare = mapVialToGgbn(
      { ...vial, amount: null, times: { ...vial.times, frozenAt: null, preservedAt: null } },
      { stars: null, reason: '', isProvisional: false },
      { preparedBy: null, preparedOn: '2026-03-20' },
      '2026-03-21',
    );
    expect(Object.keys(bare.materialSample)).toEqual(['materialSampleType', 'sampleDesignation']);
    expect(bare.preservation).toHaveLength(1);
    expect(bare.preparation.preparedBy).toBeUndefined();
  });
});
