import 'server-only';
import { notFound } from '@/lib/platform/errors';
import { say } from '@/lib/platform/words/say';
import { labelOf, placePath, rateVial } from '@/lib/storage/public';
import type { VialMaterial } from './repo/vials';
import type { Amount, AmountUnit, TissueKind, TissueTimes, VialState } from './schema';
import type { VialRow } from './wire';

export type Filled = NonNullable<VialMaterial['vial']>;

/** The vial of a material. @throws AppError not-found when it is none */
export function vialOf(material: VialMaterial): Filled {
  if (material.vial === null) throw notFound(say('This vial'));
  return material.vial;
}

export const amountOf = (value: number | null, unit: string): Amount | null =>
  value === null ? null : { value, unit: unit as AmountUnit };

export const preservationOf = (vial: Filled): VialRow['preservation'] => ({
  kind: vial.preservation as VialRow['preservation']['kind'],
  ethanolPercent: vial.ethanolPercent,
  temperatureC: vial.storedAtC,
});

const iso = (at: Date | null): string | null => at?.toISOString() ?? null;

export const timesOf = (vial: Filled): TissueTimes => ({
  diedFromAt: iso(vial.diedFromAt),
  diedUntilAt: iso(vial.diedUntilAt),
  frozenAt: iso(vial.frozenAt),
  outOfFreezerAt: iso(vial.outOfFreezerAt),
  sampledAt: iso(vial.sampledAt),
  preservedAt: iso(vial.preservedAt),
});

/** Columns of the times of a vial. */
export function timeColumns(times: TissueTimes) {
  const date = (at: string | null) => (at === null ? null : new Date(at));
  return {
    diedFromAt: date(times.diedFromAt),
    diedUntilAt: date(times.diedUntilAt),
    frozenAt: date(times.frozenAt),
    outOfFreezerAt: date(times.outOfFreezerAt),
    sampledAt: date(times.sampledAt),
    preservedAt: date(times.preservedAt),
  };
}

/** People whose own work a vial is. */
export const ownersOf = (material: {
  bird: { claimedById: string | null; bench: { preparatorId: string; scribeId: string | null } | null };
  vial?: { filledById: string } | null;
}): (string | null | undefined)[] => [
  material.bird.claimedById,
  material.bird.bench?.preparatorId,
  material.bird.bench?.scribeId,
  material.vial?.filledById,
];

/** A vial as lists show it. */
export function toRow(material: VialMaterial): VialRow {
  const vial = vialOf(material);
  const { stars, reason } = rateVial(vial);
  return {
    id: material.id,
    birdId: material.birdId,
    label: labelOf(material),
    code: vial.code,
    scientificName: material.bird.taxon?.scientificName ?? say('not yet identified'),
    commonName: material.bird.taxon?.commonName ?? null,
    tissues: vial.tissues as TissueKind[],
    preservation: preservationOf(vial),
    amount: amountOf(vial.amount, vial.amountUnit),
    left: amountOf(vial.amountLeft, vial.amountUnit),
    state: material.state as VialState,
    custody: material.custody,
    place: placePath(material.placement),
    quality: { stars, reason },
    thawCount: vial.thawCount,
    sampledOn: iso(vial.sampledAt)?.slice(0, 10) ?? null,
  };
}
