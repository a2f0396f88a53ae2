'use client';

import { Button, Checkbox, Stack } from '@mantine/core';
import { useRouter } from 'next/navigation';
import { useState } from 'react';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { Fact, Facts } from '@/components/ui/facts';
import { Moment } from '@/components/ui/moment';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { countOf } from '@/components/ui/words';
import { paths } from '@/lib/platform/paths';
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
        <StateBadge tone="attention">{countOf(record.unexplained, 'warning')} still to explain</StateBadge>
      ) : (
        <p>When the figures are checked, mark the report as ready: then it can be signed.</p>
      )}
      <div>
        <Button
          disabled={!record.abilities.ready}
          loading={act.isPending}
          onClick={() => act.mutate({ act: 'ready', version: record.version })}
        >
          Mark as ready
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
          {countOf(record.unexplained, 'warning')} came up and must be explained
        </StateBadge>
      ) : null}
      <Checkbox
        label={record.certification}
        checked={certified}
        disabled={!record.abilities.sign}
        onChange={(event) => setCertified(event.currentTarget.checked)}
      />
      <p>Signing freezes the report under its digest. Later corrections make an amended edition.</p>
      <div>
        <Button
          disabled={!record.abilities.sign || !certified}
          loading={act.isPending}
          onClick={() => act.mutate({ act: 'sign', version: record.version, certification: true })}
        >
          Sign the report
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
        <Fact term="Signed by">{record.signedBy}</Fact>
        <Fact term="Signed">
          {record.signedAt === null ? '' : <Moment at={record.signedAt} show="both" />}
        </Fact>
        <Fact term="Digest (SHA-256)" wide note="Printed on each page; made of everything that was signed.">
          <code className={classes.code}>{record.digest}</code>
        </Fact>
        <Fact term="Record of changes at that moment" wide>
          <span className={classes.code}>
            number {record.auditHead?.seq}: <code>{record.auditHead?.digest}</code>
          </span>
        </Fact>
      </Facts>
      {act.error === null ? null : <p role="alert">{problemOf(act.error).title}</p>}
      {record.abilities.amend ? (
        <div>
          <ConfirmInline
            act="Amend this report"
            question="A new edition is opened from the database as it is now. This one stays readable and frozen, marked as replaced."
            confirm="Open the amended edition"
            tone="attention"
            reason={{ label: 'Why is it amended? Printed in the new edition.' }}
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
