import { quantileSorted } from 'simple-statistics';
import { z } from 'zod';
import { drawExponential, drawGammaMeanOne, type RandomSource, seededRandom } from './random';

const perMonth = z.array(z.number().min(0)).length(12);

export const forecastInputSchema = z.object({
  startOn: z.iso.date(),
  backlog: z.int().min(0),
  /** Birds a week by calendar month, January first. */
  intakePerWeek: perMonth,
  /** People at work by calendar month, and the birds one of them prepares in a week. */
  people: perMonth,
  birdsPerPersonWeek: z.number().positive(),
  /** "What if": people more than today. */
  extraPeople: z.number().default(0),
  /** Events that the rates were learned from: the fewer, the wider the band. Absent: rates taken as exact. */
  learnedFrom: z.object({ intake: z.int().min(1), prepared: z.int().min(1) }).optional(),
  weeks: z.int().min(1).max(520).default(104),
  runs: z.int().min(100).max(20_000).default(2000),
  seed: z.int().default(1),
});
export type ForecastInput = z.output<typeof forecastInputSchema>;

/** Birds waiting at the end of a week, over all runs. Half of the runs lie between p25 and p75, nine in ten in p5–p95. */
export type ForecastWeek = {
  week: number;
  on: string;
  mean: number;
  p5: number;
  p25: number;
  p50: number;
  p75: number;
  p95: number;
  /** Share of the runs in which the backlog has been empty by then. */
  clearedShare: number;
};

export type Forecast = {
  weeks: ForecastWeek[];
  /** Day on which the backlog is first empty: early (1 in 10 runs), middle, late (9 in 10); null beyond the horizon. */
  clears: { early: string | null; middle: string | null; late: string | null };
  /** Little's law over all runs: mean number waiting, birds leaving a week, and the weeks a bird waits for it. */
  little: { meanBacklog: number; leavingPerWeek: number; waitWeeks: number | null };
  runs: number;
};

const DAY_MS = 86_400_000;
const WEEK_MS = 7 * DAY_MS;

/** Little's law, L = λW: the mean wait W in the time unit of the rate. Null when nothing arrives. */
export function littleWait(meanNumber: number, ratePerTime: number): number | null {
  return ratePerTime > 0 ? meanNumber / ratePerTime : null;
}

const dayAfter = (startOn: string, weeks: number) =>
  new Date(Date.parse(`${startOn}T00:00:00Z`) + weeks * WEEK_MS).toISOString().slice(0, 10);

type Stretch = { endWeek: number; intake: number; people: number };

/** Stretches of constant rates: each week, cut where a month begins. Weeks are counted from the start. */
function stretchesOf(input: ForecastInput): Stretch[] {
  const start = Date.parse(`${input.startOn}T00:00:00Z`);
  const stretches: Stretch[] = [];
  for (let day = 1; day <= input.weeks * 7; day++) {
    const month = new Date(start + (day - 1) * DAY_MS).getUTCMonth();
    const nextMonth = new Date(start + day * DAY_MS).getUTCMonth();
    if (day % 7 !== 0 && month === nextMonth) continue;
    const people = Math.max(0, (input.people[month] ?? 0) + input.extraPeople);
    stretches.push({ endWeek: day / 7, intake: input.intakePerWeek[month] ?? 0, people });
  }
  return stretches;
}

type Totals = { birdWeeks: number; left: number };

/**
 * One possible course, event by event. Arrivals are Poisson; each person at work finishes birds at a constant rate while
 * there are any, so that no more people work than birds wait (an M/M/c queue with rates by month). Writes the number at
 * the end of each week and returns the week in which it was first empty (Infinity: never).
 */
function runOnce(
  input: ForecastInput,
  stretches: readonly Stretch[],
  random: RandomSource,
  atWeek: Float64Array,
  totals: Totals,
): number {
  const { learnedFrom } = input;
  const intakeFactor = learnedFrom ? drawGammaMeanOne(random, learnedFrom.intake) : 1;
  const pace = input.birdsPerPersonWeek * (learnedFrom ? drawGammaMeanOne(random, learnedFrom.prepared) : 1);
  let waiting = input.backlog;
  let clearedAt = waiting === 0 ? 0 : Number.POSITIVE_INFINITY;
  let now = 0;
  for (const { endWeek, intake, people } of stretches) {
    const arrivals = intake * intakeFactor;
    for (;;) {
      const leaving = Math.min(people, waiting) * pace;
      const rate = arrivals + leaving;
      const step = rate > 0 ? drawExponential(random, rate) : Number.POSITIVE_INFINITY;
      if (now + step >= endWeek) break;
      totals.birdWeeks += waiting * step;
      now += step;
      if (random() * rate < arrivals) waiting += 1;
      else {
        waiting -= 1;
        totals.left += 1;
      }
      if (waiting === 0 && clearedAt === Number.POSITIVE_INFINITY) clearedAt = now;
    }
    totals.birdWeeks += waiting * (endWeek - now);
    now = endWeek;
    if (Number.isInteger(endWeek)) atWeek[endWeek - 1] = waiting;
  }
  return clearedAt;
}

/**
 * Simulates the backlog over the coming weeks: `runs` independent courses, the same for the same seed. Run it off the
 * web server's thread (`lib/queue/compute.ts`).
 */
export function forecastBacklog(input: ForecastInput): Forecast {
  const stretches = stretchesOf(input);
  const byWeek = Array.from({ length: input.weeks }, () => new Float64Array(input.runs));
  const cleared = new Float64Array(input.runs);
  const atWeek = new Float64Array(input.weeks);
  const totals: Totals = { birdWeeks: 0, left: 0 };
  for (let run = 0; run < input.runs; run++) {
    cleared[run] = runOnce(input, stretches, seededRandom(input.seed, run), atWeek, totals);
    byWeek.forEach((values, week) => {
      values[run] = atWeek[week] ?? 0;
    });
  }
  cleared.sort();
  const allWeeks = input.runs * input.weeks;
  const meanBacklog = totals.birdWeeks / allWeeks;
  const leavingPerWeek = totals.left / allWeeks;
  return {
    weeks: byWeek.map((values, at) => summariseWeek(values, at + 1, cleared, input)),
    clears: {
      early: clearingDay(cleared, 0.1, input),
      middle: clearingDay(cleared, 0.5, input),
      late: clearingDay(cleared, 0.9, input),
    },
    little: { meanBacklog, leavingPerWeek, waitWeeks: littleWait(meanBacklog, leavingPerWeek) },
    runs: input.runs,
  };
}

function summariseWeek(
  values: Float64Array,
  week: number,
  cleared: Float64Array,
  input: ForecastInput,
): ForecastWeek {
  const sorted = Array.from(values).sort((a, b) => a - b);
  const quantile = (share: number) => quantileSorted(sorted, share);
  return {
    week,
    on: dayAfter(input.startOn, week),
    mean: sorted.reduce((sum, value) => sum + value, 0) / sorted.length,
    p5: quantile(0.05),
    p25: quantile(0.25),
    p50: quantile(0.5),
    p75: quantile(0.75),
    p95: quantile(0.95),
    clearedShare: cleared.filter((at) => at <= week).length / cleared.length,
  };
}

function clearingDay(clearedSorted: Float64Array, share: number, input: ForecastInput): string | null {
  const at = clearedSorted[Math.ceil(share * clearedSorted.length) - 1] ?? Number.POSITIVE_INFINITY;
  return Number.isFinite(at) ? dayAfter(input.startOn, Math.ceil(at * 7) / 7) : null;
}

/** Today's course beside the one with more (or fewer) people; both from the same random numbers. */
export function compareForecasts(
  input: ForecastInput,
  extraPeople: number,
): { today: Forecast; changed: Forecast } {
  return { today: forecastBacklog(input), changed: forecastBacklog({ ...input, extraPeople }) };
}

/** How strongly a month's own rate is drawn to the whole period's, in weeks of observation. */
const PRIOR_WEEKS = 4;

/**
 * Weekly rates by calendar month learned from the days on which something happened between two days (both included).
 * A month seen only briefly is drawn towards the rate of the whole period.
 */
export function learnMonthlyRates(days: readonly string[], from: string, until: string): number[] {
  const first = Date.parse(`${from}T00:00:00Z`);
  const last = Date.parse(`${until}T00:00:00Z`);
  if (!(first <= last)) throw new RangeError(`No period from ${from} to ${until}.`);
  const counts = new Array<number>(12).fill(0);
  const weeks = new Array<number>(12).fill(0);
  for (let at = first; at <= last; at += DAY_MS) {
    const month = new Date(at).getUTCMonth();
    weeks[month] = (weeks[month] ?? 0) + 1 / 7;
  }
  const within = days.filter((day) => day >= from && day <= until);
  for (const day of within) {
    const month = Number(day.slice(5, 7)) - 1;
    counts[month] = (counts[month] ?? 0) + 1;
  }
  const overall = within.length / weeks.reduce((sum, value) => sum + value, 0);
  return counts.map((count, month) => (count + PRIOR_WEEKS * overall) / ((weeks[month] ?? 0) + PRIOR_WEEKS));
}
