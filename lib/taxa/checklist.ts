import type { Readable } from 'node:stream';
import { parse } from 'csv-parse';
import { say } from '@/lib/platform/words/say';

export interface ChecklistTaxon {
  /** The list's own identifier, or the name where it has none. */
  taxonId: string;
  scientificName: string;
  authorship: string | null;
  /** Lower case, as in dwc:taxonRank. */
  rank: string;
  status: 'accepted' | 'synonym';
  /** Name or identifier of the accepted taxon, for synonyms only. */
  acceptedName: string | null;
  acceptedId: string | null;
  order: string | null;
  family: string | null;
  vernacularName: string | null;
  /** Columns of the starter checklist; false where a list does not have them. */
  sensitive: boolean;
  contactFirst: boolean;
  eagle: boolean;
  introducedUnprotected: boolean;
  /** IUCN category where the list carries one. */
  iucnCategory: string | null;
  /** Line of the record in the file, the header being line 1. */
  line: number;
}

export interface ChecklistProblem {
  line: number;
  reason: string;
}

export type ChecklistRow = { ok: true; taxon: ChecklistTaxon } | ({ ok: false } & ChecklistProblem);

type Column =
  | 'taxonId'
  | 'scientificName'
  | 'authorship'
  | 'rank'
  | 'status'
  | 'acceptedName'
  | 'acceptedId'
  | 'order'
  | 'family'
  | 'vernacularName'
  | 'sensitive'
  | 'contactFirst'
  | 'eagle'
  | 'introducedUnprotected'
  | 'iucnCategory';

/** Darwin Core Taxon terms, then the column names of the AviList table; the first that is present counts. */
const COLUMNS: Record<Column, string[]> = {
  taxonId: ['taxonid', 'scientificnameid', 'avilist_avibase_id'],
  scientificName: ['scientificname', 'scientific_name'],
  authorship: ['scientificnameauthorship', 'authority'],
  rank: ['taxonrank', 'avilist_taxon_rank'],
  status: ['taxonomicstatus'],
  acceptedName: ['acceptednameusage'],
  acceptedId: ['acceptednameusageid'],
  order: ['order', 'avilist_order'],
  family: ['family', 'avilist_family'],
  vernacularName: ['vernacularname', 'avilist_common_name'],
  sensitive: ['sensitive'],
  contactFirst: ['contactfirst'],
  eagle: ['eagle'],
  introducedUnprotected: ['introducedunprotected'],
  iucnCategory: ['avilist_iucn_status', 'iucncategory'],
};

/** Which of the file's columns (by position) hold what; a term may be written with its prefix or full IRI. */
export function matchTaxonColumns(header: string[]): Partial<Record<Column, number>> {
  const plain = header.map((name) =>
    name
      .trim()
      .toLowerCase()
      .replace(/^.*[/:#]/, ''),
  );
  const found: Partial<Record<Column, number>> = {};
  for (const [column, names] of Object.entries(COLUMNS) as [Column, string[]][]) {
    const index = names.map((name) => plain.indexOf(name)).find((position) => position >= 0);
    if (index !== undefined) found[column] = index;
  }
  return found;
}

/** The marks that end a synonym's life as a name of its own; doubtful and misapplied names are no synonyms. */
function readStatus(
  status: string,
  acceptedName: string | null,
  acceptedId: string | null,
  taxonId: string,
  name: string,
): ChecklistTaxon['status'] {
  const pointsElsewhere =
    (acceptedId !== null && acceptedId !== taxonId) || (acceptedName !== null && acceptedName !== name);
  return /synonym|unaccepted|invalid/i.test(status) || pointsElsewhere ? 'synonym' : 'accepted';
}

function readFlag(text: string | null): boolean {
  return text !== null && /^(true|yes|y|1)$/i.test(text);
}

/**
 * Reads a checklist as a stream of rows, one at a time, from CSV or tab-separated text in UTF-8. Comment lines
 * that begin with # before the header are skipped. Throws when there is no column with a scientific name.
 */
export async function* readChecklist(
  source: Readable,
  delimiter: ',' | '\t' = ',',
): AsyncGenerator<ChecklistRow> {
  const parser = source.pipe(
    parse({
      bom: true,
      delimiter,
      comment: '#',
      comment_no_infix: true,
      relax_column_count: true,
      info: true,
      skip_empty_lines: true,
    }),
  );
  source.on('error', (error) => parser.destroy(error));
  let columns: Partial<Record<Column, number>> | null = null;
  const seen = new Set<string>();
  for await (const { record, info } of parser as AsyncIterable<{
    record: string[];
    info: { lines: number };
  }>) {
    if (!columns) {
      columns = matchTaxonColumns(record);
      if (columns.scientificName === undefined) throw new Error('The file has no column scientificName.');
      continue;
    }
    yield readTaxon(record, columns, info.lines, seen);
  }
  if (!columns) throw new Error('The file is empty.');
}

function readTaxon(
  record: string[],
  columns: Partial<Record<Column, number>>,
  line: number,
  seen: Set<string>,
): ChecklistRow {
  const get = (column: Column): string | null => {
    const index = columns[column];
    return index === undefined ? null : record[index]?.trim() || null;
  };
  const scientificName = get('scientificName');
  if (scientificName === null) return { ok: false, line, reason: say('The row has no scientific name.') };
  const rank = (get('rank') ?? guessRank(scientificName)).toLowerCase();
  const taxonId = get('taxonId') ?? `${rank}:${scientificName}`;
  if (seen.has(taxonId))
    return {
      ok: false,
      line,
      reason: say('The identifier {taxonId} is already used by another row.', { taxonId }),
    };
  seen.add(taxonId);
  const [acceptedName, acceptedId] = [get('acceptedName'), get('acceptedId')];
  const status = readStatus(get('status') ?? '', acceptedName, acceptedId, taxonId, scientificName);
  if (status === 'synonym' && acceptedName === null && acceptedId === null) {
    return { ok: false, line, reason: say('The synonym does not say which name is accepted.') };
  }
  return {
    ok: true,
    taxon: {
      taxonId,
      scientificName,
      authorship: get('authorship'),
      rank,
      status,
      acceptedName: status === 'synonym' ? acceptedName : null,
      acceptedId: status === 'synonym' ? acceptedId : null,
      order: get('order'),
      family: get('family'),
      vernacularName: get('vernacularName'),
      sensitive: readFlag(get('sensitive')),
      contactFirst: readFlag(get('contactFirst')),
      eagle: readFlag(get('eagle')),
      introducedUnprotected: readFlag(get('introducedUnprotected')),
      iucnCategory: get('iucnCategory'),
      line,
    },
  };
}

function guessRank(name: string): string {
  const words = name.split(' ').filter((word) => /^\p{Ll}/u.test(word)).length;
  return words >= 2 ? 'subspecies' : words === 1 ? 'species' : 'genus';
}
