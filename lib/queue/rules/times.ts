import { medianAbsoluteDeviation, quantileSorted } from 'simple-statistics';
import { say } from '@/lib/platform/words/say';
import {
  PREPARATION_STYLES,
  type PreparationStyle,
  SIZE_CLASSES,
  type SizeClass,
  type TimeSettings,
} from '../schema';

export type PreparationTime = {
  style: PreparationStyle;
  sizeClass: SizeClass;
  minutes: number;
  /** First and third quartile and scaled median absolute deviation, in minutes; null where there are no records. */
  spread: { lower: number; upper: number; mad: number } | null;
  records: number;
  from: 'records' | 'start-value';
  sentence: string;
};

export type TimeRecord = { style: PreparationStyle; sizeClass: SizeClass; minutes: number };

/** Makes the median absolute deviation comparable to a standard deviation where values are normal (R stats::mad). */
const MAD_SCALE = 1.4826;

const STYLE_BASE: Record<PreparationStyle, number> = {
  'skin-with-partial-skeleton': 150,
  'whole-skeleton': 60,
  'spread-wing-with-skin': 180,
  'flat-skin': 90,
  fluid: 40,
  'tissue-only': 25,
  discard: 10,
};
const SIZE_FACTOR: Record<SizeClass, number> = {
  tiny: 0.8,
  small: 1,
  medium: 1.4,
  large: 2,
  'very-large': 3,
};

/** Minutes to begin with before the lab has records of its own: common practice, no source; a setting. */
export function startMinutes(style: PreparationStyle, sizeClass: SizeClass, settings: TimeSettings): number {
  return settings.startMinutes[style]?.[sizeClass] ?? STYLE_BASE[style] * SIZE_FACTOR[sizeClass];
}

function summarise(minutes: number[]): NonNullable<PreparationTime['spread']> & { median: number } {
  const sorted = [...minutes].sort((a, b) => a - b);
  return {
    lower: quantileSorted(sorted, 0.25),
    median: quantileSorted(sorted, 0.5),
    upper: quantileSorted(sorted, 0.75),
    mad: MAD_SCALE * medianAbsoluteDeviation(sorted),
  };
}

/**
 * Preparation times by style and size, learned from bench records of people working alone: the median, which a
 * forgotten clock does not move, and its spread. With too few records the start value stands, and says so.
 */
export function learnTimes(records: readonly TimeRecord[], settings: TimeSettings): PreparationTime[] {
  const byJob = new Map<string, number[]>();
  for (const { style, sizeClass, minutes } of records) {
    if (!(minutes > 0 && Number.isFinite(minutes))) continue;
    const key = `${style}/${sizeClass}`;
    byJob.set(key, [...(byJob.get(key) ?? []), minutes]);
  }
  return PREPARATION_STYLES.flatMap((style) =>
    SIZE_CLASSES.map((sizeClass) =>
      learnOne(style, sizeClass, byJob.get(`${style}/${sizeClass}`) ?? [], settings),
    ),
  );
}

function learnOne(
  style: PreparationStyle,
  sizeClass: SizeClass,
  minutes: number[],
  settings: TimeSettings,
): PreparationTime {
  const summary = minutes.length > 0 ? summarise(minutes) : null;
  const spread = summary && { lower: summary.lower, upper: summary.upper, mad: summary.mad };
  const job = { style, sizeClass, spread, records: minutes.length };
  if (summary !== null && minutes.length >= settings.minimumRecords) {
    const range = say('half of them between {round} and {round2}', {
      round: Math.round(summary.lower),
      round2: Math.round(summary.upper),
    });
    const sentence = say('Median {round} minutes of {length} records, {range}.', {
      round: Math.round(summary.median),
      length: minutes.length,
      range,
    });
    return { ...job, minutes: summary.median, from: 'records', sentence };
  }
  const start = startMinutes(style, sizeClass, settings);
  const sentence = say('Start value {round} minutes: {length} of {minimumRecords} records needed.', {
    round: Math.round(start),
    length: minutes.length,
    minimumRecords: settings.minimumRecords,
  });
  return { ...job, minutes: start, from: 'start-value', sentence };
}
