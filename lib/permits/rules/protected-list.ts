import { parse } from 'csv-parse/sync';
import { type TaxonList, taxonList } from '../coverage-schema';

export type ListSource = Omit<TaxonList, 'entries'>;

/** A row that could not be read, with its line in the file (the header is line 1). */
export type ListRowError = { line: number; message: string };

export type ListImport = {
  list: TaxonList;
  /** Listed names that match no accepted name of the checklist: a person decides each once. */
  unresolved: { name: string; englishName: string | null }[];
  errors: ListRowError[];
};

type Row = Record<string, string | undefined>;

const matchWords = { exact_name: 'exact-name', english_name: 'english-name', none: 'none' } as const;

function readMatch(row: Row): TaxonList['entries'][number]['match'] {
  const word = row.avilist2025_match?.trim() ?? '';
  return word in matchWords ? matchWords[word as keyof typeof matchWords] : 'not-tried';
}

const orNull = (value: string | undefined): string | null => value?.trim() || null;

/**
 * Read a protected-species list from CSV text. Needs the column `scientific_name_listed`; uses
 * `english_name`, `avilist2025_name` (accepted name), `avilist2025_match`, `family`, `order` where present.
 * Throws on a file without that column; a bad row is reported and left out.
 */
export function parseProtectedList(csvText: string, source: ListSource): ListImport {
  const rows: Row[] = parse(csvText, { columns: true, bom: true, skip_empty_lines: true, trim: true });
  if (rows[0] !== undefined && rows[0].scientific_name_listed === undefined) {
    throw new Error('The list has no column "scientific_name_listed"; is it the right file?');
  }
  const errors: ListRowError[] = [];
  const entries: TaxonList['entries'] = [];
  const seen = new Set<string>();
  for (const [index, row] of rows.entries()) {
    const name = orNull(row.scientific_name_listed);
    const line = index + 2;
    if (name === null) errors.push({ line, message: 'no scientific name' });
    else if (seen.has(name.toLowerCase())) errors.push({ line, message: `${name} is listed twice` });
    else {
      seen.add(name.toLowerCase());
      entries.push({
        name,
        englishName: orNull(row.english_name),
        acceptedName: orNull(row.avilist2025_name),
        match: readMatch(row),
        family: orNull(row.family),
        order: orNull(row.order),
      });
    }
  }
  const unresolved = entries
    .filter((entry) => entry.match === 'none')
    .map(({ name, englishName }) => ({ name, englishName }));
  return { list: taxonList.parse({ ...source, entries }), unresolved, errors };
}
