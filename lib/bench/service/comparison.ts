import 'server-only';
import type { Comparison } from '@/lib/bench/comparison';
import { FIELDS, type FieldId, isFieldId, NUMBER_FIELDS } from '@/lib/bench/fields';
import { findPeerValues, findReference } from '@/lib/bench/repo/comparison';
import type { Tx } from '@/lib/platform/db';

const GONADS: readonly FieldId[] = [
  'leftTestis',
  'rightTestis',
  'testis',
  'leftOvary',
  'rightOvary',
  'ovary',
];

/** Every field whose value is held against those of other birds. */
export const COMPARED_FIELDS: readonly FieldId[] = [...NUMBER_FIELDS, ...GONADS];

/** The month of finding, when the interval lies in one. */
function monthOf(from: Date, to: Date): number | null {
  const same = from.getUTCFullYear() === to.getUTCFullYear() && from.getUTCMonth() === to.getUTCMonth();
  return same ? from.getUTCMonth() + 1 : null;
}

/** What has to be known of a record to find what its numbers are held against. */
export interface ComparedRecord {
  id: string;
  collectionId: string;
  bird: {
    taxon: { id: string; scientificName: string; orderName: string | null } | null;
    salvage: { verbatimTaxon: string; foundFrom: Date; foundTo: Date };
  };
}

/**
 * What the numbers of this record are held against: the same taxon here, and the loaded reference table.
 * @param fields of which the other birds' values are read; absent: of all that are compared
 */
export async function loadComparison(
  tx: Tx,
  found: ComparedRecord,
  fields: readonly FieldId[] = COMPARED_FIELDS,
): Promise<Comparison> {
  const { bird } = found;
  const { taxon, salvage } = bird;
  const base = {
    scientificName: taxon?.scientificName ?? salvage.verbatimTaxon,
    order: taxon?.orderName ?? null,
    month: monthOf(salvage.foundFrom, salvage.foundTo),
  };
  if (taxon === null) return { ...base, numbers: [], gonads: [], reference: null };
  const peers = await findPeerValues(
    tx,
    { collectionId: found.collectionId, taxonId: taxon.id, exceptRecordId: found.id },
    fields,
  );
  const reference = await findReference(tx, found.collectionId, speciesOf(taxon.scientificName));
  return {
    ...base,
    numbers: peers
      .map(({ values, ...birds }) => ({
        ...birds,
        values: values.filter((value): value is number => typeof value === 'number'),
      }))
      .filter(({ values }) => values.length > 0),
    gonads: peers
      .filter(({ field }) => GONADS.includes(field))
      .flatMap(({ field, values, sex, month }) =>
        values.flatMap((value) => {
          const size = FIELDS[field].value.safeParse(value);
          return size.success
            ? [{ field, size: size.data as { lengthMm: number; widthMm?: number }, sex, month }]
            : [];
        }),
      ),
    reference:
      reference === null
        ? null
        : {
            title: reference.title,
            source: reference.source,
            measures: Object.fromEntries(
              reference.measures
                .filter(({ field }) => isFieldId(field))
                .map(({ field, value }) => [field, value]),
            ),
          },
  };
}

/** Genus and epithet: reference tables list species. */
const speciesOf = (scientificName: string): string => scientificName.split(' ').slice(0, 2).join(' ');
