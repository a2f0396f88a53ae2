import type { SizeValue } from '@/lib/bench/catalogue/types';
import { type Judgement, judgeAgainstPeers, monthsApart } from '@/lib/bench/plausibility';
import { say } from '@/lib/platform/words/say';

/**
 * Volume in mm³ of a gonad taken as an ellipsoid of revolution: π·W²·L/6 with length and width in mm.
 * Null when the width was not measured.
 */
export function gonadVolumeMm3({ lengthMm, widthMm }: SizeValue): number | null {
  return widthMm === undefined ? null : (Math.PI * widthMm ** 2 * lengthMm) / 6;
}

/** A gonad of another bird in this collection. */
export interface GonadPeer {
  taxonId: string;
  sex: string | null;
  /** Month of death, 1 to 12. */
  month: number | null;
  size: SizeValue;
}

export interface GonadInSeason {
  lengthMm: number;
  widthMm: number | null;
  volumeMm3: number | null;
  /** Where the volume (or, without a width, the length) lies among the same taxon, sex and month. */
  judgement: Judgement;
}

/**
 * Gonads swell in the breeding season, so they are held only against birds of the same taxon and sex that
 * died in the same month. By volume when the width was measured, else by length.
 */
export function placeGonadInSeason(
  size: SizeValue,
  subject: { taxonId: string; sex: string | null; month: number; label: string; peersName: string },
  others: readonly GonadPeer[],
): GonadInSeason {
  const peers = others.filter(
    ({ taxonId, sex, month }) =>
      taxonId === subject.taxonId &&
      sex === subject.sex &&
      month !== null &&
      monthsApart(month, subject.month) === 0,
  );
  const volumeMm3 = gonadVolumeMm3(size);
  const group = (values: number[]) => ({ name: subject.peersName, values });
  const judgement =
    volumeMm3 === null
      ? judgeAgainstPeers(
          { label: subject.label, value: size.lengthMm, unit: 'mm' },
          group(peers.map((peer) => peer.size.lengthMm)),
        )
      : judgeAgainstPeers(
          {
            label: say('{label}, volume', { label: subject.label }),
            value: volumeMm3,
            unit: 'mm³',
            more: say('larger'),
            less: say('smaller'),
          },
          group(peers.flatMap((peer) => gonadVolumeMm3(peer.size) ?? [])),
        );
  return { lengthMm: size.lengthMm, widthMm: size.widthMm ?? null, volumeMm3, judgement };
}
