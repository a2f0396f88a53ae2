'use client';

import { Button, Group, Stack, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { ErrorState } from '@/components/ui/error-state';
import { ErrorSummary } from '@/components/ui/error-summary';
import { Section } from '@/components/ui/facts';
import { fieldId } from '@/components/ui/field-id';
import { Loading } from '@/components/ui/loading';
import { ListHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { say } from '@/lib/platform/words/say';
import { type ProcedureBook as Book, saveProceduresRequest } from '@/lib/skeletons/schema';
import { freshId, fromDrafts, type ProcedureDraft, toDrafts } from './procedure-draft';
import { ProcedureSteps } from './procedure-steps';
import { proceduresOptions, useSaveProcedures } from './queries';

/** How this lab cleans skeletons: its procedures, each step with its days and cautions; bench staff change them. */
export function ProcedureBook() {
  const query = useQuery(proceduresOptions());
  if (query.error) {
    return (
      <ErrorState
        what={say('The procedures could not be loaded.')}
        error={query.error}
        onRetry={() => void query.refetch()}
      />
    );
  }
  if (query.data === undefined) return <Loading what={say('Loading the procedures')} lines={8} />;
  return <ProcedureForm key={query.data.stamp} book={query.data} />;
}

function ProcedureForm({ book }: { book: Book }) {
  const save = useSaveProcedures();
  const [drafts, setDrafts] = useState<ProcedureDraft[]>(() => toDrafts(book.procedures));
  const [reason, setReason] = useState('');
  const [local, setLocal] = useState<{ path: string; message: string }[]>([]);
  const [attempt, setAttempt] = useState(0);
  const readOnly = !book.abilities.change;
  const changed = JSON.stringify(drafts) !== JSON.stringify(toDrafts(book.procedures));
  const set = (index: number, draft: ProcedureDraft) =>
    setDrafts(drafts.map((one, at) => (at === index ? draft : one)));

  const submit = (event: FormEvent) => {
    event.preventDefault();
    setAttempt(attempt + 1);
    const parsed = saveProceduresRequest.safeParse({
      stamp: book.stamp,
      procedures: fromDrafts(drafts),
      reason,
    });
    if (!parsed.success) {
      setLocal(
        parsed.error.issues.map(({ path, message }) => ({
          path: path.join('.'),
          message: sayWhere(drafts, path, message),
        })),
      );
      return;
    }
    setLocal([]);
    save.mutate(parsed.data);
  };
  const problem = save.error === null ? null : problemOf(save.error);
  return (
    <form onSubmit={submit} noValidate>
      <ListHead
        title={say('Cleaning procedures')}
        intro={say('Expected days make a skeleton overdue; a change holds for steps begun from then on.')}
      />
      <ErrorSummary
        problems={local.length > 0 ? local : (problem?.fields ?? [])}
        attempt={attempt}
        title={local.length > 0 ? undefined : problem?.title}
      />
      {problem !== null && (problem.fields ?? []).length === 0 && <p role="alert">{problem.title}</p>}
      {drafts.map((draft, index) => (
        <Section
          key={draft.id}
          id={`procedure-${draft.id}`}
          title={draft.name || say('New procedure')}
          acts={
            !readOnly &&
            drafts.length > 1 && (
              <Button variant="default" onClick={() => setDrafts(drafts.filter((_, at) => at !== index))}>
                {say('Remove this procedure')}
              </Button>
            )
          }
        >
          <ProcedureSteps
            path={`procedures.${index}`}
            draft={draft}
            inUse={book.inUse}
            readOnly={readOnly}
            onChange={(next) => set(index, next)}
          />
        </Section>
      ))}
      {!readOnly && (
        <Stack gap="md" mt="xl" maw={720}>
          <div>
            <Button
              variant="default"
              onClick={() => {
                const [first] = drafts;
                const id = freshId(
                  'procedure',
                  drafts.map((one) => one.id),
                );
                if (first !== undefined)
                  setDrafts([...drafts, { ...first, id, name: say('{name}, copied', { name: first.name }) }]);
              }}
            >
              {say('Add a procedure')}
            </Button>
          </div>
          <TextInput
            id={fieldId('reason')}
            label={say('Why are they changed?')}
            required
            value={reason}
            onChange={(event) => setReason(event.currentTarget.value)}
          />
          <Group>
            <Button type="submit" loading={save.isPending} disabled={!changed}>
              {say('Save the procedures')}
            </Button>
            <Button
              variant="default"
              disabled={!changed}
              onClick={() => setDrafts(toDrafts(book.procedures))}
            >
              {say('Leave them as they were')}
            </Button>
          </Group>
        </Stack>
      )}
    </form>
  );
}

/** Names the procedure and the step that a problem is about. */
function sayWhere(drafts: readonly ProcedureDraft[], path: readonly PropertyKey[], message: string): string {
  const [field, at, , stepAt] = path;
  if (field !== 'procedures' || typeof at !== 'number') return message;
  const procedure = drafts[at];
  const step = typeof stepAt === 'number' ? procedure?.steps[stepAt] : undefined;
  const where = [procedure?.name, step?.name].filter(Boolean).join(', ');
  const plain = message.startsWith('Invalid input') ? say('Write the days as a number.') : message;
  return where === '' ? plain : `${where}: ${plain}`;
}
