'use client';

import { Button, Group } from '@mantine/core';
import type { FormEvent, ReactNode } from 'react';
import { ErrorSummary } from '@/components/ui/error-summary';
import { problemOf } from '@/components/ui/problem';
import type { LoanRecord } from '@/lib/loans/wire';
import { say } from '@/lib/platform/words/say';
import classes from './loans.module.css';
import { type LoanCommand, useLoanAct } from './queries';

export type ActProps = { loan: LoanRecord; today: string; onDone: () => void };

/** The form of one act on a loan: its fields, what was refused, and the button that does it. */
export function ActPanel({
  loan,
  title,
  confirm,
  disabled = false,
  tone = 'lead',
  command,
  onDone,
  children,
}: {
  loan: LoanRecord;
  title: string;
  confirm: string;
  disabled?: boolean;
  tone?: 'lead' | 'stop';
  command: () => LoanCommand;
  onDone: () => void;
  children?: ReactNode;
}) {
  const act = useLoanAct(loan.id);
  const problem = problemOf(act.error);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    act.mutate(command(), { onSuccess: onDone });
  };
  return (
    <form onSubmit={submit} noValidate className={classes.act} aria-label={title}>
      <h3>{title}</h3>
      {act.error === null ? null : (
        <ErrorSummary
          title={problem.title}
          attempt={act.failureCount}
          problems={
            problem.fields?.length
              ? problem.fields
              : [{ path: 'act', message: say('Look at the loan and try again.') }]
          }
        />
      )}
      {children}
      <Group>
        <Button type="submit" color={tone} loading={act.isPending} disabled={disabled}>
          {confirm}
        </Button>
        <Button variant="default" onClick={onDone}>
          {say('Leave it as it is')}
        </Button>
      </Group>
    </form>
  );
}
