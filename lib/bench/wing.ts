import { say } from '@/lib/platform/words/say';
/** Hand-wing index: 100 · Kipp's distance / wing (both mm). Null unless both are positive and Kipp ≤ wing. */
export function handWingIndex(kippsDistanceMm: number, wingMm: number): number | null {
  if (!(wingMm > 0) || !(kippsDistanceMm > 0) || kippsDistanceMm > wingMm) return null;
  return (100 * kippsDistanceMm) / wingMm;
}

/** Most by which first secondary + Kipp's distance may miss the wing: what two readings to 0.5–1 mm leave. */
export const WING_SUM_TOLERANCE_MM = 2;

export interface WingSum {
  consistent: boolean;
  /** First secondary + Kipp's distance − wing, in mm. */
  differenceMm: number;
  sentence: string;
}

/** The first secondary and Kipp's distance must add up to the wing (definition in AVONET, Tobias et al. 2022). */
export function checkWingSum(wingMm: number, kippsDistanceMm: number, firstSecondaryMm: number): WingSum {
  const sumMm = firstSecondaryMm + kippsDistanceMm;
  const differenceMm = Math.round((sumMm - wingMm) * 100) / 100;
  const consistent = Math.abs(differenceMm) <= WING_SUM_TOLERANCE_MM;
  const sum = Math.round(sumMm * 100) / 100;
  const sentence = consistent
    ? say("First secondary and Kipp's distance add up to the wing ({sum} and {wingMm} mm)", { sum, wingMm })
    : say(
        "First secondary {firstSecondaryMm} + Kipp's distance {kippsDistanceMm} = {sum} mm, but the wing is {wingMm} mm",
        { firstSecondaryMm, kippsDistanceMm, sum, wingMm },
      );
  return { consistent, differenceMm, sentence };
}

export interface MoultSum {
  sum: number;
  /** Five for each feather. */
  most: number;
  feathers: number;
  /** Feathers missing or growing (scores 1 to 4). */
  growing: number;
}

/**
 * Sum of moult scores, one digit 0–5 a feather (0 old, 5 new; EURING Exchange Code 2020; the sum after Ginn &
 * Melville 1983, from memory). Null for anything but such digits.
 */
export function sumMoultScores(scores: string): MoultSum | null {
  if (!/^[0-5]+$/.test(scores)) return null;
  const digits = [...scores].map(Number);
  return {
    sum: digits.reduce((total, digit) => total + digit, 0),
    most: digits.length * 5,
    feathers: digits.length,
    growing: digits.filter((digit) => digit > 0 && digit < 5).length,
  };
}

/** Distance (mm) at which the wrists of the skin are tied: 1⅔ of the distance between the wings (common practice). */
export function wristTieDistanceMm(betweenWingsMm: number): number {
  return (betweenWingsMm * 5) / 3;
}
