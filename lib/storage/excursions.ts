export type Excursion = {
  thresholdC: number;
  /** First reading above the threshold. */
  fromAt: string;
  /** First reading back at or below it, or the last reading above it where the log breaks off. */
  toAt: string;
  /** From `fromAt` to `toAt`. */
  minutes: number;
  /** From the last good reading before to the first good one after; null where there is none. */
  longestMinutes: number | null;
  peakC: number;
  readings: number;
  /** The log ends, or has a gap, before the temperature came back. */
  isOpenEnded: boolean;
};

export type LogGap = { fromAt: string; toAt: string; minutes: number };

const minute = 60_000;
const iso = (ms: number) => new Date(ms).toISOString();

type Current = {
  fromMs: number;
  lastMs: number;
  peakC: number;
  readings: number;
  goodBeforeMs: number | null;
};

/** Finds spells above a threshold in readings that come in order of time; keeps no readings. */
export class ExcursionFinder {
  private readonly excursions: Excursion[] = [];
  private readonly gaps: LogGap[] = [];
  private current: Current | null = null;
  private lastMs: number | null = null;
  private lastGoodMs: number | null = null;

  /**
   * @param thresholdC above this, not at it, is an excursion
   * @param longestStepMinutes no excursion is carried over a longer step between readings
   */
  constructor(
    private readonly thresholdC: number,
    private readonly longestStepMinutes: number,
  ) {}

  /** Takes the next reading; `atMs` must be later than the one before. */
  add(atMs: number, temperatureC: number): void {
    if (this.lastMs !== null && atMs - this.lastMs > this.longestStepMinutes * minute) {
      this.gaps.push({ fromAt: iso(this.lastMs), toAt: iso(atMs), minutes: (atMs - this.lastMs) / minute });
      this.close(null);
      this.lastGoodMs = null;
    }
    if (temperatureC > this.thresholdC) {
      this.current ??= {
        fromMs: atMs,
        lastMs: atMs,
        peakC: temperatureC,
        readings: 0,
        goodBeforeMs: this.lastGoodMs,
      };
      this.current.lastMs = atMs;
      this.current.peakC = Math.max(this.current.peakC, temperatureC);
      this.current.readings += 1;
    } else {
      this.close(atMs);
      this.lastGoodMs = atMs;
    }
    this.lastMs = atMs;
  }

  /** Closes what is open and answers everything found. */
  finish(): { excursions: Excursion[]; gaps: LogGap[] } {
    this.close(null);
    return { excursions: this.excursions, gaps: this.gaps };
  }

  private close(backMs: number | null): void {
    if (!this.current) return;
    const { fromMs, lastMs, peakC, readings, goodBeforeMs } = this.current;
    const toMs = backMs ?? lastMs;
    this.excursions.push({
      thresholdC: this.thresholdC,
      fromAt: iso(fromMs),
      toAt: iso(toMs),
      minutes: (toMs - fromMs) / minute,
      longestMinutes: backMs !== null && goodBeforeMs !== null ? (backMs - goodBeforeMs) / minute : null,
      peakC,
      readings,
      isOpenEnded: backMs === null,
    });
    this.current = null;
  }
}
