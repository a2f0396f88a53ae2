'use client';

import { useEffect, useState } from 'react';
import { Moment } from '@/components/ui/moment';
import { sayWith } from '@/components/ui/say-with';
import { ToneIcon } from '@/components/ui/tone-icon';
import type { ClockSettings, SentTimes } from '@/lib/bench/clock-schema';
import { type Clock, readClocks, sayMinutes } from '@/lib/bench/clocks';
import { say } from '@/lib/platform/words/say';
import classes from './clocks.module.css';

const TICK_MS = 20_000;

/** The present, refreshed while the page is open; null until the browser has woken up. */
export function useNow(): number | null {
  const [now, setNow] = useState<number | null>(null);
  useEffect(() => {
    setNow(Date.now());
    const timer = setInterval(() => setNow(Date.now()), TICK_MS);
    return () => clearInterval(timer);
  }, []);
  return now;
}

const msOf = (instant: string | null): number | null => (instant === null ? null : Date.parse(instant));

export function clocksOf(times: SentTimes, settings: ClockSettings, now: number) {
  return readClocks(
    {
      outOfFreezerAt: msOf(times.outOfFreezerAt),
      workableAt: msOf(times.workableAt),
      tissueTakenAt: msOf(times.tissueTakenAt),
      finishedAt: msOf(times.finishedAt),
    },
    times.leadHours,
    now,
    settings,
  );
}

function ClockLine({ label, clock, due, done }: { label: string; clock: Clock; due: string; done: string }) {
  if (clock.state === 'waiting' || clock.sinceMinutes === null) return null;
  const left = clock.leftMinutes;
  return (
    <div className={classes.clock} data-state={clock.state}>
      <dt>{label}</dt>
      <dd>
        <span className={classes.figure}>{sayMinutes(clock.sinceMinutes)}</span>{' '}
        {clock.state === 'done' && <span className={classes.word}>{done}</span>}
        {clock.state === 'running' && left !== null && (
          <span className={classes.word}>{say('{minutes} left', { minutes: sayMinutes(left) })}</span>
        )}
        {clock.state === 'due' && (
          <span className={classes.due}>
            <ToneIcon tone="attention" size={20} />
            {due}
          </span>
        )}
      </dd>
    </div>
  );
}

/** Out of the freezer since, thawed since, tissue due: what the clocks of a record say now. */
export function RunningClocks({ times, settings }: { times: SentTimes; settings: ClockSettings }) {
  const now = useNow();
  if (now === null) return <p className={classes.none}>{say('Reading the clocks')}</p>;
  const clocks = clocksOf(times, settings, now);
  return (
    <>
      <dl className={classes.clocks}>
        <ClockLine
          label={say('Out of the freezer')}
          clock={clocks.outOfFreezer}
          due={say('finish today, or freeze it again')}
          done={say('in all')}
        />
        <ClockLine
          label={say('Thawing')}
          clock={clocks.thaw}
          due={say('should be workable by now')}
          done={say('until workable')}
        />
        <ClockLine
          label={say('Since workable')}
          clock={clocks.tissue}
          due={say('tissue is due')}
          done={say('until the tissue was taken')}
        />
      </dl>
      {times.outOfFreezerAt && (
        <p className={classes.none}>
          {sayWith('Taken out {moment}. Times are settings of the lab.', {
            moment: <Moment at={times.outOfFreezerAt} show="both" />,
          })}
        </p>
      )}
    </>
  );
}
