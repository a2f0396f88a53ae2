import { z } from 'zod';
import { isFieldId } from '@/lib/bench/public';
import { dayOf } from '@/lib/platform/clock';
import { say } from '@/lib/platform/words/say';
import { labelOf, placePath } from '@/lib/storage/public';
import type { PlaceDetail } from './policy';
import type { ReviewedRecord } from './repo/review';
import type { BenchField, CatalogueRecord, RecordMaterial } from './wire';

const held = z.object({
  value: z.json(),
  unit: z.string().nullish(),
  method: z.string().nullish(),
  verbatim: z.string().nullish(),
  at: z.string().nullish(),
  by: z.string().nullish(),
});
type Held = z.infer<typeof held>;
const heldByField = z.record(z.string(), held);

/** The current values that a bench record keeps, by field; what is no field of the bench is left out. */
export function readHeld(stored: unknown): Map<string, Held> {
  const parsed = heldByField.safeParse(stored);
  return new Map(Object.entries(parsed.data ?? {}).filter(([field]) => isFieldId(field)));
}

type Entry = {
  field: string;
  value: unknown;
  enteredAt: Date;
  enteredById: string;
  supersededAt: Date | null;
  /** Reached the server after a newer value, and was never in force. */
  outranked: boolean;
};

/** Each field of a record with what is known of it, and the earlier values that were corrected. */
export function benchFields(
  stored: unknown,
  entries: readonly Entry[],
  names: ReadonlyMap<string, string>,
): BenchField[] {
  return [...readHeld(stored)].map(([field, one]) => ({
    field,
    value: one.value,
    unit: one.unit ?? null,
    method: one.method ?? null,
    verbatim: one.verbatim ?? null,
    at: one.at ?? null,
    by: one.by ? (names.get(one.by) ?? null) : null,
    superseded: entries
      .filter((entry) => entry.field === field && entry.supersededAt !== null && !entry.outranked)
      .map((entry) => ({
        value: entry.value as BenchField['value'],
        at: entry.enteredAt.toISOString(),
        by: names.get(entry.enteredById) ?? say('somebody who left'),
      })),
  }));
}

type SalvageRow = Pick<
  ReviewedRecord['bird']['salvage'],
  | 'foundFrom'
  | 'foundTo'
  | 'country'
  | 'stateProvince'
  | 'county'
  | 'locality'
  | 'latitude'
  | 'longitude'
  | 'uncertaintyM'
  | 'circumstances'
  | 'cause'
> & {
  permit: { number: string } | null;
  accession: { id: string; number: string } | null;
};

/** Where and when a bird was found, as exactly as the reader may know. */
export function originOf(salvage: SalvageRow, detail: PlaceDetail): CatalogueRecord['origin'] {
  const exact = detail === 'exact';
  return {
    foundFrom: dayOf(salvage.foundFrom),
    foundTo: dayOf(salvage.foundTo),
    country: salvage.country,
    stateProvince: salvage.stateProvince,
    county: detail === 'state' ? null : salvage.county,
    locality: exact ? salvage.locality : null,
    latitude: exact ? salvage.latitude : null,
    longitude: exact ? salvage.longitude : null,
    uncertaintyM: exact ? salvage.uncertaintyM : null,
    generalised: !exact,
    // Free text about the find may name the place.
    circumstances: exact ? salvage.circumstances : null,
    cause: salvage.cause,
    permitNumber: salvage.permit?.number ?? null,
    accession: salvage.accession && { id: salvage.accession.id, number: salvage.accession.number },
  };
}

type MaterialRow = ReviewedRecord['bird']['materials'][number];

/** A material as pages show it, under its bird's present number. */
export function materialOf(
  material: MaterialRow,
  bird: { number: string; catalogue: { number: string } | null },
  seesStore: boolean,
): RecordMaterial {
  const { vial, deaccession } = material;
  return {
    id: material.id,
    label: labelOf({ suffix: material.suffix, bird }),
    kind: material.kind,
    state: material.state,
    custody: material.custody,
    place: seesStore ? placePath(material.placement) : null,
    description: material.description,
    version: material.version,
    deaccession: deaccession && {
      method: deaccession.method,
      on: dayOf(deaccession.leftOn),
      authority: deaccession.authority,
      document: deaccession.document,
      recipient: deaccession.recipient,
    },
    vial: vial && {
      tissues: vial.tissues,
      preservation: vial.preservation,
      amountLeft: vial.amountLeft,
      amountUnit: vial.amountUnit,
      qualityClass: vial.qualityClass,
      qualityReason: vial.qualityReason,
    },
  };
}
