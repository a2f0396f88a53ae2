'use client';

import { Button, Group } from '@mantine/core';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useEffect, useRef, useState } from 'react';
import { LegalCaution } from '@/components/permits/legal-caution';
import { ErrorSummary, type FieldProblem } from '@/components/ui/error-summary';
import { whenOpened } from '@/components/ui/later';
import { Link } from '@/components/ui/link';
import { ListHead } from '@/components/ui/page-head';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { ApiProblem } from '@/lib/platform/api';
import { paths } from '@/lib/platform/paths';
import { say, sayWord } from '@/lib/platform/words/say';
import { type ReportFindRequest, reportFindRequest } from '@/lib/salvage/schema';
import type { SalvageRecord } from '@/lib/salvage/wire';
import { BirdFields, CauseFields, DateFields, FinderFields } from './find-fields';
import { type Beginning, emptyDraft, type FindDraft, nextDraft, toReport } from './find-state';
import { dropReport, keepReport, useOutbox, type WaitingReport } from './outbox';
import { OutboxPanel } from './outbox-panel';
import { PlaceFields } from './place-fields';
import { salvageKeys } from './queries';
import { sendReport } from './report-queries';
import classes from './salvage.module.css';
import { COVERAGE_TONES } from './words';

const FilesSection = whenOpened(
  () => import('@/components/attachments/files-section').then((module) => module.FilesSection),
  4,
);

const DRAFT = 'furcula.salvage.draft';

/** A draft is kept on the device until it is sent, so that a closed page loses nothing. */
function readDraft(): Partial<FindDraft> {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(DRAFT) ?? '{}');
    return typeof kept === 'object' && kept !== null ? (kept as Partial<FindDraft>) : {};
  } catch {
    return {};
  }
}

type Outcome = { kind: 'logged'; record: SalvageRecord } | { kind: 'kept'; requestKey: string };

/** Logs a found bird, from a phone in the field as well as at the desk; keeps it on the device where nothing can be reached. */
export function FindForm({ me, beginning }: { me: { id: string }; beginning: Beginning }) {
  const { today } = beginning;
  const queries = useQueryClient();
  const [draft, setDraft] = useState<FindDraft>(() => emptyDraft(beginning));
  const [local, setLocal] = useState<FieldProblem[]>([]);
  const [outcome, setOutcome] = useState<Outcome | null>(null);
  const attempt = useRef(0);
  const send = useMutation({
    mutationFn: (report: ReportFindRequest) => sendReport(report),
    onSuccess: (record) => {
      queries.setQueryData(salvageKeys.record(record.id), record);
      return queries.invalidateQueries({ queryKey: ['salvage', 'list'] });
    },
  });

  // The draft is read after the first paint: the server does not know it.
  useEffect(() => setDraft((fresh) => ({ ...fresh, ...readDraft() })), []);
  const set = (change: Partial<FindDraft>) =>
    setDraft((before) => {
      const after = { ...before, ...change };
      localStorage.setItem(DRAFT, JSON.stringify(after));
      return after;
    });
  const settle = (done: Outcome) => {
    localStorage.removeItem(DRAFT);
    setOutcome(done);
    window.scrollTo({ top: 0 });
  };
  const begin = (next: FindDraft) => {
    send.reset();
    setOutcome(null);
    setDraft(next);
  };

  const submit = (event: FormEvent) => {
    event.preventDefault();
    attempt.current += 1;
    const parsed = reportFindRequest.safeParse(toReport(draft, me));
    if (!parsed.success) {
      setLocal(problemsIn(parsed.error));
      return;
    }
    setLocal([]);
    send.mutate(parsed.data, {
      onSuccess: (record) => settle({ kind: 'logged', record }),
      onError: (error) => {
        if (!(error instanceof ApiProblem) || error.problem.code !== 'offline') return;
        keepReport(parsed.data, me.id);
        settle({ kind: 'kept', requestKey: parsed.data.requestKey });
      },
    });
  };
  const mend = ({ report }: WaitingReport) => {
    dropReport(report.requestKey);
    begin({ ...emptyDraft(beginning), ...fromReport(report) });
  };

  const refused = problemOf(send.error);
  const problems = local.length > 0 ? local : (refused.fields ?? []);
  const errorOf = (path: string) =>
    problems.find((problem) => problem.path === path || problem.path.startsWith(`${path}.`))?.message;
  const fields = { draft, set, errorOf };
  const waiting = useOutbox(me.id);
  return (
    <>
      <ListHead
        title={say('Log a found bird')}
        intro={say('It gets its number when you save. Without a connection it is kept here and sent later.')}
      />
      <OutboxPanel personId={me.id} onMend={mend} />
      {outcome === null ? (
        <form onSubmit={submit} noValidate className={classes.form}>
          <ErrorSummary
            problems={problems}
            attempt={attempt.current}
            title={local.length > 0 ? undefined : refused.title}
          />
          {send.error !== null && problems.length === 0 && refused.code !== 'offline' ? (
            <p role="alert">{refused.title}</p>
          ) : null}
          <BirdFields {...fields} />
          <DateFields {...fields} today={today} />
          <PlaceFields {...fields} />
          <CauseFields {...fields} />
          <FinderFields {...fields} />
          <div>
            <Button type="submit" size="md" loading={send.isPending}>
              {say('Log this bird')}
            </Button>
          </div>
        </form>
      ) : (
        <Done
          outcome={outcome}
          waits={
            outcome.kind === 'kept' && waiting.some(({ report }) => report.requestKey === outcome.requestKey)
          }
          onNext={() => begin(nextDraft(draft, beginning))}
          onFresh={() => begin(emptyDraft(beginning))}
        />
      )}
      <LegalCaution />
    </>
  );
}

/** The parts of a refused report that a person mends. */
function fromReport(report: ReportFindRequest): Partial<FindDraft> {
  const { place, found } = report;
  return {
    requestKey: report.requestKey,
    taxonId: report.taxonId,
    verbatimTaxon: report.verbatimTaxon,
    specimenType: report.specimenType,
    quantity: String(report.quantity),
    date: found.verbatim,
    receivedOn: report.receivedOn ?? '',
    country: place.country,
    stateProvince: place.stateProvince,
    county: place.county,
    locality: place.locality,
    coordinates: place.verbatimCoordinates ?? '',
    latitude: place.latitude,
    longitude: place.longitude,
    uncertaintyM: place.uncertaintyM,
    circumstances: report.circumstances,
    cause: report.cause,
    condition: report.condition,
    bandNumber: report.bandNumber ?? '',
    diseaseSigns: report.diseaseSigns,
    suspectedIllegal: report.suspectedIllegal,
    remarks: report.remarks ?? '',
    finderIs: report.finder === null ? (report.facts.finderPersonId ? 'me' : 'unknown') : 'somebody',
    finderName: report.finder?.name ?? '',
    finderEmail: report.finder?.email ?? '',
    finderPhone: report.finder?.phone ?? '',
    finderAddress: report.finder?.address ?? '',
  };
}

function Done({
  outcome,
  waits,
  onNext,
  onFresh,
}: {
  outcome: Outcome;
  /** Whether a kept find still waits for a connection. */
  waits: boolean;
  onNext: () => void;
  onFresh: () => void;
}) {
  return (
    <section className={classes.form} aria-label={say('What was saved')}>
      {outcome.kind === 'logged' ? (
        <div role="status">
          <p className={classes.number}>{outcome.record.number}</p>
          <p>{say('Write this number on the bag and the tag.')}</p>
          <p>
            <StateBadge tone={COVERAGE_TONES[outcome.record.coverage]}>
              {sayWord(outcome.record.coverage)}
            </StateBadge>
          </p>
          {outcome.record.check?.whoMustBeTold.map((whom) => (
            <p key={whom}>
              <StateBadge tone="stop">{say('To be told now: {whom}', { whom })}</StateBadge>
            </p>
          ))}
          <p>
            <Link href={paths.salvageRecord(outcome.record.id)}>{say('Open the record')}</Link>
          </p>
        </div>
      ) : !waits ? (
        <p role="status">{say('The find has left this device; above stands what became of it.')}</p>
      ) : (
        <p role="status">
          {say(
            'There is no connection. The find is kept on this device and will be sent, once, when there is one. Until then leave the browser’s data as they are. Photos are added to its record after that.',
          )}
        </p>
      )}
      {outcome.kind === 'logged' ? (
        <FilesSection subjectType="salvage" subjectId={outcome.record.id} />
      ) : null}
      <Group>
        <Button onClick={onNext}>{say('Another bird from the same place')}</Button>
        <Button variant="default" onClick={onFresh}>
          {say('A bird from elsewhere')}
        </Button>
      </Group>
    </section>
  );
}
