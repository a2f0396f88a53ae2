'use client';

import { NativeSelect, Switch } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { ErrorState } from '@/components/ui/error-state';
import { Loading } from '@/components/ui/loading';
import { RecordHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { SaveState, type SaveStatus } from '@/components/ui/save-state';
import { StateBadge } from '@/components/ui/state-badge';
import { KIND_WORDS } from '@/lib/notices/rules/sentences';
import { MAIL_CHOICES, type Preferences } from '@/lib/notices/schema';
import { paths } from '@/lib/platform/paths';
import { phrases, say } from '@/lib/platform/words/say';
import classes from './preference-table.module.css';
import { preferencesOptions, useSetPreferences } from './queries';

const MAIL_WORDS = phrases({ off: 'Not mailed', 'at-once': 'At once', daily: 'Once a day' } as const);
const mailOptions = () => MAIL_CHOICES.map((value) => ({ value, label: MAIL_WORDS[value] }));

/** What one is told, and how: kind by kind, saved as it is chosen. */
export function PreferenceTable() {
  const shown = useQuery(preferencesOptions());
  const save = useSetPreferences();
  if (shown.error)
    return (
      <ErrorState
        what={say('Your choices could not be loaded.')}
        error={shown.error}
        onRetry={() => void shown.refetch()}
      />
    );
  if (shown.data === undefined) return <Loading what={say('Loading your choices')} lines={8} />;
  const { rows, mailWorks, address } = shown.data;
  return (
    <>
      <RecordHead
        number={address}
        title={say('What I am told')}
        intro={say('Kind by kind: in Furcula, and by mail. It counts for what comes from now on.')}
        back={{ label: say('Notices'), href: paths.notices }}
        saved={<SaveState status={statusOf(save)} />}
      />
      {mailWorks ? null : (
        <p className={classes.note}>
          <StateBadge tone="attention">{say('No mail from here')}</StateBadge>
          {say(
            ' This installation has no mail server, so nothing is mailed. What you want by mail is shown in Furcula instead.',
          )}
        </p>
      )}
      <table className={classes.table}>
        <thead>
          <tr>
            <th scope="col">{say('What')}</th>
            <th scope="col">{say('In Furcula')}</th>
            <th scope="col">{say('By mail')}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <Choice key={row.kind} row={row} onChange={(changed) => save.mutate({ rows: [changed] })} />
          ))}
        </tbody>
      </table>
      <p className={classes.note}>{say('Mail of the day leaves at about seven in the morning.')}</p>
    </>
  );
}

type Row = Preferences['rows'][number];

function Choice({ row, onChange }: { row: Row; onChange: (row: Row) => void }) {
  const words = KIND_WORDS[row.kind];
  return (
    <tr>
      <th scope="row">{words}</th>
      <td>
        <Switch
          aria-label={say('{words}: in Furcula', { words })}
          checked={row.inApp}
          onChange={(event) => onChange({ ...row, inApp: event.currentTarget.checked })}
        />
      </td>
      <td>
        <NativeSelect
          aria-label={say('{words}: by mail', { words })}
          data={mailOptions()}
          value={row.mail}
          onChange={(event) => {
            const mail = MAIL_CHOICES.find((choice) => choice === event.currentTarget.value);
            if (mail !== undefined) onChange({ ...row, mail });
          }}
        />
      </td>
    </tr>
  );
}

function statusOf(save: ReturnType<typeof useSetPreferences>): SaveStatus {
  if (save.isPending) return { kind: 'saving' };
  if (save.error) return { kind: 'failed', why: problemOf(save.error).title ?? say('try again') };
  return { kind: 'saved' };
}
