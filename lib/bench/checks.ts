import { deriveAge } from '@/lib/bench/ageing';
import { type AllometricMeasures, checkProportions } from '@/lib/bench/allometry';
import {
  type BenchValues,
  FIELDS,
  type FieldId,
  NUMBER_FIELDS,
  type NumberFieldId,
} from '@/lib/bench/fields';
import { type Judgement, judgeAgainstPeers, type PeerGroup } from '@/lib/bench/plausibility';
import { compareWithDetermination, deriveSex, type TaxonForSexing } from '@/lib/bench/sexing';
import { sizeClassOf } from '@/lib/bench/size-limits';
import { checkWingSum } from '@/lib/bench/wing';
import { say } from '@/lib/platform/words/say';

/** A check warns and explains; it never blocks the truth. An override keeps its reason beside the id. */
export interface BenchWarning {
  /** "<check>:<field>:<what it is about>": an override of one figure does not cover the next one. */
  key: string;
  field: FieldId;
  check: 'size' | 'peers' | 'proportions' | 'wing-sum' | 'sex' | 'age';
  sentence: string;
}

export interface CheckContext {
  taxon?: TaxonForSexing;
  /** Usual mass of the taxon (g) from a reference table; the bird's own mass stands in for it. */
  taxonMassG?: number | null;
  /** Typical measures of the taxon, for its proportions. */
  typical?: AllometricMeasures | null;
  /** Other birds of the same kind, per field. */
  peers?: Partial<Record<NumberFieldId, PeerGroup>>;
}

/** How each number that has peers lies among them, also where it is usual or cannot be judged. */
export function judgeNumbers(
  values: BenchValues,
  context: CheckContext,
): Partial<Record<NumberFieldId, Judgement>> {
  const judgements: Partial<Record<NumberFieldId, Judgement>> = {};
  for (const field of NUMBER_FIELDS) {
    const value = values[field];
    const peers = context.peers?.[field];
    if (value === undefined || !peers) continue;
    const { label, unit } = FIELDS[field];
    const words = field === 'massG' ? { more: say('heavier'), less: say('lighter') } : {};
    judgements[field] = judgeAgainstPeers({ label, value, unit, ...words }, peers);
  }
  return judgements;
}

/** Every warning about a record as it stands. */
export function checkRecord(values: BenchValues, context: CheckContext = {}): BenchWarning[] {
  return [
    ...checkSizes(values, context),
    ...checkPeers(values, context),
    ...checkProportions(values, context.typical ?? null).map(({ field, sentence }) =>
      warn('proportions', field, sentence, values[field]),
    ),
    ...checkWing(values),
    ...checkSex(values, context),
    ...deriveAge(values).contradictions.map((sentence) => warn('age', 'age', sentence, sentence)),
  ];
}

const warn = (
  check: BenchWarning['check'],
  field: FieldId,
  sentence: string,
  about: string | number | undefined,
): BenchWarning => ({ key: `${check}:${field}:${about ?? ''}`, field, check, sentence });

function checkSizes(values: BenchValues, context: CheckContext): BenchWarning[] {
  const massG = context.taxonMassG ?? values.massG;
  if (massG === undefined || massG === null || !(massG > 0)) return [];
  const { limits, label: size } = sizeClassOf(massG);
  return NUMBER_FIELDS.flatMap((field) => {
    const value = values[field];
    const range = limits[field];
    if (value === undefined || !range || (value >= range[0] && value <= range[1])) return [];
    const { label, unit } = FIELDS[field];
    const figures = `${size}: ${range[0]}–${range[1]} ${unit}`;
    const sentence = say(
      '{label} {value} {unit}: far outside what birds of this size have ({figures}). Check the unit and the decimal mark',
      { label, value, unit, figures },
    );
    return [warn('size', field, sentence, value)];
  });
}

function checkPeers(values: BenchValues, context: CheckContext): BenchWarning[] {
  const judgements = judgeNumbers(values, context);
  return NUMBER_FIELDS.flatMap((field) => {
    const judgement = judgements[field];
    return judgement?.verdict === 'unusual' ? [warn('peers', field, judgement.sentence, values[field])] : [];
  });
}

function checkWing({ wingMm, kippsDistanceMm, firstSecondaryMm }: BenchValues): BenchWarning[] {
  if (wingMm === undefined || kippsDistanceMm === undefined || firstSecondaryMm === undefined) return [];
  const { consistent, sentence, differenceMm } = checkWingSum(wingMm, kippsDistanceMm, firstSecondaryMm);
  return consistent ? [] : [warn('wing-sum', 'kippsDistanceMm', sentence, differenceMm)];
}

function checkSex(values: BenchValues, context: CheckContext): BenchWarning[] {
  const derived = deriveSex(values, context.taxon);
  const difference = compareWithDetermination(values, derived);
  const sentences = [...derived.contradictions, ...derived.warnings, ...(difference ? [difference] : [])];
  return sentences.map((sentence) => warn('sex', 'sex', sentence, sentence));
}
