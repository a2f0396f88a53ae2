import { countOf, phrases, say } from '@/lib/platform/words/say';
import type { DeskItem } from '../schema';

type Said = Pick<DeskItem, 'note' | 'tone'>;

const HOUR_MS = 3_600_000;
const DAY_HOURS = 24;
/** Backups are made each night: one night and two hours, two nights and two hours. */
const ONE_NIGHT_HOURS = 26;
const TWO_NIGHTS_HOURS = 50;

/** 'less than an hour', '5 hours', '3 days'; whole ones that have passed. */
export function sayAge(from: Date, to: Date): string {
  const hours = Math.floor((to.getTime() - from.getTime()) / HOUR_MS);
  if (hours < 1) return say('less than an hour');
  return hours < 2 * DAY_HOURS ? countOf(hours, 'hour') : countOf(Math.floor(hours / DAY_HOURS), 'day');
}

/** What is to be said of the backups; `late` when somebody must look. */
export function judgeBackup(
  { folder, newest }: { folder: boolean; newest: Date | null },
  at: Date,
): Said & { late: boolean } {
  if (!folder)
    return {
      late: true,
      tone: 'attention',
      note: say('No folder is set for them: set BACKUP_DIR where Furcula is started.'),
    };
  if (newest === null) return { late: true, tone: 'stop', note: say('None was made yet.') };
  const hours = (at.getTime() - newest.getTime()) / HOUR_MS;
  const note = say('The newest is {age} old.', { age: sayAge(newest, at) });
  if (hours <= ONE_NIGHT_HOURS) return { late: false, tone: 'neutral', note };
  return { late: true, tone: hours <= TWO_NIGHTS_HOURS ? 'attention' : 'stop', note };
}

/** Background work in words; a task without words here is shown by its name. */
export const TASK_WORDS: Readonly<Record<string, string>> = phrases({
  'taxa.read-checklist': 'Reading a checklist',
  'taxa.load-starter': 'Loading the first checklist',
  'people.forget-sessions': 'Forgetting ended sign-ins',
  'permits.remind': 'Reminding of permits',
  'permits.law-changed': 'Checking coverage anew',
  'salvage.expire-finder-contacts': 'Erasing contact data of finders',
  'queue.expire-claims': 'Giving back birds that were taken too long',
  'queue.rank': 'Ranking the queue',
  'queue.solve-plan': 'Planning a day',
  'loans.remind': 'Reminding of loans',
  'exchange.check-import': 'Checking an import',
  'exchange.run-import': 'Running an import',
  'exchange.undo-import': 'Taking an import back',
  'exchange.deliver-webhook': 'Telling a webhook',
  'exchange.forget-deliveries': 'Forgetting old deliveries',
  'ops.backup': 'Making the backup',
  'notices.tell': 'Telling people',
  'notices.mail': 'Sending a mail',
  'notices.mail-digest': 'Sending a digest',
  'notices.digests': 'Gathering digests',
  'platform.drop-old-files': 'Removing old files',
  'platform.forget-answers': 'Forgetting answers to old commands',
});

type Job = { attempts: number; gaveUp: boolean; runAt: Date; lockedAt: Date | null };

/** Why a piece of background work needs a look. */
export function judgeJob({ attempts, gaveUp, runAt, lockedAt }: Job, at: Date): Said {
  const times = attempts === 1 ? say('once') : say('{attempts} times', { attempts });
  if (gaveUp) return { tone: 'stop', note: say('failed {times} and is not tried again', { times }) };
  if (lockedAt !== null)
    return { tone: 'stop', note: say('begun {age} ago, not finished', { age: sayAge(lockedAt, at) }) };
  if (runAt > at) return { tone: 'attention', note: say('failed {times}, will be tried again', { times }) };
  return { tone: 'attention', note: say('due for {age}, nobody began it', { age: sayAge(runAt, at) }) };
}
