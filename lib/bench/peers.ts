import { ALLOMETRY, type AllometricMeasures } from '@/lib/bench/allometry';
import type { CheckContext } from '@/lib/bench/checks';
import type { Comparison } from '@/lib/bench/comparison';
import {
  type BenchValues,
  FIELDS,
  type FieldId,
  NUMBER_FIELDS,
  type NumberFieldId,
} from '@/lib/bench/fields';
import { type GonadInSeason, type GonadPeer, placeGonadInSeason } from '@/lib/bench/gonads';
import { choosePeers, type PeerBasis, type PeerGroup } from '@/lib/bench/plausibility';
import { deriveSex } from '@/lib/bench/sexing';
import { say } from '@/lib/platform/words/say';

/** Measures that change with the season: they are held against birds of the same months. */
const SEASONAL: readonly FieldId[] = ['massG'];

/** The sex that decides which birds are peers: as determined, else as the evidence says. */
export function sexForPeers(values: BenchValues, order: string | null): string | null {
  return values.sex ?? deriveSex(values, { order }).sex;
}

function sayPeers(basis: PeerBasis, sex: string | null, scientificName: string): string {
  if (basis === 'same-taxon') return say('{scientificName} of either sex', { scientificName });
  return `${sex} ${scientificName}${basis === 'same-taxon-sex' ? '' : say(' of the same season')}`;
}

/** The peers of each number as the record stands: its sex decides who they are. */
export function peersOf(
  values: BenchValues,
  { numbers, month, order, scientificName }: Comparison,
): Partial<Record<NumberFieldId, PeerGroup>> {
  const sex = sexForPeers(values, order);
  const subject = { taxonId: scientificName, sex, month };
  const groups: Partial<Record<NumberFieldId, PeerGroup>> = {};
  for (const field of NUMBER_FIELDS) {
    const birds = numbers
      .filter((one) => one.field === field)
      .flatMap(({ values: theirs, ...bird }) =>
        theirs.map((value) => ({ ...bird, taxonId: scientificName, value })),
      );
    const chosen = choosePeers(birds, subject, SEASONAL.includes(field));
    groups[field] = { name: sayPeers(chosen.basis, sex, scientificName), values: chosen.values };
  }
  return groups;
}

/** Everything `checkRecord` and `judgeNumbers` need to know beside the values themselves. */
export function checkContextOf(values: BenchValues, against: Comparison): CheckContext {
  const measures = against.reference?.measures ?? {};
  const typical: AllometricMeasures = {};
  for (const field of ['massG', ...Object.keys(ALLOMETRY)] as (keyof AllometricMeasures)[]) {
    const value = measures[field];
    if (value !== undefined) typical[field] = value;
  }
  return {
    taxon: { order: against.order },
    taxonMassG: measures.massG ?? null,
    typical: Object.keys(typical).length > 0 ? typical : null,
    peers: peersOf(values, against),
  };
}

const GONADS = ['leftTestis', 'rightTestis', 'testis', 'leftOvary', 'rightOvary', 'ovary'] as const;

/** Where each measured gonad lies among the same taxon, sex and month here. */
export function gonadsInSeason(
  values: BenchValues,
  { gonads, month, order, scientificName }: Comparison,
): ({ field: FieldId; label: string } & GonadInSeason)[] {
  const sex = sexForPeers(values, order);
  return GONADS.flatMap((field) => {
    const size = values[field];
    if (size === undefined || month === null) return [];
    const others: GonadPeer[] = gonads
      .filter((one) => one.field === field)
      .map((one) => ({ ...one, taxonId: scientificName }));
    const { label } = FIELDS[field];
    const peersName = say('{x}{scientificName} of the same month', {
      x: sex === 'female' ? say('female ') : sex === 'male' ? say('male ') : '',
      scientificName,
    });
    const subject = { taxonId: scientificName, sex, month, label, peersName };
    return [{ field, label, ...placeGonadInSeason(size, subject, others) }];
  });
}
