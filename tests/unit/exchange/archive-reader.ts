import { XMLParserLite } from './xml-reader';

/** A file of an archive read by the Darwin Core text guide alone: rows of id and values by term IRI. */
export interface ReadTable {
  rowType: string;
  rows: { id: string; values: Record<string, string> }[];
}

interface Field {
  index: number | null;
  term: string;
  fallback: string | null;
}

const unescapeSign = (text: string) => text.replace(/\\n/g, '\n').replace(/\\r/g, '\r').replace(/\\t/g, '\t');

/**
 * A minimal reader written from section 2 of the text guide (2023-09-13), sharing no code with the writer:
 * attributes and their defaults, files/location, id or coreid, fields with index, default, or both.
 */
export function readArchive(files: Map<string, string>): {
  core: ReadTable;
  extensions: ReadTable[];
  metadata: string | null;
} {
  const meta = files.get('meta.xml');
  if (meta === undefined) throw new Error('meta.xml is missing');
  const archive = new XMLParserLite(meta).root;
  const cores = archive.children.filter((child) => child.name === 'core');
  if (archive.name !== 'archive' || cores.length !== 1 || !cores[0])
    throw new Error('exactly one core is needed');
  const extensions = archive.children.filter((child) => child.name === 'extension');
  const core = readTable(cores[0], files, 'id', extensions.length > 0);
  const ids = new Set(core.rows.map((row) => row.id));
  // Without extensions the guide lets a core do without ids.
  if (extensions.length > 0 && ids.size !== core.rows.length) throw new Error('ids of the core repeat');
  const tables = extensions.map((extension) => readTable(extension, files, 'coreid', true));
  for (const table of tables) {
    for (const row of table.rows) if (!ids.has(row.id)) throw new Error(`no core row ${row.id}`);
  }
  return { core, extensions: tables, metadata: archive.attributes.metadata ?? null };
}

function readTable(
  element: XMLParserLite['root'],
  files: Map<string, string>,
  idName: string,
  idNeeded: boolean,
): ReadTable {
  const attribute = (name: string, standard: string) => element.attributes[name] ?? standard;
  const locations =
    element.children.find((child) => child.name === 'files')?.children.map((child) => child.text) ?? [];
  const idElement = element.children.find((child) => child.name === idName);
  if (idNeeded && !idElement) throw new Error(`${idName} is missing`);
  const fields: Field[] = element.children
    .filter((child) => child.name === 'field')
    .map((child) => ({
      index: child.attributes.index === undefined ? null : Number(child.attributes.index),
      term: child.attributes.term ?? '',
      fallback: child.attributes.default ?? null,
    }));
  const rows = locations.flatMap((location) => {
    const text = files.get(location);
    if (text === undefined) throw new Error(`${location} is missing`);
    const records = splitRecords(
      text,
      unescapeSign(attribute('fieldsTerminatedBy', ',')),
      unescapeSign(attribute('linesTerminatedBy', '\\n')),
      attribute('fieldsEnclosedBy', '"'),
    );
    return records.slice(Number(attribute('ignoreHeaderLines', '0')));
  });
  return {
    rowType: attribute('rowType', ''),
    rows: rows.map((record) => ({
      id: idElement ? (record[Number(idElement.attributes.index)] ?? '') : '',
      values: Object.fromEntries(
        fields.map((field) => {
          const value = field.index === null ? '' : (record[field.index] ?? '');
          return [field.term, value === '' ? (field.fallback ?? '') : value];
        }),
      ),
    })),
  };
}

function splitRecords(text: string, fieldEnd: string, lineEnd: string, quote: string): string[][] {
  const records: string[][] = [];
  let record: string[] = [];
  let field = '';
  let quoted = false;
  for (let at = 0; at < text.length; at += 1) {
    const sign = text[at] ?? '';
    if (quoted) {
      if (sign === quote && text[at + 1] === quote) {
        field += quote;
        at += 1;
      } else if (sign === quote) quoted = false;
      else field += sign;
    } else if (quote !== '' && sign === quote && field === '') quoted = true;
    else if (text.startsWith(fieldEnd, at)) {
      record.push(field);
      field = '';
      at += fieldEnd.length - 1;
    } else if (text.startsWith(lineEnd, at)) {
      records.push([...record, field]);
      record = [];
      field = '';
      at += lineEnd.length - 1;
    } else field += sign;
  }
  if (field !== '' || record.length > 0) records.push([...record, field]);
  return records;
}
