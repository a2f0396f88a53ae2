import type { ExportMetadata } from '@/lib/exchange/eml';
import { DATA_PACKAGE_TABLES, type DataPackageTable, fileOfTable, type PackageField } from './tables';

/** Address of the profile as the guide's own example (section 2, 2026-05-26) gives it. */
const PROFILE = 'http://rs.tdwg.org/dwc-dp/1.0/dwc-dp-profile.json';

const describeField = (field: PackageField, { primaryKey }: DataPackageTable) => ({
  name: field.name,
  title: field.title,
  description: field.description,
  type: field.type,
  format: 'default',
  ...(field.iri === null ? {} : { 'dcterms:isVersionOf': field.iri }),
  ...(field.name === primaryKey ? { constraints: { required: true, unique: true } } : {}),
});

const describeTable = (table: DataPackageTable) => ({
  name: table.name,
  path: fileOfTable(table.name),
  profile: 'tabular-data-resource',
  format: 'csv',
  mediatype: 'text/csv',
  encoding: 'utf-8',
  dialect: { delimiter: ',', lineTerminator: '\n', quoteChar: '"', doubleQuote: true, header: true },
  schema: {
    fields: table.fields.map((field) => describeField(field, table)),
    missingValues: [''],
    ...(table.primaryKey === null ? {} : { primaryKey: table.primaryKey }),
    ...(table.foreignKeys.length === 0 ? {} : { foreignKeys: table.foreignKeys }),
  },
});

/**
 * `datapackage.json` by the Darwin Core Data Package guide of 2026-05-26 (Frictionless Data Package v1). What the
 * standard has no table for stands in resources with names of our own, which its profile allows.
 */
export function describeDataPackage(metadata: ExportMetadata) {
  return {
    profile: PROFILE,
    id: `urn:uuid:${metadata.datasetId}`,
    name: 'birds',
    title: metadata.title,
    description: metadata.abstract.join(' '),
    created: `${metadata.publishedOn}T00:00:00Z`,
    version: String(metadata.version),
    keywords: metadata.keywords,
    licenses: [{ path: metadata.licenseIri, title: metadata.licenseName }],
    resources: DATA_PACKAGE_TABLES.map(describeTable),
  };
}
