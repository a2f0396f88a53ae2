import { z } from 'zod';
import type { FieldType, PackageTable } from './tables';

const FIELD: Record<FieldType, { type: string; format?: string }> = {
  string: { type: 'string' },
  integer: { type: 'integer' },
  number: { type: 'number' },
  boolean: { type: 'boolean' },
  date: { type: 'date' },
  datetime: { type: 'datetime' },
  object: { type: 'object' },
  array: { type: 'array' },
  binary: { type: 'string', format: 'binary' },
};

/** Of a descriptor, what a reader here needs; everything else in it is for other readers. */
export const descriptorSchema = z.object({
  migration: z.string(),
  resources: z.array(
    z.object({
      name: z.string(),
      table: z.string(),
      path: z.string(),
      schema: z.object({ fields: z.array(z.object({ name: z.string() })) }),
    }),
  ),
});

/** File of a table inside the package. */
export const pathOfTable = (name: string): string => `data/${name}.csv`;

/**
 * `datapackage.json`: a tabular data package (Frictionless Data Package v1, Table Schema, CSV dialect). Nothing in
 * it depends on the hour it is written, so the same data gives the same bytes.
 */
export function describePackage(tables: readonly PackageTable[], migration: string) {
  const resourceName = (table: string) => table.toLowerCase();
  return {
    profile: 'tabular-data-package',
    name: 'furcula-installation',
    title: 'A whole installation of Furcula',
    description:
      'Every table, one CSV each. An empty field is no value; two quotes with nothing between them are an empty text. Files are kept as base64.',
    migration,
    resources: tables.map((table) => ({
      profile: 'tabular-data-resource',
      name: resourceName(table.name),
      table: table.name,
      path: pathOfTable(table.name),
      format: 'csv',
      mediatype: 'text/csv',
      encoding: 'utf-8',
      dialect: { delimiter: ',', lineTerminator: '\n', quoteChar: '"', doubleQuote: true, header: true },
      schema: {
        fields: table.columns.map(({ name, type, isRequired }) => ({
          name,
          ...FIELD[type],
          ...(isRequired && type !== 'string' ? { constraints: { required: true } } : {}),
        })),
        missingValues: [''],
        primaryKey: table.primaryKey,
        foreignKeys: table.foreignKeys.map(({ fields, table: to, toFields }) => ({
          fields,
          reference: { resource: to === table.name ? '' : resourceName(to), fields: toFields },
        })),
      },
    })),
  };
}
