'use client';

import { useSyncExternalStore } from 'react';
import { type Clock, dayOfInstant, isDay, sayDay, sayTime } from '@/lib/platform/say-dates';

const never = () => () => {};

/** 'utc' on the server and while the page wakes up, 'here' from then on: both sides first write the same words. */
export function useClock(): Clock {
  return useSyncExternalStore<Clock>(
    never,
    () => 'here',
    () => 'utc',
  );
}

/**
 * A calendar day or an instant as a person reads it, with the exact value for machines.
 * `show` chooses the parts of an instant; a day has no time.
 */
export function Moment({ at, show = 'day' }: { at: string; show?: 'day' | 'time' | 'both' }) {
  const clock = useClock();
  if (isDay(at)) return <time dateTime={at}>{sayDay(at)}</time>;
  const day = sayDay(dayOfInstant(at, clock));
  const time = sayTime(at, clock);
  return <time dateTime={at}>{show === 'day' ? day : show === 'time' ? time : `${day}, ${time}`}</time>;
}
