'use client';

import { useEffect, useRef } from 'react';
import { say } from '@/lib/platform/words/say';
import classes from './error-summary.module.css';
import { fieldId } from './field-id';

export type FieldProblem = { path: string; message: string };

/**
 * What a form cannot accept, each line a link to its field. Takes the focus when it appears and again when
 * `attempt` counts up, so that a screen reader hears it and the keyboard is near.
 */
export function ErrorSummary({
  problems,
  title = say('Nothing was sent yet. Please look at:'),
  attempt = 0,
}: {
  problems: readonly FieldProblem[];
  title?: string;
  attempt?: number;
}) {
  const box = useRef<HTMLDivElement>(null);
  const shown = problems.length > 0;
  // biome-ignore lint/correctness/useExhaustiveDependencies: a further attempt takes the focus again
  useEffect(() => {
    if (shown) box.current?.focus();
  }, [shown, attempt]);
  if (!shown) return null;
  return (
    <div ref={box} tabIndex={-1} role="alert" className={classes.summary}>
      <p>{title}</p>
      <ul>
        {problems.map((problem) => (
          <li key={`${problem.path} ${problem.message}`}>
            <a
              href={`#${fieldId(problem.path)}`}
              onClick={(event) => {
                const field = document.getElementById(fieldId(problem.path));
                if (!field) return;
                event.preventDefault();
                field.focus();
              }}
            >
              {problem.message}
            </a>
          </li>
        ))}
      </ul>
    </div>
  );
}
