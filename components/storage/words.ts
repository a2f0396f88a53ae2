import { phrases, say, sayWord } from '@/lib/platform/words/say';
import { sayNumber } from '@/lib/platform/words/say-number';
import type { PreservationKind, StorageUnitKind } from '@/lib/storage/schema';

export const PRESERVATION_LABELS: Record<PreservationKind, string> = phrases({
  frozen: 'Frozen',
  'liquid-nitrogen': 'Liquid nitrogen',
  ethanol: 'Ethanol',
  'dmso-salt': 'DMSO and salt',
  'rna-stabiliser': 'RNA stabiliser',
  dry: 'Dry',
});

export const sayKind = (kind: StorageUnitKind): string => sayWord(kind);

export const sayTemperature = (celsius: number | null): string | null =>
  celsius === null ? null : `${sayNumber(celsius)} °C`;

/** "54 of 81", "12", "empty" */
export function sayLoad(load: number, places: number | null): string {
  if (places !== null)
    return say('{number} of {number2}', { number: sayNumber(load), number2: sayNumber(places) });
  return load === 0 ? 'empty' : sayNumber(load);
}
