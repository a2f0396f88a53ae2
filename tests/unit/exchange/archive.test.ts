import { readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { describe, expect, it } from 'vitest';
import { type ArchiveOptions, writeMaterialArchive, writeOccurrenceArchive } from '@/lib/exchange/dwca';
import type { ExportBird } from '@/lib/exchange/export-types';
import { quoteField } from '@/lib/exchange/zip-tables';
import { readArchive } from './archive-reader';
import { holder, metadata, sampleBird } from './sample-birds';
import { collect, each, unzipTexts } from './zip-files';

const options: ArchiveOptions = { holder, metadata };
const DWC = 'http://rs.tdwg.org/dwc/terms/';
const GGBN = 'http://data.ggbn.org/schemas/ggbn/terms/';

async function exportOccurrences(birds: ExportBird[]) {
  const { out, bytes } = collect();
  const counts = await writeOccurrenceArchive(each(birds), out, options);
  const zip = await bytes;
  return { counts, zip, archive: readArchive(await unzipTexts(zip)) };
}

describe('occurrence archive', () => {
  const birds = [
    sampleBird(1),
    sampleBird(2, { generalise: 0.1 }),
    sampleBird(3, { identifications: [], measurements: [], materials: [] }),
  ];

  it('has one core row a bird and the rest as extensions; counts and values survive', async () => {
    const { archive, counts } = await exportOccurrences(birds);
    expect(archive.core.rowType).toBe(`${DWC}Occurrence`);
    expect(archive.core.rows.map((row) => row.id)).toEqual(birds.map((bird) => bird.occurrenceId));
    expect(counts.birds).toBe(3);
    expect(Object.values(counts.rows)).toEqual(
      [archive.core, ...archive.extensions].map((table) => table.rows.length),
    );
    const row = archive.core.rows[0]?.values ?? {};
    expect(row[`${DWC}occurrenceRemarks`]).toBe(birds[0]?.occurrenceRemarks);
    expect(row[`${DWC}preparations`]).toBe('study skin | partial skeleton | tissue (frozen)');
    expect(row[`${DWC}eventDate`]).toBe('2026-03-03/2026-03-05');
    expect(row[`${DWC}startDayOfYear`]).toBe('62');
    expect(row[`${DWC}day`]).toBe('');
    expect(row[`${DWC}georeferenceVerificationStatus`]).toBe('requires verification');
    expect(row[`${DWC}individualCount`]).toBe('1');
  });

  it('keeps the bone book apart: taken from, and still inside', async () => {
    const { archive } = await exportOccurrences(birds.slice(0, 1));
    const relations =
      archive.extensions.find((table) => table.rowType === `${DWC}ResourceRelationship`)?.rows ?? [];
    const count = (relation: string) =>
      relations.filter((row) => row.values[`${DWC}relationshipOfResource`] === relation).length;
    expect([count('derived from'), count('part of')]).toEqual([4, 1]);
  });

  it('keeps a label as it is, line breaks and signs', async () => {
    const { archive } = await exportOccurrences(birds.slice(0, 1));
    const labels = archive.extensions.find((table) => table.rowType === `${DWC}MaterialEntity`)?.rows ?? [];
    expect(labels[1]?.values[`${DWC}verbatimLabel`]).toBe(birds[0]?.materials[1]?.verbatimLabel);
  });

  it('says in the standard terms what was coarsened, and lets nothing of the place through', async () => {
    const { zip, archive } = await exportOccurrences(birds.slice(1, 2));
    const row = archive.core.rows[0]?.values ?? {};
    expect(row[`${DWC}decimalLatitude`]).toBe('41.85');
    expect(Number(row[`${DWC}coordinateUncertaintyInMeters`])).toBeGreaterThan(5000);
    expect(row[`${DWC}dataGeneralizations`]).toContain('0.1 degree');
    expect(row[`${DWC}informationWithheld`]).toContain('withheld');
    expect(row[`${DWC}county`]).toBe('Cook');
    const everything = [...(await unzipTexts(zip)).values()].join('\n');
    for (const telling of ['library', '41.8663', '87.64', '590 ft'])
      expect(everything).not.toContain(telling);
  });

  it('withholds coordinates altogether when asked to, and names of private persons are said to be left out', async () => {
    const bird = sampleBird(4, { generalise: 'none', recordedBy: [], recordedByWithheld: true });
    const row = (await exportOccurrences([bird])).archive.core.rows[0]?.values ?? {};
    expect([
      row[`${DWC}decimalLatitude`],
      row[`${DWC}geodeticDatum`],
      row[`${DWC}coordinateUncertaintyInMeters`],
    ]).toEqual(['', '', '']);
    expect(row[`${DWC}informationWithheld`]).toContain('private persons');
  });

  it('gives the same bytes for the same data, in every time zone', async () => {
    const before = process.env.TZ;
    try {
      const zips: Buffer[] = [];
      for (const zone of ['UTC', 'America/Chicago', 'Asia/Kolkata']) {
        process.env.TZ = zone;
        zips.push((await exportOccurrences(birds)).zip);
      }
      expect(zips[1]?.equals(zips[0] ?? Buffer.alloc(0))).toBe(true);
      expect(zips[2]?.equals(zips[0] ?? Buffer.alloc(0))).toBe(true);
    } finally {
      process.env.TZ = before;
    }
  });

  it('writes an empty collection as an archive without rows', async () => {
    const { archive, counts } = await exportOccurrences([]);
    expect([archive.core.rows.length, counts.birds]).toEqual([0, 0]);
  });

  it('many birds pass through in one reading, in order', async () => {
    const many = Array.from({ length: 600 }, (_, index) => sampleBird(index + 1));
    const { archive } = await exportOccurrences(many);
    expect(archive.core.rows.map((row) => row.id)).toEqual(many.map((bird) => bird.occurrenceId));
    expect(archive.extensions.at(-1)?.rows).toHaveLength(3600);
  });

  it('stops when the birds fail, when it is cancelled, and when the reader goes away, and leaves no files behind', async () => {
    const leftovers = () => readdirSync(tmpdir()).filter((name) => name.startsWith('archive-')).length;
    const before = leftovers();
    async function* broken() {
      yield sampleBird(1);
      throw new Error('the database went away');
    }
    await expect(writeOccurrenceArchive(broken(), collect().out, options)).rejects.toThrow(
      'the database went away',
    );
    const cancel = new AbortController();
    async function* endless() {
      for (let number = 1; ; number += 1) {
        if (number === 200) cancel.abort(new Error('cancelled'));
        yield sampleBird(number);
      }
    }
    await expect(
      writeOccurrenceArchive(endless(), collect().out, { ...options, signal: cancel.signal }),
    ).rejects.toThrow();
    const gone = collect();
    async function* forever() {
      for (let number = 1; ; number += 1) {
        if (number === 500) gone.out.destroy(new Error('reader left'));
        yield sampleBird(number);
      }
    }
    await expect(writeOccurrenceArchive(forever(), gone.out, options)).rejects.toThrow();
    expect(leftovers()).toBe(before);
  });
});

describe('material archive', () => {
  it('has one row a thing; preservation in order; the individual only by its identifier', async () => {
    const bird = sampleBird(1);
    bird.materials[1]?.loans.push({
      identifier: 'L-9',
      sentOn: '2026-05-01',
      destination: 'D. Dunn, Hillside University',
      conditions: null,
      blocked: true,
      blockedUntil: '2027-05-01',
      receivedFrom: null,
      outcome: null,
      outcomeOn: null,
    });
    const { out, bytes } = collect();
    const counts = await writeMaterialArchive(each([bird]), out, options);
    const archive = readArchive(await unzipTexts(await bytes));
    expect(archive.core.rowType).toBe(`${DWC}MaterialEntity`);
    expect(archive.core.rows.map((row) => row.id)).toEqual(bird.materials.map((material) => material.id));
    expect(new Set(archive.core.rows.map((row) => row.values[`${DWC}organismID`]))).toEqual(
      new Set([bird.organismId]),
    );
    expect(counts.birds).toBe(1);
    const table = (name: string) =>
      archive.extensions.find((extension) => extension.rowType === `${GGBN}${name}`)?.rows ?? [];
    expect(table('Preservation').map((row) => row.values[`${GGBN}sequence`])).toEqual(['1', '2', '1', '2']);
    expect(table('MaterialSample')).toHaveLength(2);
    expect(table('Permit')[0]?.values[`${GGBN}permitType`]).toBe('Salvage');
    expect(table('Loan')[0]?.values[`${GGBN}blocked`]).toBe('yes');
  });
});

it.each([
  ['plain', 'plain'],
  ['a,b', '"a,b"'],
  ['say "x"', '"say ""x"""'],
  ['two\r\nlines', '"two\r\nlines"'],
  [' kept ', '" kept "'],
  [0, '0'],
  [false, 'false'],
  [null, ''],
])('writes the field %o as %s', (value, written) => {
  expect(quoteField(value)).toBe(written);
});
