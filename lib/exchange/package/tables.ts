import type { ClientBase } from 'pg';

/** A column as the package describes it, and how its value goes to text and back. */
export type PackageColumn = { name: string; sqlType: string; type: FieldType; isRequired: boolean };
export type PackageTable = {
  name: string;
  columns: PackageColumn[];
  primaryKey: string[];
  foreignKeys: { fields: string[]; table: string; toFields: string[] }[];
};

/** Types of a Table Schema field (Frictionless Data Package v1) that are used here. */
export type FieldType =
  | 'string'
  | 'integer'
  | 'number'
  | 'boolean'
  | 'date'
  | 'datetime'
  | 'object'
  | 'array'
  | 'binary';

/**
 * Not kept: what the database says of its own migrations, counters that end by themselves, and sessions, so that none
 * that was ended comes back with a backup: everybody signs in anew.
 */
const LEFT_OUT = ['_prisma_migrations', 'rate_limit', 'SignInSession'];

const TYPES: Record<string, FieldType> = {
  int2: 'integer',
  int4: 'integer',
  int8: 'integer',
  float4: 'number',
  float8: 'number',
  bool: 'boolean',
  date: 'date',
  timestamptz: 'datetime',
  jsonb: 'object',
  bytea: 'binary',
};

/** Every table with its columns and keys as the database itself describes them, by name. */
export async function listTables(client: ClientBase): Promise<PackageTable[]> {
  const { rows: columns } = await client.query<{
    table: string;
    name: string;
    udt: string;
    required: boolean;
  }>(
    `SELECT c.table_name AS "table", c.column_name AS name, c.udt_name AS udt, c.is_nullable = 'NO' AS required
     FROM information_schema.columns c
     JOIN information_schema.tables t ON t.table_schema = c.table_schema AND t.table_name = c.table_name
     WHERE c.table_schema = 'public' AND t.table_type = 'BASE TABLE' AND c.is_generated = 'NEVER'
       AND NOT c.table_name = ANY($1)
     ORDER BY c.table_name COLLATE "C", c.ordinal_position`,
    [LEFT_OUT],
  );
  const { rows: keys } = await client.query<{
    table: string;
    kind: string;
    fields: string[];
    to: string;
    toFields: string[];
  }>(
    `SELECT r.relname AS "table", k.contype AS kind, f.relname AS to,
       ARRAY(SELECT a.attname::text FROM unnest(k.conkey) WITH ORDINALITY u(n, o)
             JOIN pg_attribute a ON a.attrelid = k.conrelid AND a.attnum = u.n ORDER BY u.o) AS fields,
       ARRAY(SELECT a.attname::text FROM unnest(k.confkey) WITH ORDINALITY u(n, o)
             JOIN pg_attribute a ON a.attrelid = k.confrelid AND a.attnum = u.n ORDER BY u.o) AS "toFields"
     FROM pg_constraint k JOIN pg_class r ON r.oid = k.conrelid LEFT JOIN pg_class f ON f.oid = k.confrelid
     WHERE k.connamespace = 'public'::regnamespace AND k.contype IN ('p', 'f') ORDER BY k.conname COLLATE "C"`,
  );
  const tables = new Map<string, PackageTable>();
  for (const { table, name, udt, required } of columns) {
    const found = tables.get(table) ?? { name: table, columns: [], primaryKey: [], foreignKeys: [] };
    const isArray = udt.startsWith('_');
    found.columns.push({
      name,
      sqlType: isArray ? `${udt.slice(1)}[]` : udt,
      type: isArray ? 'array' : (TYPES[udt] ?? 'string'),
      isRequired: required,
    });
    tables.set(table, found);
  }
  for (const { table, kind, fields, to, toFields } of keys) {
    const found = tables.get(table);
    if (found === undefined) continue;
    if (kind === 'p') found.primaryKey = fields;
    else found.foreignKeys.push({ fields, table: to, toFields });
  }
  return [...tables.values()];
}

export const quoteName = (name: string): string => `"${name.replaceAll('"', '""')}"`;

/** SQL that writes a column as the text the package keeps; the same value always gives the same text. */
export function toText({ name, type }: PackageColumn): string {
  const column = quoteName(name);
  if (type === 'datetime')
    return `to_char(${column} AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"') AS ${column}`;
  if (type === 'array') return `to_jsonb(${column})::text AS ${column}`;
  if (type === 'binary') return `replace(encode(${column}, 'base64'), E'\\n', '') AS ${column}`;
  return `${column}::text AS ${column}`;
}

/** SQL that reads that text back into the column's own type. */
export function fromText({ sqlType, type }: PackageColumn, source: string): string {
  if (type === 'binary') return `decode(${source}, 'base64')`;
  if (type !== 'array') return `${source}::${sqlType}`;
  return `CASE WHEN ${source} IS NULL THEN NULL ELSE ARRAY(SELECT jsonb_array_elements_text(${source}::jsonb))::${sqlType} END`;
}

/** The newest migration a database has; a package goes only into a database of the same one. */
export async function findMigration(client: ClientBase): Promise<string> {
  const { rows } = await client.query<{ name: string }>(
    `SELECT migration_name AS name FROM _prisma_migrations WHERE finished_at IS NOT NULL ORDER BY migration_name DESC LIMIT 1`,
  );
  return rows[0]?.name ?? '';
}
