import type { QualityClass } from '@/lib/storage/public';
import type { PreservationKind } from '@/lib/storage/schema';
import type { Amount, Vial } from './schema';

const ggbn = 'http://data.ggbn.org/schemas/ggbn/terms/';

/** Terms of the GGBN Data Standard (definition files of 2016-01-13) that a vial maps to. */
export const ggbnTerms = {
  materialSampleType: `${ggbn}materialSampleType`,
  weight: `${ggbn}weight`,
  weightUnit: `${ggbn}weightUnit`,
  volume: `${ggbn}volume`,
  volumeUnit: `${ggbn}volumeUnit`,
  quality: `${ggbn}quality`,
  qualityRemarks: `${ggbn}qualityRemarks`,
  qualityCheckDate: `${ggbn}qualityCheckDate`,
  sampleDesignation: `${ggbn}sampleDesignation`,
  preservationType: `${ggbn}preservationType`,
  preservationTemperature: `${ggbn}preservationTemperature`,
  preservationDateBegin: `${ggbn}preservationDateBegin`,
  sequence: `${ggbn}sequence`,
  preparationType: `${ggbn}preparationType`,
  preparationProcess: `${ggbn}preparationProcess`,
  preparationMaterials: `${ggbn}preparationMaterials`,
  preparedBy: `${ggbn}preparedBy`,
  preparationDate: `${ggbn}preparationDate`,
} as const;
export type GgbnTerm = keyof typeof ggbnTerms;

/** Row types of the three extensions. */
export const ggbnRowTypes = {
  materialSample: `${ggbn}MaterialSample`,
  preservation: `${ggbn}Preservation`,
  preparation: `${ggbn}Preparation`,
} as const;

export type GgbnRow = Partial<Record<GgbnTerm, string>>;

const preservationTypes: Record<PreservationKind, string> = {
  frozen: 'frozen',
  'liquid-nitrogen': 'frozen',
  ethanol: 'alcohol',
  'dmso-salt': 'DMSO and salt',
  'rna-stabiliser': 'RNA stabiliser',
  dry: 'dried',
};

/** GGBN knows low, medium, high; classes 1, 2, and 3 with 4 of the published table (our mapping). */
function toGgbnQuality(stars: QualityClass['stars']): 'low' | 'medium' | 'high' | null {
  if (stars === null) return null;
  return stars === 1 ? 'low' : stars === 2 ? 'medium' : 'high';
}

export type GgbnVial = Pick<
  Vial,
  'birdNumber' | 'suffix' | 'tissues' | 'preservation' | 'amount' | 'times' | 'thawCount'
>;

/**
 * One vial as rows of the GGBN extensions; empty values are left out, required ones are always there.
 * @param preparation who sampled, and on which calendar day; the day is required by the standard
 * @param qualityCheckedOn the day on which the class was worked out
 */
export function mapVialToGgbn(
  vial: GgbnVial,
  quality: QualityClass,
  preparation: { preparedBy: string | null; preparedOn: string },
  qualityCheckedOn: string,
): { materialSample: GgbnRow; preservation: GgbnRow[]; preparation: GgbnRow } {
  const ggbnQuality = toGgbnQuality(quality.stars);
  return {
    materialSample: {
      materialSampleType: 'tissue',
      ...mapAmount(vial.amount),
      ...(ggbnQuality && {
        quality: ggbnQuality,
        qualityRemarks: `${quality.reason} After Wong et al. 2012. Thawed ${vial.thawCount} times.`,
        qualityCheckDate: qualityCheckedOn,
      }),
      sampleDesignation: `${vial.birdNumber}-${vial.suffix}`,
    },
    preservation: mapPreservation(vial),
    preparation: {
      preparationType: vial.tissues.join(' | '),
      ...(preparation.preparedBy && { preparedBy: preparation.preparedBy }),
      preparationDate: preparation.preparedOn,
    },
  };
}

function mapAmount(amount: Amount | null): GgbnRow {
  if (amount === null || amount.unit === 'pieces') return {};
  const value = String(amount.value);
  return amount.unit === 'mg' || amount.unit === 'g'
    ? { weight: value, weightUnit: amount.unit }
    : { volume: value, volumeUnit: amount.unit === 'ul' ? 'µl' : 'ml' };
}

/** The carcass's own freezing comes first where it is on record, then how the vial is kept. */
function mapPreservation({ preservation, times }: GgbnVial): GgbnRow[] {
  const { kind, ethanolPercent, temperatureC } = preservation;
  const rows: GgbnRow[] = [];
  if (times.frozenAt !== null)
    rows.push({ preservationType: 'frozen', preservationDateBegin: times.frozenAt });
  const percent = ethanolPercent === null ? '' : ` ${ethanolPercent} %`;
  rows.push({
    preservationType: preservationTypes[kind] + percent,
    ...(temperatureC === null
      ? kind === 'liquid-nitrogen' && { preservationTemperature: 'LN' }
      : { preservationTemperature: `${temperatureC} °C` }),
    ...(times.preservedAt !== null && { preservationDateBegin: times.preservedAt }),
  });
  return rows.map((row, index) => ({ ...row, sequence: String(index + 1) }));
}
