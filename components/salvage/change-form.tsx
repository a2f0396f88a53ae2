'use client';

import { Button, Group } from '@mantine/core';
import { type FormEvent, useRef, useState } from 'react';
import { ConflictMerge, type MergeField } from '@/components/ui/conflict-merge';
import { ErrorSummary, type FieldProblem } from '@/components/ui/error-summary';
import { TextField } from '@/components/ui/plain-controls';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { ApiProblem } from '@/lib/platform/api';
import { dayOfInstant } from '@/lib/platform/say-dates';
import { phrases, say } from '@/lib/platform/words/say';
import { changeFindRequest } from '@/lib/salvage/schema';
import { type SalvageRecord, salvageRecord } from '@/lib/salvage/wire';
import { BirdFields, CauseFields, DateFields } from './find-fields';
import { changesBetween, draftOf, type FindDraft } from './find-state';
import { PlaceFields } from './place-fields';
import { useFindAct } from './queries';
import classes from './salvage.module.css';

const MERGED: readonly MergeField<FindDraft>[] = phrases([
  { name: 'verbatimTaxon', label: 'Bird' },
  { name: 'specimenType', label: 'What there is of it' },
  { name: 'quantity', label: 'How many' },
  { name: 'condition', label: 'Condition' },
  { name: 'bandNumber', label: 'Band or ring number' },
  { name: 'date', label: 'Found on' },
  { name: 'receivedOn', label: 'Came to us on' },
  { name: 'locality', label: 'Place' },
  { name: 'county', label: 'County' },
  { name: 'stateProvince', label: 'State or province' },
  { name: 'country', label: 'Country' },
  { name: 'coordinates', label: 'Coordinates' },
  { name: 'cause', label: 'Suspected cause' },
  { name: 'circumstances', label: 'Circumstances' },
  { name: 'diseaseSigns', label: 'Signs of disease' },
  { name: 'suspectedIllegal', label: 'Suspected unlawful kill' },
  { name: 'remarks', label: 'Remarks' },
]);

/** Changes what is known of a find. Only what differs is sent; a change somebody else made meanwhile is merged by hand. */
export function ChangeForm({ find, onDone }: { find: SalvageRecord; onDone: () => void }) {
  const act = useFindAct(find.id);
  const [base, setBase] = useState(find);
  const [draft, setDraft] = useState(() => draftOf(find));
  const [reason, setReason] = useState('');
  const [local, setLocal] = useState<FieldProblem[]>([]);
  const attempt = useRef(0);
  const theirs = staleCurrent(act.error);

  const send = (mine: FindDraft, on: SalvageRecord) => {
    attempt.current += 1;
    const parsed = changeFindRequest.safeParse({
      ...changesBetween(draftOf(on), mine),
      version: on.version,
      reason,
    });
    if (!parsed.success) {
      setLocal(problemsIn(parsed.error));
      return;
    }
    setLocal([]);
    act.mutate({ act: 'change', body: parsed.data }, { onSuccess: onDone });
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    send(draft, base);
  };
  if (theirs !== null) {
    return (
      <ConflictMerge<FindDraft>
        fields={MERGED}
        mine={draft}
        theirs={draftOf(theirs)}
        base={draftOf(base)}
        who={say('Somebody else')}
        busy={act.isPending}
        onMerge={(merged) => {
          // Name and taxon, coordinates and their reading belong together: who is chosen for one is chosen for both.
          const named = merged.verbatimTaxon === draft.verbatimTaxon ? draft : draftOf(theirs);
          const placed = merged.coordinates === draft.coordinates ? draft : draftOf(theirs);
          const { latitude, longitude, uncertaintyM } = placed;
          const whole = { ...merged, taxonId: named.taxonId, latitude, longitude, uncertaintyM };
          setDraft(whole);
          setBase(theirs);
          send(whole, theirs);
        }}
        onTakeTheirs={onDone}
      />
    );
  }
  const refused = problemOf(act.error);
  const problems = local.length > 0 ? local : (refused.fields ?? []);
  const errorOf = (path: string) =>
    problems.find((problem) => problem.path === path || problem.path.startsWith(`${path}.`))?.message;
  const fields = {
    draft,
    set: (change: Partial<FindDraft>) => setDraft((before) => ({ ...before, ...change })),
    errorOf,
  };
  return (
    <form onSubmit={submit} noValidate className={classes.form} aria-label={say('Change what is known')}>
      <ErrorSummary
        problems={problems}
        attempt={attempt.current}
        title={local.length > 0 ? undefined : refused.title}
      />
      {act.error !== null && problems.length === 0 ? <p role="alert">{refused.title}</p> : null}
      <BirdFields {...fields} />
      <DateFields {...fields} today={dayOfInstant(new Date().toISOString(), 'here')} />
      {find.exactPlace ? <PlaceFields {...fields} /> : null}
      <CauseFields {...fields} />
      <TextField
        name="reason"
        label={say('Why is it changed?')}
        required
        value={reason}
        error={errorOf('reason')}
        onChange={setReason}
      />
      <Group>
        <Button type="submit" loading={act.isPending}>
          {say('Save the change')}
        </Button>
        <Button variant="default" onClick={onDone}>
          {say('Leave as it was')}
        </Button>
      </Group>
    </form>
  );
}

/** What stands now, when a save came too late. */
function staleCurrent(error: unknown): SalvageRecord | null {
  if (!(error instanceof ApiProblem) || error.problem.code !== 'stale-version') return null;
  const current = salvageRecord.safeParse((error.problem.data as { current?: unknown } | null)?.current);
  return current.success ? current.data : null;
}
