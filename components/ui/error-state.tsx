'use client';

import { Button } from '@mantine/core';
import { IconAlertOctagon } from '@tabler/icons-react';
import type { ReactNode } from 'react';
import { say } from '@/lib/platform/words/say';
import { problemOf } from './problem';
import classes from './states.module.css';

/**
 * A failure where content should be. `what` happened, what was `kept`, what `todo`; `error` fills in what is not
 * given and the number to quote to an administrator.
 */
export function ErrorState({
  what,
  kept = say('Nothing was changed.'),
  todo,
  error,
  onRetry,
  children,
}: {
  what?: string;
  kept?: string;
  todo?: string;
  error?: unknown;
  onRetry?: () => void;
  children?: ReactNode;
}) {
  const problem = problemOf(error);
  const advice =
    todo ??
    (onRetry
      ? say('Try again; if it stays, tell an administrator.')
      : say('Tell an administrator if it stays.'));
  return (
    <div className={classes.state} data-tone="stop" role="alert">
      <IconAlertOctagon size={28} stroke={1.5} aria-hidden="true" className={classes.icon} />
      <div>
        <p className={classes.title}>{what ?? problem.title ?? say('This could not be loaded.')}</p>
        <p>
          {kept} {advice}
        </p>
        {problem.requestId && (
          <p className={classes.small}>
            {say('Number of this failure: {requestId}', { requestId: problem.requestId })}
          </p>
        )}
        {(onRetry || children) && (
          <div className={classes.acts}>
            {onRetry && (
              <Button variant="default" onClick={onRetry}>
                {say('Try again')}
              </Button>
            )}
            {children}
          </div>
        )}
      </div>
    </div>
  );
}
