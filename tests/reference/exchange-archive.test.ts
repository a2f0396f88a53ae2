import { describe, expect, it } from 'vitest';
import { validateXML } from 'xmllint-wasm';
import { writeMetaXml, writeOccurrenceArchive } from '@/lib/exchange/dwca';
import { writeEml } from '@/lib/exchange/eml';
import * as terms from '@/lib/exchange/terms';
import { readArchive } from '../unit/exchange/archive-reader';
import { holder, metadata, sampleBird } from '../unit/exchange/sample-birds';
import { collect, each, unzipTexts } from '../unit/exchange/zip-files';
import { hasReference, readReference, readReferenceRows } from './reference-files';

const TEXT = ['standards', 'darwin-core-text'];
const shapes = [
  terms.OCCURRENCE,
  ...terms.OCCURRENCE_EXTENSIONS,
  terms.MATERIAL_CORE,
  ...terms.MATERIAL_EXTENSIONS,
];

async function validate(xml: string, schema: [string, string], preload: [string, string][]) {
  const toFile = ([fileName, contents]: [string, string]) => ({ fileName, contents });
  return validateXML({
    xml: [{ fileName: 'document.xml', contents: xml }],
    schema: [toFile(schema)],
    preload: preload.map(toFile),
  });
}

// Source: Darwin Core text guide 2023-09-13, tdwg_dwc_text.xsd without its two unused remote imports.
describe.skipIf(!hasReference(...TEXT, 'tdwg_dwc_text.offline.xsd'))(
  'metafile against the published schema (skipped without it)',
  () => {
    const check = (xml: string) =>
      validate(xml, ['text.xsd', readReference(...TEXT, 'tdwg_dwc_text.offline.xsd')], []);

    it('both metafiles are valid', async () => {
      for (const xml of [
        writeMetaXml(terms.OCCURRENCE, terms.OCCURRENCE_EXTENSIONS),
        writeMetaXml(terms.MATERIAL_CORE, terms.MATERIAL_EXTENSIONS),
      ]) {
        expect((await check(xml)).errors).toEqual([]);
      }
    });

    it("so are the guide's own examples, and the obsolete form is refused", async () => {
      expect((await check(readReference(...TEXT, 'examples', 'guide-1.2-meta.xml'))).valid).toBe(true);
      expect((await check(readReference(...TEXT, 'examples', 'guide-3.1-meta.xml'))).valid).toBe(true);
      expect(
        (await check(readReference(...TEXT, 'examples', 'obsolete-metafile-must-be-refused.xml'))).valid,
      ).toBe(false);
    });

    it("the reader kept for these tests gives the values printed for the guide's example", () => {
      const meta = readReference(...TEXT, 'examples', 'guide-1.2-meta.xml');
      const { core } = readArchive(
        new Map([
          ['meta.xml', meta],
          [
            'http://data.gbif.org/download/specimens.csv',
            readReference(...TEXT, 'examples', 'guide-1.2-specimens.csv'),
          ],
        ]),
      );
      const dwc = 'http://rs.tdwg.org/dwc/terms/';
      const printed = core.rows.map(({ values }) =>
        ['occurrenceID', 'scientificName', 'individualCount', 'datasetID'].map((term) => values[dwc + term]),
      );
      const dataset = 'urn:lsid:tim.lsid.tdwg.org:collections:1';
      expect(printed).toEqual([
        ['123', 'Cryptantha gypsophila Reveal & C.R. Broome', '12', dataset],
        ['124', 'Buxbaumia piperi', '2', dataset],
      ]);
    });
  },
);

// Source: EML 2.2.0, GBIF profile 1.3.
describe.skipIf(!hasReference('standards', 'eml', 'eml.xsd'))(
  'metadata document against its schema (skipped without it)',
  () => {
    it.each([
      ['with everything', metadata],
      ['with the least', { ...metadata, coverage: null, citation: null, contactEmail: null, keywords: [] }],
    ])('%s', async (_, content) => {
      const preload = ['eml-gbif-profile.xsd', 'dc.xsd', 'xml.xsd'].map((name): [string, string] => [
        name,
        readReference('standards', 'eml', name),
      ]);
      const result = await validate(
        writeEml(content),
        ['eml.xsd', readReference('standards', 'eml', 'eml.xsd')],
        preload,
      );
      expect(result.errors).toEqual([]);
    });
  },
);

// Sources: Darwin Core 2026-05-26, GGBN definition files 2016-01-13, Audiovisual Core 2026-02-24, registered row types.
describe.skipIf(!hasReference('standards', 'darwin-core', 'dwc_terms_2026-05-26.csv'))(
  'terms against the published lists (skipped without them)',
  () => {
    it('every column is a current term of a published list', () => {
      const known = new Set([
        ...readReferenceRows('standards', 'darwin-core', 'dwc_terms_2026-05-26.csv').map((row) => row.iri),
        ...readReferenceRows('standards', 'ggbn', 'ggbn_terms.csv').map((row) => row.term_iri),
        ...readReferenceRows('standards', 'audiovisual-core', 'ac_terms_2026-02-24.csv').map(
          (row) => row.iri,
        ),
      ]);
      const unknown = shapes
        .flatMap((shape) => shape.columns)
        .map(terms.termIri)
        .filter((iri) => !known.has(iri));
      expect(unknown).toEqual([]);
    });

    it('every row type is a registered one or a class of Darwin Core; required columns are there', () => {
      const registered = readReferenceRows(...TEXT, 'row_types_and_fields.csv');
      const classes = readReferenceRows('standards', 'darwin-core', 'dwc_terms_2026-05-26.csv').filter(
        (row) => row.kind === 'class',
      );
      const known = new Set([...registered.map((row) => row.row_type), ...classes.map((row) => row.iri)]);
      for (const shape of shapes) {
        const rowType = terms.termIri(shape.rowType);
        expect(known).toContain(rowType);
        const columns = shape.columns.map(terms.termIri);
        const required = registered
          .filter((row) => row.row_type === rowType && row.required === 'true')
          .map((row) => row.term_iri);
        for (const term of required) expect(columns).toContain(term);
      }
    });

    it('no column stands twice in a table', () => {
      for (const shape of shapes) expect(new Set(shape.columns).size).toBe(shape.columns.length);
    });
  },
);

// Source: Darwin Core, verbatimLabel, example 1 (not normative).
describe.skipIf(!hasReference('standards', 'test-vectors', 'verbatimLabel-example-1.txt'))(
  'label example (skipped without it)',
  () => {
    it('passes through the archive unchanged', async () => {
      const label = readReference('standards', 'test-vectors', 'verbatimLabel-example-1.txt');
      const bird = sampleBird(1);
      for (const material of bird.materials) material.verbatimLabel = label;
      const { out, bytes } = collect();
      await writeOccurrenceArchive(each([bird]), out, { holder, metadata });
      const { extensions } = readArchive(await unzipTexts(await bytes));
      const labels =
        extensions.at(-1)?.rows.map((row) => row.values['http://rs.tdwg.org/dwc/terms/verbatimLabel']) ?? [];
      expect(new Set(labels)).toEqual(new Set([label]));
    });
  },
);
