import { newKey } from '@/components/ui/new-key';
import { parseDate } from '@/lib/places/dates';
import { say } from '@/lib/platform/words/say';
import type { DateInterval, FindFacts } from '@/lib/salvage/schema';
import type { SalvageRecord } from '@/lib/salvage/wire';

/** A find while it is being written: everything as text or ticks, so that nothing typed is lost. */
export type FindDraft = {
  requestKey: string;
  taxonId: string | null;
  verbatimTaxon: string;
  specimenType: string;
  quantity: string;
  date: string;
  receivedOn: string;
  placeId: string | null;
  country: string;
  stateProvince: string;
  county: string;
  locality: string;
  coordinates: string;
  latitude: number | null;
  longitude: number | null;
  uncertaintyM: number | null;
  circumstances: string;
  cause: string;
  condition: string;
  bandNumber: string;
  bandIsFederal: string;
  diseaseSigns: boolean;
  suspectedIllegal: boolean;
  othersDead: string;
  remarks: string;
  finderIs: 'me' | 'somebody' | 'unknown';
  finderRelation: FindFacts['finderRelation'];
  finderName: string;
  finderEmail: string;
  finderPhone: string;
  finderAddress: string;
};

/** What a new report begins with. */
export type Beginning = { today: string; country: string; stateProvince: string };

export const emptyDraft = ({ today, country, stateProvince }: Beginning): FindDraft => ({
  requestKey: newKey(),
  taxonId: null,
  verbatimTaxon: '',
  specimenType: 'whole-bird',
  quantity: '1',
  date: today,
  receivedOn: today,
  placeId: null,
  country,
  stateProvince,
  county: '',
  locality: '',
  coordinates: '',
  latitude: null,
  longitude: null,
  uncertaintyM: null,
  circumstances: '',
  cause: 'unknown',
  condition: 'unknown',
  bandNumber: '',
  bandIsFederal: '',
  diseaseSigns: false,
  suspectedIllegal: false,
  othersDead: '0',
  remarks: '',
  finderIs: 'me',
  finderRelation: 'public',
  finderName: '',
  finderEmail: '',
  finderPhone: '',
  finderAddress: '',
});

/** The next find of the same place and day: who, where and when stay, the bird is another. */
export const nextDraft = (draft: FindDraft, beginning: Beginning): FindDraft => ({
  ...draft,
  ...Object.fromEntries(
    Object.entries(emptyDraft(beginning)).filter(([field]) =>
      [
        'requestKey',
        'taxonId',
        'verbatimTaxon',
        'quantity',
        'condition',
        'bandNumber',
        'bandIsFederal',
        'remarks',
      ].includes(field),
    ),
  ),
});

/** What the words of a date mean, or why they cannot be read. */
export function readDate(text: string): { interval: DateInterval | null; problem: string | null } {
  const read = parseDate(text);
  if (read.ok) {
    const { startOn, endOn } = read.value;
    return { interval: { earliestOn: startOn, latestOn: endOn, verbatim: text.trim() }, problem: null };
  }
  const readings =
    read.readings.length > 0
      ? say(' It could be: {readings}.', { readings: read.readings.join(say(' or ')) })
      : '';
  return { interval: null, problem: `${read.message}${readings}` };
}

const orNull = (text: string): string | null => text.trim() || null;
const whole = (text: string): number | string => (/^-?\d+$/.test(text.trim()) ? Number(text) : text);
const answer = (text: string): boolean | null => (text === '' ? null : text === 'yes');

const placeOf = (draft: FindDraft) => ({
  country: draft.country.trim().toUpperCase(),
  stateProvince: draft.stateProvince,
  county: draft.county,
  locality: draft.locality,
  placeId: draft.placeId,
  verbatimCoordinates: orNull(draft.coordinates),
  latitude: draft.latitude,
  longitude: draft.longitude,
  uncertaintyM: draft.uncertaintyM,
});

/** The report a draft makes, unchecked: the schema has the word. An unreadable date goes along as nonsense. */
export function toReport(draft: FindDraft, me: { id: string }): Record<string, unknown> {
  const { finderIs } = draft;
  return {
    ...fieldsOf(draft),
    requestKey: draft.requestKey,
    finder:
      finderIs === 'somebody'
        ? {
            name: orNull(draft.finderName),
            email: orNull(draft.finderEmail),
            phone: orNull(draft.finderPhone),
            address: orNull(draft.finderAddress),
          }
        : null,
    facts: {
      othersDead: whole(draft.othersDead),
      bandIsFederal: answer(draft.bandIsFederal),
      finderRelation: finderIs === 'me' ? 'under-direct-control' : draft.finderRelation,
      finderPersonId: finderIs === 'me' ? me.id : null,
    },
  };
}

function fieldsOf(draft: FindDraft): Record<string, unknown> {
  return {
    found: readDate(draft.date).interval ?? { earliestOn: '', latestOn: '', verbatim: draft.date },
    receivedOn: orNull(draft.receivedOn),
    place: placeOf(draft),
    taxonId: draft.taxonId,
    verbatimTaxon: draft.verbatimTaxon,
    specimenType: draft.specimenType,
    quantity: whole(draft.quantity),
    circumstances: draft.circumstances,
    cause: draft.cause,
    condition: draft.condition,
    bandNumber: orNull(draft.bandNumber),
    diseaseSigns: draft.diseaseSigns,
    suspectedIllegal: draft.suspectedIllegal,
    remarks: orNull(draft.remarks),
  };
}

/** A kept record as a draft, to be changed. */
export function draftOf(record: SalvageRecord): FindDraft {
  return {
    ...emptyDraft({ today: record.receivedOn, country: record.country, stateProvince: record.stateProvince }),
    taxonId: record.taxonId,
    verbatimTaxon: record.identified ? (record.commonName ?? record.taxon) : record.verbatimTaxon,
    specimenType: record.specimenType,
    quantity: String(record.quantity),
    date: record.foundFrom === record.foundTo ? record.foundFrom : `${record.foundFrom}/${record.foundTo}`,
    receivedOn: record.receivedOn,
    placeId: record.placeId,
    county: record.county,
    locality: record.locality ?? '',
    coordinates: record.verbatimCoordinates ?? '',
    latitude: record.latitude,
    longitude: record.longitude,
    uncertaintyM: record.uncertaintyM,
    circumstances: record.circumstances,
    cause: record.cause,
    condition: record.condition,
    bandNumber: record.bandNumber ?? '',
    bandIsFederal: record.facts.bandIsFederal === null ? '' : record.facts.bandIsFederal ? 'yes' : 'no',
    diseaseSigns: record.diseaseSigns,
    suspectedIllegal: record.suspectedIllegal,
    othersDead: String(record.facts.othersDead),
    remarks: record.remarks ?? '',
    finderRelation: record.facts.finderRelation,
  };
}

/** What a person changed between two drafts, as the parts of a change request. */
export function changesBetween(before: FindDraft, after: FindDraft): Record<string, unknown> {
  const [old, now] = [fieldsOf(before), fieldsOf(after)];
  const changed = Object.fromEntries(
    Object.entries(now).filter(([field, value]) => JSON.stringify(value) !== JSON.stringify(old[field])),
  );
  const facts: Record<string, unknown> = {};
  if (before.othersDead !== after.othersDead) facts.othersDead = whole(after.othersDead);
  if (before.bandIsFederal !== after.bandIsFederal) facts.bandIsFederal = answer(after.bandIsFederal);
  if (before.finderRelation !== after.finderRelation) facts.finderRelation = after.finderRelation;
  return Object.keys(facts).length === 0 ? changed : { ...changed, facts };
}
