import { deriveAge } from '@/lib/bench/ageing';
import { type BenchWarning, checkRecord } from '@/lib/bench/checks';
import type { Comparison } from '@/lib/bench/comparison';
import type { BenchValues } from '@/lib/bench/fields';
import { checkContextOf, gonadsInSeason } from '@/lib/bench/peers';
import { deriveSex } from '@/lib/bench/sexing';
import type { Derived } from '@/lib/bench/wire';

export interface Judged {
  warnings: BenchWarning[];
  derived: Derived;
}

/**
 * What follows from the values of a record as they stand: its warnings, and what the evidence says of sex, age and
 * gonads. The server sends it with the record; a page computes it anew for what was written on it since.
 */
export function judgeRecord(values: BenchValues, against: Comparison): Judged {
  const sex = deriveSex(values, { order: against.order });
  const age = deriveAge(values);
  return {
    warnings: checkRecord(values, checkContextOf(values, against)),
    derived: {
      sex: sex.sex,
      sexConfidence: sex.confidence,
      sexReasons: sex.reasons,
      sexContradicted: sex.contradictions.length > 0,
      age: age.age,
      ageConfidence: age.confidence,
      ageFindings: age.findings.map(({ evidence, seen, caution, source }) => ({
        evidence,
        seen,
        caution,
        source,
      })),
      gonads: gonadsInSeason(values, against).map(
        ({ field, label, lengthMm, widthMm, volumeMm3, judgement }) => ({
          field,
          label,
          lengthMm,
          widthMm,
          volumeMm3,
          sentence: judgement.sentence,
        }),
      ),
    },
  };
}
