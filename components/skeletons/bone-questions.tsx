'use client';

import { Button, Group, Stack, Textarea } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { Moment } from '@/components/ui/moment';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { say } from '@/lib/platform/words/say';
import type { BoneQuestion } from '@/lib/skeletons/schema';
import { useAnswerQuestion } from './queries';

/** What counts left open, and what was found out. */
export function BoneQuestions({
  questions,
  mayAnswer,
}: {
  questions: readonly BoneQuestion[];
  mayAnswer: boolean;
}) {
  const open = questions.filter(({ answer }) => answer === null);
  const answered = questions.filter(({ answer }) => answer !== null);
  if (questions.length === 0) return null;
  return (
    <Stack gap="md" mt="md">
      {open.map((question) => (
        <OpenQuestion key={question.id} question={question} mayAnswer={mayAnswer} />
      ))}
      {answered.length > 0 && (
        <details>
          <summary>{say('Answered questions ({length})', { length: answered.length })}</summary>
          <ul>
            {answered.map((one) => (
              <li key={one.id}>
                {one.question} <b>{one.answer}</b> {one.answeredBy}
                {one.answeredAt && (
                  <>
                    , <Moment at={one.answeredAt} />
                  </>
                )}
              </li>
            ))}
          </ul>
        </details>
      )}
    </Stack>
  );
}

function OpenQuestion({ question, mayAnswer }: { question: BoneQuestion; mayAnswer: boolean }) {
  const answer = useAnswerQuestion();
  const [words, setWords] = useState('');
  const submit = (event: FormEvent) => {
    event.preventDefault();
    answer.mutate({ id: question.id, answer: words });
  };
  return (
    <form onSubmit={submit}>
      <StateBadge tone="attention">{question.question}</StateBadge>
      {mayAnswer && (
        <Group align="end" mt={4}>
          <Textarea
            label={say('What was found out')}
            aria-label={say('What was found out: {question}', { question: question.question })}
            autosize
            minRows={1}
            maxLength={2000}
            w={420}
            maw="100%"
            value={words}
            onChange={(event) => setWords(event.currentTarget.value)}
          />
          <Button type="submit" variant="default" loading={answer.isPending} disabled={words.trim() === ''}>
            {say('Answer')}
          </Button>
        </Group>
      )}
      {answer.error !== null && <p role="alert">{problemOf(answer.error).title}</p>}
    </form>
  );
}
