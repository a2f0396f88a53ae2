import { parse } from 'csv-parse/sync';

type Schema = {
  fields: { name: string; type: string }[];
  primaryKey?: string;
  foreignKeys?: { fields: string; reference: { resource: string; fields: string } }[];
};
export type Descriptor = { profile: string; resources: { name: string; path: string; schema: Schema }[] };
export type ReadPackage = { descriptor: Descriptor; tables: Map<string, Record<string, string>[]> };

/** Types of Table Schema (Frictionless Data Package v1), as far as they are used; written from its text, from memory. */
const FITS: Record<string, (text: string) => boolean> = {
  string: () => true,
  number: (text) => Number.isFinite(Number(text)),
  integer: (text) => /^-?\d+$/.test(text),
  boolean: (text) => text === 'true' || text === 'false',
  date: (text) => /^\d{4}-\d{2}-\d{2}$/.test(text),
  datetime: (text) => /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d+)?Z$/.test(text),
};

/** A data package by its descriptor alone, sharing no code with the writer. Throws where the files do not fit it. */
export function readPackage(files: ReadonlyMap<string, string>): ReadPackage {
  const descriptor = JSON.parse(files.get('datapackage.json') ?? '') as Descriptor;
  const tables = new Map<string, Record<string, string>[]>();
  for (const { name, path, schema } of descriptor.resources) {
    const [head = [], ...lines] = parse(files.get(path) ?? '') as string[][];
    const names = schema.fields.map((field) => field.name);
    if (head.join() !== names.join()) throw new Error(`${path} has other columns than its schema`);
    const rows = lines.map((line) => Object.fromEntries(names.map((column, at) => [column, line[at] ?? ''])));
    for (const { name: column, type } of schema.fields) {
      for (const row of rows) {
        const value = row[column] ?? '';
        if (value !== '' && FITS[type]?.(value) !== true)
          throw new Error(`${path}: ${column} "${value}" is no ${type}`);
      }
    }
    tables.set(name, rows);
  }
  return { descriptor, tables };
}

/** Every key that repeats or is empty, and every reference to a row that is not there. */
export function findBrokenKeys({ descriptor, tables }: ReadPackage): string[] {
  const broken: string[] = [];
  for (const { name, schema } of descriptor.resources) {
    const rows = tables.get(name) ?? [];
    const { primaryKey, foreignKeys = [] } = schema;
    if (primaryKey !== undefined) {
      const keys = new Set(rows.map((row) => row[primaryKey]));
      if (keys.size !== rows.length || keys.has('')) broken.push(`${name}.${primaryKey} is not unique`);
    }
    for (const { fields, reference } of foreignKeys) {
      const target = reference.resource === '' ? name : reference.resource;
      const known = new Set(tables.get(target)?.map((row) => row[reference.fields]));
      for (const row of rows)
        if (row[fields] !== '' && !known.has(row[fields])) broken.push(`${name}.${fields} ${row[fields]}`);
    }
  }
  return broken;
}
