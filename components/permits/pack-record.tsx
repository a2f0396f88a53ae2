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
import { type PackRecord as Pack, type PackEntry, packEntryKinds } from '@/lib/permits/wire';
import { paths } from '@/lib/platform/paths';
import { sayDay } from '@/lib/platform/say-dates';
import { countOf, phrases, say } from '@/lib/platform/words/say';
import { LegalCaution } from './legal-caution';
import classes from './permits.module.css';
import { packOptions, usePackAct } from './queries';
import { MARK_WORDS } from './words';

const KIND_TITLES: Record<PackEntry['kind'], string> = phrases({
  authorisation: 'General authorisations',
  rule: 'Rules',
  unprotected: 'Birds that are not protected',
  retention: 'Keeping records',
  'permit-default': 'Usual terms of permits',
  advice: 'Advice of the agency',
});

/** One version of a rule pack, rule by rule, each with its citation and how it is known. */
export function PackRecord({ id }: { id: string }) {
  const record = useQuery(packOptions(id));
  const act = usePackAct(id);
  if (record.error) {
    return (
      <ErrorState
        what={say('This rule pack could not be loaded.')}
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  }
  if (record.data === undefined) return <Loading what={say('Loading the rule pack')} lines={8} />;
  const pack = record.data;
  return (
    <>
      <RecordHead
        number={`${pack.key} ${pack.version}`}
        title={pack.title}
        state={
          <StateBadge tone={pack.inForce ? 'settled' : 'neutral'}>
            {pack.inForce ? say('In use') : say('Not in use')}
          </StateBadge>
        }
        intro={say('{of} for {jurisdiction}, {unverified} unverified', {
          of: countOf(pack.entries, 'rule'),
          jurisdiction: pack.jurisdiction,
          unverified: pack.unverified,
        })}
        back={{ label: say('Rules and lists'), href: paths.law }}
        acts={pack.abilities.manage ? <SwitchAct pack={pack} act={act} /> : null}
      />
      {act.error === null ? null : <p role="alert">{problemOf(act.error).title}</p>}
      {pack.explanation.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {packEntryKinds.map((kind) => (
        <Rules key={kind} pack={pack} kind={kind} act={act} />
      ))}
      <Section id="history" title={say('History')}>
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
      act={active ? say('Take it out of use') : say('Take it into use')}
      question={
        active
          ? say('The newest other version of this pack takes over, or none. Every bird is checked again.')
          : say('If it is the newest of its kind, every bird is checked again by it.')
      }
      confirm={active ? say('Take it out of use') : say('Take it into use')}
      tone="attention"
      reason={{ label: say('Why?') }}
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
                act={entry.unverified ? say('Confirm this rule') : say('Put it in doubt again')}
                question={
                  entry.unverified
                    ? say('You have read it at its source and it stands as written here.')
                    : say('The rule counts as unverified again.')
                }
                confirm={entry.unverified ? say('Confirm it') : say('Put it in doubt')}
                tone={entry.unverified ? 'lead' : 'attention'}
                reason={{ label: entry.unverified ? say('Where did you read it?') : say('Why?') }}
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
        <StateBadge tone="attention">{say('Unverified')}</StateBadge>
      </p>
    );
  }
  if (entry.confirmed === null) return null;
  return (
    <p>
      <StateBadge tone="settled">{say('Confirmed')}</StateBadge>
      {say(' by ')}
      {entry.confirmed.by}, <Moment at={entry.confirmed.at} />: {entry.confirmed.note}
    </p>
  );
}
