import * as terms from '@/lib/exchange/terms';
import { type TableShape, termIri } from '@/lib/exchange/terms';
import standardTables from './standard-tables.json';

export interface PackageField {
  name: string;
  title: string;
  description: string;
  type: string;
  /** The term it is a version of; null for what only this house says. */
  iri: string | null;
}

export interface DataPackageTable {
  name: string;
  primaryKey: string | null;
  fields: readonly PackageField[];
  foreignKeys: readonly {
    fields: string;
    predicate: string;
    /** An empty resource is the table itself. */
    reference: { resource: string; fields: string };
  }[];
}

/**
 * Cut out of the table schemas of the Darwin Core Data Package of 2026-05-02 (guide 2026-05-26), © Biodiversity
 * Information Standards (TDWG), CC BY 4.0, changed: the columns used here, and where those schemas hold the place of a
 * term open that the list of terms of 2026-05-26 has since, that term.
 */
const STANDARD: readonly DataPackageTable[] = standardTables;

const toMaterial = {
  fields: 'materialEntityID',
  predicate: 'about',
  reference: { resource: 'material', fields: 'materialEntityID' },
};
const MATERIAL_ID: PackageField = {
  name: 'materialEntityID',
  title: 'Material Entity ID',
  description: 'The material that this row is about.',
  type: 'string',
  iri: termIri('dwc:materialEntityID'),
};

const spellOut = (name: string): string =>
  name.replace(/[A-Z]+/g, (capitals) => ` ${capitals}`).replace(/^./, (first) => first.toUpperCase());

/** A table of the material archive with the material as a column, where the standard has no table of its own. */
function tableOf(
  name: string,
  what: string,
  shape: TableShape,
  own: readonly PackageField[],
): DataPackageTable {
  const borrowed = shape.columns.map((column): PackageField => {
    const local = column.slice(column.indexOf(':') + 1);
    const type = column === 'ggbn:sequence' ? 'integer' : 'string';
    return {
      name: local,
      title: spellOut(local),
      description: `${what}: ${termIri(column)}`,
      type,
      iri: termIri(column),
    };
  });
  return {
    name,
    primaryKey: null,
    fields: [MATERIAL_ID, ...borrowed, ...own],
    foreignKeys: [toMaterial],
  };
}

const own = (name: string, type: string, description: string): PackageField => ({
  name,
  title: spellOut(name),
  description,
  type,
  iri: null,
});

const VIAL_FIELDS: readonly PackageField[] = [
  own('code', 'string', 'Code on the vial.'),
  own('tissues', 'string', 'Kinds of tissue in it, with a bar between them.'),
  own('preservation', 'string', 'How it is preserved, in the words of this house.'),
  own('container', 'string', 'What it is kept in.'),
  own('amount', 'number', 'What was filled in, in amountUnit; empty: never measured.'),
  own('amountLeft', 'number', 'What is left of it, in amountUnit.'),
  own('amountUnit', 'string', 'Unit of the amounts.'),
  own('qualityClass', 'integer', 'Quality class from 1 to 4, 4 best.'),
  own('thawCount', 'integer', 'How often it thawed.'),
  own('sampledAt', 'datetime', 'When the tissue was taken.'),
  own('frozenAt', 'datetime', 'When the carcass went into the freezer.'),
];

const LOAN_FIELDS: readonly PackageField[] = [
  own('outcome', 'string', 'returned, consumed or lost; empty while it is out.'),
  own('outcomeOn', 'date', 'The day of the outcome.'),
];

/** Every table of the package, those that others refer to first. */
export const DATA_PACKAGE_TABLES: readonly DataPackageTable[] = [
  ...STANDARD,
  tableOf('tissue', 'Tissue in a vial', terms.MATERIAL_SAMPLE, VIAL_FIELDS),
  tableOf('preservation', 'Preservation, oldest first', terms.PRESERVATION, []),
  tableOf('preparation', 'Preparation', terms.PREPARATION, []),
  tableOf('permit', 'Permit', terms.PERMIT, []),
  tableOf('loan', 'Loan', terms.LOAN, LOAN_FIELDS),
];

export const fileOfTable = (name: string): string => `${name}.csv`;
