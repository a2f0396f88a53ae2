'use client';

import { Button } from '@mantine/core';
import type { ReactNode } from 'react';
import { dayOfInstant, sayDay } from '@/lib/platform/say-dates';
import { say } from '@/lib/platform/words/say';
import { EmptyState } from './empty-state';
import { ErrorState } from './error-state';
import classes from './history-story.module.css';
import { Loading } from './loading';
import { Moment, useClock } from './moment';

export type FieldChange = { label: string; from: ReactNode; to: ReactNode };

export type StoryEvent = {
  id: string;
  /** Instant. */
  at: string;
  /** Name of the person, or of what acted on its own. */
  who: string;
  /** What was done, to follow the name: 'measured the wing', 'sent it to review'. */
  did: ReactNode;
  why?: string | null;
  changes?: readonly FieldChange[];
  /** What one may do about it. */
  act?: ReactNode;
};

const isNothing = (value: ReactNode): boolean => value === null || value === undefined || value === '';

function Change({ change }: { change: FieldChange }) {
  const [from, to] = [change.from, change.to];
  return (
    <li>
      <span className={classes.label}>{change.label}</span>{' '}
      {isNothing(from) ? (
        <ins>{to}</ins>
      ) : (
        <>
          <del>{from}</del> <span aria-hidden="true">→</span>
          <span className="f-hidden">{say(' became ')}</span>{' '}
          {isNothing(to) ? <em>{say('nothing')}</em> : <ins>{to}</ins>}
        </>
      )}
    </li>
  );
}

function Event({ event }: { event: StoryEvent }) {
  return (
    <li className={classes.event}>
      <span className={classes.time}>
        <Moment at={event.at} show="time" />
      </span>
      <div>
        <p>
          <b>{event.who}</b> {event.did}
        </p>
        {event.why && <p className={classes.why}>“{event.why}”</p>}
        {event.changes && event.changes.length > 0 && (
          <ul className={classes.changes}>
            {event.changes.map((change) => (
              <Change key={change.label} change={change} />
            ))}
          </ul>
        )}
        {event.act}
      </div>
    </li>
  );
}

/** Consecutive events by calendar day, keeping their order. */
function groupByDay(events: readonly StoryEvent[], dayOf: (at: string) => string): [string, StoryEvent[]][] {
  const days: [string, StoryEvent[]][] = [];
  for (const event of events) {
    const day = dayOf(event.at);
    const last = days.at(-1);
    if (last?.[0] === day) last[1].push(event);
    else days.push([day, [event]]);
  }
  return days;
}

/** The history of a record as it would be told: day by day, newest first, with what changed from what to what. */
export function HistoryStory({
  events,
  loading = false,
  error,
  onRetry,
  onMore,
  loadingMore = false,
}: {
  events: readonly StoryEvent[] | undefined;
  loading?: boolean;
  error?: unknown;
  onRetry?: () => void;
  /** Given when there is more to load. */
  onMore?: () => void;
  loadingMore?: boolean;
}) {
  const clock = useClock();
  if (error)
    return <ErrorState what={say('The history could not be loaded.')} error={error} onRetry={onRetry} />;
  if (loading || events === undefined) return <Loading what={say('Loading the history')} />;
  if (events.length === 0) return <EmptyState title={say('No history yet')} />;
  return (
    <div className={classes.story}>
      {groupByDay(events, (at) => dayOfInstant(at, clock)).map(([day, ofDay]) => (
        <section key={ofDay[0]?.id} className={classes.day}>
          <h3>
            <time dateTime={day}>{sayDay(day)}</time>
          </h3>
          <ol>
            {ofDay.map((event) => (
              <Event key={event.id} event={event} />
            ))}
          </ol>
        </section>
      ))}
      {onMore && (
        <Button variant="default" onClick={onMore} loading={loadingMore} className="f-screen-only">
          {say('Show earlier')}
        </Button>
      )}
    </div>
  );
}
