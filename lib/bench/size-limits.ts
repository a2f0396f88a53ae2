import type { NumberFieldId } from '@/lib/bench/fields';
import { phrases } from '@/lib/platform/words/say';

type Limits = Partial<Record<NumberFieldId, readonly [number, number]>>;

export interface SizeClass {
  label: string;
  /** Body mass of the taxon from this … */
  fromG: number;
  /** … to below this. */
  belowG: number;
  limits: Limits;
}

/**
 * Hard limits by size of the taxon. Each runs from 0.7 × the smallest to 1.3 × the largest species mean of
 * that class in AVONET (Tobias et al. 2022, Ecology Letters 25:581–597), rounded outwards to two figures;
 * placeholders of flightless birds left out. A value outside is almost surely a slip: a wrong unit, a lost
 * decimal mark, two fields exchanged.
 */
export const SIZE_CLASSES: readonly SizeClass[] = phrases([
  {
    label: 'below 12 g',
    fromG: 0,
    belowG: 12,
    limits: {
      wingMm: [18, 170],
      tailMm: [9.4, 210],
      tarsusMm: [1.7, 40],
      culmenExposedMm: [3.1, 130],
      billFromNostrilMm: [1.1, 120],
      billDepthMm: [0.7, 15],
      billWidthMm: [0.48, 11],
      kippsDistanceMm: [1.1, 120],
    },
  },
  {
    label: '12 to 40 g',
    fromG: 12,
    belowG: 40,
    limits: {
      wingMm: [32, 230],
      tailMm: [9.3, 370],
      tarsusMm: [3.7, 57],
      culmenExposedMm: [3.2, 76],
      billFromNostrilMm: [1.3, 67],
      billDepthMm: [1, 24],
      billWidthMm: [1.1, 26],
      kippsDistanceMm: [1.6, 160],
    },
  },
  {
    label: '40 to 150 g',
    fromG: 40,
    belowG: 150,
    limits: {
      wingMm: [41, 360],
      tailMm: [15, 910],
      tarsusMm: [5.2, 92],
      culmenExposedMm: [4.6, 120],
      billFromNostrilMm: [2, 110],
      billDepthMm: [1.1, 45],
      billWidthMm: [1.3, 36],
      kippsDistanceMm: [0.97, 250],
    },
  },
  {
    label: '150 to 600 g',
    fromG: 150,
    belowG: 600,
    limits: {
      wingMm: [61, 620],
      tailMm: [18, 790],
      tarsusMm: [7.2, 150],
      culmenExposedMm: [9.7, 220],
      billFromNostrilMm: [4.5, 190],
      billDepthMm: [2.3, 71],
      billWidthMm: [1.7, 56],
      kippsDistanceMm: [1.7, 340],
    },
  },
  {
    label: '600 g to 2.5 kg',
    fromG: 600,
    belowG: 2500,
    limits: {
      wingMm: [47, 840],
      tailMm: [18, 1100],
      tarsusMm: [10, 320],
      culmenExposedMm: [15, 320],
      billFromNostrilMm: [1.3, 290],
      billDepthMm: [2.5, 150],
      billWidthMm: [2.3, 70],
      kippsDistanceMm: [2.6, 540],
    },
  },
  {
    label: '2.5 to 10 kg',
    fromG: 2500,
    belowG: 10_000,
    limits: {
      wingMm: [66, 1100],
      tailMm: [16, 720],
      tarsusMm: [18, 440],
      culmenExposedMm: [26, 540],
      billFromNostrilMm: [13, 510],
      billDepthMm: [7.7, 150],
      billWidthMm: [5.8, 120],
      kippsDistanceMm: [2, 550],
    },
  },
  {
    label: 'from 10 kg',
    fromG: 10_000,
    belowG: Number.POSITIVE_INFINITY,
    limits: {
      wingMm: [87, 1100],
      tailMm: [39, 560],
      tarsusMm: [33, 630],
      culmenExposedMm: [48, 140],
      billFromNostrilMm: [13, 86],
      billDepthMm: [10, 38],
      billWidthMm: [7.5, 62],
      kippsDistanceMm: [0.13, 460],
    },
  },
]);

/** The size class of a taxon with this body mass in g (its usual mass, or the bird's own where that is unknown). */
export function sizeClassOf(massG: number): SizeClass {
  const found = SIZE_CLASSES.find(({ fromG, belowG }) => massG >= fromG && massG < belowG);
  if (!found) throw new RangeError(`No size class for a mass of ${massG} g`);
  return found;
}
