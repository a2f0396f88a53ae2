'use client';

import { Button, Checkbox, Stack } from '@mantine/core';
import { useRouter } from 'next/navigation';
import { useState } from 'react';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { Fact, Facts } from '@/components/ui/facts';
import { Moment } from '@/components/ui/moment';
import { problemOf } from '@/components/ui/problem';
import { sayWith } from '@/components/ui/say-with';
import { StateBadge } from '@/components/ui/state-badge';
import { paths } from '@/lib/platform/paths';
import { countOf, say } from '@/lib/platform/words/say';
import type { ReportRecord } from '@/lib/reports/wire';
import { useReportAct } from './queries';
import classes from './report-sections.module.css';

/** From open to ready to signed, and from signed to an amended edition. */
export function ReportSignature({ record }: { record: ReportRecord }) {
  if (record.state === 'open') return <MakeReady record={record} />;
  if (record.state === 'ready') return <Sign record={record} />;
  return <Signed record={record} />;
}

function MakeReady({ record }: { record: ReportRecord }) {
  const act = useReportAct(record.id);
  return (
    <Stack gap="sm" maw={720}>
      {act.error === null ? null : <p role="alert">{problemOf(act.error).title}</p>}
      {record.unexplained > 0 ? (
        <StateBadge tone="attention">
          {say('{of} still to explain', { of: countOf(record.unexplained, 'warning') })}
        </StateBadge>
      ) : (
        <p>{say('When the figures are checked, mark the report as ready: then it can be signed.')}</p>
      )}
      <div>
        <Button
          disabled={!record.abilities.ready}
          loading={act.isPending}
          onClick={() => act.mutate({ act: 'ready', version: record.version })}
        >
          {say('Mark as ready')}
        </Button>
      </div>
    </Stack>
  );
}

function Sign({ record }: { record: ReportRecord }) {
  const act = useReportAct(record.id);
  const [certified, setCertified] = useState(false);
  return (
    <Stack gap="sm" maw={720}>
      {act.error === null ? null : <p role="alert">{problemOf(act.error).title}</p>}
      {record.obstacle === null ? null : <StateBadge tone="attention">{record.obstacle}</StateBadge>}
      {record.unexplained > 0 ? (
        <StateBadge tone="attention">
          {say('{of} came up and must be explained', { of: countOf(record.unexplained, 'warning') })}
        </StateBadge>
      ) : null}
      <Checkbox
        label={record.certification}
        checked={certified}
        disabled={!record.abilities.sign}
        onChange={(event) => setCertified(event.currentTarget.checked)}
      />
      <p>{say('Signing freezes the report under its digest. Later corrections make an amended edition.')}</p>
      <div>
        <Button
          disabled={!record.abilities.sign || !certified}
          loading={act.isPending}
          onClick={() => act.mutate({ act: 'sign', version: record.version, certification: true })}
        >
          {say('Sign the report')}
        </Button>
      </div>
    </Stack>
  );
}

function Signed({ record }: { record: ReportRecord }) {
  const router = useRouter();
  const act = useReportAct(record.id);
  return (
    <Stack gap="md">
      <Facts>
        <Fact term={say('Signed by')}>{record.signedBy}</Fact>
        <Fact term={say('Signed')}>
          {record.signedAt === null ? '' : <Moment at={record.signedAt} show="both" />}
        </Fact>
        <Fact
          term={say('Digest (SHA-256)')}
          wide
          note={say('Printed on each page; made of everything that was signed.')}
        >
          <code className={classes.code}>{record.digest}</code>
        </Fact>
        <Fact term={say('Record of changes at that moment')} wide>
          <span className={classes.code}>
            {sayWith('number {seq}: {code}', {
              seq: record.auditHead?.seq,
              code: <code>{record.auditHead?.digest}</code>,
            })}
          </span>
        </Fact>
      </Facts>
      {act.error === null ? null : <p role="alert">{problemOf(act.error).title}</p>}
      {record.abilities.amend ? (
        <div>
          <ConfirmInline
            act={say('Amend this report')}
            question={say(
              'A new edition is opened from the database as it is now. This one stays readable and frozen, marked as replaced.',
            )}
            confirm={say('Open the amended edition')}
            tone="attention"
            reason={{ label: say('Why is it amended? Printed in the new edition.') }}
            onConfirm={async (reason) => {
              const made = await act.mutateAsync({ act: 'amend', version: record.version, reason });
              router.push(paths.report(made.id));
            }}
          />
        </div>
      ) : null}
    </Stack>
  );
}
