import { describe, expect, test } from 'vitest';
import { judgeBackup, judgeJob, sayAge } from '@/lib/desk/rules/installation';

const at = new Date('2026-11-25T10:00:00Z');
const ago = (hours: number) => new Date(at.getTime() - hours * 3_600_000);

test.each([
  [0.9, 'less than an hour'],
  [1, '1 hour'],
  [47.9, '47 hours'],
  [48, '2 days'],
  [240, '10 days'],
])('%d hours ago is %s', (hours, words) => expect(sayAge(ago(hours), at)).toBe(words));

describe('backups, made each night', () => {
  test.each([
    [9, false, 'neutral'],
    [26, false, 'neutral'],
    [27, true, 'attention'],
    [50, true, 'attention'],
    [51, true, 'stop'],
  ])('%d hours old: late %s, %s', (hours, late, tone) =>
    expect(judgeBackup({ folder: true, newest: ago(hours) }, at)).toMatchObject({ late, tone }),
  );
  test('none, and none wanted', () => {
    expect(judgeBackup({ folder: true, newest: null }, at)).toMatchObject({ late: true, tone: 'stop' });
    expect(judgeBackup({ folder: false, newest: null }, at)).toMatchObject({ late: true, tone: 'attention' });
  });
});

test.each([
  [
    { attempts: 25, gaveUp: true, runAt: ago(3), lockedAt: null },
    'failed 25 times and is not tried again',
    'stop',
  ],
  [
    { attempts: 1, gaveUp: true, runAt: ago(3), lockedAt: null },
    'failed once and is not tried again',
    'stop',
  ],
  [
    { attempts: 1, gaveUp: false, runAt: ago(6), lockedAt: ago(5) },
    'begun 5 hours ago, not finished',
    'stop',
  ],
  [
    { attempts: 4, gaveUp: false, runAt: ago(-1), lockedAt: null },
    'failed 4 times, will be tried again',
    'attention',
  ],
  [
    { attempts: 0, gaveUp: false, runAt: ago(2), lockedAt: null },
    'due for 2 hours, nobody began it',
    'attention',
  ],
])('%o', (job, note, tone) => expect(judgeJob(job, at)).toEqual({ note, tone }));
