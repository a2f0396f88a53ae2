'use client';

import { Button } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { LongTextField } from '@/components/ui/plain-controls';
import type { BenchRemark } from '@/lib/bench/wire';
import { say } from '@/lib/platform/words/say';
import { Problems } from './problems';
import { useRecordAct } from './queries';
import classes from './review.module.css';

/** What was done about a remark, in words that go back to the reviewer. */
export function RemarkAnswer({ recordId, remark }: { recordId: string; remark: BenchRemark }) {
  const answer = useRecordAct(recordId, 'remarks');
  const [text, setText] = useState('');
  const submit = (event: FormEvent) => {
    event.preventDefault();
    answer.mutate({ remarkId: remark.id, text });
  };
  return (
    <form onSubmit={submit} className={classes.form}>
      <LongTextField label={say('What was done about it')} value={text} onChange={setText} />
      <Problems error={answer.error} />
      <Button type="submit" disabled={text.trim() === ''} loading={answer.isPending}>
        {say('Answer')}
      </Button>
    </form>
  );
}
