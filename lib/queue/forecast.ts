import 'server-only';
import { stringify } from 'csv-stringify/sync';
import { type Actor, authorise } from '@/lib/platform/actor';
import { dayIn, now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import type { FileAnswer } from '@/lib/platform/http';
import { say } from '@/lib/platform/words/say';
import { runInThread } from './compute';
import type { BacklogForecast, ForecastQuery } from './forecast-wire';
import { findCollection } from './repo/birds';
import { countBacklog, findFirstDay, listFinished, listIntakeDays } from './repo/history';
import { type Forecast, type ForecastInput, forecastInputSchema, learnMonthlyRates } from './rules/forecast';
import { learnPeople } from './rules/people-at-work';

const YEARS_BACK = 3;
const SEED = 1;
const RUNS = 2000;

const yearsBefore = (day: string, years: number) => `${Number(day.slice(0, 4)) - years}${day.slice(4)}`;
const dayBefore = (day: string) =>
  new Date(Date.parse(`${day}T00:00:00Z`) - 86_400_000).toISOString().slice(0, 10);

type Learned = NonNullable<BacklogForecast['learned']>;

/** Intake and pace over at most three years up to yesterday; null when nothing has come in yet. */
async function learnFromRecords(
  collectionId: string,
  today: string,
  timeZone: string,
): Promise<Learned | null> {
  const first = await findFirstDay(collectionId);
  const until = dayBefore(today);
  if (first === null || first > until) return null;
  const earliest = yearsBefore(today, YEARS_BACK).replace('-02-29', '-02-28');
  const [, from = first] = [first, earliest].sort();
  const [intake, finished] = await Promise.all([
    listIntakeDays(collectionId, from, until),
    listFinished(collectionId, { from, until, timeZone }),
  ]);
  const work = learnPeople(finished);
  return {
    from,
    until,
    received: intake.length,
    prepared: finished.length,
    intakePerWeek: learnMonthlyRates(intake, from, until),
    people: learnMonthlyRates(work.personWeeks, from, until),
    birdsPerPersonWeek: work.birdsPerPersonWeek ?? 0,
  };
}

/** Answers that are being computed or were a moment ago: ten people who open the page make one computation. */
const recent = new Map<string, Promise<Forecast>>();
const KEPT = 20;

function compute(input: ForecastInput): Promise<Forecast> {
  const key = JSON.stringify(input);
  const known = recent.get(key);
  if (known !== undefined) return known;
  const answer = runInThread({ kind: 'forecast', input });
  recent.set(key, answer);
  answer.catch(() => recent.delete(key));
  const oldest = recent.keys().next().value;
  if (recent.size > KEPT && oldest !== undefined) recent.delete(oldest);
  return answer;
}

/**
 * How the number of birds that wait will go: today's backlog, and intake and pace as the lab's own records have them by
 * month, simulated in a thread of its own. `extra` adds people of the same pace, from the same random numbers.
 */
export async function showForecast(actor: Actor, query: ForecastQuery): Promise<BacklogForecast> {
  authorise(actor, 'plan.see');
  const { collectionId } = actor;
  const { timeZone } = await findCollection(db(), collectionId);
  const on = dayIn(timeZone, now());
  const [backlog, learned] = await Promise.all([
    countBacklog(collectionId),
    learnFromRecords(collectionId, on, timeZone),
  ]);
  const said = { on, backlog, learned, seed: SEED, extra: query.extra };
  if (learned === null)
    return { ...said, today: null, changed: null, obstacle: say('No bird has come in before today.') };
  if (learned.birdsPerPersonWeek === 0)
    return {
      ...said,
      today: null,
      changed: null,
      obstacle: say('No preparation has been finished since {from}: there is no pace to go by yet.', {
        from: learned.from,
      }),
    };
  const input = forecastInputSchema.parse({
    startOn: on,
    backlog,
    intakePerWeek: learned.intakePerWeek,
    people: learned.people,
    birdsPerPersonWeek: learned.birdsPerPersonWeek,
    learnedFrom: { intake: Math.max(1, learned.received), prepared: learned.prepared },
    weeks: query.weeks,
    runs: RUNS,
    seed: SEED,
  });
  const [today, changed] = await Promise.all([
    compute(input),
    query.extra === 0 ? null : compute({ ...input, extraPeople: query.extra }),
  ]);
  return { ...said, obstacle: null, today, changed };
}

/** The weeks of a forecast as CSV. */
export async function downloadForecast(actor: Actor, query: ForecastQuery): Promise<FileAnswer> {
  const answer = await showForecast(actor, query);
  const rows = [
    ...(answer.today?.weeks ?? []).map((week) => ({ extraPeople: 0, ...week })),
    ...(answer.changed?.weeks ?? []).map((week) => ({ extraPeople: answer.extra, ...week })),
  ];
  const columns = ['extraPeople', 'week', 'on', 'mean', 'p5', 'p25', 'p50', 'p75', 'p95', 'clearedShare'];
  return {
    body: stringify(rows, { header: true, columns }),
    mediaType: 'text/csv; charset=utf-8',
    fileName: `backlog-from-${answer.on}.csv`,
  };
}
