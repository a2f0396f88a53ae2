import Ajv from 'ajv';
import addFormats from 'ajv-formats';
import { describe, expect, it } from 'vitest';
import { describeDataPackage } from '@/lib/exchange/data-package/descriptor';
import { DATA_PACKAGE_TABLES } from '@/lib/exchange/data-package/tables';
import { metadata } from '../unit/exchange/sample-birds';
import { hasReference, readReference, readReferenceRows } from './reference-files';

const FOLDER = ['standards', 'darwin-core-data-package'];
const load = (...parts: string[]): unknown => JSON.parse(readReference(...FOLDER, ...parts));

/** The two schemas are draft-04 in name and use nothing that later drafts read otherwise, but for what is taken out. */
function withoutDraft(schema: unknown): object {
  const { $schema: _, id: __, ...rest } = schema as Record<string, unknown>;
  return rest;
}

// Source: Darwin Core Data Package profile and table schemas of 2026-05-02, Data Package v1, guide 2026-05-26.
describe.skipIf(!hasReference(...FOLDER, 'dwc-dp-profile.json'))(
  'data package against its published profile (skipped without it)',
  () => {
    const compile = () => {
      const ajv = new Ajv({ strict: false, allErrors: true });
      addFormats(ajv);
      ajv.addFormat('textarea', true);
      ajv.addSchema(
        withoutDraft(load('frictionless-data-package.json')),
        'https://specs.frictionlessdata.io/schemas/data-package.json',
      );
      return ajv.compile(withoutDraft(load('dwc-dp-profile.json')));
    };

    it('the descriptor is valid', () => {
      const validate = compile();
      validate(describeDataPackage(metadata));
      expect(validate.errors ?? []).toEqual([]);
    });

    it("so is the guide's own example; what breaks the profile is refused", () => {
      const validate = compile();
      expect(validate(load('guide-2-example', 'datapackage.json'))).toBe(true);
      const descriptor = describeDataPackage(metadata);
      const { profile: _, ...nameless } = descriptor;
      expect(validate(nameless)).toBe(false);
      const [event] = descriptor.resources;
      const bare = { ...event, schema: { fields: [{ name: 'eventID', type: 'string' }] } };
      expect(validate({ ...descriptor, resources: [bare] })).toBe(false);
    });

    it('standard tables have the columns, types and keys that are published, or terms of the list', () => {
      const listed = new Set(
        readReferenceRows('standards', 'darwin-core', 'dwc_terms_2026-05-26.csv').map((row) => row.iri),
      );
      let compared = 0;
      for (const table of DATA_PACKAGE_TABLES) {
        if (!hasReference(...FOLDER, 'table-schemas', `${table.name}.json`)) continue;
        const published = load('table-schemas', `${table.name}.json`) as {
          primaryKey?: string;
          fields: { name: string; type: string; 'dcterms:isVersionOf': string }[];
        };
        expect(table.primaryKey, table.name).toBe(published.primaryKey ?? null);
        for (const { name, type, iri } of table.fields) {
          const same = published.fields.find((field) => field.name === name);
          const where = `${table.name}.${name}`;
          if (same === undefined) expect(listed, where).toContain(iri);
          else {
            expect(type, where).toBe(same.type);
            if (iri !== same['dcterms:isVersionOf']) expect(listed, where).toContain(iri);
          }
          compared += 1;
        }
      }
      expect(compared).toBeGreaterThan(100);
    });

    it('tables of our own have names that the profile leaves free', () => {
      const { $defs } = load('dwc-dp-profile.json') as { $defs: Record<string, { enum: string[] }> };
      const reserved = $defs['dwc-dp-resource-names']?.enum ?? [];
      const own = DATA_PACKAGE_TABLES.map(({ name }) => name).filter((name) => !reserved.includes(name));
      expect(own).toEqual(['tissue', 'preservation', 'preparation', 'permit', 'loan']);
    });
  },
);
