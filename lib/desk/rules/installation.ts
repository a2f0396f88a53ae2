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
  if (hours < 1) return 'less than an hour';
  const [count, word] = hours < 2 * DAY_HOURS ? [hours, 'hour'] : [Math.floor(hours / DAY_HOURS), 'day'];
  return `${count} ${word}${count === 1 ? '' : 's'}`;
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
      note: 'No folder is set for them: set BACKUP_DIR where Furcula is started.',
    };
  if (newest === null) return { late: true, tone: 'stop', note: 'None was made yet.' };
  const hours = (at.getTime() - newest.getTime()) / HOUR_MS;
  const note = `The newest is ${sayAge(newest, at)} old.`;
  if (hours <= ONE_NIGHT_HOURS) return { late: false, tone: 'neutral', note };
  return { late: true, tone: hours <= TWO_NIGHTS_HOURS ? 'attention' : 'stop', note };
}

/** Background work in words; a task without words here is shown by its name. */
export const TASK_WORDS: Readonly<Record<string, string>> = {
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
};

type Job = { attempts: number; gaveUp: boolean; runAt: Date; lockedAt: Date | null };

/** Why a piece of background work needs a look. */
export function judgeJob({ attempts, gaveUp, runAt, lockedAt }: Job, at: Date): Said {
  const times = attempts === 1 ? 'once' : `${attempts} times`;
  if (gaveUp) return { tone: 'stop', note: `failed ${times} and is not tried again` };
  if (lockedAt !== null) return { tone: 'stop', note: `begun ${sayAge(lockedAt, at)} ago, not finished` };
  if (runAt > at) return { tone: 'attention', note: `failed ${times}, will be tried again` };
  return { tone: 'attention', note: `due for ${sayAge(runAt, at)}, nobody began it` };
}
