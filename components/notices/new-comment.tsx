'use client';

import { Button } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { newKey } from '@/components/ui/new-key';
import { type Named, toStored } from '@/lib/notices/rules/mentions';
import type { Subject } from '@/lib/notices/schema';
import { say } from '@/lib/platform/words/say';
import { CommentProblem } from './comment-problem';
import classes from './comments.module.css';
import { MentionBox } from './mention-box';
import { useWriteComment } from './queries';

/** The form for one more comment. What was typed stays until it was taken. */
export function NewComment({ subject, sensitive }: { subject: Subject; sensitive: boolean }) {
  const write = useWriteComment();
  const [typed, setTyped] = useState('');
  const [chosen, setChosen] = useState<Named[]>([]);
  // One key a text: pressed twice, or sent again after a lost answer, it is said once.
  const [key, setKey] = useState(newKey);
  const type = (text: string) => {
    setTyped(text);
    setKey(newKey());
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    write.mutate(
      { ...subject, text: toStored(typed, chosen), field: null, key },
      {
        onSuccess: () => {
          type('');
          setChosen([]);
        },
      },
    );
  };
  return (
    <form onSubmit={submit} className={classes.form} noValidate>
      <MentionBox
        label={say('Say something')}
        description={
          sensitive
            ? say('Places of this taxon are kept: only who may know them reads what is said here.')
            : say('Type @ and a name to tell a colleague. Keep finders’ names and addresses out of it.')
        }
        subject={subject}
        value={typed}
        onChange={type}
        onChoose={(person) => setChosen((before) => [...before, person])}
      />
      <CommentProblem error={write.error} />
      <Button type="submit" disabled={typed.trim() === ''} loading={write.isPending}>
        {say('Comment')}
      </Button>
    </form>
  );
}
