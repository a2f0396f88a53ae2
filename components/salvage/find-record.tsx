'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { FilesSection } from '@/components/attachments/files-section';
import { RecordHistory } from '@/components/audit/record-history';
import { birdOptions } from '@/components/desk/queries';
import { CommentsSection } from '@/components/notices/comments-section';
import { LegalCaution } from '@/components/permits/legal-caution';
import { ErrorState } from '@/components/ui/error-state';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { whenOpened, whenSeen } from '@/components/ui/later';
import { LifeLine } from '@/components/ui/life-line';
import { Link } from '@/components/ui/link';
import { Loading } from '@/components/ui/loading';
import { Moment } from '@/components/ui/moment';
import { RecordHead } from '@/components/ui/page-head';
import { sayWith } from '@/components/ui/say-with';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { paths } from '@/lib/platform/paths';
import { sayDay, sayDays } from '@/lib/platform/say-dates';
import { phrases, say, sayWord } from '@/lib/platform/words/say';
import type { SalvageRecord } from '@/lib/salvage/wire';
import { CoverageSection } from './coverage-section';
import { CustodySection } from './custody-section';
import { HoldsSection } from './holds-section';
import { findOptions, useFindAct } from './queries';
import { TriageActs } from './triage-acts';
import { STATE_TONES } from './words';

const ChangeForm = whenOpened(() => import('./change-form').then((module) => module.ChangeForm), 8);
const LawFacts = whenSeen(() => import('./law-facts').then((module) => module.LawFacts), 6);
const FinderSection = whenSeen(() => import('./finder-section').then((module) => module.FinderSection), 4);

const SECTIONS = phrases([
  { id: 'coverage', label: 'Coverage' },
  { id: 'holds', label: 'Holds' },
  { id: 'find', label: 'The find' },
  { id: 'custody', label: 'Custody' },
  { id: 'files', label: 'Photos and documents' },
  { id: 'comments', label: 'Comments' },
  { id: 'history', label: 'History' },
]);

/** One found bird: what has to happen next, whether it is lawfully held and why, and how it came here. */
export function FindRecord({ id }: { id: string }) {
  const record = useQuery(findOptions(id));
  const act = useFindAct(id);
  const [changing, setChanging] = useState(false);
  if (record.error) {
    return (
      <ErrorState
        what={say('This record could not be loaded.')}
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  }
  if (record.data === undefined) return <Loading what={say('Loading the record')} lines={8} />;
  const find = record.data;
  return (
    <>
      <RecordHead
        number={find.number}
        title={
          <TaxonName
            scientific={find.identified ? find.taxon : null}
            common={find.identified ? find.commonName : find.taxon}
          />
        }
        state={<StateBadge tone={STATE_TONES[find.state]}>{sayWord(find.state)}</StateBadge>}
        intro={sayOrigin(find)}
        back={{ label: say('Salvage'), href: paths.salvage }}
        sections={SECTIONS}
        lifeLine={find.birdId === null ? null : <Life birdId={find.birdId} number={find.number} />}
        acts={
          find.abilities.change && !changing ? (
            <Button variant="default" onClick={() => setChanging(true)}>
              {say('Change what is known')}
            </Button>
          ) : null
        }
      />
      <TriageActs find={find} act={act} />
      {changing ? <ChangeForm find={find} onDone={() => setChanging(false)} /> : null}
      <CoverageSection find={find} act={act} />
      <HoldsSection find={find} act={act} />
      <TheFind find={find} />
      <LawFacts find={find} act={act} />
      <FinderSection find={find} act={act} />
      <CustodySection find={find} act={act} />
      <FilesSection subjectType="salvage" subjectId={id} />
      <CommentsSection subject={{ subjectType: 'salvage', subjectId: id }} />
      <Section id="history" title={say('History')}>
        <RecordHistory subject={{ subjectType: 'salvage', subjectId: id }} />
      </Section>
      <LegalCaution />
    </>
  );
}

function Life({ birdId, number }: { birdId: string; number: string }) {
  const bird = useQuery(birdOptions(birdId));
  return (
    <>
      {bird.data === undefined ? null : (
        <LifeLine
          stages={bird.data.life.stages}
          branches={bird.data.life.branches}
          label={say('Life of {number}', { number })}
        />
      )}
      <p>
        <Link href={paths.bird(birdId)}>{say('All of this bird')}</Link>
      </p>
    </>
  );
}

const sayOrigin = (find: SalvageRecord): string =>
  say('Found {days}{x}; came {day}{x2}', {
    days: sayDays(find.foundFrom, find.foundTo),
    x: find.county === '' ? '' : `, ${find.county}`,
    day: sayDay(find.receivedOn),
    x2: find.source === 'drop-off' ? say(' by drop-off slip') : '',
  });

function TheFind({ find }: { find: SalvageRecord }) {
  return (
    <Section id="find" title={say('The find')}>
      <Facts>
        <Fact term={say('Named on arrival')}>{find.verbatimTaxon}</Fact>
        <Fact term={say('What there is')}>
          {sayWord(find.specimenType)}
          {find.quantity > 1 ? `, ${find.quantity}` : ''}
        </Fact>
        <Fact
          term={say('Found')}
          note={
            find.verbatimDate === null
              ? null
              : say('as written: {verbatimDate}', { verbatimDate: find.verbatimDate })
          }
        >
          {sayDays(find.foundFrom, find.foundTo)}
        </Fact>
        <Fact term={say('Place')} wide note={find.exactPlace ? sayCoordinates(find) : null}>
          {[find.locality, find.county, find.stateProvince, find.country].filter(Boolean).join(', ')}
          {find.exactPlace ? '' : say(' (exact place withheld)')}
        </Fact>
        <Fact term={say('Suspected cause')}>{sayWord(find.cause)}</Fact>
        <Fact term={say('Condition')}>{sayWord(find.condition)}</Fact>
        <Fact term={say('Band or ring')}>
          {find.bandNumber ?? say('none noted')}
          {find.bandReportedOn === null ? '' : say(', reported {day}', { day: sayDay(find.bandReportedOn) })}
        </Fact>
        <Fact term={say('Signs of disease')}>{find.diseaseSigns ? say('yes') : say('none noted')}</Fact>
        <Fact term={say('Suspected unlawful kill')}>{find.suspectedIllegal ? say('yes') : say('no')}</Fact>
        <Fact term={say('Circumstances')} wide>
          {find.circumstances || say('not noted')}
        </Fact>
        {find.remarks === null ? null : (
          <Fact term={say('Remarks')} wide>
            {find.remarks}
          </Fact>
        )}
        <Fact term={say('Logged')}>
          {sayWith('{moment} by {loggedBy}', {
            moment: <Moment at={find.loggedAt} show="both" />,
            loggedBy: find.loggedBy ?? say('a finder'),
          })}
        </Fact>
        {find.receiptCode === null ? null : <Fact term={say('Code on the bag')}>{find.receiptCode}</Fact>}
        {find.accession === null ? null : (
          <Fact term={say('Accession')}>
            <Link href={paths.accession(find.accession.id)}>{find.accession.number}</Link>
          </Fact>
        )}
      </Facts>
    </Section>
  );
}

function sayCoordinates(find: SalvageRecord): string | null {
  if (find.latitude === null || find.longitude === null) return null;
  const within = find.uncertaintyM === null ? '' : ` ± ${find.uncertaintyM} m`;
  const written =
    find.verbatimCoordinates === null
      ? ''
      : say('; as written: {verbatimCoordinates}', { verbatimCoordinates: find.verbatimCoordinates });
  return `${find.latitude.toFixed(5)}, ${find.longitude.toFixed(5)}${within}${written}`;
}
