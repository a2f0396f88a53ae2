'use client';

import { useQuery } from '@tanstack/react-query';
import { RecordHistory } from '@/components/audit/record-history';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { Loading } from '@/components/ui/loading';
import { Moment } from '@/components/ui/moment';
import { RecordHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { countOf } from '@/components/ui/words';
import { type PackRecord as Pack, type PackEntry, packEntryKinds } from '@/lib/permits/wire';
import { paths } from '@/lib/platform/paths';
import { sayDay } from '@/lib/platform/say-dates';
import { LegalCaution } from './legal-caution';
import classes from './permits.module.css';
import { packOptions, usePackAct } from './queries';
import { MARK_WORDS } from './words';

const KIND_TITLES: Record<PackEntry['kind'], string> = {
  authorisation: 'General authorisations',
  rule: 'Rules',
  unprotected: 'Birds that are not protected',
  retention: 'Keeping records',
  'permit-default': 'Usual terms of permits',
  advice: 'Advice of the agency',
};

/** One version of a rule pack, rule by rule, each with its citation and how it is known. */
export function PackRecord({ id }: { id: string }) {
  const record = useQuery(packOptions(id));
  const act = usePackAct(id);
  if (record.error) {
    return (
      <ErrorState
        what="This rule pack could not be loaded."
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  }
  if (record.data === undefined) return <Loading what="Loading the rule pack" lines={8} />;
  const pack = record.data;
  return (
    <>
      <RecordHead
        number={`${pack.key} ${pack.version}`}
        title={pack.title}
        state={
          <StateBadge tone={pack.inForce ? 'settled' : 'neutral'}>
            {pack.inForce ? 'In use' : 'Not in use'}
          </StateBadge>
        }
        intro={`${countOf(pack.entries, 'rule')} for ${pack.jurisdiction}, ${pack.unverified} unverified`}
        back={{ label: 'Rules and lists', href: paths.law }}
        acts={pack.abilities.manage ? <SwitchAct pack={pack} act={act} /> : null}
      />
      {act.error === null ? null : <p role="alert">{problemOf(act.error).title}</p>}
      {pack.explanation.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {packEntryKinds.map((kind) => (
        <Rules key={kind} pack={pack} kind={kind} act={act} />
      ))}
      <Section id="history" title="History">
        <RecordHistory subject={{ subjectType: 'rule-pack', subjectId: id }} />
      </Section>
      <p>{pack.caution}</p>
      <LegalCaution />
    </>
  );
}

type Act = ReturnType<typeof usePackAct>;

function SwitchAct({ pack, act }: { pack: Pack; act: Act }) {
  const { active } = pack;
  return (
    <ConfirmInline
      act={active ? 'Take it out of use' : 'Take it into use'}
      question={
        active
          ? 'The newest other version of this pack takes over, or none. Every bird is checked again.'
          : 'If it is the newest of its kind, every bird is checked again by it.'
      }
      confirm={active ? 'Take it out of use' : 'Take it into use'}
      tone="attention"
      reason={{ label: 'Why?' }}
      onConfirm={(reason) => act.mutateAsync({ act: 'active', body: { active: !active, reason } })}
    />
  );
}

function Rules({ pack, kind, act }: { pack: Pack; kind: PackEntry['kind']; act: Act }) {
  const entries = pack.list.filter((entry) => entry.kind === kind);
  if (entries.length === 0) return null;
  return (
    <Section id={kind} title={KIND_TITLES[kind]}>
      <ul className={classes.rules}>
        {entries.map((entry) => (
          <li key={entry.id} id={`rule-${entry.id}`} className={classes.rule}>
            <p>{entry.text}</p>
            <p className={classes.over}>
              {entry.cite}, {sayDay(entry.date)}, {MARK_WORDS[entry.mark]}; <code>{entry.id}</code>
            </p>
            <Confirmation entry={entry} />
            {pack.abilities.rule && (entry.unverified || entry.confirmed !== null) ? (
              <ConfirmInline
                act={entry.unverified ? 'Confirm this rule' : 'Put it in doubt again'}
                question={
                  entry.unverified
                    ? 'You have read it at its source and it stands as written here.'
                    : 'The rule counts as unverified again.'
                }
                confirm={entry.unverified ? 'Confirm it' : 'Put it in doubt'}
                tone={entry.unverified ? 'lead' : 'attention'}
                reason={{ label: entry.unverified ? 'Where did you read it?' : 'Why?' }}
                onConfirm={(note) =>
                  act.mutateAsync({
                    act: 'confirm',
                    body: { ruleId: entry.id, confirmed: entry.unverified, note },
                  })
                }
              />
            ) : null}
          </li>
        ))}
      </ul>
    </Section>
  );
}

function Confirmation({ entry }: { entry: PackEntry }) {
  if (entry.unverified) {
    return (
      <p>
        <StateBadge tone="attention">Unverified</StateBadge>
      </p>
    );
  }
  if (entry.confirmed === null) return null;
  return (
    <p>
      <StateBadge tone="settled">Confirmed</StateBadge> by {entry.confirmed.by},{' '}
      <Moment at={entry.confirmed.at} />: {entry.confirmed.note}
    </p>
  );
}
